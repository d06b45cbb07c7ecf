#!/usr/bin/env bash
# Does a limit of time hold, however large the job? One line for each made job: tests/Nest.Bench/scale.sh NEST [SECONDS]
# NEST is the published program. Times are wall time with all files written. Appends to results/scale.csv. Needs Python.
set -euo pipefail
cd "$(dirname "$0")"
exec python3 -B - "$1" "${2:-10}" "$PWD/results/scale.csv" "$(git describe --always --dirty)" <<'PY'
import csv, datetime, os, pathlib, random, re, resource, shutil, subprocess, sys, tempfile, time

nest, seconds, results, commit = sys.argv[1], float(sys.argv[2]), pathlib.Path(sys.argv[3]), sys.argv[4]


def parts(form, kinds, pieces, seed=1):
    """Made parts of one material; bars of one section, plates of one thickness."""
    made = random.Random(seed)
    each, rows = pieces // kinds, ["part,material,length,width,thickness,quantity,forms"]
    for k in range(kinds):
        width = 20 if form == "bar" else made.randint(30, 240)
        length = made.randint(60, 900) if form == "bar" else made.randint(40, 300)
        rows.append(f"{form} {k},6082-T6,{length},{width},5,{each},{'flat bar' if form == 'bar' else 'plate'}")
    return "\n".join(rows) + "\n"


def run(what, arguments, limit, folder):
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.monotonic()
    try:
        done = subprocess.run(["/usr/bin/env", nest, *arguments], cwd=folder, capture_output=True, text=True, timeout=limit + 170)
        text, code = done.stdout + done.stderr, done.returncode
    except subprocess.TimeoutExpired:
        text, code = "", "killed"
    wall, after = time.monotonic() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    gap = re.search(r"(?:at most )?([\d.]+) ?% above", text)
    files = [f for f in pathlib.Path(folder).rglob("*") if f.is_file()]
    row = [datetime.date.today(), commit, what, limit, f"{wall:.1f}", f"{wall - limit:.1f}", f"{cpu:.1f}", after.ru_maxrss // 1024,
           gap.group(1) if gap else ("proven" if "proven" in text.lower() else ""), code, sum(f.stat().st_size for f in files) // 2**20]
    print(*row, sep=",", flush=True)
    new = not results.exists()
    with open(results, "a", newline="") as out:
        write = csv.writer(out, lineterminator="\n")
        if new:
            write.writerow(["date", "commit", "what", "limit s", "wall s", "beyond the limit s", "CPU s", "most MiB of any so far", "gap %", "exit", "folder MiB"])
        write.writerow(row)


table = [("bar", 1, 100), ("bar", 10, 1000), ("bar", 1000, 1000), ("bar", 100, 10_000), ("bar", 10, 100_000), ("bar", 1000, 100_000), ("bar", 100, 1_000_000),
         ("bar", 1, 1_000_000), ("plate", 1, 100), ("plate", 10, 1000), ("plate", 100, 1000), ("plate", 1000, 1000), ("plate", 100, 10_000), ("plate", 1000, 10_000),
         ("plate", 10, 100_000)]
with tempfile.TemporaryDirectory() as home:
    def job(form, kinds, pieces, name, batch=1):
        folder = pathlib.Path(home, name)
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir()
        (folder / "parts.csv").write_text(parts(form, kinds, pieces))
        (folder / "job.toml").write_text(f'name = "{name}"\nunit = "mm"\ncurrency = "EUR"\nbatch = {batch}\nparts = "parts.csv"\n')
        return folder

    for form, kinds, pieces in table:
        run(f"{form} {kinds} kinds {pieces} pieces", ["plan", "job.toml", "--seconds", str(seconds)], seconds, job(form, kinds, pieces, f"{form}-{kinds}-{pieces}"))
    run("plate 1 kind 1000000 pieces", ["plan", "job.toml", "--seconds", "3"], 3, job("plate", 1, 1_000_000, "million"))
    run("plate 10 kinds 100000 sets", ["plan", "job.toml", "--seconds", "1"], 1, job("plate", 10, 10, "sets", 100_000))
PY
