"""Counts a report of a mutation run: a row for mutation.csv, and the survivors as a list to be read."""
import csv
import datetime
import json
import os
import subprocess
import sys

room, report, results = sys.argv[1:4]
with open(report, encoding="utf-8") as file:
    files = json.load(file)["files"]
counts, survivors = {}, []
for name, one in sorted(files.items()):
    for mutant in one["mutants"]:
        counts[mutant["status"]] = counts.get(mutant["status"], 0) + 1
        if mutant["status"] in ("Survived", "NoCoverage"):
            line = mutant["location"]["start"]["line"]
            text = " ".join((mutant.get("replacement") or "").split())
            survivors.append(f"{os.path.basename(name)}:{line} {mutant['status']}: {mutant['mutatorName']}: {text[:120]}")
killed = counts.get("Killed", 0) + counts.get("Timeout", 0)
missed = counts.get("Survived", 0) + counts.get("NoCoverage", 0)
if killed + missed == 0:
    sys.exit(f"{room}: the report holds no mutants")
commit = subprocess.run(["git", "rev-parse", "--short", "HEAD"], capture_output=True, text=True).stdout.strip()
table = os.path.join(results, "mutation.csv")
rows = []
if os.path.exists(table):
    with open(table, encoding="utf-8", newline="") as file:
        rows = [row for row in csv.reader(file)][1:]
rows = [row for row in rows if row[2] != room]
rows.append([datetime.date.today().isoformat(), commit, room, killed, missed, f"{100 * killed / (killed + missed):.1f}"])
with open(table, "w", encoding="utf-8", newline="") as file:
    writer = csv.writer(file, lineterminator="\n")
    writer.writerow(["date", "commit", "room", "killed", "survived", "killed %"])
    writer.writerows(rows)
with open(os.path.join(results, f"mutation-{room}.txt"), "w", encoding="utf-8") as file:
    file.write("\n".join(survivors) + "\n")
print(rows[-1])
