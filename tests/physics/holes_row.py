"""The slot that a row of round holes in a wall is worth, solved without stretching.

A half space of soil with conductivity kh across the wall and along it and kv upright, closed by a
wall with round holes of diameter D every S along it. One period S of the row, and a period L upright
that is long enough for the row to look like a slot: flow through the wall and head on it are Fourier
series, and of a wave (p, q) head is flow over sqrt(kh (kh p^2 + kv q^2)). The flow through a hole is sought
among three shapes over its radius r: 1/sqrt(1 - r^2), sqrt(1 - r^2) and r^2 cos(2 t)/sqrt(1 - r^2), whose
transforms are spherical Bessel functions; the one that loses least is taken (Galerkin). A slot of width w, L
apart, has ln(1 / sin(pi w / (2 L))) / (pi sqrt(kh kv)) instead, exactly: that gives the w of equal effect.
`undersill check` says what it takes.

usage: holes_row.py UNDERSILL
"""
import math
import re
import subprocess
import sys

import numpy

# Diameter over spacing, kh over kv, period upright over spacing.
ROWS = [(1 / 4, 1, 4), (1 / 8, 1, 4), (1 / 6, 4, 4), (1 / 5, 0.25, 8), (1 / 10, 9, 2), (1 / 24, 4, 3)]
REACH = 120.0  # of waves, times the radius of a hole
LIMIT = 0.005  # of the logarithm of the slot's width over the spacing

SECTION = """bed: {{upstream: 0, downstream: 0}}
base: -40
walls: [{{x: 0, top: 0, tip: -40, keyed: true, openings: [{{hole: {hole!r}, level: -20, spacing: 1}}]}}]
soils: [{{name: sand, kh: {kh!r}, kv: 1e-5}}]
water: [{{upstream: 1, downstream: 0}}]
"""


def transforms(x, angle):
    """Of the three shapes, over 2 pi times the radius squared."""
    j0 = numpy.sinc(x / math.pi)
    j1 = (j0 - numpy.cos(x)) / x
    return j0, j1 / x, -numpy.cos(2 * angle) * (3 * j1 / x - j0)


def rest_of_waves(radius, ratio):
    """What waves beyond the reach add to the loss of the first shape, sin(x)^2 / x^2 counted as half."""
    angle = (numpy.arange(4000) + 0.5) * math.pi / 2000
    speed = numpy.sqrt(ratio * (ratio * numpy.cos(angle) ** 2 + numpy.sin(angle) ** 2))
    return 0.5 * (2 * math.pi) * numpy.mean(1 / speed) / radius / REACH


def slot_worth(diameter, ratio, period):
    radius = diameter / 2
    most = REACH / radius / (2 * math.pi)
    p = 2 * math.pi * numpy.arange(-math.ceil(most), math.ceil(most) + 1)[:, None]
    q = 2 * math.pi / period * numpy.arange(-math.ceil(most * period), math.ceil(most * period) + 1)
    size = numpy.hypot(p, q)
    kept = (size > 0) & (size * radius < REACH)
    angle = numpy.arctan2(q + 0 * p, p + 0 * q)[kept]
    speed = numpy.sqrt(ratio * (ratio * p ** 2 + q ** 2))[kept]
    shapes = transforms(size[kept] * radius, angle)
    loss = numpy.array([[numpy.sum(one * other / speed) / period for other in shapes]
                        for one in shapes])
    loss[0, 0] += rest_of_waves(radius, ratio) / (2 * math.pi) ** 2
    whole = numpy.array([1, 1 / 3, 0])
    least = 1 / (whole @ numpy.linalg.solve(loss, whole))
    return 2 * period / math.pi * math.asin(math.exp(-math.pi * math.sqrt(ratio) * least))


def slot_said(undersill, diameter, ratio):
    text = SECTION.format(hole=diameter, kh=ratio * 1e-5)
    done = subprocess.run([undersill, "check", "-"], input=text, capture_output=True, text=True,
                          timeout=60, check=True)
    return float(re.search(r"worth from afar a slot of (\S+) mm", done.stdout)[1]) / 1000


def main():
    worst = 0.0
    for diameter, ratio, period in ROWS:
        solved = math.log(slot_worth(diameter, ratio, period))
        said = math.log(slot_said(sys.argv[1], diameter, ratio))
        off = said / solved - 1
        worst = max(worst, abs(off))
        print(f"D/S {diameter:.3f}, kh/kv {ratio:g}: ln w {said:.4f}, solved {solved:.4f}, "
              f"off by {off:+.4f}")
    if worst > LIMIT:
        print(f"FAILED: off by {worst:.4f}, allowed {LIMIT}")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
