"""What is the matter with a plan that is out: only what its figures tell apart.

A slipped rail, one corner back and an end bent over sideways all make diagonals unequal. Each moves
every figure of the plan by its own share: a kind is left only where some amount of it fits all that
was measured. Where two kinds are left, the readings do not tell which it is.

Source: plane geometry. Rails that bend sideways keep their lengths, so the crossmembers stay
parallel to one another: each box is then out of square although no rail slipped along its twin.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from wizard.judgment.bands import Judged
from wizard.library import marks
from wizard.library.places import (
    FRONT_BOX,
    NO_PLACE,
    REAR_BOX,
    FindingId,
    PlaceId,
    QuantityId,
    WhereId,
    finding_id,
)
from wizard.library.shapes import Box, Layout, Place
from wizard.math.covariance import fitted
from wizard.math.uncertain import Uncertain

DIAMOND, FRONT, REAR, BOW, END, POINT, SHORT, NOSE = (
    "diamond",
    "front-corner",
    "rear-corner",
    "bow",
    "end-over",
    "one-point",
    "short-rail",
    "nose-aside",
)
"""One rail along its twin; one corner of the front or the rear; both rails bent between the ends, or
one end bent over; one point beside its place (often another rivet); a rail shorter somewhere else;
the nose pushed aside.
"""
SIDEWAYS = frozenset({BOW, END})
"""Kinds that put boxes out of square though no rail moved along its twin."""
FITS = 0.01
"""Chance of a misfit under which a kind is excluded."""


class Cause(NamedTuple):
    """One kind of damage by what a millimeter of it does to each place, front to rear."""

    kind: str
    back: Mapping[WhereId, float]
    """How much further back the right point of a pair goes than the left."""
    aside: Mapping[WhereId, float]
    """How far a pair, or a nose, goes to the right."""


class Shape(NamedTuple):
    """The figures of a plan, and the places that they are about."""

    layout: Layout
    pairs: tuple[Place, ...]
    """Places of the main box with a point on either side, front to rear."""
    found: Mapping[FindingId, Judged]
    """Judged figures by id."""

    def place(self, id: WhereId) -> Place:
        """A place of the frame by its id."""
        return self.layout.place(id)


def kinds_left(judged: Sequence[Judged], layout: Layout) -> frozenset[str]:
    """The kinds of damage of which some amount fits every figure of the plan.

    None where no single kind fits: then more than one thing is the matter, or a reading is wrong.
    """
    shape = Shape(layout, pairs_of(layout), {j.finding.id: j for j in judged})
    rows = tuple(_figures(shape))
    if not rows or len(shape.pairs) < 2:
        return frozenset()
    left = set()
    for cause in _causes(shape):
        shares = [share(cause, shape, quantity, where) for quantity, where, _ in rows]
        if cause.kind not in left and any(shares):
            numbers = [number for _, _, number in rows]
            if fitted(numbers, shares).chance >= FITS:
                left.add(cause.kind)
    return frozenset(left)


def pairs_of(layout: Layout) -> tuple[Place, ...]:
    """The places of the main box with a point on either side, front to rear; never the horns."""
    pairs = [p for p in layout.places if not p.horns and p.sides == ("left", "right")]
    return tuple(sorted(pairs, key=lambda p: p.x))


def _figures(shape: Shape) -> Iterator[tuple[QuantityId, WhereId, Uncertain]]:
    """What the plan says: quantity, where, number; each length of rails once."""
    for j in shape.found.values():
        f = j.finding
        if f.disagrees or f.number.u <= 0.0:
            continue
        if f.quantity == marks.OWN_SIDES:
            if f.where != shape.layout.horns and finding_id(marks.MASH, f.where) not in shape.found:
                yield marks.MASH, f.where, f.number.scaled(-1.0)
        elif f.quantity in (marks.RAIL_SHIFT, marks.MASH, marks.SWAY):
            yield f.quantity, f.where, f.number


# What each figure sees ------------------------------------------------------------------------


def share(cause: Cause, shape: Shape, quantity: QuantityId, where: WhereId) -> float:
    """By how much one millimeter of a cause moves a figure."""
    if quantity == marks.SWAY:
        return _bowed(cause, shape, where)
    box = _box(shape.layout, where)
    if box is None:
        return 0.0
    turned = _turned(cause, shape, box)
    rear = _seen_back(cause, shape, box.rear, turned)
    if box.role == marks.NOSE:
        return rear
    front = _seen_back(cause, shape, box.front, turned)
    return (front + rear) / 2 if quantity == marks.RAIL_SHIFT else rear - front


def _box(layout: Layout, where: WhereId) -> Box | None:
    return layout.box_by_id.get(FRONT_BOX if where == marks.BY_BAR else where)


def _turned(cause: Cause, shape: Shape, box: Box) -> float:
    """How far the box's own middle line turns to the right, a ratio."""
    a, b = shape.place(box.front), shape.place(box.rear)
    return (cause.aside.get(b.id, 0.0) - cause.aside.get(a.id, 0.0)) / (b.x - a.x)


def _seen_back(cause: Cause, shape: Shape, place: WhereId, turned: float) -> float:
    """How much further back the right point lies, along a line that has turned."""
    return cause.back.get(place, 0.0) + 2 * shape.place(place).half_width * turned


def _bowed(cause: Cause, shape: Shape, place: WhereId) -> float:
    """How far a place lies off the line between the first pair and the last of the layout."""
    first, last = shape.pairs[0], shape.pairs[-1]
    at = (shape.place(place).x - first.x) / (last.x - first.x)
    ends = cause.aside.get(first.id, 0.0) * (1.0 - at) + cause.aside.get(last.id, 0.0) * at
    return cause.aside.get(place, 0.0) - ends


# What may have happened -------------------------------------------------------------------------


def _causes(shape: Shape) -> Iterator[Cause]:
    pairs = shape.pairs
    yield Cause(DIAMOND, {p.id: 1.0 for p in pairs}, {})
    yield from _shortened(shape)
    yield _smooth_bow(shape)
    for place in pairs[1:-1]:
        yield Cause(POINT, {place.id: 1.0}, {})
        yield from bent_at(shape, place.x)
    for nose in (p for p in shape.layout.places if p.sides == ("middle",) and p.x < pairs[0].x):
        yield Cause(NOSE, {}, {nose.id: 1.0})


def _shortened(shape: Shape) -> Iterator[Cause]:
    """A rail shortened between two neighbors: what lies ahead went back, or what lies behind came
    forward.

    In the first gap of the front box that is its corner, in the last of the rear box the other.
    """
    ids = [p.id for p in shape.pairs]
    box_end = _reach(shape, FRONT_BOX, "rear", ids)
    box_start = _reach(shape, REAR_BOX, "front", ids)
    for n in range(1, len(ids)):
        ahead, behind = ids[:n], ids[n:]
        front = FRONT if n <= box_end else SHORT
        rear = REAR if n > box_start else SHORT
        yield Cause(front, dict.fromkeys(ahead, 1.0), {})
        yield Cause(rear, dict.fromkeys(behind, 1.0), {})


def _reach(shape: Shape, box: PlaceId, end: str, ids: Sequence[PlaceId]) -> int:
    """Which pair is at the inner end of a box; the outermost but one where there is no such box."""
    found = shape.layout.box_by_id.get(box)
    place = getattr(found, end) if found else NO_PLACE
    return ids.index(place) if place in ids else (1 if end == "rear" else len(ids) - 2)


def _smooth_bow(shape: Shape) -> Cause:
    """Both rails bowed sideways in one even curve from the first pair to the last."""
    first, last = shape.pairs[0].x, shape.pairs[-1].x
    along = {p.id: (p.x - first) / (last - first) for p in shape.layout.places if not p.horns}
    return Cause(BOW, {}, {id: 4.0 * at * (1.0 - at) for id, at in along.items()})


def bent_at(shape: Shape, x: float) -> Iterator[Cause]:
    """Both rails bent sideways at x: between ends that stay, or one end over."""
    there = [p for p in shape.layout.places if not p.horns]
    first, last = shape.pairs[0].x, shape.pairs[-1].x
    bow: dict[WhereId, float] = {
        p.id: (p.x - first) / (x - first) if p.x <= x else (last - p.x) / (last - x) for p in there
    }
    yield Cause(BOW, {}, bow)
    yield Cause(END, {}, {p.id: max(0.0, (x - p.x) / (x - first)) for p in there})
    yield Cause(END, {}, {p.id: max(0.0, (p.x - x) / (last - x)) for p in there})
