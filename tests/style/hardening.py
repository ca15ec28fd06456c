"""The tool and the shared library, as built, carry the hardening that
lib/cmake/Flags.cmake asks for.

Usage: hardening.py [--self-test] FILE...
"""

import os
import re
import subprocess
import sys
import tempfile


def told(path, *options):
    return subprocess.run(["readelf", "--wide", *options, path], check=True, capture_output=True,
                          text=True).stdout


def check(path):
    header = told(path, "--file-header", "--program-headers", "--dynamic")
    names = told(path, "--dyn-syms")
    shared = "Shared object file" in header or ".so" in os.path.basename(path)
    wanted = {
        "is no position-independent program (PIE)": shared or re.search(r"FLAGS_1.*\bPIE\b", header),
        "is no shared object": not shared or re.search(r"Type: +DYN", header),
        "has no read-only relocations (RELRO)": "GNU_RELRO" in header,
        "binds calls late (no BIND_NOW)": re.search(r"\bBIND_NOW\b|FLAGS_1.*\bNOW\b", header),
        "has an executable stack": re.search(r"GNU_STACK +\S+ \S+ \S+ \S+ \S+ RW +0x", header),
        "has a stack without canaries": "__stack_chk_fail" in names,
        "calls nothing fortified": re.search(r"__(f|sn|vsn|v?fp)?printf_chk|__mem\w+_chk", names),
    }
    return [f"{os.path.basename(path)}: {words}" for words, held in wanted.items() if not held]


PROGRAM = """
#include <stdio.h>
#include <string.h>
int main(int argc, char **argv)
{
    char text[64];
    snprintf(text, (size_t)argc + 32, "%s", argv[0]);
    return printf("%s", text) < 0;
}
"""
HARD = ["-O2", "-U_FORTIFY_SOURCE", "-D_FORTIFY_SOURCE=2", "-fPIE", "-pie",
        "-fstack-protector-strong", "-Wl,-z,relro", "-Wl,-z,now", "-Wl,-z,noexecstack"]
PLANTS = [
    (["-no-pie", "-fno-pie"], "PIE"),
    (["-Wl,-z,norelro"], "RELRO"),
    (["-Wl,-z,lazy"], "BIND_NOW"),
    (["-Wl,-z,execstack"], "executable stack"),
    (["-fno-stack-protector"], "canaries"),
    (["-U_FORTIFY_SOURCE", "-D_FORTIFY_SOURCE=0"], "fortified"),
]


def compiled(folder, options):
    source, target = os.path.join(folder, "a.c"), os.path.join(folder, "a.out")
    with open(source, "w", encoding="utf-8") as stream:
        stream.write(PROGRAM)
    subprocess.run([os.environ.get("CC", "cc"), *HARD, *options, source, "-o", target], check=True)
    return check(target)


def prove():
    wrong = []
    with tempfile.TemporaryDirectory() as folder:
        if compiled(folder, []):
            wrong.append(f"hardened program blamed: {compiled(folder, [])}")
        if compiled(folder, ["-shared", "-fPIC"]):
            wrong.append(f"hardened library blamed: {compiled(folder, ['-shared', '-fPIC'])}")
        for options, words in PLANTS:
            if not any(words in breach for breach in compiled(folder, options)):
                wrong.append(f"not found with {options}: {words}")
    if wrong:
        sys.exit("\n".join(["self-test failed:"] + wrong))
    print(f"self-test: {len(PLANTS)} planted breaches found, hardened programs passed")


def main():
    paths = [word for word in sys.argv[1:] if word != "--self-test"]
    if not paths:
        sys.exit(__doc__)
    if "--self-test" in sys.argv:
        prove()
    breaches = [breach for path in paths for breach in check(path)]
    print(*breaches, f"{len(paths)} files looked at, {len(breaches)} breaches", sep="\n")
    sys.exit(1 if breaches else 0)


if __name__ == "__main__":
    main()
