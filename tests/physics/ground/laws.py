"""Two laws of sloping ground, on what the tool prints.

Order: flow, and heads in the root mean square over the piezometers, approach the independent reference
with the square of the cells, at least with the power 1.8, also where edges cut cells at any angle. Sameness: another description of the same
ground (points on straight lines, layers and zones of equal soil, a wall in two pieces, a lens in two
parts) gives the same numbers to 1e-9.

usage: laws.py UNDERSILL
"""
import json
import math
import os
import subprocess
import sys

import make

ORDER = 1.8
RUNGS = "4"
SECTIONS = ("ring", "glacis", "dip_10", "lens_gravel")
# Below this share an error is that of the printed digits.
PRINTED = 2e-8
SAME = 1e-9

PLAIN = """bed: {upstream: [[-20, 2], [-10, 0]], downstream: [[6, 0], [12, -2]]}
base: [[-30, -8], [30, -11]]
structure: {underside: [[-4, 0], [0, -0.5], [6, 0]]}
walls: [{name: a, x: -4, top: 0, tip: -4}, {name: b, x: 3, top: -0.25, tip: -3}]
soils:
  - {name: s, kh: 2e-5, kv: 1e-5}
  - {name: t, top: [[-20, -4], [20, -7]], kh: 1e-4, kv: 1e-4}
  - {name: lens, kh: 1e-3, kv: 1e-3}
zones: [{soil: lens, outline: [[-2, -5], [2, -5.5], [3, -4.8], [0, -4.2]]}]
piezometers: [{name: P, at: [1, -2]}]
water: [{name: w, upstream: 4, downstream: 0.5}]
"""
WORDY = """bed:
  upstream: [[-20, 2], [-15, 1], [-10, 0], [-7, 0]]
  downstream: [[6, 0], [9, -1], [12, -2], [40, -2]]
base: [[-30, -8], [0, -9.5], [30, -11]]
structure: {underside: [[-4, 0], [-2, -0.25], [0, -0.5], [3, -0.25], [6, 0]]}
walls:
  - {name: a, x: -4, top: 0, tip: -2}
  - {name: a2, x: -4, top: -2, tip: -4}
  - {name: b, x: 3, top: -0.25, tip: -3}
soils:
  - {name: s, kh: 2e-5, kv: 1e-5}
  - {name: s2, top: [[-20, -1], [20, -3]], kh: 2e-5, kv: 1e-5}
  - {name: t, top: [[-20, -4], [0, -5.5], [20, -7]], kh: 1e-4, kv: 1e-4}
  - {name: lens, kh: 1e-3, kv: 1e-3}
  - {name: same, kh: 1e-4, kv: 1e-4}
zones:
  - {soil: same, outline: [[-8, -7], [-5, -7], [-6, -6.5]]}
  - {soil: lens, outline: [[-2, -5], [0, -5.25], [2, -5.5], [0, -4.2]]}
  - {soil: lens, outline: [[0, -4.2], [2, -5.5], [3, -4.8]]}
piezometers: [{name: P, at: [1, -2]}]
water: [{name: w, upstream: 4, downstream: 0.5}]
"""


def run(tool, *words, text=None):
    done = subprocess.run([tool, *words, "--format", "json"], input=text, capture_output=True,
                          text=True, check=False)
    if done.returncode != 0:
        sys.exit(f"{words}: exit status {done.returncode}\n{done.stderr}")
    return json.loads(done.stdout)


def order_of(errors):
    """Over the whole ladder; None where the errors are those of the printed digits."""
    first, last = errors[0], max(errors[-1], PRINTED)
    return math.log2(first / last) / (len(errors) - 1) if first > 8 * PRINTED else None


def errors_of(out, names, exact, scale):
    """Root mean square over the named quantities, a value a grid."""
    found = [quantity for quantity in out["quantities"]
             if (quantity["quantity"], quantity["place"]) in names]
    if len(found) != len(names):
        sys.exit(f"{len(found)} of {len(names)} quantities found")
    sums = [0.0] * len(out["grids"])
    for quantity in found:
        value = exact[(quantity["quantity"], quantity["place"])]
        for k, grid in enumerate(quantity["grids"]):
            sums[k] += ((grid["value"] - value) / scale) ** 2
    return [math.sqrt(total / len(found)) for total in sums]


def check_orders(tool, expected):
    wrong = 0
    for name in SECTIONS:
        out = run(tool, "converge", os.path.join(make.FOLDER, name + ".yaml"), "--rungs", RUNGS)
        heads = {("head", "piezometer " + head["name"]): head["value"]
                 for head in expected[name]["heads"]}
        flow = {("flow", None): expected[name]["flow"]["value"]}
        for what, exact, scale in (("flow", flow, flow[("flow", None)]),
                                   ("heads", heads, out["water"]["head_difference"])):
            errors = errors_of(out, exact.keys(), exact, scale)
            order = order_of(errors)
            print(f"{name}: {what}: order {order:.2f}, errors "
                  + ", ".join(f"{error:.1e}" for error in errors))
            wrong += order is None or order < ORDER
    return wrong


def numbers(out):
    water = out["water"][0]
    return [water["flow"]["value"], water["flow"]["lower"], water["flow"]["upper"],
            water["exit_gradient"]["mean"]["value"], water["uplift"]["force"], water["uplift"]["x"],
            water["piezometers"][0]["head"], water["walls"][-1]["tip"]]


def main():
    tool = sys.argv[1]
    with open(make.EXPECTED, encoding="utf-8") as stream:
        expected = {entry["name"]: entry for entry in json.load(stream)["sections"]}
    wrong = check_orders(tool, expected)
    plain = numbers(run(tool, "solve", "-", text=PLAIN))
    wordy = numbers(run(tool, "solve", "-", text=WORDY))
    for one, other in zip(plain, wordy):
        if abs(one - other) > SAME * abs(one):
            print(f"another description: {one:.9g} becomes {other:.9g}")
            wrong += 1
    if wrong:
        sys.exit(f"{wrong} wrong")


main()
