"""What the style tests share: the files of a tree, C text without comments and
strings, and a runner that first proves each rule on a planted breach."""

import os
import re
import subprocess
import sys
import tempfile

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
CODE = (".c", ".h")


def files(root, *suffixes):
    """Paths, relative to `root`, of the files that are or could be committed."""
    try:
        listed = subprocess.run(
            ["git", "-C", root, "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
            check=True, capture_output=True).stdout.decode().split("\0")
    except (OSError, subprocess.CalledProcessError):
        listed = walk(root)
    return sorted(path for path in set(listed)
                  if path.endswith(suffixes or ("",)) and os.path.isfile(os.path.join(root, path)))


def walk(root):
    """Every file below `root`, apart from what a build makes."""
    for folder, folders, names in os.walk(root):
        folders[:] = [name for name in folders if name not in (".git", "build", "__pycache__")]
        for name in names:
            yield os.path.relpath(os.path.join(folder, name), root)


def read(root, path):
    with open(os.path.join(root, path), encoding="utf-8", errors="replace") as stream:
        return stream.read()


_TOKEN = re.compile(r"""//[^\n]*|/\*.*?\*/|"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'""", re.DOTALL)


def bare(text):
    """C text with comments and the insides of literals blanked, line by line."""
    def blank(match):
        found = match.group()
        if found[0] in "\"'":
            return found[0] + " " * (len(found) - 2) + found[0]
        return re.sub(r"[^\n]", " ", found)
    return _TOKEN.sub(blank, text)


def line_of(text, offset):
    return text.count("\n", 0, offset) + 1


def run(check, clean, plants):
    """Runs `check(root)`, which returns (things looked at, breaches).

    With `--self-test`, the check must first pass the tree `clean` (a dict of
    path to text) and report each plant: (changes to it, words of the report). A
    text of None takes the file away.
    """
    arguments = [word for word in sys.argv[1:] if word != "--self-test"]
    if "--self-test" in sys.argv[1:]:
        prove(check, clean, plants)
    looked, breaches = check(arguments[0] if arguments else ROOT)
    for breach in breaches:
        print(breach)
    print(f"{looked} looked at, {len(breaches)} breaches")
    if looked == 0:
        print("nothing was looked at: this test would pass whatever the tree held")
    sys.exit(1 if breaches or looked == 0 else 0)


def plant(root, texts):
    for path, text in texts.items():
        if text is None:
            continue
        target = os.path.join(root, path)
        os.makedirs(os.path.dirname(target), exist_ok=True)
        with open(target, "w", encoding="utf-8") as stream:
            stream.write(text)
        os.chmod(target, 0o755 if path.endswith(".sh") else 0o644)


def prove(check, clean, plants):
    """Ends the test unless every plant is found and the clean tree is not blamed."""
    wrong = []
    for changes, words in [({}, None)] + list(plants):
        with tempfile.TemporaryDirectory() as root:
            plant(root, {**clean, **changes})
            breaches = check(root)[1]
        if words is None and breaches:
            wrong.append(f"clean tree blamed: {breaches}")
        elif words is not None and not any(words in breach for breach in breaches):
            wrong.append(f"not found: '{words}' in {sorted(changes)}; found {breaches}")
    if wrong:
        print("self-test failed:", *wrong, sep="\n")
        sys.exit(1)
    print(f"self-test: {len(plants)} planted breaches found, clean tree passed")
