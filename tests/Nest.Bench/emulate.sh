#!/usr/bin/env bash
# Plans a job twice with the same limit of work: on this machine, and with the build for linux-arm64 on an emulated processor. Compares every byte.
#   tests/Nest.Bench/emulate.sh NEST NEST-ARM64 QEMU ROOT [JOB] [WORK]
# NEST and NEST-ARM64 are of one commit (src/publish.sh FOLDER linux-x64 linux-arm64); QEMU is qemu-aarch64-static (Debian: qemu-user-static); ROOT
# holds what the program is linked to, from Debian: libc6, libstdc++6, libgcc-s1, libssl3, zlib1g for arm64, unpacked with 'dpkg -x'.
# Pictures (PNG) are compared too and named, but do not count: shades at the edges of shapes differ by 1 or 2 of 255 between kinds of processor.
# Exit code 1 when another file differs. Memory that is write-protected while code is made, and code that is made anew while it runs, are
# switched off for the emulated run: with them the emulator (7.2) ended with faults of memory in different places.
set -uo pipefail
[ $# -ge 4 ] || { sed -n '2,9p' "$0"; exit 1; }
nest=$(realpath "$1") other=$(realpath "$2") qemu=$(realpath "$3") root=$(realpath "$4")
job=${5:-$(dirname "$0")/../../examples/cargo-bike/job.toml}
work=${6:-500}
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
"$nest" plan "$job" --work "$work" --out "$place/here" > /dev/null 2>&1 || { echo "the run on this machine failed" >&2; exit 1; }
DOTNET_EnableWriteXorExecute=0 DOTNET_TieredCompilation=0 "$qemu" -L "$root" "$other" plan "$job" --work "$work" --out "$place/there" > "$place/log" 2>&1 \
    || { tail -5 "$place/log" >&2; echo "the emulated run failed" >&2; exit 1; }
# The list of files tells the sums of the pictures.
different=$(diff -rq "$place/here" "$place/there" | grep -v '/pictures/.*\.png \|/data/files\.json ')
pictures=$(diff -rq "$place/here" "$place/there" | grep -c '/pictures/.*\.png ')
echo "$job --work $work: $(find "$place/here" -type f | wc -l) files, $pictures pictures differ, $(printf '%s' "$different" | grep -c .) others"
[ -z "$different" ] || { echo "$different"; exit 1; }
