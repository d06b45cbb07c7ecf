#!/usr/bin/env bash
# Single files that need no .NET: one for each kind of machine that is named, else for all four.
#   src/publish.sh FOLDER [linux-x64 | linux-arm64 | win-x64 | osx-arm64] ...
# Each is FOLDER/<kind>/nest (nest.exe). The one for the machine that this runs on is then tried: by the administrator of a Linux machine in a
# bare root that has the C and C++ libraries and nothing else, else with an empty environment. The others are built, not run.
# State: an earlier linux-x64 file was built and planned a job, and win-x64 was built (25 November 2026). This script in its present form has not
# been run to its end yet, linux-arm64 and osx-arm64 never.
set -euo pipefail
cd "$(dirname "$0")/.."
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1
[ $# -ge 1 ] || { sed -n '2,7p' "$0"; exit 1; }
out=$1
shift
[ $# -gt 0 ] || set -- linux-x64 linux-arm64 win-x64 osx-arm64
here=""
[ "$(uname -s)" = Linux ] && here=linux-$(uname -m | sed 's/x86_64/x64/; s/aarch64/arm64/')

# New, plan and check without SDK, runtime, path or home.
try_it() {
    local bare where
    bare=$(mktemp -d)
    mkdir -p "$bare/bin" "$bare/tmp" "$bare/proc"
    cp "$1" "$bare/bin/nest"
    if [ "$(id -u)" = 0 ] && mount -t proc proc "$bare/proc" 2> /dev/null; then
        where="in a bare root"
        # What the program and the native libraries within it are linked to.
        ldconfig -p | awk '/=>/ { print $NF }' | grep -E '/(ld-linux[^/]*|libc|libm|libdl|librt|libpthread|libgcc_s|libstdc\+\+)\.so' | while read -r library; do
            mkdir -p "$bare$(dirname "$library")" && cp -L "$library" "$bare$library"
        done
        mkdir -p "$bare/lib64" && cp -L /lib64/ld-linux* "$bare/lib64/" 2> /dev/null || true
        trap 'umount "$bare/proc"; rm -rf --one-file-system "$bare"' EXIT
        run() { env -i TMPDIR=/tmp "$(command -v chroot)" "$bare" "$@"; }
    else
        where="with an empty environment"
        trap 'rm -rf --one-file-system "$bare"' EXIT
        run() { (cd "$bare" && env -i TMPDIR="$bare/tmp" ".$1" "${@:2}"); }
    fi
    local shop=/tmp/shop
    [ "$where" = "in a bare root" ] || shop=$bare/tmp/shop
    run /bin/nest new "$shop" > /dev/null
    run /bin/nest plan "$shop/job.toml" --work 300 --out "$shop/out" > /dev/null 2>&1
    run /bin/nest check "$shop/out"
    echo "$kind: tried $where"
    [ "$where" = "in a bare root" ] && umount "$bare/proc"
    rm -rf --one-file-system "$bare"
    trap - EXIT
}

for kind in "$@"; do
    rm -rf "${out:?}/$kind"
    dotnet publish src/Nest.Cli -c Release -r "$kind" --self-contained -v quiet \
        -p:PublishSingleFile=true -o "$out/$kind"
    # Symbols are taken away afterwards: told to make none, the build would compile every project anew and leave the ordinary one without.
    find "$out/$kind" -name '*.pdb' -delete
    beside=$(find "$out/$kind" -type f ! -name nest ! -name nest.exe)
    if [ -n "$beside" ]; then
        echo "$kind: there are files beside the single one:" >&2
        echo "$beside" >&2
        exit 1
    fi
    echo "$kind: $(du -m "$out/$kind" | cut -f1) MiB"
    if [ "$kind" = "$here" ]; then
        try_it "$out/$kind/nest"
    else
        echo "$kind: built, not run"
    fi
done
