"""The examples of the manual work: each `@code` block of a public header is put
into a program that has a context, a section and its solution, and each whole C
program of docs/library.md is taken as it stands. All are compiled with warnings
as errors, run, and must end well; a block ```text right behind a program is what
it has to print.

Usage: snippets.py [--self-test] CC LIBRARY INCLUDE-FOLDER PAGE EXAMPLES
"""

import os
import re
import shutil
import subprocess
import sys
import tempfile
import textwrap

FLAGS = ["-std=c17", "-Wall", "-Wextra", "-Wpedantic", "-Wshadow", "-Wconversion", "-Werror",
         "-pthread"]

# What the examples in headers may use without more words.
PRELUDE = """
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <undersill/undersill.h>

static const char SECTION[] =
    "bed: {upstream: 10, downstream: 10}\\n"
    "base: 0\\n"
    "walls: [{name: sheet, x: 0, top: 11, tip: 6}]\\n"
    "soils: [{name: sand, kh: 1e-4, unit_weight: 20}]\\n"
    "water: [{name: high, upstream: 13, downstream: 11}]\\n";

int main(void)
{
    us_context *context = us_context_create();
    us_section *section = NULL;
    us_solution *solution = NULL;
    if (us_section_read(context, SECTION, strlen(SECTION), "sheet.yaml", &section) != US_OK ||
        us_section_solve(context, section, NULL, &solution) != US_OK) {
        return 1;
    }
    {
"""
CODA = """
    }
    size_t said = us_context_diagnostic_count(context);
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
    return said == 0 ? 0 : 2;
}
"""


def header_blocks(include):
    """(where, program, expected output or None) of each example in the headers."""
    folder = os.path.join(include, "undersill")
    for name in sorted(os.listdir(folder)):
        with open(os.path.join(folder, name), encoding="utf-8") as stream:
            text = stream.read()
        for match in re.finditer(r"@code\n(.*?)\n \* @endcode", text, re.DOTALL):
            body = re.sub(r"^ \* ?", "        ", match.group(1), flags=re.MULTILINE)
            yield f"{name}:{text.count(chr(10), 0, match.start()) + 1}", PRELUDE + body + CODA, None


def page_blocks(page):
    """The same of each whole program of a page."""
    with open(page, encoding="utf-8") as stream:
        text = stream.read()
    pattern = r"```c\n(.*?)```\n(?:\s*```text\n(.*?)```)?"
    for match in re.finditer(pattern, text, re.DOTALL):
        if "int main(" in match.group(1):
            where = f"{os.path.basename(page)}:{text.count(chr(10), 0, match.start()) + 1}"
            yield where, match.group(1), match.group(2)


def problem(setting, program, expected):
    """What is wrong with a program, or ""."""
    compiler, library, include, examples = setting
    with tempfile.TemporaryDirectory() as folder:
        target = os.path.join(folder, "snippet")
        built = subprocess.run(
            [compiler, *FLAGS, *os.environ.get("SNIPPET_CFLAGS", "").split(), "-x", "c", "-", "-x",
             "none", "-I", include, library, f"-Wl,-rpath,{os.path.dirname(library)}", "-lm", "-o",
             target], input=program, capture_output=True, text=True, check=False)
        if built.returncode != 0:
            return built.stderr
        for name in os.listdir(examples):
            if name.endswith(".yaml"):
                shutil.copy(os.path.join(examples, name), folder)
        ran = subprocess.run([target], cwd=folder, capture_output=True, text=True, timeout=120,
                             check=False)
    if ran.returncode != 0:
        return f"exit status {ran.returncode}\n{ran.stdout}{ran.stderr}"
    if expected is not None and ran.stdout != expected:
        return f"printed:\n{ran.stdout}and not:\n{expected}"
    return "" if ran.stdout or ran.stderr else "prints nothing: what does it show?"


def prove(setting):
    whole = '#include <stdio.h>\nint main(void) { puts("a"); return 0; }\n'
    plants = [(PRELUDE + "us_nothing();" + CODA, None), (PRELUDE + "return 3;" + CODA, None),
              (PRELUDE + "int unused = 1;" + CODA, None), (PRELUDE + CODA, None), (whole, "b\n")]
    if problem(setting, whole, "a\n"):
        sys.exit(f"self-test: clean program blamed: {problem(setting, whole, None)}")
    for program, expected in plants:
        if not problem(setting, program, expected):
            sys.exit(f"self-test: not found: {textwrap.shorten(program, 300)}")
    print(f"self-test: {len(plants)} planted breaches found, clean program passed")


def main():
    arguments = [word for word in sys.argv[1:] if word != "--self-test"]
    if len(arguments) != 5:
        sys.exit(__doc__)
    compiler, library, include, page, examples = arguments
    setting = (compiler, library, include, examples)
    if "--self-test" in sys.argv:
        prove(setting)
    of_headers, of_page = list(header_blocks(include)), list(page_blocks(page))
    wrong = 0
    for where, program, expected in of_headers + of_page:
        said = problem(setting, program, expected)
        wrong += bool(said)
        print(f"{where}: {said.rstrip() if said else 'works'}")
    print(f"{len(of_headers)} examples in headers, {len(of_page)} on the page, {wrong} wrong")
    sys.exit(1 if wrong or not of_headers or not of_page else 0)


if __name__ == "__main__":
    main()
