"""Random valid sections with slopes, dips and lenses: each has to be solved.

The program random_sections (tests/physics/random) reads and solves them and looks at balance, heads
at every node, and bounds; one that crashes it counts as failed, and the next ones follow. Section N
is the same on every machine.

usage: wild.py RANDOM_SECTIONS FIRST COUNT [--print]
"""
import math
import random
import subprocess
import sys
import time

UPSTREAM, DOWNSTREAM = 13.0, 11.5
ACCURACY = "0.2"
BATCH = 100
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


def turns_left(a, b, c):
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) > 0


def crosses_itself(outline):
    """True where two pieces that do not follow each other meet."""
    pieces = list(zip(outline, outline[1:] + outline[:1]))
    return any(turns_left(a, b, c) != turns_left(a, b, d) and turns_left(c, d, a) != turns_left(c, d, b)
               for k, (a, b) in enumerate(pieces) for c, d in pieces[k + 2:] if d != a)


def lens(draw, name, width):
    """An outline around a place that may reach out of the soil."""
    while True:
        x, z = draw.uniform(-8, width + 8), draw.uniform(1, 9)
        corners, start = draw.randint(3, 7), draw.uniform(0, 6)
        outline = [[round(x + draw.uniform(0.5, 3) * math.cos(start + 2 * math.pi * k / corners), 2),
                    round(z + draw.uniform(0.2, 1.2) * math.sin(start + 2 * math.pi * k / corners), 2)]
                   for k in range(corners)]
        if not crosses_itself(outline):
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


def text_of(make, numbers):
    return "".join(f"--- {number}\n{make(number)}" for number in numbers)


def run(words, make, numbers):
    """What became of each section: (number, outcome, seconds); stops behind one that crashed."""
    done = subprocess.run(words, input=text_of(make, numbers), text=True, check=False,
                          stdout=subprocess.PIPE, timeout=LIMIT_S * len(numbers))
    found = []
    for line in done.stdout.splitlines():
        words = line.split()
        if words[1:2] == ["sections:"] or not words[0].isdigit():
            print("  " + line, flush=True)
        else:
            outcome, seconds = words[1:] if len(words) == 3 else ("crashed", "0")
            found.append((int(words[0]), outcome, float(seconds)))
    if done.returncode not in (0, 1) and (not found or found[-1][1] != "crashed"):
        sys.exit(f"exit status {done.returncode} after {found[-1:]}")
    return found


def run_all(words, make, first, count):
    """Sections of `make` by a program that checks them; ends this one, with status 1 on any fault."""
    results, following = [], first
    while following < first + count:
        results += run(words, make, range(following, min(following + BATCH, first + count)))
        following = results[-1][0] + 1
        failed = [number for number, outcome, _ in results if outcome in ("failed", "crashed")]
        if count > 2 * BATCH:
            print(f"up to {following - 1}: {len(failed)} failed", flush=True)
    short = sum(outcome == "short" for _, outcome, _ in results)
    slowest = max(results, key=lambda result: result[2])
    print(f"{len(results)} sections from {first}: {len(results) - len(failed)} solved, of them"
          f" {short} short of {100 * float(ACCURACY):.0f} %;"
          f" {sum(seconds for _, _, seconds in results):.0f} s, the slowest, {slowest[0]},"
          f" {slowest[2]:.1f} s; failed: {' '.join(map(str, failed)) or 'none'}")
    sys.exit(1 if failed else 0)


def main():
    program, first, count = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
    if "--print" in sys.argv:
        print(section(first), end="")
    else:
        run_all([program, "-", ACCURACY], section, first, count)


if __name__ == "__main__":
    main()
