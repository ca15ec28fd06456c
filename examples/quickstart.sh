#!/usr/bin/env bash
# From nothing to a flow net: sets up, builds Undersill, solves the demo section
# and draws it. Takes a few minutes the first time, a second after that.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

step() { printf '\n== %s\n' "$*"; }

step "Setting up"
lib/cmake/setup.sh

step "Building"
tests=ON
pkg-config --exists cmocka || tests=OFF # the tests need more than the tool does
cmake --preset release -DUNDERSILL_TESTS="$tests"
cmake --build --preset release --parallel "$(nproc)" --target undersill

section=examples/demo.yaml
picture=build/demo-net.png

step "build/undersill solve $section"
build/undersill solve "$section" || [ $? -eq 1 ] # 1: done, a required check failed

step "build/undersill draw $section -o $picture"
build/undersill draw "$section" -o "$picture"

step "Done"
echo "Made the tool build/undersill, solved $section (the tables above)"
echo "and drew its flow net: $picture"
