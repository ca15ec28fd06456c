#!/usr/bin/env python3
"""Ctrl-C, SIGTERM and the line of progress, tried on a run that takes a while.

    watching.py --tool PATH

When a signal arrives is a matter of luck, so each is sent after several waits:
every outcome has to be a clean one, and the one that is looked for has to occur.
"""

import argparse
import os
import pathlib
import pty
import re
import signal
import subprocess
import sys
import tempfile
import time

EXAMPLES = pathlib.Path(__file__).resolve().parents[2] / "examples"
WAITS = (0.02, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, 0.8, 1.2)
LIMIT = 60
# A shell starts its background jobs with SIGINT ignored; so may whoever runs this.
ENVIRONMENT = {**os.environ, "LC_ALL": "C", "ASAN_OPTIONS": "detect_leaks=0"}


def hear_interrupts():
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def ignore_interrupts():
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def start(tool, folder, *words, stderr=subprocess.PIPE, before=hear_interrupts):
    section = folder / "demo.yaml"
    if not section.exists():
        section.write_bytes((EXAMPLES / "demo.yaml").read_bytes())
    return subprocess.Popen(  # pylint: disable=subprocess-popen-preexec-fn
        [str(tool), *words, "demo.yaml"], cwd=folder, stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE, stderr=stderr, env=ENVIRONMENT, preexec_fn=before)


def solving(name, accuracy="0.005%"):
    return ("solve", "--accuracy", accuracy, "-o", name)


def finish(process):
    out, err = process.communicate(timeout=LIMIT)
    return process.returncode, out or b"", err or b""


def others(folder):
    return sorted(path.name for path in folder.iterdir() if path.name != "demo.yaml")


def judge(number, result, folder, name, old):
    """'stopped', 'early' (before it worked), 'done', or what is wrong."""
    code, out, err = result
    target = folder / name
    content = target.read_bytes() if target.exists() else None
    if out:
        return "stdout holds %r" % out
    if others(folder) != ([] if content is None else [name]):
        return "left behind: %s" % others(folder)
    if code == -number and content == old:
        return {b"undersill: interrupted\n": "stopped", b"": "early"}.get(err, "said %r" % err)
    if code in (0, 3) and content not in (None, old):
        return "done"
    if code == -number and content is not None and err == b"":
        return "done"  # the signal waited for the file to be whole
    return "exit %s with %r, file %s" % (code, err, "changed" if content != old else "as it was")


def signal_stops(tool, number, words, name, old):
    """A signal leaves the output as it was, `old` (None: absent), and says so."""
    outcomes = []
    for wait in WAITS:
        with tempfile.TemporaryDirectory(prefix="undersill-watch-") as scratch:
            folder = pathlib.Path(scratch)
            if old is not None:
                (folder / name).write_bytes(old)
            process = start(tool, folder, *words)
            time.sleep(wait)
            process.send_signal(number)
            outcome = judge(number, finish(process), folder, name, old)
            if outcome not in ("stopped", "early", "done"):
                return ["after %s s: %s" % (wait, outcome)]
            outcomes.append(outcome)
    return [] if "stopped" in outcomes else ["never stopped in the midst: %s" % outcomes]


def state_of(process):
    """T while it is stopped, Z once it has ended."""
    stat = pathlib.Path("/proc/%d/stat" % process.pid).read_text()
    return stat[stat.rindex(")") + 2]


def send_twice(process, apart):
    """Two Ctrl-C, the second while the tool has no chance to heed the first: it is
    put to sleep in between. False where it was too late for that."""
    os.kill(process.pid, signal.SIGINT)
    time.sleep(0.02)  # the handler has run
    os.kill(process.pid, signal.SIGSTOP)
    time.sleep(apart)
    asleep = state_of(process) == "T"
    os.kill(process.pid, signal.SIGINT)
    os.kill(process.pid, signal.SIGCONT)
    return asleep


def second_signal(tool, apart, wanted):
    """How a second Ctrl-C ends a run: by the signal at once, with no word more, or,
    too soon after the first, as if it were the same one."""
    for wait in WAITS * 4:  # most come between two steps, where the first one is heeded
        with tempfile.TemporaryDirectory(prefix="undersill-watch-") as scratch:
            folder = pathlib.Path(scratch)
            (folder / "a.txt").write_bytes(b"old")
            process = start(tool, folder, *solving("a.txt", "0.001%"))
            time.sleep(wait)
            asleep = send_twice(process, apart)
            outcome = judge(signal.SIGINT, finish(process), folder, "a.txt", b"old")
            if asleep and outcome == wanted:
                return []
            if asleep and outcome not in ("stopped", "done"):
                return ["after %s s: %s" % (wait, outcome)]
    return ["never ended as it should: %s" % wanted]


def ignored_stays_ignored(tool):
    with tempfile.TemporaryDirectory(prefix="undersill-watch-") as scratch:
        folder = pathlib.Path(scratch)
        process = start(tool, folder, "solve", "--accuracy", "0.1%", "-o", "demo.txt",
                        before=ignore_interrupts)
        for _ in range(10):
            time.sleep(0.02)
            process.send_signal(signal.SIGINT)
        code = finish(process)[0]
        return [] if code == 0 else ["a tool told to ignore Ctrl-C ended with %s" % code]


def screen(sent):
    """What a terminal shows in the end."""
    rows = [[]]
    column = 0
    for letter in sent.decode():
        if letter == "\n":
            rows.append([])
        elif letter == "\r":
            column = 0
        else:
            row = rows[-1]
            row.extend(" " * (column + 1 - len(row)))
            row[column] = letter
            column += 1
    return [text for text in ("".join(row).rstrip() for row in rows) if text]


def read_all(descriptor):
    sent = b""
    while True:
        try:
            block = os.read(descriptor, 4096)
        except OSError:  # the other end of a terminal is closed
            block = b""
        if not block:
            return sent
        sent += block


def sleepy_run(tool, wait, words, terminal):
    """Exit code and stderr of a run that is put to sleep for over a second."""
    with tempfile.TemporaryDirectory(prefix="undersill-watch-") as scratch:
        ours, theirs = pty.openpty() if terminal else os.pipe()
        process = start(tool, pathlib.Path(scratch), *words, stderr=theirs)
        os.close(theirs)
        time.sleep(wait)
        process.send_signal(signal.SIGSTOP)
        time.sleep(1.1)
        process.send_signal(signal.SIGCONT)
        sent = read_all(ours)
        os.close(ours)
        return finish(process)[0], sent


def progress_comes_and_goes(tool):
    line = re.compile(rb"\rundersill: [a-z ]+(, \d+ unknowns)? \(\d+ s\)")
    words = solving("net.txt", "0.05%")
    for wait in WAITS:
        code, sent = sleepy_run(tool, wait, words, True)
        if line.search(sent):
            break
    else:
        return ["no progress on a terminal: %r" % sent]
    faults = []
    left = [row for row in screen(sent) if not row.startswith("demo.yaml")]
    if code not in (0, 3) or left[-1:] != ["undersill: wrote net.txt"] or any("(" in row
                                                                            for row in left):
        faults.append("progress is still there: exit %s, %r" % (code, screen(sent)))
    for more, terminal in ((("--quiet",), True), ((), False)):
        sent = sleepy_run(tool, wait, words + more, terminal)[1]
        if line.search(sent) or b" s)" in sent:
            faults.append("progress where none belongs: %r" % sent)
    if b"(" in sleepy_run(tool, 0.0, ("check",), True)[1]:
        faults.append("progress of a check")
    return faults


def main():
    parser = argparse.ArgumentParser(description="Interrupts the tool and reads its progress.")
    parser.add_argument("--tool", required=True, type=pathlib.Path)
    tool = parser.parse_args().tool.resolve()
    draw = ("draw", "--width", "4000", "-o", "net.png")
    trials = {
        "Ctrl-C in solve": lambda: signal_stops(tool, signal.SIGINT, solving("a.txt"), "a.txt",
                                                None),
        "SIGTERM in solve": lambda: signal_stops(tool, signal.SIGTERM, solving("a.txt"), "a.txt",
                                                 b"old"),
        "Ctrl-C in draw": lambda: signal_stops(tool, signal.SIGINT, draw, "net.png", b"old"),
        "Ctrl-C twice": lambda: second_signal(tool, 0.4, "early"),
        "Ctrl-C twice in one go": lambda: second_signal(tool, 0.05, "stopped"),
        "Ctrl-C ignored": lambda: ignored_stays_ignored(tool),
        "progress": lambda: progress_comes_and_goes(tool),
    }
    failed = 0
    for name, trial in trials.items():
        faults = trial()
        failed += bool(faults)
        print("%-24s %s" % (name, "; ".join(faults) or "as it should be"))
    sys.exit(1 if failed else 0)


if __name__ == "__main__":
    main()
