#!/usr/bin/env bash
# Measures how few unknowns the promised accuracies take, on exact cases.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

lib/cmake/setup.sh --tests >&2
cmake -S . -B build/ladder -DCMAKE_BUILD_TYPE=Release -DUNDERSILL_TESTS=ON \
    -DUNDERSILL_BENCHMARKS=ON >&2
cmake --build build/ladder --parallel "$(nproc)" --target bench_ladder >&2
build/ladder/benchmarks/bench_ladder
