#!/usr/bin/env bash
# Plans the examples again and again with a limit of work and compares every byte of the folders: on one core and on two, in other
# languages, time zones and folders.
#   tests/Nest.Bench/repeat.sh [RUNS] [WORK] [JOB ...]          a row for each job goes to results/repeatable.csv
# Exit code 1 when a byte differs. Needs a Release build of src/Nest.Cli.
set -uo pipefail
cd "$(dirname "$0")/../.." || exit 1
root=$PWD
runs=${1:-20}
work=${2:-3000}
program=${NEST_PROGRAM:-$root/src/Nest.Cli/bin/Release/net10.0/nest.dll}
[ -f "$program" ] || { echo "build first: dotnet build src/Nest.Cli -c Release" >&2; exit 1; }
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
results=$root/tests/Nest.Bench/results/repeatable.csv
[ -f "$results" ] || echo "date,commit,job,work,runs,files,differing runs" > "$results"
languages=(C.UTF-8 de_DE.UTF-8 tr_TR.UTF-8 ar_SA.UTF-8)
zones=(UTC Asia/Kathmandu America/St_Johns Pacific/Kiritimati)
cores=$(nproc)
jobs=("${@:3}")
[ ${#jobs[@]} -gt 0 ] || jobs=(cargo-bike cargo-bike-inch models-only)
wrong=0
for job in "${jobs[@]}"; do
    differing=0
    first=""
    for ((run = 0; run < runs; run++)); do
        # Even runs read the example where it lies; odd ones a copy of it in a folder of another name.
        folder=$root/examples/$job
        if ((run % 2)); then
            folder="$place/Kopie von ı $job $run"
            cp -r "$root/examples/$job" "$folder"
        fi
        mask=0
        ((run % 4 < 2)) && ((cores > 1)) && mask=0,1
        (cd "$folder" && LC_ALL=${languages[run % 4]} LANG=${languages[run % 4]} TZ=${zones[run / 4 % 4]} taskset -c "$mask" \
            dotnet "$program" plan job.toml --work "$work" --seed 1 --out "$place/out $run" > "$place/screen" 2>&1) || { cat "$place/screen"; wrong=1; }
        sum=$(cd "$place/out $run" && find . -type f | LC_ALL=C sort | xargs -d '\n' sha256sum | sha256sum)
        files=$(find "$place/out $run" -type f | wc -l)
        [ -z "$first" ] && first=$sum
        if [ "$sum" != "$first" ]; then
            differing=$((differing + 1))
            wrong=1
            diff -rq "$place/out 0" "$place/out $run"
        fi
        ((run > 0)) && [ "$sum" = "$first" ] && rm -rf "$place/out $run"
    done
    row="$(date -u +%Y-%m-%d),$(git rev-parse --short HEAD),$job,$work,$runs,$files,$differing"
    echo "$row" | tee -a "$results"
    rm -rf "$place/out 0"
done
exit $wrong
