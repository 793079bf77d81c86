#!/usr/bin/env python3
"""An independent check of the least fillers and of how far things pull out.

Reads nothing of the program but `solids --json` and, to compare, `check --json`. Distances come from FCL, the Flexible
Collision Library (Pan, Chitta, Manocha, ICRA 2012), through python-fcl; everything else is bisection.

    reference.py generate  --program PATH [--count N] [--seed N]   writes plans.jsonl: random valid plans
    reference.py table     --program PATH                          writes table.csv from plans.jsonl
    reference.py maps      --program PATH                          writes maps.csv: two drawers open at once
    reference.py hang      --program PATH [--count N]              adds plans with real hinges, flaps, appliances that open
    reference.py recompute --program PATH                          recomputes, compares with both and the program

With --furnished they work on furnished.jsonl and furnished.csv: how far everything goes in plans with an island whose drawers
and doors open, doors of the room, shelves that draw out behind a door, and tall units.

With --measured all three work on measured.jsonl and measured.csv: the same plans in rooms that were surveyed at random, how
far everything pulls out there (`solids --json --measured` against `check --json --measured`).

Method. A slide sweeps the hull of its corners at both ends of its way; FCL's distance needs only a hull's corners (its
support map), so no hull is built. For one filler, widths are tried from 0 upwards: where a pair is too near, its
distance is a convex function of the width, so the one end of its bad widths that lies ahead is found by bisection and
no width before it can be good; from there the search goes on until nothing is too near. A door is held at the angle at
which it is too near, and the same is done. Angles are searched by halves: no point moves further than radius x angle,
and no arc leaves its chord by more than radius x (1 - cos of half the angle).

How a difference is judged: in distance. Beside each value the table holds what it would be if everything kept 0.01 mm
less (`low`) and 0.01 mm more (`high`; 0.0125 for doors, which the program judges on the safe side); the program's value
must lie between. Distance never changes faster than the width or the travel, so two widths 0.01 mm apart are never more
than 0.01 mm apart in distance.

Touching is not overlapping, so where mere overlap is forbidden the pieces are drawn in by SKIN first and must then keep
twice that: exact for faces, within 0.0005 mm for corners. A swinging part is drawn in by 0.01 mm, as the rules say;
so it is where the clearance wanted is 0, which is the same rule.
"""

import argparse
import csv
import heapq
import json
import math
import multiprocessing
import os
import random
import re
import subprocess
import sys
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
PLANS = HERE / "plans.jsonl"
TABLE = HERE / "table.csv"
MEASURED_PLANS = HERE / "measured.jsonl"
MEASURED_TABLE = HERE / "measured.csv"
FURNISHED_PLANS = HERE / "furnished.jsonl"
FURNISHED_TABLE = HERE / "furnished.csv"
MAPS = HERE / "maps.csv"

WALL = 5200.0
WIDEST = 2000.0
WIDE = 400.0  # Fillers of the model that pieces are carried from: every part of the corner exists.
BAND = 0.01  # What a difference in distance may be, mm.
# A door is searched to 0.01 mm and on the safe side, by hulls that may lie 0.0025 mm further out.
SWING_BAND = 0.0125
SKIN = 0.0005
DRAWN_IN = 0.01
NOISE = 1e-7  # FCL's distances are good to 1e-9 mm; see `noise`.
FINE = 1e-8
STEPS = 32
SAME = 2e-3  # Rows of two runs are the same within this, mm: a swing's last step may fall either way.
SWING_STEP = 5e-4  # Widths that a swing decides are found to this, mm: angle by angle they would creep.


# ---------------------------------------------------------------------------------------------------------------------
# Plans


def mm_text(x):
    return ("%.3f" % x).rstrip("0").rstrip(".")


class Maker:
    """One random plan. Sizes are thought of in mm and written in the plan's unit."""

    def __init__(self, seed, kind):
        self.r = random.Random(seed)
        self.kind = kind
        self.inch = kind == "inch" or (kind not in ("whole", "doors") and self.r.random() < 0.2)

    def n(self, mm, step=None):
        """A length in the plan's unit, rounded to what a builder would write."""
        if self.inch:
            sixteenths = max(1, round(mm / 25.4 * 16)) if mm > 0 else 0
            whole, rest = divmod(sixteenths, 16)
            if rest == 0:
                return str(whole)
            g = math.gcd(rest, 16)
            return '"%s%d/%d"' % (f"{whole} " if whole else "", rest // g, 16 // g)
        step = step or (1.0 if self.kind == "whole" else self.r.choice([1.0, 0.5, 0.1]))
        return mm_text(round(mm / step) * step)

    def signed(self, mm):
        text = self.n(abs(mm))
        if mm >= 0 or text == "0":
            return text
        return f"-{text}" if not text.startswith('"') else f'"-{text[1:]}'

    def pull(self):
        r = self.r
        shape = r.choice(["bar", "bar", "bar", "round", "square", "edge", "absent"])
        projection = r.uniform(15, 55)
        if shape == "absent":
            return "Absent"
        place = ""
        if r.random() < 0.35:
            place += f", sideways: {self.signed(r.uniform(-60, 60))}"
        if shape == "bar":
            thick = r.uniform(6, min(16, projection))
            upright = r.random() < 0.2
            length = r.uniform(40, 60) if upright else r.uniform(60, 240)
            if upright:
                place += ", set: Upright"
            elif r.random() < 0.3:
                place += f", height: {self.n(r.uniform(20, 60))}"
            return (f"Bar(length: {self.n(length)}, thickness: {self.n(thick)}, "
                    f"projection: {self.n(projection + 1)}{place})")
        if shape in ("round", "square"):
            if r.random() < 0.3:
                place += f", height: {self.n(r.uniform(25, 60))}"
            square = ", square: true" if shape == "square" else ""
            return f"Knob(across: {self.n(r.uniform(15, 40))}, projection: {self.n(projection)}{square}{place})"
        length = "" if r.random() < 0.5 else f"length: {self.n(r.uniform(80, 200))}, "
        place = place if length else ""
        return f"Edge({length}thickness: {self.n(r.uniform(2, 6))}, projection: {self.n(projection)}{place})"

    def slide(self, depth):
        r = self.r
        length = r.choice([300, 350, 400, 450, 500, 550, 600])
        length = min(length, int((depth - 60) // 50 * 50))
        extension = r.choice(["Full", "Full", "Full", "ThreeQuarter", f"Travel({self.n(length * r.uniform(1.02, 1.2))})"])
        mount = r.choice(["SideMount", "UnderMount"])
        return f"(length: {self.n(length)}, extension: {extension}, mount: {mount})"

    def unit(self, doors):
        r = self.r
        kinds = ["drawers"] * 6 + ["shelves", "panel", "appliance"]
        if doors:
            kinds = ["door", "door", "over", "drawers", "drawers"]
        if self.kind == "hung":
            kinds = ["hung", "hung", "drawers"]
        if self.kind == "furnished":
            kinds = ["behind", "behind", "shelved", "drawers", "drawers", "over", "shelves"]
        kind = r.choice(kinds)
        width = self.n(r.uniform(350, 900))
        pull, slide = r.choice("abc"), r.choice("xy")
        if kind == "drawers":
            rows = r.choice([1, 2, 3, 3, 4])
            if rows == 1 or r.random() < 0.2:
                fronts = f"Equal({rows})"
            else:
                heights = [self.n(r.uniform(105, 170)) for _ in range(rows - 1)]
                heights.insert(r.randrange(rows), "Rest")
                fronts = f"[{', '.join(heights)}]"
            pulls = f'pull: "{pull}"'
            if r.random() < 0.3:
                pulls = "pulls: [%s]" % ", ".join(f'"{r.choice("abc")}"' for _ in range(rows))
            return f'Drawers(width: {width}, fronts: {fronts}, {pulls}, slide: "{slide}")'
        if kind == "hung":
            return self.hung(width, pull)
        hinge = r.choice(["CornerSide", "FarSide"])
        opens = r.choice([90, 95, 105, 110, 120, 135, 165, 180])
        if kind == "door":
            return f'Door(width: {width}, hinge: {hinge}, opens_to: {opens}, pull: "{pull}")'
        if kind == "behind":
            spacer = f", spacer: {self.n(r.uniform(5, 40))}" if r.random() < 0.5 else ""
            return (f'Door(width: {width}, hinge: {hinge}, opens_to: {opens}, pull: "{pull}", '
                    f'pull_outs: (count: {r.choice([1, 2, 3])}, slide: "{slide}"{spacer}))')
        if kind == "shelved":
            return (f'Door(width: {width}, hinge: {hinge}, opens_to: {opens}, pull: "{pull}", '
                    f'shelves: {r.choice([1, 2, 3])})')
        if kind == "over":
            return (f'DrawerOverDoor(width: {width}, drawer: {self.n(r.uniform(120, 200))}, hinge: {hinge}, '
                    f'opens_to: {opens}, pull: "{pull}", slide: "{slide}")')
        if kind == "shelves":
            return f"OpenShelves(width: {width}, shelves: {r.choice([0, 1, 2])})"
        if kind == "panel":
            return "EndPanel()"
        return f"ApplianceSpace(width: {self.n(600)}, body_width: {self.n(595)}, handle: {self.n(r.choice([0, 25, 45]))})"

    def hung(self, width, pull):
        """A door on real hinges, on any edge; or an appliance whose door opens."""
        r = self.r
        edge = r.choice(["CornerSide", "FarSide", "Bottom", "Top"])
        opens = r.choice([90, 95, 110, 130, 165]) if edge in ("CornerSide", "FarSide") else r.choice([75, 90, 100])
        if r.random() < 0.3:
            return (f"ApplianceSpace(width: {self.n(600)}, body_width: {self.n(595)}, depth: {self.n(r.uniform(480, 620))}, "
                    f"height: {self.n(850)}, above: {self.n(r.choice([0, 60]))}, handle: {self.n(r.choice([0, 25, 45]))}, "
                    f"door: (hinge: {edge}, bottom: {self.n(r.uniform(70, 160))}, thickness: {self.n(r.uniform(18, 40))}, "
                    f"opens_to: {opens}))")
        hinges = r.choice([
            f"Concealed(cup: {self.n(r.uniform(3, 6))}, least_reveal: {self.n(r.uniform(0.3, 2.5), 0.1)})",
            f"Butt(pin_out: {self.n(r.uniform(2, 8))})",
            f"Butt(pin_out: {self.n(r.uniform(2, 8))}, pin_beside: {self.n(r.uniform(0, 3))})",
            f"Knife(inset: {self.signed(r.uniform(-4, 12))}, behind: {self.signed(r.uniform(-6, 12))})",
        ])
        return f'Door(width: {width}, hinge: {edge}, hinges: {hinges}, opens_to: {opens}, pull: "{pull}")'

    def run(self, doors):
        units = [self.unit(doors) for _ in range(self.r.choice([1, 2, 2, 3]))]
        # A run that opens nothing asks nothing of its filler.
        if not any("Draw" in u or "Door" in u or "door" in u for u in units):
            units[0] = self.unit(doors)
        if self.kind == "furnished":
            # What does not stand at the corner may be tall.
            tall = lambda unit: unit.replace("width:", f"height: {self.n(self.r.uniform(1100, 2200))}, width:", 1)
            units = units[:1] + [tall(unit) if self.r.random() < 0.4 else unit for unit in units[1:]]
        ends = self.r.choice(["Open", "Open", "Wall", f"Casing(width: {self.n(70)}, thickness: {self.n(18)})"])
        depth = f", depth: {self.n(self.r.uniform(420, 660))}" if self.r.random() < 0.25 else ""
        return f"(units: [{', '.join(units)}], ends_at: {ends}{depth})"

    def island(self):
        """An island before one of the runs, some of its fronts near enough to meet what opens there."""
        r = self.r
        width, above = r.uniform(500, 1400), r.choice([0.0, 90.0])
        fronts, at = [], r.uniform(0, 30)
        while at + 250 < width and len(fronts) < 4:
            wide = min(r.uniform(240, 600), width - at)
            low = above + r.uniform(0, 200)
            size = (f"from: {self.n(at)}, width: {self.n(wide - 4)}, above: {self.n(low)}, "
                    f"height: {self.n(r.uniform(120, 560))}, thickness: {self.n(r.uniform(12, 24))}, "
                    f"pull: {self.n(r.choice([0, r.uniform(10, 50)]))}")
            if r.random() < 0.5:
                fronts.append(f"Drawer({size}, opens_by: {self.n(r.uniform(250, 600))})")
            else:
                hinge = r.choice(["CornerSide", "FarSide"])
                fronts.append(f"Door({size}, hinge: {hinge}, opens_to: {r.choice([90, 110, 135, 170])})")
            at += wide + r.uniform(0, 40)
        return (f"(wall: {r.choice(['Left', 'Right'])}, along: {self.n(r.uniform(500, 1800))}, "
                f"out: {self.n(r.uniform(720, 1250))}, above: {self.n(above)}, width: {self.n(width + 2)}, "
                f"depth: {self.n(r.uniform(300, 800))}, height: {self.n(900)}, opens: [{', '.join(fronts)}])")

    def room_door(self):
        r = self.r
        return (f"(wall: {r.choice(['Left', 'Right'])}, along: {self.n(r.uniform(1200, 3600))}, "
                f"width: {self.n(r.uniform(600, 900))}, hinge: {r.choice(['CornerSide', 'FarSide'])}, "
                f"opens_to: {r.choice([90, 100, 120, 160])})")

    def angles(self):
        r = self.r
        if self.kind == "furnished" and r.random() < 0.6:
            return "", "Square"
        if self.kind == "hung" and r.random() < 0.5:
            return "", "Square"
        if self.kind == "whole" or (self.kind == "inch" and r.random() < 0.5):
            return r.choice(["", "", "angle: 90, ", f"angle: {mm_text(r.uniform(88, 92))}, "]), "Square"
        if self.kind in ("near", "inch"):
            degrees = mm_text(r.choice([r.uniform(85, 95), r.uniform(89, 91), round(r.uniform(85, 95) * 4) / 4]))
        else:
            degrees = mm_text(r.choice([r.uniform(80, 150), r.uniform(80, 110), float(r.choice([80, 120, 135, 150]))]))
        if r.random() < 0.7:
            return f"angle: {degrees}, ", "AlongWalls"
        room = min(max(float(degrees) + r.uniform(-1.5, 1.5), 75), 155)
        return f"angle: {mm_text(room)}, ", f"Degrees({degrees})"

    def text(self):
        r = self.r
        doors = self.kind == "doors"
        angle, run_angle = self.angles()
        depth = r.uniform(480, 640)
        framed, inset = r.random() < 0.5, r.random() < 0.5
        face = (f"FaceFrame(stile: {self.n(r.uniform(32, 50))}, rail: {self.n(r.uniform(25, 40))}, "
                f"thickness: {self.n(19)})") if framed else "Frameless"
        fronts = "Inset" if inset else "Overlay"
        more = ""
        if r.random() < 0.5:
            more += f", front: {self.n(r.uniform(16, 22))}"
        if not inset and r.random() < 0.5:
            more += f", bumper: {self.n(r.uniform(1, 4))}"
            more += f", reveal: (side: {self.n(r.uniform(1.6, 12 if framed else 3))})"
        if inset and r.random() < 0.5:
            more += f", gap: {self.n(r.uniform(1.6, 4))}"
        wanted = r.choice([0.0, 0.0, 0.1, 0.5, 1, 2, 3, 5, 8, 10, 12, 15])
        wanted = self.n(wanted, 0.1) if wanted >= 1 or not self.inch else ("0" if wanted < 0.1 else '"1/32"')
        ajar = self.n(r.choice([0, 0, 0, 1, 2, 3, 5]), 0.5)
        obstacles = ""
        if r.random() < 0.08:
            obstacles = (f", obstacles: [(wall: {r.choice(['Left', 'Right'])}, along: {self.n(r.uniform(1900, 3200))}, "
                         f"width: {self.n(r.uniform(60, 200))}, depth: {self.n(r.uniform(40, 900))}, height: {self.n(2000)})]")
        if self.kind == "furnished":
            obstacles = f", obstacles: [{self.island()}]"
            if r.random() < 0.5:
                obstacles += f", doors: [{self.room_door()}]"
        baseboard = ""
        if r.random() < 0.2:
            baseboard = (f", baseboard: (height: {self.n(90)}, thickness: {self.n(15)}, "
                         f"treatment: {r.choice(['Removed', 'Left', 'Notched'])})")
        wide = r.choice([0.0, 20.0, 40.0, 60.0, 80.0, 120.0])
        left, right = (self.n(max(0.0, wide + r.uniform(-20, 40))) for _ in range(2))
        flush, laps = r.choice(["WithCarcass", "WithFronts"]), r.choice(["Left", "Right"])
        wall = self.n(WALL)
        pulls = ", ".join(f'"{name}": {self.pull()}' for name in "abc")
        slides = ", ".join(f'"{name}": {self.slide(depth)}' for name in "xy")
        base = r.choice(["IntegralKick", "LevelledBase", "Legs"])
        top = r.choice(["Stretchers", "FullTop"])
        return (
            f"(units: {'Inch' if self.inch else 'Millimetre'}, "
            f"room: ({angle}left_wall: {wall}, right_wall: {wall}{baseboard}{obstacles}), run_angle: {run_angle}, "
            f"construction: (base: {base}, depth: {self.n(depth)}, top: {top}, face: {face}, fronts: {fronts}{more}), "
            f"pulls: {{{pulls}}}, slides: {{{slides}}}, left: {self.run(doors)}, right: {self.run(doors)}, "
            f"corner: (left: Fixed({left}), right: Fixed({right}), flush: {flush}, laps: {laps}), "
            f"clearance: (wanted: {wanted}, ajar: {ajar}))"
        )


# Of each hundred: whole millimetres at exactly 90 degrees, 85 to 95, 80 to 150, inches, doors.
KINDS = ["whole"] * 20 + ["near"] * 30 + ["wide"] * 25 + ["inch"] * 10 + ["doors"] * 15


def surveyed(path, text, seed):
    """The plan in a room that was measured: walls that bow and lean, straight or curved between readings, ending close to
    the runs' ends at three heights, with posts before the runs that what opens may meet; `None` where it is no plan."""
    r = random.Random(seed)
    solids = program(path, "solids", text)
    if not solids:
        return None
    mm = lambda x: f'"{mm_text(x)} mm"' if x >= 0 else f'"-{mm_text(-x)} mm"'
    walls, posts = [], []
    for side, run in zip(("left", "right"), solids["runs"]):
        parts, readings, reach = [], [], WALL
        if "Wall" in text.split(f" {side}: (units")[1].split("ends_at: ")[1][:5] or r.random() < 0.5:
            # Ends as a wall does, from a little too near to a hand's breadth away.
            near = WALL - run["left_over_mm"] + r.uniform(-4, 90)
            lengths = [near + r.uniform(0, 9) for _ in range(3)]
            head, tail = text.split(f" {side}: (units")
            text = f"{head} {side}: (units" + re.sub(r"ends_at: (Open|Wall|Casing\([^)]*\))", "ends_at: Wall", tail, count=1)
            text = re.sub(rf"{side}_wall: [^,)]*", f"{side}_wall: {mm(min(lengths))}", text, count=1)
            floor, middle, top = map(mm, lengths)
            reach = min(lengths)
            parts.append(f"lengths: (floor: {floor}, middle: {middle}, top: {top})")
        if r.random() < 0.6:
            along = r.uniform(run["starts_at_mm"], run["ends_at_mm"] - 50)
            posts.append(f"(wall: {side.capitalize()}, along: {mm(along)}, out: {mm(run['front_plane_mm'] + r.uniform(120, 600))}, "
                         f"width: {mm(r.uniform(60, 200))}, depth: {mm(r.uniform(60, 200))}, height: {mm(2000)})")
        for height in r.choice([[], [400], [150, 750], [60, 450, 860]]):
            along = 0.0
            for _ in range(r.randint(2, 6)):
                readings.append(f"(along: {mm(along)}, height: {mm(height)}, gap: {mm(r.uniform(5, 30))})")
                along = min(along + r.uniform(300, 1000), reach)
                if along == reach:
                    break
        if readings:
            parts.append(f"readings: [{', '.join(readings)}], between: {r.choice(['Straight', 'Curved'])}")
        if r.random() < 0.5:
            plumb = (f"(along: {mm(along)}, over: {mm(1200)}, back_by: {mm(r.uniform(-10, 10))})" for along in (200, 0.8 * reach))
            parts.append(f"plumb: [{', '.join(plumb)}]")
        walls.append(f"{side}: ({', '.join(parts)})")
    line = r.choice(["Parallel", "LeastGap"])
    if posts and "obstacles" not in text:
        text = text.replace("), run_angle:", f", obstacles: [{', '.join(posts)}]), run_angle:", 1)
    text = text.replace("), run_angle:", f", survey: ({', '.join(walls)})), run_angle:", 1)
    return f"{text[:-1]}, fixing: (line: {line}))"


def program(path, command, text, *more):
    done = subprocess.run([path, command, "--json", *more, "-"], input=text, capture_output=True, text=True)
    if done.returncode == 2:
        return None
    if done.returncode not in (0, 1):
        raise RuntimeError(f"{command}: {done.stderr}\n{text}")
    return json.loads(done.stdout)


def generate(args):
    plans, seed = [], args.seed * 1_000_000 + (500_000 if args.measured else 700_000 if args.furnished else 0)
    first = seed
    while len(plans) < args.count:
        text = Maker(seed, "furnished" if args.furnished else KINDS[len(plans) * 37 % len(KINDS)]).text()
        if args.measured:
            text = surveyed(args.program, text, seed)
        seed += 1
        solids = text and program(args.program, "solids", text)
        # A plan that the program refuses is not valid; one that opens nothing has nothing to say.
        if solids and any(part["mover"] for part in solids["parts"]):
            # What does not pass the door that it stands behind stops there, at an angle that only the program knows.
            openings = program(args.program, "check", text)["openings"] if args.furnished else []
            if all(need["met"] for opening in openings for need in opening["needs"]):
                plans.append(text)
    refused = seed - first - len(plans)
    with files(args)[0].open("w") as out:
        for index, text in enumerate(plans):
            out.write(json.dumps({"plan": index, "text": text}) + "\n")
    print(f"{len(plans)} plans, {refused} refused by the program on the way")


def with_fillers(text, width):
    """The plan with both fillers this wide, in mm."""
    return re.sub(r"corner: \(left: Fixed\([^)]*\), right: Fixed\([^)]*\)",
                  f'corner: (left: Fixed("{width} mm"), right: Fixed("{width} mm")', text)


# ---------------------------------------------------------------------------------------------------------------------
# Geometry


class Piece:
    """One convex piece of one part."""

    __slots__ = ("part", "points", "shift", "stretch", "moves", "axes", "ajar", "key")


def unit_axes(solids, part, points):
    import numpy as np
    for run in solids["runs"]:
        if part["run"] == run["side"] and part["class"] in ("run", "appliance", "countertop"):
            return np.array([run["along"], run["out"], [0.0, 0.0, 1.0]])
    edge = points[1] - points[0]
    if np.hypot(edge[0], edge[1]) < 1e-9:
        edge = points[len(points) // 2] - points[0]
    flat = np.array([edge[0], edge[1], 0.0]) / np.hypot(edge[0], edge[1])
    return np.array([flat, [-flat[1], flat[0], 0.0], [0.0, 0.0, 1.0]])


class Scene:
    """The solids of a plan, and what the rules ask of each pair; all from `solids --json`."""

    def __init__(self, solids):
        import fcl
        import numpy as np
        self.fcl, self.np = fcl, np
        self.request, self.home = fcl.DistanceRequest(), fcl.Transform()
        self.wanted = solids["clearance_wanted_mm"]
        runs = {run["side"]: run for run in solids["runs"]}
        self.along = {side: np.array(run["along"]) for side, run in runs.items()}
        self.built = {side: run["filler_mm"] for side, run in runs.items()}
        self.pieces, self.movers = [], []
        self.shapes, self.swings = {}, {}
        names = {}
        for part in solids["parts"]:
            if part["mover"] and part["mover"] not in names:
                names[part["mover"]] = len(self.movers)
                self.movers.append({
                    "name": part["mover"], "run": part["run"], "motion": part["motion"], "behind": part["behind"],
                    "belongs_to": part["belongs_to"], "is_of_room": part["class"] not in ("run", "appliance"),
                })
            follows = part["follows"]
            for k, raw in enumerate(part["pieces_mm"]):
                piece = Piece()
                piece.part, piece.points = part, np.array(raw)
                piece.shift = {side: np.array(follows[f"for_{side}"]) for side in ("left", "right")}
                piece.stretch = follows["stretch"]
                piece.moves = np.array(follows["stretch"]["moves"][k]) if follows["stretch"] else None
                piece.axes = unit_axes(solids, part, piece.points)
                # A shut front of the other run may stand out; what moves with it stands out as well.
                of_run = part["mover"] and part["class"] in ("run", "appliance")
                piece.ajar = np.array(runs[part["run"]]["out"]) * solids["ajar_mm"] if of_run else np.zeros(3)
                piece.key = len(self.pieces)
                self.pieces.append(piece)
        self.mover_of = [names.get(piece.part["mover"]) for piece in self.pieces]
        self.pairs()

    def rule(self, mover, other):
        """What a moving part of `mover` keeps from `other`, by the table in `src/clearance/rules.rs`; `None` for nothing."""
        kind, run = other.part["class"], mover["run"]
        box_opposite = other.part["role"] == "obstacle" and kind == "hidden"
        if box_opposite or (mover["behind"] and other.part["mover"] == mover["behind"]):
            return None
        if mover["belongs_to"]:
            if mover["belongs_to"] in (other.part["belongs_to"], None if other.part["mover"] else other.part["name"]):
                return None
            return "apart" if kind in ("floor", "hidden") else "wanted"
        if mover["is_of_room"]:
            if other.part["role"] == "casing":
                return None
            wanted = kind in ("run", "appliance", "countertop") or other.part["role"] == "obstacle"
            return "wanted" if wanted else "apart"
        if kind in ("floor", "countertop"):
            return "apart"
        if kind in ("run", "appliance", "wall") and other.part["run"] == run:
            return "apart"
        return "wanted"

    def pairs(self):
        np = self.np
        self.list = []  # (piece, other, rule)
        for i, piece in enumerate(self.pieces):
            m = self.mover_of[i]
            for j, other in enumerate(self.pieces):
                if m is not None and self.mover_of[j] != m:
                    rule = self.rule(self.movers[m], other)
                    if rule:
                        self.list.append((i, j, rule, True))
        for i, piece in enumerate(self.pieces):
            if piece.part["class"] not in ("run", "appliance"):
                continue
            for j, other in enumerate(self.pieces):
                reaches = other.part["class"] == "appliance"
                fixed = self.mover_of[i] is None
                across = reaches and fixed and piece.part["run"] != other.part["run"]
                if other.part["class"] == "standing" or across:
                    self.list.append((i, j, "apart", False))
        self.pair_a = np.array([p[0] for p in self.list])
        self.pair_b = np.array([p[1] for p in self.list])
        self.margin = np.array([self.wanted if p[2] == "wanted" else 0.0 for p in self.list])
        low, high = [], []
        still_low, still_high = [], []
        for i, piece in enumerate(self.pieces):
            b = np.vstack([piece.points, piece.points + piece.ajar])
            still_low.append(b.min(0))
            still_high.append(b.max(0))
            motion = piece.part["motion"]
            if motion is None:
                a = piece.points
            elif motion["kind"] == "slide":
                a = np.vstack([piece.points, piece.points + np.array(motion["direction"]) * motion["travel_mm"]])
            else:
                hinge, axis = np.array(motion["hinge_mm"]), np.array(motion["axis"])
                # Right round the line: a ring for each corner.
                along = np.outer((piece.points - hinge) @ axis, axis)
                reach = np.outer(np.linalg.norm(piece.points - hinge - along, axis=1), self.across(axis))
                a = np.vstack([hinge + along - reach, hinge + along + reach])
            low.append(a.min(0))
            high.append(a.max(0))
        moving = np.array([p[3] for p in self.list])
        still_low, still_high = np.array(still_low), np.array(still_high)
        a_low = np.where(moving[:, None], np.array(low)[self.pair_a], still_low[self.pair_a])
        a_high = np.where(moving[:, None], np.array(high)[self.pair_a], still_high[self.pair_a])
        self.box = (a_low, a_high, still_low[self.pair_b], still_high[self.pair_b])
        self.rate = {}
        self.stretches = {}
        for side in ("left", "right"):
            shift = np.array([piece.shift[side] for piece in self.pieces])
            self.rate[side] = shift[self.pair_a] - shift[self.pair_b]
            grows = np.array([bool(p.stretch) and p.stretch["side"] == side for p in self.pieces])
            self.stretches[side] = grows[self.pair_a] | grows[self.pair_b]
        self.rebuilt = np.array([self.pieces[j].part["follows"]["word"] == "rebuilt"
                                 or self.pieces[i].part["follows"]["word"] == "rebuilt" for i, j, _, _ in self.list])

    def radius(self, piece):
        motion = piece.part["motion"]
        return max(self.np.linalg.norm(self.np.cross(piece.points - self.np.array(motion["hinge_mm"]), motion["axis"]), axis=1))

    def across(self, axis):
        """How far a vector of length 1 across `axis` reaches at most in each of the three directions."""
        return self.np.sqrt(self.np.maximum(1 - self.np.square(axis), 0))

    # -- shapes

    def drawn_in(self, piece, points, by):
        """`points` drawn towards the middle by `by` along each of the piece's own axes."""
        if by == 0.0:
            return points
        np = self.np
        local = points @ piece.axes.T
        low, high = local.min(0), local.max(0)
        middle, half = (low + high) / 2, (high - low) / 2
        # A board thinner than twice this does not exist; a half of it is left in any case.
        local = middle + (local - middle) * np.maximum(1 - by / np.maximum(half, 1e-9), 0.5)
        return local @ piece.axes

    def shape(self, points):
        """A body that FCL knows by its corners alone; the one face is there because it asks for some."""
        np = self.np
        return self.fcl.Convex(np.ascontiguousarray(points), 1, np.array([3, 0, 1, 2], dtype=np.int32))

    def body(self, i, role, by, widths=None):
        """The piece as it stands (`still`), with its whole slide (`swept`), or as a front that may be ajar (`ajar`)."""
        piece = self.pieces[i]
        stretched = piece.stretch is not None and widths is not None and widths != self.built
        key = (i, role, by)
        if not stretched and key in self.shapes:
            return self.shapes[key]
        points = piece.points
        if stretched:
            side = piece.stretch["side"]
            if widths[side] <= piece.stretch["least_mm"]:
                return None
            points = points + self.np.outer(piece.moves, self.along[side] * (widths[side] - self.built[side]))
        points = self.drawn_in(piece, points, by)
        sweep = None
        if role == "swept" and piece.part["motion"] and piece.part["motion"]["kind"] == "slide":
            sweep = self.np.array(piece.part["motion"]["direction"]) * piece.part["motion"]["travel_mm"]
        if role == "ajar":
            sweep = piece.ajar
        if sweep is not None and sweep.any():
            points = self.np.vstack([points, points + sweep])
        body = self.fcl.CollisionObject(self.shape(points), self.fcl.Transform())
        if not stretched:
            self.shapes[key] = body
        return body

    def offset(self, k, widths):
        """How far pair `k`'s first piece is carried against its second."""
        return sum(self.rate[side][k] * (widths[side] - self.built[side]) for side in ("left", "right"))

    def turned(self, i, angle):
        np, motion = self.np, self.pieces[i].part["motion"]
        c, s = math.cos(angle), math.sin(angle)
        x, y, z = motion["axis"]
        # Rodrigues: right-handed about the axis.
        cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
        turn = np.eye(3) + s * cross + (1 - c) * (cross @ cross)
        hinge = np.array(motion["hinge_mm"])
        return turn, hinge - turn @ hinge

    def gap(self, a, b, turn, move):
        # A body is kept from one question to the next, and may have been the one that moved in the last.
        b.setTransform(self.home)
        a.setTransform(self.fcl.Transform(move) if turn is None else self.fcl.Transform(turn, move))
        return max(0.0, self.fcl.distance(a, b, self.request, self.fcl.DistanceResult()))

    # -- what a pair must keep: how far its two pieces are drawn in, and the least distance then

    def keeps(self, k, mode, touch=False):
        i, j, rule, moving = self.list[k]
        swings = moving and self.pieces[i].part["motion"]["kind"] == "swing"
        band = SWING_BAND if swings else BAND
        margin = 0.0 if touch else self.margin[k]
        if margin > 0.0:
            return 0.0, 0.0, margin + {"low": -band, "value": 0.0, "high": band}[mode] - NOISE
        if swings:
            return {"low": (DRAWN_IN + band, 0.0, NOISE), "value": (DRAWN_IN, 0.0, NOISE),
                    "high": (DRAWN_IN, 0.0, DRAWN_IN - 5e-4 if rule == "apart" else band)}[mode]
        if mode == "low":
            return band / 2, band / 2, NOISE
        if mode == "high" and not (touch and rule == "apart"):
            return 0.0, 0.0, band
        return SKIN, SKIN, 2 * SKIN - NOISE

    def pair_gap(self, k, drawn, widths, angle=None):
        """The distance of pair `k` over the whole slide, or at one angle of a swing; `None` where a piece is not there."""
        i, j, rule, moving = self.list[k]
        other = self.body(j, "ajar" if moving and rule == "wanted" else "still", drawn[1], widths)
        own = self.body(i, "swept" if moving and angle is None else "still", drawn[0], widths)
        if own is None or other is None:
            return None
        move = self.offset(k, widths)
        if angle is None:
            return self.gap(own, other, None, move)
        turn, at = self.turned(i, angle)
        return self.gap(own, other, turn, at + move)

    def swing_steps(self, k, widths, keep):
        """The steps of pair `k`'s swing whose boxes come nearer than `keep`: all the others are clear."""
        np = self.np
        i, j, _, _ = self.list[k]
        piece = self.pieces[i]
        if i not in self.swings:
            whole, radius = math.radians(piece.part["motion"]["to_deg"]), self.radius(piece)
            edges = np.linspace(0.0, whole, STEPS + 1)
            # No point leaves the place it has in the middle of a step by more than half the step's arc.
            arc = radius * whole / STEPS / 2 * self.across(piece.part["motion"]["axis"])
            boxes = []
            for low, high in zip(edges, edges[1:]):
                turn, at = self.turned(i, (low + high) / 2)
                points = piece.points @ turn.T + at
                boxes.append((points.min(0) - arc, points.max(0) + arc))
            self.swings[i] = edges, np.array([box[0] for box in boxes]), np.array([box[1] for box in boxes])
        edges, low, high = self.swings[i]
        move = self.offset(k, widths)
        other_low, other_high = self.box[2][k], self.box[3][k]
        if self.pieces[j].stretch:
            other_low, other_high = other_low.copy(), other_high.copy()
            other_low[:2], other_high[:2] = -1e6, 1e6
        apart = np.maximum(np.maximum(other_low - (high + move), (low + move) - other_high), 0.0)
        near = np.flatnonzero((apart ** 2).sum(1) < keep ** 2)
        return [(edges[n], edges[n + 1]) for n in near]

    def step_bound(self, k, drawn, widths, low, high, radius):
        """A distance that pair `k` surely keeps in a step of its swing: an arc leaves its chord by no more than
        radius x (1 - cos of half the step), so all lies within that of the hull of both ends."""
        i, j, rule, _ = self.list[k]
        points = self.drawn_in(self.pieces[i], self.pieces[i].points, drawn[0])
        ends = [points @ turn.T + at for turn, at in (self.turned(i, angle) for angle in (low, high))]
        hull = self.fcl.CollisionObject(self.shape(self.np.vstack(ends)), self.fcl.Transform())
        other = self.body(j, "ajar" if rule == "wanted" else "still", drawn[1], widths)
        return self.gap(hull, other, None, self.offset(k, widths)) - radius * (1 - math.cos((high - low) / 2))

    def swing_below(self, k, drawn, widths, keep):
        """The first angle from shut at which pair `k` is nearer than `keep`; searched to 0.001 mm."""
        radius = self.radius(self.pieces[self.list[k][0]])
        at = lambda angle: self.pair_gap(k, drawn, widths, angle)
        steps = self.swing_steps(k, widths, keep)[::-1]
        if not steps or at(0.0) is None:
            return None
        if at(0.0) < keep:
            return 0.0
        while steps:
            low, high = steps.pop()
            middle, half = (low + high) / 2, (high - low) / 2
            here = at(middle)
            if here - radius * half >= keep:
                continue
            if radius * half < 5e-4:
                if here < keep:
                    return middle
                continue
            if here >= keep and self.step_bound(k, drawn, widths, low, high, radius) >= keep:
                continue
            steps += [(middle, high), (low, middle)]
        return None

    def swing_nearest(self, k, drawn, widths, keep):
        """An angle at which pair `k` is nearer than `keep`, and nearly as near as it gets; `None` where it never is."""
        radius = self.radius(self.pieces[self.list[k][0]])
        at = lambda angle: self.pair_gap(k, drawn, widths, angle)
        steps = self.swing_steps(k, widths, keep)
        if not steps or at(0.0) is None:
            return None
        best, best_angle = math.inf, None
        heap = [(-math.inf, low, high) for low, high in steps]
        heapq.heapify(heap)
        while heap:
            bound, low, high = heapq.heappop(heap)
            if bound >= keep or best < keep and bound > best - 0.25 * (keep - best):
                break
            middle, half = (low + high) / 2, (high - low) / 2
            here = at(middle)
            if here < best:
                best, best_angle = here, middle
                if best <= 0.0:
                    break
            bound = here - radius * half
            if bound < keep <= here:
                bound = max(bound, self.step_bound(k, drawn, widths, low, high, radius))
            if bound < keep and radius * half > 1e-3:
                heapq.heappush(heap, (bound, low, middle))
                heapq.heappush(heap, (bound, middle, high))
        return best_angle if best < keep else None

    def is_swing(self, k):
        i, _, _, moving = self.list[k]
        return moving and self.pieces[i].part["motion"]["kind"] == "swing"

    # -- least fillers

    def least(self, side, held, scope, mode):
        """The least width of `side`'s filler that passes, the other `held`; `None` where none up to 2000 mm does."""
        np = self.np
        other_side = "right" if side == "left" else "left"
        counts = (np.abs(self.rate[side]).max(1) > 1e-9) | self.stretches[side]
        counts &= ~self.rebuilt
        if scope == "own":
            own = np.array([moving and self.movers[self.mover_of[i]]["run"] == side for i, _, _, moving in self.list])
            counts &= own
        index = np.flatnonzero(counts)
        a_low, a_high, b_low, b_high = (box[index] for box in self.box)
        rate, stretches = self.rate[side][index], self.stretches[side][index]
        fixed = self.rate[other_side][index] * (held - self.built[other_side])
        reach = self.margin[index] + 0.02
        # Stretching pieces have no fixed box.
        any_stretch = stretches | self.stretches[other_side][index]
        keeps = {}
        width = 0.0
        while width <= WIDEST:
            widths = {side: width, other_side: held}
            move = fixed + rate * (width - self.built[side])
            apart = np.maximum(np.maximum(b_low - (a_high + move), (a_low + move) - b_high), 0.0)
            near = np.sqrt((apart ** 2).sum(1)) < reach
            near |= any_stretch & (apart[:, 2] < reach)
            # Swings last: what slides forbid needs no search of angles.
            order = sorted(np.flatnonzero(near), key=lambda n: self.is_swing(index[n]))
            for n in order:
                k = index[n]
                if k not in keeps:
                    keeps[k] = self.keeps(k, mode)
                *drawn, keep = keeps[k]
                angle = None
                if self.is_swing(k):
                    angle = self.swing_nearest(k, drawn, widths, keep)
                    if angle is None:
                        continue
                else:
                    gap = self.pair_gap(k, drawn, widths)
                    if gap is None or gap >= keep:
                        continue
                end = self.good_from(k, drawn, side, widths, angle, keep)
                if angle is not None and end is not None:
                    # Where it overlaps no angle is nearer than another: take the one that holds longest.
                    whole = math.radians(self.pieces[self.list[k][0]].part["motion"]["to_deg"])
                    for n in range(STEPS // 2 + 1):
                        other = whole * n / (STEPS // 2)
                        if end is not None and self.near_at(k, drawn, {**widths, side: end}, other, keep):
                            end = self.good_from(k, drawn, side, {**widths, side: end}, other, keep)
                if end is None:
                    return None
                width = end if angle is None else end + SWING_STEP
                break
            else:
                return width
        return None

    def good_from(self, k, drawn, side, widths, angle, keep):
        """Where the bad widths end that `widths` lies in, for one pair at one angle."""
        too_near = lambda w: self.near_at(k, drawn, {**widths, side: w}, angle, keep)
        if too_near(WIDEST + 1.0):
            return None
        low, step = widths[side], 1.0
        while too_near(min(low + step, WIDEST + 1.0)):
            low, step = min(low + step, WIDEST + 1.0), step * 2
        high = min(low + step, WIDEST + 1.0)
        while high - low > FINE:
            middle = (low + high) / 2
            low, high = (middle, high) if too_near(middle) else (low, middle)
        return high

    def near_at(self, k, drawn, widths, angle, keep):
        gap = self.pair_gap(k, drawn, widths, angle)
        return gap is not None and gap < keep

    # -- how far it pulls out, in the model as built

    def first_touch(self, mover, mode):
        """How far `mover` goes before it touches anything: mm, or degrees."""
        np = self.np
        motion = self.movers[mover]["motion"]
        slides = motion["kind"] == "slide"
        best = motion["travel_mm"] if slides else motion["to_deg"]
        a_low, a_high, b_low, b_high = self.box
        mine = np.array([moving and self.mover_of[i] == mover for i, _, _, moving in self.list])
        apart = np.maximum(np.maximum(b_low - a_high, a_low - b_high), 0.0).max(1)
        for k in np.flatnonzero(mine & (apart < 0.02)):
            *drawn, keep = self.keeps(k, mode, touch=True)
            if slides:
                if self.pair_gap(k, drawn, self.built) < keep:
                    best = min(best, self.slide_touch(k, drawn, keep, best))
            else:
                angle = self.swing_below(k, drawn, self.built, keep)
                if angle is not None:
                    best = min(best, math.degrees(angle))
        return best

    def slide_touch(self, k, drawn, keep, before):
        """Where on its way the pair's slide first comes nearer than `keep`: distance is convex along it."""
        i, j, rule, _ = self.list[k]
        motion = self.pieces[i].part["motion"]
        direction = self.np.array(motion["direction"])
        own = self.body(i, "still", drawn[0])
        other = self.body(j, "ajar" if rule == "wanted" else "still", drawn[1])
        at = lambda s: self.gap(own, other, None, direction * s)
        if at(0.0) < keep:
            return 0.0
        low, high = 0.0, motion["travel_mm"]
        # By thirds until a place that is too near is found.
        inside = None
        while high - low > FINE:
            a, b = low + (high - low) / 3, high - (high - low) / 3
            at_a, at_b = at(a), at(b)
            if at_a < keep or at_b < keep:
                inside = a if at_a < keep else b
                break
            low, high = (low, b) if at_a <= at_b else (a, high)
        if inside is None:
            # The whole sweep touches and no place on it was found: a graze, at its nearest.
            return motion["travel_mm"] if at(motion["travel_mm"]) >= keep else self.bisect(at, keep, low, motion["travel_mm"])
        return self.bisect(at, keep, 0.0, inside)

    @staticmethod
    def bisect(at, keep, low, high):
        while high - low > FINE:
            middle = (low + high) / 2
            low, high = (low, middle) if at(middle) < keep else (middle, high)
        return high


# ---------------------------------------------------------------------------------------------------------------------
# The table


def files(args):
    """The plans, and the table of them."""
    if args.furnished:
        return FURNISHED_PLANS, FURNISHED_TABLE
    return (MEASURED_PLANS, MEASURED_TABLE) if args.measured else (PLANS, TABLE)


def touches(index, solids):
    """How far each drawer and door of a model goes."""
    scene = Scene(solids)
    rows = []
    for mover, known in enumerate(scene.movers):
        # What stands nearer is touched sooner: `high` is the shortest way.
        value, low, high = (scene.first_touch(mover, mode) for mode in ("value", "high", "low"))
        kind = "mm" if known["motion"]["kind"] == "slide" else "deg"
        rows.append((index, "touch", mover, kind, value, *band(value, low, high)))
    return rows


def measured_rows_of(job):
    """The rows of one plan in its measured room."""
    path, index, text = job
    return touches(index, program(path, "solids", text, "--measured"))


def furnished_rows_of(job):
    """The rows of one furnished plan."""
    path, index, text = job
    return touches(index, program(path, "solids", text))


def rows_of(job):
    """The table's rows of one plan: what, which, scope, value, low, high."""
    path, index, text = job
    wide, here = program(path, "solids", with_fillers(text, WIDE)), program(path, "solids", text)
    scene = Scene(wide)
    present = {run["side"]: run["filler_mm"] for run in here["runs"]}
    rows = []
    for side in ("left", "right"):
        held = present["right" if side == "left" else "left"]
        # What opens on the filler's own run decides its least width; the least with which all is clear is told too.
        for what, scope in (("least", "own"), ("clear", "all")):
            value, low, high = (scene.least(side, held, scope, mode) for mode in ("value", "low", "high"))
            rows.append((index, what, side, scope, value, *band(value, low, high)))
    return rows + touches(index, here)


def band(value, low, high):
    """Two values no further apart than the band are no further apart in distance either."""
    if value is None:
        return low, high
    low = value if low is None else low
    return min(low, value - BAND), high if high is None else max(high, value + BAND)


def show(value):
    return "" if value is None else f"{value:.6f}"


def read_plans(args):
    with files(args)[0].open() as lines:
        return [(entry["plan"], entry["text"]) for entry in map(json.loads, lines)]


def compute(args):
    jobs = [(args.program, index, text) for index, text in read_plans(args)]
    if args.only is not None:
        jobs = [job for job in jobs if job[1] in args.only]
    # A plan is a job of its own, so that the longest does not hold up the rest.
    with multiprocessing.Pool(args.jobs) as pool:
        of = measured_rows_of if args.measured else furnished_rows_of if args.furnished else rows_of
        return [row for rows in pool.imap(of, jobs, chunksize=1) for row in rows]


def hang(args):
    """Adds plans with real hinges, doors that lift up or drop down and appliances that open, and their rows."""
    known = read_plans(args)
    plans, seed = [], args.seed * 1_000_000 + 900_000
    while len(plans) < args.count:
        text = Maker(seed, "hung").text()
        seed += 1
        solids = program(args.program, "solids", text)
        if solids and any(part["motion"] and part["motion"]["kind"] == "swing" for part in solids["parts"]):
            plans.append(text)
    with PLANS.open("a") as out:
        for index, text in enumerate(plans, len(known)):
            out.write(json.dumps({"plan": index, "text": text}) + "\n")
    args.only = set(range(len(known), len(known) + len(plans)))
    rows = compute(args)
    with TABLE.open("a", newline="") as out:
        csv.writer(out, lineterminator="\n").writerows([*row[:4], *map(show, row[4:])] for row in rows)
    print(f"{len(rows)} rows of {len(plans)} plans more")
    return compare(args, rows)


def noise():
    """How exact FCL is, on boxes whose distance is known: the largest error, mm."""
    import fcl
    import numpy as np
    source = np.random.default_rng(1)
    corners = np.array([[x, y, z] for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)])
    one = np.array([3, 0, 1, 2], dtype=np.int32)
    worst = 0.0
    for _ in range(3000):
        a, b, at = source.uniform(2, 500, 3), source.uniform(2, 500, 3), source.uniform(-1200, 1200, 3)
        true = np.linalg.norm(np.maximum(np.abs(at) - a - b, 0))
        if true > 0:
            bodies = [fcl.CollisionObject(fcl.Convex(p, 1, one), fcl.Transform()) for p in (corners * a, corners * b + at)]
            worst = max(worst, abs(fcl.distance(*bodies, fcl.DistanceRequest(), fcl.DistanceResult()) - true))
    return worst


def table(args):
    rows = compute(args)
    with files(args)[1].open("w", newline="") as out:
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(["plan", "what", "which", "scope", "value", "low", "high"])
        writer.writerows([*row[:4], *map(show, row[4:])] for row in rows)
    print(f"{len(rows)} rows of {len(read_plans(args))} plans")
    return compare(args, rows)


def read_table(args):
    with files(args)[1].open() as lines:
        return {(int(r["plan"]), r["what"], r["which"]): (r["scope"], r["value"], r["low"], r["high"])
                for r in csv.DictReader(lines)}


def answers(job):
    path, index, text = job
    report = program(path, "check", text)
    found = {}
    for side in report["fillers"]:
        found[index, "least", side["side"]] = ("own", side["least_mm"])
        found[index, "clear", side["side"]] = ("all", side["good"][0]["from_mm"] if side["good"] else None)
    for mover, opening in enumerate(report["openings"]):
        (kind, value), = opening["to_touch"].items()
        found[index, "touch", str(mover)] = (kind, value)
    return found


def measured_answers(job):
    path, index, text = job
    found = {}
    for mover, opening in enumerate(program(path, "check", text, "--measured")["openings"]):
        (kind, value), = opening["to_touch"].items()
        found[index, "touch", str(mover)] = (kind, value)
    return found


def furnished_answers(job):
    return {key: value for key, value in answers(job).items() if key[1] == "touch"}


def compare(args, rows):
    """Compares rows with the program's answers; gives the number that disagree."""
    jobs = [(args.program, index, text) for index, text in read_plans(args)]
    if args.only is not None:
        jobs = [job for job in jobs if job[1] in args.only]
    theirs = {}
    with multiprocessing.Pool(args.jobs) as pool:
        of = measured_answers if args.measured else furnished_answers if args.furnished else answers
        for found in pool.imap_unordered(of, jobs):
            theirs.update(found)
    wrong, by_width, largest = 0, 0, {"least": 0.0, "clear": 0.0, "mm": 0.0, "deg": 0.0}
    for index, what, which, scope, value, low, high in rows:
        given_scope, given = theirs.pop((index, what, str(which)))
        fits = given_scope == scope
        if value is None or given is None:
            fits &= value is None and given is None or (high is None and given is None)
        else:
            fits &= low - 1e-6 <= given and (high is None or given <= high + 1e-6)
            apart = abs(given - value)
            kind = scope if what == "touch" else what
            if apart <= BAND:
                largest[kind] = max(largest[kind], apart)
            else:
                by_width += 1
        if not fits:
            wrong += 1
            print(f"plan {index} {what} {which}: FCL {scope} {show(value)} ({show(low)} to {show(high)}), "
                  f"the program {given_scope} {given}")
    if theirs:
        wrong += len(theirs)
        print(f"not in the table: {sorted(theirs)[:5]}")
    print(f"{len(rows)} values: {len(rows) - by_width - wrong} within {BAND} mm (or degrees) outright, "
          f"{by_width} apart further, judged in distance; {wrong} disagree")
    print("largest difference outright: " + ", ".join(f"{kind} {apart:.2g}" for kind, apart in largest.items()))
    return wrong


def recompute(args):
    rows = compute(args)
    known, wrong = read_table(args), 0
    for row in rows:
        scope, *values = known.pop((row[0], row[1], str(row[2])), ("absent", "", "", ""))
        same = scope == row[3] and all(
            (text == "") == (value is None) and (value is None or abs(float(text) - value) < SAME)
            for text, value in zip(values, row[4:]))
        if not same:
            wrong += 1
            print(f"plan {row[0]} {row[1]} {row[2]}: the table has {values}, now {list(map(show, row[4:]))}")
    if args.only is None and known:
        wrong += len(known)
        print(f"no longer there: {sorted(known)[:5]}")
    print(f"{wrong} of {len(rows)} rows differ from table.csv")
    return wrong + compare(args, rows)


# ---------------------------------------------------------------------------------------------------------------------
# Two drawers open at once

MAP_COUNT = 100
MAP_POINTS = 17  # Openings of each, from shut to full, that are told one by one.
MAP_CELLS = 48  # The area is counted in this many times this many cells.
# An outline may lie 0.01 mm outside the conflict in the plane of two openings; each moves its part by as much.
MAP_BAND = 0.01 * math.sqrt(2) + 1e-5


class Two:
    """Two drawers of a scene, and how near they are when one is out by `a` and the other by `b`."""

    def __init__(self, scene, first, second):
        np = scene.np
        self.scene, self.wanted = scene, scene.wanted
        motions = [scene.movers[m]["motion"] for m in (first, second)]
        self.ways = [np.array(motion["direction"]) for motion in motions]
        self.full = [motion["travel_mm"] for motion in motions]
        drawn = 0.0 if self.wanted > 0 else SKIN
        own, other = ([i for i, m in enumerate(scene.mover_of) if m == which] for which in (first, second))
        self.pairs = []
        for i in own:
            for j in other:
                low, high = self.box(i, 0)
                other_low, other_high = self.box(j, 1)
                apart = np.maximum(np.maximum(other_low - high, low - other_high), 0.0)
                if np.sqrt((apart ** 2).sum()) < self.wanted + 1.0:
                    # The largest first: they mostly settle it.
                    size = -np.prod(self.size(i)) * np.prod(self.size(j))
                    self.pairs.append((size, i, j, scene.body(i, "still", drawn), scene.body(j, "still", drawn),
                                       scene.body(i, "still", 0.0), scene.body(j, "still", 0.0)))
        self.pairs = [pair[3:] for pair in sorted(self.pairs, key=lambda pair: pair[:3])]

    def size(self, i):
        points = self.scene.pieces[i].points
        return points.max(0) - points.min(0)

    def box(self, i, which):
        np = self.scene.np
        points = self.scene.pieces[i].points
        all_of_it = np.vstack([points, points + self.ways[which] * self.full[which]])
        return all_of_it.min(0), all_of_it.max(0)

    def gap(self, pair, a, b, plain):
        """The distance of one pair of pieces; of those drawn in, where only overlap counts, unless `plain`."""
        own, other = pair[2:] if plain else pair[:2]
        return self.scene.gap(own, other, None, self.ways[0] * a - self.ways[1] * b)

    def conflicts(self, pair, a, b):
        return self.gap(pair, a, b, False) < (self.wanted - 1e-6 if self.wanted > 0 else 1e-9)

    def corner(self, known, pair, a_s, b_s, i, j):
        if (i, j) not in known:
            known[i, j] = self.conflicts(pair, a_s[i], b_s[j])
        return known[i, j]

    def code(self, a, b):
        """1: in conflict, 0: clear, ?: too close to say."""
        if any(self.conflicts(pair, a, b) for pair in self.pairs):
            return "1"
        return "0" if all(self.gap(pair, a, b, True) > self.wanted + MAP_BAND for pair in self.pairs) else "?"

    def codes(self):
        at = lambda which, n: self.full[which] * n / (MAP_POINTS - 1)
        return "".join(self.code(at(0, i), at(1, j)) for i in range(MAP_POINTS) for j in range(MAP_POINTS))

    def area(self):
        """The area of the conflict: at least, and at most.

        A cell is in conflict throughout where one pair of pieces is at its four corners, since what is too near is a
        convex set for each; and it is clear where at its middle all are further apart than its half sides can add up to.
        """
        np = self.scene.np
        a_s, b_s = (np.linspace(0.0, full, MAP_CELLS + 1) for full in self.full)
        surely, maybe = np.zeros((MAP_CELLS, MAP_CELLS), bool), np.zeros((MAP_CELLS, MAP_CELLS), bool)
        half = (a_s[1] + b_s[1]) / 2
        for pair in self.pairs:
            corners = {}
            for i, a in enumerate(a_s[:-1]):
                for j, b in enumerate(b_s[:-1]):
                    # What is known of a cell from an earlier pair need not be asked again.
                    if not maybe[i, j]:
                        maybe[i, j] = self.gap(pair, a + a_s[1] / 2, b + b_s[1] / 2, True) < self.wanted + half
                    if not surely[i, j]:
                        surely[i, j] = all(self.corner(corners, pair, a_s, b_s, i + di, j + dj)
                                           for di in (0, 1) for dj in (0, 1))
        cell = a_s[1] * b_s[1]
        return surely.sum() * cell, maybe.sum() * cell


def map_of(job):
    """The row of one plan: two drawers of different runs that conflict somewhere; `None` where there are none."""
    path, index, text = job
    scene = Scene(program(path, "solids", text))
    slides = [m for m, mover in enumerate(scene.movers) if mover["motion"]["kind"] == "slide"]
    found = []
    for first in slides:
        for second in slides:
            if first < second and scene.movers[first]["run"] != scene.movers[second]["run"]:
                two = Two(scene, first, second)
                steps = [(n + 0.5) / 6 for n in range(6)]
                if any(two.code(two.full[0] * a, two.full[1] * b) == "1" for a in steps for b in steps):
                    found.append((first, second, two))
    if not found:
        return None
    first, second, two = random.Random(index).choice(found)
    low, high = two.area()
    return [index, first, second, f"{low:.3f}", f"{high:.3f}", two.codes()]


def map_rows(args):
    jobs = [(args.program, index, text) for index, text in read_plans(args)]
    rows = []
    with multiprocessing.Pool(args.jobs) as pool:
        # In order, and no further than needed.
        for row in pool.imap(map_of, jobs, chunksize=1):
            rows += [row] if row else []
            if len(rows) == MAP_COUNT:
                break
        pool.terminate()
    return rows


def write_maps(args):
    rows = map_rows(args)
    with MAPS.open("w", newline="") as out:
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(["plan", "first", "second", "area_low", "area_high", "points"])
        writer.writerows(rows)
    print(f"{len(rows)} maps")
    return 0


def recompute_maps(args):
    with MAPS.open() as lines:
        known = list(csv.reader(lines))[1:]
    rows, wrong = [[str(cell) for cell in row] for row in map_rows(args)], 0
    for old, new in zip(known, rows, strict=True):
        same = old[:3] == new[:3] and all(a == b or "?" in (a, b) for a, b in zip(old[5], new[5]))
        # A cell on the brink may fall either way.
        same &= all(abs(float(a) - float(b)) <= 1e-3 * float(old[4]) for a, b in zip(old[3:5], new[3:5]))
        if not same:
            wrong += 1
            print(f"maps.csv has {old}, now {new}")
    print(f"{wrong} of {len(rows)} maps differ from maps.csv")
    return wrong


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    parser.add_argument("command", choices=["generate", "table", "maps", "hang", "recompute"])
    parser.add_argument("--program", required=True, help="the elbowroom program")
    parser.add_argument("--count", type=int, default=400)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=os.cpu_count())
    parser.add_argument("--only", type=lambda text: {int(n) for n in text.split(",")}, help="only these plans")
    which = parser.add_mutually_exclusive_group()
    which.add_argument("--measured", action="store_true", help="in measured rooms")
    which.add_argument("--furnished", action="store_true", help="with islands that open, room doors, pull-out shelves, tall units")
    args = parser.parse_args()
    start = time.monotonic()
    if args.command == "generate":
        generate(args)
        return 0
    print(f"FCL against boxes of known distance: largest error {noise():.1g} mm")
    if args.command == "maps":
        wrong = write_maps(args)
    else:
        wrong = {"table": table, "hang": hang, "recompute": recompute}[args.command](args)
        if args.command == "recompute" and args.only is None and not args.measured and not args.furnished:
            wrong += recompute_maps(args)
    print(f"{time.monotonic() - start:.0f} s")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
