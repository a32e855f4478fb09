"""Each statistic of the plan by itself: which claims are told where they are true, and where false.

Frames, faults, hands and truths are this file's own and share nothing with wizard/ but the names of
the points. Only tape and bar are read: no string, no level, no look, nobody who measures again.

    python -m tests.bench.plan_alone --surveys 400              claims, fault by fault
    python -m tests.bench.plan_alone --surveys 400 --set whole  with fewer tapes
    python -m tests.bench.plan_alone --intervals 100000         whether 95 % intervals hold 95 %
"""

from __future__ import annotations

import argparse
import math
import random
import sys
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

sys.path.insert(0, str(Path(__file__).parents[2]))

from wizard.checks.case import Case, case_of
from wizard.checks.run import findings_of
from wizard.judgment.corner import corner_of
from wizard.judgment.sight import Sight, sight_of
from wizard.library import load_library
from wizard.library.shapes import Library
from wizard.math.repeats import mean_u
from wizard.math.student import coverage_factor
from wizard.survey.prompts import Prompt, expand
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Reading
from wizard.survey.state import with_tool

DAY = datetime(2026, 4, 11, 9, 0)
Points = dict[str, tuple[float, float, float]]
Vector: TypeAlias = "NDArray[np.float64]"
SIXTEENTH, MILLIMETER = 25.4 / 16, 1.0

# Frames -----------------------------------------------------------------------------------------

FRAMES: dict[str, dict[str, tuple[float, float, float]]] = {
    "straight-ladder": {
        "tip": (-430, 291, -40),
        "front": (0, 316, 0),
        "center": (1050, 371, 0),
        "rear": (2250, 424, 0),
    },
    "leaf-ladder-light": {
        "tip": (-410, 333, -30),
        "front": (0, 327, 0),
        "center": (980, 364, 0),
        "rear": (1990, 396, 0),
    },
    "leaf-ladder-large": {
        "tip": (-510, 366, -40),
        "front": (0, 379, 0),
        "center": (1230, 416, 0),
        "second": (2070, 453, 0),
        "rear": (2980, 476, 0),
    },
    "a-frame": {
        "nose": (-640, 0, 0),
        "front": (0, 124, 0),
        "center": (820, 273, 0),
        "rear": (1670, 425, 0),
    },
    "double-drop": {
        "tip": (-460, 324, -30),
        "front": (0, 333, 0),
        "front-kick": (530, 342, -85),
        "center": (1270, 373, -85),
        "rear-kick": (1970, 391, -85),
        "rear": (2780, 423, 40),
    },
    "x-braced": {
        "tip": (-420, 334, -30),
        "front": (0, 344, 0),
        "front-leg": (915, 404, 0),
        "plate": (1530, 0, 0),
        "rear-leg": (2230, 417, 0),
        "rear": (2900, 444, 0),
    },
    "boxed-perimeter": {
        "tip": (-440, 386, -20),
        "front": (0, 404, 0),
        "cowl": (970, 594, 0),
        "center": (1720, 624, 0),
        "rear-door": (2430, 604, 0),
        "rear": (3060, 436, 0),
    },
}
"""x rearward, half width, z, mm: by kind of frame, place by place; half width 0 is the middle."""
SIZE_SD = 0.03
"""How much frames of one kind differ, of each size (of a place along the frame twice as much)."""
ENDS = {"front": ("tip", "front"), "rear": ("rear",)}


def frame(kind: str, rng: random.Random) -> dict[str, tuple[float, float, float]]:
    """The sizes of one sound frame of a kind."""
    long = rng.gauss(1.0, SIZE_SD)
    wide = rng.gauss(1.0, SIZE_SD)
    out = {}
    for place, (x, half, z) in FRAMES[kind].items():
        at = long * rng.gauss(1.0, SIZE_SD)
        out[place] = (
            x * at,
            half * wide * rng.gauss(1.0, SIZE_SD / 2),
            rng.gauss(z, 10.0) if z else 0.0,
        )
    return out


def square(sizes: Mapping[str, tuple[float, float, float]]) -> Points:
    """The points of a frame that is alike on both sides."""
    out: Points = {}
    for place, (x, half, z) in sizes.items():
        if not half:
            out[place] = x, 0.0, z
            continue
        out[f"{place}-left"] = x, -half, z
        out[f"{place}-right"] = x, half, z
    return out


# Faults -----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Fault:
    """What is the matter with a frame."""

    kind: str = "straight"
    """straight, diamond, corner, mash, bow, end, horn, horns"""
    size: float = 0.0
    side: str = "right"
    end: str = "front"

    def __str__(self) -> str:
        size = f" {self.size:g}" if self.size else ""
        where = f" {self.side} {self.end}" if self.kind in ("corner", "horn") else ""
        where = f" {self.end}" if self.kind in ("end", "mash") else where
        return f"{self.kind}{size}{where}"


def bent(points: Points, fault: Fault) -> Points:
    """The frame with that fault."""
    out = dict(points)
    for name, (x, y, z) in points.items():
        dx, dy = MOVES[fault.kind](points, name, fault)
        out[name] = x + dx, y + dy, z
    return out


def _of(name: str) -> tuple[str, str]:
    place, _, side = name.rpartition("-")
    return (place, side) if side in ("left", "right") else (name, "")


def _diamond(points: Points, name: str, fault: Fault) -> tuple[float, float]:
    return {"left": -0.5, "right": 0.5, "": 0.0}[_of(name)[1]] * fault.size, 0.0


def _corner(points: Points, name: str, fault: Fault) -> tuple[float, float]:
    place, side = _of(name)
    away = 1.0 if fault.end == "front" else -1.0
    here = side == fault.side and place in ENDS[fault.end]
    return away * fault.size if here else 0.0, 0.0


def _middle(points: Points) -> float:
    """Where the rails bend sideways: at the place nearest to the middle that has two points."""
    xs = sorted(p[0] for n, p in points.items() if _of(n)[1] == "left" and _of(n)[0] != "tip")
    return min(xs[1:-1], key=lambda x: abs(x - xs[-1] / 2))


def _mash(points: Points, name: str, fault: Fault) -> tuple[float, float]:
    """A rail shortened behind its second place from that end: what lies beyond follows."""
    side = _of(name)[1]
    middle = _middle(points)
    x = points[name][0]
    if side != fault.side or x == middle:
        return 0.0, 0.0
    if fault.end == "front":
        return fault.size if x < middle else 0.0, 0.0
    return -fault.size if x > middle else 0.0, 0.0


def _bow(points: Points, name: str, fault: Fault) -> tuple[float, float]:
    """Both rails bent in the middle, so that it lies off the line between the ends."""
    middle = _middle(points)
    rear = max(p[0] for p in points.values())
    x = points[name][0]
    return 0.0, fault.size * (x / middle if x < middle else (rear - x) / (rear - middle))


def _end(points: Points, name: str, fault: Fault) -> tuple[float, float]:
    """One end bent over sideways, so that the middle bows by the fault's size."""
    middle = _middle(points)
    rear = max(p[0] for p in points.values())
    x = points[name][0]
    if fault.end == "front":
        over = max(0.0, (middle - x) / middle)
        return 0.0, -fault.size * over * rear / (rear - middle)
    over = max(0.0, (x - middle) / (rear - middle))
    return 0.0, -fault.size * over * rear / middle


def _horn(points: Points, name: str, fault: Fault) -> tuple[float, float]:
    """One tip moved outward by the size; `horns`: both inward alike."""
    place, side = _of(name)
    if place != "tip":
        return 0.0, 0.0
    outward = -1.0 if side == "left" else 1.0
    if fault.kind == "horns":
        return 0.0, -outward * fault.size
    return 0.0, outward * fault.size if side == fault.side else 0.0


MOVES: dict[str, Callable[[Points, str, Fault], tuple[float, float]]] = {
    "straight": lambda points, name, fault: (0.0, 0.0),
    "diamond": _diamond,
    "corner": _corner,
    "mash": _mash,
    "bow": _bow,
    "end": _end,
    "horn": _horn,
    "horns": _horn,
}

# The hand ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Hand:
    """How somebody reads."""

    name: str
    tape: float
    """Scatter of one taped reading, mm."""
    bar: float = 0.5
    division: float = SIXTEENTH
    unit: Unit = "in"


HANDS = (
    Hand("careful", 0.5, 0.4),
    Hand("reference", 0.9),
    Hand("hasty", 1.5, 0.8),
    Hand("millimeters", 0.9, 0.5, MILLIMETER, "mm"),
)
DOUBT = {"rivet": 0.3, "hole": 0.3, "bolt": 0.5, "edge": 1.0}
"""Which spot of a point is the point, mm; the same for the whole survey."""
SETS: dict[str, Callable[[Prompt], bool]] = {
    "all": lambda p: p.step not in ("diagonals-below", "front-box-bar"),
    "again": lambda p: p.step not in ("diagonals-below", "front-box-bar"),
    "bar": lambda p: (
        (p.step != "diagonals-below" and p.item != "front-box") or p.step != "box-diagonals"
    ),
    "whole": lambda p: p.step in ("widths", "your-hand", "long-diagonals", "nose-diagonals"),
    "no-sides": lambda p: p.step in ("widths", "your-hand", "long-diagonals", "box-diagonals"),
    "bar-alone": lambda p: p.step in ("your-hand", "front-box-bar"),
    "sides": lambda p: p.step in ("widths", "your-hand", "long-diagonals", "own-sides"),
}
"""What is taped: everything; the same with both horns' crosses twice more; the front box by the bar, the engine being in; the whole frame's
diagonals alone; those and the boxes'; those and the rails' own lengths."""


@cache
def library() -> Library:
    return load_library()


@cache
def prompts(kind: str, which: str) -> tuple[Prompt, ...]:
    """What is taped of a kind of frame, in the order of the course."""
    layout = library().layouts[kind]
    found = [p for id in library().courses["whole"] for p in expand(library().steps[id], layout)]
    wanted = SETS[which]
    taped = [p for p in found if p.kind.spans and p.tool == "tape" and p.start and p.end]
    points = square(FRAMES[kind])
    taped = [p for p in taped if p.start in points and p.end in points and wanted(p)]
    gaps = [p for p in found if p.step == "front-box-bar" and which in ("bar", "bar-alone")]
    return (*taped, *gaps)


def read(points: Points, kind: str, which: str, hand: Hand, rng: random.Random) -> Survey:
    """A survey of the frame by that hand."""
    survey = Survey(id="alone", car="Bramble", started=DAY, unit=hand.unit, layout=kind)
    for tool in ("ordinary-tape", "steel-ruler", "home-made-bar"):
        survey = with_tool(survey, library().tools[tool], DAY, "owner")
    spots = spotted(points, kind, rng)
    scale = rng.uniform(-1.0, 1.0)
    rows = []
    for prompt in prompts(kind, which):
        tool = survey.tool(prompt.tool)
        for _ in range(_times(prompt, which)):
            text = _typed(spots, prompt, hand, scale, rng)
            id = f"r{len(rows) + 1000}"
            rows.append(
                Reading(id=id, at=DAY, prompt=prompt.id, typed=text, tool=tool.id if tool else "")
            )
    for reading in rows:
        survey = survey.with_row(reading)
    return survey


def _times(prompt: Prompt, which: str) -> int:
    """How often he reads it: with `again` both crosses of the horns twice more than is asked."""
    more = which == "again" and prompt.step == "horns" and prompt.repeats > 1
    return prompt.repeats + 2 * more


def spotted(points: Points, kind: str, rng: random.Random) -> Points:
    """Where on each rivet he takes the point to be."""
    kinds = {p.id: p.kind for p in library().layouts[kind].places}
    out = {}
    for name, (x, y, z) in points.items():
        u = DOUBT[kinds[_of(name)[0]]]
        out[name] = x + rng.gauss(0, u), y + rng.gauss(0, u), z
    return out


def _typed(spots: Points, prompt: Prompt, hand: Hand, scale: float, rng: random.Random) -> str:
    if prompt.tool == "bar":
        return _gap(spots, prompt, hand, rng)
    length = math.dist(spots[prompt.start], spots[prompt.end])
    wrong = scale * (0.3 + 0.2 * math.ceil(length / 1000))
    seen = length + wrong + rng.gauss(0, hand.tape)
    return f"{round(seen / hand.division) * hand.division:.4f} mm"


def _gap(spots: Points, prompt: Prompt, hand: Hand, rng: random.Random) -> str:
    """By how much the first diagonal of the front box is the longer, on a ruler half as coarse."""
    seen = rng.gauss(0, hand.bar)
    if prompt.start in spots:
        a, b = _of(prompt.start)[0], _of(prompt.end)[0]
        first = math.dist(spots[f"{a}-left"], spots[f"{b}-right"])
        seen += first - math.dist(spots[prompt.start], spots[prompt.end])
    division = hand.division / 2
    gap = round(seen / division) * division
    return f"{abs(gap):.4f} mm {'past' if gap >= 0 else 'short'}"


# Intervals ----------------------------------------------------------------------------------------


def intervals(kind: str, which: str, hand: Hand, surveys: int, seed: int) -> dict[str, float]:
    """Share of surveys, %, whose 95 % interval holds the truth, for every finding of the plan.

    A finding says by its parts how each reading, each spot and the tape's own error move it: so its
    error is drawn without a plan for each survey, and its doubt is the program's own, from the
    scatter that the repeats of that survey show.
    """
    case = case_of(read(square(FRAMES[kind]), kind, which, hand, random.Random(seed)), library())
    rng = np.random.default_rng(seed)
    found = {f.id: f for f in findings_of(case.survey, library()) if f.quantity in PLANNED}
    means, pooled = _means(case, hand, surveys, rng)
    shared: dict[str, Vector] = {}
    out = {}
    for id, finding in found.items():
        error, squares, below = np.zeros(surveys), np.zeros(surveys), np.zeros(surveys)
        pools: dict[str, Vector] = {}
        for part in finding.number.parts:
            if part.name.startswith("hand:") and part.name[5:] in means:
                mean, key, u, now = means[part.name[5:]]
                error += part.size / u * mean
                pools[key] = pools.get(key, 0.0) + (part.size / u * now) ** 2
                continue
            if part.name not in shared:
                shared[part.name] = _drawn(part.name, surveys, rng)
            error += part.size * shared[part.name]
            squares += part.size**2
        for key, square_ in pools.items():
            squares = squares + square_
            below = below + square_**2 / pooled[key][1]
        k = _factor(squares**2 / np.maximum(below, 1e-12))
        out[id] = 100 * float(np.mean(np.abs(error) <= k * np.sqrt(squares)))
    return out


PLANNED = ("rail-shift", "mash", "sway", "horn", "horn-back", "closure", "own-sides", "nose-off")


def _drawn(name: str, surveys: int, rng: np.random.Generator) -> Vector:
    """What one shared source does, in its own standard doubt: a tape's error is rectangular."""
    if name.startswith("tape:"):
        return rng.uniform(-1.0, 1.0, surveys) * math.sqrt(3.0)
    if name.startswith("hang:"):
        return np.zeros(surveys)
    return rng.normal(size=surveys)


def _means(
    case: Case, hand: Hand, surveys: int, rng: np.random.Generator
) -> tuple[dict[str, tuple[Vector, str, float, Vector]], dict[str, tuple[Vector, float]]]:
    """By prompt the error of its mean, its pool, its doubt now and as each survey would have it; by
    pool the scatter of each survey and its degrees of freedom.
    """
    seen: dict[str, tuple[Vector, str, int, float]] = {}
    sums: dict[str, list[Any]] = {}
    for id, rows in case.by_prompt.items():
        prompt, n = case.prompts[id], len(rows)
        gap = prompt.tool == "bar"
        scatter, division = (hand.bar, hand.division / 2) if gap else (hand.tape, hand.division)
        at = rng.uniform(-0.5, 0.5, (surveys, 1)) * division
        true = at + rng.normal(0.0, scatter, (surveys, n))
        read_ = np.round(true / division) * division - at
        part = next(p for p in case.taken(id).number.parts if p.name.startswith("hand:"))
        seen[id] = read_.mean(axis=1), part.pool, n, 0.0 if gap else division
        kind, aim = prompt.tool, case.aim(prompt)
        prior = case.prior(kind, aim)
        known = sums.setdefault(part.pool, [prior.s**2 * prior.dof, prior.dof])
        known[0] = known[0] + ((read_ - read_.mean(axis=1, keepdims=True)) ** 2).sum(axis=1)
        known[1] += n - 1
    pooled = {
        key: (np.sqrt(total / dof + np.zeros(surveys)), dof) for key, (total, dof) in sums.items()
    }
    out = {}
    for id, (mean, pool, n, division) in seen.items():
        part = next(p for p in case.taken(id).number.parts if p.name.startswith("hand:"))
        grid = np.linspace(0.05, 4.0, 400)
        doubt = np.interp(pooled[pool][0], grid, [mean_u(s, n, division) for s in grid])
        out[id] = mean, pool, part.size, doubt
    return out, pooled


def _factor(dof: Vector) -> Vector:
    grid = np.concatenate([np.linspace(1, 30, 60), np.geomspace(31, 1e4, 60)])
    return np.interp(dof, grid, [coverage_factor(d) for d in grid])


# The truth --------------------------------------------------------------------------------------


@dataclass
class Score:
    """How often each claim was told, and how often it was false."""

    surveys: int = 0
    told: Counter[str] = field(default_factory=Counter)
    false: Counter[str] = field(default_factory=Counter)
    held: Counter[str] = field(default_factory=Counter)
    asked: Counter[str] = field(default_factory=Counter)
    settled: Counter[str] = field(default_factory=Counter)


def truths(points: Points, kind: str) -> dict[str, float]:
    """What the frame's own points say of each quantity, by finding id."""
    layout = library().layouts[kind]
    out: dict[str, float] = {}
    pairs = [p.id for p in layout.places if f"{p.id}-left" in points and p.id != "tip"]
    pairs.sort(key=lambda p: points[f"{p}-left"][0])
    for box in layout.boxes:
        if box.front == "tip":
            continue
        out |= _box_truth(points, box.id, box.front, box.rear)
    front, rear = _mid(points, pairs[0]), _mid(points, pairs[-1])
    for place in pairs[1:-1]:
        out[f"sway/{place}"] = _off(_mid(points, place), front, rear)
    if "tip-left" in points:
        second = _mid(points, pairs[1])
        out["horn/difference"] = -2 * _off(_mid(points, "tip"), front, second)
    if "nose" in points:
        out["nose-off/nose"] = _off_fitted(points["nose"][:2], [_mid(points, p) for p in pairs])
    if "front-box-bar" not in out and "rail-shift/front-box" in out:
        out["rail-shift/front-box-bar"] = out["rail-shift/front-box"]
    return out


def _mid(points: Points, place: str) -> tuple[float, float]:
    a, b = points[f"{place}-left"], points[f"{place}-right"]
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _off(at: tuple[float, float], a: tuple[float, float], b: tuple[float, float]) -> float:
    """To the right of the line from a to b."""
    along = math.dist(a, b)
    return ((b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])) / along


def _off_fitted(at: tuple[float, float], mids: list[tuple[float, float]]) -> float:
    """To the right of the straight line through several places, each of equal weight."""
    x0, y0 = (sum(m[k] for m in mids) / len(mids) for k in (0, 1))
    slope = sum((x - x0) * (y - y0) for x, y in mids) / sum((x - x0) ** 2 for x, _ in mids)
    return at[1] - y0 - slope * (at[0] - x0)


def _box_truth(points: Points, id: str, front: str, rear: str) -> dict[str, float]:
    b, d = (points[f"{rear}-{s}"][:2] for s in ("left", "right"))
    at = _mid(points, rear)
    if front in points:  # a nose: how much further back the right corner lies
        a = points[front][:2]
        return {
            f"rail-shift/{id}": (math.dist(a, d) ** 2 - math.dist(a, b) ** 2) / 2 / math.dist(a, at)
        }
    a, c = (points[f"{front}-{s}"][:2] for s in ("left", "right"))
    long = math.dist(_mid(points, front), at)
    unit = [(at[k] - _mid(points, front)[k]) / long for k in (0, 1)]
    left, right = (sum(u * (p[k] - q[k]) for k, u in enumerate(unit)) for p, q in ((b, a), (d, c)))
    shift = (math.dist(a, d) ** 2 - math.dist(c, b) ** 2) / 4 / long
    return {f"rail-shift/{id}": shift, f"mash/{id}": right - left}


LEAVE = {"rail-shift": 3.0, "mash": 3.0, "sway": 3.0, "horn": 3.175, "nose-off": 3.0}


def claims(sight: Sight) -> dict[str, str]:
    """What is claimed: over a limit, a kind, a corner, a box, a horn; with what it says of it."""
    out = {}
    for j in sight.judged:
        if j.finding.quantity in LEAVE and j.bands and j.established != "leave":
            out[f"over {j.finding.quantity}/{j.finding.where}"] = ""
    for shown in _shown(sight):
        out[shown.condition] = shown.box
    corner = corner_of(sight.judged, sight.layout)
    if corner is not None:
        out["corner named"] = f"{corner.side} {corner.end}"
    if sight.causes.box:
        out[f"box {sight.causes.box}"] = ""
    return out


def _shown(sight: Sight) -> Iterator[object]:
    from wizard.judgment.shown import shown

    yield from shown(sight.facts)


KINDS = {
    "whole-diamond": ("diamond",),
    "box whole": ("diamond",),
    "frame-bowed": ("bow", "end"),
    "horn-out": ("horn",),
    "box horns": ("horn",),
    "rail-short": ("corner", "mash"),
}
ENDED = {
    "front-box-out": "front",
    "front-box-out-rest-true": "front",
    "box front-box": "front",
    "rear-box-out": "rear",
    "box rear-box": "rear",
}


def is_false(claim: str, said: str, fault: Fault, true: Mapping[str, float]) -> bool:
    """Whether what was claimed is not so: a kind that is absent, a size under half its limit."""
    if claim.startswith("over "):
        id = claim.removeprefix("over ")
        return abs(true.get(id, 0.0)) < LEAVE[id.split("/")[0]] / 2
    if claim == "corner named":
        same = said == f"{fault.side} {fault.end}"
        return not (fault.kind in ("corner", "mash") and same)
    if claim in ENDED:
        return not (fault.kind in ("corner", "mash") and fault.end == ENDED[claim])
    return fault.kind not in KINDS.get(claim, (fault.kind,))


def survey_once(
    kind: str, which: str, hand: Hand, fault: Fault, rng: random.Random, score: Score
) -> None:
    """One frame, read and judged, into the score."""
    points = bent(square(frame(kind, rng)), fault)
    true = truths(points, kind)
    sight = sight_of(read(points, kind, which, hand, rng), library())
    score.surveys += 1
    found = claims(sight)
    for claim, said in found.items():
        name = "over " + claim.split()[1].split("/")[0] if claim.startswith("over ") else claim
        score.told[name] += 1
        score.false[name] += is_false(claim, said, fault, true)
    score.told["any false"] += any(is_false(c, s, fault, true) for c, s in found.items())
    for j in sight.judged:
        id = j.finding.id
        if id in true and not j.finding.disagrees:
            score.asked[id] += 1
            score.held[id] += abs(j.finding.value - true[id]) <= j.half_width
            score.settled[id] += len(j.bands) == 1


FAULTS = (
    Fault(),
    Fault("diamond", 6.0),
    Fault("diamond", 10.0),
    Fault("corner", 8.0, "right", "front"),
    Fault("corner", 8.0, "left", "rear"),
    Fault("mash", 8.0, "left", "front"),
    Fault("bow", 6.0),
    Fault("end", 6.0, end="front"),
    Fault("end", 6.0, end="rear"),
    Fault("horn", 8.0, "left"),
    Fault("horn", -8.0, "right"),
    Fault("horns", 8.0),
)


def main() -> None:
    """The tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--surveys", type=int, default=200)
    parser.add_argument("--set", default="all", choices=SETS)
    parser.add_argument("--layout", default="straight-ladder", choices=(*FRAMES, "every"))
    parser.add_argument("--hand", default="reference", choices=[h.name for h in HANDS])
    parser.add_argument("--fault", default="")
    parser.add_argument("--intervals", type=int, default=0)
    parser.add_argument("--seed", type=int, default=15)
    args = parser.parse_args()
    layouts = tuple(FRAMES) if args.layout == "every" else (args.layout,)
    if args.intervals:
        for kind in layouts:
            for one in HANDS:
                held = intervals(kind, args.set, one, args.intervals, args.seed)
                low = ", ".join(f"{id} {rate:.1f}" for id, rate in held.items())
                print(f"{kind}, {args.set}, {one.name}: {low}")
        return
    hand = next(h for h in HANDS if h.name == args.hand)
    for fault in FAULTS:
        if args.fault and args.fault not in str(fault):
            continue
        rng = random.Random(f"{args.seed} {fault}")
        score = Score()
        for n in range(args.surveys):
            survey_once(layouts[n % len(layouts)], args.set, hand, fault, rng, score)
        show(fault, score)


def show(fault: Fault, score: Score) -> None:
    """One fault's lines."""
    n = score.surveys
    print(f"\n{fault}: {n} surveys")
    for name, count in sorted(score.told.items(), key=lambda item: -item[1]):
        print(f"  {name:28} {100 * count / n:6.1f} %   false {100 * score.false[name] / n:5.1f} %")
    rates = (
        f"{id} {100 * score.held[id] / asked:.1f}/{100 * score.settled[id] / asked:.0f}"
        for id, asked in score.asked.items()
    )
    print("  held/settled:", ", ".join(rates))


if __name__ == "__main__":
    main()
