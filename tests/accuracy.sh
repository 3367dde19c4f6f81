#!/bin/sh
# Scores `trimassist measure` on the labelled acts and prints every figure beside its goal.
#   tests/accuracy.sh [FRAME_MS ...]        default: 20 50 100
# TRIMASSIST: the command to score; by default the service is built and run from this tree.
# Needs python3 (standard library only). Exit 0 once the figures are printed, met or not.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
if [ -z "${TRIMASSIST:-}" ]; then
    dotnet build "$root/src/TrimAssist.Service" -c Release --nologo -v quiet >&2
    TRIMASSIST="dotnet $root/src/TrimAssist.Service/bin/Release/net10.0/trimassist.dll"
fi
acts=$(mktemp -d)
trap 'rm -rf "$acts"' EXIT
for packed in "$root"/tests/corpus/*.gz; do
    gzip -dc "$packed" > "$acts/$(basename "$packed" .gz)"
done
[ $# -gt 0 ] || set -- 20 50 100
for ms in "$@"; do
    python3 "$root/tests/corpus/score.py" "$acts" --measure "$TRIMASSIST measure {file} --json" --ms "$ms" > "$acts/score.$ms.json"
    python3 "$root/tests/corpus/goals.py" "$ms" < "$acts/score.$ms.json"
done
