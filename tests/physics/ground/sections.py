"""The sections: those with closed forms from exact.py, and those that only fine solutions answer.

Each entry is (section, answers): answers may hold `heads` (a function of the place), `flow` (per
conductivity of the first soil and head), `gradient` (per head), and how far these themselves are off,
`slack`, where the section is not quite the one that the closed form is for.
"""
import numpy

import exact

SAND = {"name": "sand", "kh": 2e-5, "kv": 2e-5, "unit_weight": 19.5}
FLOOD = [{"name": "flood", "upstream": 104.0, "downstream": 101.5}]


def gauges(*places):
    """Piezometers [(x, level) or (x, level, side)]."""
    return [{"name": f"P{n + 1}", "at": [float(place[0]), float(place[1])],
             **({"side": place[2]} if len(place) > 2 else {})} for n, place in enumerate(places)]


def apron(**changes):
    """A floor of 12 m, set half a metre into the bed, with a wall at either end."""
    section = {
        "bed": {"upstream": 100.0, "downstream": 100.0},
        "base": 88.0,
        "structure": {"underside": [[0.0, 99.5], [12.0, 99.5]]},
        "walls": [{"name": "crest", "x": 0.0, "top": 99.7, "tip": 96.0},
                  {"name": "toe", "x": 12.0, "top": 99.7, "tip": 95.0}],
        "soils": [dict(SAND)],
        "piezometers": gauges((6, 99.5), (3, 97), (9, 96.5), (0, 97, "right"), (12, 97, "left"),
                              (12, 98, "right")),
        "water": [dict(FLOOD[0])],
    }
    return {**section, **changes}


def wall(tip, **changes):
    section = {
        "bed": {"upstream": 100.0, "downstream": 100.0},
        "base": 88.0,
        "walls": [{"name": "sheet", "x": 0.0, "top": 100.5, "tip": float(tip)}],
        "soils": [dict(SAND)],
        "piezometers": gauges((0, 98, "left"), (0, 98, "right"), (-4, 96), (4, 96), (2, 91)),
        "water": [dict(FLOOD[0])],
    }
    return {**section, **changes}


def layers(upper, lower, top):
    return [{"name": "upper", "kh": upper, "kv": upper, "unit_weight": 19.0},
            {"name": "lower", "top": top, "kh": lower, "kv": lower, "unit_weight": 20.0}]


def strips():
    for down, up, normal in ((20, 10, 25), (45, 20, 25), (10, 45, -20), (0, 30, 50)):
        section, heads, flow = exact.strip(down, up, normal)
        left, kink, right = numpy.array(section["structure"]["underside"])
        low = numpy.array(section["base"][1])
        section["piezometers"] = gauges(kink, (left + kink) / 2, (kink + right) / 2, (kink + low) / 2,
                                        (left + kink) / 4 + low / 2, (right + kink) / 4 + low / 2)
        section["title"] = f"A strip that falls at {down} degrees and rises at {up}"
        yield f"strip_{down}_{up}", section, {"heads": heads, "flow": flow, "slack": 1e-6}


def round_ones():
    section, heads, _ = exact.annulus()
    ray = numpy.pi / 24
    section["title"] = "Half a ring, as polygons of 24 pieces"
    section["piezometers"] = gauges(*[
        (r * numpy.sin(n * ray), -r * numpy.cos(n * ray))
        for r, n in ((7, 0), (6, 4), (8, -7), (5, 9), (4, -2), (9, -10))])
    yield "ring", section, {"heads": heads}

    section, _, _ = exact.disc()
    section["title"] = "A wall over a round base, as polygon of 24 pieces"
    section["piezometers"] = gauges((0, -2, "left"), (0, -2, "right"), (3, -5), (-5, -3), (6, -4))
    yield "round_base", section, {}

    section, heads, peak = exact.ridge()
    section["title"] = "A wall on the crest of two slopes, soil without bottom"
    section["piezometers"] = gauges((0, -2, "left"), (0, -2, "right"), (3, -2), (-5, -3), (2, -8))
    yield "ridge", section, {"heads": heads, "gradient": peak, "slack": 1e-6}

    section, heads, _ = exact.key()
    section["title"] = "A triangular key in soil without bottom"
    section["piezometers"] = gauges((6, -3), (3, -1.5), (8, -1.5), (4, -5), (12, -2))
    yield "key", section, {"heads": heads, "slack": 1e-7}


def grounds():
    dip = [[-20.0, 97.5], [20.0, 89.5]]
    yield "dip_10", apron(title="A layer that dips 1 in 5, ten times as pervious",
                          soils=layers(1e-5, 1e-4, dip))
    yield "dip_100", apron(title="A layer that dips 1 in 5, a hundred times as pervious",
                           soils=layers(1e-6, 1e-4, dip))
    yield "dip_tight", wall(95, title="A tight layer that rises 1 in 5, the wall through it",
                            soils=layers(1e-4, 1e-6, [[-15.0, 93.0], [15.0, 99.0]]))
    lens = [[4.0, 97.2], [9.0, 97.6], [9.0, 96.8], [4.0, 96.4]]
    yield "lens_gravel", apron(title="A gravel lens in sand",
                               soils=[dict(SAND), {"name": "gravel", "kh": 2e-3}],
                               zones=[{"soil": "gravel", "outline": lens}])
    lens = [[-3.0, 94.0], [5.0, 94.8], [15.0, 93.8], [6.0, 93.2]]
    yield "lens_clay", apron(title="A clay lens in sand, pointed at both ends",
                             soils=[dict(SAND), {"name": "clay", "kh": 2e-8}],
                             zones=[{"soil": "clay", "outline": lens}])
    yield "blanket", apron(
        title="A blanket on the upstream bed",
        bed={"upstream": [[-16.0, 100.0], [-14.0, 101.0]], "downstream": 100.0},
        soils=[dict(SAND), {"name": "silt", "kh": 2e-7}],
        zones=[{"soil": "silt", "outline": [[-16.0, 100.0], [-14.0, 101.0], [0.0, 101.0],
                                            [0.0, 100.0]]}])
    backfill = [dict(SAND), {"name": "backfill", "kh": 1e-9}]
    yield "trench_sheet", wall(
        95, title="A trench of tight backfill around a sheet wall", soils=backfill,
        zones=[{"soil": "backfill", "outline": [[-0.4, 100.0], [0.4, 100.0], [0.4, 93.0],
                                                [-0.4, 93.0]]}])
    yield "trench_apron", apron(
        title="A trench of tight backfill in place of the upstream wall", soils=backfill,
        zones=[{"soil": "backfill", "outline": [[0.0, 99.5], [0.8, 99.5], [0.8, 93.0],
                                                [0.0, 93.0]]}],
        walls=[{"name": "toe", "x": 12.0, "top": 99.7, "tip": 95.0}],
        piezometers=gauges((6, 99.5), (3, 97), (9, 96.5), (0.8, 96), (12, 97, "left"),
                           (12, 98, "right")))


def shapes():
    yield "stepped_base", apron(
        title="A base that steps and slopes",
        base=[[-30.0, 92.0], [-5.0, 92.0], [0.0, 90.0], [0.0, 89.0], [8.0, 90.5], [25.0, 93.0]])
    chute = [[12.0, 100.0], [21.0, 97.0]]
    water = [{"name": "flood", "upstream": 104.0, "downstream": 100.5}]
    yield "chute", apron(title="A rock chute that falls 1 in 3 from the toe", water=water,
                         bed={"upstream": 101.5, "downstream": chute}, base=[[10.0, 90.0], [30.0, 86.0]])
    yield "chute_flush", apron(
        title="A rock chute from a flush toe", water=water,
        bed={"upstream": 101.5, "downstream": chute},
        structure={"underside": [[0.0, 100.0], [12.0, 100.0]]},
        walls=[{"name": "crest", "x": 0.0, "top": 100.2, "tip": 96.0}],
        piezometers=gauges((6, 100), (10, 100), (3, 97), (9, 96.5), (0, 97, "right"), (14, 98)))
    glacis = {"underside": [[0.0, 101.0], [3.0, 101.0], [10.5, 98.5], [17.0, 98.5]]}
    drop = {
        "bed": {"upstream": 102.0, "downstream": 99.5}, "base": 88.0, "structure": glacis,
        "walls": [{"name": "crest", "x": 0.0, "top": 101.5, "tip": 97.0},
                  {"name": "toe", "x": 17.0, "top": 98.9, "tip": 95.5}],
        "piezometers": gauges((3, 101), (6, 100), (9, 99), (10.5, 98.5), (8, 96), (17, 97, "left")),
    }
    yield "glacis", apron(title="An underside that slopes 1 in 3", **drop)
    yield "glacis_anisotropic", apron(
        title="An underside that slopes 1 in 3 in soil that lies in beds",
        soils=[{"name": "sand", "kh": 4e-5, "kv": 1e-5, "unit_weight": 19.5}], **drop)
    yield "scour", apron(
        title="A scour hole behind the toe wall",
        bed={"upstream": 100.0, "downstream": [[12.0, 98.0], [14.0, 97.0], [18.0, 97.0], [27.0, 100.0]]},
        piezometers=gauges((6, 99.5), (3, 97), (9, 96.5), (0, 97, "right"), (12, 97, "left"),
                           (16, 95)))


def every():
    """(name, section, answers) of all sections."""
    yield from strips()
    yield from round_ones()
    for name, section in (*grounds(), *shapes()):
        yield name, section, {}


def number(value):
    return repr(float(value)) if not float(value).is_integer() else str(int(value))


def flow_style(value):
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {flow_style(item)}" for key, item in value.items()) + "}"
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(map(flow_style, value)) + "]"
    return value if isinstance(value, str) else number(value)


def file_of(section):
    """The section as a section file."""
    lines = []
    for key in ("title", "bed", "base", "structure", "walls", "soils", "zones", "piezometers", "sides",
                "water"):
        value = section.get(key)
        if isinstance(value, list) and isinstance(value[0], dict):
            lines += [f"{key}:", *(f"  - {flow_style(item)}" for item in value)]
        elif value is not None:
            lines.append(f"{key}: {flow_style(value)}")
    return "\n".join(lines) + "\n"
