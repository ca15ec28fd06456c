"""A row of round holes in a plane, in three dimensions: how wide is the strip of equal effect?

Holes of radius a hold one head each, S apart along y; the plane between is tight, soil fills the half
space. What each square of a hole passes is spread as P_l^m(mu) cos(m phi) / mu, mu^2 = 1 - (r / a)^2,
on which a hole's own effect is diagonal (Gamma functions); the effect of the other holes is summed
over the row. From afar the row is a line: its potential goes like (2 / S) (log(r / 2 S) + gamma).
Prints width over diameter for some ratios of spacing and diameter, beside the formula.
"""
import numpy
from scipy.special import gamma, lpmv, zeta

from water import EULER, equal_strip

NEIGHBOURS = 12
TERMS = 8


def own_effect(degree, order):
    """Potential on the hole over what it passes, radius 1."""
    return (numpy.pi * gamma((degree + order + 1) / 2) * gamma((degree - order + 1) / 2)
            / gamma((degree + order) / 2 + 1) / gamma((degree - order) / 2 + 1))


def others(x, y, spacing):
    """Sum over the other holes of 1 / distance, less what it is in the middle of a hole."""
    square = x ** 2 + y ** 2
    total = numpy.zeros_like(x)
    for n in range(1, NEIGHBOURS + 1):
        for way in (-1, 1):
            total += 1 / numpy.sqrt(x ** 2 + (y - way * n * spacing) ** 2) - 1 / (n * spacing)
    # The far ones by multipoles: r^l P_l / (n S)^(l + 1), even l.
    radius = numpy.sqrt(square)
    cosine = numpy.divide(y, radius, out=numpy.zeros_like(y), where=radius > 0)
    for degree in range(2, TERMS + 1, 2):
        rest = zeta(degree + 1, NEIGHBOURS + 1)
        total += 2 * rest / spacing ** (degree + 1) * radius ** degree * lpmv(0, degree, cosine)
    return total


def potential(spacing, degrees=8, points=12):
    """Of holes of radius 1 that pass 1 each, over 1 / (2 pi k)."""
    basis = [(degree, order) for degree in range(0, degrees + 1, 2) for order in range(0, degree + 1, 2)]
    mu, weight = numpy.polynomial.legendre.leggauss(points)
    mu, weight = (mu + 1) / 2, weight / 2
    turn = 2 * numpy.pi * (numpy.arange(2 * points) + 0.5) / (2 * points)
    grid_mu, grid_turn = (part.ravel() for part in numpy.meshgrid(mu, turn, indexing="ij"))
    each = numpy.outer(weight, numpy.full(2 * points, numpy.pi / points)).ravel()
    radius = numpy.sqrt(1 - grid_mu ** 2)
    x, y = radius * numpy.sin(grid_turn), radius * numpy.cos(grid_turn)
    shapes = numpy.array([lpmv(order, degree, grid_mu) * numpy.cos(order * grid_turn)
                          for degree, order in basis])
    weighted = shapes * each
    mutual = others(x[:, None] - x, y[:, None] - y, spacing)
    alone = numpy.array([own_effect(*one) for one in basis])
    matrix = weighted @ (shapes * alone[:, None]).T + weighted @ mutual @ weighted.T
    spread = numpy.linalg.solve(matrix, weighted.sum(axis=1))
    return 1 / float(spread @ weighted.sum(axis=1))


def width(diameter, spacing):
    """Of the strip, from the potential of the row."""
    radius = diameter / 2
    found = potential(spacing / radius) / radius
    return 8 * spacing * numpy.exp(-EULER - spacing * found / 2)


def main():
    print("diameter / spacing, width / diameter by the formula, in three dimensions")
    for share in (0.02, 0.05, 0.1, 0.15, 0.2, 0.25, 0.4, 0.6, 0.8, 0.95):
        print(f"{share:5.2f} {equal_strip(share, 1.0) / share:12.5e} {width(share, 1.0) / share:12.5e}")


if __name__ == "__main__":
    main()
