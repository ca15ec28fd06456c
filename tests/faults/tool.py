#!/usr/bin/env python3
"""Runs the tool while memory or the file system fails at one point after another.

    tool.py --tool PROGRAM [--all]

PROGRAM is the tool with tests/faults/hook.c linked in. Without --all, points
where memory fails are tried by samples: the library's own tests try each one.
What must hold: the exit status of the contract (70 memory, 4 file system), one
error on stderr that gives the reason, nothing on stdout, no file made or
changed; or all as if nothing had failed.
"""

import argparse
import errno
import os
import pathlib
import subprocess
import sys
import tempfile

SECTION = """\
title: Tiny
bed: {upstream: 11, downstream: 10}
base: 6
structure:
  underside: [[0, 9.5], [4, 9.5]]
  top: [[0, 11], [1, 11], [1, 10], [4, 10]]
walls:
  - {name: crest, x: 0, top: 11, tip: 8}
soils: [{name: sand, kh: 1e-4, unit_weight: 20}]
water: [{name: high, upstream: 12, downstream: 10.5}]
"""
OLD = b"what was there before\n"
SECONDS = 60
SHORT = -1
DISK_ERRORS = {errno.EIO: "Input/output error", errno.EACCES: "ermission denied",
               errno.ENOSPC: "space", errno.EINTR: "", SHORT: ""}
INTERRUPTED = {"open", "read", "write", "fsync", "close"}

COMMANDS = [
    ["check", "in.yaml"],
    ["solve", "in.yaml", "--accuracy", "20%"],
    ["solve", "in.yaml", "--accuracy", "20%", "--format", "json", "-o", "out"],
    ["solve", "in.yaml", "--accuracy", "20%", "--format", "csv", "-o", "new"],
    ["draw", "in.yaml", "--what", "section", "-o", "out.png"],
]


class Bench:
    """The tool in a folder of its own, and what it is expected to do there."""

    def __init__(self, tool, folder):
        self.tool = tool
        self.folder = folder
        self.faults = []
        self.points = {}

    def run(self, command, fault):
        """Exit status, stdout, stderr, files of one run; calls seen, and which failed."""
        for path in self.folder.iterdir():
            path.unlink()
        (self.folder / "in.yaml").write_text(SECTION)
        (self.folder / "out").write_bytes(OLD)
        (self.folder / "out.png").write_bytes(OLD)
        seen = self.folder / "seen"
        done = subprocess.run(
            [self.tool, *command], cwd=self.folder, stdin=subprocess.DEVNULL,
            env={**os.environ, "LC_ALL": "C", "FAULT": fault, "FAULT_SEEN": str(seen)},
            capture_output=True, timeout=SECONDS, check=False)
        calls, failed = seen.read_text().split() if seen.is_file() else (0, "-")
        files = {path.name: path.read_bytes() for path in sorted(self.folder.iterdir())
                 if path.name != "seen"}
        return done.returncode, done.stdout, done.stderr.decode(), files, int(calls), failed

    def complain(self, command, fault, what):
        self.faults.append("%s with %s: %s" % (" ".join(command), fault, what))

    def judge(self, command, fault, run, status, words):
        """A run that did not go as if nothing had failed."""
        code, stdout, stderr, files = run[:4]
        before = {"in.yaml": SECTION.encode(), "out": OLD, "out.png": OLD}
        if code != status:
            self.complain(command, fault, "exit %d instead of %d: %s" % (code, status, stderr))
        if stderr.count("error:") != 1 or words not in stderr:
            self.complain(command, fault, "stderr is: %s" % stderr)
        if stdout and run[5] != "close":  # which tells after the fact
            self.complain(command, fault, "%d bytes on stdout" % len(stdout))
        if files != before:
            self.complain(command, fault, "files: %s" % sorted(files))

    def sweep_memory(self, command, stride):
        sound = self.run(command, "memory:0")
        for at in range(1, sound[4] + 1, stride):
            for later in ("", "+"):
                fault = "memory:%d%s" % (at, later)
                run = self.run(command, fault)
                if run[:4] == sound[:4]:
                    self.count("memory", "carried on")
                else:
                    self.count("memory", "refused")
                    self.judge(command, fault, run, 70, "memory")

    def sweep_disk(self, command):
        sound = self.run(command, "disk:0:0")
        for at in range(1, sound[4] + 1):
            for error, words in DISK_ERRORS.items():
                fault = "disk:%d:%d" % (at, error)
                run = self.run(command, fault)
                carried_on = run[:4] == sound[:4]
                mild = (error == errno.EINTR and run[5] in INTERRUPTED
                        or error == SHORT and run[5] in ("read", "write"))
                if error in (errno.EINTR, SHORT) and not mild:
                    continue  # does not happen
                self.count("disk: " + run[5], "carried on" if carried_on else "refused")
                if mild and not carried_on:
                    self.complain(command, fault, "gave up: %s" % run[2])
                # The end of a file that was read, or whether stdout is the input.
                elif carried_on and not mild and run[5] not in ("close", "stat", "fstat"):
                    self.complain(command, fault, "the fault in %s was passed over" % run[5])
                elif not carried_on:
                    reading = "cannot be read" in run[2]
                    # Where the input cannot be looked at, that is the reason given.
                    words = "the input itself" if "the input itself" in run[2] else words
                    self.judge(command, fault, run, 2 if reading else 4, words)

    def count(self, kind, outcome):
        key = (kind, outcome)
        self.points[key] = self.points.get(key, 0) + 1


def main():
    parser = argparse.ArgumentParser(description="Runs the tool under faults.")
    parser.add_argument("--tool", required=True, type=pathlib.Path)
    parser.add_argument("--all", action="store_true")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="undersill-faults-") as folder:
        bench = Bench(options.tool.resolve(), pathlib.Path(folder))
        for command in COMMANDS:
            bench.sweep_memory(command, 1 if options.all else 199)
            bench.sweep_disk(command)
    for (kind, outcome), count in sorted(bench.points.items()):
        print("%s: %d points %s" % (kind, count, outcome))
    for fault in bench.faults[:40]:
        print("FAILED " + fault)
    print("%d points, %d faults" % (sum(bench.points.values()), len(bench.faults)))
    return 1 if bench.faults or not bench.points else 0


if __name__ == "__main__":
    sys.exit(main())
