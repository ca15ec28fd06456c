"""Seepage in one soil by conformal mapping: no grid, no formula of the library.

The soil, with depth pointing up, is the image of the strip 0 < Im < pi (or of the
half-plane, where it has no base): dz/dt = C prod s(t - a_j)^g_j, s(u) = sinh(u/2)
(or u/2), Schwarz-Christoffel. The parameters a_j follow from the lengths of the
sides, which Newton's method meets to rounding. The head then is an elliptic
integral (or an arc sine) of the same t: beds are t < first and t > last."""

import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq, root
from scipy.special import ellipk, ellipkinc, ellipkm1

TINY = 1e-290
FAR = 80.0  # where both ends of the strip are even to rounding


def top_path(ground):
    """Corners of the upper edge of the soil as (x, depth), upstream to downstream."""
    surface = [(x, ground.depth(z)) for x, z in ground.underside]
    hanging = [wall for wall in ground.walls if not wall["keyed"]]
    beds = (ground.depth(ground.bed[0]), ground.depth(ground.bed[1]))
    if not surface:
        wall = hanging[0]
        return [(wall["x"], beds[0]), (wall["x"], ground.depth(wall["tip"])), (wall["x"], beds[1])]
    ends = (surface[0][0], surface[-1][0])
    path, last = [(ends[0], beds[0])], None
    for x, depth in surface:
        for wall in hanging:
            tip = (wall["x"], ground.depth(wall["tip"]))
            if wall["x"] == x == ends[0] and last is None:
                path.append(tip)
            elif last is not None and last < wall["x"] < x:
                path += [(wall["x"], depth), tip, (wall["x"], depth)]
        path.append((x, depth))
        last = x
    path += [(wall["x"], ground.depth(wall["tip"])) for wall in hanging if wall["x"] == ends[1]]
    return path + [(ends[1], beds[1])]


def bottom_path(ground):
    """The same of the base: the walls that stand on it, from left to right."""
    base, path = ground.depth(ground.base), []
    for wall in ground.walls:
        if wall["keyed"]:
            path += [(wall["x"], base), (wall["x"], ground.depth(wall["top"])), (wall["x"], base)]
    return path


def without_repeats(path):
    """Corners without zero sides; where nothing turns at an end it is kept."""
    kept = [path[0]]
    for point in path[1:]:
        if abs(point[0] - kept[-1][0]) + abs(point[1] - kept[-1][1]) > 1e-12:
            kept.append(point)
    return kept


def exponents(path):
    """Interior angle over pi, less 1, at each corner; the path comes and goes level."""
    ends = [(path[0][0] - 1.0, path[0][1])] + path + [(path[-1][0] + 1.0, path[-1][1])]
    heading = [np.arctan2(b[1] - a[1], b[0] - a[0]) for a, b in zip(ends, ends[1:])]
    turns = [(after - before + np.pi) % (2.0 * np.pi) - np.pi
             for before, after in zip(heading, heading[1:])]
    return np.array([1.0 if abs(abs(turn) - np.pi) < 1e-9 else -turn / np.pi for turn in turns])


class Map:
    """The map of one section and the head in it, from 1 upstream to 0 downstream."""

    def __init__(self, ground):
        self.ground = ground
        self.strip = ground.base is not None
        self.top = without_repeats(top_path(ground))
        self.bottom = bottom_path(ground) if self.strip else []
        self.g_top = exponents(self.top)
        self.g_bottom = np.array([-0.5, 1.0, -0.5] * (len(self.bottom) // 3))
        self.solve()
        self.first, self.last = self.a[0], self.a[-1]

    # The map.

    def prepare(self, unknown):
        n = len(self.top)
        self.a = np.concatenate([[0.0], np.cumsum(np.exp(unknown[:n - 1]))])
        self.b = np.array([])
        if self.bottom:
            self.b = unknown[n - 1] + np.concatenate([[0.0], np.cumsum(np.exp(unknown[n:]))])
        self.log_c = 0.0
        if self.strip:
            self.log_c = np.log((self.ground.depth(self.ground.base) - self.top[0][1]) / np.pi) \
                - 0.5 * (self.g_top @ self.a + self.g_bottom @ self.b)

    def log_s(self, u):
        """log |s(u)| for real u, also far out; large and finite at a corner itself."""
        size = max(abs(u), TINY)
        return size / 2.0 + np.log(-np.expm1(-size) / 2.0) if self.strip else np.log(size / 2.0)

    @staticmethod
    def log_cosh(u):
        size = abs(u)
        return size / 2.0 + np.log1p(np.exp(-size)) - np.log(2.0)

    def speed(self, t, skip=()):
        """|dz/dt| on the upper edge; without the factors of corners `skip`."""
        total = self.log_c
        for j, g in enumerate(self.g_top):
            if g != 0.0 and j not in skip:
                total += g * self.log_s(t - self.a[j])
        for b, g in zip(self.b, self.g_bottom):
            total += g * self.log_cosh(t - b)
        return np.exp(total)

    def speed_below(self, t, skip=()):
        total = self.log_c
        for a, g in zip(self.a, self.g_top):
            total += g * self.log_cosh(t - a)
        for j, g in enumerate(self.g_bottom):
            if j not in skip:
                total += g * self.log_s(t - self.b[j])
        return np.exp(total)

    def between(self, corners, speed, powers, i, share, weight=lambda t: 1.0):
        """Length of side i from its beginning to where the angle of the substitution
        is `share` of pi. t = a + w sin^2 takes the roots at both ends away."""
        start, width = corners[i], corners[i + 1] - corners[i]

        def integrand(angle):
            sine, cosine = np.sin(angle / 2.0), np.cos(angle / 2.0)
            low, high = width * sine * sine, width * cosine * cosine
            ends = powers[i] * self.log_s(low) + powers[i + 1] * self.log_s(high)
            t = start + low
            return weight(t) * speed(t, (i, i + 1)) * np.exp(ends) * width * sine * cosine

        return quad(integrand, 0.0, np.pi * share, epsabs=0.0, epsrel=1e-12, limit=400)[0]

    def side(self, i, share=1.0, weight=lambda t: 1.0):
        return self.between(self.a, self.speed, self.g_top, i, share, weight)

    def side_below(self, i, share=1.0):
        return self.between(self.b, self.speed_below, self.g_bottom, i, share)

    def place_of_base(self, t):
        """x on the base, from the far left, where the edges are one above the other."""
        far = self.a[0] - FAR
        if self.bottom:
            far = min(far, self.b[0] - FAR)
        return far, self.far_x(far) + quad(self.speed_below, far, t, epsabs=0.0, epsrel=1e-12,
                                           limit=400)[0]

    def far_x(self, far):
        """x of t = far on the upper edge."""
        def integrand(u):  # t = a - u^2
            return self.speed(self.a[0] - u * u, (0,)) * 2.0 * u \
                * np.exp(self.g_top[0] * self.log_s(u * u)) if u > 0.0 else 0.0
        return self.top[0][0] - quad(integrand, 0.0, np.sqrt(self.a[0] - far), epsabs=0.0,
                                     epsrel=1e-12, limit=400)[0]

    def base_corner(self):
        """x of the first corner of the base, whose root the substitution takes away."""
        far = min(self.a[0], self.b[0]) - FAR

        def integrand(u):
            return self.speed_below(self.b[0] - u * u, (0,)) * 2.0 * u \
                * np.exp(self.g_bottom[0] * self.log_s(u * u)) if u > 0.0 else 0.0
        return self.far_x(far) + quad(integrand, 0.0, np.sqrt(self.b[0] - far), epsabs=0.0,
                                      epsrel=1e-12, limit=400)[0]

    def misses(self, unknown):
        self.prepare(unknown)
        rest = []
        for i in range(len(self.top) - 1):
            (x0, d0), (x1, d1) = self.top[i], self.top[i + 1]
            rest.append(np.log(self.side(i) / np.hypot(x1 - x0, d1 - d0)))
        if self.bottom:
            rest.append(self.base_corner() - self.bottom[0][0])
            for i in range(len(self.bottom) - 1):
                length = abs(self.bottom[i + 1][1] - self.bottom[i][1]) \
                    + self.bottom[i + 1][0] - self.bottom[i][0]
                rest.append(np.log(self.side_below(i) / length))
        return np.array(rest)

    def solve(self):
        scale = np.pi / self.ground.depth(self.ground.base) if self.strip else 1.0
        sides = [np.hypot(q[0] - p[0], q[1] - p[1]) for p, q in zip(self.top, self.top[1:])]
        guess = [np.log(scale * side) for side in sides]
        if self.bottom:
            guess.append(guess[0] if guess else 0.0)
            guess += [np.log(scale * abs(q[1] - p[1]) + 1e-3)
                      for p, q in zip(self.bottom, self.bottom[1:])]
        if not guess:
            self.prepare(np.array([]))
            return
        found = root(self.misses, guess, method="lm", tol=1e-14)
        if np.abs(found.fun).max() > 1e-11:
            found = root(self.misses, found.x, method="hybr", tol=1e-14)
        rest = np.abs(self.misses(found.x)).max()
        if rest > 1e-10:
            raise RuntimeError(f"the sides are missed by {rest:.1e}")

    # The head.

    def ratio(self):
        return np.exp(self.first - self.last)

    def flow(self):
        """q over k and the head difference."""
        m = self.ratio()
        return ellipk(m) / ellipkm1(m)

    def head(self, t):
        """On the upper edge between the beds."""
        if t <= self.first or t >= self.last:
            return 1.0 if t <= self.first else 0.0
        if not self.strip:
            return 0.5 - np.arcsin((2.0 * t - self.first - self.last)
                                   / (self.last - self.first)) / np.pi
        whole = self.last - self.first
        if t - self.first > 0.5 * whole:  # by symmetry, where the other end is the nearer one
            return self.part(self.last - t, whole)
        return 1.0 - self.part(t - self.first, whole)

    @staticmethod
    def part(from_end, whole):
        sine = np.sqrt(np.expm1(-from_end) / np.expm1(-whole))
        m = -np.expm1(-whole)
        return ellipkinc(np.arcsin(min(sine, 1.0)), m) / ellipkm1(np.exp(-whole))

    def slope(self):
        """A in dW/dt = -A / sqrt(s(t - first) s(last - t))."""
        if not self.strip:
            return 1.0 / (2.0 * np.pi)
        m = self.ratio()
        # The integral of 1/sqrt(...) between the beds is 4 exp(-whole/4) K(1 - m).
        return np.exp((self.last - self.first) / 4.0) / (4.0 * ellipkm1(m))

    def head_below(self, t):
        """On the base."""
        def integrand(u):
            return np.exp(-0.5 * (self.log_cosh(u - self.first) + self.log_cosh(u - self.last)))
        start = self.last + 2.0 * FAR
        return self.slope() * quad(integrand, t, start, epsabs=0.0, epsrel=1e-12, limit=400)[0]

    def exit_gradient(self):
        """Per unit of head difference; None where theory makes it infinite."""
        if abs(self.g_top[-1] + 0.5) > 1e-9:
            return None
        near = self.slope() / np.exp(0.5 * self.log_s(self.last - self.first))
        return near / self.speed(self.last, (len(self.a) - 1,)) * self.ground.stretch()

    # Places.

    def on_edge(self, path, corners, side_length, x, depth, side):
        """t of a point of an edge, or None."""
        hits = [i for i, p in enumerate(path) if abs(p[0] - x) + abs(p[1] - depth) < 1e-9]
        if hits:
            return corners[hits[0] if side == "left" else hits[-1]]
        faces = {path is self.top: ("left", "right"), path is self.bottom: ("right", "left")}[True]
        for i, (p, q) in enumerate(zip(path, path[1:])):
            level = p[1] == q[1] == depth and p[0] < x < q[0]
            upright = p[0] == q[0] == x and min(p[1], q[1]) < depth < max(p[1], q[1])
            if level or (upright and faces[q[1] < p[1]] == side):
                length = abs(x - p[0]) + abs(depth - p[1])
                share = brentq(lambda s, i=i, length=length: side_length(i, s) - length, 0.0, 1.0,
                               xtol=1e-15, rtol=1e-14)
                return corners[i] + (corners[i + 1] - corners[i]) * np.sin(np.pi * share / 2.0)**2
        return None

    def on_top(self, x, depth, side):
        return self.on_edge(self.top, self.a, self.side, x, depth, side)

    def on_base(self, x, depth, side):
        if not self.strip:
            return None
        t = self.on_edge(self.bottom, self.b, self.side_below, x, depth, side)
        if t is not None or abs(depth - self.ground.depth(self.ground.base)) > 1e-9:
            return t
        return brentq(lambda t: self.place_of_base(t)[1] - x, self.a[0] - 40.0, self.a[-1] + 40.0,
                      xtol=1e-13)

    def derivatives(self, t):
        """dz/dt and dW/dt at a complex t inside."""
        def log_s(u):
            return np.log(np.sinh(u / 2.0) if self.strip else u / 2.0)
        total = self.log_c + sum(g * log_s(t - a) for a, g in zip(self.a, self.g_top))
        total += sum(g * np.log(np.cosh((t - b) / 2.0)) for b, g in zip(self.b, self.g_bottom))
        head = -self.slope() * np.exp(-0.5 * (log_s(t - self.first) + log_s(self.last - t)))
        return np.exp(total), head

    def travel(self, start, end, which):
        """The integral of one of the derivatives along a straight line inside."""
        step = end - start

        def value(s):
            return self.derivatives(start + s * step)[which] * step
        return sum(unit * quad(lambda s, part=part: part(value(s)), 0.0, 1.0, epsabs=1e-14,
                               epsrel=1e-11, limit=400)[0]
                   for unit, part in ((1.0, np.real), (1.0j, np.imag)))

    def inside(self, x, depth):
        """Head at a point inside the soil."""
        if self.strip:
            t = complex(self.a[0] - FAR, np.pi / 2.0)
            z = complex(self.far_x(t.real), self.top[0][1]
                        + (self.ground.depth(self.ground.base) - self.top[0][1]) / 2.0)
            head = 1.0
        else:
            t = complex(0.5 * (self.first + self.last) + 0.1, 3.0 * (self.last - self.first))
            t, z, head = self.from_tip(t)
        aim = complex(x, depth)
        for turn in (complex(z.real, depth), complex(x, z.imag)):
            try:
                return self.approach(*self.approach(t, z, head, turn), aim)[2]
            except RuntimeError:  # a wall is in the way
                pass
        raise RuntimeError("no way to the point")

    def from_tip(self, t):
        """A start inside where there is no base: from the middle of the upper edge."""
        i = len(self.a) // 2
        middle = 0.5 * (self.a[i - 1] + self.a[i])
        p, q = self.top[i - 1], self.top[i]
        done = self.side(i - 1, 0.5) / np.hypot(q[0] - p[0], q[1] - p[1])
        z = complex(p[0] + done * (q[0] - p[0]), p[1] + done * (q[1] - p[1]))
        # The line leaves the edge at a right angle; the edge itself is no danger there.
        start = complex(middle, 1e-12)
        return t, z + self.travel(start, t, 0), \
            self.head(middle) + self.travel(start, t, 1).real

    def approach(self, t, z, head, aim):
        for _ in range(300):
            rest = aim - z
            if abs(rest) < 1e-11:
                return t, z, head
            step = rest / self.derivatives(t)[0]
            room = 0.5 * min(t.imag, np.pi - t.imag) if self.strip else 0.5 * t.imag
            if abs(step) > room:
                step *= room / abs(step)
            z += self.travel(t, t + step, 0)
            head += self.travel(t, t + step, 1).real
            t += step
        raise RuntimeError("no way to the point")

    def head_at(self, x, depth, side):
        t = self.on_top(x, depth, side)
        if t is not None:
            return self.head(t)
        t = self.on_base(x, depth, side)
        return self.inside(x, depth) if t is None else self.head_below(t)

    def uplift(self):
        """Pressure on the level pieces of the underside, per unit width."""
        ground, total = self.ground, 0.0
        under = ground.underside
        for i, (p, q) in enumerate(zip(self.top, self.top[1:])):
            if p[1] == q[1] and under:
                level = next(z for x, z in under if abs(ground.depth(z) - p[1]) < 1e-9)
                total += self.side(i, 1.0, lambda t, level=level: max(
                    ground.down + ground.drop * self.head(t) - level, 0.0))
        return ground.water_weight * total
