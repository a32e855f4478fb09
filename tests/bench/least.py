"""The smallest damages told: how many of 100 surveys of frames with just that damage would show it.

    python -m tests.bench.least --frames 2000 --seed 20261129

Every frame is drawn anew, read straight, and asked for the smallest damages (wizard/judgment/least.py).
Then it gets one of them, of just that size, and is read once more: by the same hand with the same errors,
as what is told promises, and with `--anew` also with errors drawn afresh. Seen is what
wizard/judgment/facts.py calls out, wherever it is found. Frames, damage, hands and errors are made here
and in tests/bench/plan_alone.py; nothing of wizard/ but what is judged has a part in them.

Ordinary hands: 0.9 mm of tape, 0.5 mm under the string, 0.4 mm of bar, 0.07 lines of the level, each by
a quarter more or less (one standard deviation). A size told is rounded up to what the tool shows.
"""

from __future__ import annotations

import argparse
import itertools
import math
import random
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from types import SimpleNamespace
from typing import Any, NamedTuple, cast

from scipy import stats

from tests.bench.figures_alone import DIVISION, WHEELBASE
from tests.bench.plan_alone import (
    DAY,
    FRAMES,
    RULES,
    SETS,
    Points,
    Rule,
    frame,
    gap_of,
    library,
    spotted,
    square,
)
from tests.bench.string_alone import LINES, Line, bent
from wizard.checks.case import case_of
from wizard.checks.run import findings_of
from wizard.judgment.bands import judge
from wizard.judgment.change import compare
from wizard.judgment.facts import is_out
from wizard.judgment.least import KINDS, Least, least, least_moved
from wizard.judgment.verdict import Verdict
from wizard.library.places import QuantityId
from wizard.library.shapes import Library, Quantity
from wizard.survey.prompts import Prompt, expand
from wizard.survey.record import Survey
from wizard.survey.rows import Reading, State, Tool
from wizard.survey.state import with_tool

LINE = {line.name: line for line in LINES}
QUARTER = 0.25
"""A bubble is read to a quarter of a line."""
TICK = {"in": 25.4 / 32, "mm": 0.5}
"""What a size told is rounded up to, by the survey's unit."""
STATES = {"both": 0.6, "unloaded": 0.2, "loaded": 0.2}
"""In which states the string is read, and how often."""
BAR = 0.3
"""How often the front box is read by a bar."""
TOOLS = ("steel-ruler", "home-made-bar", "carpenters-level")


# A frame ------------------------------------------------------------------------------------------


@dataclass
class Frame:
    """One frame as it stands: sound, or with one damage."""

    kind: str
    points: Points
    turned: Mapping[str, float]
    """Slope across at each place, left side higher, of a twist or a horn."""
    low: Mapping[str, Callable[[float], float]]
    """By side, how far the rail is bent down at x, mm."""
    bases: Mapping[str, float]
    """Wheelbase by side."""
    spring: Mapping[str, Callable[[float], float]]
    """By side, how far the rail goes down under the engine at x."""
    straight_loaded: bool
    """Whether it is straight with the engine's weight on, and not without it."""

    def sag(self, side: str, x: float, *, weight: bool) -> float:
        """How far a rail is below its blocks."""
        springs = (weight - self.straight_loaded) * self.spring[side](x)
        return self.low[side](x) + springs

    def slope(self, place: str) -> float:
        """Slope across without the engine's weight: a rail that is low leans it."""
        x, y, _ = self.points[f"{place}-right"]
        x = self.points[f"{place}-left"][0] if place == "tip" else x
        lean = self.sag("right", x, weight=False) - self.sag("left", x, weight=False)
        return self.turned.get(place, 0.0) + lean / (y - self.points[f"{place}-left"][1])


def nil(_: float) -> float:
    return 0.0


def sound(kind: str, straight_loaded: bool, rng: random.Random) -> Frame:
    """A straight frame of that kind."""
    line, depth = LINE[kind], rng.uniform(0.4, 4.0)
    shape = spring_of(line)
    spring = {s: _times(shape, depth * rng.gauss(1.0, 0.05)) for s in ("left", "right")}
    points = square(frame(kind, rng))
    low = {"left": nil, "right": nil}
    return Frame(kind, points, {}, low, dict.fromkeys(low, WHEELBASE), spring, straight_loaded)


def _times(of: Callable[[float], float], by: float) -> Callable[[float], float]:
    return lambda x: by * of(x)


@cache
def spring_of(line: Line) -> Callable[[float], float]:
    """What a rail gives under the engine between the blocks, 1 at the deepest station."""
    at = (line.ends[0], *line.xs, line.ends[1])
    depth = (0.0, *bent(line, line.mount).tolist(), 0.0)
    rows = sorted(zip(at, depth, strict=True))

    def between(x: float) -> float:
        for (a, low), (b, high) in itertools.pairwise(rows):
            if a <= x <= b:
                return float(low + (high - low) * (x - a) / (b - a)) if b > a else float(low)
        return 0.0

    return between


# Damage -------------------------------------------------------------------------------------------


def damaged(of: Frame, least: Least, size: float, rng: random.Random) -> Frame:
    """The frame with just that damage; side and way by lot where it has none."""
    return DAMAGE[least.kind](of, str(least.where), size, rng)


def _moved(of: Frame, moves: Mapping[str, tuple[float, float]]) -> Frame:
    points = dict(of.points)
    for name, (dx, dy) in moves.items():
        x, y, z = points[name]
        points[name] = x + dx, y + dy, z
    return Frame(of.kind, points, of.turned, of.low, of.bases, of.spring, of.straight_loaded)


def _way(rng: random.Random) -> float:
    return rng.choice((-1.0, 1.0))


def _side(rng: random.Random) -> str:
    return rng.choice(("left", "right"))


def _along(of: Frame, _: str, size: float, rng: random.Random) -> Frame:
    side, way = _side(rng), _way(rng)
    names = (n for n in of.points if n.endswith(side))
    return _moved(of, dict.fromkeys(names, (way * size, 0.0)))


def _corner(of: Frame, where: str, size: float, rng: random.Random) -> Frame:
    side = _side(rng)
    if where != "front":
        return _moved(of, {f"{where}-{side}": (-size, 0.0)})
    names = [f"front-{side}", *(n for n in (f"tip-{side}",) if n in of.points)]
    return _moved(of, dict.fromkeys(names, (size, 0.0)))


def _bow(of: Frame, where: str, size: float, rng: random.Random) -> Frame:
    way, at = _way(rng), of.points[f"{where}-left"][0]
    rear = of.points["rear-left"][0]
    shares = {
        n: x / at if x <= at else (rear - x) / (rear - at) for n, (x, _, _) in of.points.items()
    }
    return _moved(of, {n: (0.0, way * size * share) for n, share in shares.items()})


def _nose(of: Frame, where: str, size: float, rng: random.Random) -> Frame:
    return _moved(of, {where: (0.0, _way(rng) * size)})


def _horn_aside(of: Frame, where: str, size: float, rng: random.Random) -> Frame:
    return _moved(of, {f"{where}-{_side(rng)}": (0.0, _way(rng) * size)})


def _horn_back(of: Frame, where: str, size: float, rng: random.Random) -> Frame:
    return _moved(of, {f"{where}-{_side(rng)}": (size, 0.0)})


def _wide(of: Frame, place: str) -> float:
    return of.points[f"{place}-right"][1] - of.points[f"{place}-left"][1]


def _horn_up(of: Frame, where: str, size: float, rng: random.Random) -> Frame:
    turned = {where: _way(rng) * size / _wide(of, where)}
    return Frame(of.kind, of.points, turned, of.low, of.bases, of.spring, of.straight_loaded)


def _down(of: Frame, where: str, size: float, _: random.Random) -> Frame:
    station, side = where.split("/")
    (front, rear), stations = LINE[of.kind].ends, library().layouts[of.kind].stations
    at = next(x for s, x in zip(stations, LINE[of.kind].xs, strict=True) if s.id == station)

    def hinge(x: float) -> float:
        if not front < x < rear:
            return 0.0
        return size * ((x - front) / (at - front) if x <= at else (rear - x) / (rear - at))

    low = {**of.low, side: hinge}
    return Frame(of.kind, of.points, of.turned, low, of.bases, of.spring, of.straight_loaded)


def _twist(of: Frame, where: str, size: float, rng: random.Random) -> Frame:
    places = {v.id: v.place for v in library().layouts[of.kind].levels}
    rails = [p for p in places.values() if p != "tip"]
    first, last = of.points[f"{rails[0]}-left"][0], of.points[f"{places[where]}-left"][0]
    slope = _way(rng) * size / _wide(of, places[where]) / (last - first)
    turned = {p: slope * (of.points[f"{p}-left"][0] - first) for p in rails}
    return Frame(of.kind, of.points, turned, of.low, of.bases, of.spring, of.straight_loaded)


def _axle(of: Frame, _: str, size: float, rng: random.Random) -> Frame:
    bases = {**of.bases, _side(rng): WHEELBASE - size}
    return Frame(of.kind, of.points, of.turned, of.low, bases, of.spring, of.straight_loaded)


DAMAGE: Mapping[str, Callable[[Frame, str, float, random.Random], Frame]] = dict(
    zip(
        KINDS,
        (_along, _corner, _bow, _nose, _horn_aside, _horn_back, _horn_up, _down, _twist, _axle),
        strict=True,
    )
)


# The hand -----------------------------------------------------------------------------------------


@dataclass
class Hand:
    """One survey's hand, tools and all that is out of order about them: the same each time it reads."""

    rule: Rule
    states: str
    bar: bool
    seed: str
    s: Mapping[str, float] = field(default_factory=dict)
    """Scatter by what is read."""

    def __post_init__(self) -> None:
        rng = random.Random(f"hand {self.seed}")
        ordinary = {"tape": 0.9, "string": 0.5, "block": 0.15, "bar": 0.4, "level": 0.07}
        self.s = {of: s * math.exp(rng.gauss(0.0, 0.25)) for of, s in ordinary.items()}
        self.tape = rng.uniform(-1.0, 1.0)
        self.pull = rng.uniform(22.0, 34.0)
        self.block = rng.gauss(50.8, 0.3)
        self.seats = rng.gauss(0.0, 0.15), rng.gauss(0.0, 0.15)
        self.rough = rng.uniform(0.15, 0.3)
        self.level = rng.gauss(1.0, 0.1), rng.gauss(0.0, 0.0015)
        self.lean = rng.gauss(0.0, 0.002)
        self.spots = f"spots {self.seed}"

    def a_season_later(self) -> Hand:
        """The same person with the same tools at the same points; all else is set up and read anew."""
        later = Hand(self.rule, self.states, self.bar, f"{self.seed} later")
        later.s, later.spots, later.tape = self.s, self.spots, self.tape
        later.level = self.level[0], later.level[1]
        return later

    def by_chance(self, key: str, size: float) -> float:
        """An error that is the same whenever it is asked for."""
        return random.Random(f"{self.seed} {key}").gauss(0.0, size)

    def read(self, of: Frame, group: Group | None = None) -> Survey:
        """The survey of a frame, or of it what a group needs."""
        unit = self.rule.unit
        survey = Survey(id="least", car="Bramble", started=DAY, unit=unit, layout=of.kind)
        for tool in (self.rule.tape, *TOOLS):
            survey = with_tool(survey, library().tools[tool], DAY, "owner")
        tools = {tool.kind: tool.id for tool in survey.table(Tool)}
        heavy = State(id="s1", at=DAY, engine="in", body="off", supports="wheels")
        bare = State(id="s2", at=DAY, engine="out", body="off", supports="three-points")
        survey = survey.with_row(heavy).with_row(bare)
        spots = spotted(of.points, of.kind, random.Random(self.spots))
        number = 1000
        for prompt in asked(of.kind, self.states, self.bar):
            if group and not is_of(group, prompt):
                continue
            for nth in range(prompt.repeats):
                typed = self._typed(of, spots, prompt, nth)
                state = heavy.id if prompt.step == "sag-loaded" else bare.id
                row = Reading(
                    id=f"r{number}",
                    at=DAY,
                    prompt=prompt.id,
                    typed=typed,
                    tool=tools.get(prompt.tool, ""),
                    state=state,
                )
                survey, number = survey.with_row(row), number + 1
        return survey

    def _typed(self, of: Frame, spots: Points, prompt: Prompt, nth: int) -> str:
        key = f"{prompt.id} {nth}"
        if prompt.tool == "level":
            place = next(v.place for v in library().layouts[of.kind].levels if v.id == prompt.item)
            turned = -1.0 if prompt.id.endswith("turned") else 1.0
            lines = (of.slope(place) + self.lean + turned * self.level[1]) / DIVISION
            seen = lines * self.level[0] + self.by_chance(key, self.s["level"])
            seen = round(seen / QUARTER) * QUARTER
            return f"{abs(seen):g} {'left' if seen >= 0 else 'right'}"
        if prompt.tool == "bar":
            seen = gap_of(spots, prompt) + self.by_chance(key, self.s["bar"])
            seen = round(seen / self.rule.fine) * self.rule.fine
            return f"{abs(seen):.4f} mm {'past' if seen >= 0 else 'short'}"
        if prompt.step in GAPS or prompt.id.endswith("/block"):
            return self._gap(of, prompt, key)
        if prompt.start in spots:
            length = math.dist(spots[prompt.start], spots[prompt.end])
        else:
            length = of.bases[prompt.id.rpartition("/")[2]]
        wrong = self.tape * (self.rule.fixed + self.rule.share * math.ceil(length / 1000))
        seen = length + wrong + self.by_chance(key, self.s["tape"])
        return f"{round(seen / self.rule.division) * self.rule.division:.4f} mm"

    def _gap(self, of: Frame, prompt: Prompt, key: str) -> str:
        if prompt.id.endswith("/block"):
            seen = self.block + self.by_chance(key, self.s["block"])
        else:
            _, station, side = prompt.id.split("/")
            line, stations = LINE[of.kind], library().layouts[of.kind].stations
            x = next(x for s, x in zip(stations, line.xs, strict=True) if s.id == station)
            span = line.ends[1] - line.ends[0]
            along = (x - line.ends[0]) / span
            dip = 0.5e-6 * 9.80665 * along * (1 - along) * span**2 / (2 * self.pull)
            seat = self.seats[0] * (1 - along) + self.seats[1] * along
            sag = of.sag(side, x, weight=prompt.step == "sag-loaded")
            uneven = self.by_chance(f"flange {station} {side}", self.rough)
            seen = self.block + seat + sag + uneven - dip
            seen += self.by_chance(key, self.s["string"])
        return f"{round(seen / self.rule.fine) * self.rule.fine:.4f} mm"


GAPS = ("sag-loaded", "sag-unloaded")
READ = ("string-set-up", "sag-loaded", "sag-unloaded", "level", "wheelbase")


@cache
def asked(kind: str, states: str, bar: bool) -> tuple[Prompt, ...]:
    """What is read of a kind of frame, in the order of the course."""
    layout, points = library().layouts[kind], square(FRAMES[kind])
    found = [p for id in library().courses["whole"] for p in expand(library().steps[id], layout)]
    wanted = SETS["bar" if bar else "all"]
    taped = [p for p in found if p.kind.spans and p.tool == "tape" and p.start and p.end]
    taped = [p for p in taped if p.start in points and p.end in points and wanted(p)]
    gaps = [p for p in found if bar and p.step == "front-box-bar"]
    rest = [p for p in found if p.step in READ and p.kind.measures and not p.optional]
    left_out = {"unloaded": "sag-loaded", "loaded": "sag-unloaded"}.get(states)
    rest = [p for p in rest if p.step != left_out and not p.id.endswith("/span")]
    return (*taped, *gaps, *rest)


# What is seen -------------------------------------------------------------------------------------


@dataclass
class Count:
    """Of one kind of damage."""

    seen: int = 0
    told: int = 0
    anew: int = 0
    of: int = 0
    none: int = 0
    sizes: float = 0.0


PLAN = ("rail-shift", "mash", "own-sides", "sway", "nose-off", "suspect")
HORNS = ("horn", "horn-back", "horn-height")
STRING = ("sag-unloaded", "sag-loaded", "gap-slip")


class Group(NamedTuple):
    """What is read of a damage of some kinds, and which quantities tell of it: the whole survey would
    say the same of them, and takes several times as long.
    """

    steps: tuple[str, ...]
    """Besides tape and bar where those are read."""
    tape: bool
    quantities: tuple[str, ...]


OF_PLAN = Group((), True, PLAN)
OF_HORNS = Group(("level",), True, (*PLAN, *HORNS))
OF_STRING = Group(("string-set-up", "sag-loaded", "sag-unloaded"), False, STRING)
OF_LEVEL = Group((*OF_STRING.steps, "level", "widths"), False, (*STRING, "twist"))
OF_AXLES = Group(("wheelbase",), False, ("wheelbase",))
GROUPS = dict(
    zip(KINDS, (*[OF_PLAN] * 4, *[OF_HORNS] * 3, OF_STRING, OF_LEVEL, OF_AXLES), strict=True)
)


class Asked(dict[QuantityId, Quantity]):
    """Every quantity, of which some alone are gone through."""

    group: Group

    def values(self) -> Any:
        """Those of the group."""
        return [self[QuantityId(id)] for id in self if str(id) in self.group.quantities]


@cache
def library_of(group: Group) -> Library:
    """The library of which no quantities are computed but those of a group."""
    found = Asked(library().quantities)
    found.group = group
    return replace(library(), quantities=found)


def is_of(group: Group, prompt: Prompt) -> bool:
    """Whether a prompt is read for a group."""
    if group.tape and (prompt.tool == "bar" or (prompt.start and prompt.end)):
        return True
    return str(prompt.step) in group.steps


def seen(survey: Survey, group: Group) -> bool:
    """Whether any figure of a group is told to be out."""
    known = library_of(group)
    found = (f for f in findings_of(survey, known) if str(f.quantity) in group.quantities)
    return any(is_out(judge(f, survey, known)) for f in found)


def told_of(survey: Survey) -> tuple[Least, ...]:
    """The smallest damages that a survey tells."""
    known = library()
    judged = tuple(judge(f, survey, known) for f in findings_of(survey, known))
    # Of a verdict its findings are asked alone, and all else in it takes its time.
    return least(
        cast("Verdict", SimpleNamespace(judged=judged, loose=(), rocks=False)),
        case_of(survey, known),
    )


def one_season(kind: str, seed: str, given: argparse.Namespace, counts: dict[str, Count]) -> None:
    """One frame read, and a season later with each of the smallest changes since."""
    rng = random.Random(f"frame {seed}")
    rule, states = rng.choice(list(RULES.values())), rng.choice(list(STATES))
    of = sound(kind, states == "loaded", rng)
    hand = Hand(rule, states, False, seed)
    later, then = hand.a_season_later(), hand.read(of)
    now = later.read(of)
    found = least_moved(compare(then, now, library()), case_of(now, library()))
    for one in chosen(found, rng):
        if one.mm is None or (given.kind and one.kind not in given.kind):
            continue
        count = counts.setdefault(one.kind, Count())
        bent = damaged(of, one, one.mm, random.Random(f"{seed} {one.kind}"))
        told = compare(then, later.read(bent), library()).of("changed")
        count.of += 1
        count.sizes += one.mm
        count.seen += any(c.new.id in one.by for c in told)


def chosen(found: Sequence[Least], rng: random.Random) -> Iterator[Least]:
    """One place of each kind, by lot."""
    for kind in KINDS:
        here = [one for one in found if one.kind == kind]
        if here:
            yield rng.choice(here)


def one_frame(kind: str, seed: str, given: argparse.Namespace, counts: dict[str, Count]) -> None:
    """One frame read straight, then with each of its smallest damages."""
    rng = random.Random(f"frame {seed}")
    rule = rng.choice(list(RULES.values()))
    states = rng.choices(list(STATES), list(STATES.values()))[0]
    bar = rng.random() < BAR
    of = sound(kind, states == "loaded", rng)
    hand = Hand(rule, states, bar, seed)
    found = told_of(hand.read(of))
    for one in chosen(found, rng):
        if given.kind and one.kind not in given.kind:
            continue
        count = counts.setdefault(one.kind, Count())
        if one.mm is None:
            count.none += 1
            continue
        how, group = f"{seed} {one.kind}", GROUPS[one.kind]
        count.of += 1
        count.sizes += one.mm
        count.seen += seen(hand.read(damaged(of, one, one.mm, random.Random(how)), group), group)
        if given.told:
            tick = TICK[rule.unit]
            size = math.ceil(one.mm / tick) * tick
            count.told += seen(hand.read(damaged(of, one, size, random.Random(how)), group), group)
        if given.anew:
            other = Hand(rule, states, bar, f"{seed} anew")
            other.s = hand.s
            count.anew += seen(
                other.read(damaged(of, one, one.mm, random.Random(how)), group), group
            )


def line(name: str, count: Count, given: argparse.Namespace) -> str:
    """One line of the table."""
    if not count.of:
        return f"{name:36} not covered in {count.none}"

    def share(told: int) -> str:
        low = stats.beta.ppf(0.025, told, count.of - told + 1) if told else 0.0
        high = stats.beta.ppf(0.975, told + 1, count.of - told) if told < count.of else 1.0
        return f"{100 * told / count.of:5.1f} ({100 * low:.1f} to {100 * high:.1f})"

    said = f"{name:36} {share(count.seen)}  {count.sizes / count.of:5.2f} mm, of {count.of}"
    said += f", told {share(count.told)}" if given.told else ""
    said += f", anew {share(count.anew)}" if given.anew else ""
    return f"{said}, not covered {count.none}" if count.none else said


def main(argv: Sequence[str] | None = None) -> None:
    """Share seen by kind, and by kind and kind of frame."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--frames", type=int, default=70, help="in all, by turns of every kind")
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--layout", action="append", choices=list(FRAMES))
    parser.add_argument("--kind", action="append", choices=list(KINDS))
    parser.add_argument("--told", action="store_true", help="as told, rounded up, too")
    parser.add_argument("--moved", action="store_true", help="between two surveys, a season apart")
    parser.add_argument("--anew", action="store_true", help="with errors drawn afresh too")
    given = parser.parse_args(argv)
    layouts = given.layout or list(FRAMES)
    by_layout: dict[str, dict[str, Count]] = {kind: {} for kind in layouts}
    for n in range(given.first, given.first + given.frames):
        kind = layouts[n % len(layouts)]
        draw = one_season if given.moved else one_frame
        draw(kind, f"{given.seed} {kind} {n}", given, by_layout[kind])
        done = n + 1 - given.first
        if done == given.frames or done % OFTEN == 0:
            print(f"{done} frames from {given.first}, seed {given.seed}: {HEAD}")
            print(*table(by_layout, given), sep="\n", flush=True)


OFTEN = 700
"""Frames after which what is known so far is printed."""
HEAD = "percent seen (95 % interval), mean size"


def table(by_layout: Mapping[str, Mapping[str, Count]], given: argparse.Namespace) -> Iterator[str]:
    """A line for each kind, and one for each kind of frame under it."""
    for kind in KINDS:
        rows = {name: counts[kind] for name, counts in by_layout.items() if kind in counts}
        if not rows:
            continue
        whole: Counter[str] = Counter()
        for count in rows.values():
            whole.update(vars(count))
        yield line(kind, Count(**whole), given)
        yield from (line(f"    {name}", count, given) for name, count in rows.items())


if __name__ == "__main__":
    main()
