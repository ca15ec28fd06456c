#!/usr/bin/env bash
# Builds a release of its own and measures it.
#
#   benchmarks/run.sh [--short] [--largest] [--runs N] [--json FILE] [--section FILE] [PART...]
#
# Parts: start, batch, solve, accuracy; walls, which writes no JSON; coverage and ladder, which
# measure no time. All without one.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

json=build/benchmarks/results.json
section=examples/demo.yaml
options=()
parts=()
short=
coverage=
ladder=
walls=
while [ $# -gt 0 ]; do
    case $1 in
    --short) short=yes options+=("$1") ;;
    --largest) options+=("$1") ;;
    --runs) options+=("$1" "${2?--runs needs a number}") && shift ;;
    --json) json=${2?--json needs a file} && shift ;;
    --section) section=${2?--section needs a file} && shift ;;
    coverage) coverage=yes ;;
    ladder) ladder=yes ;;
    walls) walls=yes ;;
    start | batch | solve | accuracy) parts+=("$1") ;;
    *) sed -n '2,7s/^# \{0,1\}//p' "$0" >&2 && exit 2 ;;
    esac
    shift
done
timed=yes
if [ -n "$coverage$ladder$walls" ] && [ ${#parts[@]} -eq 0 ]; then
    timed=
elif [ ${#parts[@]} -eq 0 ] && [ -z "$short" ]; then
    coverage=yes ladder=yes walls=yes
fi

lib/cmake/setup.sh --benchmarks >&2
cmake -S . -B build/benchmarks -DCMAKE_BUILD_TYPE=Release -DUNDERSILL_TESTS=ON \
    -DUNDERSILL_BENCHMARKS=ON >&2
cmake --build build/benchmarks --parallel "$(nproc)" \
    --target undersill bench bench_wall bench_accuracy bench_ladder >&2

if [ -n "$timed" ]; then
    grep -m 1 'model name' /proc/cpuinfo || true
    build/benchmarks/benchmarks/bench --tool build/benchmarks/undersill --section "$section" \
        --json "$json" "${options[@]}" "${parts[@]}"
    printf '\nwritten to %s\n' "$json"
fi
if [ -n "$walls" ]; then
    printf '\nwalls\n'
    build/benchmarks/benchmarks/bench_wall
fi
if [ -n "$coverage" ]; then
    printf '\ncoverage\n'
    build/benchmarks/benchmarks/bench_accuracy
fi
if [ -n "$ladder" ]; then
    printf '\nladder\n'
    build/benchmarks/benchmarks/bench_ladder
fi
