"""Triangular elements of any degree on the reference triangle (-1,-1), (1,-1), (-1,1).

Nodes are those of Warburton (2006), which on the edges are Gauss-Lobatto points; the basis behind
them is Dubiner's, as in Hesthaven and Warburton, Nodal Discontinuous Galerkin Methods, 2008.
"""
import numpy
from scipy.special import gammaln, roots_jacobi, eval_jacobi


def lobatto(degree):
    inner = roots_jacobi(degree - 1, 1, 1)[0] if degree > 1 else []
    return numpy.concatenate([[-1.0], inner, [1.0]])


def jacobi(x, a, b, n):
    """Orthonormal Jacobi polynomial."""
    log = ((a + b + 1) * numpy.log(2) - numpy.log(2 * n + a + b + 1) + gammaln(n + a + 1)
           + gammaln(n + b + 1) - gammaln(n + a + b + 1) - gammaln(n + 1))
    return eval_jacobi(n, a, b, x) / numpy.exp(log / 2)


def jacobi_slope(x, a, b, n):
    return numpy.zeros_like(x) if n == 0 else numpy.sqrt(n * (n + a + b + 1)) * jacobi(
        x, a + 1, b + 1, n - 1)


BLEND = [0, 0, 1.4152, 0.1001, 0.2751, 0.98, 1.0999, 1.2832, 1.3648, 1.4773, 1.4959, 1.5743, 1.577,
         1.6223, 1.6258]


def shift(degree, r):
    """By how much even points must move to become Gauss-Lobatto points."""
    even = numpy.linspace(-1, 1, degree + 1)
    moved = lobatto(degree) - even
    at_even = numpy.array([jacobi(even, 0, 0, n) for n in range(degree + 1)])
    at_r = numpy.array([jacobi(r, 0, 0, n) for n in range(degree + 1)])
    warp = numpy.linalg.solve(at_even, at_r).T @ moved
    inner = abs(r) < 1 - 1e-10
    return numpy.where(inner, warp / numpy.where(inner, 1 - r ** 2, 1), 0)


def nodes(degree):
    """Barycentric coordinates: three corners, then the inner nodes of edges 01, 12, 20 in turn, then
    those inside."""
    listed = []
    for k in range(3):
        listed.append(tuple(degree if n == k else 0 for n in range(3)))
    for a, b in ((0, 1), (1, 2), (2, 0)):
        for n in range(1, degree):
            node = [0, 0, 0]
            node[a], node[b] = degree - n, n
            listed.append(tuple(node))
    listed += [(degree - m - n, m, n) for m in range(1, degree) for n in range(1, degree - m)]
    share = numpy.array(listed) / degree
    alpha = BLEND[degree - 1] if degree < 16 else 5 / 3
    l1, l2, l3 = share[:, 2], share[:, 0], share[:, 1]  # opposite names of the book
    x, y = l3 - l2, (2 * l1 - l2 - l3) / numpy.sqrt(3)
    for one, two, third, turn in ((l3, l2, l1, 0), (l1, l3, l2, 2), (l2, l1, l3, 4)):
        warp = 4 * one * two * shift(degree, one - two) * (1 + (alpha * third) ** 2)
        x = x + warp * numpy.cos(turn * numpy.pi / 3)
        y = y + warp * numpy.sin(turn * numpy.pi / 3)
    l1 = (numpy.sqrt(3) * y + 1) / 3
    l2 = (-3 * x - numpy.sqrt(3) * y + 2) / 6
    return numpy.column_stack([l2, 1 - l1 - l2, l1])


def basis(degree, r, s, slopes=False):
    """Orthonormal polynomials at the points, column by column; with their slopes along r and s."""
    top = abs(s - 1) < 1e-14
    a = numpy.where(top, -1.0, 2 * (1 + r) / numpy.where(top, 1, 1 - s) - 1)
    values, along_r, along_s = [], [], []
    for i in range(degree + 1):
        for j in range(degree + 1 - i):
            f, df = jacobi(a, 0, 0, i), jacobi_slope(a, 0, 0, i)
            g, dg = jacobi(s, 2 * i + 1, 0, j), jacobi_slope(s, 2 * i + 1, 0, j)
            root = numpy.sqrt(2)
            values.append(root * f * g * (1 - s) ** i)
            if slopes:
                half = (0.5 * (1 - s)) ** (i - 1) if i > 0 else 1.0
                dr = df * g * half
                ds = df * g * 0.5 * (1 + a) * half
                inner = dg * (0.5 * (1 - s)) ** i
                if i > 0:
                    inner = inner - 0.5 * i * g * half
                along_r.append(2.0 ** (i + 0.5) * dr)
                along_s.append(2.0 ** (i + 0.5) * (ds + f * inner))
    if slopes:
        return (numpy.array(values).T, numpy.array(along_r).T, numpy.array(along_s).T)
    return numpy.array(values).T


class Element:
    """Nodes, the three stiffness matrices of the reference triangle, and edge weights."""

    def __init__(self, degree):
        self.degree = degree
        share = nodes(degree)
        self.r, self.s = 2 * share[:, 1] - 1, 2 * share[:, 2] - 1
        value, along_r, along_s = basis(degree, self.r, self.s, True)
        self.inverse = numpy.linalg.inv(value)
        mass = self.inverse.T @ self.inverse
        dr, ds = along_r @ self.inverse, along_s @ self.inverse
        self.rr, self.ss = dr.T @ mass @ dr, ds.T @ mass @ ds
        cross = dr.T @ mass @ ds
        self.rs = cross + cross.T
        self.outer = 3 * degree
        points = lobatto(degree)
        legendre = numpy.array([jacobi(points, 0, 0, n) for n in range(degree + 1)])
        self.weights = numpy.linalg.solve(legendre, numpy.eye(degree + 1)[0] * numpy.sqrt(2))

    def edge(self, n):
        """Nodes along the edge from corner n to corner n + 1."""
        inner = 3 + n * (self.degree - 1)
        return [n, *range(inner, inner + self.degree - 1), (n + 1) % 3]

    def value(self, r, s):
        return basis(self.degree, numpy.atleast_1d(r), numpy.atleast_1d(s)) @ self.inverse

    def slopes(self, r, s):
        _, along_r, along_s = basis(self.degree, numpy.atleast_1d(r), numpy.atleast_1d(s), True)
        return along_r @ self.inverse, along_s @ self.inverse
