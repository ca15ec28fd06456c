"""Values of a section in the units of its file: what `undersill solve` should find."""
import numpy

from ground import level
from solve import COARSE, FINE, QUICK, Solved, size_of

WEIGHT = 9.81  # of water, kN/m^3
DEPTHS = 1e3   # of soil without bottom, in sizes of the section
ROUNDING = 2e-9


def solved(section, fineness=COARSE):
    return Solved(section, fineness, DEPTHS * size_of(section) * fineness[3])


class Reading:
    """The numbers of one solution, plain floats in the order of names()."""

    def __init__(self, section, solution):
        self.section, self.solution = section, solution
        water = section["water"][0]
        self.low, self.fall = water["downstream"], water["upstream"] - water["downstream"]
        self.head = solution.head
        ground = solution.ground
        self.toe = (ground.end, level(section["bed"]["downstream"], ground.end))
        self.values = {}
        if section["base"] != "none":
            self.values["flow"] = solution.flow() * self.fall
        for gauge in section.get("piezometers", []):
            self.values["head " + gauge["name"]] = self.at(gauge["at"], gauge.get("side"))
        for wall in section.get("walls", []):
            for part, value in self.wall(wall).items():
                self.values[f"wall {wall['name']} {part}"] = value
        if "structure" in section:
            self.uplift()
        self.exit()

    def at(self, place, side=None):
        return self.low + self.fall * self.head.at(place, side)

    def wall(self, wall):
        """Heads at the highest soil of each face and at the tip."""
        ground, x = self.solution.ground, wall["x"]
        tops = {}
        for side in ("left", "right"):
            if ground.start < x < ground.end or (x == ground.start != ground.end and side == "right") \
                    or (x == ground.end != ground.start and side == "left"):
                tops[side] = level(ground.underside, x, side == "right")
            else:
                tops[side] = level(self.section["bed"]["upstream" if x <= ground.start and side == "left"
                                                       else "downstream"], x, side == "right")
            tops[side] = min(tops[side], wall["top"])
        found = {"tip": self.at((x, wall["tip"]))}
        for side, name in (("left", "upstream_face_top"), ("right", "downstream_face_top")):
            if tops[side] > wall["tip"]:
                found[name] = self.at((x, tops[side]), side)
        return found

    def uplift(self):
        """Force and line of action of the water pressure; none where there would be suction."""
        head, ground = self.head, self.solution.ground
        points = ground.underside
        lowest = min(self.at((x, z)) - z for x, z in points)
        if lowest < 0:
            return
        inner, moment = head.uplift()
        force, lever = self.fall * inner, self.fall * moment
        for (a, za), (b, zb) in zip(points, points[1:]):
            width = b - a
            # Pressure head of the lower water: linear in x, so two values and Simpson do.
            pressure = [self.low - z for z in (za, (za + zb) / 2, zb)]
            force += width * (pressure[0] + 4 * pressure[1] + pressure[2]) / 6
            lever += width * (pressure[0] * a + 4 * pressure[1] * (a + b) / 2 + pressure[2] * b) / 6
        self.values["uplift force"] = WEIGHT * force
        self.values["uplift x"] = lever / force

    def exit(self):
        """The largest gradient on the piece of the downstream bed beside the toe, where that is finite:
        the soil there has a right angle or less, and no hollow of 20 degrees or more ends the piece."""
        bed, ground = self.section["bed"]["downstream"], self.solution.ground
        points = [p for p in bed if p[0] > self.toe[0]] if isinstance(bed, list) else []
        angles = [numpy.arctan2(b[1] - a[1], b[0] - a[0])
                  for a, b in zip([self.toe, *points], points)] + [0.0]
        turns = numpy.degrees(numpy.diff(angles))
        wall = any(abs(wall["x"] - ground.end) < 1e-9 for wall in self.section.get("walls", []))
        embedded = bool(ground.underside) and ground.underside[-1][1] < self.toe[1] - 1e-9
        self.bounded = (wall or embedded) and angles[0] <= 0 and all(turns < 20)
        if not self.bounded:
            return
        self.steepest = self.toe if angles[0] == 0 else self.search(numpy.array(points[0]))
        if angles[0] < 0:
            self.values["exit x"] = self.steepest[0]
        self.values["exit gradient"] = self.gradient(self.steepest)

    def gradient(self, place):
        return self.fall * float(numpy.hypot(*self.head.gradient(place, "right")))

    def search(self, following):
        toe = numpy.array(self.toe)

        def place(share):
            return tuple(toe + share * (following - toe))

        shares = numpy.geomspace(1e-4, 0.7, 200)
        best = int(numpy.argmax([self.gradient(place(share)) for share in shares]))
        low, high = shares[max(best - 1, 0)], shares[min(best + 1, len(shares) - 1)]
        fine = numpy.linspace(low, high, 41)
        values = [self.gradient(place(share)) for share in fine]
        near = int(numpy.clip(numpy.argmax(values), 4, 36))
        fit = numpy.polyfit(fine[near - 4:near + 5] - fine[near], values[near - 4:near + 5], 2)
        return place(fine[near] - fit[1] / 2 / fit[0])

    def mean(self, place, depth):
        """Mean gradient over a depth below a place on the downstream bed."""
        return (self.at((place[0], place[1] - depth), "right") - self.low) / depth


def reference(section):
    """{quantity: (value, error)}, and the values of three finenesses as proof."""
    steps = [Reading(section, solved(section, fineness)) for fineness in (QUICK, COARSE, FINE)]
    last = steps[-1]
    found = {}
    for name, value in last.values.items():
        scale = last.fall if name.split()[0] in ("head", "wall") else abs(value)
        error = 3 * abs(value - steps[1].values[name]) + ROUNDING * scale
        if name == "flow":
            lower, upper = last.solution.bounds()
            error = max(error, (upper - lower) / 2 * last.fall)
        if name == "exit x":
            error = max(error, 1e-4)
        found[name] = (value, error)
    return found, steps
