#!/usr/bin/env python3
"""Runs the tool as users run it: a folder a case.

    run.py --tool PATH [--update] [--under COMMAND] [--seconds N] [FOLDER...]

A case is a folder with a file `command`; a FOLDER may be one or hold many.
It is run in a copy of itself, under the folder's own name for files. Files:

  command      arguments of the tool, quoted as in a shell; each line is one run;
               @examples@ is the folder of the example sections
  stdin        what the runs read from stdin; nothing without it
  pipe.sh      run by sh, its output goes into the tool's stdin
  make.sh      run by sh in the copy before the first run
  stdout.to    a path that stdout is opened on, such as /dev/full, or `closed`
  exit         exit codes expected, one a run (one alone counts for all)
  stdout       stdout expected, all runs together; free where absent
  stderr       stderr expected, all runs together; empty where absent, unless
               stderr.has is there
  stdout.has   lines that must occur in stdout, whole or in part
  stderr.has   the same for stderr
  made         names of the files that must be new or changed afterwards; where
               other files are, the case fails

A run that takes over 20 s (--seconds) fails its case. --under starts each run
through a command, quoted as in a shell: `valgrind -q`, `env NAME=VALUE`. --update
writes exit, stderr and, where there is one, stdout as they came out: read the
difference before you keep it.
"""

import argparse
import os
import pathlib
import shlex
import shutil
import subprocess
import sys
import tempfile

EXAMPLES = str(pathlib.Path(__file__).resolve().parents[2] / "examples")
# What libraries keep to the end of the process is no leak of ours.
LEAKS = pathlib.Path(__file__).resolve().parents[1] / "support" / "leaks.txt"
PLAIN = {**os.environ, "LC_ALL": "C", "ASAN_OPTIONS": "exitcode=99",
         "LSAN_OPTIONS": "print_suppressions=0:suppressions='%s'" % LEAKS}


def read(path):
    return path.read_bytes() if path.is_file() else None


def lines(path):
    text = read(path)
    return [] if text is None else [line for line in text.decode().splitlines() if line]


def listing(folder):
    found = {}
    for path in sorted(folder.rglob("*")):
        name = str(path.relative_to(folder))
        size = path.lstat()
        content = path.read_bytes() if path.is_file() and size.st_size < 1 << 20 else size.st_size
        found[name] = (size.st_mode, content if not path.is_symlink() else os.readlink(path))
    return found


def open_stdout(place):
    target = lines(place / "stdout.to")
    if not target or target[0] == "closed":
        return subprocess.PIPE
    return open(target[0], "wb")  # pylint: disable=consider-using-with


def run_tool(options, arguments, place):
    """Exit code, stdout and stderr of one run in the folder `place`."""
    words = [word.replace("@examples@", EXAMPLES) for word in shlex.split(arguments)]
    words = words[1:] if words[:1] == ["undersill"] else words
    words = [*shlex.split(options.under), str(options.tool.resolve()), *words]
    if lines(place / "stdout.to") == ["closed"]:
        words = ["sh", "-c", 'exec "$0" "$@" >&-', *words]
    source = open(place / "stdin" if (place / "stdin").is_file() else os.devnull, "rb")
    feeder = None
    if (place / "pipe.sh").is_file():
        feeder = subprocess.Popen(["sh", "pipe.sh"], cwd=place, stdout=subprocess.PIPE,
                                  stderr=subprocess.DEVNULL)
        source = feeder.stdout
    stdout = open_stdout(place)
    try:
        done = subprocess.run(words, cwd=place, stdin=source, stdout=stdout, env=PLAIN,
                              stderr=subprocess.PIPE, timeout=options.seconds, check=False)
        return done.returncode, done.stdout or b"", done.stderr
    except subprocess.TimeoutExpired:
        return "over %d s" % options.seconds, b"", b""
    finally:
        source.close()
        if stdout != subprocess.PIPE:
            stdout.close()
        if feeder is not None:
            feeder.kill()
            feeder.wait()


def run_case(options, case, place):
    """Exit codes, stdout, stderr of all runs, and the names changed, made or gone."""
    if (case / "make.sh").is_file():
        subprocess.run(["sh", "make.sh"], cwd=place, check=True, timeout=options.seconds)
    before = listing(place)
    runs = [run_tool(options, line, place) for line in lines(case / "command")]
    after = listing(place)
    made = sorted(name for name in before.keys() | after.keys()
                  if before.get(name) != after.get(name))
    return ([run[0] for run in runs], b"".join(run[1] for run in runs),
            b"".join(run[2] for run in runs), made)


def compare(what, expected, actual):
    if expected == actual:
        return []
    shown = ["  | " + line for line in actual.decode(errors="replace").splitlines()[:60]]
    wanted = ["  | " + line for line in expected.decode(errors="replace").splitlines()[:60]]
    return ["%s is" % what, *shown, "instead of", *wanted]


def faults_of(case, result):
    codes, stdout, stderr, made = result
    faults = []
    wanted = [int(line) for line in lines(case / "exit")]
    wanted = wanted * len(codes) if len(wanted) == 1 else wanted
    if codes != wanted or not codes:
        faults.append("exit %s instead of %s" % (codes, wanted))
    if (case / "stdout").is_file():
        faults += compare("stdout", read(case / "stdout"), stdout)
    if (case / "stderr").is_file() or not (case / "stderr.has").is_file():
        faults += compare("stderr", read(case / "stderr") or b"", stderr)
    for name, text in (("stdout", stdout), ("stderr", stderr)):
        for line in lines(case / (name + ".has")):
            if line.encode() not in text:
                faults.append("%s lacks: %s" % (name, line))
                faults += ["  | " + said for said in text.decode(errors="replace").splitlines()[:40]]
    expected = sorted(lines(case / "made"))
    if made != expected:
        faults.append("made or changed %s instead of %s" % (made, expected))
    return faults


def update(case, result):
    codes, stdout, stderr = result[:3]
    codes = codes[:1] if len(set(codes)) == 1 else codes
    (case / "exit").write_text("".join("%s\n" % code for code in codes))
    if (case / "stdout").is_file():
        (case / "stdout").write_bytes(stdout)
    if stderr and not (case / "stderr.has").is_file():
        (case / "stderr").write_bytes(stderr)
    elif not stderr and (case / "stderr").is_file():
        (case / "stderr").unlink()


def check(options, case):
    """Faults of a case, found in a copy of its folder."""
    with tempfile.TemporaryDirectory(prefix="undersill-case-") as scratch:
        place = pathlib.Path(scratch) / case.name
        shutil.copytree(case, place, symlinks=True)
        result = run_case(options, case, place)
        if options.update:
            update(case, result)
        return faults_of(case, result)


def cases_in(folder):
    folder = pathlib.Path(folder).resolve()
    if not folder.is_dir():
        sys.exit("%s: no such folder" % folder)
    return sorted(path.parent for path in folder.rglob("command"))


def main():
    parser = argparse.ArgumentParser(description="Runs command-line cases.")
    parser.add_argument("--tool", required=True, type=pathlib.Path)
    parser.add_argument("--update", action="store_true")
    parser.add_argument("--under", default="")
    parser.add_argument("--seconds", type=int, default=20)
    parser.add_argument("folders", nargs="*", default=[pathlib.Path(__file__).parent])
    options = parser.parse_args()
    cases = [case for folder in options.folders for case in cases_in(folder)]
    failed = 0
    for case in cases:
        faults = check(options, case)
        if faults:
            failed += 1
            print("FAILED %s/%s" % (case.parent.name, case.name))
            print("".join("  %s\n" % fault for fault in faults), end="")
    print("%d passed, %d failed" % (len(cases) - failed, failed))
    return 1 if failed or not cases else 0


if __name__ == "__main__":
    sys.exit(main())
