"""A section with one water case as a drawing: which piece of boundary holds which head.

Written from docs/section-file.md alone. Pieces carry the kinds of ground.py, so that the triangles
know what is fixed and what is closed, and beside that the part they belong to:

    up, down           beds below water       dry      one-way bed where water comes out: head = level
    side_left, _right  sides of fixed head    shut     one-way bed where none does
    drain NAME         a continuous drain     seal     sealed bed
    void N             contact lost           permeable N
    base               with or without water below       underside, tight
"""
import os
import sys

import numpy

sys.path.append(os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "ground"))
from ground import NEAR, Ground, level  # noqa: E402

ENDLESS = numpy.inf


class Mark(str):
    """A kind with the part it belongs to."""

    def __new__(cls, kind, part):
        mark = super().__new__(cls, kind)
        mark.part = part
        return mark


def part_of(kind):
    return getattr(kind, "part", "")


def paint(pieces, pick, mark):
    """Gives the share (from, to) that `pick` finds of each piece another mark; pieces stay in order."""
    painted = []
    for a, b, kind in pieces:
        share = pick(a, b, kind)
        if share is None:
            painted.append((a, b, kind))
            continue
        low, high = share
        at = [numpy.array(a) + s * (numpy.array(b) - a) for s in (low, high)]
        one = a if low <= 0 else tuple(at[0])
        two = b if high >= 1 else tuple(at[1])
        if low > 0:
            painted.append((a, one, kind))
        painted.append((one, two, mark))
        if high < 1:
            painted.append((two, b, kind))
    return painted


def between(low, high, start, end):
    """Share of [start, end] within [low, high], or None."""
    one, two = (max(min((edge - start) / (end - start), 1.0), 0.0) for edge in (low, high))
    one, two = (round(s) if min(s, 1 - s) < 1e-12 else s for s in (one, two))
    return (one, two) if two > one else None


def over(parts, low, high):
    """Picks stretches by x of the parts named."""
    def pick(a, b, kind):
        if part_of(kind) not in parts:
            return None
        if abs(a[0] - b[0]) < NEAR:
            return (0, 1) if low < a[0] < high else None
        return between(low, high, a[0], b[0])
    return pick


def along(start, end):
    """Picks what lies on a straight line from start to end, of what is tight."""
    way = numpy.subtract(end, start)
    square = way @ way

    def pick(a, b, kind):
        if part_of(kind) not in ("underside", "face"):
            return None
        shares = []
        for point in (a, b):
            off = numpy.subtract(point, start)
            if abs(way[0] * off[1] - way[1] * off[0]) > 1e-9 * square:
                return None
            shares.append(way @ off / square)
        if shares[1] < shares[0]:
            found = between(0.0, 1.0, shares[1], shares[0])
            return found and (1 - found[1], 1 - found[0])
        return between(0.0, 1.0, *shares)
    return pick


class Border(Ground):
    """The drawing for a water case. `opened`: stretches of the downstream bed, by length along it from
    the toe, where a one-way bed lets water out; `breaks`: lengths at which it is cut besides."""

    def __init__(self, section, case, reach=1.0, opened=((0.0, ENDLESS),), depth=None, breaks=()):
        self.case, self.opened, self.breaks = case, opened, breaks
        section = dict(section)
        section["bed"] = {**section["bed"], **case.get("beds", {})}
        self.artesian = None
        if isinstance(section["base"], dict):
            base = section["base"]
            if "head" in base:
                self.artesian = (base["head"], base["thickness"] / base["kv"] if "kv" in base else 0.0)
            section["base"] = base["level"]
        self.whole = section
        self.toe_level = level(section["bed"]["downstream"], self.end_of(section))
        at_bed = case["downstream"] == "at_bed"
        self.tail = -numpy.inf if at_bed else float(case["downstream"])
        self.lower = self.toe_level if at_bed else self.tail
        shut = [d["name"] for d in section.get("drains", []) if d.get("state") == "shut"
                or case.get("drains") == "off" or d["name"] in case.get("shut", [])]
        self.drains = [d for d in section.get("drains", []) if d["name"] not in shut]
        self.weeps = [d for d in self.drains if "at" in d]
        super().__init__(section, reach, depth)

    @staticmethod
    def end_of(section):
        if "structure" in section:
            return float(section["structure"]["underside"][-1][0])
        return float(section["walls"][0]["x"])

    def outlet(self, drain):
        """Head of a drain: the larger of its outlet and the downstream water."""
        return self.lower if drain["outlet"] == "tailwater" else max(drain["outlet"], self.lower)

    def boundary(self):
        pieces = [(a, b, self.named(a, b, kind)) for a, b, kind in super().boundary()]
        pieces = self.beds(pieces)
        structure = self.section.get("structure", {})
        for n, (low, high) in enumerate(structure.get("permeable", [])):
            pieces = paint(pieces, over(("underside",), low, high), Mark("down", f"permeable {n}"))
        for n, (low, high) in enumerate(structure.get("contact_lost", [])):
            pieces = paint(pieces, over(("underside",), low, high), Mark("down", f"void {n}"))
        for low, high in self.case.get("seal", []):
            pieces = paint(pieces, over(("up", "down", "dry", "shut"), low, high), Mark("top", "seal"))
        inner = []
        for drain in self.drains:
            if "at" in drain:
                pieces = self.pierce(pieces, drain["at"])
                continue
            mark = Mark("top" if "clogging" in drain else "down", "drain " + drain["name"])
            before = len(pieces), [part_of(kind) for *_, kind in pieces]
            pieces = paint(pieces, along(drain["from"], drain["to"]), mark)
            if before == (len(pieces), [part_of(kind) for *_, kind in pieces]):
                inner.append((tuple(map(float, drain["from"])), tuple(map(float, drain["to"])), mark))
        self.inner_drains = inner
        return pieces

    def named(self, a, b, kind):
        """The part a plain piece belongs to."""
        upright = abs(a[0] - b[0]) < NEAR
        if kind in ("far_up", "far_down"):
            return Mark("base", "far")
        if upright and abs(a[0] - self.left) < NEAR and kind == self.left_kind:
            return Mark(kind, "side_left")
        if upright and abs(a[0] - self.right) < NEAR and kind == self.right_kind:
            return Mark(kind, "side_right")
        if kind == "base" and self.artesian:
            return Mark("base" if self.artesian[1] else "up", "base")
        if kind == "top":
            ends = upright and min(abs(a[0] - self.start), abs(a[0] - self.end)) < NEAR
            return Mark("top", "face" if ends else "underside")
        return Mark(kind, str(kind))

    def beds(self, pieces):
        """The downstream bed: below water, or one-way where it is dry."""
        done, length = [], 0.0
        self.bed_line = []
        for a, b, kind in pieces:
            if part_of(kind) != "down":
                done.append((a, b, kind))
                continue
            size = float(numpy.hypot(b[0] - a[0], b[1] - a[1]))
            for one, two in self.parted(a, b):
                middle = (one[1] + two[1]) / 2
                begin = length + float(numpy.hypot(one[0] - a[0], one[1] - a[1]))
                end = length + float(numpy.hypot(two[0] - a[0], two[1] - a[1]))
                if middle <= self.tail:
                    done.append((one, two, Mark("down", "down")))
                else:
                    done += self.one_way(one, two, begin, end)
                self.bed_line.append((begin, end, one, two, middle > self.tail))
            length += size
        return done

    def parted(self, a, b):
        """A piece of bed cut at the water's edge."""
        low, high = sorted((a[1], b[1]))
        if not low < self.tail < high:
            return [(a, b)]
        share = (self.tail - a[1]) / (b[1] - a[1])
        edge = (a[0] + share * (b[0] - a[0]), self.tail)
        return [(a, edge), (edge, b)]

    def one_way(self, a, b, begin, end):
        """Pieces of a dry stretch, open or shut, with the points that a search asks for."""
        marks = {begin, end}
        marks |= {s for stretch in self.opened for s in stretch if begin + NEAR < s < end - NEAR}
        marks |= {s for s in self.breaks if begin + NEAR < s < end - NEAR}
        marks = sorted(marks)
        pieces = []
        for one, two in zip(marks, marks[1:]):
            shares = [(s - begin) / (end - begin) for s in (one, two)]
            places = [a if s == 0 else b if s == 1 else tuple(numpy.array(a) + s * numpy.subtract(b, a))
                      for s in shares]
            middle = (one + two) / 2
            is_open = any(low <= middle <= high for low, high in self.opened)
            pieces.append((*places, Mark("down", "dry") if is_open else Mark("base", "shut")))
        return pieces

    @staticmethod
    def pierce(pieces, at):
        """A corner where a row of weeps lies."""
        done = []
        for a, b, kind in pieces:
            along_x, along_z = b[0] - a[0], b[1] - a[1]
            square = along_x ** 2 + along_z ** 2
            share = ((at[0] - a[0]) * along_x + (at[1] - a[1]) * along_z) / square
            off = abs((at[0] - a[0]) * along_z - (at[1] - a[1]) * along_x) / square
            if part_of(kind) in ("underside", "face") and 1e-9 < share < 1 - 1e-9 and off < 1e-9:
                place = (float(at[0]), float(at[1]))
                done += [(a, place, kind), (place, b, kind)]
            else:
                done.append((a, b, kind))
        return done

    def arrange(self, boundary, inner):
        super().arrange(boundary + self.inner_drains, inner)

    def bed_place(self, s):
        """Place on the downstream bed at a length along it from the toe."""
        for begin, end, a, b, _ in self.bed_line:
            if begin <= s <= end:
                share = (s - begin) / (end - begin)
                return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
        raise ValueError("beyond the end of the bed")

    def head_of(self, part):
        """Head of a part above `lower`, as a function of levels; None where it is closed or leaks."""
        if part == "dry":
            return lambda z: z - self.lower
        head = self.held(part)
        return None if head is None else lambda z: numpy.full(len(z), head - self.lower)

    def held(self, part):
        case = self.case
        kind, _, name = part.partition(" ")
        if part == "up":
            return float(case["upstream"])
        if part in ("side_left", "side_right"):
            side = self.section["sides"][part[5:]]
            water = case["upstream"] if part == "side_left" else self.lower
            return None if side["kind"] == "closed" else float(side.get("head", water))
        if part == "down":
            return float(self.tail)
        if part == "base" and self.artesian and not self.artesian[1]:
            return float(self.artesian[0])
        if kind == "permeable":
            return self.permeable_head(int(name))
        if kind == "drain" and "clogging" not in self.drain(name):
            return float(self.outlet(self.drain(name)))
        return None

    def permeable_head(self, n):
        """The higher of downstream water and top of the structure, which is level there."""
        structure = self.section["structure"]
        middle = sum(structure["permeable"][n]) / 2
        return max(self.lower, float(level(structure.get("top", structure["underside"]), middle)))

    def drain(self, name):
        return next(d for d in self.drains if d["name"] == name)

    def leak_of(self, part):
        """(flow per area and head, head above `lower`) behind a resistance; None elsewhere."""
        if part == "base" and self.artesian and self.artesian[1]:
            return 1 / self.artesian[1], self.artesian[0] - self.lower
        if part.startswith("drain ") and "clogging" in self.drain(part[6:]):
            drain = self.drain(part[6:])
            clogging = drain["clogging"]
            return clogging["conductivity"] / clogging["thickness"], self.outlet(drain) - self.lower
        return None
