"""Triangles for a ground: Delaunay refinement, then ever smaller triangles towards every corner.

A triangle keeps its shape relative to an origin, so that triangles a millionth of a millionth of the
section's size have exact shapes.
"""
import numpy
from scipy.linalg import eigh
from scipy.spatial import Delaunay, cKDTree

from ground import WALLS

LEAST_ANGLE = numpy.radians(24)
# Longest side of a triangle over its distance from the nearest corner that is not its own.
# Those smaller than a share of that corner's distance from its own neighbour may stay.
LARGEST = 1.0
SMALL = 0.35
POINTS = 30000
ACUTE = numpy.radians(61)


class Refiner:
    """Delaunay triangles that respect the edges and have no angle below 24 degrees, apart from those
    that the ground itself has (Ruppert's method, with equal shells around acute corners)."""

    def __init__(self, ground):
        self.ground = ground
        self.points = [tuple(point) for point in ground.points]
        self.inputs = len(self.points)
        self.edges = [(i, j, kind, number) for number, (i, j, kind) in enumerate(ground.edges)]
        self.on = [set() for _ in self.points]
        for i, j, _, number in self.edges:
            self.on[i].add(number)
            self.on[j].add(number)
        self.acute = self.acute_corners()
        self.spacing = cKDTree(ground.points).query(ground.points, k=2)[0][:, 1]

    def acute_corners(self):
        acute = set()
        for corner in range(self.inputs):
            ways = [numpy.subtract(self.points[j if i == corner else i], self.points[corner])
                    for i, j, *_ in self.edges if corner in (i, j)]
            turns = sorted(numpy.arctan2(way[1], way[0]) for way in ways)
            gaps = numpy.diff(turns + [turns[0] + 2 * numpy.pi])
            if len(turns) > 1 and gaps.min() < ACUTE:
                acute.add(corner)
        return acute

    def split(self, chosen):
        """Halves edges; at an acute corner the distance from it becomes a power of two."""
        kept = []
        for index, (i, j, kind, number) in enumerate(self.edges):
            if index not in chosen:
                kept.append((i, j, kind, number))
                continue
            if (j in self.acute) and (i not in self.acute):
                i, j = j, i
            a, b = numpy.array(self.points[i]), numpy.array(self.points[j])
            share = 0.5
            if i in self.acute and j not in self.acute:
                length = numpy.hypot(*(b - a))
                share = 2.0 ** numpy.round(numpy.log2(length / 2)) / length
            middle = len(self.points)
            self.points.append(tuple(a + share * (b - a)))
            self.on.append({number})
            kept += [(i, middle, kind, number), (middle, j, kind, number)]
        self.edges = kept

    def ends(self):
        points = numpy.array(self.points)
        pairs = numpy.array([(i, j) for i, j, *_ in self.edges])
        return points, pairs, points[pairs[:, 0]], points[pairs[:, 1]]

    def encroached(self, triangles):
        """Edges that are no edge of a triangle, or whose circle holds a point."""
        points, pairs, a, b = self.ends()
        sides = numpy.sort(numpy.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]],
                                              triangles[:, [2, 0]]]), axis=1)
        known = set(map(tuple, sides))
        tree = cKDTree(points)
        radius = numpy.hypot(*(b - a).T) / 2
        counts = tree.query_ball_point((a + b) / 2, radius * (1 - 1e-9), return_length=True)
        return {index for index, (i, j) in enumerate(pairs)
                if counts[index] > 0 or (min(i, j), max(i, j)) not in known}

    def triangles(self):
        points = numpy.array(self.points)
        triangles = Delaunay(points).simplices
        corners = points[triangles]
        one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
        area = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
        longest = numpy.max([numpy.hypot(*one.T), numpy.hypot(*two.T),
                             numpy.hypot(*(one - two).T)], axis=0)
        kept = (abs(area) > 1e-9 * longest ** 2) & self.ground.inside(corners.mean(axis=1))
        triangles, area = triangles[kept], area[kept]
        triangles[area < 0] = triangles[area < 0][:, [0, 2, 1]]
        return triangles

    def poor(self, triangles):
        """Circumcentres and radii of the triangles with too small an angle, worst first."""
        points = numpy.array(self.points)
        corners = points[triangles]
        angle = numpy.empty((len(triangles), 3))
        for n in range(3):
            one, two = corners[:, n - 2] - corners[:, n], corners[:, n - 1] - corners[:, n]
            angle[:, n] = numpy.arctan2(abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]),
                                        (one * two).sum(axis=1))
        least = angle.argmin(axis=1)
        large = self.large(triangles, corners)
        order = [t for t in numpy.argsort(angle.min(axis=1)) if large[t]
                 or angle[t].min() < LEAST_ANGLE and not self.excused(triangles[t], least[t])]
        a = corners[:, 0]
        one, two = corners[:, 1] - a, corners[:, 2] - a
        twice = 2 * (one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0])
        s1, s2 = (one ** 2).sum(axis=1), (two ** 2).sum(axis=1)
        centre = numpy.column_stack([two[:, 1] * s1 - one[:, 1] * s2,
                                     one[:, 0] * s2 - two[:, 0] * s1]) / twice[:, None]
        return a[order] + centre[order], numpy.hypot(*centre[order].T)

    def large(self, triangles, corners):
        """Triangles too large for their distance from a corner, where polynomials would do badly."""
        longest = numpy.max([numpy.hypot(*(corners[:, n] - corners[:, n - 1]).T) for n in range(3)],
                            axis=0)
        tree = cKDTree(self.ground.points)
        distance, nearest = tree.query(corners.mean(axis=1), k=min(4, self.inputs))
        own = (nearest[:, :, None] == triangles[:, None, :]).any(axis=2)
        small = longest[:, None] < SMALL * self.spacing[nearest]
        return longest > LARGEST * numpy.where(own | small, numpy.inf, distance).min(axis=1)

    def excused(self, triangle, least):
        """The small angle is the ground's own, or lies between the shells of an acute corner."""
        apex, i, j = triangle[least], triangle[least - 2], triangle[least - 1]
        if apex in self.acute:
            return True
        for one in self.on[i]:
            for two in self.on[j]:
                ends = set(self.ground.edges[one][:2]) & set(self.ground.edges[two][:2])
                if one != two and ends & self.acute:
                    return True
        return False

    def run(self):
        for _ in range(400):
            if len(self.points) > POINTS:
                break
            triangles = self.triangles()
            chosen = self.encroached(triangles)
            if chosen:
                self.split(chosen)
                continue
            centres, radii = self.poor(triangles)
            if not len(centres):
                return triangles
            self.improve(centres, radii)
        raise RuntimeError("the triangles do not come to rest")

    def improve(self, centres, radii):
        _, _, a, b = self.ends()
        middle, half = (a + b) / 2, numpy.hypot(*(b - a).T) / 2
        chosen, added = set(), []
        for centre, radius in zip(centres, radii):
            hit = numpy.nonzero(numpy.hypot(*(middle - centre).T) < half * (1 - 1e-9))[0]
            if len(hit):
                chosen.update(hit)
            elif self.ground.inside(centre)[0] and all(
                    numpy.hypot(*(centre - other)) > (radius + size) / 2 for other, size in added):
                added.append((centre, radius))
        if not chosen and not added:
            raise RuntimeError("a poor triangle cannot be mended")
        for centre, _ in ([] if chosen else added):
            self.points.append(tuple(centre))
            self.on.append(set())
        self.split(chosen)


class Mesh:
    """triangles (t, 3) of vertex numbers, shape (t, 3, 2) about origin (t, 2), soil (t,), and the
    kinds of edges as {(i, j): kind} with i < j. Walls are still whole: see part()."""

    def __init__(self, ground, halvings=1, least=1e-8, ratio=0.4):
        refiner = Refiner(ground)
        self.triangles = refiner.run()
        points = numpy.array(refiner.points)
        self.ground = ground
        self.count = len(points)
        self.shape = points[self.triangles]
        self.origin = numpy.zeros((len(self.triangles), 2))
        self.soil = ground.soil(self.shape.mean(axis=1))
        self.kinds = {(min(i, j), max(i, j)): kind for i, j, kind, _ in refiner.edges}
        for _ in range(halvings):
            self.halve()
        self.grade(refiner.inputs, least, ratio)
        self.part()

    def halve(self):
        """Each triangle into four."""
        middles = {}

        def middle(i, j):
            key = (min(i, j), max(i, j))
            if key not in middles:
                middles[key] = self.count
                if key in self.kinds:
                    kind = self.kinds.pop(key)
                    self.kinds[(i, self.count)] = self.kinds[(j, self.count)] = kind
                self.count += 1
            return middles[key]

        triangles, shapes = [], []
        for (i, j, k), (a, b, c) in zip(self.triangles.tolist(), self.shape):
            ij, jk, ki = middle(i, j), middle(j, k), middle(k, i)
            ab, bc, ca = (a + b) / 2, (b + c) / 2, (c + a) / 2
            triangles += [(i, ij, ki), (ij, j, jk), (ki, jk, k), (ij, jk, ki)]
            shapes += [(a, ab, ca), (ab, b, bc), (ca, bc, c), (ab, bc, ca)]
        self.triangles, self.shape = numpy.array(triangles), numpy.array(shapes)
        self.origin = numpy.repeat(self.origin, 4, axis=0)
        self.soil = numpy.repeat(self.soil, 4)

    def grade(self, inputs, least, ratio):
        """Around each corner of the ground, as many rings as its exponent asks for."""
        self.exponent = {}
        for corner in range(inputs):
            around = numpy.nonzero((self.triangles == corner).any(axis=1))[0]
            if not len(around):
                continue
            power = exponent(self, corner, around)
            self.exponent[corner] = power
            if power is None:
                continue
            rings = int(numpy.ceil(numpy.log(least) / numpy.log(ratio) / (2 * power)))
            self.rings(corner, around, max(rings, 2), ratio)

    def rings(self, corner, around, count, ratio):
        triangles, shapes, inner = [], [], []
        place = self.ground.points[corner]
        for t in around:
            first = self.triangles[t].tolist().index(corner)
            order = [first, (first + 1) % 3, (first + 2) % 3]
            i, j = self.triangles[t][order[1:]].tolist()
            a, b = (self.shape[t][order] - self.shape[t][first])[1:]
            inner.append([t, i, j, a, b])
        origin = self.origin[around] * 0 + place
        soils = self.soil[around]
        new_soil, new_origin = [], []
        for _ in range(count):
            nearer = {}
            for index, item in enumerate(inner):
                t, i, j, a, b = item
                for end in (i, j):
                    if end not in nearer:
                        nearer[end] = self.count
                        self.count += 1
                        kind = self.kinds.pop((min(corner, end), max(corner, end)), None)
                        if kind:
                            self.kinds[(corner, nearer[end])] = kind
                            self.kinds[(end, nearer[end])] = kind
                near_i, near_j = nearer[i], nearer[j]
                triangles += [(i, j, near_j), (i, near_j, near_i)]
                shapes += [(a, b, ratio * b), (a, ratio * b, ratio * a)]
                new_soil += [soils[index]] * 2
                new_origin += [place] * 2
                inner[index] = [t, near_i, near_j, ratio * a, ratio * b]
        for index, (t, i, j, a, b) in enumerate(inner):
            self.triangles[t] = (corner, i, j)
            self.shape[t] = ((0, 0), a, b)
            self.origin[t] = origin[index]
        self.triangles = numpy.concatenate([self.triangles, triangles])
        self.shape = numpy.concatenate([self.shape, shapes])
        self.soil = numpy.concatenate([self.soil, new_soil])
        self.origin = numpy.concatenate([self.origin, new_origin])

    def part(self):
        """Gives each face of a wall its own vertices."""
        slit = {edge for edge, kind in self.kinds.items() if kind in WALLS}
        ends = {end for edge in slit for end in edge}
        triangles = self.triangles.tolist()
        around = {end: [] for end in ends}
        for t, corners in enumerate(triangles):
            for corner in corners:
                if corner in around:
                    around[corner].append(t)
        original = self.triangles.copy()
        for end, ring in around.items():
            groups = groups_of(end, ring, original.tolist(), slit)
            for group in groups[1:]:
                for t in group:
                    self.triangles[t][original[t] == end] = self.count
                self.count += 1
        self.edge_kind = {}
        for t in range(len(triangles)):
            for n in range(3):
                old = sorted((int(original[t][n]), int(original[t][n - 2])))
                kind = self.kinds.get(tuple(old))
                if kind:
                    self.edge_kind[(t, n)] = kind


def groups_of(end, ring, triangles, slit):
    """Triangles around a vertex, in groups that walls part."""
    parent = {t: t for t in ring}

    def root(t):
        while parent[t] != t:
            t = parent[t]
        return t

    seen = {}
    for t in ring:
        for other in triangles[t]:
            if other == end or (min(end, other), max(end, other)) in slit:
                continue
            if other in seen:
                parent[root(t)] = root(seen[other])
            seen[other] = t
    groups = {}
    for t in ring:
        groups.setdefault(root(t), []).append(t)
    return list(groups.values())


def exponent(mesh, corner, around):
    """Smallest exponent of r in the solution around a corner, both problems together; None where the
    solution is smooth. Linear elements along the angle; soils that differ in kh and kv are taken for
    isotropic here, which only decides how fine the triangles become."""
    place = mesh.ground.points[corner]
    pieces = []
    for t in around:
        first = mesh.triangles[t].tolist().index(corner)
        order = [first, (first + 1) % 3, (first + 2) % 3]
        ids = mesh.triangles[t][order[1:]].tolist()
        ways = (mesh.shape[t] + mesh.origin[t])[order[1:]] - place
        turn = [numpy.arctan2(way[1], way[0]) for way in ways]
        kinds = [mesh.kinds.get((min(corner, i), max(corner, i))) for i in ids]
        soil = mesh.ground.soils[mesh.soil[t]]
        k = numpy.sqrt(soil["kh"] * soil.get("kv", soil["kh"]))
        pieces.append((ids, (turn[1] - turn[0]) % (2 * numpy.pi), kinds, k))
    plain = (len({piece[3] for piece in pieces}) == 1
             and all(s["kh"] == s.get("kv", s["kh"]) for s in mesh.ground.soils))
    found = [eigen(pieces, stream) for stream in (False, True)]
    least = min(found)
    kinds = {kind for piece in pieces for kind in piece[2] if kind and kind != "soil"}
    quarter = sum(piece[1] for piece in pieces) / (numpy.pi / 2)
    if plain and not kinds & set(WALLS) and abs(quarter - round(quarter)) < 1e-6 and quarter < 2.5:
        mixed = kinds & {"up", "down", "far_up", "far_down"} and kinds & {"top", "base"}
        if not (mixed and round(quarter) == 2):
            return None
    if plain and not kinds:
        return None
    return least


def eigen(pieces, stream, cells=60):
    number, fixed = {}, set()
    rows = []
    for (i, j), angle, kinds, k in pieces:
        inner = [("in", i, j, n) for n in range(1, cells)]
        sides = []
        for end, kind in zip((i, j), kinds):
            # The two faces of a wall are apart: name them by the triangle that they belong to.
            name = (end, i, j) if kind in WALLS else (end,)
            held = ("top", "base", *WALLS) if stream else ("up", "down", "far_up", "far_down")
            if kind in held:
                fixed.add(name)
            sides.append(name)
        chain = [sides[0], *inner, sides[1]]
        for name in chain:
            number.setdefault(name, len(number))
        rows.append(([number[name] for name in chain], angle / cells, 1 / k if stream else k))
    stiff = numpy.zeros((len(number), len(number)))
    mass = numpy.zeros_like(stiff)
    scale = rows[0][2]
    for chain, step, k in rows:
        for a, b in zip(chain, chain[1:]):
            pair = numpy.ix_([a, b], [a, b])
            stiff[pair] += k / scale / step * numpy.array([[1, -1], [-1, 1]])
            mass[pair] += k / scale * step / 6 * numpy.array([[2, 1], [1, 2]])
    free = [n for name, n in number.items() if name not in fixed]
    values = eigh(stiff[numpy.ix_(free, free)], mass[numpy.ix_(free, free)], eigvals_only=True)
    powers = numpy.sqrt(numpy.maximum(values, 0))
    return powers[powers > 1e-3].min()
