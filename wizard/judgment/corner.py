"""One corner of a box that stands askew and explains the whole plan, and what it or a box
that is out carries with it: the wheelbase on that side, and its own half-figures.

Source: geometry. With one corner back by e the own sides differ by e and the box is out of square
by e / 2: the same thing seen by half, and no second fault. How far an axle goes with its corner is
common practice, no published source: one on rods follows in part, one on springs along the rails as
far as the rail went. So a wheelbase that is short on that side, by no more than the corner is out,
says nothing of the axle.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import chain
from typing import NamedTuple

from wizard.judgment.bands import Judged
from wizard.judgment.facts import SIDES, accused, beyond, is_out, is_true, rests_on
from wizard.judgment.plan_kinds import FRONT, REAR, kinds_left, pairs_of
from wizard.judgment.shown_plan import SHORT_MM
from wizard.library import marks
from wizard.library.places import (
    FRONT_BOX,
    NO_PLACE,
    REAR_BOX,
    WHOLE_BOX,
    FindingId,
    PlaceId,
    finding_id,
    is_own,
)
from wizard.library.shapes import Box, Layout

ENDS = {FRONT_BOX: "front", REAR_BOX: "rear"}
CORNERS = {"front": FRONT, "rear": REAR}
"""What the figures of a plan must leave for a corner to be named."""
BARS = {FRONT_BOX: marks.BY_BAR}
ASKEW_MM = 1.0
"""An axle that is known to stand askew by more answers for itself."""
OF_BOXES = (marks.RAIL_SHIFT, marks.MASH, marks.OWN_SIDES)
"""What tells of a box that one of its corners is out."""
WHOLE = (finding_id(marks.RAIL_SHIFT, WHOLE_BOX), finding_id(marks.MASH, WHOLE_BOX))
"""A corner seen over the whole frame, where all the other boxes are true."""


class Corner(NamedTuple):
    """A corner that stands towards the middle of the frame, beside its twin."""

    side: str
    """left, right"""
    end: str
    """front: it stands back; rear: it stands forward."""
    box: PlaceId
    by: Judged
    """How much shorter its rail is, which is how far the corner is out."""
    shifts: tuple[Judged, ...]
    """The same corner seen by the diagonals of its box: half of it."""
    parts: tuple[Judged, ...]
    """The same corner seen over boxes that share a piece of that rail, where nothing else is left."""
    true: tuple[PlaceId, ...]
    """The other boxes, where all are known to be square and with rails equally long."""
    sources: tuple[FindingId, ...]


def corner_of(judged: Sequence[Judged], layout: Layout) -> Corner | None:
    """The corner that explains the plan; None where no rail is short, or where the figures leave
    anything else that it may be.
    """
    slipped = accused(judged)
    of_boxes = (j for j in judged if j.finding.quantity in OF_BOXES)
    sound = (j for j in of_boxes if not j.finding.disagrees and not rests_on(j, slipped))
    found = {j.finding.id: j for j in sound}
    corners = (_corner_at(judged, found, end, layout) for end in CORNERS)
    return next((c for c in corners if c is not None), None)


def _corner_at(
    judged: Sequence[Judged], found: dict[FindingId, Judged], end: str, layout: Layout
) -> Corner | None:
    at = _short_box(found, layout, end)
    if at is None:
        return None
    box, short = at
    others = _others(layout, box.id)
    shifts, rest = _known(found, shift_ids(box.id)), _all_true(found, others)
    kinds = kinds_left(judged, layout)
    alone = kinds == {CORNERS[end]} if kinds else bool(rest)
    if not alone or not all(_is_half(s, short, end) for s in shifts):
        return None
    parts = tuple(_over(found, layout, box)) if kinds else ()
    ids = tuple(j.finding.id for j in (short, *shifts, *rest))
    return Corner(_side(short), end, box.id, short, shifts, parts, others if rest else (), ids)


def _over(found: dict[FindingId, Judged], layout: Layout, box: Box) -> Iterator[Judged]:
    """What the boxes that share a piece of the rail say of the corner."""
    where = layout.place
    start, end = where(box.front).x, where(box.rear).x
    shared = (b for b in layout.boxes if b.id not in (box.id, layout.horns) and _is_rails(b))
    for other in shared:
        if where(other.front).x < end and where(other.rear).x > start:
            yield from _known(found, (*shift_ids(other.id), *_length_ids(other.id)))


def _all_true(found: dict[FindingId, Judged], boxes: Sequence[PlaceId]) -> tuple[Judged, ...]:
    """What shows that all these boxes are true; empty where one is not, or not known."""
    rest = [_true(found, box) for box in boxes]
    return tuple(chain.from_iterable(rest)) if all(rest) else ()


def _short_box(
    found: dict[FindingId, Judged], layout: Layout, end: str
) -> tuple[Box, Judged] | None:
    """The shortest box at an end in which a rail is surely short, and what says so."""
    short = ((box, _short(found, box.id)) for box in _end_boxes(layout, end))
    return next(((box, by) for box, by in short if by is not None), None)


def _end_boxes(layout: Layout, end: str) -> list[Box]:
    """The boxes between the rails that end at their first points, or at their last; shortest first.

    A rail pushed in as far as a crossmember further on is short in the longer box and may be too
    little so in the shorter: what is lost on the way to a kick is not all.
    """
    pairs = pairs_of(layout)
    if len(pairs) < 3:
        return []
    first, last = pairs[0].id, pairs[-1].id
    rails = (b for b in layout.boxes if b.id != WHOLE_BOX and _is_rails(b))
    inner = (b for b in rails if (b.front == first) != (b.rear == last))
    here = [b for b in inner if (b.front == first if end == "front" else b.rear == last)]
    where = layout.place
    return sorted(here, key=lambda b: where(b.rear).x - where(b.front).x)


def _others(layout: Layout, box: PlaceId) -> tuple[PlaceId, ...]:
    """The boxes between the rails beside this one."""
    gone = (box, WHOLE_BOX, layout.horns)
    return tuple(b.id for b in layout.boxes if b.id not in gone and _is_rails(b))


def _is_rails(box: Box) -> bool:
    return box.role != marks.NOSE and not is_own(box.id)


def _short(found: dict[FindingId, Judged], box: PlaceId) -> Judged | None:
    """The surer of the two ways to know that a rail of the box is short, where it is beyond doubt."""
    best = min(_known(found, _length_ids(box)), key=lambda j: j.half_width, default=None)
    return best if best is not None and beyond(best, SHORT_MM) else None


def _side(short: Judged) -> str:
    """own-sides is left minus right; mash is right minus left."""
    longer_left = (short.finding.value > 0) == (short.finding.quantity == marks.OWN_SIDES)
    return SIDES[longer_left]


def shift_ids(box: PlaceId) -> tuple[FindingId, ...]:
    """Findings that say how far a box is out of square."""
    return tuple(finding_id(marks.RAIL_SHIFT, b) for b in (box, BARS.get(box, NO_PLACE)) if b)


def _length_ids(box: PlaceId) -> tuple[FindingId, ...]:
    """Findings that say how much longer one rail of a box is."""
    return finding_id(marks.MASH, box), finding_id(marks.OWN_SIDES, box)


def _known(found: dict[FindingId, Judged], ids: tuple[FindingId, ...]) -> tuple[Judged, ...]:
    return tuple(found[i] for i in ids if i in found)


def _true(found: dict[FindingId, Judged], box: PlaceId) -> tuple[Judged, ...]:
    """What shows that a box is square with equal rails; empty where it is not both, or not known."""
    shifts, lengths = _known(found, shift_ids(box)), _known(found, _length_ids(box))
    square = bool(shifts) and all(is_true(j) for j in shifts)
    equal = bool(lengths) and not any(_longer(j) for j in lengths)
    return (*shifts, *lengths) if square and equal else ()


def _longer(judged: Judged) -> bool:
    return not is_true(judged) if judged.bands else beyond(judged, SHORT_MM)


def _is_half(shift: Judged, short: Judged, end: str) -> bool:
    """Whether the diagonals see half of the short rail, on its side, within both doubts."""
    half = abs(short.finding.value) / 2
    right_back = (_side(short) == "right") == (end == "front")
    off = shift.finding.value - (half if right_back else -half)
    return abs(off) <= math.hypot(shift.half_width, short.half_width / 2) + SHORT_MM / 2


class Carried(NamedTuple):
    """What the plan foretells of the wheelbases."""

    side: str
    """The side whose wheelbase must be the shorter."""
    end: str
    """front or rear: the end that is out."""
    most: float
    """By how much at most, mm."""
    half: float
    """Half the 95 % interval of that, mm."""
    sources: tuple[FindingId, ...]
    corner: bool
    """Whether it is known to be one corner."""

    def explains(self, base: Judged) -> bool:
        """Whether a wheelbase is uneven just as foretold: short on that side, and by no more."""
        if self.end == "rear" and not self.corner:
            return False
        short = "right" if base.finding.value > 0 else "left"
        most = self.most + math.hypot(self.half, base.half_width)
        return short == self.side and abs(base.finding.value) <= most


def carried(judged: Sequence[Judged], layout: Layout) -> Carried | None:
    """From the corner that is out, else from the one box that is out of square beside a square one."""
    corner = corner_of(judged, layout)
    if corner is not None:
        by = corner.by
        return Carried(
            corner.side, corner.end, abs(by.finding.value), by.half_width, (by.finding.id,), True
        )
    if any(j.finding.quantity == marks.SWAY and is_out(j) for j in judged):
        return None  # a bend sideways puts the boxes out of square and takes no axle back
    found = {j.finding.id: j for j in judged}
    in_front = _by_the_box(found, FRONT_BOX, REAR_BOX)
    return in_front or _by_the_box(found, REAR_BOX, FRONT_BOX)


def _by_the_box(found: Mapping[FindingId, Judged], box: PlaceId, other: PlaceId) -> Carried | None:
    """What a box that is out of square foretells, where the other is surely square."""
    still = _shifts(found, other)
    if not still or not all(map(is_true, still)):
        return None
    out = next(filter(is_out, _shifts(found, box)), None) or _by_the_whole(found, still)
    if out is None:
        return None
    side = "right" if (out.finding.value > 0) == (box == FRONT_BOX) else "left"
    # Where one corner alone moved, the diagonals show half of it; not so where both rails
    # are equally long.
    times = 1 if is_true(found.get(finding_id(marks.MASH, box))) else 2
    most = times * abs(out.finding.value)
    return Carried(side, ENDS[box], most, times * out.half_width, (out.finding.id,), False)


def _shifts(found: Mapping[FindingId, Judged], box: PlaceId) -> list[Judged]:
    return [found[i] for i in shift_ids(box) if i in found]


def _by_the_whole(found: Mapping[FindingId, Judged], still: Sequence[Judged]) -> Judged | None:
    """Where the other box is still, what the whole frame is out by sits in this one."""
    whole = found.get(WHOLE[0])
    if whole is None or not is_out(whole):
        return None
    most = max(abs(j.finding.value) + j.half_width for j in still)
    return whole if most < abs(whole.finding.value) else None


def explained(judged: Sequence[Judged], layout: Layout) -> Judged | None:
    """The wheelbase finding, where it is uneven just as the plan foretells; None where the axle
    must answer for it.
    """
    base = _uneven(judged)
    by = carried(judged, layout) if base is not None else None
    if base is None or by is None or _askew(judged):
        return None
    return base if by.explains(base) else None


def _uneven(judged: Sequence[Judged]) -> Judged | None:
    """The wheelbase that is surely longer on one side."""
    bases = (j for j in judged if j.finding.quantity == marks.WHEELBASE and j.worst != "leave")
    base = next(bases, None)
    return base if base is not None and beyond(base, 0.0) else None


def _askew(judged: Sequence[Judged]) -> bool:
    return any(j.finding.quantity == marks.AXLE and beyond(j, ASKEW_MM) for j in judged)


def settled(judged: tuple[Judged, ...], layout: Layout) -> tuple[Judged, ...]:
    """The findings, with those held back that another tells whole.

    The half-figures of a corner keep their bands but are quiet; an explained wheelbase loses its
    bands, so that it is neither open nor a reason.
    """
    corner, base = corner_of(judged, layout), explained(judged, layout)
    # Only where the corner itself has a limit: else nobody would judge it at all.
    told = corner is not None and bool(corner.by.bands)
    same = (*corner.shifts, *corner.parts) if corner and told else ()
    quiet = {*(WHOLE if told else ()), *(j.finding.id for j in same)}
    return tuple(
        (
            j._replace(bands=(), quiet=True)
            if j is base
            else j._replace(quiet=True)
            if j.finding.id in quiet
            else j
        )
        for j in judged
    )
