#!/usr/bin/env bash
# Sets up, builds and tests Undersill.
#
#   tests/run.sh          the quick tier: minutes
#   tests/run.sh --slow   the slow tier after it: the best part of an hour
#
# Quick: the release build first (leaves build/undersill), then the same programs
# and command cases under the address and undefined-behaviour sanitizers.
# Slow: what is labelled so, the command cases under valgrind, the benchmarks, everything under
# the thread sanitizer, what the tests reach of the library, a little fuzzing.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

slow=no
case "${1-}" in
'') ;;
--slow) slow=yes ;;
*)
    echo "usage: tests/run.sh [--slow]" >&2
    exit 2
    ;;
esac

jobs=$(nproc)
log=$(mktemp)
trap 'rm -f "$log"' EXIT
passed=0
failed=0
report=()

step() { printf '\n== %s (after %d min %02d s)\n' "$*" $((SECONDS / 60)) $((SECONDS % 60)); }

build() { # PRESET OPTION...
    cmake --preset "$@"
    cmake --build --preset "$1" --parallel "$jobs"
}

# Runs the tests of a preset, described in words, and adds their count to the
# sums. ctest's own exit status is not enough: it is 0 when no test matched.
run_tests() { # PRESET WORDS OPTION...
    local preset=$1 words=$2 total broken
    shift 2
    step "Testing: $words"
    ctest --preset "$preset" --parallel "$jobs" "$@" 2>&1 | tee "$log" || true
    broken=$(sed -n 's/.*tests passed, \([0-9]*\) tests failed out of [0-9]*$/\1/p' "$log")
    total=$(sed -n 's/.*tests passed, [0-9]* tests failed out of \([0-9]*\)$/\1/p' "$log")
    if [ -z "$total" ] || [ "$total" -eq 0 ]; then
        echo "no test ran" >&2
        broken=1
        total=1
    fi
    failed=$((failed + broken))
    passed=$((passed + total - broken))
    report+=("$(printf '%4d passed, %d failed: %s' $((total - broken)) "$broken" "$words")")
}

step "Setting up"
lib/cmake/setup.sh --tests

step "Building (release, warnings are errors)"
build release -DUNDERSILL_TESTS=ON -DUNDERSILL_WERROR=ON
step "Building (sanitizers)"
build asan

run_tests release "unit, physics, api, command, fuzz corpus, locale and style tests" \
    --label-exclude '^slow$'
run_tests asan "the same without style and what is heavy, under the sanitizers" \
    --label-exclude '^(slow|style|release|heavy)$'

if [ "$slow" = yes ]; then
    step "Setting up (slow tier)"
    lib/cmake/setup.sh --tests --slow --fuzz
    listed=$(ctest --preset release --show-only --label-regex '^slow$')
    if ! grep -q '^Total Tests: 0$' <<<"$listed"; then
        run_tests release "slow tests" --label-regex '^slow$'
    fi
    run_tests asan "what is heavy, under the sanitizers" --label-regex '^heavy$'

    step "Building (debug)"
    build dev -DUNDERSILL_BENCHMARKS=ON
    run_tests dev "command cases under valgrind" --tests-regex '^valgrind\.'
    run_tests dev "the benchmarks, once and small" --tests-regex '^benchmarks\.'

    step "Building (thread sanitizer)"
    build tsan
    run_tests tsan "all but style under the thread sanitizer" \
        --label-exclude '^(slow|style|release)$'

    step "Counting the branches that tests take"
    if tests/coverage.sh; then
        passed=$((passed + 1))
        report+=("branch coverage of lib/: at least 90 %, listed above")
    else
        failed=$((failed + 1))
        report+=("branch coverage of lib/: NOT SHOWN, or below 90 %")
    fi

    step "Building (fuzz targets)"
    build fuzz
    run_tests fuzz "fuzz targets, two minutes each" --tests-regex '^fuzzing\.'
fi

step "Done"
echo "Built build/undersill and ran:"
printf '  %s\n' "${report[@]}"
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
