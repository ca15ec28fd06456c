"""Head in the soil for one water case, by the triangles of ../ground, and the flow of each part.

Flow of a part of fixed head is what its unknowns lack for balance, which is twice as many digits as
the heads have. A row of weeps is a point in a section: its strip (of the width of equal effect) is
narrower than any triangle, so what a unit of flow into the point does is solved once, and the
logarithm of the strip's width comes in by hand.
"""
import numpy
from scipy.sparse.linalg import splu

from border import Border, part_of
from elements import jacobi, lobatto
from flow import Field
from mesh import Mesh

RINGS = 34
EULER = 0.5772156649015329


def equal_strip(diameter, spacing):
    """Width of the strip of fixed head that a row of holes equals."""
    return 8 * spacing * numpy.exp(-EULER - numpy.pi * spacing / (2 * diameter))


class EdgeMesh(Mesh):
    """Triangles that narrow towards weeps too."""

    def grade(self, inputs, least, ratio):
        super().grade(inputs, least, ratio)
        self.edge_of_water(inputs, ratio)
        self.weep = []
        for drain in self.ground.weeps:
            corner = int(numpy.hypot(*(self.ground.points - numpy.array(drain["at"], float)).T).argmin())
            self.weep.append(corner)
            around = numpy.nonzero((self.triangles == corner).any(axis=1))[0]
            self.rings(corner, around, RINGS, ratio)


    def edge_of_water(self, inputs, ratio):
        """Where the bed leaves the water its head has a kink, and flow a logarithm; so has head
        where a clogged drain ends."""
        parts = {}
        for (i, j), kind in self.kinds.items():
            for end in (i, j):
                if end < inputs:
                    parts.setdefault(end, set()).add(part_of(kind))
        leaks = {part for found in parts.values() for part in found
                 if part.startswith("drain ") and self.ground.leak_of(part)}
        for corner, found in parts.items():
            if {"down", "dry"} <= found or found & leaks and len(found) > 1:
                around = numpy.nonzero((self.triangles == corner).any(axis=1))[0]
                self.rings(corner, around, RINGS // 2, ratio)


class Water(Field):
    """Head above border.lower; inflow {part: flow into the soil}."""

    def __init__(self, border, fineness):
        halvings, degree, least, _ = fineness
        self.border = border
        super().__init__(EdgeMesh(border, halvings, least), degree)

    def number(self):
        super().number()
        # One head along each void: its unknowns are one.
        stands_for = numpy.arange(self.unknowns)
        for part in {part_of(kind) for kind in self.mesh.edge_kind.values()}:
            if part.startswith("void "):
                nodes = self.nodes(part)
                stands_for[nodes] = nodes[0]
        self.table = stands_for[self.table]

    def nodes(self, part):
        found = [self.table[t, self.element.edge(n)] for (t, n), kind in self.mesh.edge_kind.items()
                 if part_of(kind) == part]
        return numpy.unique(numpy.concatenate(found))

    def levels(self, t):
        """Levels of the nodes of a triangle."""
        element, mesh = self.element, self.mesh
        share = numpy.column_stack([-(element.r + element.s) / 2, (element.r + 1) / 2,
                                    (element.s + 1) / 2])
        return mesh.origin[t, 1] + share @ mesh.shape[t, :, 1]

    def solve(self, _):
        small, matrix = self.assemble()
        fixed = numpy.full(self.unknowns, numpy.nan)
        held, load, self.leaks = {}, numpy.zeros(self.unknowns), []
        for (t, n), kind in self.mesh.edge_kind.items():
            part = part_of(kind)
            head, leak = self.border.head_of(part), self.border.leak_of(part)
            edge = self.element.edge(n)
            nodes = self.table[t, edge]
            if head:
                fixed[nodes] = head(self.levels(t)[edge])
                held.setdefault(part, []).append(nodes)
            elif leak:
                self.leaks.append((part, nodes, self.edge_mass(t, n) * leak[0], leak[1]))
        matrix = matrix.tolil() if self.leaks else matrix
        for _, nodes, mass, head in self.leaks:
            for i, row in zip(nodes, mass):
                for j, value in zip(nodes, row):
                    matrix[i, j] += value
            load[nodes] += mass.sum(axis=1) * head
        matrix = matrix.tocsc()
        known = ~numpy.isnan(fixed)
        used = numpy.zeros(self.unknowns, bool)
        used[self.table] = True
        free = numpy.nonzero(~known & used)[0]
        value = numpy.where(known, fixed, 0.0)
        inner = matrix[free][:, free]
        factor = splu(inner, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0,
                      options={"SymmetricMode": True})

        def answer(right):
            found = factor.solve(right)
            return found + factor.solve(right - inner @ found)

        value[free] = answer(load[free] - (matrix @ value)[free])
        value = self.relieve(value, free, answer, matrix)
        local = value[self.table]
        self.nodal = numpy.concatenate([local, numpy.einsum("tij,tj->ti", self.lift, local)], axis=1)
        self.balance(matrix @ value - load, held, value)

    def relieve(self, value, free, answer, matrix):
        """Adds what the rows of weeps draw; their flows follow from the heads they hold."""
        weeps = self.border.weeps
        self.drawn = {}
        if not weeps:
            return value
        corner = self.mesh.weep
        pulls = []
        for at in corner:
            pull = numpy.zeros(self.unknowns)
            point = numpy.zeros(self.unknowns)
            point[at] = -1.0
            pull[free] = answer(point[free])
            pulls.append(pull)
        size = len(weeps)
        rows, right = numpy.empty((size, size)), numpy.empty(size)
        for i, drain in enumerate(weeps):
            right[i] = self.border.outlet(drain) - self.border.lower - value[corner[i]]
            for j in range(size):
                rows[i, j] = pulls[j][corner[i]] if j != i else self.own(pulls[i], corner[i], drain)
        flows = numpy.linalg.solve(rows, right)
        self.drawn = {drain["name"]: float(flow) for drain, flow in zip(weeps, flows)}
        return value + sum(flow * pull for flow, pull in zip(flows, pulls))

    def own(self, pull, corner, drain):
        """What a unit of flow into a row of weeps does to the head of its own strip: a quarter of the
        strip's width is the radius of the half circle it equals."""
        local = pull[self.table]
        kept = getattr(self, "nodal", None)
        self.nodal = numpy.concatenate([local, numpy.einsum("tij,tj->ti", self.lift, local)], axis=1)
        place = self.mesh.ground.points[corner]
        soil = self.border.soils[int(self.border.soil([[place[0], place[1] - 1e-6]])[0])]
        k = numpy.sqrt(soil["kh"] * soil.get("kv", soil["kh"]))
        rest = []
        for radius in (1e-3, 5e-4):
            about = [self.at((place[0] + side * radius, place[1])) for side in (-1, 1)]
            rest.append(sum(about) / 2 - numpy.log(radius) / (numpy.pi * k))
        self.nodal = kept
        width = equal_strip(drain["diameter"], drain["spacing"])
        return (4 * rest[1] - rest[0]) / 3 + numpy.log(width / 4) / (numpy.pi * k)

    def edge_mass(self, t, n):
        points = lobatto(self.element.degree)
        legendre = numpy.array([jacobi(points, 0, 0, k) for k in range(len(points))]).T
        inverse = numpy.linalg.inv(legendre)
        length = numpy.hypot(*(self.mesh.shape[t, (n + 1) % 3] - self.mesh.shape[t, n]))
        return inverse.T @ inverse * length / 2

    def balance(self, lack, held, value):
        self.inflow, taken = {}, numpy.zeros(self.unknowns, bool)
        for part, lists in held.items():
            nodes = numpy.unique(numpy.concatenate(lists))
            nodes = nodes[~taken[nodes]]
            taken[nodes] = True
            self.inflow[part] = float(lack[nodes].sum())
        for part, nodes, mass, head in self.leaks:
            given = float((mass @ (head - value[nodes])).sum())
            self.inflow[part] = self.inflow.get(part, 0.0) + given
        for name, flow in self.drawn.items():
            self.inflow["drain " + name] = -flow
        self.imbalance = abs(sum(self.inflow.values())) / sum(map(abs, self.inflow.values()))


def solved(section, case, fineness, opened=((0.0, numpy.inf),), depth=None):
    return Water(Border(section, case, fineness[3], opened, depth), fineness)
