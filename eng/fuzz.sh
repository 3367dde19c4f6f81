#!/usr/bin/env bash
# Fuzzes one target with AFL++ for a while: eng/fuzz.sh TARGET [SECONDS]
# Needs afl-fuzz (Debian: apt-get install afl++) and the SharpFuzz tool, fetched into the build folder when missing.
set -euo pipefail
cd "$(dirname "$0")/.."

target=${1:?usage: eng/fuzz.sh TARGET [SECONDS], TARGET one of: $(ls tests/TrimAssist.Fuzz/Corpus | tr '\n' ' ')}
seconds=${2:-60}
work=artifacts/fuzz
build=$work/build

command -v afl-fuzz > /dev/null || { echo "afl-fuzz is missing: install the package afl++" >&2; exit 2; }

rm -rf "$build"
dotnet publish tests/TrimAssist.Fuzz -c Release -o "$build" --nologo -v quiet

[ -x "$work/tool/sharpfuzz" ] || dotnet tool install SharpFuzz.CommandLine --version 2.3.0 --tool-path "$work/tool"
for library in TrimAssist.Core TrimAssist.Protocols TrimAssist.Desk TrimAssist.Audio trimassist; do
  "$work/tool/sharpfuzz" "$build/$library.dll"
done

findings=$work/findings/$target
mkdir -p "$findings"

# The process is managed code, so AFL++ finds no instrumented binary; colleagues may use the processor, and core dumps may be piped.
export AFL_SKIP_BIN_CHECK=1 AFL_SKIP_CPUFREQ=1 AFL_I_DONT_CARE_ABOUT_MISSING_CRASHES=1 AFL_NO_UI=1 AFL_NO_AFFINITY=1
afl-fuzz -V "$seconds" -t 10000 -m none -i "tests/TrimAssist.Fuzz/Corpus/$target" -o "$findings" \
  dotnet "$build/TrimAssist.Fuzz.dll" "$target"

crashes=$(find "$findings/default/crashes" "$findings/default/hangs" -type f ! -name README.txt | sort)
grep -E '^(execs_done|execs_per_sec|corpus_count|saved_crashes|saved_hangs)' "$findings/default/fuzzer_stats"
[ -z "$crashes" ] || { echo "findings; replay without instrumentation: dotnet run --project tests/TrimAssist.Fuzz -- $target FILE" >&2; echo "$crashes" >&2; exit 1; }
