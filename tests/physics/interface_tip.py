"""Wall tips on a layer interface, against a series solution of our own.

A bare wall ends on the interface of two layers. By antisymmetry half of the section is enough:
wall (no flow) above the tip, half the head difference below it, bed (zero) at the top, base (no
flow) at the bottom. Around the tip head is a series of local solutions, exponents lambda,
2 - lambda, 2 + lambda, 4 - lambda, ... with lambda = (2/pi) atan sqrt(k_below/k_above); far away it
is a series of strip modes exp(-mu x) f(z). Both are made to meet the bed, the base and each other in
the least-squares sense; the misfit left is under 1e-9. Where the tip lies in mid-depth the flow per
head has to be sqrt(k_above k_below)/2 exactly (the section is its own dual), which proves the series.

usage: interface_tip.py UNDERSILL
"""
import json
import subprocess
import sys

import numpy
from scipy.optimize import brentq

TERMS = 50
MODES = 40
POINTS = 200
# Above, below, depth of the tip and of the base.
SECTIONS = [(1, 1, 5, 10), (1, 0.01, 5, 10), (1, 100, 5, 10), (1, 0.1, 5, 10), (1, 10, 5, 10),
            (1, 0.01, 5, 12), (1, 0.1, 7, 12), (1, 10, 7, 12), (1, 100, 7, 12), (1, 0.001, 5, 12),
            (1, 1e-6, 5, 12), (1, 1e6, 7, 12)]
ACCURACIES = (0.01, 0.001)
# What issue and docs promise at default accuracy.
FLOW_LIMIT = 2e-3


def strip_roots(above, below, tip, base):
    """Decay rates of the strip: (k f')' + mu^2 k f = 0, f = 0 at the bed, f' = 0 at the base."""
    def misfit(mu):
        return (above * numpy.cos(mu * tip) * numpy.cos(mu * (base - tip))
                - below * numpy.sin(mu * tip) * numpy.sin(mu * (base - tip)))

    roots = []
    low = 1e-12
    while len(roots) < MODES:
        high = low * 1.5 if low < 0.01 / base else low + 0.02 / base
        if misfit(low) * misfit(high) < 0:
            roots.append(brentq(misfit, low, high, xtol=1e-16))
        low = high
    return numpy.array(roots)


def exponents(above, below):
    first = 2 / numpy.pi * numpy.arctan(numpy.sqrt(below / above))
    return numpy.array([n + first if n % 2 == 0 else n + 1 - first for n in range(TERMS)])


def local_terms(powers, size, tip, x, z):
    """Every local term at the points, and its derivatives along x and z."""
    up = z + tip
    r = numpy.hypot(x, up)[:, None]
    angle = numpy.arctan2(x, -up)[:, None]
    back = numpy.pi - angle
    low = (up <= 0)[:, None]
    at_low = numpy.cos(powers * numpy.pi / 2)
    at_high = numpy.sin(powers * numpy.pi / 2)
    size_r = (r / size) ** powers
    value = numpy.where(low, at_low * numpy.sin(powers * angle), at_high * numpy.cos(powers * back))
    turn = powers * numpy.where(low, at_low * numpy.cos(powers * angle),
                                at_high * numpy.sin(powers * back)) * size_r / r
    grow = powers * value * size_r / r
    return (value * size_r, grow * numpy.sin(angle) + turn * numpy.cos(angle),
            -grow * numpy.cos(angle) + turn * numpy.sin(angle))


def solve(above, below, tip, base):
    """Flow per unit head difference, exit gradient beside the wall, and the misfit left."""
    reach = 0.8 * min(tip, base - tip)
    powers = exponents(above, below)
    size = numpy.hypot(reach, max(tip, base - tip))
    share = (1 - numpy.cos(numpy.pi * (numpy.arange(POINTS) + 0.5) / POINTS)) / 2
    rates = strip_roots(above, below, tip, base)

    bed = local_terms(powers, size, tip, reach * share, numpy.zeros(POINTS))
    floor = local_terms(powers, size, tip, reach * share, numpy.full(POINTS, -base))
    z = numpy.concatenate([-tip * share, -tip - (base - tip) * share])
    meet = local_terms(powers, size, tip, numpy.full(2 * POINTS, reach), z)
    ratio = numpy.sin(rates * tip) / numpy.cos(rates * (base - tip))
    modes = numpy.where((numpy.arange(2 * POINTS) < POINTS)[:, None], numpy.sin(-rates * z[:, None]),
                        ratio * numpy.cos(rates * (z[:, None] + base))) / (1 + abs(ratio))
    none = numpy.zeros((POINTS, MODES))
    matrix = numpy.vstack([numpy.hstack([bed[0], none]), numpy.hstack([floor[2] * size, none]),
                           numpy.hstack([meet[0], -modes]),
                           numpy.hstack([meet[1] * size, modes * rates * size])])
    right = numpy.concatenate([numpy.full(POINTS, -0.5), numpy.zeros(POINTS),
                               numpy.full(2 * POINTS, -0.5), numpy.zeros(2 * POINTS)])
    scale = numpy.linalg.norm(matrix, axis=0)
    found = numpy.linalg.lstsq(matrix / scale, right, rcond=1e-14)[0] / scale
    misfit = abs(matrix @ found - right).max()
    terms = found[:TERMS]
    flow = -below * numpy.sum(terms * numpy.cos(powers * numpy.pi / 2)
                              * ((base - tip) / size) ** powers)
    foot = local_terms(powers, size, tip, numpy.array([1e-12]), numpy.array([0.0]))
    return flow, -(foot[2] @ terms)[0], misfit


def section(above, below, tip, base, unit=1e-5):
    return (f"bed: {{upstream: 0, downstream: 0}}\nbase: {-base}\n"
            f"walls: [{{x: 0, top: 0, tip: {-tip}}}]\n"
            f"soils: [{{name: upper, kh: {above * unit!r}, kv: {above * unit!r}}},"
            f" {{name: lower, top: {-tip}, kh: {below * unit!r}, kv: {below * unit!r}}}]\n"
            "water: [{upstream: 1, downstream: 0}]\n")


def run(tool, text, accuracy):
    done = subprocess.run([tool, "solve", "-", "--format", "json", "--accuracy", f"{100 * accuracy:g}%"],
                          input=text, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        sys.exit(f"exit status {done.returncode}:\n{text}\n{done.stderr}")
    return json.loads(done.stdout)


def check(name, value, exact, limit):
    share = abs(value["value"] / exact - 1)
    stated = value["error"] / value["value"]
    print(f"  {name}: exact {exact:.9g}, off by {share:.1e}, stated {stated:.1e}")
    return share <= min(limit, stated)


def main():
    tool = sys.argv[1]
    wrong = 0
    for above, below, tip, base in SECTIONS:
        flow, gradient, misfit = solve(above, below, tip, base)
        mid_depth = abs(base - 2 * tip) < 1e-12
        if misfit > 1e-9 or (mid_depth and abs(flow / numpy.sqrt(above * below) - 0.5) > 1e-9):
            sys.exit(f"the series itself fails for {above}, {below}, {tip}, {base}: {misfit:g}")
        for accuracy in ACCURACIES:
            out = run(tool, section(above, below, tip, base), accuracy)
            water = out["water"][0]
            print(f"k {above} over {below}, tip {tip} of {base} m, {accuracy:g}:"
                  f" {out['grid']['unknowns']} unknowns")
            fine = check("flow", water["flow"], flow * 1e-5, min(FLOW_LIMIT, accuracy))
            fine &= check("exit gradient", water["exit_gradient"], gradient, accuracy)
            inside = water["flow"]["lower"] <= flow * 1e-5 <= water["flow"]["upper"]
            wrong += not fine
            wrong += not inside
            if not fine or not inside:
                print("  WRONG")
    if wrong:
        sys.exit(f"{wrong} values are wrong")


main()
