"""The ground of a section as a drawing: pieces of boundary, interfaces, walls, and soil by place.

Written from docs/section-file.md alone. A section is a dictionary of the shape of a section file in
SI; water flows to the right. Pieces have one of these kinds:

    up, down         fixed head, 1 and 0 of the reduced head
    far_up, far_down where endless soil is cut
    top              impervious, part of the structure or of the wall between unequal beds
    base             impervious, base and closed sides
    wall             impervious, soil on both faces, hangs from the surface
    wall_low         the same, stands on the base
    wall_free        the same, touches neither
    soil             where one soil meets another
"""
import numpy
from scipy.linalg import eigh_tridiagonal

NEAR = 1e-9
WALLS = ("wall", "wall_low", "wall_free")


def points_of(line):
    if isinstance(line, (int, float)):
        return [(0.0, float(line))]
    return [(float(x), float(z)) for x, z in line]


def level(line, x, of_right=True):
    """Level of a line at x; at a vertical piece that of the side asked for."""
    points = points_of(line)
    at = [z for a, z in points if abs(a - x) < NEAR]
    if at:
        return at[-1] if of_right else at[0]
    if x < points[0][0]:
        return points[0][1]
    if x > points[-1][0]:
        return points[-1][1]
    for (a, za), (b, zb) in zip(points, points[1:]):
        if a < x < b:
            return za + (zb - za) * (x - a) / (b - a)
    raise ValueError("a line must run by growing x")


def cut(line, start, end):
    inner = [(x, z) for x, z in points_of(line) if start + NEAR < x < end - NEAR]
    return [(start, level(line, start)), *inner, (end, level(line, end, False))]


def within(polygon, places):
    """Which places lie inside a polygon: crossings of a ray."""
    x, z = numpy.atleast_2d(places).T
    corners = numpy.asarray(polygon)
    inside = numpy.zeros(len(x), bool)
    for (ax, az), (bx, bz) in zip(corners, numpy.roll(corners, -1, axis=0)):
        spans = (az > z) != (bz > z)
        with numpy.errstate(divide="ignore", invalid="ignore"):
            inside ^= spans & (x < (bx - ax) * (z - az) / (bz - az) + ax)
    return inside


class Ground:
    """points, edges [(i, j, kind)], outline, and soil(places) -> index into soils."""

    def __init__(self, section, reach=1.0, depth=None):
        self.section = section
        self.soils = section["soils"]
        self.names = [soil["name"] for soil in self.soils]
        self.base = section["base"] if section["base"] != "none" else -depth
        self.ends()
        self.limits(reach)
        boundary = self.boundary()
        self.outline = [piece[0] for piece in boundary]
        self.arrange(boundary, self.inner())

    def ends(self):
        section = self.section
        if "structure" in section:
            self.underside = points_of(section["structure"]["underside"])
            self.start, self.end = self.underside[0][0], self.underside[-1][0]
        else:
            self.underside = []
            self.start = self.end = float(section["walls"][0]["x"])

    def features(self):
        """All x at which something changes: beyond them the soil is a level strip."""
        section = self.section
        lines = [section["bed"]["upstream"], section["bed"]["downstream"], self.base,
                 *(soil["top"] for soil in self.soils if "top" in soil)]
        found = [self.start, self.end]
        found += [x for line in lines for x, _ in points_of(line) if len(points_of(line)) > 1]
        found += [x for zone in section.get("zones", []) for x, _ in zone["outline"]]
        return found + [wall["x"] for wall in section.get("walls", [])]

    def limits(self, reach):
        sides = self.section.get("sides", {})
        features = self.features()
        self.left = self.right = None
        if "left" in sides:
            self.left = float(sides["left"]["x"])
            self.left_kind = "base" if sides["left"]["kind"] == "closed" else "up"
        else:
            self.left_kind = "far_up"
            self.left = min(features) - reach * self.decay(min(features) - 1, "upstream")
        if "right" in sides:
            self.right = float(sides["right"]["x"])
            self.right_kind = "base" if sides["right"]["kind"] == "closed" else "down"
        else:
            self.right_kind = "far_down"
            self.right = max(features) + reach * self.decay(max(features) + 1, "downstream")

    def decay(self, x, bed):
        """Length over which what a cut spoils falls to 1e-10: 11.5 / mu, mu the rate of the strip."""
        top, low = level(self.section["bed"][bed], x), level(self.base, x)
        cells = 2000
        size = (top - low) / cells
        middle = low + size * (numpy.arange(cells) + 0.5)
        soil = self.soil(numpy.column_stack([numpy.full(cells, x), middle]))
        kh = numpy.array([self.soils[i]["kh"] for i in soil])
        kv = numpy.array([self.soils[i].get("kv", self.soils[i]["kh"]) for i in soil])
        main = numpy.concatenate([[0], kv]) + numpy.concatenate([kv, [0]])
        mass = (numpy.concatenate([[0], kh]) + numpy.concatenate([kh, [0]])) / 2
        main, mass = main[:-1] / size, mass[:-1] * size
        scale = 1 / numpy.sqrt(mass)
        rate = eigh_tridiagonal(main * scale ** 2, -kv[:-1] / size * scale[:-1] * scale[1:],
                                select="i", select_range=(0, 0))[0][0]
        return 11.5 / numpy.sqrt(rate)

    def boundary(self):
        """Pieces [(from, to, kind)] around the soil, clockwise from the upper left."""
        section = self.section
        pieces, last = [], None

        def go(points, kind):
            nonlocal last
            for point in points:
                if last is not None and numpy.hypot(point[0] - last[0], point[1] - last[1]) > NEAR:
                    pieces.append((last, point, kind))
                last = point

        if self.left < self.start - NEAR:
            go(cut(section["bed"]["upstream"], self.left, self.start), "up")
        if self.underside:
            go(self.underside, "top")
        if self.right > self.end + NEAR:
            down = cut(section["bed"]["downstream"], self.end, self.right)
            go(down[:1], "top")
            go(down, "down")
        base = cut(self.base, self.left, self.right)[::-1]
        first = pieces[0][0]
        go(base[:1], self.right_kind)
        go(base, "base")
        go([first], self.left_kind)
        return pieces

    def inner(self):
        pieces = []
        for soil in self.soils:
            if "top" in soil:
                line = cut(soil["top"], self.left, self.right)
                pieces += [(a, b, "soil") for a, b in zip(line, line[1:])]
        for zone in self.section.get("zones", []):
            corners = [tuple(map(float, corner)) for corner in zone["outline"]]
            pieces += [(a, b, "soil") for a, b in zip(corners, corners[1:] + corners[:1])]
        for wall in self.section.get("walls", []):
            x = float(wall["x"])
            pieces.append(((x, float(wall["top"])), (x, float(wall["tip"])), "wall"))
        return pieces

    def soil(self, places):
        places = numpy.atleast_2d(places)
        found = numpy.zeros(len(places), int)
        for index, soil in enumerate(self.soils):
            if "top" in soil:
                tops = numpy.array([level(soil["top"], x) for x in places[:, 0]])
                found[places[:, 1] < tops] = index
        for zone in self.section.get("zones", []):
            found[within(zone["outline"], places)] = self.names.index(zone["soil"])
        return found

    def arrange(self, boundary, inner):
        """Cuts all pieces where they meet; boundary goes before walls, walls before interfaces."""
        size = max(numpy.ptp([p[0][0] for p in boundary]), numpy.ptp([p[0][1] for p in boundary]))
        near = NEAR * min(size, 1000.0)
        pieces = boundary + [p for p in inner if p[2] == "wall"] + [p for p in inner if p[2] == "soil"]
        points, edges, taken = [], [], set()

        def number(place):
            for index, point in enumerate(points):
                if abs(point[0] - place[0]) < near and abs(point[1] - place[1]) < near:
                    return index
            points.append((float(place[0]), float(place[1])))
            return len(points) - 1

        for rank, (a, b, kind) in enumerate(pieces):
            shares = sorted({0.0, 1.0, *crossings(a, b, pieces, near)})
            places = [numpy.array(a) + s * (numpy.array(b) - a) for s in shares]
            for one, two in zip(places, places[1:]):
                if rank >= len(boundary) and not within(self.outline, (one + two) / 2)[0]:
                    continue
                i, j = number(one), number(two)
                if i == j or (min(i, j), max(i, j)) in taken:
                    continue
                taken.add((min(i, j), max(i, j)))
                edges.append((i, j, kind))
        self.points = numpy.array(points)
        self.edges = [(i, j, kind if kind != "wall" else self.hold(edges, i)) for i, j, kind in edges]

    @staticmethod
    def hold(edges, start):
        """What a wall hangs from, found by walking along walls."""
        reached = {start}
        while True:
            more = {end for i, j, kind in edges if kind == "wall" and reached & {i, j} for end in (i, j)}
            if more <= reached:
                break
            reached |= more
        touched = {kind for i, j, kind in edges if reached & {i, j}}
        if "base" in touched:
            return "wall_low"
        return "wall" if touched & {"up", "down", "top"} else "wall_free"

    def inside(self, places):
        return within(self.outline, places)


def crossings(a, b, pieces, near):
    """Shares of the piece a-b at which other pieces meet it."""
    ax, az = a
    dx, dz = b[0] - ax, b[1] - az
    square = dx * dx + dz * dz
    for c, d, _ in pieces:
        for x, z in (c, d):
            share = ((x - ax) * dx + (z - az) * dz) / square
            if 0 < share < 1 and abs((x - ax) * dz - (z - az) * dx) < near * numpy.sqrt(square):
                yield share
        ex, ez = d[0] - c[0], d[1] - c[1]
        turn = dx * ez - dz * ex
        if abs(turn) > 1e-12 * numpy.sqrt(square * (ex * ex + ez * ez)):
            share = ((c[0] - ax) * ez - (c[1] - az) * ex) / turn
            other = ((c[0] - ax) * dz - (c[1] - az) * dx) / turn
            slack = near / numpy.sqrt(square)
            if slack < share < 1 - slack and -1e-12 < other < 1 + 1e-12:
                yield share
