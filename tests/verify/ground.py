"""A section file as the oracle sees it: SI, water flowing to the right, and, where
the soils allow it, stretched until the soil is one and isotropic.

A layer with kh and kv becomes isotropic with k = sqrt(kh kv) when its heights are
stretched by sqrt(kh / kv). Layers with the same k then are one soil. Depth is
counted downwards from the upstream bed, stretched."""

import math
import re

import yaml

FOOT, DAY = 0.3048, 86400.0


class Loader(yaml.SafeLoader):
    """YAML 1.1 takes 1e-5 for text."""


Loader.add_implicit_resolver("tag:yaml.org,2002:float",
                             re.compile(r"[-+]?(\d+\.?\d*|\.\d+)[eE][-+]?\d+$"), list("-+.0123456789"))


class Ground:
    """The numbers of a section file that the oracle understands."""

    def __init__(self, text):
        section = yaml.load(text, Loader=Loader)
        us = section.get("units") == "us"
        self.length = FOOT if us else 1.0
        self.speed = FOOT / DAY if us else 1.0
        self.weight = 0.45359237 * 9.80665 / FOOT**3 if us else 1000.0
        self.left = section.get("flow_toward") == "left"
        self.water_weight = section["water_unit_weight"] * self.weight \
            if "water_unit_weight" in section else 9810.0
        bed = section["bed"]
        self.bed = (bed["upstream"] * self.length, bed["downstream"] * self.length)
        self.base = None if section["base"] == "none" else section["base"] * self.length
        points = section.get("structure", {}).get("underside", [])
        self.underside = self.in_order([(self.x_of(x), z * self.length) for x, z in points])
        self.walls = sorted((self.wall_of(wall) for wall in section.get("walls", [])),
                            key=lambda wall: (wall["x"], -wall["top"]))
        self.soils = [self.soil_of(soil) for soil in section["soils"]]
        self.points = {point["name"]: self.point_of(point)
                       for point in section.get("piezometers", [])}
        self.sides = self.sides_of(section.get("sides", {}))
        water = section["water"][0]
        self.down = self.bed[1] if water["downstream"] == "at_bed" \
            else water["downstream"] * self.length
        self.up = water["upstream"] * self.length
        self.drop = self.up - self.down

    def x_of(self, x):
        if isinstance(x, str):  # a station in feet
            hundreds, rest = x.split("+")
            x = 100.0 * float(hundreds) + float(rest)
        return x * self.length * (-1.0 if self.left else 1.0)

    def in_order(self, points):
        return points[::-1] if self.left else points

    def wall_of(self, wall):
        return {"name": wall["name"], "x": self.x_of(wall["x"]), "top": wall["top"] * self.length,
                "tip": wall["tip"] * self.length, "keyed": wall.get("keyed", False)}

    def soil_of(self, soil):
        kh = self.k_of(soil["kh"])
        top = soil["top"] * self.length if "top" in soil else None
        return {"top": top, "kh": kh, "kv": self.k_of(soil["kv"]) if "kv" in soil else kh,
                "weight": soil.get("unit_weight", 0.0) * self.weight}

    def k_of(self, k):
        if isinstance(k, str):
            number, unit = k.split()
            return float(number) * {"m/s": 1.0, "cm/s": 0.01}[unit]
        return k * self.speed

    def point_of(self, point):
        side = point.get("side", "left")
        if self.left:
            side = "right" if side == "left" else "left"
        return self.x_of(point["at"][0]), point["at"][1] * self.length, side

    def sides_of(self, sides):
        found = {name: (self.x_of(side["x"]), side["kind"]) for name, side in sides.items()}
        if self.left:
            found = {{"left": "right", "right": "left"}[name]: side for name, side in found.items()}
        return found

    def k(self):
        """k of the stretched soil, or None where its layers do not become one."""
        each = [math.sqrt(soil["kh"] * soil["kv"]) for soil in self.soils]
        return each[0] if max(each) < min(each) * (1.0 + 1e-12) else None

    def depth(self, level):
        """Stretched depth of a level below the upstream bed."""
        total, above = 0.0, self.bed[0]
        if level > above:
            return (above - level) * self.stretch()
        for i, soil in enumerate(self.soils):
            below = self.soils[i + 1]["top"] if i + 1 < len(self.soils) else -math.inf
            bottom = max(min(above, below), level)
            total += (above - bottom) * math.sqrt(soil["kh"] / soil["kv"])
            above = bottom
        return total

    def stretch(self):
        """How much heights are stretched at the beds."""
        return math.sqrt(self.soils[0]["kh"] / self.soils[0]["kv"])
