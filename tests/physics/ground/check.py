"""Holds the reference values of tests/data/ground against what made them.

usage: check.py [--all]

Always: the method on a few cases whose answers are known, a quick share of the sections derived anew,
the section files and the closed forms. With --all: every known case and every section (minutes).
"""
import json
import os
import sys

import exact
import known
import make
import reference
import sections
from solve import COARSE, QUICK, Solved
from verdict import Ledger

QUICK_KNOWN = ("A3", "C6", "E3", "F3", "H3")
QUICK_SECTIONS = ("strip_0_30", "key", "trench_sheet", "glacis", "chute_flush")
# Of the head difference, or relative. The worst of the known cases is a head, off by 2.2e-7.
METHOD = 5e-7
# What the quick share may lose beside the fine solution.
LOSS = 1e-5


def method(ledger, everything):
    worst = 0.0
    for case in known.cases():
        if not everything and case["id"] not in QUICK_KNOWN:
            continue
        section = known.section_of(case)
        solved = Solved(section, COARSE, known.deep(case))
        for quantity, (departure, trusted) in known.compare(case, solved).items():
            ledger.near(f"case {case['id']}, {quantity}", departure, 0.0, METHOD + trusted)
            worst = max(worst, abs(departure) - trusted)
        lower, upper = solved.bounds()
        if lower:
            # Rounding alone may cross the bounds.
            ledger.true(f"case {case['id']}: bounds in order", lower < upper * (1 + 1e-8))
    print(f"known cases: largest departure beyond their own error {worst:.1e}")


def polygons(ledger):
    """With more pieces the ring tends to its circles like the cube of their length, the round base
    like the square (so few pieces are 6 % short of it)."""
    for build, order in ((exact.annulus, 3), (exact.disc, 2)):
        departures = []
        for pieces in (6, 12):
            section, _, flow = build(pieces=pieces)
            found = Solved(section, QUICK).flow() / section["soils"][0]["kh"]
            departures.append(found / flow - 1)
        ledger.near(f"{build.__name__}: order in the pieces", departures[0] / departures[1],
                    2 ** order, 0.06 * 2 ** order)


def compare(ledger, name, entry, reading, quick):
    """One section derived anew against the values on file."""
    again = make.parted({key: (value, 0.0) for key, value in reading.values.items()}, [reading] * 3)
    fall = reading.fall

    def near(what, value, expected, error, scale):
        ledger.near(f"{name}, {what}", value, expected, error + (LOSS * scale if quick else 0.0))

    for key, field, scale in (("flow", "value", None), ("uplift", "force", None),
                              ("exit_gradient", "value", None)):
        ledger.true(f"{name}, {key}: there or not", (key in entry) == (key in again))
        if key in entry:
            near(key, again[key][field], entry[key][field], entry[key]["error"], entry[key][field])
    if "exit_gradient" in entry:
        near("exit x", again["exit_gradient"]["x"], entry["exit_gradient"]["x"],
             entry["exit_gradient"]["x_error"], 100.0)
    for old, new in zip(entry["heads"], again["heads"], strict=True):
        near("head " + old["name"], new["value"], old["value"], old["error"], fall)
    for old, new in zip(entry["walls"], again["walls"], strict=True):
        for part in set(old) - {"name", "error"}:
            near(f"wall {old['name']} {part}", new[part], old[part], old["error"], fall)


def closed(ledger, name, section, entry, answers):
    """The values on file against closed forms, which are worked out anew."""
    water = section["water"][0]
    fall = water["upstream"] - water["downstream"]
    found = make.exact_of(section, answers, fall, water["downstream"])
    ledger.true(f"{name}: closed form on file", ("exact" in entry) == (found is not None))
    if not found:
        return
    slack = found["slack"]
    if "flow" in found:
        ledger.near(f"{name}: flow by closed form", entry["flow"]["value"], found["flow"],
                    slack * found["flow"] + entry["flow"]["error"])
    for old, new in zip(entry["heads"], found.get("heads", []), strict=True):
        ledger.near(f"{name}: head {old['name']} by closed form", old["value"], new["value"],
                    slack * fall + old["error"])
    if "gradient" in found:
        ledger.near(f"{name}: gradient by closed form", entry["exit_gradient"]["value"],
                    found["gradient"], slack * found["gradient"] + entry["exit_gradient"]["error"])


def main():
    everything = "--all" in sys.argv[1:]
    ledger = Ledger()
    with open(make.EXPECTED, encoding="utf-8") as stream:
        entries = {entry["name"]: entry for entry in json.load(stream)["sections"]}
    method(ledger, everything)
    polygons(ledger)
    names = []
    for name, section, answers in sections.every():
        names.append(name)
        with open(os.path.join(make.FOLDER, name + ".yaml"), encoding="utf-8") as stream:
            ledger.true(f"{name}.yaml is the section", stream.read() == sections.file_of(section))
        closed(ledger, name, section, entries[name], answers)
        if everything or name in QUICK_SECTIONS:
            fineness = COARSE if everything else QUICK
            reading = reference.Reading(section, reference.solved(section, fineness))
            compare(ledger, name, entries[name], reading, not everything)
    ledger.true("no section without a reference, none twice", names == list(entries))
    ledger.close()


main()
