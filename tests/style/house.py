"""House rules that a reader of the text can check: what the library may call,
how tests compare numbers, reasons beside NOLINT, comments on public functions,
no unfinished words, no paths of somebody's machine, a tidy top level."""

import os
import re

import tree

TOP_LEVEL = {
    ".ci", ".clang-format", ".clang-tidy", ".git", ".gitattributes", ".gitignore", "CMakeLists.txt",
    "CMakePresets.json", "DEVELOPERS.md", "LICENSE", "README.md", "benchmarks", "build", "cli",
    "docs", "examples", "include", "lib", "tests",
}
NOLINT_LIMIT = 10

# The library leaves printing, ending the process, the environment, the locale
# and signals to its caller; strtok, rand and the like keep hidden state.
BANNED_IN_LIBRARY = re.compile(
    r"\b(v?printf|puts|putchar|putc|perror|exit|_exit|_Exit|quick_exit|abort|assert|atexit|getenv"
    r"|secure_getenv|setenv|unsetenv|putenv|setlocale|uselocale|signal|sigaction|raise|kill|system"
    r"|popen|strtok|s?rand|localtime|gmtime|asctime|ctime|syslog)\s*\(|\b(stdin|stdout|stderr)\b")
BANNED_IN_TESTS = re.compile(r"\bassert_(?:float|double)_(?:not_)?equal\b")

# Written apart so that this file does not blame itself.
UNFINISHED = re.compile(r"\b(TO" r"DO|FIX" r"ME|XX" r"X|HA" r"CK|W" r"IP|TB" r"D|not imple" r"mented"
                        r"|place" r"holder|lorem ip" r"sum)\b")
MACHINE_PATH = re.compile(r"(?<![\w.])/(?:ho" r"me/\w|ro" r"ot/|wo" r"rk/|U" r"sers/|m" r"nt/"
                          r"|tm" r"p/us\b)")
BINARY = (".png", ".pdf", ".gz", ".bin", ".ico")


def each(root, text_of, pattern, paths, problem):
    breaches = []
    for path in paths:
        text = text_of(tree.read(root, path))
        for match in pattern.finditer(text):
            breaches.append(f"{path}:{tree.line_of(text, match.start())}: "
                            f"{match.group().strip()}: {problem}")
    return breaches


def nolint(root, paths):
    breaches, total = [], 0
    for path in paths:
        text = tree.read(root, path)
        for match in re.finditer(r"NOLINT\w*([^\n]*)", text):
            total += not match.group().startswith("NOLINTEND")
            if not re.match(r"\([\w.,-]+\)\W*\w.{9}", match.group(1)):
                breaches.append(f"{path}:{tree.line_of(text, match.start())}: NOLINT needs the "
                                "check in brackets and its reason behind it")
    if total > NOLINT_LIMIT:
        breaches.append(f"{total} NOLINT in the tree, at most {NOLINT_LIMIT}")
    return breaches


def public_comments(root, paths):
    """Every exported function has a comment right above it."""
    breaches = []
    for path in paths:
        text = tree.read(root, path)
        for match in re.finditer(r"^US_API\b([^;]*?)(\w+)\(", text, re.MULTILINE):
            above = text[:match.start()].rstrip()
            if not (above.endswith("*/") and above[above.rfind("/*"):].startswith("/**")):
                breaches.append(f"{path}:{tree.line_of(text, match.start())}: {match.group(2)} "
                                "needs a /** comment right above it")
        for match in re.finditer(r"^(?!US_API)\w[\w \t]*[ *](us_\w+)\([^{]*;", text, re.MULTILINE):
            if not match.group().startswith("typedef"):
                breaches.append(f"{path}:{tree.line_of(text, match.start())}: {match.group(1)} "
                                "is public and needs US_API")
    return breaches


def check(root):
    paths = [path for path in tree.files(root) if not path.endswith(BINARY)]
    code = [path for path in paths if path.endswith(tree.CODE)]
    library = [path for path in code if path.startswith("lib/")]
    tests = [path for path in code if path.startswith("tests/")]
    public = [path for path in code if path.startswith("include/")]
    plain = [path for path in paths if not path.startswith("tests/data/")]
    breaches = each(root, tree.bare, BANNED_IN_LIBRARY, library, "not in the library")
    breaches += each(root, tree.bare, BANNED_IN_TESTS, tests, "compares as float; use assert_near")
    breaches += each(root, str, UNFINISHED, plain, "unfinished")
    breaches += each(root, str, MACHINE_PATH, plain, "a path of one machine")
    breaches += nolint(root, code)
    breaches += public_comments(root, public)
    strays = {path.split("/")[0] for path in paths} | set(os.listdir(root))
    breaches += [f"{name}: not an entry of the top level" for name in sorted(strays - TOP_LEVEL)]
    return len(paths), breaches


CLEAN = {
    "lib/base/a.c": '/* exit( */\nint usi_a_b(void)\n{\n    return snprintf(b, n, "printf(");\n}\n'
                    "int c = 1; // NOLINT(bugprone-x): the table is generated and checked there\n",
    "include/undersill/a.h": "/** Frees. */\nUS_API void us_a_free(us_a *a);\n",
    "tests/unit/test_a.c": "assert_near(a, b, 0, 1e-9);\n",
    "README.md": "Writes into /tmp/net.png or ~/net.png; see docs/home/x and http://a.b/home/c\n",
}
REASON = "// NOLINT(bugprone-x): for a reason that is long enough\n"
PLANTS = [
    ({"lib/base/a.c": 'printf("%d", 1);\n'}, "printf(: not in the library"),
    ({"lib/base/a.c": 'fprintf(stderr, "x");\n'}, "stderr: not in the library"),
    ({"lib/base/a.c": "exit (1);\n"}, "not in the library"),
    ({"lib/base/a.c": "abort();\n"}, "abort(: not in the library"),
    ({"lib/base/a.c": 'char *a = getenv("A");\n'}, "getenv(: not in the library"),
    ({"lib/base/a.c": 'setlocale(LC_ALL, "");\n'}, "setlocale(: not in the library"),
    ({"lib/base/a.c": "signal(SIGPIPE, SIG_IGN);\n"}, "signal(: not in the library"),
    ({"tests/unit/test_a.c": "assert_float_" "equal(a, b, 1e-9);\n"}, "use assert_near"),
    ({"tests/unit/test_a.c": "assert_double_" "equal(a, b, 1e-9);\n"}, "use assert_near"),
    ({"cli/main.c": "/* TO" "DO: later */\n"}, "unfinished"),
    ({"docs/a.md": "FIX" "ME\n"}, "unfinished"),
    ({"docs/a.md": "see /ho" "me/somebody/notes\n"}, "a path of one machine"),
    ({"tests/run.sh": "cd /wo" "rk/main\n"}, "a path of one machine"),
    ({"lib/base/a.c": "int a; // NOLINT\n"}, "NOLINT needs"),
    ({"lib/base/a.c": "int a; // NOLINT(bugprone-x)\n"}, "NOLINT needs"),
    ({"lib/base/a.c": "int a; " + REASON * 11}, "11 NOLINT in the tree"),
    ({"include/undersill/a.h": "US_API void us_a_free(us_a *a);\n"}, "us_a_free needs a /**"),
    ({"include/undersill/a.h": "/* One. */\nUS_API int us_a(void);\n"}, "us_a needs a /**"),
    ({"include/undersill/a.h": "/** One. */\nint us_a(void);\n"}, "needs US_API"),
    ({"notes.txt": "x\n"}, "notes.txt: not an entry"),
    ({"src/a.c": "\n"}, "src: not an entry"),
]

if __name__ == "__main__":
    tree.run(check, CLEAN, PLANTS)
