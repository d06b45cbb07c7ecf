#!/usr/bin/env bash
# Mutation testing of one room after the other: changes the code in many small ways and runs the room's tests on each change.
#   tests/mutation/run.sh [ROOM ...]        rooms: quantities costing checker bounds rack (all without a name)
# A room that has a report in tests/mutation/out is left alone, so that a run that was broken off goes on where it ended; --again makes it anew.
# Writes a row for each room to ../Nest.Bench/results/mutation.csv and its survivors to ../Nest.Bench/results/mutation-ROOM.txt.
# Needs dotnet-stryker (dotnet tool install -g dotnet-stryker --version 5.1.0) and Python 3.
set -uo pipefail
cd "$(dirname "$0")" || exit 1
here=$PWD
again=0
[ "${1:-}" = --again ] && { again=1; shift; }
[ $# -gt 0 ] || set -- quantities costing checker bounds rack
stryker=$(command -v dotnet-stryker) || { echo "dotnet-stryker is not on the path" >&2; exit 1; }
declare -A project=([quantities]=Nest.Model [costing]=Nest.Core [checker]=Nest.Check [bounds]=Nest.Solve [rack]=Nest.Rack)
declare -A files=([quantities]='Quantities/**/*.cs' [costing]='Costing/**/*.cs' [checker]='*.cs' [bounds]='Plates/Bounds/**/*.cs' [rack]='Plans/**/*.cs')
declare -A tests=(
    [quantities]='FullyQualifiedName~Nest.Tests.Quantities'
    [costing]='FullyQualifiedName~Nest.Tests.Costing|FullyQualifiedName~Nest.Tests.Check'
    [checker]='FullyQualifiedName~Nest.Tests.Check|FullyQualifiedName~Nest.Tests.Contracts'
    [bounds]='FullyQualifiedName~Nest.Tests.Bounds|FullyQualifiedName~Nest.Tests.Plates'
    [rack]='FullyQualifiedName~Nest.Tests.Rack.PlanLifeTest|FullyQualifiedName~Nest.Tests.Rack.RackStoreTest|FullyQualifiedName~Nest.Tests.Rack.PaidStockTest|FullyQualifiedName~Nest.Tests.Rack.ChangeOrderTest')
wrong=0
for room in "$@"; do
    [ -n "${project[$room]:-}" ] || { echo "no room '$room'" >&2; exit 1; }
    report=$here/out/$room/reports/mutation-report.json
    [ "$again" = 1 ] && rm -rf "$here/out/$room"
    if [ ! -f "$report" ]; then
        (cd ../Nest.Tests && "$stryker" --project "${project[$room]}.csproj" --mutate "${files[$room]}" --test-case-filter "${tests[$room]}" \
            --concurrency "${NEST_JOBS:-2}" --configuration Release --reporter json --reporter cleartext --output "$here/out/$room" --break-at 0) || { wrong=1; continue; }
    fi
    python3 "$here/count.py" "$room" "$report" ../Nest.Bench/results || wrong=1
done
exit $wrong
