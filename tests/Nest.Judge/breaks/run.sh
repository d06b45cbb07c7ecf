#!/bin/sh
# Breaks off every search at random (meters.patch: each meter may be asked a random number of times, each programme has a random limit), in a copy of the sources.
# What is broken off may say nothing: the judge must find nothing wrong.
# Use: tests/Nest.Judge/breaks/run.sh [last seed]     Ends with 1 where something is wrong. With 999, ten minutes on two cores.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../../.." && pwd)
last=${1:-999}
copy=$(mktemp -d)
trap 'rm -rf "$copy"' EXIT
(cd "$root" && tar cf - --exclude=obj --exclude=bin src stock examples tests ./*.props ./*.targets .editorconfig) | (cd "$copy" && tar xf -)
cd "$copy"
git init -q .
git apply --recount "$here/meters.patch"
dotnet build tests/Nest.Judge -c Release -v q -clp:NoSummary -p:RunAnalyzers=false >/dev/null
judge=tests/Nest.Judge/bin/Release/net10.0/Nest.Judge.dll
wrong=0
for kind in --new --small --settings --keeping --sections --fussy --spares; do
    echo "$kind"
    dotnet $judge run --from 0 --to "$last" --work 3000 $kind || wrong=1
done
echo cross
dotnet $judge cross --from 1 --to $((last / 100 + 1)) --work 20000 || wrong=1
exit $wrong
