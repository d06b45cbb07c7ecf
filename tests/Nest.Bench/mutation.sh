#!/usr/bin/env bash
# Mutation testing of what decides, room by room: every room has a small test project of its own, made here from the files of
# tests/Nest.Tests that hold for it. The whole suite takes minutes for each run, and a mutant needs one.
#   tests/Nest.Bench/mutation.sh                 all rooms
#   tests/Nest.Bench/mutation.sh quantities rack these
#   NEST_SAMPLES=DIR …                           keeps the copy of the sources and the reports in DIR; a second run builds less
# Appends a line for each room to results/mutation.csv and writes its survivors to results/survivors/ROOM.csv; results/mutation.md says of them
# which cannot be killed. Needs Python and dotnet-stryker 5.1.0 on the path, or in STRYKER.
# Known limits of the tool: it finds a project only where the test project references it directly and names its target framework itself
# (stryker-mutator/stryker-net#3758), so the made project does both.
set -uo pipefail
cd "$(dirname "$0")/../.." || exit 1
root=$PWD
stryker=${STRYKER:-dotnet-stryker}
command -v "$stryker" > /dev/null || { echo "dotnet-stryker is missing: dotnet tool install dotnet-stryker --version 5.1.0 --tool-path DIR, then STRYKER=DIR/dotnet-stryker"; exit 1; }
work=${NEST_SAMPLES:-$(mktemp -d)}
[ -n "${NEST_SAMPLES:-}" ] || trap 'rm -rf "$work"' EXIT
mkdir -p "$work/tree" "$work/reports" tests/Nest.Bench/results/survivors
git ls-files -z -co --exclude-standard -- src tests '*.props' global.json .editorconfig stock examples README.md Nest.sln \
    | while IFS= read -r -d '' file; do [ ! -f "$file" ] || printf '%s\0' "$file"; done \
    | xargs -0 cp --parents -u -t "$work/tree"

rooms="quantities bound costing inputs check-money check-cuts check-blanks check-job rack-pieces rack-plans"

# What each room mutates, and the tests that hold for it: project, patterns, projects to reference, test files below tests/Nest.Tests.
room() {
    shop="Check/TestShop.cs Check/TestPlan.cs"
    case $1 in
        quantities) project=Nest.Model pattern='**/Quantities/*.cs' with="" tests="Quantities/*.cs" ;;
        bound) project=Nest.Model pattern='**/Plans/Bound.cs' with="" tests="Bounds/BoundTest.cs" ;;
        costing) project=Nest.Core pattern='**/Costing/*.cs' with="Nest.Model Nest.Check" tests="$shop Costing/FillUpTest.cs Costing/QuoteTest.cs Costing/TermsTest.cs
            Costing/PlanComparisonTest.cs Costing/CostSheetTest.cs Costing/StockPriceTest.cs Check/PlanCheckerTest.cs Check/RandomPlans.cs Check/RandomPlansTest.cs" ;;
        inputs) project=Nest.Core pattern='**/Inputs/*.cs' with="Nest.Model Nest.Data" tests="$shop Inputs/*.cs Check/JobCheckerTest.cs Data/JobFolder.cs" ;;
        # The tests with spoilt and made plans reach every line and kill little that the broken plans do not: they are left to the room that needs them.
        check-money) checker RulesMoney RulesOrders RulesPrice RulesOffcuts Worth Amounts ;;
        check-cuts) checker RulesTree RulesPlace RulesSaw RulesSheet ExpectedCuts AngledCuts ;;
        check-blanks) checker ExpectedBlank ExpectedEnds ExpectedSections RulesFit RulesGang RulesDemand ;;
        check-job) checker RulesJob RulesRange RulesReferences RulesProof RulesStock RulesStockRules RulesWhole PlanFacts PlanChecker
            tests="$tests Check/HostilePlansTest.cs Data/JobFolder.cs" with="$with Nest.Data" ;;
        rack-pieces) project=Nest.Rack pattern='**/Marks/*.cs **/Pieces/*.cs **/Values/*.cs' with="Nest.Model Nest.Core"
            tests="Rack/RackFixture.cs Rack/MarkSchemeTest.cs Rack/RackStoreTest.cs Rack/SoundMetalTest.cs ../Nest.RackStress/SamplePlans.cs" ;;
        rack-plans) project=Nest.Rack pattern='**/Plans/*.cs **/Use/*.cs' with="Nest.Model Nest.Core"
            tests="Rack/RackFixture.cs Rack/PlanLifeTest.cs Rack/OutOfTurnTest.cs Rack/ReceiveTest.cs Rack/LeftoverUseTest.cs Makers/JobMaker.cs ../Nest.RackStress/SamplePlans.cs" ;;
        *) echo "no room $1; there are $rooms"; return 1 ;;
    esac
}

checker() {
    project=Nest.Check pattern="" with="Nest.Model Nest.Core" tests="$shop Check/PlanCheckerTest.cs Check/MoneyRulesTest.cs Check/AngledCutsTest.cs"
    for file in "$@"; do pattern="$pattern **/$file.cs"; done
}

# xunit.v3 and the testing platform: with them the tool keeps one process for all mutants; with the older runner it starts one for each.
make_project() {
    mkdir -p "$work/tree/tests/Room.$1"
    version() { sed -nE "s/.*Include=\"$1\" Version=\"\\[?([0-9.]+).*/\1/p" Directory.Packages.props; }
    {
        echo '<Project Sdk="Microsoft.NET.Sdk"><PropertyGroup><TargetFramework>net10.0</TargetFramework><OutputType>Exe</OutputType>'
        echo '<UseMicrosoftTestingPlatformRunner>true</UseMicrosoftTestingPlatformRunner><IsPackable>false</IsPackable><AssemblyName>Nest.Tests</AssemblyName>'
        echo '<RootNamespace>Nest.Tests</RootNamespace><RunAnalyzers>false</RunAnalyzers><NoWarn>$(NoWarn);xUnit1051;CS8892</NoWarn>'
        echo '<ManagePackageVersionsCentrally>false</ManagePackageVersionsCentrally></PropertyGroup><ItemGroup>'
        echo '<Using Include="Xunit" /><Using Include="FluentAssertions" /><PackageReference Include="xunit.v3" Version="3.2.2" />'
        for package in FluentAssertions CsCheck; do echo "<PackageReference Include=\"$package\" Version=\"$(version "$package")\" />"; done
        for one in $project $with; do echo "<ProjectReference Include=\"../../src/$one/$one.csproj\" />"; done
        for one in $tests; do echo "<Compile Include=\"../Nest.Tests/$one\" />"; done
        echo '</ItemGroup></Project>'
    } > "$work/tree/tests/Room.$1/Room.$1.csproj"
    # On a busy machine a slow run must not pass for an endless one: a timeout counts as killed.
    echo '{ "stryker-config": { "additional-timeout": 30000 } }' > "$work/tree/tests/Room.$1/stryker-config.json"
}

# shellcheck disable=SC2086 # names of rooms have no blanks
[ $# -gt 0 ] || set -- $rooms
failed=0
for name in "$@"; do
    set -f # the patterns are for the project file and for the tool, not for the shell
    room "$name" || exit 1
    make_project "$name"
    mutate=()
    for one in $pattern; do mutate+=(--mutate "$one"); done
    set +f
    (cd "$work/tree/tests/Room.$name" && rm -rf "$work/reports/$name" && "$stryker" --test-runner mtp --configuration Release --project "$project.csproj" "${mutate[@]}" \
        --concurrency "${CONCURRENCY:-1}" --reporter Json --reporter Dots --skip-version-check --output "$work/reports/$name" > "$work/reports/$name.log" 2>&1)
    if ! python3 -B - "$name" "$work/reports/$name" "$root/tests/Nest.Bench/results" "$(git describe --always --dirty)" <<'PY'
import csv, datetime, json, pathlib, sys

room, report, results, commit = sys.argv[1], pathlib.Path(sys.argv[2]), pathlib.Path(sys.argv[3]), sys.argv[4]
found = sorted(report.rglob("*.json"))
if not found:
    sys.exit(f"{room}: no report was written")
counts, left = {}, []
for name, file in json.loads(found[-1].read_text())["files"].items():
    lines = file["source"].split("\n")
    short = name.replace("\\", "/").split("/src/")[-1]
    for mutant in file["mutants"]:
        status = mutant["status"]
        if status in ("Ignored", "CompileError"):
            continue
        counts[status] = counts.get(status, 0) + 1
        if status in ("Survived", "NoCoverage"):
            start, end = mutant["location"]["start"], mutant["location"]["end"]
            first = lines[start["line"] - 1]
            text = first[start["column"] - 1:end["column"] - 1] if start["line"] == end["line"] else first[start["column"] - 1:] + " …"
            left.append([short, start["line"], start["column"], status, mutant["mutatorName"], text.strip()[:120], " ".join(mutant.get("replacement", "").split())[:120]])
killed, late, lived, bare = (counts.get(key, 0) for key in ("Killed", "Timeout", "Survived", "NoCoverage"))
tested = killed + late + lived + bare
percent = f"{100 * (killed + late) / tested:.1f}" if tested else "0"
table = results / "mutation.csv"
new = not table.exists()
with open(table, "a", newline="") as out:
    write = csv.writer(out, lineterminator="\n")
    if new:
        write.writerow(["date", "commit", "room", "mutants", "killed", "survived", "timeout", "no coverage", "percent"])
    write.writerow([datetime.date.today(), commit, room, tested, killed, lived, late, bare, percent])
with open(results / "survivors" / f"{room}.csv", "w", newline="") as out:
    csv.writer(out, lineterminator="\n").writerows([["file", "line", "column", "status", "mutator", "code", "mutant"], *sorted(left)])
print(f"{room}: {tested} mutants, {killed} killed, {lived} survived, {late} timeouts, {bare} without coverage: {percent} %")
PY
    then
        grep -E 'ERR|WRN|error' "$work/reports/$name.log" | tail -5
        failed=1
    fi
done
exit $failed
