"""Every C file is laid out as clang-format 14 would.

Usage: layout.py [--self-test]; CLANG_FORMAT names the program.
"""

import os
import subprocess

import tree


def check(root):
    paths = tree.files(root, *tree.CODE)
    program = os.environ.get("CLANG_FORMAT", "clang-format-14")
    style = os.path.join(tree.ROOT, ".clang-format")
    done = subprocess.run(
        [program, f"--style=file:{style}", "--dry-run", "-Werror", *paths],
        cwd=root, capture_output=True, text=True, check=False) if paths else None
    if done is None or done.returncode == 0:
        return len(paths), []
    return len(paths), [line for line in done.stderr.splitlines() if ": error:" in line] or [
        done.stderr.strip()]


CLEAN = {"lib/base/a.c": "int usi_a_b(void)\n{\n    return 1;\n}\n"}
PLANTS = [
    ({"lib/base/a.c": "int usi_a_b(void) {\n  return 1;\n}\n"}, "a.c:1"),
    ({"cli/a.h": "char* a;\n"}, "a.h:1"),
]

if __name__ == "__main__":
    tree.run(check, CLEAN, PLANTS)
