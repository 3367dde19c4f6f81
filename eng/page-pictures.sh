#!/usr/bin/env bash
# Takes the page's pictures anew into docs/pictures: every view of the running demo, and a bench whose stage asks, floods and stops. Needs chromium.
set -euo pipefail
cd "$(dirname "$0")/.."
mkdir -p docs/pictures
TRIMASSIST_PICTURES="$PWD/docs/pictures" dotnet run -c Release --project tests/TrimAssist.Acceptance -- --filter-class TrimAssist.Acceptance.Page.PagePictures
