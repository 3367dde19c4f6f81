#!/usr/bin/env bash
# Measures the engineer's view in chromium with 64 inputs at 50 meter frames a second, and prints one line.
set -euo pipefail
cd "$(dirname "$0")/.."
result=$(mktemp)
trap 'rm -f "$result"' EXIT
TRIMASSIST_FRAMES="$result" dotnet run -c Release --project tests/TrimAssist.Acceptance -- --no-progress --filter-class TrimAssist.Acceptance.Page.PageFrames >&2
cat "$result"
