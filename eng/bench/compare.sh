#!/usr/bin/env bash
# Compares two commits by ratio: builds both, runs the same benchmarks in turn, A B A B, and prints B's least time over A's for each.
# usage: eng/bench/compare.sh COMMIT-A COMMIT-B [BENCHMARK-FILTER]     above 1.00: B is slower
set -euo pipefail
cd "$(dirname "$0")/../.."
a=$(git rev-parse "$1") b=$(git rev-parse "$2") filter=${3:-'*SessionBenchmarks*'}
eng/bench/peers/build.sh
export LD_LIBRARY_PATH=$PWD/artifacts/bench DOTNET_TC_CallCountingDelayMs=0
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

for commit in "$a" "$b"; do
  mkdir "$work/$commit"
  git archive "$commit" | tar -x -C "$work/$commit"
  dotnet build "$work/$commit/tests/TrimAssist.Benchmarks" -c Release -v quiet
done

for round in 1 2 3; do
  for commit in "$a" "$b"; do
    (cd "$work/$commit" && tests/TrimAssist.Benchmarks/bin/Release/net10.0/TrimAssist.Benchmarks --filter "$filter" >/dev/null
     cp artifacts/bench/results/*-report-brief.json "$work/$commit.$round.json")
  done
done

python3 - "$work" "$a" "$b" <<'PY'
import glob, json, sys
work, a, b = sys.argv[1:]
def least(commit):
    best = {}
    for path in glob.glob(f"{work}/{commit}.*.json"):
        for one in json.load(open(path))["Benchmarks"]:
            best[one["FullName"]] = min(best.get(one["FullName"], float("inf")), one["Statistics"]["Min"])
    return best
before, after = least(a), least(b)
for name in sorted(before.keys() & after.keys()):
    print(f"{after[name] / before[name]:6.2f}  {before[name]:10.1f} ns  {after[name]:10.1f} ns  {name}")
PY
