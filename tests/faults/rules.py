#!/usr/bin/env python3
"""Where results may be written, and how: the rules that need more than a folder
of files to try them (devices, pipes, links, signals, permissions).

    rules.py --tool PROGRAM
"""

import argparse
import fcntl
import os
import pathlib
import resource
import signal
import stat
import subprocess
import sys
import tempfile
import threading
import time

SECTION = """\
bed: {upstream: 11, downstream: 10}
base: 6
walls: [{name: wall, x: 0, top: 12, tip: 8}]
soils: [{name: sand, kh: 1e-4, unit_weight: 20}]
water: [{name: high, upstream: 12, downstream: 10.5}]
"""
SOLVE = ["solve", "in.yaml", "--accuracy", "20%"]
SECONDS = 60


class Place:
    """A folder with a section in it, and the tool run there."""

    def __init__(self, tool, folder):
        self.tool = tool
        self.folder = pathlib.Path(folder)
        self.environment = {}
        (self.folder / "in.yaml").write_text(SECTION)

    def run(self, *arguments, **how):
        how = {"stdin": subprocess.DEVNULL, "stdout": subprocess.PIPE, **how}
        return subprocess.run([self.tool, *arguments], cwd=self.folder, stderr=subprocess.PIPE,
                              env={**os.environ, "LC_ALL": "C", **self.environment}, timeout=SECONDS, check=False,
                              **how)

    def path(self, name):
        return self.folder / name

    def names(self):
        return sorted(os.listdir(self.folder))

    def refuses(self, done, *words):
        """Exit 4, one error with these words, nothing on stdout, the input as it was."""
        said = done.stderr.decode(errors="replace")
        expect(done.returncode == 4, "exit %d: %s" % (done.returncode, said))
        expect(said.count("error:") == 1, "one error, not: " + said)
        for word in words:
            expect(word in said, "%r in: %s" % (word, said))
        expect(not done.stdout, "nothing on stdout")
        expect(self.path("in.yaml").read_text() == SECTION, "the input as it was")
        left = [name for name in self.names() if name.endswith(".part")]
        expect(not left, "no temporary file, not %s" % left)


def expect(held, what):
    if not held:
        raise AssertionError(what)


def table_of(place):
    done = place.run(*SOLVE)
    expect(done.returncode == 0 and len(done.stdout) > 1000, "a table")
    return done.stdout


def stdout_onto_the_input(place):
    for mode in ("ab", "r+b"):
        with open(place.path("in.yaml"), mode) as out:
            place.refuses(place.run(*SOLVE, stdout=out), "stdout leads to the input itself")
    os.link(place.path("in.yaml"), place.path("other"))
    with open(place.path("other"), "ab") as out:
        place.refuses(place.run(*SOLVE, stdout=out), "input itself")
    with open(place.path("in.yaml"), "rb") as source, open(place.path("in.yaml"), "ab") as out:
        place.refuses(place.run("solve", "-", stdin=source, stdout=out), "input itself")


def output_onto_the_input(place):
    os.symlink("in.yaml", place.path("link"))
    os.link(place.path("in.yaml"), place.path("hard"))
    for name in ("in.yaml", "link", "hard", "/dev/fd/0", "/dev/stdin", "./in.yaml"):
        with open(place.path("in.yaml"), "r+b") as source:
            place.refuses(place.run("solve", "-", "-o", name, stdin=source), "input itself")
    for name in ("in.yaml", "link", "hard", str(place.path("in.yaml"))):
        place.refuses(place.run(*SOLVE, "-o", name), "input itself")
    place.refuses(place.run("solve", "link", "-o", "hard"), "input itself")


def a_device_stays_one(place):
    for name in ("/dev/null", "null"):
        if name == "null":
            os.symlink("/dev/null", place.path("null"))
        for _ in range(2):
            done = place.run(*SOLVE, "-o", name)
            expect(done.returncode == 0, done.stderr)
    expect(stat.S_ISCHR(os.stat("/dev/null").st_mode), "/dev/null a device")
    expect(place.path("null").is_symlink(), "the link as it was")
    for command in (SOLVE, ["draw", "in.yaml", "--format", "png"], ["check", "in.yaml"]):
        place.refuses(place.run(*command, "-o", "/dev/full"), "/dev/full", "no space")
    expect(stat.S_ISCHR(os.stat("/dev/full").st_mode), "/dev/full a device")


def a_full_stdout(place):
    runs = [SOLVE, [*SOLVE, "--format", "json"], ["check", "in.yaml"], ["example"], ["--help"],
            ["solve", "--help"], ["--version"], ["example", "--list"],
            ["draw", "in.yaml", "-o", "-", "--format", "svg"]]
    for arguments in runs:
        with open("/dev/full", "wb") as out:
            place.refuses(place.run(*arguments, stdout=out), "stdout cannot be written: No space")


def a_pipe_is_a_stream(place):
    expected = table_of(place)
    os.mkfifo(place.path("pipe"))
    got = []
    reader = threading.Thread(target=lambda: got.append(place.path("pipe").read_bytes()))
    reader.start()
    done = place.run(*SOLVE, "-o", "pipe")
    reader.join(SECONDS)
    expect(done.returncode == 0 and got == [expected], "the table through the pipe")
    expect(stat.S_ISFIFO(os.stat(place.path("pipe")).st_mode), "still a pipe")


def nobody_reads(place):
    """The signal is left as it is, so the shell sees a tool that ended quietly."""
    for arguments in (SOLVE, ["example"], ["--help"]):
        for ignored in (False, True):
            readable, writable = os.pipe()
            os.close(readable)
            what = signal.SIG_IGN if ignored else signal.SIG_DFL
            done = place.run(*arguments, stdout=writable, restore_signals=False,
                             preexec_fn=lambda what=what: signal.signal(signal.SIGPIPE, what))
            os.close(writable)
            expect(done.returncode == (4 if ignored else -signal.SIGPIPE), done.returncode)
            expect(not done.stderr, done.stderr)


def a_pipe_that_does_not_block(place):
    """Whoever made stdout non-blocking gets all of it all the same, however late."""
    expected = place.run("draw", "in.yaml", "-o", "-", "--format", "png", "--width", "4000").stdout
    readable, writable = os.pipe()
    fcntl.fcntl(writable, fcntl.F_SETPIPE_SZ, 4096)
    os.set_blocking(writable, False)
    got = []

    def read_slowly():
        time.sleep(0.3)
        while chunk := os.read(readable, 65536):
            got.append(chunk)

    reader = threading.Thread(target=read_slowly)
    reader.start()
    done = place.run("draw", "in.yaml", "-o", "-", "--format", "png", "--width", "4000",
                     stdout=writable)
    os.close(writable)
    reader.join(SECONDS)
    os.close(readable)
    expect(len(expected) > 3 * 4096, "more than the pipe holds")
    expect(done.returncode == 0, done.stderr)
    expect(b"".join(got) == expected, "the whole picture")


def links(place):
    expected = table_of(place)
    place.path("real").write_text("old")
    os.symlink("real", place.path("link"))
    os.symlink("link", place.path("far"))
    expect(place.run(*SOLVE, "-o", "far").returncode == 0, "written through two links")
    expect(place.path("far").is_symlink() and place.path("link").is_symlink(), "links stay")
    expect(place.path("real").read_bytes() == expected, "the file they lead to")
    os.symlink("nowhere", place.path("dangling"))
    place.refuses(place.run(*SOLVE, "-o", "dangling"), "dangling", "leads nowhere")
    os.symlink("round", place.path("round"))
    place.refuses(place.run(*SOLVE, "-o", "round"), "round")
    place.path("place").mkdir()
    os.symlink("place", place.path("to_place"))
    place.refuses(place.run(*SOLVE, "-o", "to_place"), "folder")
    place.refuses(place.run(*SOLVE, "-o", "place"), "folder")
    expect(not os.path.lexists(place.path("nowhere")), "nothing made at the end of a link")


def permissions(place):
    old = os.umask(0o027)
    try:
        expect(place.run(*SOLVE, "-o", "new").returncode == 0, "written")
    finally:
        os.umask(old)
    expect(stat.S_IMODE(os.stat(place.path("new")).st_mode) == 0o640, "the mode of the umask")
    place.path("kept").write_text("old")
    place.path("kept").chmod(0o604)
    os.link(place.path("kept"), place.path("twin"))
    expect(place.run(*SOLVE, "-o", "kept").returncode == 0, "written")
    expect(stat.S_IMODE(os.stat(place.path("kept")).st_mode) == 0o604, "the mode of the target")
    expect(place.path("twin").read_text() == "old", "the other name keeps the old content")
    if os.geteuid() == 0:
        return  # root may write anywhere
    place.path("shut").mkdir(mode=0o555)
    place.refuses(place.run(*SOLVE, "-o", "shut/table"), "permission denied")
    place.path("kept").chmod(0o444)
    place.refuses(place.run(*SOLVE, "-o", "kept"), "permission denied")


def names(place):
    for name in ("n" * 255, "-table", "--output", "with space\nand line", "\u202egnp.x", "é" * 60):
        done = place.run(*SOLVE, "-o", "./" + name)
        expect(done.returncode == 0, "%r: %s" % (name, done.stderr))
        expect(place.path(name).is_file(), name)
        expect("\u202e" not in done.stderr.decode() and done.stderr.count(b"\n") == 1, done.stderr)
        place.path(name).unlink()
    place.path("-in.yaml").write_text(SECTION)
    expect(place.run("solve", "--", "-in.yaml").returncode == 0, "an input after --")
    expect(place.run("solve", "in.yaml", "-o", "-x").returncode == 0, "-o takes the next word")
    expect(place.path("-x").is_file(), "-x")
    place.refuses(place.run(*SOLVE, "-o", "n" * 256), "too long")
    place.refuses(place.run(*SOLVE, "-o", "n/" * 3000), "too long")
    place.refuses(place.run(*SOLVE, "-o", ""), "empty")


def over_the_size_limit(place):
    place.path("kept").write_text("old")
    done = place.run(*SOLVE, "-o", "kept",
                     preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (64, 64)))
    place.refuses(done, "kept", "size")
    expect(place.path("kept").read_text() == "old", "the old content")


def short_of_memory(place):
    """Under less and less memory the tool does all of its work or none."""
    outcomes = set()
    # OpenBLAS interrupts the process that cannot start its threads, before main().
    place.environment["OPENBLAS_NUM_THREADS"] = "1"
    for limit in [*range(8, 600, 23), 4096]:
        place.path("net.png").write_text("old")
        done = place.run("draw", "in.yaml", "-o", "net.png",
                         preexec_fn=lambda limit=limit: resource.setrlimit(
                             resource.RLIMIT_AS, (limit << 20, limit << 20)))
        outcomes.add(done.returncode)
        if done.returncode == 70:
            said = done.stderr.decode()
            expect(said.count("error:") == 1 and "memory" in said, said)
        if done.returncode != 0:
            expect(place.path("net.png").read_text() == "old", "the old content")
        # 127: not even the libraries could be loaded; or the loader was ended.
        expect(done.returncode in (0, 70, 127, -signal.SIGSEGV, -signal.SIGKILL),
               "%d MiB: exit %d: %s" % (limit, done.returncode, done.stderr))
        if done.returncode == -signal.SIGSEGV:
            expect(not done.stderr and limit < 40, "only the loader may fall, not at %d" % limit)
    expect({0, 70} <= outcomes, "both ends seen, not %s" % outcomes)


RULES = [stdout_onto_the_input, output_onto_the_input, a_device_stays_one, a_full_stdout,
         a_pipe_is_a_stream, nobody_reads, a_pipe_that_does_not_block, links, permissions, names,
         over_the_size_limit]


def main():
    parser = argparse.ArgumentParser(description="Tries the rules of output.")
    parser.add_argument("--tool", required=True, type=pathlib.Path)
    parser.add_argument("--memory", action="store_true",
                        help="under limits of memory instead; sanitizers need too much for it")
    options = parser.parse_args()
    rules = [short_of_memory] if options.memory else RULES
    failed = 0
    for rule in rules:
        with tempfile.TemporaryDirectory(prefix="undersill-rules-") as folder:
            try:
                rule(Place(options.tool.resolve(), folder))
                print("passed %s" % rule.__name__)
            except AssertionError as fault:
                failed += 1
                print("FAILED %s: expected %s" % (rule.__name__, fault))
    print("%d passed, %d failed" % (len(rules) - failed, failed))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
