"""Holds the reference values of tests/data/edges against what made them.

usage: check.py [--all]

Always: closed forms, the row of holes in three dimensions, the section files, laws that the values obey,
and a quick share of the sections derived anew. With --all: every section (minutes).
"""
import os
import sys

import closed
import holes
import make
import oneway
import reading
import situations
from border import ENDLESS
from solve import COARSE, QUICK
from verdict import Ledger
from water import equal_strip

QUICK_SECTIONS = ("floor_weeps", "weeps_two_rows", "pieces_4", "void", "artesian_leaky", "clogged",
                  "dry_bank_layers", "wet_foot", "side_own")
# What the quick share may lose beside the fine solution: of the head difference or the largest flow.
LOSS = 1e-5
# Of the head behind the end of an open stretch: what a hundredth of a millimetre does to it.
ROOT = 2e-6


def strips(ledger):
    """The equal strip against holes in three dimensions: its width is off by under 1 % up to a diameter
    of a quarter of the spacing; holes that nearly touch are worth nearly a strip of their diameter."""
    for share in (0.03, 0.1, 0.25):
        ledger.near(f"width of the equal strip at {share}", equal_strip(share, 1.0),
                    holes.width(share, 1.0), 0.01 * holes.width(share, 1.0))
    wide = [holes.width(share, 1.0) / share for share in (0.25, 0.5, 0.75, 0.95)]
    ledger.true("holes that close up tend to a strip", wide == sorted(wide) and 0.8 < wide[-1] < 1)
    # Four places that harmonically part each other: a square.
    ledger.near("a map of modulus one", float(closed.passed(0, 1, 2, closed.mpmath.mpf(10) ** 60)), 1.0,
                1e-12)


def exact(ledger, name, section, entry, answers):
    found = make.exact_of(section, answers)
    ledger.true(f"{name}: closed form on file", ("exact" in entry) == (found is not None))
    if not found:
        return
    water = entry["water"][0]
    drains = {drain["name"]: drain for drain in water["drains"]}
    for drain, flow in found["drains"].items():
        ledger.near(f"{name}: drain {drain} by closed form", drains[drain]["flow"], flow,
                    found["slack"] * abs(flow) + drains[drain]["error"])
    if "flow" in found:
        ledger.near(f"{name}: flow by closed form", water["flow"]["value"], found["flow"],
                    found["slack"] * found["flow"] + water["flow"]["error"])


def laws(ledger, entries):
    """What holds whatever the method."""
    row = [entries[f"weeps_{name}"]["water"][0]["drains"][0]["flow"]
           for name in ("4_8", "2_4", "1_2", "strip")]
    ledger.true("weeps draw more as they close up, a strip the most", row == sorted(row))
    cases = {case["name"]: case for case in entries["shut"]["water"]}
    lift = [cases[name]["uplift"]["force"] for name in ("flood", "one", "none")]
    ledger.true("each drain that is shut raises uplift", lift == sorted(lift))
    ledger.true("a drain that feeds has a negative flow",
                entries["pieces_6"]["water"][0]["drains"][0]["flow"] < 0)


def stretched(ledger):
    """A row of weeps in soil twice as loose level as a stretched section says: the floor keeps its lengths,
    depth halves, and flows go with the geometric mean of the conductivities."""
    flows = []
    for depth, kv in ((9.0, 2e-5), (4.5, 0.5e-5)):
        _, section, _ = next(one for one in situations.relief() if one[0] == "floor_weeps")
        section = {**section, "base": 100.0 - depth, "soils": [{"name": "sand", "kh": 2e-5, "kv": kv}],
                   "piezometers": []}
        values = reading.read(section, section["water"][0], QUICK).values
        flows.append([values[key] / (2e-5 * kv) ** 0.5 for key in ("flow", "drain weeps")])
    for one, two in zip(*flows):
        ledger.near("flow in stretched soil", two, one, LOSS * one)


def again(ledger, name, section, entry, everything):
    for case, expected in zip(section["water"], entry["water"], strict=True):
        fineness = COARSE if everything else QUICK
        opened = [(low, ENDLESS if high is None else high)
                  for low, high in expected.get("lengths", [[0.0, None]])]
        seen = reading.read(make.solved_as(section, expected), case, fineness, opened)
        found = make.parted({key: (value, 0.0) for key, value in seen.values.items()}, seen, [seen])
        compare(ledger, f"{name} {case['name']}", expected, found, 0.0 if everything else LOSS)
        if "lengths" in expected:
            over, into = oneway.breaches(seen.solution, seen.ground)
            ledger.near(f"{name}: head above a shut bed", over, 0.0, 1e-6)
            ledger.near(f"{name}: flow into an open one", into, 0.0, 1e-6)
            ends = {end for begin, stop, *_ in seen.ground.bed_line for end in (begin, stop)}
            for low, high in opened:
                for end, way in ((low, -1), (high, 1)):
                    if end < ENDLESS and min(abs(end - other) for other in ends) > 1e-6:
                        ledger.near(f"{name}: root of the head behind {end:.6g}", oneway.coefficient(
                            seen.solution, seen.ground, end, way), 0.0, ROOT)


def compare(ledger, name, old, new, loss):
    """One case derived anew against the values on file."""
    largest = max([abs(old[key]["value"]) for key in ("flow", "outflow", "base_flow") if key in old]
                  + [abs(drain["flow"]) for drain in old["drains"]], default=0.0)
    for key, field, scale in (("flow", "value", largest), ("outflow", "value", largest),
                              ("base_flow", "value", largest), ("uplift", "force", None),
                              ("exit_gradient", "value", None)):
        ledger.true(f"{name}, {key}: there or not", (key in old) == (key in new))
        if key in old:
            size = scale if scale is not None else abs(old[key][field])
            ledger.near(f"{name}, {key}", new[key][field], old[key][field], old[key]["error"] + loss * size)
    for kind, field in (("drains", "flow"), ("permeable", "flow"), ("heads", "value")):
        for one, two in zip(old[kind], new[kind], strict=True):
            size = largest if field == "flow" else 1.0
            ledger.near(f"{name}, {kind} {one.get('name', '')}", two[field], one[field],
                        one["error"] + loss * size)
    for one, two in zip(old["walls"], new["walls"], strict=True):
        for part in set(one) - {"name", "error"}:
            ledger.near(f"{name}, wall {one['name']} {part}", two[part], one[part], one["error"] + loss)


def main():
    everything = "--all" in sys.argv[1:]
    ledger = Ledger()
    entries = make.read()
    strips(ledger)
    stretched(ledger)
    names = []
    for name, section, answers in situations.every():
        names.append(name)
        with open(os.path.join(make.FOLDER, name + ".yaml"), encoding="utf-8") as stream:
            ledger.true(f"{name}.yaml is the section", stream.read() == make.file_of(section))
        exact(ledger, name, section, entries[name], answers)
        if everything or name in QUICK_SECTIONS:
            again(ledger, name, section, entries[name], everything)
    ledger.true("no section without a reference, none twice", names == list(entries))
    laws(ledger, entries)
    ledger.close()


main()
