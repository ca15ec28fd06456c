"""Head and stream function on a mesh by elements of high degree, and what is read off them.

The energy of the head bounds the flow from above, that of the stream function from below; where
endless soil is cut, the cut is open in the one and closed in the other.
"""
import numpy
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu

from elements import Element, lobatto

HEAD = {"up": 1.0, "far_up": 1.0, "down": 0.0, "far_down": 0.0}
STREAM = {"top": 0.0, "wall": 0.0, "base": 1.0, "wall_low": 1.0, "far_up": 1.0, "far_down": 1.0}


class Field:
    """The reduced head (1 on the upstream bed, 0 downstream), or with `stream` the stream function
    (0 on the structure, 1 on the base)."""

    def __init__(self, mesh, degree, stream=False):
        self.mesh, self.element = mesh, Element(degree)
        one, two = mesh.shape[:, 1] - mesh.shape[:, 0], mesh.shape[:, 2] - mesh.shape[:, 0]
        self.area = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
        # Rows: slopes of r and s along x and z.
        self.along = numpy.array([[two[:, 1], -two[:, 0]], [-one[:, 1], one[:, 0]]]) * 2 / self.area
        soils = mesh.ground.soils
        kx = numpy.array([soil["kh"] for soil in soils])[mesh.soil]
        kz = numpy.array([soil.get("kv", soil["kh"]) for soil in soils])[mesh.soil]
        self.kx, self.kz = (1 / kz, 1 / kx) if stream else (kx, kz)
        self.number()
        self.solve(STREAM if stream else HEAD)

    def number(self):
        element, mesh = self.element, self.mesh
        inner = element.degree - 1
        edges, self.table = {}, numpy.empty((len(mesh.triangles), element.outer), int)
        self.table[:, :3] = mesh.triangles
        step = numpy.arange(inner)
        for t, corners in enumerate(mesh.triangles.tolist()):
            for n in range(3):
                i, j = corners[n], corners[(n + 1) % 3]
                first = mesh.count + inner * edges.setdefault((min(i, j), max(i, j)), len(edges))
                self.table[t, 3 + n * inner:3 + (n + 1) * inner] = (
                    first + step if i < j else first + step[::-1])
        self.unknowns = mesh.count + inner * len(edges)

    def matrices(self):
        element, (r, s) = self.element, self.along
        scale = self.area / 4
        rr = (r[0] ** 2 * self.kx + r[1] ** 2 * self.kz) * scale
        rs = (r[0] * s[0] * self.kx + r[1] * s[1] * self.kz) * scale
        ss = (s[0] ** 2 * self.kx + s[1] ** 2 * self.kz) * scale
        return (rr[:, None, None] * element.rr + rs[:, None, None] * element.rs
                + ss[:, None, None] * element.ss)

    def assemble(self):
        """Matrices of the triangles without their inner unknowns, and the whole matrix."""
        outer = self.element.outer
        whole = self.matrices()
        self.lift = -numpy.linalg.solve(whole[:, outer:, outer:], whole[:, outer:, :outer])
        small = whole[:, :outer, :outer] + whole[:, :outer, outer:] @ self.lift
        small = (small + small.transpose(0, 2, 1)) / 2
        rows = numpy.repeat(self.table, outer, axis=1).ravel()
        columns = numpy.tile(self.table, (1, outer)).ravel()
        matrix = coo_matrix((small.ravel(), (rows, columns)),
                            shape=(self.unknowns, self.unknowns)).tocsc()
        return small, matrix

    def solve(self, held):
        element = self.element
        small, matrix = self.assemble()
        value = numpy.full(self.unknowns, numpy.nan)
        for (t, n), kind in self.mesh.edge_kind.items():
            if kind in held:
                # mesh edge (n, n - 2) runs from corner n to corner n + 1
                value[self.table[t, element.edge(n)]] = held[kind]
        fixed, used = ~numpy.isnan(value), numpy.zeros(self.unknowns, bool)
        used[self.table] = True
        free = numpy.nonzero(~fixed & used)[0]
        known = numpy.where(fixed, value, 0)
        right = -(matrix @ known)[free]
        inner = matrix[free][:, free]
        factor = splu(inner, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0,
                      options={"SymmetricMode": True})
        found = factor.solve(right)
        found += factor.solve(right - inner @ found)
        known[free] = found
        local = known[self.table]
        self.energy = float(numpy.einsum("ti,tij,tj->", local, small, local))
        self.nodal = numpy.concatenate([local, numpy.einsum("tij,tj->ti", self.lift, local)], axis=1)

    def locate(self, place, side=None):
        """Triangle that holds a place, and its r and s there."""
        mesh = self.mesh
        d = numpy.asarray(place, float) - mesh.origin - mesh.shape[:, 0]
        r = self.along[0, 0] * d[:, 0] + self.along[0, 1] * d[:, 1] - 1
        s = self.along[1, 0] * d[:, 0] + self.along[1, 1] * d[:, 1] - 1
        least = numpy.minimum(numpy.minimum(r + 1, s + 1), -(r + s)) / 2
        held = least > -1e-7
        if not held.any():
            raise ValueError(f"{place} lies outside the soil")
        if side:
            about = numpy.where(mesh.origin[:, 0] == place[0], 0, mesh.origin[:, 0] - place[0])
            on_side = held & (((mesh.shape.mean(axis=1)[:, 0] + about) < 0) == (side == "left"))
            held = on_side if on_side.any() else held
        t = int(numpy.where(held, least, -1).argmax())
        return t, r[t], s[t]

    def at(self, place, side=None):
        t, r, s = self.locate(place, side)
        return float(self.element.value(r, s)[0] @ self.nodal[t])

    def gradient(self, place, side=None):
        t, r, s = self.locate(place, side)
        along_r, along_s = (one[0] @ self.nodal[t] for one in self.element.slopes(r, s))
        return along_r * self.along[0, :, t] + along_s * self.along[1, :, t]

    def edges(self, kind):
        """(triangle, edge number, from, to) of the edges of a kind."""
        mesh = self.mesh
        for (t, n), found in mesh.edge_kind.items():
            if found == kind:
                yield t, n, mesh.shape[t, n], mesh.shape[t, (n + 1) % 3]

    def uplift(self):
        """Integrals of the reduced head over the underside along x, plain and times x."""
        force = moment = 0.0
        points = lobatto(self.element.degree)
        for t, n, a, b in self.edges("top"):
            share = (points + 1) / 2
            x = self.mesh.origin[t, 0] + a[0] + share * (b[0] - a[0])
            width = abs(b[0] - a[0]) / 2 * self.element.weights
            head = self.nodal[t, self.element.edge(n)]
            force += width @ head
            moment += width @ (head * x)
        return force, moment
