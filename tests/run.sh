#!/usr/bin/env bash
# Sets up, builds and tests Undersill.
#
#   tests/run.sh          the quick tier: minutes
#   tests/run.sh --slow   the slow tier as well
#
# Release build first (leaves build/undersill), then the same programs and
# command cases under the address and undefined-behaviour sanitizers.
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

step() { printf '\n== %s\n' "$*"; }

# Runs ctest with the given arguments and adds its count to the sums. ctest's
# own exit status is not enough: it is 0 when no test matched.
run_tests() {
    local total broken
    ctest --parallel "$jobs" "$@" 2>&1 | tee "$log" || true
    broken=$(sed -n 's/.*tests passed, \([0-9]*\) tests failed out of [0-9]*$/\1/p' "$log")
    total=$(sed -n 's/.*tests passed, [0-9]* tests failed out of \([0-9]*\)$/\1/p' "$log")
    if [ -z "$total" ] || [ "$total" -eq 0 ]; then
        echo "no test ran" >&2
        broken=1
        total=1
    fi
    failed=$((failed + broken))
    passed=$((passed + total - broken))
}

step "Setting up"
lib/cmake/setup.sh --tests

step "Building (release, warnings are errors)"
cmake --preset release -DUNDERSILL_TESTS=ON -DUNDERSILL_WERROR=ON
cmake --build --preset release --parallel "$jobs"

step "Building (sanitizers)"
cmake --preset asan
cmake --build --preset asan --parallel "$jobs"

quick=(--label-exclude '^slow$')
[ "$slow" = no ] || quick=()

step "Testing (release)"
run_tests --preset release "${quick[@]}"

step "Testing (sanitizers)"
run_tests --preset asan --label-exclude '^(slow|style|release)$'

step "Done"
tiers="quick tier"
[ "$slow" = no ] || tiers="quick and slow tiers"
echo "Built build/undersill and ran the $tiers: unit, physics, api, command and style tests on the"
echo "release build, then all but the style tests again under the sanitizers."
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
