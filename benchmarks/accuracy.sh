#!/usr/bin/env bash
# Measures how true the stated errors are, on every exact case.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

lib/cmake/setup.sh --tests >&2
cmake -S . -B build/accuracy -DCMAKE_BUILD_TYPE=Release -DUNDERSILL_TESTS=ON \
    -DUNDERSILL_BENCHMARKS=ON >&2
cmake --build build/accuracy --parallel "$(nproc)" --target bench_accuracy >&2
build/accuracy/benchmarks/bench_accuracy
