"""The smallest damage of each kind that these readings would have shown, 19 times in 20.

What is promised, of every size that is told here: take a frame that is straight but for this one damage
of just this size, read as this one was read, by the same hand with the same tools and the same errors.
Then in 19 of 20 such surveys at least one figure that the damage moves is told to be out: established
beyond the end of its band `leave`, as wizard/judgment/bands.py decides it (value beyond the limit by
t(1 - 0.05 / places, ν) u or more, places of its kind looked at). That is `is_out` of
wizard/judgment/facts.py, on which every sign of a collision rests. It is not asked that the verdict
names the damage as what it is, or its side.

Any of the figures may tell it (a rail that moved shows in every box), and all are asked together, with
the errors that they share: wizard/math/least.py. What moves a figure by how much is plane geometry
(wizard/judgment/plan_kinds.py); along a rail, a bend at that station between the string's two blocks.

Not covered, and so without a size: what no figure sees, what contradicts other readings, a twist on
anything but a bare frame on three points. A kink is not told here: how sharp a bend must be before its
shape is told hangs on where between two stations it lies. What a kink makes a rail hang low is told as
that.

What is reckoned at its worst in a doubt is not always so bad in truth: a flange (checks/sag.py) is off
by 0.15 to 0.3 mm, counts as 0.3 mm where a rail is judged, and as the mean of that range here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from wizard.checks.case import HAND, LEVEL_U, Case
from wizard.checks.gaps import STATION, UNEVEN_AS_A_RULE
from wizard.checks.notes import ROUND_FIGURES, Against, OneOf
from wizard.checks.sizes import LENGTH_U, WIDTH_U, width
from wizard.checks.twist import BESIDES, explained, lean_by_string
from wizard.judgment.bands import Judged
from wizard.judgment.plan_kinds import (
    BOW,
    DIAMOND,
    FRONT,
    NOSE,
    REAR,
    Cause,
    Shape,
    bent_at,
    pairs_of,
    share,
)
from wizard.judgment.supports import is_stands_twist
from wizard.library import marks
from wizard.library.places import (
    DIFFERENCE,
    FRONT_BOX,
    MIDDLE,
    SIDES,
    WHOLE_BOX,
    FindingId,
    QuantityId,
    StepId,
    WhereId,
    finding_id,
    part_of,
    step_of,
    where_id,
)
from wizard.library.shapes import LevelPlace, Place, Station
from wizard.math.least import SHOWN, Figure, smallest
from wizard.math.student import coverage_factor, t_quantile
from wizard.math.uncertain import Uncertain

if TYPE_CHECKING:  # a verdict is given, and nothing of it is made
    from wizard.judgment.verdict import Verdict

RAIL, CORNER, BOWED, NOSE_ASIDE = "rail-along", "corner-in", "rails-bowed", "nose-aside"
HORN_ASIDE, HORN_BACK, HORN_UP = "horn-aside", "horn-back", "horn-up"
DOWN, TWISTED, AXLE = "rail-down", "twist", "axle"
KINDS: Mapping[str, str] = {
    RAIL: "how far one rail has moved along its twin; where: the whole frame",
    CORNER: "how far one corner has moved towards the middle of the frame; where: its place",
    BOWED: "how far both rails are bent sideways at a place, off the line between their ends",
    NOSE_ASIDE: "how far the nose has moved sideways",
    HORN_ASIDE: "how far the tip of one horn has moved sideways",
    HORN_BACK: "how far the tip of one horn has moved back",
    HORN_UP: "how far the tip of one horn has moved up or down",
    DOWN: "how far one rail is bent down at a station, below the line between the string's blocks",
    TWISTED: "height across the rails at the last place of the level, of a steady twist",
    AXLE: "by how much one wheelbase is shorter than its twin, the frame being straight",
}
"""Kinds of damage, each with what its size is. A layout that has no place for one has none of it."""
LITTLE = 0.05
"""A figure that sees less than this of a damage tells nothing of it."""


class Least(NamedTuple):
    """The smallest damage of one kind, at one place, that these readings would have shown."""

    kind: str
    """One of KINDS."""
    where: WhereId
    """A box, a place, or a station and a side; the difference of both sides for an axle."""
    mm: float | None
    """Its size, exact: round it up to tell it. None where no reading covers it."""
    by: tuple[FindingId, ...]
    """The figures of which at least one would have told it."""


def least(verdict: Verdict, case: Case) -> tuple[Least, ...]:
    """The smallest damage of each kind and place, in the order of KINDS, front to rear.

    case: of the survey that the verdict is of.
    """
    return tuple(_Least(verdict.judged, case).all())


def weakest(found: Sequence[Least]) -> tuple[Least, ...]:
    """One of each kind: that of the place where the readings show least, or where they show nothing;
    a damage of that size would have been seen at every place.
    """
    worst: dict[str, Least] = {}
    for one in found:
        known = worst.setdefault(one.kind, one)
        if known.mm is not None and (one.mm is None or one.mm > known.mm):
            worst[one.kind] = one
    return tuple(worst.values())


def least_difference(judged: Judged) -> float:
    """What one figure would have had to be, in its own unit, to lie outside its 95 % interval about
    zero 19 times in 20: (k + t(0.95, ν)) u, where it is told by `half_width`, whatever its limit.
    """
    number = judged.finding.number
    return judged.half_width + t_quantile(SHOWN, number.dof) * number.u


Figures = dict[FindingId, Figure]


@dataclass(frozen=True)
class _Least:
    judged: Sequence[Judged]
    case: Case

    @cached_property
    def _found(self) -> Mapping[FindingId, Judged]:
        """What can be told of at all."""
        return {j.finding.id: j for j in self.judged if self._can_tell(j)}

    def _can_tell(self, judged: Judged) -> bool:
        found = judged.finding
        settled = bool(judged.edges and judged.bands) and not found.disagrees
        return settled and found.number.u > 0 and not is_stands_twist(found, self.case.survey)

    def _of(self, *quantities: QuantityId) -> list[Judged]:
        return [j for j in self._found.values() if j.finding.quantity in quantities]

    def all(self) -> Iterator[Least]:
        """Every kind at every place."""
        yield from self._of_plan()
        yield from self._of_horns()
        yield from self._of_rails()
        if self.case.layout.levels:
            yield self._twist()
        yield self._one(AXLE, DIFFERENCE, self._plain(marks.WHEELBASE))

    def _one(self, kind: str, where: WhereId, *ways: Figures) -> Least:
        """ways: the figures by which the damage is told, for each way in which it may go."""
        size = smallest([list(figures.values()) for figures in ways])
        ids = dict.fromkeys(id for figures in ways for id in figures)
        return Least(kind, where, size, tuple(ids) if size is not None else ())

    # How a figure is told ---------------------------------------------------------------------

    def _figure(
        self, judged: Judged, moves: float, number: Uncertain, grows: float = 0.0, off: float = 0.0
    ) -> Figure:
        """number: the doubt of the figure where the damage is."""
        note, edge = judged.finding.note(OneOf), judged.edges[0]
        places = note.places if note else 1
        upto = edge.high if moves > 0 or edge.low is None else -edge.low
        return Figure(number, likely(number), moves, upto or 0.0, 0.05 / places, grows, off)

    def _plain(self, quantity: QuantityId) -> Figures:
        """A damage that is told by one quantity as it is."""
        found = self._of(quantity)
        return {j.finding.id: self._figure(j, 1.0, j.finding.number) for j in found}

    # Tape and bar -----------------------------------------------------------------------------

    @cached_property
    def _shape(self) -> Shape:
        return Shape(self.case.layout, pairs_of(self.case.layout), {})

    def _of_plan(self) -> Iterator[Least]:
        pairs = self._shape.pairs
        if len(pairs) < 2:
            return
        rail = Cause(DIAMOND, {p.id: 1.0 for p in pairs}, {})
        yield self._one(RAIL, WHOLE_BOX, self._seen_of(rail))
        for kind, place in ((FRONT, pairs[0]), (REAR, pairs[-1])):
            yield self._one(CORNER, place.id, self._seen_of(Cause(kind, {place.id: 1.0}, {})))
        for place in pairs[1:-1]:
            bow = next(c for c in bent_at(self._shape, place.x) if c.kind == BOW)
            yield self._one(BOWED, place.id, self._seen_of(bow))
        for nose in (p for p in self.case.layout.places if _is_nose(p, pairs)):
            aside = Cause(NOSE, {}, {nose.id: 1.0})
            yield self._one(NOSE_ASIDE, nose.id, self._seen_of(aside))

    def _seen_of(self, cause: Cause) -> Figures:
        """The figures that a damage in plan moves."""
        figures = {}
        for j in self._of(
            marks.RAIL_SHIFT, marks.MASH, marks.OWN_SIDES, marks.SWAY, marks.NOSE_OFF
        ):
            moves = self._share(cause, j)
            if abs(moves) >= LITTLE:
                grows = self._by_round_sizes(j)
                figures[j.finding.id] = self._figure(j, moves, j.finding.number, grows)
        return figures

    def _share(self, cause: Cause, judged: Judged) -> float:
        found = judged.finding
        if found.quantity == marks.NOSE_OFF:
            return off_line(cause, self._shape.pairs, self._shape.place(found.where))
        return share(cause, self._shape, found.quantity, found.where)

    def _by_round_sizes(self, judged: Judged) -> float:
        """Doubt of a figure of the bar as a share of it, where box and widths were not taped."""
        if not judged.finding.has(ROUND_FIGURES):
            return 0.0
        where = judged.finding.where
        box = self.case.layout.box_by_id[FRONT_BOX if where == marks.BY_BAR else where]
        ends = [self.case.layout.place(id) for id in (box.front, box.rear)]
        wide, long = sum(p.half_width for p in ends), ends[1].x - ends[0].x
        return math.hypot(WIDTH_U, LENGTH_U) * wide**2 / (wide**2 + long**2)

    # Horns ------------------------------------------------------------------------------------

    def _of_horns(self) -> Iterator[Least]:
        tips = self.case.layout.tips
        if not tips:
            return
        yield self._one(HORN_ASIDE, tips, self._plain(marks.HORN_APART))
        yield self._one(HORN_BACK, tips, self._plain(marks.HORN_BACK))
        up = {
            j.finding.id: self._figure(j, 1.0, self._by_level(j), self._leaning(j))
            for j in self._of(marks.HORN_HEIGHT)
        }
        yield self._one(HORN_UP, tips, up)

    # String -----------------------------------------------------------------------------------

    def _of_rails(self) -> Iterator[Least]:
        front, rear = self.case.layout.string
        inside = [s for s in self.case.layout.stations if front < s.x < rear]
        for side in SIDES:
            for station in inside:
                figures = self._hanging(side, station, inside)
                yield self._one(DOWN, where_id(station.id, side), figures)

    def _hanging(self, side: str, at: Station, stations: Sequence[Station]) -> Figures:
        """What the string tells of a rail that is bent down at one station.

        What a rail springs under the engine is known where both states were read: so much lower a
        straight one hangs with the weight on. Where one state was read, straight is straight in it.
        """
        front, rear = self.case.layout.string
        figures: Figures = {}
        for s in stations:
            moves = (s.x - front) / (at.x - front) if s.x <= at.x else (rear - s.x) / (rear - at.x)
            where = where_id(s.id, side)
            light, heavy = (self._found.get(finding_id(q, where)) for q in marks.SAGS)
            if light:
                figures[light.finding.id] = self._figure(light, moves, light.finding.number)
            if heavy:
                seen = self._figure(heavy, moves, heavy.finding.number)
                if (
                    light
                ):  # the same errors as without the weight, for what springs is as it was read
                    springs = heavy.finding.value - light.finding.value
                    seen = seen._replace(errors=likely(light.finding.number), off=springs)
                figures[heavy.finding.id] = seen
        return figures

    # Level ------------------------------------------------------------------------------------

    def _by_level(self, judged: Judged) -> Uncertain:
        """What the level adds to a doubt, without what grows with the figure."""
        page, number = self.case.library.page[marks.SLOPES], judged.finding.number
        parts = (p for p in number.parts if _is_hand_on(page, p.name) or p.name in BESIDES)
        return Uncertain(0.0, tuple(parts))

    def _leaning(self, judged: Judged) -> float:
        """What is not known of the level's division and of the width, as a share of the figure."""
        wide = width(self.case, self._levels[judged.finding.where].place)[0]
        return math.hypot(LEVEL_U, wide.u / wide.value)

    @cached_property
    def _levels(self) -> Mapping[WhereId, LevelPlace]:
        return {p.id: p for p in self.case.layout.levels}

    def _twist(self) -> Least:
        """Steady from the place that all others are held against to the last that was read."""
        x = {w: self.case.layout.place(p.place).x for w, p in self._levels.items()}
        found = sorted(self._of(marks.TWIST), key=lambda j: x[j.finding.where])
        last = found[-1].finding.where if found else self.case.layout.levels[-1].id
        ways = ({j.finding.id: self._leant(j, last, way) for j in found} for way in (1.0, -1.0))
        return self._one(TWISTED, last, *ways)

    def _leant(self, judged: Judged, last: WhereId, way: float) -> Figure:
        """A twist one way: what the string finds of a rail that hangs low is taken off it."""
        found, grows = judged.finding, self._leaning(judged)
        here, there = (self.case.layout.place(self._levels[w].place) for w in (found.where, last))
        against = found.note(Against)
        begins = self.case.layout.place(self._levels[against.place].place).x if against else 0.0
        steady = (here.x - begins) / (there.x - begins)
        moves = way * steady * here.half_width / there.half_width
        alone = self._by_level(judged)
        findings = [j.finding for j in self.judged]
        string = lean_by_string(self.case, found, findings, self._levels)
        less = explained(string[0], way * MUCH) if string else None
        if string is None or less is None:
            return self._figure(judged, moves, alone, grows)
        number = alone - less
        if abs(string[0].value) > coverage_factor(string[0].dof) * string[0].u:
            return self._figure(judged, moves, number, grows)
        # On a straight frame all of that is the string's own error, and known.
        seen = self._figure(judged, moves, number, grows, -abs(less.value))
        return seen._replace(errors=alone)


MUCH = 1e3
"""mm; a lean that is more than any sag explains."""


def _is_nose(place: Place, pairs: Sequence[Place]) -> bool:
    return place.sides == (MIDDLE,) and place.x < pairs[0].x


def _is_hand_on(page: StepId, name: str) -> bool:
    """Whether a part of a doubt is the hand's on that page."""
    of = part_of(name)
    return of.kind == HAND and step_of(of.prompt) == page


def off_line(cause: Cause, pairs: Sequence[Place], at: Place) -> float:
    """How far a place lies to the right of the straight line through the middles of these pairs,
    all of one weight, by one millimeter of a cause.
    """
    middle = sum(p.x for p in pairs) / len(pairs)
    aside = [cause.aside.get(p.id, 0.0) for p in pairs]
    turned = sum((p.x - middle) * a for p, a in zip(pairs, aside, strict=True))
    turned /= sum((p.x - middle) ** 2 for p in pairs)
    return cause.aside.get(at.id, 0.0) - sum(aside) / len(pairs) - turned * (at.x - middle)


def likely(number: Uncertain) -> Uncertain:
    """What a figure may be off by: its doubt, but for what counts at its worst where it is judged."""
    parts = (
        p._replace(size=p.size * UNEVEN_AS_A_RULE) if part_of(p.name).kind == STATION else p
        for p in number.parts
    )
    return Uncertain(number.value, tuple(parts))
