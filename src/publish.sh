#!/usr/bin/env bash
# Single files that need no .NET: one for each kind of machine that is named, else for all four.
#   src/publish.sh FOLDER [linux-x64 | linux-arm64 | win-x64 | osx-arm64] ...
# Each is FOLDER/<kind>/nest (nest.exe). The one for the machine that this runs on is then tried (new, plan, check): by the administrator of a
# Linux machine in a bare root that has the C and C++ libraries, OpenSSL, /proc and /dev/urandom, else with an empty environment. The others are
# built, not run.
# On Linux the file needs these libraries (glibc, libstdc++, OpenSSL 1.1 or 3), and a HOME to unpack its native libraries to (~/.net).
# State: 29 November 2026 on Debian 12, linux-x64: all four built (208 to 231 MiB). linux-x64 was tried in the bare root. linux-arm64 was run with an
# emulated processor (tests/Nest.Bench/emulate.sh). win-x64 and osx-arm64 were not run.
set -euo pipefail
cd "$(dirname "$0")/.."
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1
[ $# -ge 1 ] || { sed -n '2,9p' "$0"; exit 1; }
out=$1
shift
[ $# -gt 0 ] || set -- linux-x64 linux-arm64 win-x64 osx-arm64
here=""
[ "$(uname -s)" = Linux ] && here=linux-$(uname -m | sed 's/x86_64/x64/; s/aarch64/arm64/')

# New, plan and check without SDK, runtime or path. 'bare' is not local: the trap looks at it when the function is gone.
try_it() {
    local where
    bare=$(mktemp -d)
    mkdir -p "$bare/bin" "$bare/tmp" "$bare/proc" "$bare/home" "$bare/dev"
    cp "$1" "$bare/bin/nest"
    if [ "$(id -u)" = 0 ] && mount -t proc proc "$bare/proc" 2> /dev/null; then
        where="in a bare root"
        mknod -m 444 "$bare/dev/urandom" c 1 9
        # What the program and the native libraries within it are linked to, and OpenSSL (with libz and libzstd), which .NET makes its sums with.
        ldconfig -p | awk '/=>/ { print $NF }' | grep -E '/(ld-linux[^/]*|libc|libm|libdl|librt|libpthread|libgcc_s|libstdc\+\+|libssl|libcrypto|libz|libzstd)\.so' | while read -r library; do
            mkdir -p "$bare$(dirname "$library")" && cp -L "$library" "$bare$library"
        done
        mkdir -p "$bare/lib64" && cp -L /lib64/ld-linux* "$bare/lib64/" 2> /dev/null || true
        trap 'umount "$bare/proc"; rm -rf --one-file-system "$bare"' EXIT
        run() { env -i HOME=/home TMPDIR=/tmp "$(command -v chroot)" "$bare" "$@"; }
    else
        where="with an empty environment"
        trap 'rm -rf --one-file-system "$bare"' EXIT
        run() { (cd "$bare" && env -i HOME="$bare/home" TMPDIR="$bare/tmp" ".$1" "${@:2}"); }
    fi
    local shop=/tmp/shop
    [ "$where" = "in a bare root" ] || shop=$bare/tmp/shop
    run /bin/nest new "$shop" > /dev/null
    run /bin/nest plan "$shop/job.toml" --work 300 --out "$shop/out" > /dev/null
    run /bin/nest check "$shop/out"
    echo "$kind: tried $where"
    [ "$where" = "in a bare root" ] && umount "$bare/proc"
    rm -rf --one-file-system "$bare"
    trap - EXIT
}

for kind in "$@"; do
    rm -rf "${out:?}/$kind"
    # Not composite: that compiles the whole framework anew (more than seven minutes on two cores), and it comes compiled.
    dotnet publish src/Nest.Cli -c Release -r "$kind" --self-contained -v quiet \
        -p:PublishSingleFile=true -p:PublishReadyToRunComposite=false -o "$out/$kind"
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
