"""Cases whose answers are known (tests/data/cases.json) as sections, to prove the method on them."""
import json
import os

import numpy

DATA = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "data")
DEEP = 2e4


def usable(case):
    walls = case["geometry"].get("walls", [])
    return all(wall["kind"] == "impervious" for wall in walls) and case["family"] != "leaky-1d"


def section_of(case):
    geometry = case["geometry"]
    base = geometry["base_y"]
    section = {
        "bed": {"upstream": geometry["bed_up_y"], "downstream": geometry["bed_down_y"]},
        "base": "none" if base is None else base,
        "walls": [{"name": f"w{n}", "x": wall["x"], "top": wall["y_top"], "tip": wall["y_bottom"]}
                  for n, wall in enumerate(geometry["walls"])],
        "soils": [{"name": f"s{n}", "kh": soil["kh"], "kv": soil["kv"],
                   **({"top": soil["y_top"]} if n else {})}
                  for n, soil in enumerate(case["layers"])],
    }
    floor = geometry["floor"]
    if floor:
        section["structure"] = {"underside": [[floor["x1"], floor["underside_y"]],
                                              [floor["x2"], floor["underside_y"]]]}
    if isinstance(case["lateral"], dict):
        section["sides"] = {"left": {"x": case["lateral"]["x_left"], "kind": "fixed_head"},
                            "right": {"x": case["lateral"]["x_right"], "kind": "fixed_head"}}
    return section


def compare(case, solved):
    """Largest departure of flow (relative), heads (share of H) and exit gradient (relative), each with
    the error of the known value."""
    expected, trusted = case["expected"], case["trusted_error"]
    departures = {}
    if "q_over_kH" in expected:
        departures["flow"] = (solved.flow() / expected["k_ref"] / expected["q_over_kH"] - 1,
                              trusted["q"])
    heads = [solved.head.at((place["x"], place["y"]), place["side"]) - place["h"]
             for place in expected["heads_fraction"]]
    if heads:
        departures["heads"] = (max(heads, key=abs), trusted["heads_abs"])
    gradient = expected.get("exit_gradient_over_H_per_m")
    if isinstance(gradient, float):
        at = expected["exit_gradient_at"]
        found = -solved.head.gradient((at["x"], at["y"]), at["side"])[1]
        departures["exit gradient"] = (found / gradient - 1, trusted["exit_gradient"])
    if "uplift_excess_mean_fraction" in expected:
        floor = case["geometry"]["floor"]
        mean = solved.head.uplift()[0] / (floor["x2"] - floor["x1"])
        departures["uplift"] = (mean / expected["uplift_excess_mean_fraction"] - 1,
                                trusted["uplift"])
    return departures


def cases():
    with open(os.path.join(DATA, "cases.json"), encoding="utf-8") as stream:
        return [case for case in json.load(stream)["cases"] if usable(case)]


def deep(case):
    """Depth at which soil without a bottom is cut."""
    places = [abs(wall["y_bottom"]) for wall in case["geometry"]["walls"]]
    floor = case["geometry"]["floor"]
    return DEEP * numpy.clip(max(places + ([abs(floor["x1"]), floor["x2"]] if floor else [])), 1, 10)
