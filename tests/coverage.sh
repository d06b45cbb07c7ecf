#!/usr/bin/env bash
# Which lines the tests of tests/Nest.Tests reach, for each folder of src, against the floor of each folder in coverage.csv.
#   tests/coverage.sh             measures and compares; exit code 1 where a folder is below its floor
#   tests/coverage.sh --approve   raises the floors to what is reached now (whole per cent, rounded down); it lowers none
# Needs Python 3. Takes about twice as long as the tests alone.
set -euo pipefail
cd "$(dirname "$0")/.."
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
# A failing test is the gate's matter: lines are counted all the same.
dotnet test tests/Nest.Tests -c Release --collect "XPlat Code Coverage" --results-directory "$place" ${NEST_FILTER:+--filter "$NEST_FILTER"} || true
find "$place" -name coverage.cobertura.xml -print0 | xargs -0 python3 tests/coverage.py "${1:-}"
