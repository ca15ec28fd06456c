"""Writes tests/data/edges: a section file each, and what its water cases should give.

usage: make.py [NAME...]   (all of them take half an hour; several may run side by side)
"""
import fcntl
import json
import os
import sys

import oneway
import reading
import situations
from border import ENDLESS
from sections import flow_style

HERE = os.path.dirname(os.path.abspath(__file__))
FOLDER = os.path.join(HERE, "..", "..", "data", "edges")
EXPECTED = os.path.join(FOLDER, "expected.json")
KEYS = ("title", "bed", "base", "structure", "walls", "soils", "zones", "drains", "piezometers", "sides",
        "water")
ABOUT = (
    "Values for the section files beside this one, from tests/physics/edges and nothing of Undersill. "
    "Units of the files (m, m/s, kN/m). 'error' bounds the value's own error: three times the change "
    "that the last refinement made, and rounding. 'steps' are the values of three finenesses, the last of "
    "which is taken. 'flow' is the net inflow through the upstream bed and side; absent where it has no "
    "limit. 'base_flow' enters through the base. Flow of drains and permeable stretches is positive where water leaves the soil; 'open' of "
    "these is how far they let water up. Elsewhere 'open' are "
    "the stretches of a one-way bed where water comes out, from place to place, null for one without "
    "end; 'lengths' the same along the bed from the toe. 'exact' are closed forms, off by no more "
    "than the share 'slack'.")


def file_of(section):
    """The section as a section file."""
    lines = []
    for key in KEYS:
        value = section.get(key)
        if isinstance(value, list) and isinstance(value[0], dict):
            lines += [f"{key}:", *(f"  - {flow_style(item)}" for item in value)]
        elif value is not None:
            lines.append(f"{key}: {flow_style(value)}")
    return "\n".join(lines) + "\n"


def parted(values, seen, steps=()):
    """Values by name, each with its error, into the shape of the results of solve."""
    entry = {"name": seen.case["name"], "drains": [], "permeable": [], "heads": [], "walls": []}
    walls = {}
    for name, (value, error) in values.items():
        kind, *rest = name.split()
        pair = {"value": value, "error": error}
        if kind in ("flow", "outflow", "base_flow"):
            entry[kind] = {**pair, "steps": [step.values[name] for step in steps]}
        elif kind == "drain":
            entry["drains"].append({"name": rest[0], "flow": value, "error": error,
                                    "head": float(seen.ground.outlet(seen.ground.drain(rest[0]))),
                                    "steps": [step.values[name] for step in steps]})
        elif kind == "permeable":
            stretch = seen.section["structure"]["permeable"][int(rest[0])]
            entry["permeable"].append({"flow": value, "error": error, "open": [float(x) for x in stretch]})
        elif kind == "head":
            entry["heads"].append({"name": rest[0], **pair})
        elif kind == "wall":
            part = walls.setdefault(rest[0], {"name": rest[0], "error": 0.0})
            part[rest[1]] = value
            part["error"] = max(part["error"], error)
    entry["drains"].sort(key=lambda drain: drain["name"])
    entry["permeable"].sort(key=lambda stretch: stretch["open"])
    entry["walls"] = list(walls.values())
    if "uplift force" in values:
        (force, error), (x, x_error) = values["uplift force"], values["uplift x"]
        entry["uplift"] = {"force": force, "error": error, "x": x, "x_error": x_error,
                           "suction": seen.suction}
    if "exit gradient" in values:
        x, x_error = values.get("exit x", (seen.steepest[0], 0.0))
        value, error = values["exit gradient"]
        entry["exit_gradient"] = {"value": value, "error": error, "x": x, "x_error": x_error,
                                  "level": float(seen.steepest[1])}
    return entry


def solved_as(section, entry):
    """The section with permeable stretches as far as they let water up."""
    for n, stretch in enumerate(entry["permeable"]):
        section = oneway.part_shut(section, n, stretch["open"][1])
    return section


def places(stretches, ground):
    def place(s):
        return None if s == ENDLESS else [float(v) for v in ground.bed_place(s)]
    return [[place(low), place(high)] for low, high in stretches]


def entry_of(section, case):
    values, steps, (stretches, off) = reading.reference(section, case)
    seen = steps[-1]
    entry = parted(values, seen, steps)
    if reading.dry(section, case):
        entry["lengths"] = [[low, None if high == ENDLESS else high] for low, high in stretches]
        entry["open"] = places(stretches, seen.ground)
        entry["open_error"] = off
    return entry, len(seen.solution.mesh.triangles)


def exact_of(section, answers):
    """Closed forms in the units of the file."""
    if not answers:
        return None
    k = section["soils"][0]["kh"]
    found = {"slack": answers.get("slack", 0.0),
             "drains": {name: flow * k for name, flow in answers.get("drains", {}).items()}}
    if "flow" in answers:
        found["flow"] = answers["flow"] * k
    return found


def read():
    with open(EXPECTED, encoding="utf-8") as stream:
        return {entry["name"]: entry for entry in json.load(stream)["sections"]}


def keep(entry):
    """Puts an entry into the file, in the order of the sections."""
    lock = os.open(FOLDER, os.O_RDONLY)
    fcntl.flock(lock, fcntl.LOCK_EX)
    try:
        kept = {**(read() if os.path.exists(EXPECTED) else {}), entry["name"]: entry}
        listed = [kept[name] for name, *_ in situations.every() if name in kept]
        text = json.dumps({"about": ABOUT, "sections": listed}, indent=1) + "\n"
        with open(EXPECTED + ".new", "w", encoding="utf-8") as stream:
            stream.write(text)
        os.replace(EXPECTED + ".new", EXPECTED)
    finally:
        os.close(lock)


def main():
    wanted = sys.argv[1:]
    for name, section, answers in situations.every():
        if wanted and name not in wanted:
            continue
        entry = {"name": name, "file": name + ".yaml", "title": section["title"], "water": []}
        for case in section["water"]:
            found, triangles = entry_of(section, case)
            entry["water"].append(found)
            print(name, case["name"], triangles, "triangles", flush=True)
        exact = exact_of(section, answers)
        if exact:
            entry["exact"] = exact
        keep(entry)
        with open(os.path.join(FOLDER, name + ".yaml"), "w", encoding="utf-8") as stream:
            stream.write(file_of(section))


if __name__ == "__main__":
    main()
