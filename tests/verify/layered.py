"""A bare wall in two soils between level beds, by the modes of the layers.

h - 1/2 is odd about the wall, so the half x > 0 suffices: h = 1/2 below the tip, no flow
through the wall. There h = sum A_n f_n(z) exp(-m_n x), where (k f')' + m^2 k f = 0, f = 0
on the bed, f' = 0 on the base. The velocity in the opening is sought among functions
that have its singularity at the tip and its kink at the interface (Galerkin); what that
lets through is a lower bound of the flow. The stream function of the section is the
head of another one: upside down, 1/k in place of k, the opening where the wall was, and
the product of both flows is 1/4. So the same method gives an upper bound."""

import numpy as np
from scipy.optimize import brentq
from scipy.special import roots_jacobi

MODES, NODES = 1500, 1200
# Of a power series beside the tip. Where two series are needed, more terms of either would
# oscillate too fast for the modes.
TERMS, TERMS_OF_TWO = 16, 4


class Layers:
    """Depths d1, d2 and conductivities k1, k2 of two layers, wall of depth s."""

    def __init__(self, d, k, s):
        self.d, self.k, self.s = np.array(d, float), np.array(k, float), s
        self.whole = self.d.sum()
        self.m = np.array(self.roots(MODES))
        # f = sin(m z) / sin(m d1) above, cos(m (T - z)) / cos(m d2) below, scaled so that
        # neither quotient blows up.
        sine, cosine = np.sin(self.m * self.d[0]), np.cos(self.m * self.d[1])
        size = np.hypot(sine, cosine)
        self.above, self.below = cosine / size, sine / size
        m = self.m
        self.norm = self.k[0] * self.above**2 * (self.d[0] / 2 - np.sin(2 * m * self.d[0]) / (4 * m)) \
            + self.k[1] * self.below**2 * (self.d[1] / 2 + np.sin(2 * m * self.d[1]) / (4 * m))

    def roots(self, count):
        """k1 cos(m d1) cos(m d2) = k2 sin(m d1) sin(m d2), each root between two poles of
        the quotient form."""
        d1, d2 = self.d
        total, share = d1 + d2, (self.k[0] - self.k[1]) / (self.k[0] + self.k[1])

        def value(m):  # the same, by sums of angles
            return np.cos(m * total) + share * np.cos(m * (d1 - d2))
        # cos(mT) turns round between multiples of pi / T, and the second term is smaller.
        return [brentq(value, n * np.pi / total, (n + 1) * np.pi / total, xtol=1e-15, rtol=1e-15)
                for n in range(count)]

    def exponent(self):
        """Of the head at the tip."""
        if self.s == self.d[0]:
            return 2.0 / np.pi * np.arctan(np.sqrt(self.k[1] / self.k[0]))
        return 0.5

    def panels(self):
        """Stretches of the opening without a kink, by height above the base."""
        height, interface = self.whole - self.s, self.d[1]
        return [(0.0, interface), (interface, height)] if interface < height else [(0.0, height)]

    def trials(self):
        """Places, weights of integration, and the trial functions times the weights."""
        places, rows, tip = [], [], self.exponent()
        for low, high in self.panels():
            half = 0.5 * (high - low)
            at_tip = high == self.panels()[-1][1]
            powers = sorted({tip - 1.0, 1.0 - tip}) if at_tip and tip != 0.5 else \
                [-0.5 if at_tip else 0.0]
            terms = TERMS if len(powers) == 1 else TERMS_OF_TWO
            for power in powers:
                node, weight = roots_jacobi(NODES, power, 0.0)
                places.append(low + half * (node + 1.0))
                rows.append([weight * half * np.polynomial.legendre.Legendre.basis(j)(node)
                             for j in range(terms)])
        return places, rows

    def solve(self):
        """Projections of the trial functions on the modes, and their best sum."""
        places, rows = self.trials()
        shadows, whole = [], []
        for place, row in zip(places, rows):
            k = np.where(place < self.d[1], self.k[1], self.k[0])
            shadow = np.array(row) @ (k[:, None] * self.mode(self.whole - place).T)
            shadows.append(shadow)
            whole.append(np.array(row) @ k)
        shadow, whole = np.vstack(shadows), np.concatenate(whole)
        share = shadow / np.sqrt(self.m * self.norm)
        matrix = share @ share.T + self.tail(share)
        best = np.linalg.lstsq(matrix, 0.5 * whole, rcond=1e-13)[0]
        self.amplitude = (best @ shadow) / (self.m * self.norm)
        return best @ whole

    def tail(self, share):
        """What the modes left out add: their shares fall like m^-(exponent + 1/2), and
        oscillate."""
        last = len(self.m) // 2
        power = 2.0 * self.exponent() + 1.0
        mean = (share[:, last:] * self.m[last:]**(power / 2)) \
            @ (share[:, last:] * self.m[last:]**(power / 2)).T / (len(self.m) - last)
        step = np.pi / self.whole
        return mean * (self.m[-1] + 0.5 * step)**(1.0 - power) / (power - 1.0) / step

    def mode(self, z):
        """All f_n at depths z: an array of modes by depths."""
        z = np.atleast_1d(z)
        m = self.m[:, None]
        return np.where(z <= self.d[0], self.above[:, None] * np.sin(m * z),
                        self.below[:, None] * np.cos(m * (self.whole - z)))

    def steepness(self, z):
        """Their derivatives by depth."""
        z = np.atleast_1d(z)
        m = self.m[:, None]
        return np.where(z <= self.d[0], self.above[:, None] * m * np.cos(m * z),
                        self.below[:, None] * m * np.sin(m * (self.whole - z)))

    def fade(self):
        """Weights that let the sums below converge away from the tip."""
        return np.exp(-36.0 * (self.m / self.m[-1])**8)

    def head(self, x, z):
        """At depth z, x beyond the wall; of the upstream half what is missing from 1."""
        return float((self.amplitude * self.fade() * np.exp(-self.m * x)) @ self.mode(z)[:, 0])

    def exit_gradient(self):
        return float((self.amplitude * self.fade()) @ self.steepness(0.0)[:, 0])


def bounds(d, k, s):
    """The section, solved, and a lower and an upper bound of its flow."""
    this = Layers(d, k, s)
    other = Layers(d[::-1], [1.0 / k[1], 1.0 / k[0]], sum(d) - s)
    lower = this.solve()
    return this, lower, 0.25 / other.solve()
