#!/usr/bin/env bash
# How long short commands take, as a multiple of an empty .NET program that was published in the same way.
#   tests/Nest.Bench/start.sh NEST [ROUNDS]
# NEST is the published program (src/publish.sh FOLDER linux-x64). An empty program is built in a temporary folder; each command is then run
# ROUNDS times (15), all of them in turn, so that what else the machine does meets all alike. Printed: medians of wall clock and of processor time
# (user + system) in milliseconds, and their ratio to the empty program. Needs the SDK and bash 5.
set -euo pipefail
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 LC_ALL=C
[ $# -ge 1 ] || { sed -n '2,6p' "$0"; exit 1; }
nest=$(realpath "$1")
rounds=${2:-15}
folder=$(mktemp -d)
trap 'rm -rf --one-file-system "$folder"' EXIT
cat > "$folder/empty.csproj" << 'END'
<Project Sdk="Microsoft.NET.Sdk">
  <PropertyGroup>
    <OutputType>Exe</OutputType>
    <TargetFramework>net10.0</TargetFramework>
    <InvariantGlobalization>true</InvariantGlobalization>
    <PublishReadyToRun>true</PublishReadyToRun>
    <PublishSingleFile>true</PublishSingleFile>
    <NuGetAudit>false</NuGetAudit>
  </PropertyGroup>
</Project>
END
echo 'System.Console.WriteLine("x");' > "$folder/Program.cs"
kind=linux-$(uname -m | sed 's/x86_64/x64/; s/aarch64/arm64/')
dotnet publish "$folder/empty.csproj" -c Release -r "$kind" --self-contained -v quiet -o "$folder/out" > "$folder/log" || { cat "$folder/log" >&2; exit 1; }

commands=("$folder/out/empty" "$nest" "$nest --help" "$nest --version" "$nest plan --help" "$nest rack --help")
TIMEFORMAT='%3R %3U %3S'
for command in "${commands[@]}"; do $command > /dev/null 2>&1 || true; done
for ((round = 0; round < rounds; round++)); do
    for at in "${!commands[@]}"; do
        { time { ${commands[at]} > /dev/null 2>&1 || true; } ; } 2>> "$folder/times-$at"
    done
done

# The middle one of a column of milliseconds.
middle() { sort -n | awk '{ value[NR] = $1 } END { print value[int((NR + 1) / 2)] }'; }
wall() { awk '{ print $1 * 1000 }' "$folder/times-$1" | middle; }
processor() { awk '{ print ($2 + $3) * 1000 }' "$folder/times-$1" | middle; }
printf '%-22s %9s %7s %9s %7s\n' command "wall ms" ratio "cpu ms" ratio
for at in "${!commands[@]}"; do
    name=${commands[at]/#"$nest"/nest}
    awk -v name="${name/#"$folder/out/"/}" -v w="$(wall "$at")" -v c="$(processor "$at")" -v w0="$(wall 0)" -v c0="$(processor 0)" \
        'BEGIN { printf "%-22s %9.0f %7.2f %9.0f %7.2f\n", name, w, w / w0, c, c / c0 }'
done
