"""What tapes, bar and level say, each figure by itself: how often it is over where it is not, how
often its interval misses, and how often readings that agree are said not to.

    python -m tests.bench.figures_alone --surveys 100000
    python -m tests.bench.figures_alone --group level --layout a-frame --rule mm --hand hasty

One survey of each kind of frame, read without any error, gives the figures, and by the parts of their
doubt how every reading, every spot and every tool moves them. What a hand then reads, rounds and reads
again is drawn here, for many surveys at once; each has the scatter that its own repeats show, and its
plan the weights that follow from it. No figure is large enough for its square to count.
"""

from __future__ import annotations

import argparse
import math
import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from tests.bench.plan_alone import (
    FRAMES,
    HANDS,
    RULES,
    Hand,
    Points,
    Rule,
    gap_of,
    library,
    prompts,
    square,
    survey_read,
)
from tests.bench.rates import HEAD, Count, Table
from tests.bench.string_alone import student
from wizard.checks.case import Case, case_of
from wizard.checks.notes import OneOf
from wizard.checks.plan import STRAINED, Plan, own_part, plan_of
from wizard.checks.run import findings_of
from wizard.judgment.bands import Judged, judge
from wizard.library.places import StepId
from wizard.math.level import fit_twist
from wizard.math.network import UNTESTABLE
from wizard.math.network_outliers import SEPARABLE, threshold
from wizard.math.network_solve import datum
from wizard.math.repeats import mean_u
from wizard.math.uncertain import Part, Uncertain
from wizard.readings.instruments import Rule as SteelRule
from wizard.readings.instruments import Tape
from wizard.survey.prompts import Prompt, expand

Array: TypeAlias = "NDArray[Any]"
CHUNK = 2_000
QUARTER = 0.25
"""A bubble is read to a quarter of a line."""
LEAN = 0.0009
"""By how much the car leans as a whole, a slope: it is no twist."""
DIVISION, WHEELBASE = 0.006, 2640.0
"""A slope for one line of the level; how far the wheels stand apart on both sides, mm."""
OWN_ERROR = 0.0015
"""By how much a level itself is out, one standard deviation of a slope."""
SHORT_MM = 3.0
"""From here on a rail is told to be short."""
SURE = 0.005
"""Of a reading that should be zero: in so many surveys it is said not to be."""
JOINTS = 100
"""Surveys of a chunk in which the lean is asked for one joint: that takes no many at once."""

GROUPS = {
    "plan": ("rail-shift", "mash", "sway", "nose-off", "horn", "horn-back", "own-sides", "closure"),
    "bar": ("rail-shift",),
    "level": ("twist", "horn-height", "level-closing"),
    "wheelbase": ("wheelbase",),
}
"""What is read, and the quantities that it gives."""
AGREEING = ("closure", "level-closing")
"""Quantities that are zero where the readings agree; no limit judges them."""
NAMES = {"rail-shift": "a box out of square", "mash": "a rail short in a box", "sway": "a bow"}
NAMES |= {"horn": "horns that differ", "horn-back": "a horn pushed back", "twist": "a twist"}
NAMES |= {"nose-off": "a nose aside", "horn-height": "a horn up", "wheelbase": "unlike wheelbases"}
NAMES |= {"closure": "six tapes that do not close", "level-closing": "a level that moved"}
NAMES |= {"own-sides": "one rail against the other"}


# One survey without error -------------------------------------------------------------------------


@dataclass(frozen=True)
class Source:
    """How one prompt is read."""

    prompt: Prompt
    times: int
    pool: str
    prior: tuple[float, float]
    """Scatter that is expected, in its own unit, and its degrees of freedom."""
    scatter: float
    """The hand's own, in the same unit."""
    marks: float
    """What is read to."""
    division: float
    """What the program takes for it; 0 where it knows of none."""
    u: float
    """Doubt of the mean in the survey without error, in the reading's unit."""
    scale: float
    """One unit of the scatter in the reading's unit."""


@dataclass(frozen=True)
class Moved:
    """Several numbers, by what moves them: numbers x sources, numbers x shared errors."""

    sources: Array
    shared: Array


@dataclass(frozen=True)
class Exact:
    """A kind of frame as one reads it who makes no error, and whose every figure stands at `size` of
    its limit where it is set so.
    """

    case: Case
    judged: tuple[Judged, ...]
    sources: tuple[Source, ...]
    plan: Plan | None
    names: dict[str, int] = field(default_factory=dict)
    """By the name of an error that several readings share, its column."""

    @cached_property
    def rows(self) -> dict[str, int]:
        """By prompt, its column."""
        return {f"hand:{s.prompt.id}": n for n, s in enumerate(self.sources)}

    def shared(self) -> list[str]:
        """Names of the errors that several readings share."""
        numbers = [j.finding.number for j in self.judged]
        numbers += list(self.plan.observations.values()) if self.plan else []
        return [p.name for n in numbers for p in n.parts if p.name not in self.rows]

    def moved(self, numbers: Sequence[Uncertain]) -> Moved:
        """How every source moves these numbers, for each unit of its doubt."""
        sources = np.zeros((len(numbers), len(self.rows)))
        shared = np.zeros((len(numbers), max(1, len(self.names))))
        for n, number in enumerate(numbers):
            for part in number.parts:
                self._put(part, sources[n], shared[n])
        return Moved(sources, shared)

    def _put(self, part: Part, sources: Array, shared: Array) -> None:
        at = self.rows.get(part.name)
        if at is None:
            shared[self.names[part.name]] += part.size
        else:
            sources[at] += part.size / self.sources[at].u


def exact(kind: str, group: str, rule: Rule, hand: Hand, size: float = 0.0) -> Exact:
    """The survey of a frame of that kind without any error; size: of a twist, in its limit."""
    asked = asked_of(kind, group)
    points = square(FRAMES[kind])
    slopes = _slopes(kind, size)
    survey = survey_read(kind, rule, asked, lambda p: _said(p, points, slopes))
    case = case_of(survey, library())
    found = [f for f in findings_of(survey, library()) if f.quantity in GROUPS[group]]
    if group == "bar":
        found = [f for f in found if f.where == "front-box-bar"]
    judged = tuple(judge(f, survey, library()) for f in found)
    sources = tuple(_source(case, p, times, rule, hand) for p, times in asked if case.taken(p.id))
    return Exact(case, judged, sources, plan_of(case) if group == "plan" else None)


def asked_of(kind: str, group: str) -> list[tuple[Prompt, int]]:
    """What is read for a group of figures, and how often each."""
    if group in SETS_OF:
        return [(p, p.repeats) for p in prompts(kind, SETS_OF[group])]
    found = expand(library().steps[StepId(group)], library().layouts[kind])
    return [(p, p.repeats) for p in found if not p.optional]


SETS_OF = {"plan": "all", "bar": "bar"}


def _said(prompt: Prompt, points: Points, slopes: Mapping[str, float]) -> str:
    """What one reads there who makes no error."""
    if prompt.tool == "level":
        return f"{slopes[prompt.item] / DIVISION:.9f} left"
    if prompt.tool == "bar":
        return f"{gap_of(points, prompt):.9f} mm past"
    if prompt.start in points:
        return f"{math.dist(points[prompt.start], points[prompt.end]):.9f} mm"
    return f"{WHEELBASE:.9f} mm"


def _slopes(kind: str, size: float) -> dict[str, float]:
    """By place of the level its slope, where the frame twists steadily from the first place on the
    rails, so that the last stands at `size` of the limit, as the horns do of theirs.
    """
    layout = library().layouts[kind]
    at = {p.id: layout.place(p.place) for p in layout.levels}
    rails = [p.id for p in layout.levels if p.place != layout.tips]
    first, last = at[rails[0]].x, at[rails[-1]].x
    twist, horn = (library().limits[id].above[0].upto_mm for id in ("twist", "horn"))
    steady = size * twist / (2 * at[rails[-1]].half_width) / (last - first)
    return {
        id: LEAN
        + (steady * (place.x - first) if id in rails else size * horn / (2 * place.half_width))
        for id, place in at.items()
    }


def _source(case: Case, prompt: Prompt, times: int, rule: Rule, hand: Hand) -> Source:
    taken = case.taken(prompt.id)
    assert taken is not None
    part = next(p for p in taken.number.parts if p.name == f"hand:{prompt.id}")
    (kind, aim), scale = case.single(taken.rows[0])[1:]
    prior = case.prior(kind, aim)
    tool = case.tool_of(taken.rows[0], prompt.tool or "tape")[1]
    division = float(tool.division) if isinstance(tool, Tape | SteelRule) else 0.0
    scatter, marks = {
        "tape": (hand.tape, rule.division),
        "bar": (hand.bar, rule.fine),
        "level": (hand.level, QUARTER),
    }[kind]
    known = prior.s, prior.dof
    return Source(prompt, times, part.pool, known, scatter, marks, division, part.size, scale)


# Many surveys -------------------------------------------------------------------------------------


@dataclass
class Drawn:
    """What many hands made of one frame: surveys x sources, in the readings' units."""

    off: Array
    """By how much each mean is off."""
    u: Array
    """What each survey thinks of that, from its own repeats."""
    shared: Array
    """The errors that readings share, in their standard doubts: surveys x errors."""
    dof: Mapping[str, float]
    """By pool of scatter."""
    pools: Sequence[str]
    """Of each source."""
    s: Mapping[str, Array] = field(default_factory=dict)
    """By pool, the scatter that each survey shows."""


def drawn(rng: np.random.Generator, made: Exact, n: int) -> Drawn:
    """`n` surveys."""
    off = np.zeros((n, len(made.sources)))
    squares: dict[str, Array] = {}
    dof: dict[str, float] = {}
    own = rng.normal(size=n) * OWN_ERROR
    for k, source in enumerate(made.sources):
        at = rng.uniform(0, source.marks, (n, 1))
        if source.pool.startswith("level"):
            turned = -1.0 if source.prompt.id.endswith("turned") else 1.0
            at = at + turned * own[:, None] / source.scale
        read = at + rng.normal(0.0, source.scatter, (n, source.times))
        read = np.round(read / source.marks) * source.marks
        mean = read.mean(axis=1, keepdims=True)
        off[:, k] = (mean - at)[:, 0] * source.scale
        if source.pool.startswith("level"):
            off[:, k] += turned * own
        s, weight = source.prior
        squares.setdefault(source.pool, np.full(n, s**2 * weight))
        squares[source.pool] += ((read - mean) ** 2).sum(axis=1)
        dof[source.pool] = dof.get(source.pool, weight) + source.times - 1
    scatter = {pool: np.sqrt(total / dof[pool]) for pool, total in squares.items()}
    u = np.stack([_mean_u(s, scatter[s.pool]) for s in made.sources], axis=1)
    shared = np.stack([_error(rng, name, n) for name in made.names] or [np.zeros(n)], axis=1)
    return Drawn(off, u, shared, dof, [s.pool for s in made.sources], scatter)


GRID = np.linspace(0.02, 6.0, 800)


@cache
def _known_u(times: int, division: float) -> Array:
    return np.array([mean_u(float(s), times, division) for s in GRID])


def _mean_u(source: Source, s: Array) -> Array:
    return np.interp(s, GRID, _known_u(source.times, source.division)) * source.scale


def _error(rng: np.random.Generator, name: str, n: int) -> Array:
    """What one shared cause does, in its own standard doubt: a tape's error is rectangular, and a
    blade hangs anything between not at all and by as much as is reckoned.
    """
    if name.startswith("tape:"):
        return rng.uniform(-1.0, 1.0, n) * 3**0.5
    if name.startswith("hang:"):
        return rng.uniform(0.0, 1.0, n)
    return rng.normal(size=n)


@dataclass
class Figures:
    """Numbers of many surveys: surveys x numbers."""

    off: Array
    u: Array
    dof: Array


def figures(made: Exact, hands: Drawn, numbers: Sequence[Uncertain]) -> Figures:
    """How far each number is off, and what each survey thinks of that (Welch and Satterthwaite)."""
    moved = made.moved(numbers)
    off = hands.off @ moved.sources.T + hands.shared @ moved.shared.T
    square = np.broadcast_to((moved.shared**2).sum(axis=1), off.shape).copy()
    below = np.full(off.shape, 1e-30)
    for pool, dof in hands.dof.items():
        mine = np.array([p == pool for p in hands.pools])
        part = hands.u[:, mine] ** 2 @ (moved.sources[:, mine] ** 2).T
        square += part
        below += part**2 / dof
    return Figures(off, np.sqrt(square), square**2 / below)


# What is told -------------------------------------------------------------------------------------


def told(
    rng: np.random.Generator, kind: str, group: str, rule: Rule, hand: Hand, n: int
) -> Iterator[dict[str, Array]]:
    """Of every claim in which surveys it is told, some thousand at once."""
    sizes = (0.0, 0.5, 1.0) if group == "level" else (0.0,)
    all_ = {size: exact(kind, group, rule, hand, size) for size in sizes}
    names = dict.fromkeys(name for one in all_.values() for name in one.shared())
    for one in all_.values():
        one.names.update({name: n for n, name in enumerate(names)})
    made, leant = all_[0.0], all_ if group == "level" else {}
    if not made.judged:
        return
    for done in range(0, n, CHUNK):
        size = min(CHUNK, n - done)
        hands = drawn(rng, made, size)
        found = {}
        for quantity in GROUPS[group]:
            found |= _of_quantity(rng, made, leant, hands, quantity)
        if made.plan:
            found |= _of_plan(made, made.plan, hands)
        if group == "level":
            found |= _of_joint(made, hands)
        yield found


def _of_quantity(
    rng: np.random.Generator,
    made: Exact,
    leant: Mapping[float, Exact],
    hands: Drawn,
    quantity: str,
) -> dict[str, Array]:
    """What is told of one quantity, wherever it is found."""
    mine = [n for n, j in enumerate(made.judged) if j.finding.quantity == quantity]
    if not mine:
        return {}
    name = NAMES[quantity]

    def at(size: float) -> Figures:
        of = leant.get(size, made)
        return figures(of, hands, [of.judged[n].finding.number for n in mine])

    judged = [made.judged[n] for n in mine]
    still = at(0.0)
    found = _missed(rng, name, still, len(mine))
    if quantity in AGREEING:
        places = np.array([_places(j) for j in judged])
        k = np.stack([student(1 - SURE / 2 / p, still.dof[:, i]) for i, p in enumerate(places)], 1)
        return found | {name: (np.abs(still.off) > k * still.u).any(axis=1)}
    if quantity == "own-sides":
        half = still.off + SHORT_MM / 2
        k = student(0.975, still.dof)
        return found | {f"{name}, 1.5 mm": (half - k * still.u > SHORT_MM).any(axis=1)}
    for size, claim in ((0.5, f"{name}, half the limit"), (1.0, f"at limit: {name}")):
        if leant:
            stands = [leant[size].judged[n].finding.value for n in mine]
        else:
            stands = [size * _limit(j) for j in judged]
        found[claim] = _over(judged, at(size), stands)
    return found


def _missed(rng: np.random.Generator, name: str, seen: Figures, count: int) -> dict[str, Array]:
    """Whether the interval of one of them, drawn by lot, misses the truth; of several also that of
    the worst, as it is told.
    """
    n = len(seen.off)
    rows, one = np.arange(n), rng.integers(0, count, n)
    plain = np.abs(seen.off) > student(0.975, seen.dof) * seen.u
    found = {f"missed: {name}": plain[rows, one]}
    if count > 1:
        worst = np.abs(seen.off).argmax(axis=1)
        wide = np.abs(seen.off) > student(1 - 0.025 / count, seen.dof) * seen.u
        found[f"missed: {name}, the worst"] = wide[rows, worst]
    return found


def _over(judged: Sequence[Judged], seen: Figures, stands: Sequence[float]) -> Array:
    """Whether any is called over its limit, where each truly stands so far from zero."""
    hit = np.zeros(len(seen.off), dtype=bool)
    for n, (j, value) in enumerate(zip(judged, stands, strict=True)):
        k = student(1 - 0.05 / _places(j), seen.dof[:, n])
        hit |= value + seen.off[:, n] - _limit(j) >= k * seen.u[:, n]
    return hit


def _limit(judged: Judged) -> float:
    """Up to where it is left."""
    limit = judged.edges[0].high
    assert limit is not None
    return limit


def _places(judged: Judged) -> int:
    note = judged.finding.note(OneOf)
    return note.places if note else 1


def _of_plan(made: Exact, plan: Plan, hands: Drawn) -> dict[str, Array]:
    """Whether tapes that agree are said to contradict one another, and whether one is named as off.

    No reading is accused of what the heights may do: what is doubted must be so with their doubt as
    well.
    """
    strained, named, _ = _doubted(plan, left_of(made, plan, hands))
    if any(own_of(plan, heights=True) > own_of(plan)):
        _, _, still = _doubted(plan, left_of(made, plan, hands, heights=True))
        strained, named = strained & still, named & still
    return {"tapes that contradict": strained, "one tape named as off": named}


def _doubted(plan: Plan, left: Left) -> tuple[Array, Array, Array]:
    """Whether the tapes contradict one another, whether one alone is named, and whether any is or
    they do.
    """
    net = plan.adjustment
    known = [own_part(plan.observations[d.id])[1] for d in net.distances]
    dof = len(known) / sum(1.0 / one for one in known)
    strained = left.factor > stats.f.isf(STRAINED, net.total_redundancy, dof)
    far = left.size.max(axis=1) > threshold(len(known), dof)
    named = far.copy()
    for n in np.flatnonzero(far):
        named[n] = (np.abs(left.alike(n)) >= SEPARABLE).sum() == 1
    return strained, named, strained | far


def own_of(plan: Plan, *, heights: bool = False) -> Array:
    """What each distance of the survey without error has for itself, mm."""
    numbers = [plan.observations[d.id] for d in plan.adjustment.distances]
    return np.array([own_part(number, heights=heights)[0] for number in numbers])


@dataclass
class Left:
    """What the plans of many surveys leave of their tapes: surveys x distances."""

    factor: Array
    """Weighted squares for each distance beyond those needed, by survey."""
    size: Array
    """Standardized residuals, without their signs."""
    spare: Array
    """Redundancy numbers."""
    design: Array
    """Change of each distance with each coordinate."""
    known: Array
    """Covariance of the places: surveys x coordinates x coordinates."""
    u: Array

    def alike(self, n: int) -> Array:
        """How the worst of one survey is correlated with each."""
        worst, spare = int(self.size[n].argmax()), self.spare[n]
        shared = -(self.design @ self.known[n] @ self.design[worst])
        shared /= self.u[n] * self.u[n, worst]
        shared[worst] = spare[worst]
        return np.asarray(shared / np.sqrt(np.maximum(spare * spare[worst], 1e-24)))


def left_of(made: Exact, plan: Plan, hands: Drawn, *, heights: bool = False) -> Left:
    """The plan of every survey, each distance weighted by what that survey thinks of it; heights: and
    by what the heights of its ends may do to it.
    """
    net, ids = plan.adjustment, [d.id for d in plan.adjustment.distances]
    moved = made.moved([plan.observations[id] for id in ids])
    off = hands.off @ moved.sources.T + hands.shared @ moved.shared.T
    at = [made.rows[f"hand:{id}"] for id in ids]
    u = hands.u[:, at] * np.diag(moved.sources[:, at])
    u = np.sqrt(u**2 + own_of(plan, heights=heights) ** 2 - own_of(plan) ** 2)
    weight = 1.0 / u**2
    ground = datum(net.xy, np.zeros(net.xy.size, dtype=bool)) * weight.mean()
    # Distances x coordinates squared: so both ways to the covariance are one product each.
    each = (net.design[:, :, None] * net.design[:, None, :]).reshape(len(ids), -1)
    known = np.linalg.inv((weight @ each).reshape(-1, *ground.shape) + ground)
    spare = 1.0 - weight * (known.reshape(len(u), -1) @ each.T)
    moved_by = np.squeeze(known @ ((weight * off) @ net.design)[..., None], axis=-1)
    left = off - moved_by @ net.design.T
    size = np.where(spare < UNTESTABLE, 0.0, np.abs(left) / u / np.sqrt(np.maximum(spare, 1e-12)))
    factor = (left**2 * weight).sum(axis=1) / net.total_redundancy
    return Left(factor, size, spare, net.design, known, u)


def _of_joint(made: Exact, hands: Drawn) -> dict[str, Array]:
    """Whether a lean that is the same all along is told to jump at one joint."""
    layout = made.case.layout
    places = [p for p in layout.levels if p.place != layout.tips]
    if len(places) < 3:
        return {}
    numbers = []
    for place in places:
        pair = [made.case.taken(f"level/{place.id}/{way}") for way in ("as-set", "turned")]
        first, second = (taken.number for taken in pair if taken)
        numbers.append((first + second).scaled(0.5))
    seen, moved = figures(made, hands, numbers), made.moved(numbers)
    xs = [layout.place(p.place).x for p in places]
    hits = []
    for n in range(min(JOINTS, len(seen.off))):
        slopes = [
            Uncertain(LEAN + seen.off[n, k], tuple(_parts(made, moved, hands, n, k)))
            for k in range(len(places))
        ]
        hits.append(fit_twist(xs, slopes).kind == "one-joint")
    return {"a lean that jumps at one joint": np.array(hits)}


def _parts(made: Exact, moved: Moved, hands: Drawn, n: int, k: int) -> Iterator[Part]:
    """The parts of one number as one survey has them."""
    for name, at in made.rows.items():
        if moved.sources[k, at]:
            pool = hands.pools[at]
            yield Part(name, moved.sources[k, at] * hands.u[n, at], hands.dof[pool], pool=pool)
    for name, at in made.names.items():
        if moved.shared[k, at]:
            yield Part(name, moved.shared[k, at], shared=True)


# The table ----------------------------------------------------------------------------------------


def counted(kind: str, group: str, rule: Rule, hand: Hand, n: int, seed: int) -> dict[str, Count]:
    """How often every claim is told in one cell: the same whichever other cells are drawn."""
    rng = np.random.default_rng(
        random.Random(f"{seed} {kind} {group} {rule} {hand}").getrandbits(64)
    )
    found: dict[str, Count] = {}
    for part in told(rng, kind, group, rule, hand, n):
        for claim, hits in part.items():
            found[claim] = found.get(claim, Count()) + Count(int(hits.sum()), len(hits))
    return found


def main(argv: Sequence[str] | None = None) -> None:
    """One line for each claim and hand, by what is read."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--surveys", type=int, default=10_000, help="in every cell")
    parser.add_argument("--seed", type=int, default=15)
    lists = {"layout": FRAMES, "rule": RULES, "hand": HANDS, "group": GROUPS}
    for name, choices in lists.items():
        parser.add_argument(f"--{name}", action="append", choices=list(choices))
    given = parser.parse_args(argv)
    for group in given.group or GROUPS:
        table = Table()
        for kind in given.layout or FRAMES:
            for rule in given.rule or RULES:
                for hand in given.hand or HANDS:
                    cell = counted(kind, group, RULES[rule], HANDS[hand], given.surveys, given.seed)
                    for claim, count in cell.items():
                        table.add(claim, hand, f"{kind}, {rule}", count)
        print(f"\n{group}: {given.surveys} surveys a cell, seed {given.seed}\n{HEAD}")
        print(*table.lines(), sep="\n", flush=True)


if __name__ == "__main__":
    main()
