"""Trials of a drive.py: a tool that is right or wrong in one way, and what has to be said of it."""
import os
import subprocess
import sys
import tempfile


def carry_out(driver, variable, trials):
    """`driver` is the program that also serves as the tool, with the trial in the environment variable;
    a trial: sections, exit status of drive.py beside it, words in its output."""
    drive = os.path.join(os.path.dirname(os.path.abspath(driver)), "drive.py")
    wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        tool = os.path.join(folder, "tool")
        with open(tool, "w", encoding="utf-8") as stream:
            stream.write(f"#!/bin/sh\nexec '{sys.executable}' -B '{os.path.abspath(driver)}' \"$@\"\n")
        os.chmod(tool, 0o755)
        for trial, (names, status, words) in trials.items():
            done = subprocess.run([sys.executable, "-B", drive, tool, *names],
                                  env={**os.environ, variable: trial}, capture_output=True,
                                  text=True, check=False)
            right = done.returncode == status and words in done.stdout
            print(f"{trial}: {'as it should' if right else 'NOT AS IT SHOULD'}")
            if not right:
                print(f"exit status {done.returncode}, expected {status} and '{words}'\n{done.stdout}"
                      f"{done.stderr}")
            wrong += not right
    sys.exit(1 if wrong else 0)
