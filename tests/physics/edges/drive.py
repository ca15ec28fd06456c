"""Runs `undersill solve` on every section of tests/data/edges and holds it against the references.

usage: drive.py UNDERSILL [--accuracy A] [NAME...]

Each value has to lie within its stated error and the reference's own. Beside that: flows of the sections
with several pieces of fixed head within 0.05 % and inside their bounds; outflow and open lengths of
one-way beds within 0.5 %; relief by weeps within 0.5 %; all other flows within 0.3 %. Exit gradients and
their means are worked out for the place and depth that the tool states.
"""
import argparse
import json
import os
import subprocess
import sys

import make
import reading
import situations
from border import ENDLESS
from solve import QUICK
from verdict import PRINTED, Verdict

PIECES, ONE_WAY, WEEPS, FLOW = 0.0005, 0.005, 0.005, 0.003
# A flow far below the largest of its section is held to the share of a fifth of that.
SMALL = 0.2
# What the quick solution behind gradients and means may be off.
LOSS = 5e-5


def share_of(name, drain=None):
    if name.startswith("pieces_"):
        return PIECES
    if drain and "weeps" in name:
        return WEEPS
    return ONE_WAY if name.startswith(("dry_", "wet_")) else FLOW


def flows(verdict, entry, water):
    name = verdict.name.split()[0]
    largest = max([abs(entry["flow"]["value"])] if "flow" in entry else [0.0])
    largest = max([largest] + [abs(drain["flow"]) for drain in entry["drains"]])
    if "flow" in entry:
        flow, expected = water["flow"], entry["flow"]
        size = max(abs(expected["value"]), SMALL * largest)
        verdict.near("flow", flow["value"], expected["value"], flow["error"] + expected["error"])
        verdict.near("flow to its share", flow["value"], expected["value"], share_of(name) * size)
        verdict.true("flow: bounds out of order", flow["lower"] <= flow["value"] <= flow["upper"])
        bounded(verdict, "flow", flow, expected, flow["value"])
    else:
        verdict.true("flow: a number where it has no limit", water["flow"]["value"] is None)
    if "base_flow" in entry:
        found, expected = water["base_flow"], entry["base_flow"]
        verdict.near("base", found["value"], expected["value"], found["error"] + expected["error"])
    named = {drain["name"]: drain for drain in water["drains"] if drain["open"]}
    verdict.true("drains: others are open", sorted(named) == [one["name"] for one in entry["drains"]])
    for expected in [drain for drain in entry["drains"] if drain["name"] in named]:
        what, found = f"drain {expected['name']}", named[expected["name"]]
        size = max(abs(expected["flow"]), SMALL * largest)
        verdict.near(what, found["flow"], expected["flow"], found["error"] + expected["error"])
        verdict.near(f"{what} to its share", found["flow"], expected["flow"],
                     share_of(name, expected["name"]) * size)
        verdict.near(f"{what} head", found["head"], expected["head"], 1e-9)
        verdict.true(f"{what}: feeds or not", bool(found["feeds"]) == (expected["flow"] < 0))
        bounded(verdict, what, found, {"value": expected["flow"], "error": expected["error"]},
                found["flow"])


def stretches(verdict, entry, water):
    """Flow of permeable stretches."""
    found = [one for one in water["stretches"] if one["kind"] == "permeable"]
    for n, expected in enumerate(entry["permeable"]):
        size = max(abs(expected["flow"]), SMALL * abs(entry["flow"]["value"]))
        limit = found[n]["flow_error"] + expected["error"]
        verdict.near("permeable", found[n]["flow"], expected["flow"], limit)
        verdict.near("permeable to its share", found[n]["flow"], expected["flow"], FLOW * size)


def bounded(verdict, what, found, expected, value):
    """Where bounds are certified, the reference lies between them."""
    if not found.get("certified") or found.get("lower") is None:
        return
    slack = expected["error"] + PRINTED * abs(value)
    verdict.true(f"{what}: certified bounds leave the reference out",
                 found["lower"] - slack <= expected["value"] <= found["upper"] + slack)


def one_way(verdict, entry, water):
    """Lengths of bed where water comes out and where none does; of two, the one that ends."""
    if "lengths" not in entry:
        return
    found = water["outflow"]
    verdict.near("outflow", found["flow"], entry["outflow"]["value"],
                 found["flow_error"] + entry["outflow"]["error"])
    verdict.near("outflow to its share", found["flow"], entry["outflow"]["value"],
                 ONE_WAY * entry["outflow"]["value"])
    ends = [end for stretch in entry["lengths"] for end in stretch]
    sizes = {"open": None if ends[-1] is None else sum(ends[1::2]) - sum(ends[0::2])}
    if ends[-1] is None:
        sizes["closed"] = sum(ends[0::2]) - sum(ends[1:-1:2])
    for kind, size in sizes.items():
        if size is not None:
            verdict.near(f"length {kind}", found[kind], size, ONE_WAY * size + entry["open_error"])
            verdict.near(f"length {kind} by its error", found[kind], size,
                         found["error"] + entry["open_error"])


def heads(verdict, entry, water):
    named = {gauge["name"]: gauge for gauge in water["piezometers"]}
    for head in entry["heads"]:
        found = named[head["name"]]
        verdict.near(f"head {head['name']}", found["head"], head["value"],
                     found["error"] + head["error"])
    named = {wall["name"]: wall for wall in water["walls"]}
    for wall in entry["walls"]:
        found = named[wall["name"]]
        for part in sorted(set(wall) - {"name", "error"}):
            verdict.near(f"wall {wall['name']} {part}", found[part], wall[part],
                         found["error"] + wall["error"])
    if "uplift" in entry:
        found, expected = water["uplift"], entry["uplift"]
        verdict.near("uplift", found["force"], expected["force"], found["error"] + expected["error"])
        verdict.near("uplift x", found["x"], expected["x"], found["x_error"] + expected["x_error"])


def leave(verdict, entry, found, section, case):
    """The exit: the value at its place, that no steeper place is passed over, and the mean."""
    opened = [(low, ENDLESS if high is None else high)
              for low, high in entry.get("lengths", [[0.0, None]])]
    seen = reading.read(make.solved_as(section, entry), case, QUICK, opened)
    place = (found["x"], found["level"])
    mean = found["mean"]
    if mean["value"] is not None:
        expected = seen.mean(place, mean["depth"])
        verdict.near("mean", mean["value"], expected, mean["error"] + LOSS * abs(expected))
    if found["bounded"] and found["value"] is not None:
        here = seen.gradient(place)
        verdict.near("gradient", found["value"], here, found["error"] + LOSS * abs(here))
        steepest, there = seen.steepest_of_all()
        verdict.true(f"gradient: a steeper place is passed over, {steepest:.6g} at {there}",
                     found["value"] + found["error"] >= steepest * (1 - LOSS))
    elif "exit_gradient" in entry:
        verdict.true("gradient: unbounded at the toe, where it is finite",
                     abs(found["x"] - seen.toe[0]) > 1e-6)


def shut(verdict, entries, water):
    """What the tool says of all drains shut, against the case in which they are."""
    off = next((entry for entry in entries if entry["name"] in ("none", "shut")), None)
    found = water.get("drains_shut")
    if off and found and entries[0] is not off and water["drains"]:
        verdict.near("shut flow", found["flow"]["value"], off["flow"]["value"],
                     found["flow"]["error"] + off["flow"]["error"])
        verdict.near("shut uplift", found["uplift"]["force"], off["uplift"]["force"],
                     found["uplift"]["error"] + off["uplift"]["error"])


def run(tool, accuracy, path):
    done = subprocess.run([tool, "solve", path, "--format", "json", "--accuracy", accuracy],
                          capture_output=True, text=True, check=False)
    if done.returncode != 0:
        return {}, f"exit status {done.returncode}: {done.stderr}"
    return json.loads(done.stdout), ""


def judge(options, name, section, entry):
    """Verdicts of one section, a water case each."""
    out, words = run(options.tool, options.accuracy, os.path.join(make.FOLDER, name + ".yaml"))
    verdicts = []
    if not out:
        verdicts = [Verdict(name)]
        verdicts[0].wrong.append(words)
    for n, case in enumerate(section["water"] if out else []):
        verdict, water = Verdict(f"{name} {case['name']}"), out["water"][n]
        flows(verdict, entry["water"][n], water)
        stretches(verdict, entry["water"][n], water)
        one_way(verdict, entry["water"][n], water)
        heads(verdict, entry["water"][n], water)
        leave(verdict, entry["water"][n], water["exit_gradient"], section, case)
        if n == 0:
            shut(verdict, entry["water"], water)
        verdicts.append(verdict)
    return verdicts, out["grid"]["unknowns"] if out else 0


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("tool")
    parser.add_argument("--accuracy", default="1%")
    parser.add_argument("names", nargs="*")
    options = parser.parse_args()
    entries = make.read()
    wrong = done = 0
    for name, section, _ in situations.every():
        if options.names and name not in options.names:
            continue
        verdicts, unknowns = judge(options, name, section, entries[name])
        for verdict in verdicts:
            wrong += verdict.tell(unknowns)
            done += 1
    print(f"{done} water cases, {wrong} wrong")
    sys.exit(1 if wrong or not done else 0)


main()
