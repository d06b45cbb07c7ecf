"""Takes a room's mutants through the host (MutantHost.cs) and keeps the books.

    drive.py ROOM HOST REPORT RESULTS COMMIT WORK FOLDER PATTERN ...

1. Every test runs once without a mutant: how long it takes, which mutants it comes by.
2. The mutants run one after another in one process, each with the tests that come by it, the quick ones first. What ends the process
   (endless recursion) or passes the limit of processor time counts as a timeout.
3. A process of its own takes those that a static field holds and those that left something behind. So a mutant never counts as killed by what
   another one did; a survivor may be one that a fresh process would have killed.
"""
import csv
import datetime
import fnmatch
import json
import os
import pathlib
import subprocess
import sys

room, host, report, results, commit, work, folder = sys.argv[1:8]
patterns = sys.argv[8:]
results, work = pathlib.Path(results), pathlib.Path(work)
work.mkdir(parents=True, exist_ok=True)
# An endless loop that fills a list must not take the machine's memory.
environment = dict(os.environ, DOTNET_GCHeapHardLimit="0x60000000", DOTNET_TieredPGO="0", DOTNET_EnableDiagnostics="0")


def call(*words):
    """Runs the host; gives what it ended with and the end of what it complained of."""
    with (work / "errors").open("w+") as errors:
        code = subprocess.run(["dotnet", host, *map(str, words)], env=environment, stdout=subprocess.DEVNULL, stderr=errors).returncode
        errors.seek(0)
        return code, errors.read()[-2000:]


mutants = {}
for name, file in json.loads(pathlib.Path(report).read_text())["files"].items():
    short = name.replace("\\", "/").split(folder + "/")[-1]
    if not any(fnmatch.fnmatch(short, pattern) for pattern in patterns):
        continue
    lines = file["source"].split("\n")
    for mutant in file["mutants"]:
        if mutant["status"] in ("Ignored", "CompileError"):
            continue
        start, end = mutant["location"]["start"], mutant["location"]["end"]
        first = lines[start["line"] - 1]
        text = first[start["column"] - 1:end["column"] - 1] if start["line"] == end["line"] else first[start["column"] - 1:] + " …"
        mutants[int(mutant["id"])] = [f"{folder}/{short}".removeprefix("src/"), start["line"], start["column"], mutant["mutatorName"],
                                      text.strip()[:120], " ".join(mutant.get("replacement", "").split())[:120]]

measured = work / "tests.tsv"
code, complaint = call("measure", measured)
if code != 0:
    sys.exit(f"{room}: a test fails without any mutant\n{complaint}")
covering, statics = {}, set()
for line in measured.read_text().splitlines():
    test, milliseconds, covered, static = line.split("\t")
    for one in map(int, covered.split()):
        covering.setdefault(one, []).append((int(milliseconds), test))
    statics.update(map(int, static.split()))
statics &= mutants.keys()
times = {line.split("\t")[0]: int(line.split("\t")[1]) for line in measured.read_text().splitlines()}
every = sorted(times, key=times.get)
# Five times what it took, and something for code that is compiled first.
limit = {test: 1.5 + times[test] / 200 for test in times}
tests = {one: [test for _, test in sorted(covering.get(one, []))] for one in mutants}
for one in statics:
    tests[one] = every

verdicts = {one: "bare" for one in mutants if not tests[one]}


def run(ids):
    """Through one process, or as many as it takes; gives what was told of each."""
    told, left = {}, list(ids)
    while left:
        tasks, outcome = work / "tasks", work / "outcome"
        tasks.write_text("".join(f"{one} {' '.join(f'{test}:{limit[test]}' for test in tests[one])}\n" for one in left))
        outcome.write_text("")
        _, complaint = call("test", tasks, outcome)
        said = [line.split(" ", 2) for line in outcome.read_text().splitlines()]
        if not said:
            sys.exit(f"{room}: the host does not run\n{complaint}")
        for number, verdict, *_ in said:
            told[int(number)] = verdict
        last = int(said[-1][0])
        if told[last] == "begun":
            told[last] = "late"
        left = [one for one in left if one not in told]
    return told


def alone(one):
    return run([one])[one]


shared = run(sorted(mutants.keys() - statics - verdicts.keys()))
for one, verdict in shared.items():
    verdicts[one] = verdict
dirty = [one for one, verdict in verdicts.items() if verdict == "dirty"]
for one in [*dirty, *sorted(statics)]:
    verdict = alone(one)
    # In a process of its own nothing is left behind by others: what fails there fails by this mutant.
    verdicts[one] = "killed" if verdict == "dirty" else verdict

texts = {one for one in mutants if mutants[one][3].startswith("String") and room != "quantities"}
counted = {one: verdict for one, verdict in verdicts.items() if one not in texts}


def number(verdict):
    return sum(1 for one in counted.values() if one == verdict)


killed, late, lived, bare = map(number, ("killed", "late", "survived", "bare"))
percent = f"{100 * (killed + late) / len(counted):.1f}"
told = sum(1 for one in texts if verdicts[one] in ("killed", "late"))
table = results / "mutation.csv"
head = ["date", "commit", "room", "mutants", "killed", "survived", "timeout", "no coverage", "percent", "texts", "texts killed"]
rows = list(csv.reader(table.open())) if table.exists() else [head]
rows = [head, *sorted([row for row in rows[1:] if row[2] != room] + [[str(datetime.date.today()), commit, room, len(counted), killed, lived, late, bare, percent, len(texts), told]], key=lambda row: row[2])]
with table.open("w", newline="") as out:
    csv.writer(out, lineterminator="\n").writerows(rows)
left = sorted([*mutants[one][:3], "no coverage" if verdict == "bare" else "survived", *mutants[one][3:]] for one, verdict in counted.items() if verdict in ("survived", "bare"))
with (results / "survivors" / f"{room}.csv").open("w", newline="") as out:
    csv.writer(out, lineterminator="\n").writerows([["file", "line", "column", "status", "mutator", "code", "mutant"], *left])
print(f"{room}: {len(counted)} mutants, {killed} killed, {lived} survived, {late} timeouts, {bare} without coverage: {percent} %; "
      f"{told} of {len(texts)} texts; {len(statics)} static, {len(dirty)} dirty")
