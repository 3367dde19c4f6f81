#!/usr/bin/env bash
# Takes the page's pictures of the running demo anew into docs/pictures; needs chromium.
set -euo pipefail
cd "$(dirname "$0")/.."
mkdir -p docs/pictures
TRIMASSIST_PICTURES="$PWD/docs/pictures" dotnet run --project tests/TrimAssist.Acceptance -- --filter-class TrimAssist.Acceptance.Page.PagePictures
