#!/usr/bin/env bash
# Builds everything, runs every test, and closes with one line: "N passed, N failed".
# As root it installs the independent programs that some tests talk to; elsewhere those tests are skipped and say why.
set -uo pipefail
cd "$(dirname "$0")/.."

peers=(liblo-tools tshark ffmpeg sox alsa-utils sound-theme-freedesktop chromium python3 jackd2 librtmidi6 mosquitto mosquitto-clients)
missing=()
for package in "${peers[@]}"; do
  dpkg -s "$package" >/dev/null 2>&1 || missing+=("$package")
done
if [ "${#missing[@]}" -gt 0 ] && [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
  echo "Installing what some tests talk to: ${missing[*]}"
  apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq "${missing[@]}" >/dev/null \
    || echo "Not everything could be installed; the tests that need it say so."
fi

# OSC and RTP-MIDI libraries of others, by Node.js; where it cannot be had their tests say so.
if ! command -v npm >/dev/null 2>&1 && [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
  DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends nodejs npm >/dev/null || echo "Node.js could not be installed."
fi
peers=tests/TrimAssist.Acceptance/Interop/Peers
if [ ! -d "$peers/node_modules/rtpmidi" ] && command -v npm >/dev/null 2>&1; then
  npm install --prefix "$peers" --ignore-scripts --omit=optional --no-package-lock --no-audit --no-fund --loglevel=error >/dev/null \
    || echo "Not all of these libraries could be installed; the tests that need them say so."
fi

log=$(mktemp)
trap 'rm -f "$log"' EXIT

dotnet build TrimAssist.sln -c Release -v quiet || { echo "0 passed, 1 failed"; exit 1; }

failed_projects=0
for project in tests/*.Tests tests/TrimAssist.Acceptance; do
  echo "== $(basename "$project")"
  dotnet run --no-build -c Release --project "$project" -- --no-ansi 2>&1 | tee -a "$log"
  [ "${PIPESTATUS[0]}" = 0 ] || failed_projects=$((failed_projects + 1))
done

read -r passed failed skipped < <(awk '
  /^ *succeeded: [0-9]+/ { p += $2 }
  /^ *failed: [0-9]+/    { f += $2 }
  /^ *skipped: [0-9]+/   { s += $2 }
  END { printf "%d %d %d\n", p, f, s }' "$log")
# A project that ended badly without naming a failed test (a crash, no tests) is a failure too.
[ "$failed_projects" -gt 0 ] && [ "$failed" = 0 ] && failed=$failed_projects
# What failed once more at the end, where it is found: the log above is long.
[ "$failed" = 0 ] || awk '/^failed /{ n = 12 } n-- > 0' "$log"
[ "$skipped" -eq 0 ] || echo "$skipped skipped; each says why above."
echo "$passed passed, $failed failed"
[ "$failed" = 0 ] && [ "$passed" -gt 0 ]
