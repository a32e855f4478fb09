"""What tape, bar and level show: boxes out of square, a short rail, a bow, a twist, a horn.

The figure in capitals is this project's own.
"""

from collections.abc import Iterator
from typing import NamedTuple

from wizard.judgment.bands import Judged
from wizard.judgment.facts import Shown, Told, Zone, accused, beyond, is_out, is_true, rests_on
from wizard.judgment.plan_kinds import (
    DIAMOND,
    FRONT,
    POINT,
    REAR,
    SHORT,
    SIDEWAYS,
    kinds_left,
)
from wizard.judgment.supports import THREE, supports_of
from wizard.library import marks
from wizard.library.places import FRONT_BOX, NO_PLACE, REAR_BOX, WHOLE_BOX, PlaceId

SHORT_MM = 3.0
"""A rail that is shorter by less is no sign."""


def _shift_zones(box: PlaceId, value: float) -> tuple[Zone, ...]:
    """Where a blow would have come: a rail is pushed back at its front end, or forward at its rear
    end.
    """
    front: Zone = ("right" if value > 0 else "left", "front")
    rear: Zone = ("left" if value > 0 else "right", "rear")
    return {FRONT_BOX: (front,), REAR_BOX: (rear,)}.get(box, (front, rear))


class OutOfSquare(NamedTuple):
    """How far the front box, the rear box and the whole frame are out of square; None where that
    is not known.
    """

    front: Judged | None
    rear: Judged | None
    whole: Judged | None

    @property
    def out(self) -> tuple[Judged, ...]:
        """Those that are out, the whole frame first."""
        return tuple(j for j in (self.whole, self.front, self.rear) if j is not None and is_out(j))

    @property
    def is_lone(self) -> bool:
        """Whether one box is out and the other is true."""
        front_alone = is_out(self.front) and is_true(self.rear)
        return front_alone or (is_out(self.rear) and is_true(self.front))

    @property
    def is_diamond(self) -> bool:
        """Whether both boxes lean to one side, or the whole frame leans and no box has it to
        itself.
        """
        leans = [j.finding.value for j in self.out if j is not self.whole]
        if len(leans) == 2:
            return leans[0] * leans[1] > 0
        return is_out(self.whole) and not self.is_lone and self.located() is self

    def located(self) -> "OutOfSquare":
        """Where the one box is still, what the whole frame is out by sits in the other."""
        front_still, rear_still = _still(self.front, self.whole), _still(self.rear, self.whole)
        if front_still == rear_still:
            return self
        if rear_still:
            return self if is_out(self.front) else self._replace(front=self.whole)
        return self if is_out(self.rear) else self._replace(rear=self.whole)


def boxes(facts: Told) -> Iterator[Shown]:
    """Which box is out, or the whole as a diamond: only what the figures tell apart."""
    shifts = facts.of(marks.RAIL_SHIFT)
    out = tuple(j for j in shifts.values() if is_out(j))
    if not out:
        return
    front = _plainest(shifts.get(FRONT_BOX), shifts.get(marks.BY_BAR))
    found = OutOfSquare(front, shifts.get(REAR_BOX), shifts.get(WHOLE_BOX))
    kinds = kinds_left(facts.judged, facts.layout)
    if kinds == {DIAMOND}:
        yield _diamond(found.out or out)
    elif kinds in ENDED:
        yield from _one_box(found.located(), ENDED[kinds], out)
    elif not kinds:
        yield from _of_several(found, facts)
    elif not kinds <= SIDEWAYS:
        yield _out_of_square(out)


def _diamond(out: tuple[Judged, ...]) -> Shown:
    zones = _shift_zones(WHOLE_BOX, out[0].finding.value)
    return Shown("whole-diamond", tuple(j.finding.id for j in out), zones, WHOLE_BOX)


def _out_of_square(out: tuple[Judged, ...]) -> Shown:
    """Out, and nothing says why: it leaves open every corner from which a rail may have been pushed."""
    worst = max(out, key=lambda j: abs(j.finding.value)).finding
    ids = tuple(j.finding.id for j in out)
    return Shown("out-of-square", ids, _shift_zones(WHOLE_BOX, worst.value))


ENDED = {frozenset({FRONT}): FRONT_BOX, frozenset({REAR}): REAR_BOX}
"""The box whose corner it is, where nothing else is left."""


def _one_box(found: OutOfSquare, name: PlaceId, out: tuple[Judged, ...]) -> Iterator[Shown]:
    """The box whose corner is out; what is out besides is that corner seen over more."""
    at = tuple(s for s in _box_by_box(found) if s.box == name)
    if at:
        yield from at
        return
    value = max(out, key=lambda j: abs(j.finding.value)).finding.value
    ids = tuple(j.finding.id for j in out)
    rest = "-rest-true" if name == FRONT_BOX and is_true(found.rear) else ""
    yield Shown(f"{name}-out{rest}", ids, _shift_zones(name, value), name)


def _of_several(found: OutOfSquare, facts: Told) -> Iterator[Shown]:
    """Where no one thing explains the figures: each box by its own, unless the frame may bow, for
    that puts boxes out of square by itself.
    """
    bows = facts.of(marks.SWAY).values()
    if not all(map(is_true, bows)):
        yield from [_out_of_square(found.out)] if found.out else ()
    elif found.is_diamond:
        yield _diamond(found.out)
    else:
        yield from _box_by_box(found.located())


def _box_by_box(found: OutOfSquare) -> Iterator[Shown]:
    front, rear = found.front, found.rear
    if front and is_out(front):
        name = "front-box-out-rest-true" if is_true(rear) else "front-box-out"
        ids = (front.finding.id, *((rear.finding.id,) if rear else ()))
        yield Shown(name, ids, _shift_zones(FRONT_BOX, front.finding.value), FRONT_BOX)
    if rear and is_out(rear):
        zones = _shift_zones(REAR_BOX, rear.finding.value)
        yield Shown("rear-box-out", (rear.finding.id,), zones, REAR_BOX)


def _plainest(*found: Judged | None) -> Judged | None:
    """Of several readings of one box the first that is established to be out, else the first there
    is.

    None where one of them is out and another true: then a reading is wrong, and no shape rests on
    it.
    """
    there = [j for j in found if j is not None]
    if any(map(is_out, there)) and any(map(is_true, there)):
        return None
    return next((j for j in there if is_out(j)), there[0] if there else None)


def _still(box: Judged | None, whole: Judged | None) -> bool:
    """Whether a box is true while the whole frame is out: in a diamond every box is out as far as
    the whole.
    """
    if box is None or whole is None or not (is_true(box) and is_out(whole)):
        return False
    return abs(box.finding.value) + box.half_width < abs(whole.finding.value)


LENGTHS = frozenset({FRONT, REAR, SHORT, POINT})
"""Kinds by which a rail measures shorter than its twin."""


def lengths(facts: Told) -> Iterator[Shown]:
    """A rail shorter than its twin: by its own tapes, else by the plan; in the smallest box that
    shows it. Not where nothing but another kind of damage explains the plan.
    """
    found = _short_rail(facts)
    left = kinds_left(facts.judged, facts.layout) if found else frozenset()
    if found is None or (left and not left & LENGTHS):
        return
    where, longer, short = found
    where = ENDED.get(left, where)
    side = ({"left": "right", "right": "left"}[longer]) if short.finding.value > 0 else longer
    thirds = {FRONT_BOX: ("front",), REAR_BOX: ("rear",)}.get(where, ("front", "middle", "rear"))
    box = (
        where if where in ENDED.values() else NO_PLACE
    )  # a short whole says not which part is short
    yield Shown("rail-short", (short.finding.id,), tuple((side, t) for t in thirds), box)


def _short_rail(facts: Told) -> tuple[PlaceId, str, Judged] | None:
    """The smallest box in which a rail is surely short; which rail is the longer where its figure
    is positive.
    """
    slipped, horns = accused(facts.judged), facts.layout.horns
    for quantity, longer in ((marks.OWN_SIDES, "left"), (marks.MASH, "right")):
        short = {
            w: j
            for w, j in facts.of(quantity).items()
            if w != horns and beyond(j, SHORT_MM) and not rests_on(j, slipped)
        }
        for box in (FRONT_BOX, REAR_BOX, WHOLE_BOX):
            if box in short:
                return box, longer, short[box]
    return None


def bowed(facts: Told) -> Iterator[Shown]:
    """Both rails bent to one side; not where nothing but another kind of damage explains the plan."""
    out = [j for j in facts.of(marks.SWAY).values() if is_out(j)]
    left = kinds_left(facts.judged, facts.layout) if out else frozenset()
    if left and not left & SIDEWAYS:
        return
    for sway in out:
        hit, other = ("left", "right") if sway.finding.value > 0 else ("right", "left")
        zones = ((hit, "middle"), (other, "front"), (other, "rear"))
        yield Shown("frame-bowed", (sway.finding.id,), zones)


def twists(facts: Told) -> Iterator[Shown]:
    out = [
        j
        for j in facts.of(marks.TWIST).values()
        if is_out(j) and supports_of(j.finding, facts.survey) == THREE
    ]
    if out:
        yield Shown("twist-on-three", tuple(j.finding.id for j in out), (), WHOLE_BOX)


def horns(facts: Told) -> Iterator[Shown]:
    """A horn out of place; local only where the box behind is known to be true.

    Tips that differ in height are the horns' only where no rail hangs so that it makes a third of
    that: a string between the kicks sees little of a bend that lifts the tips by twice as much.
    """
    heights = (
        j for j in facts.of(marks.HORN_HEIGHT).values() if not _hangs_by(facts, j.finding.value / 3)
    )
    out = [j for j in (*facts.of(marks.HORN_APART).values(), *heights) if is_out(j)]
    if not out:
        return
    shifts = facts.of(marks.RAIL_SHIFT)
    behind = _plainest(shifts.get(FRONT_BOX), shifts.get(marks.BY_BAR))
    zones: tuple[Zone, ...] = (("left", "front"), ("right", "front"))
    ids = tuple(j.finding.id for j in out)
    yield Shown("horn-out", ids, zones, facts.layout.horns if is_true(behind) else NO_PLACE)


def _hangs_by(facts: Told, by: float) -> bool:
    """Whether the string shows rails that hang unlike by so much, mm, at any station."""
    return any(
        abs(left.finding.value - right.finding.value) >= abs(by)
        for quantity in marks.SAGS
        for left, right in facts.both_rails(quantity)
    )
