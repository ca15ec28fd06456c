"""Works out every exact value of `undersill verify` once more, by other means than the
library and its tables, and holds docs/verification.md against the command.

    check.py --tool PATH [--page FILE] [--write]

Sections come from the command's JSON. What is known without a tolerance has to agree
with the oracle to the digits printed, or to those the oracle has. The page has to
show the command's cases, sources, expected values and verdicts, and its computed
values but for rounding; --write writes it anew. Exit status 1 where something differs.
"""

import argparse
import json
import math
import pathlib
import subprocess
import sys

import layered
import page
import special
from conformal import Map
from ground import Ground

SURE = 2e-9   # of flows and gradients by mapping; of heads, as a share of the difference
LAYERED = 2e-6  # where sums of modes are cut off
EASY = ("wall_half", "two_walls_step", "apron_endless", "floor_short")  # for the self-test
TIP_HEAD = 0.5  # by symmetry, of a bare wall between level beds


class Oracle:
    """The values of one section."""

    def __init__(self, text):
        self.ground = Ground(text)
        self.share = SURE
        self.flow_m2_s, self.head_m, self.gradient, self.map = None, None, None, None
        self.choose()

    def choose(self):
        ground = self.ground
        if ground.sides and not ground.walls:
            self.flow_m2_s, self.head_m = special.side_by_side(ground)
        elif ground.sides:
            self.flow_m2_s, self.head_m = special.slot_in_rectangle(ground)
        elif self.is_sealed():
            self.flow_m2_s, self.head_m = special.sealed(ground)
            self.gradient = 0.0
        elif self.is_floating():
            self.flow_m2_s, self.head_m = special.floating_wall(ground)
        elif ground.k() is None:
            self.use_layers()
        else:
            self.use_map()

    def is_sealed(self):
        walls = self.ground.walls
        return len(walls) == 1 and walls[0]["keyed"] and walls[0]["top"] >= self.ground.bed[0]

    def is_floating(self):
        ground = self.ground
        return bool(ground.underside) and len(ground.walls) == 1 \
            and not ground.walls[0]["keyed"] and ground.walls[0]["top"] < ground.underside[0][1]

    def use_layers(self):
        ground = self.ground
        stretch = [math.sqrt(soil["kh"] / soil["kv"]) for soil in ground.soils]
        k = [math.sqrt(soil["kh"] * soil["kv"]) for soil in ground.soils]
        top, inner = ground.bed[0], ground.soils[1]["top"]
        d = [(top - inner) * stretch[0], (inner - ground.base) * stretch[1]]
        self.solved, lower, upper = layered.bounds(d, [1.0, k[1] / k[0]],
                                                   ground.depth(ground.walls[0]["tip"]))
        self.share = LAYERED
        gap = abs(upper / lower - 1.0)
        flow = 0.5 * (lower + upper)
        if abs(d[0] - d[1]) < 1e-12 and self.solved.s == d[0]:
            # Its own dual: the product of both flows is k1 k2 / 4. What is added to the modes
            # for those left out is good to the gap here, of a hundredth at contrast 100.
            exact = 0.5 * math.sqrt(k[1] / k[0])
            if abs(flow / exact - 1.0) > gap + LAYERED:
                raise RuntimeError(f"{flow} by modes, {exact} by duality")
            flow = exact
        elif gap > LAYERED:
            raise RuntimeError(f"bounds {lower} and {upper} leave too much room")
        self.flow_m2_s = flow * k[0] * ground.drop
        self.gradient = self.solved.exit_gradient() * ground.drop * stretch[0]
        self.head_m = self.layered_head

    def layered_head(self, x, z, side):
        ground = self.ground
        wall = ground.walls[0]
        if x == wall["x"] and z <= wall["tip"]:
            return ground.down + TIP_HEAD * ground.drop
        away = abs(x - wall["x"])
        rest = self.solved.head(away, ground.depth(z))
        upstream = x < wall["x"] or (x == wall["x"] and side == "left")
        return ground.up - rest * ground.drop if upstream else ground.down + rest * ground.drop

    def use_map(self):
        ground = self.ground
        self.map = Map(ground)
        if self.map.strip:
            self.flow_m2_s = ground.k() * ground.drop * self.map.flow()
        reduced = self.map.exit_gradient()
        self.gradient = None if reduced is None else reduced * ground.drop
        self.head_m = lambda x, z, side: \
            ground.down + ground.drop * self.map.head_at(x, ground.depth(z), side)

    # What a row of the command asks for: a value and how well it is known.

    def value(self, quantity, place):
        ground = self.ground
        if quantity == "flow":
            return self.flow_m2_s, self.share * abs(self.flow_m2_s)
        if quantity == "exit_gradient":
            return self.gradient, self.share * (self.gradient or 0.0)
        if quantity == "check.piping":
            critical = ground.soils[0]["weight"] / ground.water_weight - 1.0
            return critical / self.gradient, self.share * critical / self.gradient
        if quantity == "uplift.force":
            force = self.uplift() / 1000.0
            return force, self.share * force
        if quantity == "exit_gradient.mean":
            return self.mean(), self.share * self.mean()
        return self.head(quantity, place), self.share * ground.drop

    def uplift(self):
        if self.map is not None:
            return self.map.uplift()
        (x1, z), (x2, _) = self.ground.underside
        ends = [self.head_m(x, z, "left") - z for x in (x1, x2)]
        return self.ground.water_weight * 0.5 * sum(ends) * (x2 - x1)

    def mean(self):
        """Over the embedment of the downstream end."""
        ground = self.ground
        x, corner = ground.underside[-1]
        toes = [wall["tip"] for wall in ground.walls if wall["x"] == x]
        deep = toes[0] if toes else corner
        return (self.head_m(x, deep, "right") - ground.down) / (ground.bed[1] - deep)

    def head(self, quantity, place):
        ground = self.ground
        if quantity == "piezometer.head":
            return self.head_m(*ground.points[place])
        wall = next(wall for wall in ground.walls if wall["name"] == place)
        if quantity == "wall.tip":
            return self.head_m(wall["x"], wall["tip"], "left")
        side = "left" if quantity == "wall.upstream_face_top" else "right"
        return self.head_m(wall["x"], self.contact(wall, side), side)

    def contact(self, wall, side):
        """The highest level at which soil touches that face."""
        under, beds = self.ground.underside, self.ground.bed
        level = beds[0] if side == "left" else beds[1]
        for (x1, z1), (x2, _) in zip(under, under[1:]):
            if x1 < wall["x"] <= x2 and side == "left" or x1 <= wall["x"] < x2 and side == "right":
                level = z1
        return min(wall["top"], level)


def compare(cases, sections):
    """What the oracle finds wrong with the exact rows, and how many it looked at."""
    wrong, looked, oracles = [], 0, {}
    for row in cases:
        if row["tolerance"]:
            continue
        name = row["name"]
        if name not in oracles:
            oracles[name] = Oracle(sections[name]["text"])
        value, sure = oracles[name].value(row["quantity"], row["place"])
        looked += 1
        told = f"{name}: {row['quantity']} {row['place']}".rstrip()
        if (value is None) != (row["expected"] is None):
            wrong.append(f"{told}: expected {row['expected']}, the oracle says {value}")
        elif value is not None and abs(value - row["expected"]) > sure + 5e-9 * abs(value):
            wrong.append(f"{told}: expected {row['expected']}, the oracle says {value:.9g}")
    return wrong, looked


def self_test(cases, sections):
    """One exact row of each quantity with its expected value a little off: each has to be
    found."""
    rows = {row["quantity"]: row for row in cases
            if not row["tolerance"] and row["expected"] and row["name"] in EASY}
    planted = [dict(row, expected=row["expected"] * (1.0 + 1e-6)) for row in rows.values()]
    found, _ = compare(planted, sections)
    return [] if planted and len(found) == len(planted) else \
        [f"of {len(planted)} planted values only {len(found)} were found wrong"]


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--tool", required=True)
    parser.add_argument("--page", type=pathlib.Path)
    parser.add_argument("--write", action="store_true")
    options = parser.parse_args()
    done = subprocess.run([options.tool, "verify", "--format", "json"], capture_output=True,
                          text=True, check=False)
    if done.returncode not in (0, 1):
        sys.exit(f"verify ended with {done.returncode}: {done.stderr}")
    found = json.loads(done.stdout)
    cases, sections = found["cases"], found["sections"]
    missed = [row for row in cases if not row["pass"]]
    wrong = [f"{row['name']}: {row['quantity']} {row['place']} missed: computed "
             f"{row['computed']}, expected {row['expected']}, stated error {row['error']}"
             for row in missed]
    if (done.returncode == 1) != bool(missed) or found["misses"] != len(missed):
        wrong.append(f"exit status {done.returncode} with {len(missed)} misses")
    differs, looked = compare(cases, sections)
    wrong += differs + self_test(cases, sections)
    exact = {row["name"] for row in cases if not row["tolerance"]}
    if len(exact) < 60:
        wrong.append(f"only {len(exact)} exact sections")
    if options.page and options.write:
        options.page.write_text(page.write(cases, sections))
        chart = options.page.parent / "images" / "verification.png"
        subprocess.run([options.tool, "verify", "wall_half", "--quiet", "--chart", chart],
                       stdout=subprocess.DEVNULL, check=True)
    elif options.page:
        text = options.page.read_text()
        differs = page.differences(text, cases, sections)
        wrong += differs or page.self_test(text, cases, sections)
    for line in wrong:
        print(line)
    print(f"{len(cases)} values, {looked} of them worked out again")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
