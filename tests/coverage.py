"""Adds up coverage reports (Cobertura) by folder of src and compares with the floors of coverage.csv beside this file."""
import csv
import os
import sys
import xml.etree.ElementTree as tree

asked, reports = sys.argv[1], sys.argv[2:]
here = os.path.dirname(os.path.abspath(__file__))
lines = {}
for report in reports:
    root = tree.parse(report).getroot()
    sources = [source.text or "" for source in root.iter("source")]
    for one in root.iter("class"):
        name = one.get("filename").replace("\\", "/")
        whole = next((os.path.join(source, name) for source in sources if os.path.exists(os.path.join(source, name))), name).replace("\\", "/")
        at = whole.rfind("/src/")
        if at < 0 or "/obj/" in whole:
            continue
        for line in one.iter("line"):
            key = (whole[at + 1:], int(line.get("number")))
            lines[key] = lines.get(key, False) or int(line.get("hits")) > 0
if not lines:
    sys.exit("no lines of src are in the reports")
folders = {}
for (file, _), hit in lines.items():
    parts = file.split("/")
    folder = "/".join(parts[:3]) if len(parts) > 3 else "/".join(parts[:2])
    reached, all_of_it = folders.get(folder, (0, 0))
    folders[folder] = (reached + hit, all_of_it + 1)
table = os.path.join(here, "coverage.csv")
floors = {}
if os.path.exists(table):
    with open(table, encoding="utf-8", newline="") as file:
        floors = {row["folder"]: int(row["floor %"]) for row in csv.DictReader(file)}
below = 0
for folder, (reached, all_of_it) in sorted(folders.items()):
    percent = 100 * reached / all_of_it
    bad = percent < floors.get(folder, 0)
    below += bad
    print(f"{folder:40} {reached:6} / {all_of_it:6}  {percent:5.1f} %  floor {floors.get(folder, 0)}{'  BELOW' if bad else ''}")
if asked == "--approve":
    with open(table, "w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["folder", "lines", "floor %"])
        writer.writerows([folder, all_of_it, max(floors.get(folder, 0), 100 * reached // all_of_it)] for folder, (reached, all_of_it) in sorted(folders.items()))
    print("floors are written")
elif below:
    sys.exit(f"{below} folders are below their floor")
