"""What the solver loses without each of its engines.

    python3 tests/Nest.Bench/Engines/engines.py [--only WORDS] [--jobs SUITE] [--store FILE]

A copy of the sources is built; each engine of engines.txt is taken out in turn, the copy built anew and its jobs planned (`Nest.Bench -- engines`).
Limits are units of work, so the figures do not hang on the machine. The spread is what other seeds change with everything on. Each row of FILE
(tests/Nest.Bench/results/engines.csv): engine, jobs, mean loss of cost and of bound in per cent, proofs lost, processor seconds against all on.
Needs Python 3 and the .NET SDK. About two minutes an engine.
"""
import argparse
import pathlib
import shutil
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[3]
SEEDS = {"bars": [1], "cuts": [1, 2], "free": [1, 2], "jobs": [1], "many": [1]}
SPREAD = [1, 2, 3]
HOUR = 3600


def blocks():
    """Engines: name, suites, file, the text that is there, the text without the engine."""
    text = (ROOT / "tests/Nest.Bench/Engines/engines.txt").read_text(encoding="utf-8")
    lines = [line for line in text.split("\n") if not line.startswith("# ")]
    for block in "\n".join(lines).strip("\n").split("\n\n"):
        head, *body = block.split("\n")
        name, suites, file = (part.strip() for part in head.split("|"))
        old, new = "\n".join(body).split("\n---\n") if "---" in body else body
        yield name, suites.split(), "src/Nest.Solve/" + file, old, new


def run(command, copy):
    return subprocess.run(command, cwd=copy, text=True, capture_output=True, timeout=HOUR, check=False)


def figures(copy, suite, seed):
    """By job: cost, bound, proven, processor seconds."""
    made = run(["dotnet", "tests/Nest.Bench/bin/Release/net10.0/Nest.Bench.dll", "engines", suite, "--seed", str(seed)], copy)
    if made.returncode != 0:
        raise RuntimeError(made.stderr[-400:])
    rows = [line.split(",") for line in made.stdout.strip().split("\n")]
    return {row[0]: [float(value) for value in row[1:]] for row in rows}


def losses(with_all, without):
    """Mean loss of cost and of bound in per cent, proofs lost, ratio of processor seconds."""
    cost = bound = proofs = 0.0
    seconds = [0.0, 0.0]
    for job, (c, b, p, s) in with_all.items():
        c2, b2, p2, s2 = without[job]
        cost += 100 * (c2 - c) / c
        bound += 100 * (b - b2) / b if b > 0 else 0
        proofs += p - p2
        seconds[0] += s
        seconds[1] += s2
    return cost / len(with_all), bound / len(with_all), proofs, seconds[1] / max(seconds[0], 0.01)


def main():
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--only", default="", help="engines whose name has one of these in it (parted by commas), or that are measured on these jobs")
    words.add_argument("--jobs", default="", help="only these jobs (bars, cuts, free, jobs, many), of the engines that are measured on them")
    words.add_argument("--store", default=str(ROOT / "tests/Nest.Bench/results/engines.csv"))
    given = words.parse_args()
    asked = [(name, [suite for suite in some if given.jobs in ("", suite)], *rest) for name, some, *rest in blocks()]
    chosen = [one for one in asked if one[1] and any(word in one[0] or word in one[1] for word in given.only.split(","))]
    store = pathlib.Path(given.store)
    commit = run(["git", "rev-parse", "--short", "HEAD"], ROOT).stdout.strip()

    def row(*values):
        line = ",".join(value.replace(",", ";") for value in values)
        print(line, flush=True)
        with store.open("a", encoding="utf-8") as out:
            out.write(line + "\n")

    if not store.exists():
        row("commit", "engine", "jobs", "cost % dearer without", "bound % lower without", "proofs lost", "CPU ratio")
    copy = pathlib.Path(tempfile.mkdtemp())
    try:
        for part in ["src", "stock", "tests/Nest.Bench", "tests/Nest.Tests/Plates", "tests/Nest.Tests/Makers", "tests/bench-data"]:
            shutil.copytree(ROOT / part, copy / part, ignore=shutil.ignore_patterns("bin", "obj"))
        for file in [*ROOT.glob("*.props"), *ROOT.glob("*.targets"), ROOT / ".editorconfig", ROOT / "tests/Directory.Build.props"]:
            shutil.copy(file, copy / file.relative_to(ROOT))
        built = run(["dotnet", "build", "tests/Nest.Bench", "-c", "Release", "-v", "q", "-p:RunAnalyzers=false"], copy)
        if built.returncode != 0:
            sys.exit(built.stdout[-2000:])
        suites = sorted({suite for one in chosen for suite in one[1]})
        usual = {suite: {seed: figures(copy, suite, seed) for seed in SEEDS[suite]} for suite in suites}
        for suite in suites:
            others = [losses(usual[suite][1], usual[suite].get(seed) or figures(copy, suite, seed)) for seed in SPREAD[1:]]
            row(commit, "(spread of three seeds)", suite, *(f"{max(o[k] for o in others) - min([0.0, *(o[k] for o in others)]):.2f}" for k in range(3)), "")
        for name, some, file, old, new in chosen:
            path = copy / file
            before = path.read_text(encoding="utf-8-sig")
            if before.count(old) != 1:
                row(commit, name, "", f"the line stands {before.count(old)} times in {file}", "", "", "")
                continue
            path.write_text(before.replace(old, new), encoding="utf-8")
            built = run(["dotnet", "build", "src/Nest.Solve", "-c", "Release", "--no-restore", "--no-dependencies", "-v", "q", "-p:RunAnalyzers=false", "-p:TreatWarningsAsErrors=false"], copy)
            path.write_text(before, encoding="utf-8")
            if built.returncode != 0:
                row(commit, name, "", "does not build: " + built.stdout[-300:].replace("\n", " ").replace(",", ";"), "", "", "")
                continue
            shutil.copy(copy / "src/Nest.Solve/bin/Release/net10.0/Nest.Solve.dll", copy / "tests/Nest.Bench/bin/Release/net10.0/")
            for suite in some:
                try:
                    all_losses = [losses(usual[suite][seed], figures(copy, suite, seed)) for seed in SEEDS[suite]]
                    row(commit, name, suite, *(f"{sum(one[k] for one in all_losses) / len(all_losses):.2f}" for k in range(4)))
                except (RuntimeError, subprocess.TimeoutExpired) as fault:
                    row(commit, name, suite, "stops: " + str(fault)[-200:].replace("\n", " ").replace(",", ";"), "", "", "")
    finally:
        shutil.rmtree(copy, ignore_errors=True)


if __name__ == "__main__":
    main()
