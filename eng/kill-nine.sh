#!/usr/bin/env bash
# Kills the service with SIGKILL at random points, again and again, and checks that nothing acknowledged is forgotten and nothing
# is sent twice: eng/kill-nine.sh [ROUNDS]. It is the published program that is killed, since that is what starts at a show.
# A kill is not a power cut: what the system has taken over survives it.
set -euo pipefail
cd "$(dirname "$0")/.."

export KILL_ROUNDS=${1:-200}
# The runtime's doors for debuggers are files that a killed process leaves behind.
export DOTNET_EnableDiagnostics=0
eng/publish.sh linux-x64 > /dev/null
export TRIMASSIST_PROGRAM=$PWD/artifacts/publish/linux-x64/trimassist
dotnet build tests/TrimAssist.Acceptance -c Release --nologo -v quiet
exec dotnet run --no-build -c Release --project tests/TrimAssist.Acceptance -- --no-ansi --filter-class '*KillNineTests' --show-live-output on
