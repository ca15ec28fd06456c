"""Each public header is compiled alone, twice over, as C17 and as C++17, with
every warning an error and no extension of the compiler allowed.

Usage: headers.py [--self-test] CC CXX INCLUDE-FOLDER
"""

import os
import subprocess
import sys
import tempfile

COMMON = ["-Wall", "-Wextra", "-Wpedantic", "-pedantic-errors", "-Wshadow", "-Werror",
          "-fsyntax-only"]
LANGUAGES = [("C17", 0, ["-x", "c", "-std=c17", "-Wstrict-prototypes"]),
             ("C++17", 1, ["-x", "c++", "-std=c++17", "-Wold-style-cast"])]


def headers(include):
    """Paths of the public headers as programs name them."""
    folder = os.path.join(include, "undersill")
    return sorted("undersill/" + name for name in os.listdir(folder) if name.endswith(".h"))


def complaint(compiler, flags, include, header):
    """What the compiler says about one translation unit that holds `header` only."""
    done = subprocess.run(
        [compiler, *flags, *COMMON, "-I", include, "-"], input=f'#include "{header}"\n' * 2,
        capture_output=True, text=True, check=False)
    return done.stderr if done.returncode != 0 else ""


def check(compilers, include):
    breaches, looked = [], 0
    for header in headers(include):
        for language, which, flags in LANGUAGES:
            looked += 1
            said = complaint(compilers[which], flags, include, header)
            if said:
                breaches.append(f"{header} as {language}:\n{said}")
    return looked, breaches


CLEAN = "#ifndef A\n#define A\n#include <stddef.h>\nsize_t us_a(void);\n#endif\n"
PLANTS = [
    ("#ifndef A\n#define A\nsize_t us_a(void);\n#endif\n", "C17"),           # does not stand alone
    ("typedef struct a { int b; } a;\n", "C17"),                             # no guard
    ("#ifndef A\n#define A\ntypedef __typeof__(1) a;\nint us_b[0];\n#endif\n", "C17"),
    ("#ifndef A\n#define A\nint us_a(int class);\n#endif\n", "C++17"),
    ("#ifndef A\n#define A\nstatic inline char *us_a(void *b)\n{ return b; }\n#endif\n", "C++17"),
    ("#ifndef A\n#define A\nint us_a(int b[static 1]);\n#endif\n", "C++17"),
]


def prove(compilers):
    for text, language in [(CLEAN, None)] + PLANTS:
        with tempfile.TemporaryDirectory() as include:
            os.mkdir(os.path.join(include, "undersill"))
            with open(os.path.join(include, "undersill", "a.h"), "w", encoding="utf-8") as stream:
                stream.write(text)
            breaches = check(compilers, include)[1]
        if language is None and breaches:
            sys.exit(f"self-test: clean header blamed: {breaches}")
        if language is not None and not any(f" as {language}:" in breach for breach in breaches):
            sys.exit(f"self-test: not refused as {language}:\n{text}")
    print(f"self-test: {len(PLANTS)} planted breaches found, clean header passed")


def main():
    arguments = [word for word in sys.argv[1:] if word != "--self-test"]
    if len(arguments) != 3:
        sys.exit(__doc__)
    compilers = arguments[:2]
    if "--self-test" in sys.argv:
        prove(compilers)
    looked, breaches = check(compilers, arguments[2])
    print(*breaches, f"{looked} translation units, {len(breaches)} breaches", sep="\n")
    sys.exit(1 if breaches or looked == 0 else 0)


if __name__ == "__main__":
    main()
