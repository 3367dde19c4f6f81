#!/usr/bin/env bash
# Takes the page's pictures anew into docs/pictures: the running demo, and a bench that plays, floods with alarms, stops and is lost. Needs chromium.
set -euo pipefail
cd "$(dirname "$0")/.."
mkdir -p docs/pictures
TRIMASSIST_PICTURES="$PWD/docs/pictures" dotnet run -c Release --project tests/TrimAssist.Acceptance -- --filter-class 'TrimAssist.Acceptance.Page.*Pictures'
# Flat colours: a palette makes the files less than half as large.
command -v ffmpeg >/dev/null || exit 0
small=$(mktemp --suffix .png)
trap 'rm -f "$small"' EXIT
for picture in docs/pictures/*.png; do
  ffmpeg -nostdin -v error -y -i "$picture" \
    -vf 'split[a][b];[a]palettegen=max_colors=128:reserve_transparent=0[p];[b][p]paletteuse=dither=none' "$small" && cp "$small" "$picture"
done
