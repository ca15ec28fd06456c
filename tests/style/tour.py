"""The five-minute tour of the README does what it says: its commands, run one
after the other in an empty folder, all succeed and leave the files they name.

Usage: tour.py [--self-test] UNDERSILL
"""

import os
import re
import subprocess
import sys
import tempfile

import tree

LEFT_BEHIND = re.compile(r"-o (\S+)|> (\S+)")


def commands(readme):
    """The shell blocks of the chapter on the tour."""
    chapter = re.search(r"^## Five minutes\n(.*?)(?=^## )", readme, re.MULTILINE | re.DOTALL)
    return re.findall(r"^```sh\n(.*?)^```", chapter.group(1), re.MULTILINE | re.DOTALL
                      ) if chapter else []


def breaches_of(readme, tool):
    """What goes wrong in the tour of `readme`: a list of words."""
    blocks = commands(readme)
    if len(blocks) < 4:
        return ["the README has no tour"]
    script = "set -euo pipefail\n" + "".join(blocks)
    with tempfile.TemporaryDirectory() as folder:
        os.mkdir(os.path.join(folder, "build"))
        os.symlink(os.path.realpath(tool), os.path.join(folder, "build", "undersill"))
        done = subprocess.run(["bash", "-c", script], cwd=folder, capture_output=True, text=True,
                              check=False)
        breaches = [] if done.returncode == 0 else [
            f"exit status {done.returncode}: {done.stderr.strip()}"]
        for pair in LEFT_BEHIND.findall(script):
            path = os.path.join(folder, pair[0] or pair[1])
            if not os.path.isfile(path) or os.path.getsize(path) == 0:
                breaches.append(f"{pair[0] or pair[1]} was not made")
        changed = re.findall(r"s/(.*?)/", script)
        text = tree.read(folder, "mine.yaml") if os.path.exists(f"{folder}/mine.yaml") else ""
        breaches += [f"'{words}' is not in the starter section" for words in changed
                     if words not in text]
    return breaches


def prove(readme, tool):
    plants = [
        (readme.replace("undersill solve mine.yaml", "undersill resolve mine.yaml"), "exit status"),
        (readme.replace("undersill check mine.yaml", "undersill check yours.yaml"), "exit status"),
        (re.sub(r"'s/[^/]*/", "'s/no such words/", readme), "no such words"),
        (readme.replace("## Five minutes", "## Ten minutes"), "no tour"),
    ]
    for text, words in plants:
        if not any(words in breach for breach in breaches_of(text, tool)):
            sys.exit(f"self-test failed: not found: {words}")
    print(f"self-test: {len(plants)} planted breaches found")


def main():
    arguments = [word for word in sys.argv[1:] if word != "--self-test"]
    if len(arguments) != 1:
        sys.exit(__doc__)
    readme = tree.read(tree.ROOT, "README.md")
    if "--self-test" in sys.argv:
        prove(readme, arguments[0])
    breaches = breaches_of(readme, arguments[0])
    print(*breaches, f"{len(commands(readme))} blocks of the tour run, {len(breaches)} breaches",
          sep="\n")
    sys.exit(1 if breaches else 0)


if __name__ == "__main__":
    main()
