"""Each statistic of the plan by itself: which claims are told where they are true, and where false.

Frames, faults, hands and truths are this file's own and share nothing with wizard/ but the names of
the points. Only tape and bar are read: no string, no level, no look, nobody who measures again.

    python -m tests.bench.plan_alone --surveys 400
    python -m tests.bench.plan_alone --surveys 400 --set whole --layout a-frame --fault diamond

The figures themselves, and their intervals, are in tests/bench/figures_alone.py. Here every survey
goes through the program, at some 20 ms each.
"""

from __future__ import annotations

import argparse
import math
import random
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from typing import TypeAlias

from tests.bench.rates import HEAD, Count, Table
from wizard.judgment.corner import corner_of
from wizard.judgment.shown import shown
from wizard.judgment.sight import Sight, sight_of
from wizard.library import load_library
from wizard.library.shapes import Library
from wizard.survey.prompts import Prompt, expand
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Reading, Tool
from wizard.survey.state import with_tool

DAY = datetime(2026, 4, 11, 9, 0)
Points = dict[str, tuple[float, float, float]]
INCH = 25.4

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
    "torque-boxes": {
        "tip": (-460, 376, -20),
        "front": (0, 394, 0),
        "front-torque": (1070, 644, -20),
        "center": (1770, 694, -20),
        "rear-torque": (2450, 664, -20),
        "rear": (3210, 486, 0),
    },
    "tube-ladder": {
        "front": (0, 334, 0),
        "center": (1270, 327, 0),
        "rear": (1960, 333, 0),
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
    """How somebody reads: scatter of one reading, mm."""

    name: str
    tape: float
    bar: float = 0.5
    level: float = 0.07
    """In lines of the level."""


HANDS = {
    hand.name: hand
    for hand in (
        Hand("careful", 0.5, 0.4, 0.04),
        Hand("reference", 0.9),
        Hand("hasty", 1.5, 0.8, 0.12),
    )
}


@dataclass(frozen=True, slots=True)
class Rule:
    """What is read on: lengths in mm."""

    name: str
    unit: Unit
    tape: str
    """As content/tools.toml names it."""
    division: float
    """Of the tape."""
    fine: float
    """Of the rule on which a bar's gap is read."""
    fixed: float
    share: float
    """What the tape may itself be out by, at the most: fixed, and for every meter begun."""


RULES = {
    rule.name: rule
    for rule in (
        Rule("1/16 in", "in", "ordinary-tape", INCH / 16, INCH / 32, 0.3, 0.2),
        Rule("1/32 in", "in", "fine-tape", INCH / 32, INCH / 32, 0.1, 0.1),
        Rule("mm", "mm", "ordinary-tape", 1.0, 0.5, 0.3, 0.2),
    )
}
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


Say: TypeAlias = Callable[[Prompt], str]


def survey_read(kind: str, rule: Rule, asked: Sequence[tuple[Prompt, int]], say: Say) -> Survey:
    """A survey of that kind of frame: each prompt so many times, as `say` types it."""
    survey = Survey(id="alone", car="Bramble", started=DAY, unit=rule.unit, layout=kind)
    for tool in (rule.tape, "steel-ruler", "home-made-bar", "carpenters-level"):
        survey = with_tool(survey, library().tools[tool], DAY, "owner")
    tools = {tool.kind: tool.id for tool in survey.table(Tool)}
    prompts = [prompt for prompt, times in asked for _ in range(times)]
    for n, prompt in enumerate(prompts, 1000):
        tool = tools.get(prompt.tool, "")
        row = Reading(id=f"r{n}", at=DAY, prompt=prompt.id, typed=say(prompt), tool=tool)
        survey = survey.with_row(row)
    return survey


def read(
    points: Points, kind: str, which: str, hand: Hand, rule: Rule, rng: random.Random
) -> Survey:
    """A survey of the frame by that hand."""
    spots, scale = spotted(points, kind, rng), rng.uniform(-1.0, 1.0)
    asked = [(p, _times(p, which)) for p in prompts(kind, which)]
    return survey_read(kind, rule, asked, lambda p: _typed(spots, p, hand, rule, scale, rng))


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


def _typed(
    spots: Points, prompt: Prompt, hand: Hand, rule: Rule, scale: float, rng: random.Random
) -> str:
    if prompt.tool == "bar":
        return _gap(gap_of(spots, prompt) + rng.gauss(0, hand.bar), rule.fine)
    length = math.dist(spots[prompt.start], spots[prompt.end])
    wrong = scale * (rule.fixed + rule.share * math.ceil(length / 1000))
    seen = length + wrong + rng.gauss(0, hand.tape)
    return f"{round(seen / rule.division) * rule.division:.4f} mm"


def gap_of(spots: Points, prompt: Prompt) -> float:
    """By how much the first diagonal of the front box is the longer; nil back at the first."""
    if prompt.start not in spots:
        return 0.0
    a, b = _of(prompt.start)[0], _of(prompt.end)[0]
    first = math.dist(spots[f"{a}-left"], spots[f"{b}-right"])
    return first - math.dist(spots[prompt.start], spots[prompt.end])


def _gap(seen: float, division: float) -> str:
    gap = round(seen / division) * division
    return f"{abs(gap):.4f} mm {'past' if gap >= 0 else 'short'}"


# The truth --------------------------------------------------------------------------------------


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
        ahead = front[0] - _mid(points, "tip")[0]
        second = next(m for p in pairs[1:] if (m := _mid(points, p))[0] - front[0] >= 1.5 * ahead)
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


LEAVE = {"rail-shift": 3.0, "mash": 3.0, "sway": 3.0, "horn": 3.175, "nose-off": 4.0}


def claims(sight: Sight) -> dict[str, str]:
    """What is claimed: over a limit, a kind, a corner, a box, a horn; with what it says of it."""
    out = {}
    for j in sight.judged:
        if j.finding.quantity in LEAVE and j.bands and j.established != "leave":
            out[f"over {j.finding.quantity}/{j.finding.where}"] = ""
    for condition in shown(sight.facts):
        out[condition.condition] = condition.box
    corner = corner_of(sight.judged, sight.layout)
    if corner is not None:
        out["corner named"] = f"{corner.side} {corner.end}"
    if sight.causes.box:
        out[f"box {sight.causes.box}"] = ""
    return out


KINDS = {
    "out-of-square": ("diamond", "corner", "mash", "bow", "end"),
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


TOLD = {
    "diamond": ("whole-diamond",),
    "corner": ("corner named",),
    "mash": ("rail-short",),
    "bow": ("frame-bowed",),
    "end": ("frame-bowed",),
    "horn": ("horn-out",),
}
"""Claims by which each fault is told as what it is."""


@dataclass(frozen=True)
class Told:
    """What was told of one survey."""

    claims: Mapping[str, bool]
    """By claim, whether it is false."""
    missed: bool | None
    """Whether the interval of one figure, drawn by lot, misses the truth; None where there is none."""


def survey_once(
    kind: str, which: str, hand: Hand, rule: Rule, fault: Fault, rng: random.Random
) -> Told:
    """One frame, read and judged."""
    points = bent(square(frame(kind, rng)), fault)
    true = truths(points, kind)
    sight = sight_of(read(points, kind, which, hand, rule, rng), library())
    told: dict[str, bool] = {}
    for claim, said in claims(sight).items():
        over = claim.startswith("over ")
        name = f"over {claim.removeprefix('over ').split('/')[0]}" if over else claim
        told[name] = told.get(name, False) or is_false(claim, said, fault, true)
    known = [j for j in sight.judged if j.finding.id in true and not j.finding.disagrees]
    if not known:
        return Told(told, None)
    one = rng.choice(known)
    return Told(told, abs(one.finding.value - true[one.finding.id]) > one.half_width)


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


CLAIMS = (
    *(f"over {quantity}" for quantity in LEAVE),
    *("whole-diamond", "out-of-square", "front-box-out", "front-box-out-rest-true", "rear-box-out"),
    *("rail-short", "frame-bowed", "horn-out", "corner named"),
    *("box whole", "box front-box", "box rear-box", "box horns"),
)
"""What may be told, so that what never is stands in the table too."""


def counted(
    cell: tuple[str, Rule, Hand], which: str, fault: Fault, n: int, seed: int
) -> dict[str, Count]:
    """How often every claim is told falsely of a fault in one cell, and the fault as it is: the same
    whichever other cells are drawn, and whoever draws more of them has these among them.
    """
    kind, rule, hand = cell
    found: Counter[str] = Counter(dict.fromkeys(CLAIMS, 0))
    of: Counter[str] = Counter()
    seen, any_ = f"seen: {fault}", f"anything false of {fault}"
    for nth in range(n):
        rng = random.Random(f"{seed} {kind} {rule.name} {hand.name} {which} {fault} {nth}")
        told = survey_once(kind, which, hand, rule, fault, rng)
        found.update(claim for claim, wrong in told.claims.items() if wrong)
        found[any_] += any(told.claims.values())
        found[seen] += any(not told.claims.get(claim, True) for claim in TOLD.get(fault.kind, ()))
        found[MISSED] += bool(told.missed)
        of[MISSED] += told.missed is not None
    if fault.kind not in TOLD or (fault.kind == "horn" and "tip" not in FRAMES[kind]):
        del found[seen]
    return {claim: Count(count, of.get(claim, n)) for claim, count in found.items()}


MISSED = "missed: a figure of the plan"


def main(argv: Sequence[str] | None = None) -> None:
    """What is told falsely, by claim over all faults and by fault; and what is told as it is."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--surveys", type=int, default=20, help="of every fault in every cell")
    parser.add_argument("--set", default="all", choices=SETS)
    for name, choices in {"layout": FRAMES, "rule": RULES, "hand": HANDS}.items():
        parser.add_argument(f"--{name}", action="append", choices=list(choices))
    parser.add_argument("--fault", default="", help="those that have this in their name")
    parser.add_argument("--seed", type=int, default=15)
    given = parser.parse_args(argv)
    faults = [fault for fault in FAULTS if given.fault in str(fault)]
    table = Table()
    for kind in given.layout or FRAMES:
        for rule in given.rule or RULES:
            for hand in given.hand or HANDS:
                cell = kind, RULES[rule], HANDS[hand]
                for fault in faults:
                    found = counted(cell, given.set, fault, given.surveys, given.seed)
                    for claim, count in found.items():
                        table.add(claim, hand, f"{kind}, {rule}", count)
    print(f"{given.set}: {given.surveys} surveys of every fault a cell, seed {given.seed}\n{HEAD}")
    print(*table.lines(), sep="\n", flush=True)


if __name__ == "__main__":
    main()
