"""Sections with slopes whose answers are closed forms, and these answers.

Each function gives (section, heads), or (section, heads, flow per conductivity and head): heads is a
function of a place, 1 upstream and 0 downstream.
"""
import cmath

import mpmath
import numpy
from scipy.special import ellipk

K = 1e-5
WATER = 9.81


def rounded(points, digits=9):
    return [[round(float(x), digits), round(float(z), digits)] for x, z in points]


def strip(down, up, normal, thickness=4.0, lengths=(9.0, 7.0), sliver=1e-3):
    """A strip that falls at the angle `down`, then rises at `up` (degrees), with an interface whose
    normal has the angle `normal`. Flow follows the strip and is uniform in either part where the
    conductivities are as the tangents of the angles to the normal (the law of refraction). The ends are
    the beds, square to the strip; with `down` = 0 the left end is a side of fixed head.

    A bed meets the base at a right angle, where the soil would have no thickness: a closed side cuts
    `sliver` off that corner, which alters flow by some sliver^2 / (thickness length), 1e-7 or less.
    """
    down, up, normal = numpy.radians([down, up, normal])
    one, two = normal + down, normal - up
    ratio = numpy.tan(one) / numpy.tan(two)
    interface = thickness / numpy.cos(one)
    width = [thickness, interface * numpy.cos(two)]
    way = [numpy.array([numpy.cos(down), -numpy.sin(down)]), numpy.array([numpy.cos(up), numpy.sin(up)])]
    kink = numpy.array([0.0, 0.0])
    low = interface * numpy.array([numpy.sin(normal), -numpy.cos(normal)])
    start, end = kink - lengths[0] * way[0], kink + lengths[1] * way[1]
    across = [width[n] * numpy.array([way[n][1], -way[n][0]]) for n in range(2)]
    first, last = start + across[0], end + across[1]
    # Head falls by slope along the strip; what passes the interface is continuous.
    fall = numpy.array([numpy.sin(two), numpy.sin(one)])
    fall = fall / (fall @ lengths)
    outline = [kink, low, last, end]
    soils = [{"name": "left", "kh": K, "unit_weight": 19.0}, {"name": "right", "kh": K / ratio}]
    section = {
        "bed": {"upstream": rounded([first, start]), "downstream": rounded([end, last])},
        "base": rounded([first, low, last]),
        "structure": {"underside": rounded([start, kink, end])},
        "soils": soils,
        "zones": [{"soil": "right", "outline": rounded(outline)}],
        "sides": {"left": {"x": first[0] + sliver, "kind": "closed"},
                  "right": {"x": last[0] - sliver, "kind": "closed"}},
        "water": [{"name": "w", "upstream": 16.0, "downstream": 15.0}],
    }
    if down == 0:
        section["sides"]["left"] = {"x": start[0], "kind": "fixed_head"}
        section["bed"]["upstream"] = 0.0

    def head(place):
        place = numpy.asarray(place)
        if (place - kink) @ (numpy.cos(normal), numpy.sin(normal)) < 0:
            return 1 - fall[0] * ((place - start) @ way[0])
        return fall[1] * ((end - place) @ way[1])

    return section, head, fall[0] * thickness


def polygon(radius, pieces):
    """The lower half of a polygon around a circle, without the upright half pieces at its ends."""
    step = numpy.pi / pieces
    angle = -numpy.pi + step * (numpy.arange(pieces) + 0.5)
    return rounded(radius / numpy.cos(step / 2) * numpy.column_stack([numpy.cos(angle),
                                                                      numpy.sin(angle)]), 12)


def annulus(inner=4.0, outer=10.0, pieces=24):
    """Half a ring: head falls evenly with the angle. Both polygons are cut by the same rays into equal
    pieces, so heads on the rays through corners and tangent points are exact for polygons too."""
    section = {
        "bed": {"upstream": 0.0, "downstream": 0.0},
        "base": polygon(outer, pieces),
        "structure": {"underside": polygon(inner, pieces)},
        "soils": [{"name": "sand", "kh": K, "unit_weight": 19.0}],
        "sides": {"left": {"x": -outer, "kind": "closed"}, "right": {"x": outer, "kind": "closed"}},
        "water": [{"name": "w", "upstream": 3.0, "downstream": 1.0}],
    }
    return section, lambda place: -numpy.arctan2(place[1], place[0]) / numpy.pi, numpy.log(
        outer / inner) / numpy.pi


def disc(radius=10.0, tip=4.0, pieces=24):
    """A wall in soil with a round base, the wall's head its centre. Below the tip head is half, so
    half of it does: squared, it is a half disc, which (w + 1/w) opens to a half-plane."""
    section = {
        "bed": {"upstream": 0.0, "downstream": 0.0},
        "base": polygon(radius, pieces),
        "walls": [{"name": "sheet", "x": 0.0, "top": 0.5, "tip": -tip}],
        "soils": [{"name": "sand", "kh": K, "unit_weight": 19.0}],
        "sides": {"left": {"x": -radius, "kind": "closed"}, "right": {"x": radius, "kind": "closed"}},
        "water": [{"name": "w", "upstream": 3.0, "downstream": 1.0}],
    }
    # Corners, in order of the half-plane's edge: tip, bottom of the axis, end of the bed, centre.
    share = -(tip / radius) ** 2
    edge = -(share + 1 / share) / 2
    # Fixed pieces: axis below the tip [1, edge], bed [-inf, -1]; cross-ratio gives the modulus.
    modulus = (edge - 1) / (edge + 1)
    return section, None, ellipk(modulus) / ellipk(1 - modulus) / 2


def ridge(fall=0.25, tip=4.0, reach=400.0):
    """A wall at the crest of two slopes, soil without bottom: a wedge that a power opens to a
    half-plane. The slopes end far away, which alters heads by some (tip / reach)^2.4."""
    half = numpy.pi / 2 - numpy.arctan(fall)
    power = numpy.pi / 2 / half
    section = {
        "bed": {"upstream": [[-reach, -fall * reach], [0.0, 0.0]],
                "downstream": [[0.0, 0.0], [reach, -fall * reach]]},
        "base": "none",
        "walls": [{"name": "sheet", "x": 0.0, "top": 0.5, "tip": -tip}],
        "soils": [{"name": "sand", "kh": K, "unit_weight": 19.0}],
        "water": [{"name": "w", "upstream": 3.0, "downstream": 1.0}],
    }

    def head(place, side=None):
        x, z = place
        right = x > 0 or (x == 0 and side != "left")
        angle = numpy.arctan2(abs(x), -z) * power
        w = (numpy.hypot(x, z) / tip) ** power * cmath.exp(1j * angle)
        low = cmath.asin(w).real / numpy.pi
        return low if right else 1 - low

    steep = numpy.sqrt(power - 1)
    at = tip * steep ** (1 / power)
    gradient = power * steep / (numpy.pi * at * numpy.sqrt(1 + steep ** 2))
    return section, head, {"r": at, "x": at * numpy.sin(half), "level": -at * numpy.cos(half),
                           "gradient": gradient}


def key(length=10.0, apex=(6.0, -3.0)):
    """A triangular key under a structure, soil without bottom: Schwarz-Christoffel map of the
    half-plane. Also gives the head at the apex."""
    section = {
        "bed": {"upstream": 0.0, "downstream": 0.0},
        "base": "none",
        "structure": {"underside": [[0.0, 0.0], [float(apex[0]), float(apex[1])], [length, 0.0]]},
        "soils": [{"name": "sand", "kh": K, "unit_weight": 19.0}],
        "water": [{"name": "w", "upstream": 3.0, "downstream": 1.0}],
    }
    mpmath.mp.dps = 25
    pi = mpmath.pi
    one = mpmath.atan2(-apex[1], apex[0]) / pi
    two = mpmath.atan2(-apex[1], length - apex[0]) / pi

    def piece(c, start, end):
        return mpmath.quad(lambda w: (1 + w) ** -one * abs(w - c) ** (one + two) * (1 - w) ** -two,
                           [start, (start + end) / 2, end])

    left = mpmath.hypot(*apex)
    right = mpmath.hypot(length - apex[0], apex[1])
    c = mpmath.findroot(lambda c: piece(c, -1, c) * right - piece(c, c, 1) * left, (-0.2, 0.4),
                        solver="anderson", tol=1e-20)
    scale = left / piece(c, -1, c)

    def place_of(w):
        """From the half-plane (upper) to the soil (mirrored), along a straight path from the apex."""
        w = mpmath.mpc(w)

        def rate(v):
            return (v + 1) ** -one * (v - c) ** (one + two) * (v - 1) ** -two

        return mpmath.mpc(apex[0], -apex[1]) + scale * mpmath.quad(rate, [c, (c + w) / 2, w])

    def head(place, side=None):
        if abs(place[0] - apex[0]) < 1e-12 and abs(place[1] - apex[1]) < 1e-12:
            return float(mpmath.acos(c) / pi)
        for corner, way in ((0.0, -1), (length, 1)):
            along = mpmath.hypot(place[0] - apex[0], place[1] - apex[1])
            whole = mpmath.hypot(corner - apex[0], apex[1])
            if abs(along + mpmath.hypot(place[0] - corner, place[1]) - whole) < 1e-9:
                # On a face: by its length.
                w = mpmath.findroot(lambda w: scale * piece(c, *sorted((c, w))) - along,
                                    (c, c + 0.98 * (way - c)), solver="anderson", tol=1e-20)
                return float(mpmath.acos(w) / pi)
        goal = mpmath.mpc(place[0], -place[1])
        guess = 2 * (goal - length / 2) / length + 0.05j
        w = mpmath.findroot(lambda w: place_of(w) - goal, guess, tol=1e-16, maxsteps=60)
        return float(mpmath.re(mpmath.acos(w)) / pi)

    return section, head, float(mpmath.acos(c) / pi)
