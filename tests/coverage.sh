#!/usr/bin/env bash
# How much of lib/ the tests reach, by branches.
#
#   tests/coverage.sh                  builds, runs the quick tests, prints the share by
#                                      file and every branch that no test took
#   tests/coverage.sh --build FOLDER   with the build in FOLDER
#
# Fails below 90 %. tests/coverage.md gives the reasons for what is not reached.
# Needs gcovr, which `lib/cmake/setup.sh --slow` installs.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

build=build/coverage
case "${1-}" in
'') ;;
--build) build=${2:?a folder is missing} ;;
*)
    echo "usage: tests/coverage.sh [--build FOLDER]" >&2
    exit 2
    ;;
esac

least=90
jobs=$(nproc)
cmake --preset coverage -B "$build" -DUNDERSILL_TESTS=ON
cmake --build "$build" --parallel "$jobs"
find "$build" -name '*.gcda' -delete
# Where the tests stand again under another locale, and those that read the tree or build
# programs of their own, nothing is reached that is not reached before.
ctest --test-dir "$build" --parallel "$jobs" --output-on-failure \
    --label-exclude '^(slow|style)$' --exclude-regex '^(locale|install)\.' ||
    echo "coverage: some tests failed: their share is missing below" >&2

report=$build/coverage.json
# Tests stop children half-way: gcovr is told to add up what was written.
gcovr --root . --object-directory "$build" --filter 'lib/' --branches \
    --exclude-unreachable-branches --exclude-throw-branches \
    --json "$report" --txt "$build/coverage.txt" "$build"
cat "$build/coverage.txt"
python3 -B tests/coverage.py "$report" --least "$least"
