"""Shows that drive.py passes right answers and catches wrong ones.

A tool of its own gives the references back as results, altered where a trial says so. Run as that
tool, by drive.py: `driver.py solve PATH ...` with the trial in the environment.
"""
import json
import os
import sys

from border import ENDLESS
from trials import carry_out

ERROR = 1e-3
PIECES, BANK, WEEPS, SHUT = "pieces_1", "dry_bank", "floor_weeps", "shut"
# Trial: (sections, exit status of drive.py, words in its output).
TRIALS = {
    "right": ((PIECES, BANK, WEEPS, SHUT), 0, "6 water cases, 0 wrong"),
    "refuses": ((BANK,), 1, "exit status 2"),
    "flow_off": ((BANK,), 1, "WRONG flow:"),
    "flow_off_by_more_than_its_share": ((PIECES,), 1, "WRONG flow to its share"),
    "drain_off": ((WEEPS,), 1, "WRONG drain weeps:"),
    "drain_off_by_more_than_its_share": ((PIECES,), 1, "WRONG drain relief to its share"),
    "drain_head_off": ((PIECES,), 1, "WRONG drain relief head"),
    "drain_feeds": ((PIECES,), 1, "feeds or not"),
    "bounds_beside": ((PIECES,), 1, "leave the reference out"),
    "drain_missing": ((PIECES,), 1, "others are open"),
    "outflow_off": ((BANK,), 1, "WRONG outflow:"),
    "open_length_off": ((BANK,), 1, "WRONG length open"),
    "head_off": ((PIECES,), 1, "WRONG head P2"),
    "tip_off": ((PIECES,), 1, "WRONG wall crest tip"),
    "uplift_off": ((PIECES,), 1, "WRONG uplift"),
    "mean_off": ((PIECES,), 1, "WRONG mean"),
    "gradient_off": ((PIECES,), 1, "WRONG gradient"),
    "gradient_absent": ((PIECES,), 1, "WRONG gradient: unbounded at the toe"),
    "shut_off": ((SHUT,), 1, "WRONG shut flow"),
}


def pair(value):
    return {"value": value, "error": ERROR * abs(value)}


def answer(entry, seen):
    """The references in the shape of `solve --format json`."""
    flow = entry["flow"]["value"]
    place = seen.toe
    gradient = entry.get("exit_gradient")
    steepest, there = seen.steepest_of_all()
    if gradient and steepest > gradient["value"]:
        gradient, place = {"value": steepest}, there
    lengths = entry.get("lengths")
    return {
        "flow": {**pair(flow), "certified": True, "lower": flow - ERROR * abs(flow),
                 "upper": flow + ERROR * abs(flow)},
        "drains": [{"name": drain["name"], "flow": drain["flow"], "head": drain["head"],
                    "error": ERROR * abs(drain["flow"]), "feeds": drain["flow"] < 0, "open": True}
                   for drain in entry["drains"]],
        "stretches": [], "outflow": lengths and {
            "open": sum(high - low for low, high in lengths), "closed": None, "error": 0.1,
            "flow": entry["outflow"]["value"], "flow_error": ERROR * entry["outflow"]["value"]},
        "exit_gradient": {
            "value": gradient and gradient["value"], "error": gradient and ERROR * gradient["value"],
            "x": place[0], "level": place[1], "bounded": gradient is not None,
            "mean": {**pair(seen.mean(place, 1.0)), "depth": 1.0}},
        "uplift": {**entry.get("uplift", {}), "error": 1.0, "x_error": ERROR},
        "walls": [{**wall, "error": ERROR} for wall in entry["walls"]],
        "piezometers": [{"name": head["name"], "head": head["value"], "error": ERROR}
                        for head in entry["heads"]],
    }


def act(trial, path):
    import make
    import reading
    import situations
    from solve import QUICK
    if trial == "refuses":
        print("the base lies above the bed", file=sys.stderr)
        sys.exit(2)
    name = os.path.basename(path).removesuffix(".yaml")
    section = next(section for found, section, _ in situations.every() if found == name)
    waters = []
    for case, entry in zip(section["water"], make.read()[name]["water"]):
        opened = [(low, ENDLESS if high is None else high)
                  for low, high in entry.get("lengths", [[0.0, None]])]
        waters.append(answer(entry, reading.read(section, case, QUICK, opened)))
    waters[0]["drains_shut"] = {"flow": dict(waters[-1]["flow"]), "uplift": dict(waters[-1]["uplift"])}
    alter(trial, waters[0])
    print(json.dumps({"water": waters, "grid": {"unknowns": 0}}))


def alter(trial, water):
    drain = water["drains"][0] if water["drains"] else {}
    if trial == "flow_off":
        water["flow"]["value"] *= 1 + 2 * ERROR
        water["flow"]["upper"] = water["flow"]["value"]
    if trial == "flow_off_by_more_than_its_share":
        water["flow"]["value"] *= 1.0007
    if trial == "drain_off":
        drain["flow"] *= 1 + 2 * ERROR
    if trial == "drain_off_by_more_than_its_share":
        drain["flow"] *= 1.0007
    if trial == "drain_head_off":
        drain["head"] += 1e-6
    if trial == "drain_feeds":
        drain["feeds"] = True
    if trial == "bounds_beside":
        water["flow"]["lower"] = water["flow"]["value"] = water["flow"]["value"] * 1.0001
    if trial == "drain_missing":
        drain["open"] = False
    if trial == "outflow_off":
        water["outflow"]["flow"] *= 1 + 2 * ERROR
    if trial == "open_length_off":
        water["outflow"]["open"] *= 1.006
    if trial == "head_off":
        water["piezometers"][1]["head"] += 2 * ERROR
    if trial == "tip_off":
        water["walls"][0]["tip"] += 2 * ERROR
    if trial == "uplift_off":
        water["uplift"]["force"] += 2
    if trial == "mean_off":
        water["exit_gradient"]["mean"]["value"] *= 1 + 2 * ERROR
    if trial == "gradient_off":
        water["exit_gradient"]["value"] *= 1 + 2 * ERROR
    if trial == "gradient_absent":
        water["exit_gradient"].update(value=None, bounded=False)
    if trial == "shut_off":
        water["drains_shut"]["flow"]["value"] *= 1 + 2 * ERROR


if __name__ == "__main__":
    if sys.argv[1:2] == ["solve"]:
        act(os.environ["EDGES_TRIAL"], sys.argv[2])
    else:
        carry_out(__file__, "EDGES_TRIAL", TRIALS)
