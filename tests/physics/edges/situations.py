"""The sections: what stands at the edges of the soil. Each has one water case or several.

Every entry is (name, section, answers): answers may hold closed forms {"drains": {name: flow over
conductivity}, "flow": the same, "slack": how far the section is from the one they are for}.
"""
import closed
from water import equal_strip
from sections import SAND, gauges, layers

PLACES = ((6, 99.5), (3, 97), (9, 96.5), (0, 97, "right"), (12, 97, "left"), (12, 98, "right"))


def flood(upstream=104.0, downstream=101.5, **more):
    return {"name": "flood", "upstream": upstream, "downstream": downstream, **more}


def apron(*water, **changes):
    """A floor of 12 m, set half a metre into the bed, with a wall at either end."""
    section = {
        "title": "",
        "bed": {"upstream": 100.0, "downstream": 100.0},
        "base": 88.0,
        "structure": {"underside": [[0.0, 99.5], [12.0, 99.5]]},
        "walls": [{"name": "crest", "x": 0.0, "top": 99.7, "tip": 96.0},
                  {"name": "toe", "x": 12.0, "top": 99.7, "tip": 97.0}],
        "soils": [dict(SAND)],
        "piezometers": gauges(*PLACES[:-1]),
        "water": list(water) or [flood()],
    }
    return {**section, **changes}


def drain(name, start, end, outlet="tailwater", level=99.5, **more):
    """A continuous drain on a level underside."""
    return {"name": name, "from": [float(start), level], "to": [float(end), level], "outlet": outlet,
            **more}


def weeps(x, diameter=0.075, spacing=2.4, outlet="tailwater", level=99.5, name="weeps"):
    return {"name": name, "at": [float(x), level], "diameter": diameter, "spacing": spacing,
            "outlet": outlet}


def floating(x, top, tip):
    return {"name": "floating", "x": float(x), "top": float(top), "tip": float(tip)}


def with_floating(section, x, top, tip):
    return {**section, "walls": [section["walls"][0], floating(x, top, tip), *section["walls"][1:]]}


def dry_beds():
    """One-way beds."""
    dry = flood(103.0, "at_bed")
    yield "dry_rise", apron(dry, title="A bed that rises 1 in 6 from the toe and lies dry",
                            bed={"upstream": 100.0, "downstream": [[12.0, 100.0], [30.0, 103.0]]})
    yield "dry_bank", apron(
        dry, title="A level bed and a bank behind it, dry",
        bed={"upstream": 100.0, "downstream": [[12.0, 100.0], [14.0, 100.0], [24.0, 102.5]]})
    yield "dry_bank_layers", apron(
        dry, title="A level bed and a bank behind it, dry, soil in beds over gravel",
        bed={"upstream": 100.0, "downstream": [[12.0, 100.0], [13.5, 100.0], [23.5, 102.0]]},
        soils=[{"name": "sand", "kh": 4e-5, "kv": 1e-5, "unit_weight": 19.5},
               {"name": "gravel", "top": 92.0, "kh": 2e-4, "kv": 1e-4, "unit_weight": 20.0}])
    yield "dry_chute", apron(dry, title="A chute that falls 1 in 5 from the toe, dry",
                             bed={"upstream": 100.0, "downstream": [[12.0, 100.0], [32.0, 96.0]]})
    yield "dry_chute_late", apron(
        dry, title="A chute that falls 1 in 8 from beyond a dry level bed",
        bed={"upstream": 100.0, "downstream": [[12.0, 100.0], [22.0, 100.0], [34.0, 98.5]]})
    yield "dry_step", apron(
        dry, title="A dry bed that steps down",
        bed={"upstream": 100.0, "downstream": [[12.0, 100.0], [26.0, 100.0], [26.0, 99.3]]})
    yield "wet_foot", apron(
        flood(103.0, 98.5), title="A falling bed with water at its foot",
        bed={"upstream": 100.0, "downstream": [[12.0, 100.0], [24.0, 97.0]]})
    yield "wet_toe", apron(
        flood(103.0, 100.4), title="Water at the toe, the bed rises out of it",
        bed={"upstream": 100.0, "downstream": [[12.0, 100.0], [18.0, 100.0], [30.0, 103.0]]})
    yield "dry_sheet", {
        "title": "A sheet wall before a dry bank", "bed": {"upstream": 100.0, "downstream":
                                                            [[0.0, 100.0], [15.0, 103.0]]},
        "base": 90.0, "walls": [{"name": "sheet", "x": 0.0, "top": 101.0, "tip": 96.0}],
        "soils": [dict(SAND)], "water": [flood(102.5, "at_bed")],
        "piezometers": gauges((0, 98, "left"), (0, 98, "right"), (3, 96), (2, 91))}


def relief():
    """Weeps and drains with closed forms, and weeps that close up."""
    half, deep = 6.0, 9.0
    floor = {"title": "A drain in the middle of a flush floor",
             "bed": {"upstream": 100.0, "downstream": 100.0}, "base": 100.0 - deep,
             "structure": {"underside": [[-half, 100.0], [half, 100.0]]}, "soils": [dict(SAND)],
             "piezometers": gauges((-3, 100), (3, 100), (0, 95)), "water": [flood(104.0, 101.0)]}
    flows = closed.flows_between_beds(0.5, half, deep, 104.0, 102.0, 101.0)
    yield "floor_drain", {**floor, "drains": [drain("middle", -0.5, 0.5, 102.0, 100.0)]}, {
        "flow": flows[0], "drains": {"middle": flows[1]}}
    flows = closed.flows_between_beds(equal_strip(0.075, 2.4) / 2, half, deep, 104.0, 102.0, 101.0)
    yield "floor_weeps", {**floor, "title": "A row of weeps in the middle of a flush floor",
                          "drains": [weeps(0, outlet=102.0, level=100.0)]}, {
        "flow": flows[0], "drains": {"weeps": flows[1]}}
    ends = {"left": {"x": -15.0, "kind": "closed"}, "right": {"x": 75.0, "kind": "closed"}}
    wide = {"title": "Drains without end in a wide floor over artesian water",
            "bed": {"upstream": 100.0, "downstream": 100.0}, "base": {"level": 97.0, "head": 102.0},
            "structure": {"underside": [[0.0, 100.0], [60.0, 100.0]]}, "soils": [dict(SAND)],
            "piezometers": gauges((30, 100), (30, 98.5)), "sides": ends,
            "water": [flood(100.5, 100.5)]}
    each = closed.row_over_base(0.25, 6.0, 3.0) * 1.5
    yield "row_drains", {**wide, "drains": [drain(f"d{n}", 6 * n + 2.75, 6 * n + 3.25, level=100.0)
                                            for n in range(10)]}, {
        "drains": {"d4": each, "d5": each}, "slack": 1e-7}
    each = closed.row_over_base(equal_strip(0.1, 1.5) / 2, 6.0, 3.0) * 1.5
    yield "row_weeps", {**wide, "title": "Rows of weeps without end in a wide floor over artesian water",
                        "drains": [weeps(6 * n + 3, 0.1, 1.5, level=100.0, name=f"w{n}")
                                   for n in range(10)]}, {
        "drains": {"w4": each, "w5": each}, "slack": 1e-6}
    for spacing in (4.8, 2.4, 1.2):
        yield f"weeps_{spacing}".replace(".", "_"), apron(
            flood(104.0, 100.5), title=f"Weeps of 0.3 m, {spacing} m apart",
            drains=[weeps(8, 0.3, spacing, 101.0)]), {}
    yield "weeps_strip", apron(flood(104.0, 100.5), title="A strip of 0.3 m in place of the weeps",
                               drains=[drain("strip", 7.85, 8.15, 101.0)]), {}
    yield "weeps_two_rows", apron(
        flood(104.0, 100.5), title="Two rows of weeps under an apron",
        drains=[weeps(4, 0.075, 2.4, 101.0, name="first"), weeps(9, 0.1, 1.2, name="second")],
        soils=[{"name": "sand", "kh": 4e-5, "kv": 1e-5, "unit_weight": 19.5}]), {}


def certified():
    """An apron, two walls, a floating wall, and one drain or two."""
    low = flood(104.0, 100.5)
    beds = [{"name": "sand", "kh": 8e-5, "kv": 1e-5, "unit_weight": 19.5}]
    plain = apron(low)
    one, two = [drain("relief", 8, 9, 101.0)], [drain("first", 4, 4.5, 102.0), drain("second", 9, 10)]
    yield "pieces_1", with_floating({**plain, "drains": one}, 5, 98.5, 93)
    yield "pieces_2", with_floating({**plain, "drains": two}, 7, 99, 92)
    yield "pieces_3", with_floating({**plain, "drains": one, "soils": beds}, 5, 97, 90)
    yield "pieces_4", with_floating({**plain, "drains": two, "soils": layers(1e-5, 1e-4, 95.0)}, 6, 97, 92)
    yield "pieces_5", with_floating({**plain, "drains": two, "soils": layers(1e-4, 2e-6, 93.0)}, 6, 98,
                                    94)
    yield "pieces_6", with_floating({**plain, "drains": [drain("feeds", 8, 9, 103.9)]}, 3.5, 98, 95)
    drop = {"bed": {"upstream": 101.5, "downstream": 99.0}, "base": 92.0,
            "structure": {"underside": [[0.0, 101.0], [4.0, 101.0], [4.0, 98.5], [16.0, 98.5]]},
            "walls": [{"name": "crest", "x": 0.0, "top": 101.2, "tip": 95.0},
                      {"name": "toe", "x": 16.0, "top": 98.7, "tip": 96.5}],
            "piezometers": gauges((2, 101), (4, 98.5), (10, 98.5), (10, 95), (0, 97, "right"))}
    yield "pieces_7", with_floating(apron(flood(104.5, 100.0), drains=[drain("relief", 9, 10, level=98.5)],
                                          **drop), 7, 97, 94)
    yield "pieces_8", with_floating(apron(
        flood(104.5, 100.0), **drop, drains=[drain("first", 1, 2, 102.0, 101.0),
                                             drain("second", 12, 15, 100.5, 98.5)]), 13.5, 97.5, 93)
    yield "pieces_9", with_floating(apron(
        low, drains=[drain("joint", 11.9, 12.0 - 1e-3), drain("narrow", 3, 3.02, 102.0)]), 10, 99.3, 96.5)
    yield "pieces_10", with_floating(apron(
        low, base=94.5, drains=[drain("wide", 2, 10.5, 101.2)], soils=beds), 6, 98, 95)


def cases():
    """Scour, seals, artesian water, voids, permeable stretches, sides with heads of their own."""
    hole = [[12.0, 98.6], [15.0, 97.6], [20.0, 97.6], [26.0, 100.0]]
    yield "scoured", apron(
        flood(), flood(name="scour", beds={"downstream": hole}),
        flood(name="both", beds={"upstream": 99.8, "downstream": [[12.0, 98.6], [30.0, 98.6]]}),
        title="A scour hole that comes with the flood")
    yield "sealed", apron(
        flood(), flood(name="ice", seal=[[14.0, 20.0]]), flood(name="silt", seal=[[-10.0, -2.0]]),
        flood(name="toe", seal=[[12.0, 16.0], [-200.0, -5.0]]), title="Stretches of bed that are sealed")
    ends = {"left": {"x": -20.0, "kind": "closed"}, "right": {"x": 40.0, "kind": "closed"}}
    yield "artesian", apron(flood(102.5, 101.0), title="Water under pressure below the base",
                            base={"level": 92.0, "head": 104.0}, sides=ends)
    yield "artesian_leaky", apron(
        flood(102.5, 101.0), title="Water under pressure below a leaky layer", sides=ends,
        base={"level": 92.0, "head": 104.0, "thickness": 2.0, "kv": 1e-6})
    yield "artesian_endless", apron(flood(102.5, 101.0), title="The same below soil without end",
                                    base={"level": 92.0, "head": 104.0, "thickness": 2.0, "kv": 1e-6})
    yield "artesian_drain", apron(
        flood(102.5, 101.0), flood(102.5, 101.0, name="shut", drains="off"),
        title="Water under pressure below the base, drains above", sides=ends,
        base={"level": [[0.0, 93.0], [12.0, 91.5]], "head": 103.5},
        drains=[drain("relief", 5, 6), weeps(9)])
    yield "void", apron(flood(104.0, 100.5), title="A void under the apron",
                        structure={"underside": [[0.0, 99.5], [12.0, 99.5]],
                                   "contact_lost": [[2.0, 4.5]]},
                        piezometers=gauges(*PLACES[:-1], (3, 99.5)))
    yield "voids", apron(
        flood(104.0, 100.5), title="Two voids and a drain between them",
        structure={"underside": [[0.0, 99.5], [12.0, 99.5]], "contact_lost": [[1.0, 3.0], [8.0, 11.0]]},
        drains=[drain("relief", 5, 6, 101.5)], soils=layers(2e-5, 1e-4, 95.0),
        piezometers=gauges(*PLACES[:-1], (2, 99.5), (9, 99.5)))
    yield "permeable", apron(
        flood(104.0, 100.5), title="Open joints in the apron",
        structure={"underside": [[0.0, 99.5], [12.0, 99.5]], "top": [[0.0, 100.2], [12.0, 100.2]],
                   "permeable": [[3.0, 3.5], [8.0, 11.0]]})
    yield "permeable_dry", apron(
        flood(104.0, "at_bed"), title="Open joints above the downstream water",
        structure={"underside": [[0.0, 99.5], [12.0, 99.5]], "top": [[0.0, 100.6], [12.0, 100.6]],
                   "permeable": [[3.0, 3.5], [6.0, 6.2]]})
    yield "permeable_half", apron(
        flood(104.0, 100.5), title="A loose stretch above the downstream water, shut in part",
        structure={"underside": [[0.0, 99.5], [12.0, 99.5]], "top": [[0.0, 102.0], [12.0, 102.0]],
                   "permeable": [[2.0, 9.0]]}, piezometers=gauges(*PLACES[:-1], (8, 99.5)))
    yield "side_own", apron(
        flood(), title="Ground water of its own level far upstream",
        sides={"left": {"x": -25.0, "kind": "fixed_head", "head": 103.2},
               "right": {"x": 40.0, "kind": "fixed_head", "head": 101.0}})
    yield "side_at_end", {
        **apron(flood(104.0, 100.5), title="Ground water stands at the end of the structure",
                sides={"left": {"x": 0.0, "kind": "fixed_head", "head": 102.2}}),
        "walls": [{"name": "toe", "x": 12.0, "top": 99.7, "tip": 97.0}],
        "piezometers": gauges((6, 99.5), (3, 97), (9, 96.5), (12, 97.5, "left"))}
    yield "clogged", apron(
        flood(104.0, 100.5), title="A drain with a clogged face, and one that is clean",
        drains=[drain("clogged", 3, 5, 101.0, clogging={"thickness": 0.005, "conductivity": 1e-7}),
                drain("clean", 8, 9, 101.0)])
    yield "shut", apron(
        flood(104.0, 100.5), flood(104.0, 100.5, name="one", shut=["second"]),
        flood(104.0, 100.5, name="none", drains="off"), title="Drains that are shut by case",
        drains=[drain("first", 3, 4, 101.0), drain("second", 8, 9, 101.0),
                drain("third", 10, 11, state="shut")])
    yield "end_face", apron(
        flood(104.0, 101.0), title="A drain at the end face of a floor set into the bed",
        structure={"underside": [[0.0, 98.0], [12.0, 98.0]]},
        walls=[{"name": "crest", "x": 0.0, "top": 98.5, "tip": 95.0}],
        drains=[{"name": "face", "from": [12.0, 98.2], "to": [12.0, 98.8], "outlet": 101.2}],
        piezometers=gauges((6, 98), (3, 97), (9, 96.5), (12, 99.4)))
    yield "inside", apron(
        flood(104.0, 100.5), title="Drains inside the soil",
        drains=[{"name": "pipe", "from": [8.0, 98.0], "to": [8.3, 98.0], "outlet": 101.0},
                {"name": "curtain", "from": [4.0, 95.0], "to": [4.0, 98.0], "outlet": 103.0}])


def every():
    """(name, section, answers) of all sections."""
    for name, section in dry_beds():
        yield name, section, {}
    yield from relief()
    for name, section in certified():
        section["title"] = "Apron, walls, a floating wall and drains, " + name.split("_")[1]
        yield name, section, {}
    for name, section in cases():
        yield name, section, {}
