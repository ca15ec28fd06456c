"""Help, man pages and docs/section-file.md say the same: commands, options, exit
codes, keys of the section file; and every example that they show works. Where
mandoc is installed its lint finds nothing in the pages.

Usage: manual.py [--self-test] UNDERSILL
"""

import functools
import os
import re
import shutil
import subprocess
import sys
import tempfile

import tree

FOLDER = "docs/man"
OPTION = re.compile(r"(?<![\w-])(--?[A-Za-z][a-z]*(?:-[a-z]+)*)")


def plain(text):
    """A text without the escapes of man(7)."""
    return re.sub(r"\\f.", "", text).replace("\\-", "-").replace("\\&", "")


def part(page, heading):
    found = re.search(r'^\.SH "?%s"?\n(.*?)(?=^\.SH |\Z)' % heading, page,
                      re.MULTILINE | re.DOTALL)
    return found.group(1) if found else ""


def options_of_page(page):
    tags = re.findall(r"^\.TP\n([^\n]*)", part(page, "OPTIONS"), re.MULTILINE)
    return {name for tag in tags for name in OPTION.findall(plain(tag.split(" ", 1)[1]))}


def options_of_help(text):
    lines = re.findall(r"^ +(-[^\n]*?)(?:  |$)", text, re.MULTILINE)
    return {name for line in lines for name in OPTION.findall(line)}


def commands_of_help(text):
    listed = re.search(r"^Commands\n(.*?)\n\n", text, re.MULTILINE | re.DOTALL)
    return re.findall(r"^  (\w+)", listed.group(1), re.MULTILINE) if listed else []


def examples_of_page(page):
    return [plain(block) for block in re.findall(r"^\.nf\n(.*?)^\.fi", part(page, "EXAMPLES"),
                                                 re.MULTILINE | re.DOTALL)]


def example_of_help(text):
    found = re.search(r"^(?:Example:|First steps)\n((?:  [^\n]*\n)+)", text, re.MULTILINE)
    lines = found.group(1).splitlines() if found else []
    # In the first steps a remark stands behind each command.
    return "".join(re.sub(r"(?<=\S) {3,}.*", "", line).strip() + "\n" for line in lines)


def keys_of_page(page):
    """Keys by chapter: [(chapter, {key, ...}), ...]."""
    chapters = re.split(r"^\.SS (.*)\n", part(page, "KEYS"), flags=re.MULTILINE)[1:]
    return {name: set(re.findall(r"^\.TP\n\.B (\w+)$", text, re.MULTILINE))
            for name, text in zip(chapters[::2], chapters[1::2])}


def keys_of_markdown(text):
    body = text.split("\n## Keys\n")[-1]
    chapters = re.split(r"^### (.*)\n", body, flags=re.MULTILINE)[1:]
    return {name: set(re.findall(r"^\| (?:\*\*)?`(\w+)`", text, re.MULTILINE))
            for name, text in zip(chapters[::2], chapters[1::2])}


def codes(text):
    return set(re.findall(r"\b(\d+)\b", " ".join(
        re.findall(r"^(?:\| |\.TP\n\.BR? )([\d, \"]+)", text, re.MULTILINE))))


@functools.lru_cache(maxsize=None)
def run(script, tool):
    """What goes wrong when `script` runs where the demo is reach.yaml. Sweeps of
    fifty steps take two."""
    script = script.replace("range(50)", "range(2)").replace("-0.1 42.7", "-0.1 47.4")
    with tempfile.TemporaryDirectory() as folder:
        os.symlink(os.path.realpath(tool), os.path.join(folder, "undersill"))
        path = folder + os.pathsep + os.environ["PATH"]
        done = subprocess.run(
            ["bash", "-c", "set -euo pipefail\nundersill example > reach.yaml\n" + script],
            cwd=folder, capture_output=True, text=True, check=False,
            env={**os.environ, "PATH": path, "LC_ALL": "C"})
        empty = [name for name in os.listdir(folder)
                 if os.path.getsize(os.path.join(folder, name)) == 0]
    if done.returncode:
        return ["exit status %d: %s" % (done.returncode, done.stderr.strip())]
    return ["%s is empty" % name for name in empty]


def lint(pages):
    if shutil.which("mandoc") is None:
        print("mandoc is not installed: the pages are not linted")
        return []
    found = []
    with tempfile.TemporaryDirectory() as folder:
        for name, text in pages.items():
            with open(os.path.join(folder, name), "w", encoding="utf-8") as stream:
                stream.write(text)
            done = subprocess.run(["mandoc", "-Tlint", "-Wwarning", name], cwd=folder, check=False,
                                  capture_output=True, text=True)
            found += done.stdout.splitlines()
    return found


def compare(what, ours, theirs):
    return ["%s: only one of both has %s" % (what, " ".join(sorted(ours ^ theirs)))] if (
        ours != theirs) else []


def breaches_of(world, tool):
    pages, helps, breaches = world["pages"], world["helps"], []
    commands = commands_of_help(helps[""])
    for command in commands:
        name = f"undersill-{command}.1"
        if name not in pages:
            breaches.append(f"{name} is missing")
            continue
        breaches += compare(f"{name} and --help", options_of_page(pages[name]),
                            options_of_help(helps[command]))
    listed = set(re.findall(r"undersill\\-(\w+) \(1\)", part(pages["undersill.1"], "COMMANDS")))
    breaches += compare("undersill.1 and --help: commands", listed, set(commands))
    breaches += compare("undersill.1 and commands.md: exit codes",
                        codes(part(pages["undersill.1"], "EXIT STATUS")),
                        codes(world["texts"]["commands.md"].split("\n## Exit codes\n")[-1].split("\n## ")[0]))
    ours, theirs = keys_of_page(pages["undersill-section.5"]), keys_of_markdown(world["texts"]["section-file.md"])
    breaches += compare("undersill-section.5 and section-file.md: chapters", set(ours), set(theirs))
    for chapter in sorted(set(ours) & set(theirs)):
        breaches += compare(f"keys of '{chapter}'", ours[chapter], theirs[chapter])
    shown = {name: "".join(examples_of_page(page)) for name, page in pages.items()}
    shown["undersill-section.5"] = "".join(
        "undersill check - <<'END'\n%sEND\n" % text
        for text in examples_of_page(pages["undersill-section.5"]))
    for language, opening, closing in (("python", "python3 - <<'END'\n", "END\n"), ("sh", "", "")):
        blocks = re.findall(r"^```%s\n(.*?)^```" % language, world["texts"]["commands.md"],
                            re.MULTILINE | re.DOTALL)
        shown[f"commands.md, {language}"] = "".join(
            opening + block + closing + "test $(grep -vc ,, tips.csv) -ge 2\n" for block in blocks)
    shown.update({f"{name} --help".strip(): example_of_help(text) for name, text in helps.items()})
    for name, script in shown.items():
        found = run(script, tool) if script.count("\n") else ["there is none"]
        breaches += [f"example of {name}: {words}" for words in found]
    return breaches + lint(pages)


def read_world(tool):
    def ask(*words):
        return subprocess.run([tool, *words, "--help"], capture_output=True, text=True,
                              check=True).stdout

    general = ask()
    names = sorted(os.listdir(os.path.join(tree.ROOT, FOLDER)))
    return {"pages": {name: tree.read(tree.ROOT, f"{FOLDER}/{name}") for name in names},
            "helps": {"": general, **{name: ask(name) for name in commands_of_help(general)}},
            "texts": {name: tree.read(tree.ROOT, f"docs/{name}")
                      for name in ("commands.md", "section-file.md")}}


PLANTS = [  # in what, which of them, what, by what, words of the report
    ("pages", "undersill-solve.1", r"\-\-accuracy=", r"\-\-exactness=", "undersill-solve.1 and"),
    ("pages", "undersill-check.1", r'.BR \-q ", " \-\-quiet', r".B \-\-quiet", "undersill-check.1"),
    ("helps", "draw", "--width=", "--breadth=", "--breadth --width"),
    ("pages", "undersill.1", r".BR undersill\-draw (1)" + "\ndraws", "draws", "commands: only"),
    ("pages", "undersill.1", ".B 70\n", ".B 71\n", "exit codes: only one of both has 70 71"),
    ("pages", "undersill-section.5", ".B keyed\n", ".B locked\n", "keys of 'walls'"),
    ("pages", "undersill-section.5", ".SS require", ".SS demand", "chapters: only"),
    ("pages", "undersill-section.5", "tip: 97.3", "tip: 99.8", "example of undersill-section.5"),
    ("pages", "undersill-solve.1", r"47.6 \-0.1", "47.6 0.1", "tips.csv is empty"),
    ("texts", "commands.md", '["exit_gradient"]', '["exit"]', "example of commands.md, python"),
    ("texts", "commands.md", '"low_flow"', '"no_flow"', "example of commands.md, sh"),
    ("texts", "section-file.md", "| `keyed` |", "| `locked` |", "keys of 'walls'"),
    ("helps", "solve", "solve reach", "resolve reach", "example of solve --help"),
    ("helps", "", "undersill check", "undersill chekc", "example of --help"),
    ("helps", "check", "\nExample:", "\nSample:", "example of check --help: there is none"),
]
if shutil.which("mandoc"):
    PLANTS.append(("pages", "undersill.1", ".SH SIGNALS\n", ".SH SIGNALS\n.XX\n", "undersill.1:"))


def prove(world, tool):
    for place, name, old, new, words in PLANTS:
        if old not in world[place][name]:
            sys.exit(f"self-test failed: {name} no longer holds: {old}")
        planted = {**world, place: {**world[place], name: world[place][name].replace(old, new)}}
        if not any(words in breach for breach in breaches_of(planted, tool)):
            sys.exit(f"self-test failed: not found: {words}")
    print(f"self-test: {len(PLANTS)} planted breaches found")


def main():
    arguments = [word for word in sys.argv[1:] if word != "--self-test"]
    if len(arguments) != 1:
        sys.exit(__doc__)
    world = read_world(arguments[0])
    if "--self-test" in sys.argv:
        prove(world, arguments[0])
    breaches = breaches_of(world, arguments[0])
    print(*breaches, f"{len(world['pages'])} pages and {len(world['helps'])} helps, "
          f"{len(breaches)} breaches", sep="\n")
    sys.exit(1 if breaches else 0)


if __name__ == "__main__":
    main()
