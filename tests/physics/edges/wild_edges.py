"""Random valid sections of ../ground/wild.py with all that may stand at the edges of soil: drains and
weeps, clogged or shut or in the soil, permeable stretches, voids, seals, dry and half-dry beds, scour,
water below the base, sides with heads of their own.

The program edge_sections (tests/physics/random) reads and solves them, and says what has to hold of
each solution: mass balance, bounds, heads at walls between those of all water, no inflow through dry
bed, open and shut stretches found in 30 steps, no numbers for a case that is undermined. Section N is
the same on every machine.

usage: wild_edges.py EDGE_SECTIONS FIRST COUNT [--print]
       wild_edges.py UNDERSILL FIRST COUNT --check
"""
import ast
import math
import os
import random
import re
import subprocess
import sys

sys.path.append(os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "ground"))
import wild  # noqa: E402

CLEAR = 0.4


def line_of(text, key):
    """The value of a top-level key, as written."""
    found = re.search(rf"^{key}: (.*)$", text, re.MULTILINE)
    return found and found.group(1)


def replaced(text, key, value):
    return re.sub(rf"^{key}: .*$", lambda _: f"{key}: {value}", text, flags=re.MULTILINE)


def underside_of(text):
    found = line_of(text, "structure")
    return found and ast.literal_eval(re.search(r"underside: (\[\[.*?\]\])", found).group(1))


def walls_of(text):
    """(x, tip) of the walls."""
    return [(float(x), float(tip)) for x, tip in re.findall(r"\{x: ([^,]+), top: [^,]+, tip: ([^}]+)\}",
                                                            line_of(text, "walls"))]


def slots(points, walls):
    """Stretches of underside, one straight piece each, clear of its corners and of walls."""
    corners = sorted([x for x, _ in points] + [x for x, _ in walls if 0 < x < points[-1][0]])
    return [(low + CLEAR, high - CLEAR) for low, high in zip(corners, corners[1:])
            if high - low > 2 * CLEAR + 0.5]


def level(points, x):
    for (a, za), (b, zb) in zip(points, points[1:]):
        if a <= x <= b:
            return za + (zb - za) * (x - a) / (b - a)
    raise ValueError("beyond the underside")


def outlet(draw):
    return draw.choice(["tailwater", "%.2f" % draw.uniform(9, 12.5)])


def clogging(draw):
    if draw.random() < 0.7:
        return ""
    return ", clogging: {thickness: %.3f, conductivity: %.2g}" % (
        draw.uniform(0.002, 0.02), 10 ** draw.uniform(-9, -5))


def relieve(draw, points, walls):
    """Drains, permeable stretches and voids, one to a slot."""
    drains, permeable, voids = [], [], []
    for low, high in slots(points, walls):
        start = round(draw.uniform(low, high - 0.4), 3)
        end = round(draw.uniform(start + 0.05, high), 3)
        kind = draw.choice(["drain", "weeps", "permeable", "void", "none"])
        name = f"d{len(drains)}"
        state = draw.choice(["", "", "", ", state: shut"])
        if kind == "drain":
            places = [f"[{x!r}, {level(points, x)!r}]" for x in (start, end)]
            drains.append(f"{{name: {name}, from: {places[0]}, to: {places[1]}, outlet: {outlet(draw)}"
                          f"{clogging(draw)}{state}}}")
        elif kind == "weeps":
            spacing = draw.uniform(0.4, 3)
            drains.append("{name: %s, at: [%r, %r], diameter: %.4f, spacing: %.4f, outlet: %s%s%s}" % (
                name, start, level(points, start), spacing / draw.uniform(4.1, 30), spacing,
                outlet(draw), clogging(draw), state))
        elif kind == "permeable":
            permeable.append([start, end])
        elif kind == "void":
            voids.append([start, end])
    return drains, permeable, voids


def inside(draw, walls, number):
    """A drain in the soil, clear of the walls."""
    x = draw.uniform(-10, 22)
    if any(abs(x - at) < 1.2 for at, _ in walls):
        return []
    z = draw.uniform(3, 6.5)
    return ["{name: inner_%d, from: [%.2f, %.2f], to: [%.2f, %.2f], outlet: %s}" % (
        number, x, z, x + draw.choice([0, 0.5]), z + draw.choice([0.25, 0.6]), outlet(draw))]


def seals(draw, width):
    found = []
    if draw.random() < 0.3:
        start = draw.uniform(width, width + 15)
        found.append([round(start, 2), round(start + draw.uniform(0.3, 12), 2)])
    if draw.random() < 0.2:
        end = draw.uniform(-15, 0)
        found.append([round(end - draw.uniform(0.3, 12), 2), round(end, 2)])
    return f", seal: {found}" if found else ""


def scour(draw, width):
    """Another bed downstream."""
    if draw.random() < 0.75:
        return ""
    points = [[width, round(draw.uniform(8.7, 9.5), 2)]]
    points += wild.broken(draw, width + 1, width + 25, 8.6, 0.8, 3)
    return f", beds: {{downstream: {points}}}"


def waters(draw, width, drains):
    """Water cases; at least one with water on the bed."""
    cases = []
    for n in range(draw.randint(1, 3)):
        down = draw.choice([wild.DOWNSTREAM, "at_bed", "%.2f" % draw.uniform(8.2, 10.2)])
        shut = draw.choice(["", "", ", drains: off"]) if drains else ""
        cases.append(f"{{name: w{n}, upstream: {wild.UPSTREAM}, downstream: {down}{shut}"
                     f"{seals(draw, width)}{scour(draw, width)}}}")
    return f"[{', '.join(cases)}]"


def regional(draw, text, width):
    """Water below the base, sides with heads of their own."""
    base = line_of(text, "base")
    if base != "none" and draw.random() < 0.3:
        leaky = ", thickness: %.2f, kv: %.3g" % (draw.uniform(0.5, 3), 10 ** draw.uniform(-10, -6))
        text = replaced(text, "base", "{level: %s, head: %.2f%s}" % (base, draw.uniform(9, 14),
                                                                     draw.choice(["", leaky])))
    sides = []
    for name, x in (("left", -35.0), ("right", width + 35.0)):
        kind = draw.choice(["", "", "", "closed", "fixed_head", "own"])
        if kind == "own":
            sides.append("%s: {x: %r, kind: fixed_head, head: %.2f}" % (name, x, draw.uniform(9, 13.5)))
        elif kind:
            sides.append(f"{name}: {{x: {x!r}, kind: {kind}}}")
    return text + (f"sides: {{{', '.join(sides)}}}\n" if sides else "")


def in_order(found):
    """An outline whose corners go round its middle: drawn at random they may cross."""
    corners = ast.literal_eval(found.group(1))
    x, z = (sum(part) / len(corners) for part in zip(*corners))
    return f"outline: {sorted(corners, key=lambda c: math.atan2(c[1] - z, c[0] - x))}"


def section(number):
    draw = random.Random(number + 1000003)
    text = re.sub(r"outline: (\[\[.*?\]\])", in_order, wild.section(number))
    points, walls = underside_of(text), walls_of(text)
    width = points[-1][0] if points else 0
    drains = []
    if points:
        drains, permeable, voids = relieve(draw, points, walls)
        more = f", permeable: {permeable}" if permeable else ""
        more += f", contact_lost: {voids}" if voids else ""
        text = replaced(text, "structure", f"{{underside: {points}{more}}}")
    if draw.random() < 0.15:
        drains += inside(draw, walls, number)
    if drains:
        text += "drains:\n" + "".join(f"  - {drain}\n" for drain in drains)
    text = regional(draw, text, width)
    return replaced(text, "water", waters(draw, width, drains))


def read(tool, numbers):
    """The tool checks the section files; ends the program where it refuses one."""
    for number in numbers:
        text = section(number)
        done = subprocess.run([tool, "check", "-"], input=text, capture_output=True, text=True, check=False,
                              timeout=wild.LIMIT_S)
        if done.returncode != 0:
            sys.exit(f"section {number}: exit status {done.returncode}\n{done.stderr}\n{text}")
    print(f"sections {numbers[0]} to {numbers[-1]}: all read")


def main():
    program, first, count = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
    if "--print" in sys.argv:
        print(section(first), end="")
    elif "--check" in sys.argv:
        read(program, range(first, first + count))
    else:
        wild.run_all([program, wild.ACCURACY], section, first, count)


if __name__ == "__main__":
    main()
