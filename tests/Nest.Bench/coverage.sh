#!/usr/bin/env bash
# Line coverage of what decides (values, checker, core, the rack's rules) by its own quick tests, folder by folder, against the floors
# in results/coverage.csv.
#   tests/Nest.Bench/coverage.sh              prints the figures; exit code 1 where a folder is below its floor
#   NEST_APPROVE=1 tests/Nest.Bench/coverage.sh   writes them, the floors two points below what was measured
# Needs Python and a Release build of tests/Nest.Tests. A page to click through: reportgenerator -reports:DIR/**/*.xml -targetdir:DIR/page,
# where NEST_SAMPLES=DIR keeps what was measured.
set -uo pipefail
cd "$(dirname "$0")/../.." || exit 1
keep=${NEST_SAMPLES:-$(mktemp -d)}
[ -n "${NEST_SAMPLES:-}" ] || trap 'rm -rf "$keep"' EXIT
filter="(FullyQualifiedName~Nest.Tests.Rack.&FullyQualifiedName!~StressTest&FullyQualifiedName!~PaidStock)"
for room in Blanks Check Costing Cutting Inputs Quantities Sections Texts; do
    filter="$filter|FullyQualifiedName~Nest.Tests.$room."
done
dotnet test tests/Nest.Tests -c Release --no-build --filter "$filter" --results-directory "$keep" --collect "XPlat Code Coverage" \
    -- DataCollectionRunSettings.DataCollectors.DataCollector.Configuration.Include="[Nest.Model]*,[Nest.Check]*,[Nest.Core]*,[Nest.Rack]*" || exit 1
python3 -B - "$keep" tests/Nest.Bench/results/coverage.csv <<'PY'
import csv, os, pathlib, re, sys
import xml.etree.ElementTree as xml

lines = {}
for report in pathlib.Path(sys.argv[1]).rglob("coverage.cobertura.xml"):
    for kind in xml.parse(report).getroot().iter("class"):
        name = kind.get("filename").replace("\\", "/")
        found = re.search(r"(Nest\.(?:Model|Check|Core|Rack)/.*)", name)
        # Solids have their tests in Nest.Tests.Models, which take minutes when they are measured.
        if found and "/obj/" not in name and "/Solids/" not in name:
            for line in kind.iter("line"):
                key = (found.group(1), int(line.get("number")))
                lines[key] = lines.get(key, False) or int(line.get("hits")) > 0
folders = {}
for (name, _), hit in lines.items():
    for folder in {os.path.dirname(name), name.split("/")[0] + " (all)"}:
        count = folders.setdefault(folder, [0, 0])
        count[0] += 1
        count[1] += hit
table = sys.argv[2]
floors = {row["folder"]: float(row["floor %"]) for row in csv.DictReader(open(table))} if os.path.exists(table) else {}
approve = bool(os.environ.get("NEST_APPROVE"))
low, rows = [], []
for folder, (all_lines, hit) in sorted(folders.items()):
    percent = 100 * hit / all_lines
    floor = max(0, int(percent - 2)) if approve else floors.get(folder, 0)
    rows.append([folder, all_lines, hit, f"{percent:.1f}", f"{floor:g}"])
    if percent < floor:
        low.append(f"{folder}: {percent:.1f} %, its floor is {floor:g} %")
    print(f"{folder:40} {hit:6} of {all_lines:6}  {percent:5.1f} %  floor {floor:g}")
if approve:
    with open(table, "w", newline="") as out:
        csv.writer(out, lineterminator="\n").writerows([["folder", "lines", "covered", "covered %", "floor %"], *rows])
print("\n".join(low))
sys.exit(1 if low or not rows else 0)
PY
