#!/bin/sh
# Puts each fault (a patch of this folder) into a copy of the sources, builds it and asks first the tests of bounds by themselves, then the judge's
# tiny jobs: every fault must be caught by one of them.
# Use: tests/Nest.Judge/faults/run.sh [last seed] [patch ...]     Writes a line for each fault; ends with 1 when one is not caught.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../../.." && pwd)
last=${1:-799}
[ $# -gt 0 ] && shift
[ $# -gt 0 ] || set -- "$here"/*.patch
copy=$(mktemp -d)
trap 'rm -rf "$copy"' EXIT
(cd "$root" && tar cf - --exclude=obj --exclude=bin src stock examples tests ./*.props ./*.targets .editorconfig) | (cd "$copy" && tar xf -)
cd "$copy"
git init -q .
missed=0
dotnet build tests/Nest.Tests -c Release -v q -clp:NoSummary -p:RunAnalyzers=false >/dev/null
for patch in "$@"; do
    name=$(basename "$patch" .patch)
    if ! git apply --recount "$patch" 2>/dev/null; then
        echo "$name: does not apply"
        missed=1
        continue
    fi
    if ! dotnet build src/Nest.Solve -c Release --no-restore --no-dependencies -v q -clp:NoSummary -p:RunAnalyzers=false >build.log 2>&1; then
        echo "$name: does not build"
        missed=1
    else
        cp src/Nest.Solve/bin/Release/net10.0/Nest.Solve.dll tests/Nest.Judge/bin/Release/net10.0/
        cp src/Nest.Solve/bin/Release/net10.0/Nest.Solve.dll tests/Nest.Tests/bin/Release/net10.0/
        if ! NEST_SEEDS=600 dotnet test tests/Nest.Tests -c Release --no-build --filter "FullyQualifiedName~Nest.Tests.Bounds|FullyQualifiedName~FirstBoundsTest|FullyQualifiedName~Nest.Tests.Exact" >run.log 2>&1; then
            echo "$name: caught, $(grep -m1 '\[FAIL\]' run.log | sed 's/.*Nest\.Tests\.//' | cut -c1-120)"
        elif ! dotnet tests/Nest.Judge/bin/Release/net10.0/Nest.Judge.dll run --from 0 --to "$last" --new >run.log 2>&1; then
            echo "$name: caught by the judge, $(head -1 run.log | cut -c1-120)"
        else
            echo "$name: NOT CAUGHT by seeds 0 to $last"
            missed=1
        fi
    fi
    git apply --recount -R "$patch"
done
exit $missed
