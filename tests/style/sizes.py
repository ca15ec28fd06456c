"""Sizes: functions of at most 60 lines (signature to closing brace) and six
parameters, files of at most 500 lines."""

import re

import tree

FUNCTION_LINES = 60
PARAMETERS = 6
FILE_LINES = 500
SCRIPTS = (".py", ".sh", ".cmake", "CMakeLists.txt")


def without_preprocessor(text):
    return re.sub(r"^[ \t]*#(?:[^\n]*\\\n)*[^\n]*", lambda m: re.sub(r"[^\n]", " ", m.group()),
                  text, flags=re.MULTILINE)


def closing(text, start):
    """Offset of the brace or bracket that closes the one at `start`."""
    pairs = {"{": "}", "(": ")"}
    opener, closer, depth = text[start], pairs[text[start]], 0
    for offset in range(start, len(text)):
        depth += (text[offset] == opener) - (text[offset] == closer)
        if depth == 0:
            return offset
    return len(text) - 1


def parameters(listed):
    """Number of parameters in the text between the brackets."""
    listed = listed.strip()
    if listed in ("", "void"):
        return 0
    depth = commas = 0
    for letter in listed:
        depth += (letter in "([{") - (letter in ")]}")
        commas += letter == "," and depth == 0
    return commas + 1


def functions(text):
    """(name, first line, lines, parameters) of each function defined in `text`."""
    text = without_preprocessor(tree.bare(text))
    text = re.sub(r'extern\s*" *"\s*\{', lambda m: re.sub(r"[^\n]", " ", m.group()), text)
    start = offset = 0
    while True:
        match = re.compile(r"[;{}]").search(text, offset)
        if match is None:
            return
        offset = match.end()
        if match.group() == "{":
            head = text[start:match.start()]
            end = closing(text, match.start())
            called = re.search(r"(\w+)\s*\(", head)
            if called and "=" not in head[:called.start()]:
                bracket = start + called.end() - 1
                listed = text[bracket + 1:closing(text, bracket)]
                first = tree.line_of(text, start + len(head) - len(head.lstrip()))
                yield (called.group(1), first, tree.line_of(text, end) - first + 1,
                       parameters(listed))
            offset = end + 1
            if not called:
                continue  # a struct or enum: its declaration goes on to the semicolon
        start = offset


def check(root):
    breaches, looked = [], 0
    for path in tree.files(root, *tree.CODE, *SCRIPTS):
        text = tree.read(root, path)
        lines = text.count("\n")
        if lines > FILE_LINES:
            breaches.append(f"{path}: {lines} lines, at most {FILE_LINES}")
        if path.endswith(SCRIPTS):
            continue
        for name, first, length, count in functions(text):
            looked += 1
            if length > FUNCTION_LINES:
                breaches.append(f"{path}:{first}: {name}: {length} lines, at most {FUNCTION_LINES}")
            if count > PARAMETERS:
                breaches.append(f"{path}:{first}: {name}: {count} parameters, at most {PARAMETERS}")
    return looked, breaches


def function(lines, listed="void"):
    return f"static int f({listed})\n{{\n" + "    g(\"}\");\n" * (lines - 3) + "}\n"


CLEAN = {
    "lib/base/a.c": "struct s {\n    int a;\n};\n" + function(60, "int a, int (*b)(int, int), int c")
                    + "static const int t[] = {1, 2};\n#define M(a) \\\n    {a\n" + function(60),
}
PLANTS = [
    ({"lib/base/b.c": function(61)}, "61 lines"),
    ({"lib/base/b.c": "struct s {\n    int a;\n} x = {1};\n" + function(61)}, "61 lines"),
    ({"include/b.h": 'extern "C" {\n' + function(61) + "}\n"}, "61 lines"),
    ({"cli/b.c": function(61, "int a,\n    int b")}, "62 lines"),
    ({"tests/b.c": function(5, "int a, int b, int c, int d, int e, int f, int (*g)(int, int)")},
     "7 parameters"),
    ({"lib/base/b.c": "\n" * 501}, "501 lines"),
    ({"tests/b.py": "\n" * 501}, "501 lines"),
]

if __name__ == "__main__":
    tree.run(check, CLEAN, PLANTS)
