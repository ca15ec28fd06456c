#!/usr/bin/env bash
# Installs what Undersill is built from, on Debian 12, and says what it did.
#
#   lib/cmake/setup.sh                to build and run the tool
#   lib/cmake/setup.sh --tests        also what the tests need
#   lib/cmake/setup.sh --slow         also what the slow tier of the tests needs
#   lib/cmake/setup.sh --fuzz         also what fuzzing needs
#   lib/cmake/setup.sh --benchmarks   also what other solvers need to be at their best
#
# Runs as root or through sudo and asks nothing. What is installed already is
# skipped: a second run needs no network.
set -euo pipefail

say() { printf 'setup: %s\n' "$*"; }
fail() {
    printf 'setup: %s\n' "$*" >&2
    exit 1
}

# CHOLMOD links a BLAS that we never call: the one that comes along loads faster than others.
# A font is named because pictures need one.
packages=(gcc libc6-dev make cmake pkg-config libsuitesparse-dev libyaml-dev libjansson-dev
    libcairo2-dev libpango1.0-dev libpng-dev libmd-dev fontconfig fonts-dejavu-core)
test_packages=(g++ libcmocka-dev python3 python3-scipy python3-mpmath python3-yaml libgsl-dev
    libudunits2-dev binutils clang-format-14 clang-tidy-14 shellcheck locales mandoc librsvg2-bin
    poppler-utils python3-cairo)

slow_packages=(valgrind gcovr)
fuzz_packages=(clang-14 libclang-rt-14-dev)
benchmark_packages=(libopenblas0-pthread libopenblas-pthread-dev) # for CHOLMOD as it comes

for option in "$@"; do
    case "$option" in
    --tests) packages+=("${test_packages[@]}") ;;
    --slow) packages+=("${test_packages[@]}" "${slow_packages[@]}") ;;
    --fuzz) packages+=("${test_packages[@]}" "${fuzz_packages[@]}") ;;
    --benchmarks) packages+=("${test_packages[@]}" "${benchmark_packages[@]}") ;;
    *) fail "unknown option $option; there are --tests, --slow, --fuzz and --benchmarks" ;;
    esac
done

if ! command -v apt-get >/dev/null; then
    fail "this script knows Debian 12 only; elsewhere install the counterparts of: ${packages[*]}"
fi

installed() {
    [ "$(dpkg-query --show --showformat='${db:Status-Status}' "$1" 2>/dev/null)" = installed ]
}

missing=()
for package in "${packages[@]}"; do
    installed "$package" || missing+=("$package")
done

as_root() {
    if [ "$(id -u)" -eq 0 ]; then
        "$@"
    elif command -v sudo >/dev/null; then
        sudo "$@"
    else
        fail "neither root nor sudo; as root run: apt-get install --no-install-recommends ${missing[*]}"
    fi
}

apt_get() {
    as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq -o Acquire::Retries=3 \
        -o DPkg::Lock::Timeout=300 "$@"
}

# A package list that cannot be renewed is tried again, and is no reason to
# stop: the list that is there may do, and a source of no interest may be down.
renew_lists() {
    local pause
    for pause in 5 15 0; do
        apt_get update && return
        say "apt-get update failed"
        sleep "$pause"
    done
}

install_missing() {
    local attempt
    for attempt in 1 2 3; do
        # dpkg reads no answers; its report goes to stderr, away from results.
        apt_get install --yes --no-install-recommends "${missing[@]}" </dev/null >&2 && return
        say "apt-get install failed (attempt $attempt of 3)"
        renew_lists
    done
    fail "could not install: ${missing[*]}"
}

if [ "${#missing[@]}" -gt 0 ]; then
    say "installing ${missing[*]}"
    renew_lists
    install_missing
    say "installed ${#missing[@]} packages and what they need"
else
    say "all ${#packages[@]} packages are installed"
fi
