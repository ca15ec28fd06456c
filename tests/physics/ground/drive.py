"""Runs `undersill solve` on every section of tests/data/ground and holds it against the references.

usage: drive.py UNDERSILL [--accuracy A] [NAME...]

Each value has to lie within its stated error and the reference's own; flow also within 0.3 %. Means
of the exit gradient are worked out for the place and depth that the tool states.

As long as the tool answers `not yet` to every section, this is a skip (exit status 77). Once it
accepts one, it has to accept all.
"""
import argparse
import json
import os
import subprocess
import sys

import make
import reference
import sections
from ground import level
from solve import QUICK
from verdict import PRINTED, Verdict

SKIP = 77
FLOW = 0.003
# What the quick solution behind the means may be off.
LOSS = 2e-5
# What nothing, a gradient of zero, may be off.
TRIFLE = 1e-12


def compare(verdict, entry, water, section):
    if "flow" in entry:
        flow, expected = water["flow"], entry["flow"]
        verdict.near("flow", flow["value"], expected["value"], flow["error"] + expected["error"])
        verdict.near("flow within 0.3 %", flow["value"], expected["value"], FLOW * expected["value"])
        verdict.true("flow: bounds out of order", flow["lower"] <= flow["value"] <= flow["upper"])
        if flow["certified"]:
            verdict.true("flow: certified bounds leave the reference out",
                         flow["lower"] * (1 - PRINTED) <= expected["upper"]
                         and flow["upper"] * (1 + PRINTED) >= expected["lower"])
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
    leave(verdict, entry, water["exit_gradient"], section)


def leave(verdict, entry, found, section):
    """The exit: the value at its place, that no steeper place is passed over, and the mean."""
    reading = reference.Reading(section, reference.solved(section, QUICK))
    place = (found["x"], found["level"])
    mean = found["mean"]
    expected = reading.mean(place, mean["depth"])
    verdict.near("mean", mean["value"], expected, mean["error"] + LOSS * expected)
    expected = entry.get("exit_gradient")
    if found["bounded"] and found["value"] is not None:
        here = reading.gradient(place)
        verdict.near("gradient", found["value"], here, found["error"] + LOSS * here)
        if expected:
            verdict.true("gradient: a steeper place is passed over", found["value"] + found["error"]
                         >= expected["value"] - expected["error"])
    elif expected:
        # Where the tool has another place in mind, that must really be unbounded: not the toe.
        verdict.true("gradient: unbounded at the toe, where it is finite",
                     abs(found["x"] - reading.toe[0]) > 1e-6)
    profile(verdict, reading, found, section)


def profile(verdict, reading, found, section):
    """Every point of the profile, and that none of them is steeper than the exit reported."""
    known = [point for point in found["profile"] if point["value"] is not None]
    for point in known:
        place = (point["x"], level(section["bed"]["downstream"], point["x"]))
        # In the sharp corner between a falling bed and the toe nothing flows.
        falls = level(section["bed"]["downstream"], place[0] + 1e-6) < place[1]
        expected = 0.0 if falls and place[0] == reading.toe[0] else reading.gradient(place)
        verdict.near(f"profile at {place[0]:.9g}", point["value"], expected,
                     point["error"] + LOSS * expected + TRIFLE)
    if found["bounded"] and found["value"] is not None:
        verdict.true("profile: steeper than the exit", all(
            point["value"] - point["error"] <= found["value"] + found["error"] for point in known))


def run(tool, accuracy, path):
    done = subprocess.run([tool, "solve", path, "--format", "json", "--accuracy", accuracy],
                          capture_output=True, text=True, check=False)
    if done.returncode == 2 and "not yet" in done.stderr:
        return None, done.stderr
    if done.returncode != 0:
        return {}, f"exit status {done.returncode}: {done.stderr}"
    return json.loads(done.stdout), ""


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("tool")
    parser.add_argument("--accuracy", default="1%")
    parser.add_argument("names", nargs="*")
    options = parser.parse_args()
    with open(make.EXPECTED, encoding="utf-8") as stream:
        entries = {entry["name"]: entry for entry in json.load(stream)["sections"]}
    refused, wrong, done = [], 0, 0
    for name, section, _ in sections.every():
        if options.names and name not in options.names:
            continue
        out, words = run(options.tool, options.accuracy, os.path.join(make.FOLDER, name + ".yaml"))
        done += 1
        if out is None:
            refused.append(name)
            continue
        verdict = Verdict(name)
        if out:
            compare(verdict, entries[name], out["water"][0], section)
        else:
            verdict.wrong.append(words)
        wrong += verdict.tell(out["grid"]["unknowns"] if out else 0)
    if done and len(refused) == done:
        print(f"SKIPPED: the tool answers `not yet` to all {done} sections")
        sys.exit(SKIP)
    for name in refused:
        print(f"WRONG {name}: refused as `not yet`, though other sections are accepted")
    print(f"{done} sections, {wrong + len(refused)} wrong")
    sys.exit(1 if wrong or refused or not done else 0)


main()
