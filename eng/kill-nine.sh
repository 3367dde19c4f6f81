#!/usr/bin/env bash
# Kills the service with SIGKILL at random points, again and again, and checks that nothing acknowledged is forgotten and nothing
# is sent twice: eng/kill-nine.sh [ROUNDS]. A kill is not a power cut: what the system has taken over survives it.
set -euo pipefail
cd "$(dirname "$0")/.."

export KILL_ROUNDS=${1:-200}
dotnet build tests/TrimAssist.Acceptance -c Release --nologo -v quiet
exec dotnet run --no-build -c Release --project tests/TrimAssist.Acceptance -- --no-ansi --filter-class '*KillNineTests' --show-live-output on
