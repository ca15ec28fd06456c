"""Writes tests/data/ground: a section file each, and what the sections should give.

usage: make.py [NAME...]   (all of them take some minutes)
"""
import json
import os
import sys

import reference
import sections
from known import DATA

FOLDER = os.path.join(DATA, "ground")
EXPECTED = os.path.join(FOLDER, "expected.json")
ABOUT = (
    "Values for the section files beside this one, from tests/physics/ground and nothing of Undersill. "
    "Units of the files (m, m/s, kN/m). 'error' bounds the value's own error: three times the change "
    "that the last refinement made, and for flow at least half the distance of two bounds. 'steps' "
    "are the values of three finenesses, the last of which is taken. Exit gradients are the slope of "
    "head square to the bed at the steepest place beside the toe; absent where that is unbounded or "
    "a hollow of the bed is. 'exact' is a closed form for the same section or one that departs from it "
    "by no more than 'slack' (of the head difference, or of the flow).")


def parted(values, steps):
    """Values by name into the shape of the results of solve."""
    entry = {}
    walls, heads = {}, []
    for name, (value, error) in values.items():
        kind, *rest = name.split()
        if kind == "head":
            heads.append({"name": rest[0], "value": value, "error": error})
        elif kind == "wall":
            part = walls.setdefault(rest[0], {"name": rest[0], "error": 0.0})
            part[rest[1]] = value
            part["error"] = max(part["error"], error)
    if "flow" in values:
        lower, upper = (bound * steps[-1].fall for bound in steps[-1].solution.bounds())
        entry["flow"] = {"value": values["flow"][0], "error": values["flow"][1], "lower": lower,
                         "upper": upper, "steps": [step.values["flow"] for step in steps]}
    entry["heads"], entry["walls"] = heads, list(walls.values())
    if "uplift force" in values:
        entry["uplift"] = {"force": values["uplift force"][0], "error": values["uplift force"][1],
                           "x": values["uplift x"][0], "x_error": values["uplift x"][1]}
    if "exit gradient" in values:
        x, x_error = values.get("exit x", (steps[-1].steepest[0], 0.0))
        entry["exit_gradient"] = {
            "value": values["exit gradient"][0], "error": values["exit gradient"][1], "x": x,
            "x_error": x_error, "level": float(steps[-1].steepest[1]),
            "steps": [step.values["exit gradient"] for step in steps]}
    return entry


def exact_of(section, answers, fall, low):
    """What the closed forms say, in the units of the file."""
    found = {"slack": answers.get("slack", 0.0)}
    if "flow" in answers:
        found["flow"] = answers["flow"] * section["soils"][0]["kh"] * fall
    if "heads" in answers:
        found["heads"] = [{"name": gauge["name"], "value": low + fall * float(head_of(answers, gauge))}
                          for gauge in section["piezometers"]]
    if "gradient" in answers:
        found["gradient"] = answers["gradient"]["gradient"] * fall
        found["x"] = answers["gradient"]["x"]
    return found if len(found) > 1 else None


def head_of(answers, gauge):
    if "side" in gauge:
        return answers["heads"](gauge["at"], gauge["side"])
    return answers["heads"](gauge["at"])


def main():
    wanted = sys.argv[1:]
    kept = {}
    if wanted:
        with open(EXPECTED, encoding="utf-8") as stream:
            kept = {entry["name"]: entry for entry in json.load(stream)["sections"]}
    entries = []
    for name, section, answers in sections.every():
        if wanted and name not in wanted:
            if name in kept:
                entries.append(kept[name])
            continue
        values, steps = reference.reference(section)
        entry = {"name": name, "file": name + ".yaml", "title": section["title"],
                 **parted(values, steps)}
        exact = exact_of(section, answers, steps[-1].fall, steps[-1].low)
        if exact:
            entry["exact"] = exact
        entries.append(entry)
        with open(os.path.join(FOLDER, name + ".yaml"), "w", encoding="utf-8") as stream:
            stream.write(sections.file_of(section))
        print(name, len(steps[-1].solution.mesh.triangles), "triangles", flush=True)
    with open(EXPECTED, "w", encoding="utf-8") as stream:
        json.dump({"about": ABOUT, "sections": entries}, stream, indent=1)
        stream.write("\n")


if __name__ == "__main__":
    main()
