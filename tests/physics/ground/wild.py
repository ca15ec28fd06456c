"""Random valid sections with slopes, dips and lenses: each has to be solved.

Exit status 0, or 3 where the accuracy is not reached; inflow and outflow agree within 1e-8 k H; flow
lies within its bounds; heads at walls lie between the two water levels. Section N is the same on
every machine.

usage: wild.py UNDERSILL FIRST COUNT [--print]
"""
import json
import math
import random
import subprocess
import sys
import time

UPSTREAM, DOWNSTREAM = 13.0, 11.5
BALANCE = 1e-8
PRINTED = 1e-8
ACCURACY = "5%"
LIMIT_S = 120


def broken(draw, low, high, level, spread, most, least=0):
    """Points at random places between two x, around a level."""
    places = sorted({round(draw.uniform(low, high), 2) for _ in range(draw.randint(least, most))})
    return [[x, round(level + draw.uniform(-spread, spread), 2)] for x in places]


def conductivities(draw, low, high):
    return "kh: %.3g, kv: %.3g" % (10 ** draw.uniform(low, high), 10 ** draw.uniform(low, high))


def walls_of(draw, width):
    if not width:
        return [(0, 10, round(draw.uniform(4, 8), 2))]
    walls = [(draw.choice([0, 0, round(width / 3, 2)]), 9.9, round(draw.uniform(4, 8), 2))]
    if draw.random() < 0.7:
        walls.append((width, 9.45, round(draw.uniform(3.5, 8), 2)))
    return walls


def lens(draw, name, width):
    """A convex outline around a place that may reach out of the soil."""
    x, z = draw.uniform(-8, width + 8), draw.uniform(1, 9)
    corners, start = draw.randint(3, 7), draw.uniform(0, 6)
    outline = [[round(x + draw.uniform(0.5, 3) * math.cos(start + 2 * math.pi * k / corners), 2),
                round(z + draw.uniform(0.2, 1.2) * math.sin(start + 2 * math.pi * k / corners), 2)]
               for k in range(corners)]
    return f"{{soil: {name}, outline: {outline}}}"


def section(number):
    draw = random.Random(number)
    width = draw.choice([0, 5, 12])
    upstream = [point for point in broken(draw, -30, -1, 10, 1.5, 4, 1) if point[0] < 0] + [[0, 10]]
    downstream = [[width, 9.5]] + broken(draw, width + 1, width + 30, 9, 1.2, 4)
    lines = [f"bed: {{upstream: {upstream}, downstream: {downstream}}}",
             f"base: {broken(draw, -40, 50, 0, 2, 5, 1) if draw.random() < 0.85 else 'none'}"]
    if width:
        underside = [[0, round(draw.uniform(9, 9.9), 2)], *broken(draw, 0.5, width - 0.5, 9.2, 0.5, 3),
                     [width, round(draw.uniform(8.6, 9.4), 2)]]
        lines.append(f"structure: {{underside: {underside}}}")
    walls = [f"{{x: {x}, top: {top}, tip: {tip}}}" for x, top, tip in walls_of(draw, width)]
    lines.append(f"walls: [{', '.join(walls)}]")
    soils = [f"{{name: top, {conductivities(draw, -6, -4)}}}"]
    for k in range(draw.randint(0, 2)):
        top = broken(draw, -20, 30, 7.5 - 2.5 * k, 0.8, 3, 1)
        soils.append(f"{{name: layer_{k}, top: {top}, {conductivities(draw, -7, -3)}}}")
    zones = []
    for k in range(draw.randint(0, 2)):
        soils.append("{name: lens_%d, kh: %.3g}" % (k, 10 ** draw.uniform(-8, -3)))
        zones.append(lens(draw, f"lens_{k}", width))
    lines.append(f"soils: [{', '.join(soils)}]")
    if zones:
        lines.append(f"zones: [{', '.join(zones)}]")
    lines.append(f"water: [{{upstream: {UPSTREAM}, downstream: {DOWNSTREAM}}}]")
    return "\n".join(lines) + "\n"


def faults(out):
    """What is wrong with the results, in words."""
    water = out["water"][0]
    flow = water["flow"]
    found = []
    if not out["grid"]["mass_balance"] <= BALANCE:
        found.append(f"mass balance {out['grid']['mass_balance']}")
    if flow["bounded"] and not (flow["lower"] * (1 - PRINTED) <= flow["value"]
                                <= flow["upper"] * (1 + PRINTED)):
        found.append(f"flow {flow}")
    for wall in water["walls"]:
        for place in ("upstream_face_top", "tip", "downstream_face_top"):
            head = wall[place]
            if head is not None and not DOWNSTREAM - 1e-6 <= head <= UPSTREAM + 1e-6:
                found.append(f"head {head} at {place} of {wall['name']}")
    return found


def check(tool, number):
    """True when the accuracy was reached; ends the program on any fault."""
    text = section(number)
    done = subprocess.run([tool, "solve", "-", "--format", "json", "--accuracy", ACCURACY],
                          input=text, capture_output=True, text=True, check=False, timeout=LIMIT_S)
    found = [f"exit status {done.returncode}"]
    if done.returncode in (0, 3):
        found = faults(json.loads(done.stdout))
    if found:
        sys.exit(f"section {number}: {'; '.join(found)}\n{done.stderr}\n{text}")
    return done.returncode == 0


def main():
    tool, first, count = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
    if "--print" in sys.argv:
        print(section(first), end="")
        return
    begun = time.monotonic()
    reached = sum(check(tool, number) for number in range(first, first + count))
    print(f"sections {first} to {first + count - 1}: all solved, {count - reached} short of"
          f" {ACCURACY}, {time.monotonic() - begun:.0f} s")


if __name__ == "__main__":
    main()
