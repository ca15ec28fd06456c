#!/usr/bin/env python3
"""Completion for bash, asked as bash asks: by COMP_WORDS and COMP_CWORD.

    completion.py --tool PATH
"""

import argparse
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
SCRIPT = ROOT / "cli" / "completion" / "undersill.bash"
COMMANDS = ("example", "check", "solve", "draw", "converge", "verify")
# Words on the line, the last one being completed, and what is offered.
CASES = (
    (["dr"], ["draw"]),
    (["he"], ["help"]),
    (["--v"], ["--version"]),
    (["help", "so"], ["solve"]),
    (["solve", "--acc"], ["--accuracy"]),
    (["solve", "--format", "j"], ["json"]),
    (["solve", "--format", "=", "j"], ["json"]),
    (["solve", "--format", "="], ["text", "json", "csv"]),
    (["verify", "--format", "j"], ["json"]),
    (["verify", ""], []),
    (["draw", "--format", "s"], ["svg"]),
    (["draw", "--what", "n"], ["net"]),
    (["draw", "--what", "="], ["net", "uplift", "exit", "section"]),
    (["check", "--format", "j"], []),
    (["example", "wal"], ["wall"]),
    (["solve", ""], ["folder", "reach.yaml", "strange.yaml", "with space.yaml"]),
    (["solve", "reach.yaml", "-o", "no"], ["notes.txt"]),
    (["solve", "reach.yaml", "--cases", "fl"], ["floods.csv"]),
    (["solve", "reach.yaml", "--cases", "=", ""], ["floods.csv", "folder"]),
    (["solve", "with"], ["with space.yaml"]),
    (["draw", "reach.yaml", "--water", ""], ["spring_flood", "low_flow"]),
    (["draw", "reach.yaml", "--water", "=", "lo"], ["low_flow"]),
    (["draw", "strange.yaml", "--water", ""], ["low_flow"]),
)


def bash(script, folder, *words):
    done = subprocess.run(["bash", "--norc", "-c", script, "bash", *words], cwd=folder,
                          capture_output=True, text=True, check=False)
    if done.stderr:
        sys.exit("bash said: " + done.stderr)
    return [line for line in done.stdout.splitlines() if line]


def complete(tool, folder, words):
    return bash('source "$1"; shift; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _undersill; '
                'printf "%s\\n" "${COMPREPLY[@]}"', folder, str(SCRIPT), str(tool), *words)


def options_of_help(tool, words):
    done = subprocess.run([str(tool), *words, "--help"], capture_output=True, text=True,
                          check=True)
    return set(re.findall(r"(?<![\w-])--[a-z][a-z-]*", done.stdout))


def set_table(folder):
    text = (ROOT / "examples" / "demo.yaml").read_text(encoding="utf-8")
    for name in ("reach.yaml", "with space.yaml"):
        (folder / name).write_text(text, encoding="utf-8")
    (folder / "strange.yaml").write_text(text.replace("spring_flood", "'$(touch pwned)'"),
                                         encoding="utf-8")
    (folder / "floods.csv").write_text("", encoding="utf-8")
    (folder / "notes.txt").write_text("", encoding="utf-8")
    (folder / "folder").mkdir()


def faults_in(tool, folder):
    faults = []
    for words, wanted in CASES:
        offered = complete(tool, folder, words)
        if sorted(offered) != sorted(wanted):
            faults.append("%s: offered %s instead of %s" % (" ".join(words), offered, wanted))
    if (folder / "pwned").exists():
        faults.append("a name in a section file was run as a command")
    for command in COMMANDS:
        offered, known = set(complete(tool, folder, [command, "-"])), options_of_help(
            tool, [command])
        if offered != known:
            faults.append("%s: offered %s, --help has %s" % (command, offered, known))
    return faults


def main():
    parser = argparse.ArgumentParser(description="Tries the completion for bash.")
    parser.add_argument("--tool", required=True, type=pathlib.Path)
    tool = parser.parse_args().tool.resolve()
    if shutil.which("bash") is None:
        sys.exit("bash is missing")
    registered = bash('source "$1"; complete -p undersill', ".", str(SCRIPT))
    faults = [] if registered else ["nothing is registered"]
    with tempfile.TemporaryDirectory(prefix="undersill-completion-") as folder:
        set_table(pathlib.Path(folder))
        faults += faults_in(tool, pathlib.Path(folder))
    print(*faults, "%d lines completed, %d faults" % (len(CASES), len(faults)), sep="\n")
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
