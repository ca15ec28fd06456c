"""Values of one water case in the units of the file: what `undersill solve` should find."""
import numpy

import oneway
from border import part_of
from elements import lobatto
from ground import level
from reference import DEPTHS, ROUNDING, WEIGHT, Reading
from solve import COARSE, FINE, QUICK, size_of
from water import solved

ALL_OPEN = ((0.0, numpy.inf),)
# Stretches beside the ends of pieces that a search for the steepest place leaves out; far is far.
CLEAR, FAR, BESIDE = 0.12, 60.0, 1.0
# Share of uplift that counts as suction; the point of a weep has heads without limit.
SUCTION = 1e-6
GAUSS = numpy.polynomial.legendre.leggauss(60)


def depth_of(section, fineness):
    """Depth at which soil without bottom is cut."""
    return DEPTHS * size_of(section) * fineness[3] if section["base"] == "none" else None


def dry(section, case):
    """Whether a part of the downstream bed is one-way and not level all over."""
    bed = {**section["bed"], **case.get("beds", {})}["downstream"]
    levels = [z for _, z in bed] if isinstance(bed, list) else [bed]
    lowest, highest = min(levels), max(levels)
    if case["downstream"] == "at_bed":
        return lowest != highest
    return case["downstream"] < highest


class Seen(Reading):
    """The numbers of one solution, plain floats by name. The solution is head above a level."""

    def __init__(self, section, case, field):
        self.solution, self.head, self.case = field, field, case
        self.ground = field.border
        field.ground = field.border
        self.section = self.ground.whole
        self.low, self.fall = field.border.lower, 1.0
        self.toe = (self.ground.end, level(self.section["bed"]["downstream"], self.ground.end))
        self.values = {}
        self.flows()
        for gauge in section.get("piezometers", []):
            self.values["head " + gauge["name"]] = self.at(gauge["at"], gauge.get("side"))
        for wall in section.get("walls", []):
            for part, value in self.wall(wall).items():
                self.values[f"wall {wall['name']} {part}"] = value
        if "structure" in section:
            self.uplift()
        self.leave()

    def flows(self):
        inflow = self.solution.inflow
        section = self.section
        endless = self.ground.artesian and "left" not in section.get("sides", {})
        if section["base"] != "none" and not endless:
            self.values["flow"] = inflow.get("up", 0.0) + inflow.get("side_left", 0.0)
        for part, flow in inflow.items():
            if part.startswith(("drain ", "permeable ")):
                self.values[part] = -flow
        if self.ground.artesian and len(section.get("sides", {})) == 2:
            self.values["base_flow"] = inflow["base"]
        if "dry" in inflow:
            self.values["outflow"] = -inflow["dry"]

    def uplift(self):
        """Water pressure on the underside; where a drain lies, that of its head."""
        head, ground = self.head, self.ground
        points = lobatto(head.element.degree)
        force = lever = undone = 0.0
        for (t, n), kind in head.mesh.edge_kind.items():
            part = part_of(kind)
            if part.split(" ")[0] not in ("underside", "drain", "void", "permeable"):
                continue
            a, b = (head.mesh.shape[t, (n + k) % 3] + head.mesh.origin[t] for k in (0, 1))
            if abs(a[0] - b[0]) < 1e-300 or not self.under(a, b):
                continue
            found = self.low + head.nodal[t, head.element.edge(n)]
            if part.startswith("drain "):
                found = found * 0 + ground.outlet(ground.drain(part[6:]))
            share, weights = (points + 1) / 2, head.element.weights
            pressure = found - (a[1] + share * (b[1] - a[1]))
            if pressure.min() < 0:
                share, weights = (GAUSS[0] + 1) / 2, GAUSS[1]
                along = numpy.polynomial.legendre.Legendre.fit(points, pressure, len(points) - 1,
                                                               domain=[-1, 1])
                undone -= abs(b[0] - a[0]) / 2 * weights @ numpy.minimum(along(GAUSS[0]), 0)
                pressure = numpy.maximum(along(GAUSS[0]), 0)
            x = a[0] + share * (b[0] - a[0])
            width = abs(b[0] - a[0]) / 2 * weights
            force += width @ pressure
            lever += width @ (pressure * x)
        self.suction = bool(undone > SUCTION * force)
        self.values["uplift force"] = WEIGHT * force
        self.values["uplift x"] = lever / force

    def under(self, a, b):
        """Whether an edge lies on the underside, not inside the soil (as a drain there does)."""
        middle = (a + b) / 2
        return abs(level(self.ground.underside, middle[0]) - middle[1]) < 1e-9

    def leave(self):
        """The exit gradient at a toe where it is finite and where the bed beside it lets water out."""
        beside = self.ground.bed_line[0] if self.ground.bed_line else None
        sealed = any(low <= self.toe[0] + 1e-6 <= high for low, high in self.case.get("seal", []))
        shut = beside and beside[4] and not any(low <= 0.0 < high for low, high in self.ground.opened)
        if beside and not sealed and not shut:
            self.exit()

    def gradient(self, place):
        """Slope of head square to the bed, positive where water comes out."""
        return -float(self.outward(place) @ self.head.gradient(place, "right"))

    def outward(self, place):
        """Direction out of the soil, of the first piece of bed that holds a place."""
        for _, _, a, b, _ in self.ground.bed_line:
            way, off = numpy.subtract(b, a), numpy.subtract(place, a)
            share = way @ off / (way @ way)
            if -1e-9 < share < 1 + 1e-9 and abs(way[0] * off[1] - way[1] * off[0]) < 1e-6 * (way @ way):
                return numpy.array([-way[1], way[0]]) / numpy.hypot(*way)
        raise ValueError(f"{place} is not on the downstream bed")

    def steepest_of_all(self):
        """Largest gradient on the downstream bed, and its place. Clear of hollows and of the water's edge,
        where it has no limit: by a share of the shorter of the pieces that meet there."""
        found = (0.0, None)
        line = self.ground.bed_line
        sizes = [min(end - begin, FAR) for begin, end, *_ in line]
        for n, (begin, _, _, _, dry_piece) in enumerate(line):
            low, high = (CLEAR * min(sizes[n], sizes[other]) if 0 <= other < len(line) else 0.0
                         for other in (n - 1, n + 1))
            for s in begin + numpy.linspace(low, sizes[n] - high, 60)[1:-1]:
                if self.beside(self.ground.bed_place(s)):
                    continue
                if not dry_piece or any(one <= s <= two for one, two in self.ground.opened):
                    place = self.ground.bed_place(s)
                    found = max(found, (self.gradient(place), place))
        return found

    def beside(self, place):
        """On a seal, or near an end of one or the water's edge: gradients there have no limit."""
        line = self.ground.bed_line
        if any(one[4] != two[4] and numpy.hypot(*numpy.subtract(place, two[2])) < BESIDE
               for one, two in zip(line, line[1:])):
            return True
        return any(low - BESIDE < place[0] < high + BESIDE for low, high in self.case.get("seal", []))

    def mean(self, place, depth):
        """Mean gradient over a depth below a place on the downstream bed."""
        above = max(place[1], self.ground.tail)
        return (self.at((place[0], place[1] - depth), "right") - above) / depth


def read(section, case, fineness, opened=ALL_OPEN):
    return Seen(section, case, solved(section, case, fineness, opened, depth_of(section, fineness)))


def reference(section, case):
    """{quantity: (value, error)}, the last reading, and open stretches with the error of their ends."""
    rough = oneway.rough(section, case, depth_of(section, QUICK)) if dry(section, case) else None
    steps, stretches = [], []
    opened = None
    for fineness in (QUICK, COARSE, FINE):
        if rough is not None:
            opened = oneway.sharp(section, case, fineness, opened or rough, depth_of(section, fineness))
        stretches.append(opened or ALL_OPEN)
        steps.append(read(oneway.gated(section, case, fineness), case, fineness, opened or ALL_OPEN))
    last = steps[-1]
    highest = case["upstream"] - last.ground.lower
    largest = max(abs(flow) for flow in last.solution.inflow.values())
    found = {}
    for name, value in last.values.items():
        kind = name.split()[0]
        scale = {"head": highest, "wall": highest, "drain": largest, "flow": largest,
                 "outflow": largest, "base_flow": largest, "permeable": largest}.get(kind, abs(value))
        found[name] = (value, 3 * abs(value - steps[1].values[name]) + 5 * ROUNDING * scale)
        if name == "exit x":
            found[name] = (value, max(found[name][1], 1e-4))
    ends = [abs(a - b) for one, two in zip(stretches[1], stretches[2]) for a, b in zip(one, two)
            if a < numpy.inf]
    return found, steps, (stretches[-1], 3 * max(ends, default=0.0) + 1e-6)
