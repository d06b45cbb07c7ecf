#!/usr/bin/env bash
# Single files that need no .NET: one for each kind of machine that is named, else for all four.
#   src/publish.sh FOLDER [linux-x64 | linux-arm64 | win-x64 | osx-arm64] ...
# Each is FOLDER/<kind>/nest (nest.exe). Only those for the machine that this runs on can be tried here: the others are built, not run.
set -euo pipefail
cd "$(dirname "$0")/.."
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1
[ $# -ge 1 ] || { sed -n '2,4p' "$0"; exit 1; }
out=$1
shift
[ $# -gt 0 ] || set -- linux-x64 linux-arm64 win-x64 osx-arm64
for kind in "$@"; do
    rm -rf "${out:?}/$kind"
    dotnet publish src/Nest.Cli -c Release -r "$kind" --self-contained -v quiet \
        -p:PublishSingleFile=true -p:DebugType=none -o "$out/$kind"
    beside=$(find "$out/$kind" -type f ! -name nest ! -name nest.exe)
    if [ -n "$beside" ]; then
        echo "$kind: there are files beside the single one:" >&2
        echo "$beside" >&2
        exit 1
    fi
    echo "$kind: $(du -m "$out/$kind" | cut -f1) MiB"
done
