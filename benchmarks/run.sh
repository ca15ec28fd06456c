#!/usr/bin/env bash
# Measures `undersill solve` on the demo section as a whole process, and bare
# CHOLMOD on the same matrices in the same run.
#
#   benchmarks/run.sh [SECTION [RUNS]]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

section=${1-examples/demo.yaml}
runs=${2-41}

lib/cmake/setup.sh >&2
cmake -S . -B build/benchmarks -DCMAKE_BUILD_TYPE=Release -DUNDERSILL_TESTS=OFF \
    -DUNDERSILL_BENCHMARKS=ON >&2
cmake --build build/benchmarks --parallel "$(nproc)" >&2

grep -m 1 'model name' /proc/cpuinfo || true
printf 'cores: %s\n' "$(nproc)"
build/benchmarks/benchmarks/bench_demo build/benchmarks/undersill "$section" "$runs"
