"""What the compiled library really holds: no data that can change, no symbol
without our prefix, no call that is the caller's business.

Usage: objects.py [--self-test] LIBUNDERSILL.A
"""

import os
import re
import subprocess
import sys
import tempfile

# Written at load time only, then read-only: constant tables that hold pointers.
CONSTANT = re.compile(r"\.(data\.rel\.ro|rodata|text|eh_frame|note|init|fini|comment)")
NAME = re.compile(r"usi?_[a-z0-9_]+$")
FORBIDDEN = set("""printf vprintf puts putchar putc perror exit _exit _Exit quick_exit abort atexit
__assert_fail getenv secure_getenv setenv unsetenv putenv setlocale uselocale signal sigaction
raise kill system popen strtok rand srand localtime gmtime asctime ctime syslog stdin stdout stderr
__printf_chk __vprintf_chk""".split())
# Their threads are a matter of the process, and their digits of the machine.
KERNEL = re.compile(r"(omp|GOMP|openblas|cblas|LAPACKE)_|[sdcz](gemm|gemv|syrk|trsm|trsv|potrf|dot|axpy)_$")


def symbols(archive):
    """(object, name, kind, section) of each symbol in an archive or object."""
    listed = subprocess.run(["nm", "--format=sysv", archive], check=True, capture_output=True,
                            text=True).stdout
    member = archive
    for line in listed.splitlines():
        heading = re.match(r"(?:Undefined s|S)ymbols from (.*):$", line)
        if heading:
            member = heading.group(1)
        columns = [column.strip() for column in line.split("|")]
        if len(columns) == 7 and columns[0] != "Name":
            yield member, columns[0], columns[2], columns[6].split()[0] if columns[6] else ""


def check(archive):
    breaches, looked = [], 0
    for member, name, kind, section in symbols(archive):
        looked += 1
        if kind in "bBdDcCsSgGuV" and not CONSTANT.match(section):
            breaches.append(f"{member}: {name} in {section or 'common'}: data that can change")
        if kind == "U" and (name.split("@")[0] in FORBIDDEN or KERNEL.match(name)):
            breaches.append(f"{member}: {name}: not in the library")
        if kind in "TDBRW" and not NAME.match(name):
            breaches.append(f"{member}: {name}: a symbol shared between files is called us_ or usi_")
    return looked, breaches


CLEAN = """
static const int table[] = {1, 2};
static const char *const names[] = {"a", "b"};
int usi_a_b(int i);
int usi_a_b(int i) { return table[i] + names[i][0]; }
"""
PLANTS = [
    ("static int count;\nint usi_a_c(void);\nint usi_a_c(void) { return ++count; }\n", "count"),
    ("int usi_a_c(void);\nint usi_a_c(void) { static int calls = 3; return calls++; }\n", "calls"),
    ("void dsyrk_(void);\nvoid usi_a_c(void);\nvoid usi_a_c(void) { dsyrk_(); }\n", "dsyrk_"),
    ("int omp_get_max_threads(void);\nint usi_a_c(void);\n"
     "int usi_a_c(void) { return omp_get_max_threads(); }\n", "omp_get_max_threads"),
    ("_Thread_local int usi_last = 1;\n", "usi_last"),
    ("static const char *names[] = {\"a\", \"b\"};\nconst char **usi_a_c(void);\n"
     "const char **usi_a_c(void) { return names; }\n", "names"),
    ("int helper(void);\nint helper(void) { return 1; }\n", "helper: a symbol"),
    ("void abort(void);\nvoid usi_a_c(void);\nvoid usi_a_c(void) { abort(); }\n", "abort"),
    ("#include <stdio.h>\nvoid usi_a_c(void);\nvoid usi_a_c(void) { fputs(\"a\", stderr); }\n",
     "stderr"),
]


def compiled(folder, text):
    source, target = os.path.join(folder, "a.c"), os.path.join(folder, "a.o")
    with open(source, "w", encoding="utf-8") as stream:
        stream.write(text)
    subprocess.run([os.environ.get("CC", "cc"), "-O1", "-fPIC", "-c", source, "-o", target],
                   check=True)
    return check(target)[1]


def prove():
    wrong = []
    with tempfile.TemporaryDirectory() as folder:
        if compiled(folder, CLEAN):
            wrong.append(f"clean object blamed: {compiled(folder, CLEAN)}")
        for text, words in PLANTS:
            if not any(words in breach for breach in compiled(folder, text)):
                wrong.append(f"not found: {words}")
    if wrong:
        sys.exit("\n".join(["self-test failed:"] + wrong))
    print(f"self-test: {len(PLANTS)} planted breaches found, clean object passed")


def main():
    arguments = [word for word in sys.argv[1:] if word != "--self-test"]
    if len(arguments) != 1:
        sys.exit(__doc__)
    if "--self-test" in sys.argv:
        prove()
    looked, breaches = check(arguments[0])
    print(*breaches, f"{looked} symbols looked at, {len(breaches)} breaches", sep="\n")
    sys.exit(1 if breaches or looked == 0 else 0)


if __name__ == "__main__":
    main()
