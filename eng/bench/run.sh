#!/usr/bin/env bash
# Everything that docs/performance.md shows, in one run, into artifacts/bench. Takes about half an hour on a quiet machine of two cores.
# Needs Debian's liblo-dev liboscpack-dev libebur128-dev ffmpeg curl, gcc and g++; npm's osc-min where npm is there.
set -euo pipefail
cd "$(dirname "$0")/../.."
eng/bench/peers/build.sh
out=artifacts/bench
dotnet build tests/TrimAssist.Benchmarks -c Release -v quiet
dotnet build src/TrimAssist.Service -c Release -v quiet
dotnet build eng/bench/EmptyApp -c Release -v quiet -o eng/bench/EmptyApp/bin/Release/net10.0
[ -x artifacts/publish/linux-x64/trimassist ] || eng/publish.sh linux-x64
benchmarks=tests/TrimAssist.Benchmarks/bin/Release/net10.0/TrimAssist.Benchmarks
export LD_LIBRARY_PATH=$PWD/$out

# Compiled at once rather than after a tenth of a second: the first iterations count too.
DOTNET_TC_CallCountingDelayMs=0 "$benchmarks" --filter '*' | tee "$out/micro.log" | grep -E '^\|' || true
"$benchmarks" queue | tee "$out/queue.json"
if command -v npm >/dev/null; then
  npm install --silent --no-save --prefix "$out/node" osc-min@2.1.2 >/dev/null && node eng/bench/osc-min.mjs "$out/node" | tee "$out/osc-min.json"
fi
python3 eng/bench/whole.py start memory measure --program artifacts/publish/linux-x64/trimassist | tee "$out/whole.jsonl"
python3 eng/bench/whole.py paced flood desks latency | tee -a "$out/whole.jsonl"
grep '^{"desks"' "$out/whole.jsonl" | python3 -c 'import json, sys
print("readings_per_s,cpu_percent")
for run in json.load(sys.stdin)["desks"]:
    if run["form"] == "blob":
        print(run["readingsPerS"], run["cpuPercent"], sep=",")' > "$out/desks.csv"
python3 eng/bench/plot.py "$out/desks.csv" readings_per_s cpu_percent > "$out/desks.svg"
"$benchmarks" soak "${SOAK_SECONDS:-600}" "$out/soak.csv" 2>"$out/soak.log"
python3 eng/bench/plot.py "$out/soak.csv" simulated_s resident_mib heap_mib handles threads journal_kib alarms > "$out/soak.svg"
