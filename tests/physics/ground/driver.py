"""Shows that drive.py passes right answers, catches wrong ones, and skips only when all is refused.

A tool of its own gives the references back as results, altered where a trial says so. Run as that
tool, by drive.py: `driver.py solve PATH ...` with the trial in the environment.
"""
import json
import os
import sys

from ground import level
from trials import carry_out

ERROR = 1e-3
SHEET, FLUSH = "trench_sheet", "chute_flush"
# Trial: (sections, exit status of drive.py, words in its output).
TRIALS = {
    "right": ((SHEET, FLUSH), 0, "2 sections, 0 wrong"),
    "refuses_all": ((SHEET, FLUSH), 77, "SKIPPED"),
    "refuses_one": ((SHEET, FLUSH), 1, "refused as `not yet`"),
    "refuses_for_another_reason": ((SHEET, FLUSH), 1, "exit status 2"),
    "flow_off": ((SHEET,), 1, "WRONG flow"),
    "flow_off_by_more_than_its_limit": ((SHEET,), 1, "WRONG flow within"),
    "head_off": ((SHEET,), 1, "WRONG head P2"),
    "tip_off": ((SHEET,), 1, "WRONG wall sheet tip"),
    "uplift_off": ((FLUSH,), 1, "WRONG uplift"),
    "mean_off": ((SHEET,), 1, "WRONG mean"),
    "gradient_off": ((SHEET,), 1, "WRONG gradient"),
    "profile_off": ((FLUSH,), 1, "WRONG profile at"),
    "profile_above_the_exit": ((SHEET,), 1, "WRONG profile: steeper"),
    "gradient_absent": ((SHEET,), 1, "WRONG gradient: unbounded at the toe"),
}


def answer(entry, reading):
    """The references in the shape of `solve --format json`."""
    flow = entry["flow"]["value"]
    place = reading.toe
    aside = (place[0] + 1.5, level(reading.section["bed"]["downstream"], place[0] + 1.5))
    gradient = entry.get("exit_gradient")
    return {
        "flow": {"value": flow, "error": ERROR * flow, "certified": True,
                 "lower": flow * (1 - ERROR), "upper": flow * (1 + ERROR)},
        "exit_gradient": {
            "value": gradient and gradient["value"], "error": gradient and ERROR * gradient["value"],
            "x": place[0], "level": place[1], "bounded": gradient is not None,
            "mean": {"value": reading.mean(place, 1.0), "error": ERROR, "depth": 1.0},
            "profile": [{"x": place[0], "value": gradient and gradient["value"], "error": ERROR},
                        {"x": aside[0], "value": reading.gradient(aside), "error": ERROR}]},
        "uplift": {**entry.get("uplift", {}), "error": 1.0, "x_error": ERROR},
        "walls": [{**wall, "error": ERROR} for wall in entry["walls"]],
        "piezometers": [{"name": head["name"], "head": head["value"], "error": ERROR}
                        for head in entry["heads"]],
    }


def act(trial, path):
    import make
    import reference
    import sections
    from solve import QUICK
    name = os.path.basename(path).removesuffix(".yaml")
    if trial == "refuses_all" or (trial == "refuses_one" and name == FLUSH):
        print("a sloped piece is not yet known", file=sys.stderr)
        sys.exit(2)
    if trial == "refuses_for_another_reason":
        print("the base lies above the bed", file=sys.stderr)
        sys.exit(2)
    section = next(section for found, section, _ in sections.every() if found == name)
    with open(make.EXPECTED, encoding="utf-8") as stream:
        entry = next(e for e in json.load(stream)["sections"] if e["name"] == name)
    water = answer(entry, reference.Reading(section, reference.solved(section, QUICK)))
    alter(trial, water)
    print(json.dumps({"water": [water], "grid": {"unknowns": 0}}))


def alter(trial, water):
    if trial == "flow_off":
        water["flow"]["value"] *= 1 + 2 * ERROR
    if trial == "flow_off_by_more_than_its_limit":
        water["flow"]["value"] *= 1.004
        water["flow"]["error"] *= 100
    if trial == "head_off":
        water["piezometers"][1]["head"] += 2 * ERROR
    if trial == "tip_off" and water["walls"]:
        water["walls"][0]["tip"] += 2 * ERROR
    if trial == "uplift_off" and "force" in water["uplift"]:
        water["uplift"]["force"] += 2
    if trial == "mean_off":
        water["exit_gradient"]["mean"]["value"] += 2 * ERROR
    if trial == "gradient_off" and water["exit_gradient"]["bounded"]:
        water["exit_gradient"]["value"] *= 1 + 3 * ERROR
    if trial == "profile_off":
        water["exit_gradient"]["profile"][1]["value"] += 2 * ERROR
    if trial == "profile_above_the_exit" and water["exit_gradient"]["bounded"]:
        water["exit_gradient"]["profile"][1]["value"] += 1
    if trial == "gradient_absent":
        water["exit_gradient"].update(value=None, bounded=False)


if __name__ == "__main__":
    if sys.argv[1:2] == ["solve"]:
        act(os.environ["GROUND_TRIAL"], sys.argv[2])
    else:
        carry_out(__file__, "GROUND_TRIAL", TRIALS)
