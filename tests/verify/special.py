"""Sections that the strip map does not cover: closed rectangles, and a wall with
soil above and below it."""

import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.special import ellipj, ellipk, ellipkm1


def side_by_side(ground):
    """Level layers between two fixed heads: head falls evenly (Darcy). Returns the flow
    and the head at a place."""
    left, right = ground.sides["left"][0], ground.sides["right"][0]
    bottoms = [soil["top"] for soil in ground.soils[1:]] + [ground.base]
    tops = [ground.bed[0]] + bottoms[:-1]
    carried = sum(soil["kh"] * (top - bottom)
                  for soil, top, bottom in zip(ground.soils, tops, bottoms))
    flow = carried * ground.drop / (right - left)
    return flow, lambda x, z, side: ground.up - ground.drop * (x - left) / (right - left)


def slot_in_rectangle(ground):
    """Closed layer between two fixed heads, parted in the middle by a wall with a slot in
    its middle. Half of it is a rectangle, sn makes it a half-plane, and there the slot
    and the fixed side are the two ends of a pair of segments."""
    above, below = ground.walls
    deep = ground.bed[0] - ground.base
    long = ground.sides["right"][0] - above["x"]
    assert abs(ground.bed[0] - above["tip"] - (below["top"] - ground.base)) < 1e-12
    # K' / 2 K = long / deep.
    m = brentq(lambda m: ellipkm1(m) / (2.0 * ellipk(m)) - long / deep, 1e-14, 0.5, xtol=1e-24)
    end = ellipj(ellipk(m) * (above["tip"] - below["top"]) / deep, m)[0]**2 * m
    flow = 0.5 * ellipk(end) / ellipkm1(end) * 2.0
    return ground.k() * ground.drop * flow, lambda x, z, side: (ground.up + ground.down) / 2.0


def floating_wall(ground):
    """A floor with a wall under its middle that touches neither floor nor base. Half of
    the soil, x > 0, is a half strip, cosh makes it a half-plane. dW/dt = (t - c) / root of
    the product over the ends of the bed, of the floor and of both gaps; c so that both
    gaps have one head."""
    wall, deep = ground.walls[0], ground.bed[0] - ground.base
    half = ground.underside[1][0] - wall["x"]
    assert abs(wall["x"] - ground.underside[0][0] - half) < 1e-12
    ends = np.array([-1.0, np.cos(np.pi * (ground.bed[0] - wall["tip"]) / deep),
                     np.cos(np.pi * (ground.bed[0] - wall["top"]) / deep), 1.0,
                     np.cosh(np.pi * half / deep)])

    def integral(i, power):
        """Of t^power / root between two neighbours, t = a + w sin^2."""
        low, width = ends[i], ends[i + 1] - ends[i]

        def integrand(angle):
            t = low + width * np.sin(angle)**2
            others = [abs(t - end) for j, end in enumerate(ends) if j not in (i, i + 1)]
            return 2.0 * t**power / np.sqrt(np.prod(others))
        return quad(integrand, 0.0, np.pi / 2.0, epsabs=0.0, epsrel=1e-12)[0]

    c = integral(1, 1) / integral(1, 0)
    through = sum(abs(integral(i, 1) - c * integral(i, 0)) for i in (0, 2))
    fall = abs(integral(3, 1) - c * integral(3, 0))
    flow = 0.5 * through / fall
    return ground.k() * ground.drop * flow, lambda x, z, side: (ground.up + ground.down) / 2.0


def sealed(ground):
    """A bare wall down into the base: still water on both sides."""
    wall = ground.walls[0]["x"]

    def head(x, z, side):
        return ground.up if x < wall or (x == wall and side == "left") else ground.down
    return 0.0, head
