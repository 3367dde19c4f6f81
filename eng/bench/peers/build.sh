#!/usr/bin/env bash
# Builds the peers of the benchmarks into artifacts/bench. Needs gcc, g++ and Debian's liblo-dev, liboscpack-dev, libebur128-dev.
set -euo pipefail
cd "$(dirname "$0")"
out=../../../artifacts/bench
mkdir -p "$out"
flags=(-O2 -march=native -Wall -Wextra)
g++ "${flags[@]}" -shared -fPIC -o "$out/libtrimassist-peers.so" codec.cpp -x c -Wno-unused-parameter receive.c -loscpack -llo -lebur128
gcc "${flags[@]}" -DPROGRAM -o "$out/receive" receive.c
gcc "${flags[@]}" -o "$out/desks" desks.c
gcc "${flags[@]}" -o "$out/relay" relay.c
gcc "${flags[@]}" -pthread -o "$out/latency" latency.c
