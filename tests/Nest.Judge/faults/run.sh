#!/bin/sh
# Puts each fault (a patch of this folder) into a copy of the sources, builds it and judges tiny jobs: every fault must be caught.
# Use: tests/Nest.Judge/faults/run.sh [last seed] [patch ...]     Writes a line for each fault; ends with 1 when one is not caught.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../../.." && pwd)
last=${1:-799}
[ $# -gt 0 ] && shift
[ $# -gt 0 ] || set -- "$here"/*.patch
copy=$(mktemp -d)
trap 'rm -rf "$copy"' EXIT
(cd "$root" && tar cf - --exclude=obj --exclude=bin src stock tests/Nest.Judge tests/Directory.Build.props ./*.props .editorconfig) | (cd "$copy" && tar xf -)
cd "$copy"
git init -q .
missed=0
dotnet build tests/Nest.Judge -c Release -v q -clp:NoSummary >/dev/null
for patch in "$@"; do
    name=$(basename "$patch" .patch)
    if ! git apply --recount "$patch" 2>/dev/null; then
        echo "$name: does not apply"
        missed=1
        continue
    fi
    if ! dotnet build src/Nest.Solve -c Release --no-restore --no-dependencies -v q -clp:NoSummary >build.log 2>&1; then
        echo "$name: does not build"
        missed=1
    else
        cp src/Nest.Solve/bin/Release/net10.0/Nest.Solve.dll tests/Nest.Judge/bin/Release/net10.0/
        if dotnet tests/Nest.Judge/bin/Release/net10.0/Nest.Judge.dll run --from 0 --to "$last" --new >run.log 2>&1; then
            echo "$name: NOT CAUGHT by seeds 0 to $last"
            missed=1
        else
            echo "$name: caught, $(head -1 run.log | cut -c1-160)"
        fi
    fi
    git apply --recount -R "$patch"
done
exit $missed
