#!/usr/bin/env bash
# Mutation testing of what decides, room by room: every room has a few quick tests of its own out of tests/Nest.Tests. The whole suite takes minutes
# for each run, and a mutant needs one.
#   tests/Nest.Bench/mutation.sh                 all rooms
#   tests/Nest.Bench/mutation.sh quantities rack these
#   NEST_SAMPLES=DIR …                           keeps the copy of the sources and what was made in DIR; a second run builds less
# dotnet-stryker makes the mutants of a project, all in one assembly; Mutants/MutantHost.cs runs the tests against them and Mutants/drive.py keeps the books.
# The tool's own way of running them is not taken: it runs all mutants in one process and does not look whether one left something behind, so it counts
# mutants as killed that no test tells from the code (stryker-mutator/stryker-net#3742), and it took five seconds for each.
# Writes the line of the room in results/mutation.csv and its survivors to results/survivors/ROOM.csv; results/mutation.md says of them which cannot be
# killed. Needs Python and dotnet-stryker 5.1.0 on the path, or in STRYKER.
# The tool finds a project only where the test project references it directly and names its target framework itself (stryker-net#3758).
set -uo pipefail
# In braces, so that the shell reads all of it before it begins: a room takes minutes, and who edits this file meanwhile would change what is still to run.
{
cd "$(dirname "$0")/../.." || exit 1
root=$PWD
stryker=${STRYKER:-dotnet-stryker}
command -v "$stryker" > /dev/null || { echo "dotnet-stryker is missing: dotnet tool install dotnet-stryker --version 5.1.0 --tool-path DIR, then STRYKER=DIR/dotnet-stryker"; exit 1; }
work=${NEST_SAMPLES:-$(mktemp -d)}
[ -n "${NEST_SAMPLES:-}" ] || trap 'rm -rf "$work"' EXIT
mkdir -p "$work/tree" "$work/mutated" "$work/rooms" tests/Nest.Bench/results/survivors
git ls-files -z -co --exclude-standard -- src tests '*.props' '*.targets' global.json .editorconfig stock examples README.md Nest.sln \
    | while IFS= read -r -d '' file; do [ ! -f "$file" ] || cmp -s "$file" "$work/tree/$file" || printf '%s\0' "$file"; done \
    | xargs -0 -r cp --parents -t "$work/tree"

rooms="quantities bound costing inputs check-money check-cuts check-blanks check-job rack-pieces rack-plans"

# What each room mutates, and the tests that hold for it: project, patterns, projects to reference, test files below tests/Nest.Tests.
room() {
    shop="Check/TestShop.cs Check/TestPlan.cs"
    case $1 in
        quantities) project=Nest.Model pattern='Quantities/*' with="" tests="Quantities/*.cs" ;;
        bound) project=Nest.Model pattern='Plans/Bound.cs' with="" tests="Bounds/BoundTest.cs" ;;
        costing) project=Nest.Core pattern='Costing/*' with="Nest.Model Nest.Check" tests="$shop Costing/FillUpTest.cs Costing/QuoteTest.cs Costing/TermsTest.cs
            Costing/PlanComparisonTest.cs Costing/CostSheetTest.cs Costing/StockPriceTest.cs Costing/SmallCostsTest.cs Costing/SawnMetalTest.cs
            Costing/SparesOutTest.cs Costing/MassBalanceTest.cs Check/SettingsAgreeTest.cs Check/PlanCheckerTest.cs Check/RandomPlans.cs
            Check/RandomPlansTest.cs Check/MadePrices.cs Check/MadePlansTest.cs Check/MoneyAgreesTest.cs Check/SparesAgreeTest.cs Cutting/SawSimulator.cs Cutting/CutSequencerTest.cs" ;;
        inputs) project=Nest.Core pattern='Inputs/*' with="Nest.Model Nest.Data" tests="$shop Inputs/*.cs Check/JobCheckerTest.cs Data/JobFolder.cs" ;;
        check-money) checker RulesMoney RulesPartCosts RulesOrders RulesPrice RulesOffcuts Worth Amounts
            tests="$tests Check/MoneyRulesTest.cs Check/MadePrices.cs Check/MadePlansTest.cs Check/MoneyAgreesTest.cs" ;;
        check-cuts) checker RulesTree RulesPlace RulesSaw RulesSheet ExpectedCuts AngledCuts
            tests="$tests Check/SawRulesTest.cs Check/SawReachTest.cs Check/PlacesTest.cs Check/SettingsAgreeTest.cs Check/AngledCutsTest.cs Check/RandomPlans.cs Check/RandomPlansTest.cs Check/MadePrices.cs Check/MadePlansTest.cs" ;;
        check-blanks) checker ExpectedBlank ExpectedEnds ExpectedSections RulesFit RulesGang RulesDemand RulesSpares SparesTaken
            tests="$tests Blanks/BlankAgreementTest.cs Check/SectionsAgreeTest.cs Check/GangRulesTest.cs Check/MadePrices.cs Check/SparesAgreeTest.cs
            Check/FitRulesTest.cs Check/OwnersRulesTest.cs Costing/SparesOutTest.cs Check/SparesTakenTest.cs" ;;
        check-job) checker RulesJob RulesRange RulesReferences RulesProof RulesStock RulesStockRules RulesWhole PlanFacts PlanChecker
            tests="$tests Check/JobValuesTest.cs Check/OwnersRulesTest.cs" ;;
        rack-pieces) project=Nest.Rack pattern='Marks/* Pieces/* Values/*' with="Nest.Model Nest.Core"
            tests="Rack/RackFixture.cs Rack/MarkSchemeTest.cs Rack/RackStoreTest.cs Rack/SoundMetalTest.cs Rack/PieceChangeTest.cs Rack/PieceRulesTest.cs ../Nest.RackStress/SamplePlans.cs" ;;
        rack-plans) project=Nest.Rack pattern='Plans/* Use/*' with="Nest.Model Nest.Core"
            tests="Rack/RackFixture.cs Rack/PlanLifeTest.cs Rack/OutOfTurnTest.cs Rack/ReceiveTest.cs Rack/LeftoverUseTest.cs
            Rack/AgainstTest.cs Rack/RackedJobTest.cs Rack/ReservedTest.cs Rack/CutRefusedTest.cs Rack/CutBookedTest.cs Rack/PurchasesTest.cs Rack/SawnEdgesTest.cs Rack/RackAnswersTest.cs Makers/JobMaker.cs ../Nest.RackStress/SamplePlans.cs" ;;
        *) echo "no room $1; there are $rooms"; return 1 ;;
    esac
}

checker() {
    project=Nest.Check pattern="" with="Nest.Model Nest.Core" tests="$shop Check/PlanCheckerTest.cs"
    for file in "$@"; do pattern="$pattern $file.cs"; done
}

version() { sed -nE "s/.*Include=\"$1\" Version=\"\\[?([0-9.]+).*/\1/p" Directory.Packages.props; }

# A test program: name, its sources, projects, packages as NAME/VERSION.
make_program() {
    mkdir -p "$work/tree/tests/$1"
    {
        echo '<Project Sdk="Microsoft.NET.Sdk"><PropertyGroup><TargetFramework>net10.0</TargetFramework><OutputType>Exe</OutputType>'
        echo '<IsPackable>false</IsPackable><AssemblyName>Nest.Tests</AssemblyName><RootNamespace>Nest.Tests</RootNamespace><RunAnalyzers>false</RunAnalyzers>'
        echo '<NoWarn>$(NoWarn);xUnit1051;CS8892;CA1050</NoWarn><ManagePackageVersionsCentrally>false</ManagePackageVersionsCentrally>'
        echo '<EnableDefaultCompileItems>false</EnableDefaultCompileItems><UseMicrosoftTestingPlatformRunner>true</UseMicrosoftTestingPlatformRunner></PropertyGroup><ItemGroup>'
        for one in $4; do echo "<PackageReference Include=\"${one%/*}\" Version=\"${one#*/}\" />"; done
        for one in $3; do echo "<ProjectReference Include=\"../../src/$one/$one.csproj\" />"; done
        for one in $2; do echo "<Compile Include=\"../$one\" />"; done
        echo '</ItemGroup><ItemGroup><Using Include="Xunit" /><Using Include="FluentAssertions" Condition="@(PackageReference->AnyHaveMetadataValue('"'Identity', 'FluentAssertions'"'))" /></ItemGroup></Project>'
    } > "$work/tree/tests/$1/$1.csproj"
}

# All mutants of a project in one assembly, and the list of them. The tool believes that its one test covers none, and so runs none.
mutate() {
    [ "$work/mutated/$1.json" -nt "$work/mutated/$1.dll" ] && [ -z "$(find "$work/tree/src/$1" -name '*.cs' -newer "$work/mutated/$1.json" -print -quit)" ] && return 0
    make_program "Mutated.$1" "Nest.Bench/Mutants/KeepMutated.cs" "$1" "xunit.v3/3.2.2"
    only=""
    # Of the large project only what has a room: all of it takes the tool a quarter of an hour.
    [ "$1" != Nest.Core ] || only="--mutate **/Costing/*.cs --mutate **/Inputs/*.cs"
    rm -rf "$work/mutated/$1".*
    # shellcheck disable=SC2086
    (cd "$work/tree/tests/Mutated.$1" && NEST_MUTATED=$work/mutated NEST_MUTATED_NAME=$1 "$stryker" --test-runner mtp --configuration Release --project "$1.csproj" \
        --concurrency 1 $only --reporter Json --skip-version-check --output "$work/mutated/$1.report" > "$work/mutated/$1.log" 2>&1)
    find "$work/mutated/$1.report" -name '*.json' -exec cp {} "$work/mutated/$1.json" \;
    [ -f "$work/mutated/$1.json" ] || { grep -E 'ERR|WRN|error' "$work/mutated/$1.log" | tail -5; return 1; }
}

# shellcheck disable=SC2086 # names of rooms have no blanks
[ $# -gt 0 ] || set -- $rooms
failed=0
set -f # the patterns are for the project file and for the driver, not for the shell
for name in "$@"; do
    room "$name" || exit 1
    mutate "$project" || { failed=1; continue; }
    files="Nest.Bench/Mutants/MutantHost.cs"
    for one in $tests; do files="$files Nest.Tests/$one"; done
    make_program "Room.$name" "$files" "$project $with" "xunit/$(version xunit) FluentAssertions/$(version FluentAssertions) CsCheck/$(version CsCheck)"
    dotnet build "$work/tree/tests/Room.$name" -c Release -v q -clp:NoSummary -p:RunAnalyzers=false > "$work/rooms/$name.log" 2>&1 || { tail -5 "$work/rooms/$name.log"; failed=1; continue; }
    bin=$work/tree/tests/Room.$name/bin/Release/net10.0
    cp "$work/mutated/$project.dll" "$bin/"
    # shellcheck disable=SC2086
    python3 -B tests/Nest.Bench/Mutants/drive.py "$name" "$bin/Nest.Tests.dll" "$work/mutated/$project.json" "$root/tests/Nest.Bench/results" "$(git describe --always --dirty)" "$work/rooms/$name" "src/$project" $pattern || failed=1
done
exit $failed
}
