"""clang-tidy with the rules of .clang-tidy over the library and the tool; a
warning is an error. One process a core.

Usage: tidy.py [--self-test] BUILD_FOLDER [FILE...]
"""

import concurrent.futures
import json
import os
import subprocess
import sys
import tempfile

import tree

PROGRAM = os.environ.get("CLANG_TIDY", "clang-tidy-14")


def breaches_of(build, path):
    """What clang-tidy says of one file, "" when nothing."""
    done = subprocess.run(
        [PROGRAM, "--quiet", "--warnings-as-errors=*", f"--config-file={tree.ROOT}/.clang-tidy",
         "-p", build, path], capture_output=True, text=True, check=False)
    return "" if done.returncode == 0 else done.stdout + done.stderr


def sources(build):
    with open(os.path.join(build, "compile_commands.json"), encoding="utf-8") as stream:
        listed = {os.path.realpath(entry["file"]) for entry in json.load(stream)}
    homes = tuple(os.path.join(os.path.realpath(tree.ROOT), name, "") for name in ("lib", "cli"))
    return sorted(path for path in listed if path.startswith(homes))


def tangled(loops):
    """A function of too many nested loops."""
    return ("int usi_a_b(int a);\nint usi_a_b(int a)\n{\n"
            + "".join(f"    for (int i{k} = 0; i{k} < a; i{k}++) {{\n" for k in range(loops))
            + "        a--;\n" + "    }\n" * loops + "    return a;\n}\n")


PLANTS = [
    (tangled(8), "readability-function-cognitive-complexity"),
    ("int usi_a_b(int a);\nint usi_a_b(int a)\n{\n" + "    a++;\n" * 70 + "    return a;\n}\n",
     "readability-function-size"),
    ("int usi_a_b(const int *a);\nint usi_a_b(const int *a)\n{\n    if (a == 0) {\n"
     "        return *a;\n    }\n    return 0;\n}\n", "clang-analyzer-core.NullDereference"),
    ("int usi_a_b(int a);\nint usi_a_b(int a)\n{\n    if (a == 1 || a == 1) {\n"
     "        return 2;\n    }\n    return 0;\n}\n", "misc-redundant-expression"),
]


def prove():
    wrong = []
    with tempfile.TemporaryDirectory() as build:
        path = os.path.join(build, "a.c")
        with open(os.path.join(build, "compile_commands.json"), "w", encoding="utf-8") as stream:
            json.dump([{"directory": build, "file": path, "command": f"cc -c {path}"}], stream)
        for text, words in [(tangled(1), None)] + PLANTS:
            with open(path, "w", encoding="utf-8") as stream:
                stream.write(text)
            said = breaches_of(build, path)
            if (said != "") if words is None else (words not in said):
                wrong.append(f"{words or 'clean file'}: clang-tidy said '{said}'")
    if wrong:
        sys.exit("\n".join(["self-test failed:"] + wrong))
    print(f"self-test: {len(PLANTS)} planted breaches found, clean file passed")


def main():
    arguments = [word for word in sys.argv[1:] if word != "--self-test"]
    if not arguments:
        sys.exit(__doc__)
    if "--self-test" in sys.argv:
        prove()
    paths = [os.path.realpath(path) for path in arguments[1:]] or sources(arguments[0])
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        said = [text for text in pool.map(lambda path: breaches_of(arguments[0], path), paths) if text]
    print(*said, f"{len(paths)} files looked at, {len(said)} with breaches", sep="\n")
    sys.exit(1 if said or not paths else 0)


if __name__ == "__main__":
    main()
