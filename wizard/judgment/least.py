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
anything but a bare frame on three points, a rail that a bolted body props; and all of it while joints
are loose or the car rocks. A kink is not told here: how sharp a bend must be before its
shape is told hangs on where between two stations it lies. What a kink makes a rail hang low is told as
that.

What is reckoned at its worst in a doubt is not always so bad in truth: a flange (checks/sag.py) is off
by 0.15 to 0.3 mm, counts as 0.3 mm where a rail is judged, and as the mean of that range here.
"""

import math
from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from wizard.checks.case import BLOCK, HAND, LEVEL_U, Case
from wizard.checks.finding import Finding
from wizard.checks.gaps import STATION, UNEVEN_AS_A_RULE
from wizard.checks.notes import ROUND_FIGURES, Against, OneOf
from wizard.checks.sizes import LENGTH_U, WIDTH_U, width
from wizard.checks.twist import BESIDES, explained, lean_by_string
from wizard.frozen import Frozen
from wizard.judgment.bands import Judged
from wizard.judgment.body import is_propped
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
    Point,
    PointId,
    PromptId,
    QuantityId,
    Side,
    StepId,
    WhereId,
    finding_id,
    pair_ids,
    part_of,
    point_of,
    step_of,
    where_id,
)
from wizard.library.shapes import LevelPlace, Place, Station
from wizard.math.change import FALSE_ALARM
from wizard.math.conformance import SURE
from wizard.math.least import SHOWN, Figure, smallest
from wizard.math.student import coverage_factor, t_quantile
from wizard.math.uncertain import Part, Uncertain

if TYPE_CHECKING:  # they are given, and nothing of them is made
    from wizard.judgment.change import Change, Comparison
    from wizard.judgment.verdict import Verdict

RAIL, CORNER, BOWED, NOSE_ASIDE = "rail-along", "corner-in", "rails-bowed", "nose-aside"
HORN_ASIDE, HORN_BACK, HORN_UP = "horn-aside", "horn-back", "horn-up"
DOWN, TWISTED, AXLE = "rail-down", "twist", "axle"
KINDS: Mapping[str, str] = {
    RAIL: "how far one rail has moved along its twin; where: the whole frame",
    CORNER: "how far one corner has moved toward the middle of the frame; where: its place",
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
IN_PLAN = (
    *(marks.RAIL_SHIFT, marks.MASH, marks.OWN_SIDES, marks.SWAY, marks.NOSE_OFF),
    marks.LENGTH,
)
OUTWARD, BACKWARD = {marks.HORN_APART: 1.0}, {marks.HORN_BACK: -1.0}
"""How the figures of both horns go, where the left one goes outward or back."""
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


def least(verdict: "Verdict", case: Case) -> tuple[Least, ...]:
    """The smallest damage of each kind and place, in the order of KINDS, front to rear.

    case: of the survey that the verdict is of.
    """
    still = not verdict.loose and not verdict.rocks
    return tuple(_Out(case, verdict.judged if still else ()).all())


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


def least_moved(comparison: "Comparison", case: Case) -> tuple[Least, ...]:
    """The smallest change of each kind and place since the earlier survey that would have been told.

    Told is `changed`, as wizard/judgment/change.py decides it over all that is compared, of at least
    one figure or taped distance that the damage moves: beyond t(1 - 0.025 / m, ν) u for m of them, the
    first step of Holm's, without which none stands. Else as `least` has it.
    case: of the later survey.
    """
    return tuple(_Moved(case, comparison.changes).all())


Figures = dict[FindingId, Figure]


class _Kinds(Frozen, ABC):
    """Every kind of damage, by the figures that it moves."""

    case: Case

    @property
    @abstractmethod
    def _found(self) -> Mapping[FindingId, Finding]:
        """The figures that can be told of."""

    @abstractmethod
    def _seen(self, found: Finding, moves: float, grows: float = 0.0) -> Figure:
        """How a figure is told."""

    @abstractmethod
    def _hanging(self, side: str, at: Station) -> Figures:
        """What the string tells of a rail that is bent down at one station."""

    @abstractmethod
    def _leaning(self, moves: Mapping[FindingId, float]) -> tuple[Figures, ...]:
        """What the level tells of figures that move so, one way and the other."""

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

    def _of(self, *quantities: QuantityId) -> list[Finding]:
        return [f for f in self._found.values() if f.quantity in quantities]

    def _plain(self, quantity: QuantityId) -> Figures:
        """A damage that is told by one quantity as it is."""
        return {f.id: self._seen(f, 1.0) for f in self._of(quantity)}

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
        for f in self._of(*IN_PLAN):
            moves = self._share(cause, f)
            if abs(moves) >= LITTLE:
                figures[f.id] = self._seen(f, moves, self._by_round_sizes(f))
        return figures

    def _share(self, cause: Cause, found: Finding) -> float:
        if found.quantity == marks.NOSE_OFF:
            return off_line(cause, self._shape.pairs, self._shape.place(found.where))
        moves = share(cause, self._shape, found.quantity, found.where)
        return -moves if found.quantity == marks.OWN_SIDES else moves  # left less right

    def _by_round_sizes(self, found: Finding) -> float:
        """Doubt of a figure of the bar as a share of it, where box and widths were not taped."""
        if not found.has(ROUND_FIGURES):
            return 0.0
        at = FRONT_BOX if found.where == marks.BY_BAR else found.where
        box = self.case.layout.box_by_id[at]
        ends = [self.case.layout.place(id) for id in (box.front, box.rear)]
        wide, long = sum(p.half_width for p in ends), ends[1].x - ends[0].x
        return math.hypot(WIDTH_U, LENGTH_U) * wide**2 / (wide**2 + long**2)

    # Horns ------------------------------------------------------------------------------------

    def _of_horns(self) -> Iterator[Least]:
        tips = self.case.layout.tips
        if not tips:
            return
        yield self._one(HORN_ASIDE, tips, self._horn(OUTWARD))
        yield self._one(HORN_BACK, tips, self._horn(BACKWARD))
        up = {f.id: 1.0 for f in self._of(marks.HORN_HEIGHT)}
        yield self._one(HORN_UP, tips, *self._leaning(up))

    def _horn(self, moves: Mapping[QuantityId, float]) -> Figures:
        """The figures that a left horn moves which goes so."""
        return {f.id: self._seen(f, moves[f.quantity]) for f in self._of(*moves)}

    # String -----------------------------------------------------------------------------------

    @cached_property
    def _stations(self) -> tuple[Station, ...]:
        front, rear = self.case.layout.string
        near = NEAR * (rear - front)
        return tuple(s for s in self.case.layout.stations if front + near < s.x < rear - near)

    def _of_rails(self) -> Iterator[Least]:
        for side in SIDES:
            for station in self._stations:
                figures = self._hanging(side, station)
                yield self._one(DOWN, where_id(station.id, side), figures)

    def _bent(self, at: Station, there: Station) -> float:
        """How far down a rail is at a station, that is bent down by 1 at another."""
        front, rear = self.case.layout.string
        if there.x <= at.x:
            return (there.x - front) / (at.x - front)
        return (rear - there.x) / (rear - at.x)

    # Level ------------------------------------------------------------------------------------

    def _grows(self, found: Finding) -> float:
        """What is not known of the level's division and of the width, as a share of the figure."""
        wide = width(self.case, self._levels[found.where].place)[0]
        return math.hypot(LEVEL_U, wide.u / wide.value)

    @cached_property
    def _levels(self) -> Mapping[WhereId, LevelPlace]:
        return {p.id: p for p in self.case.layout.levels}

    def _at(self, level: WhereId) -> Place:
        return self.case.layout.place(self._levels[level].place)

    def _twist(self) -> Least:
        """Steady from the place that all others are held against to the last that was read."""
        found = sorted(self._of(marks.TWIST), key=lambda f: self._at(f.where).x)
        if not found:
            return self._one(TWISTED, self.case.layout.levels[-1].id, {})
        last, moves = self._at(found[-1].where), {}
        for f in found:
            here, against = self._at(f.where), f.note(Against)
            begins = self._at(against.place).x if against else 0.0
            steady = (here.x - begins) / (last.x - begins)
            moves[f.id] = steady * here.half_width / last.half_width
        return self._one(TWISTED, found[-1].where, *self._leaning(moves))


class _Out(_Kinds):
    """By what is told to be out."""

    judged: Sequence[Judged]

    @cached_property
    def _by_id(self) -> Mapping[FindingId, Judged]:
        return {j.finding.id: j for j in self.judged if self._can_tell(j)}

    def _can_tell(self, judged: Judged) -> bool:
        found = judged.finding
        if found.disagrees or found.number.u <= 0 or not (judged.edges and judged.bands):
            return False
        survey = self.case.survey
        return not is_stands_twist(found, survey) and not is_propped(found, survey)

    @cached_property
    def _found(self) -> Mapping[FindingId, Finding]:
        return {id: j.finding for id, j in self._by_id.items()}

    def _seen(self, found: Finding, moves: float, grows: float = 0.0) -> Figure:
        note, edge, number = found.note(OneOf), self._by_id[found.id].edges[0], found.number
        upto = edge.high if moves > 0 or edge.low is None else -edge.low
        tail = (1.0 - SURE) / (note.judged if note else 1)
        return Figure(number, likely(number), moves, upto or 0.0, tail, grows)

    def _hanging(self, side: str, at: Station) -> Figures:
        rail = self._rails[side].items()
        return {id: seen._replace(moves=self._bent(at, station)) for id, (station, seen) in rail}

    @cached_property
    def _rails(self) -> Mapping[str, Mapping[FindingId, tuple[Station, Figure]]]:
        """By side, how the sags of a rail are told that is down by one as far as each sees it."""
        return {side: self._rail(side) for side in SIDES}

    def _rail(self, side: str) -> Mapping[FindingId, tuple[Station, Figure]]:
        """What a rail springs under the engine is known where both states were read: so much lower a
        straight one hangs with the weight on. Where one state was read, straight is straight in it.
        """
        figures: dict[FindingId, tuple[Station, Figure]] = {}
        for station in self._stations:
            where = where_id(station.id, side)
            light, heavy = (self._found.get(finding_id(q, where)) for q in marks.SAGS)
            if light:
                figures[light.id] = station, self._hung(light)
            if heavy:
                seen = self._hung(heavy)
                if light:
                    # The same errors as without the weight, for what springs is as it was read.
                    springs = heavy.value - light.value
                    errors = figures[light.id][1].errors + self._on_other_marks(heavy)
                    seen = seen._replace(errors=errors, off=springs)
                figures[heavy.id] = station, seen
        return figures

    def _hung(self, found: Finding) -> Figure:
        """How a sag is told: of the blocks, read once, both the hand and its marks count."""
        seen = self._seen(found, 1.0)
        finer = Part("blocks:hand", self._block_s, shared=True)
        errors = Uncertain(0.0, (*seen.errors.parts, finer))
        return seen._replace(errors=errors, anew=self._anew(found))

    @cached_property
    def _block_s(self) -> float:
        """What a hand that is finer than its marks adds to the height of the blocks, mm: it counts as
        the larger of both there.
        """
        hand = self.case.prior("ruler", BLOCK).s
        return hand if hand < self.case.line.division / math.sqrt(12.0) else 0.0

    def _anew(self, found: Finding) -> tuple[str, float]:
        """The scatter under the string, and how much of it is learned anew from other marks.

        Readings of one scatter of which a share r is rounding, that alone drawn anew: their squares
        are correlated by (1 - r)². What is known of hands beforehand stays.
        """
        hands = (p for p in found.number.parts if is_gap(p.name, self.case))
        hand = next(hands, None)
        if hand is None:
            return "", 0.0
        kind = next(k for k in self.case.pooled if "/".join(k) == hand.pool)
        s, before = self.case.pooled[kind].s, self.case.prior(*kind).dof
        rounding = min(self.case.line.division**2 / 12.0 / s**2, 1.0)
        return hand.pool, (1.0 - (1.0 - rounding) ** 2) * max(1.0 - before / hand.dof, 0.0)

    def _on_other_marks(self, found: Finding) -> Uncertain:
        """A gap that is wider is read to other marks: what springs was read to those before."""
        times = max(1, sum(id in self.case.gap_ids for id in found.readings))
        size = self.case.line.division / math.sqrt(6.0 * times)
        return Uncertain(0.0, (Part(f"marks:{found.id}", size),))

    def _leaning(self, moves: Mapping[FindingId, float]) -> tuple[Figures, ...]:
        return tuple(
            {id: self._leant(self._found[id], way * by) for id, by in moves.items()}
            for way in (1.0, -1.0)
        )

    def _leant(self, found: Finding, moves: float) -> Figure:
        """What the string finds of a rail that hangs low is taken off a twist, where it leans so."""
        page = self.case.library.page[marks.SLOPES]
        parts = (p for p in found.number.parts if _is_hand_on(page, p.name) or p.name in BESIDES)
        alone = Uncertain(0.0, tuple(parts))
        seen = self._seen(found, moves, self._grows(found))
        seen = seen._replace(number=alone, errors=alone)
        string = self._low(found) if found.quantity == marks.TWIST else None
        less = explained(string, moves * MUCH) if string else None
        if string is None or less is None:
            return seen
        seen = seen._replace(number=alone - less)
        if abs(string.value) > coverage_factor(string.dof) * string.u:
            return seen._replace(errors=likely(alone - less))
        # On a straight frame all of that is the string's own error, and known.
        return seen._replace(off=-abs(less.value))

    def _low(self, found: Finding) -> Uncertain | None:
        findings = [j.finding for j in self.judged]
        read = lean_by_string(self.case, found, findings, self._levels)
        return read[0] if read else None


class _Moved(_Kinds):
    """By what is told to have moved."""

    changes: "Sequence[Change]"

    @cached_property
    def _by_id(self) -> "Mapping[FindingId, Change]":
        return {c.new.id: c for c in self.changes if c.number.u > 0}

    @cached_property
    def _found(self) -> Mapping[FindingId, Finding]:
        return {id: c.new for id, c in self._by_id.items()}

    def _seen(self, found: Finding, moves: float, grows: float = 0.0) -> Figure:
        number, tail = self._by_id[found.id].number, FALSE_ALARM / 2 / len(self.changes)
        return Figure(number, likely(number), moves, 0.0, tail, grows)

    def _share(self, cause: Cause, found: Finding) -> float:
        if found.quantity != marks.LENGTH:
            return super()._share(cause, found)
        tape = self._tape(found)
        return self._longer(tape, [_went(cause, point_of(p)) for p in tape])

    def _tape(self, length: Finding) -> tuple[PointId, PointId]:
        prompt = self.case.prompts[PromptId(str(length.where))]
        return prompt.start, prompt.end

    def _longer(self, tape: Sequence[PointId], went: Sequence[tuple[float, float]]) -> float:
        """By how much a distance grows whose ends go so."""
        a, b = (self.case.place_of(point) for point in tape)
        if a is None or b is None:
            return 0.0
        along = [(b[n] - a[n]) * (went[1][n] - went[0][n]) for n in (0, 1)]
        return sum(along) / math.dist(a, b)

    def _horn(self, moves: Mapping[QuantityId, float]) -> Figures:
        """And the tip itself, against its own rail and by every tape to it."""
        figures, tip = super()._horn(moves), pair_ids(self.case.layout.tips)[0]
        out = moves.get(marks.HORN_APART, 0.0)
        goes = (moves.get(marks.HORN_BACK, 0.0) * Side.LEFT.sign, out * Side.LEFT.sign)
        for f in self._of(marks.HORN_OUT):
            if out and f.where == WhereId(Side.LEFT):
                figures[f.id] = self._seen(f, out)
        for f in self._of(marks.LENGTH):
            tape = self._tape(f)
            by = self._longer(tape, [goes if p == tip else (0.0, 0.0) for p in tape])
            if abs(by) >= LITTLE:
                figures[f.id] = self._seen(f, by)
        return figures

    def _hanging(self, side: str, at: Station) -> Figures:
        places = {where_id(s.id, side): s for s in self._stations}
        sags = [f for f in self._of(*marks.SAGS) if f.where in places]
        return {f.id: self._seen(f, self._bent(at, places[f.where])) for f in sags}

    def _leaning(self, moves: Mapping[FindingId, float]) -> tuple[Figures, ...]:
        found = self._found
        return (
            {id: self._seen(found[id], by, self._grows(found[id])) for id, by in moves.items()},
        )


def _went(cause: Cause, point: Point) -> tuple[float, float]:
    """How far a point goes back and to the right: of a pair, the right one alone goes back."""
    back = cause.back.get(point.place, 0.0) if point.side is Side.RIGHT else 0.0
    return back, cause.aside.get(point.place, 0.0)


NEAR = 0.1
"""Share of the string within which a bend is too near to its block: what the string rests on is its
nil."""
MUCH = 1e3
"""mm; a lean that is more than any sag explains."""


def _is_nose(place: Place, pairs: Sequence[Place]) -> bool:
    return place.sides == (MIDDLE,) and place.x < pairs[0].x


def _is_hand_on(page: StepId, name: str) -> bool:
    """Whether a part of a doubt is the hand's on that page."""
    of = part_of(name)
    return of.kind == HAND and step_of(of.prompt) == page


def is_gap(name: str, case: Case) -> bool:
    """Whether a part of a doubt is the hand's under the string."""
    of = part_of(name)
    return of.kind == HAND and of.prompt in case.ground.gaps


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
        p._replace(size=p.size * UNEVEN_AS_A_RULE) if f"{STATION}:" in p.name else p
        for p in number.parts
    )
    return Uncertain(number.value, tuple(parts))
