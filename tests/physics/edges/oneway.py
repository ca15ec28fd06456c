"""Where a one-way bed lets water out: head there is the level, and elsewhere water would have to go in.

First the bed is cut into cells, which open and shut until none wants to change. That shows how many
stretches there are. Then their ends are found as roots: where an open stretch ends in the middle of a
bed, head above the bed behind it goes like a r^(1/2) + b r^(3/2), and a must be nothing. Last, the
solution itself is looked at: no suction undone, no water in.
"""
import numpy

from border import ENDLESS, Border
from water import Water

SEARCH = (0, 4, 1e-4, 1.0)
STEPS = 60
CELLS = (1e-3, 5e-3, 0.02, 0.07, 0.16, 0.3, 0.45)
FAR = 60.0
RADII = (2e-4, 1e-4, 5e-5)


def cells_of(border):
    """Lengths along the dry stretches of bed that part them into cells, finer towards their ends."""
    marks = []
    last = border.bed_line[-1][1]
    for begin, end, _, _, dry in border.bed_line:
        if dry:
            shares = [*CELLS, *(1 - share for share in CELLS[::-1])] if end < last else [*CELLS, 1, 2]
            reach = end - begin if end < last else min(end - begin, FAR) / 2.5
            marks += [begin, *(begin + reach * share for share in shares), end]
    return sorted(set(marks))


def merged(cells):
    """Open stretches of neighbouring open cells."""
    found = []
    for low, high, is_open in cells:
        if is_open and found and abs(found[-1][1] - low) < 1e-9:
            found[-1][1] = high
        elif is_open:
            found.append([low, high])
    return [tuple(stretch) for stretch in found]


def excess(field, border, s):
    """Head above the bed, at a length along it."""
    place = border.bed_place(s)
    return field.at(place, "right") + border.lower - place[1]


def leaving(field, border, s):
    """Flow out of the bed per length and conductivity at a length along it."""
    for begin, end, a, b, _ in border.bed_line:
        if begin <= s <= end:
            way = numpy.subtract(b, a) / numpy.hypot(*numpy.subtract(b, a))
            outward = numpy.array([-way[1], way[0]])
            place = numpy.array(border.bed_place(s))
            soil = border.soils[int(border.soil([place - 1e-7 * outward])[0])]
            slope = field.gradient(tuple(place), "right")
            return -float(outward @ (slope * [soil["kh"], soil.get("kv", soil["kh"])])) / soil["kh"]
    raise ValueError("beyond the end of the bed")


def rough(section, case, depth=None):
    """Open stretches by cells."""
    bare = Border(section, case, SEARCH[3], (), depth)
    marks = cells_of(bare)
    ends = [(begin, end) for begin, end, *_, dry in bare.bed_line if dry]
    cells = [[low, high, True] for low, high in zip(marks, marks[1:])
             if any(begin <= (low + high) / 2 <= end for begin, end in ends)]
    for _ in range(STEPS):
        border = Border(section, case, SEARCH[3], merged(cells), depth, marks)
        field = Water(border, SEARCH)
        changed = 0
        for cell in cells:
            middle = (cell[0] + cell[1]) / 2
            if cell[2] and leaving(field, border, middle) < -1e-9:
                cell[2], changed = False, changed + 1
            elif not cell[2] and excess(field, border, middle) > 1e-9:
                cell[2], changed = True, changed + 1
        if not changed:
            last = border.bed_line[-1][1]
            return [(low, ENDLESS if high > last - 1e-6 else high) for low, high in merged(cells)]
    raise RuntimeError("the cells do not come to rest")


def coefficient(field, border, s, way):
    """a at the end s of an open stretch that lies towards -way."""
    scale = min(1.0, *(abs(s - other) for stretch in border.opened for other in stretch
                       if abs(s - other) > 1e-12 and other != ENDLESS), *edges(border, s))
    radii = numpy.array(RADII) * scale
    heads = [excess(field, border, s + way * r) / numpy.sqrt(r) for r in radii]
    return numpy.polyfit(radii, heads, 2)[-1]


def edges(border, s):
    """Distances to the ends of the straight pieces of bed."""
    return [abs(s - end) for begin, stop, *_ in border.bed_line for end in (begin, stop)
            if abs(s - end) > 1e-12]


def sharp(section, case, fineness, stretches, depth=None, tolerance=1e-7):
    """Open stretches with their ends as roots."""
    bare = Border(section, case, fineness[3], (), depth)
    fixed = {round(end, 9) for begin, stop, *_, dry in bare.bed_line if dry for end in (begin, stop)}
    free = [(n, k) for n, stretch in enumerate(stretches) for k in range(2)
            if round(stretch[k], 9) not in fixed and stretch[k] < 1e6]
    where = numpy.array([stretches[n][k] for n, k in free])

    def placed(values):
        again = [list(stretch) for stretch in stretches]
        for (n, k), value in zip(free, values):
            again[n][k] = value
        return [tuple(stretch) for stretch in again]

    def lack(values):
        border = Border(section, case, fineness[3], placed(values), depth)
        field = Water(border, fineness)
        return numpy.array([coefficient(field, border, v, 1 if k else -1)
                            for (_, k), v in zip(free, values)])

    if len(free):
        where = root(lack, where, bare, tolerance)
    return placed(where)


def root(lack, where, bare, tolerance):
    """Newton's method with slopes from differences, renewed by the steps themselves (Broyden)."""
    room = numpy.array([min(edges(bare, s)) for s in where])
    value = lack(where)
    slopes = numpy.empty((len(where), len(where)))
    for n in range(len(where)):
        moved = where.copy()
        moved[n] += 1e-3 * room[n]
        slopes[:, n] = (lack(moved) - value) / (1e-3 * room[n])
    for _ in range(25):
        step = -numpy.linalg.solve(slopes, value)
        room = numpy.array([min(edges(bare, s)) for s in where])
        step *= min(1.0, (0.5 * room / numpy.maximum(abs(step), 1e-30)).min())
        where = where + step
        if abs(step).max() < tolerance:
            return where
        after = lack(where)
        slopes += numpy.outer(after - value - slopes @ step, step) / (step @ step)
        value = after
    raise RuntimeError("the ends of the open stretches do not come to rest")


def breaches(field, border):
    """(largest head above a shut bed, largest flow into an open one, both over what is usual)."""
    over = into = most = 0.0
    for begin, end, *_, dry in border.bed_line:
        if not dry:
            continue
        reach = min(end - begin, 200.0)
        shares = numpy.concatenate([numpy.geomspace(1e-5, 0.5, 40), 1 - numpy.geomspace(1e-5, 0.5, 40)])
        for s in begin + reach * shares:
            is_open = any(low <= s <= high for low, high in border.opened)
            if is_open:
                flow = leaving(field, border, s)
                most, into = max(most, abs(flow)), max(into, -flow)
            else:
                over = max(over, excess(field, border, s))
    return over, into / most if most else 0.0


def part_shut(section, n, high):
    """The section with permeable stretch n as far as x = high only."""
    structure = section["structure"]
    stretches = [list(stretch) for stretch in structure["permeable"]]
    stretches[n][1] = high
    return {**section, "structure": {**structure, "permeable": stretches}}


def gated(section, case, fineness):
    """The section with each permeable stretch above the downstream water as far as it lets water up:
    from where head falls short of its level, water would go down and does not. Level undersides only."""
    for n, (low, high) in enumerate(section.get("structure", {}).get("permeable", [])):
        border = Border(section, case, fineness[3])
        head = border.permeable_head(n)
        z = section["structure"]["underside"][0][1]
        whole = Water(border, fineness)
        if head <= border.lower or whole.gradient((high - 1e-3 * (high - low), z))[1] < 0:
            continue

        def lack(end, n=n, z=z, head=head):
            border = Border(part_shut(section, n, end), case, fineness[3])
            field = Water(border, fineness)
            radii = numpy.array(RADII)
            over = [(field.at((end + r, z)) + border.lower - head) / numpy.sqrt(r) for r in radii]
            return numpy.polyfit(radii, over, 2)[-1]

        end = secant(lack, (low + high) / 2, low + 0.45 * (high - low))
        section = part_shut(section, n, end)
    return section


def secant(lack, one, two, tolerance=1e-7):
    first, second = lack(one), lack(two)
    for _ in range(30):
        one, two = two, two - second * (two - one) / (second - first)
        if abs(two - one) < tolerance:
            return float(two)
        first, second = second, lack(two)
    raise RuntimeError("the end of the permeable stretch does not come to rest")
