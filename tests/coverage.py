#!/usr/bin/env python3
"""Lists the branches that no test took, and their share.

    coverage.py REPORT [--least PERCENT]

REPORT is what `gcovr --json` wrote. Ends with status 1 below PERCENT.
"""

import argparse
import json
import pathlib
import sys


def branches_of(report):
    """(file, line, taken, all) of each line that branches."""
    for file in report["files"]:
        for line in file["lines"]:
            branches = line.get("branches", [])
            if branches and not line.get("gcovr/noncode"):
                taken = sum(branch["count"] > 0 for branch in branches)
                yield file["file"], line["line_number"], taken, len(branches)


def main():
    parser = argparse.ArgumentParser(description="Lists branches not taken.")
    parser.add_argument("report", type=pathlib.Path)
    parser.add_argument("--least", type=float, default=0.0)
    options = parser.parse_args()
    lines = list(branches_of(json.loads(options.report.read_text())))
    total = sum(line[3] for line in lines)
    reached = sum(line[2] for line in lines)
    print("\nBranches that no test took")
    text = {}
    for file, number, taken, count in lines:
        if taken < count:
            if file not in text:
                text[file] = pathlib.Path(file).read_text().splitlines()
            print("%s:%d: %d of %d  %s" % (file, number, count - taken, count,
                                           text[file][number - 1].strip()))
    if total == 0:
        sys.exit("no branch was found")
    share = 100.0 * reached / total
    print("\nbranches of lib/: %d of %d, %.1f %%" % (reached, total, share))
    return 0 if share >= options.least else 1


if __name__ == "__main__":
    sys.exit(main())
