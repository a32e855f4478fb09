"""What the frame explains of an axle set, and what it leaves to the axle.

Source: geometry of the ball that goes down with the engine (wizard/checks/caster.py). The rest:
common practice, no published source. Nothing here judges the frame, and a wobble never does.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import NamedTuple

from wizard.checks.notes import AT_LEAST
from wizard.judgment.bands import Judged
from wizard.judgment.facts import beyond, is_out, is_true
from wizard.library import marks
from wizard.library.places import FindingId, QuantityId, WhereId
from wizard.library.shapes import Layout


class FramePart(NamedTuple):
    """What the frame has to do with one figure of the axle set."""

    of: QuantityId
    """The figure: caster-book, caster-apart, perch-apart, beam-bend."""
    kind: str
    """ball, ball-still, ball-unread, no-ball; one-ball, square, out, not-known; twist, no-twist,
    twist-not-known; short-wheelbase.
    """
    amount: float = 0.0
    """In the figure's unit, with its sign; 0 where the frame explains no amount."""
    at_least: bool = False
    side: str = ""
    sources: tuple[FindingId, ...] = ()


def frame_parts(judged: Collection[Judged], layout: Layout) -> tuple[FramePart, ...]:
    """What the frame explains of each figure that stands out of its doubt, in the order of telling."""
    by: dict[QuantityId, list[Judged]] = {}
    for one in judged:
        by.setdefault(one.finding.quantity, []).append(one)
    givers = (_beam, _caster_off, _caster_apart, _perches)
    return tuple(part for give in givers for part in give(by, layout))


Found = dict[QuantityId, list[Judged]]


def _told(by: Found, quantity: QuantityId) -> list[Judged]:
    return [j for j in by.get(quantity, []) if j.is_told]


def _ids(found: Collection[Judged]) -> tuple[FindingId, ...]:
    return tuple(j.finding.id for j in found)


def _beam(by: Found, layout: Layout) -> Iterator[FramePart]:
    """An end of the beam that lies back, and the wheelbase of that side, which is short."""
    base = next(iter(by.get(marks.WHEELBASE, [])), None)
    if base is None or not beyond(base, 0.0):
        return
    short = WhereId("right" if base.finding.value > 0 else "left")
    for end in _told(by, marks.BEAM_BEND):
        if end.finding.where == short and end.finding.value > 0 and beyond(end, 0.0):
            ids = (end.finding.id, base.finding.id)
            yield FramePart(marks.BEAM_BEND, "short-wheelbase", side=str(short), sources=ids)


def _caster_off(by: Found, layout: Layout) -> Iterator[FramePart]:
    """Caster that is another than the book's: what the ball does to it on both sides alike."""
    off = _told(by, marks.CASTER_BOOK)
    if not off:
        return
    if not {"ball_x", "rod"} <= layout.figures.keys():
        yield FramePart(marks.CASTER_BOOK, "no-ball", sources=_ids(off))
        return
    ball = next(iter(by.get(marks.CASTER, [])), None)
    if ball is None:
        yield FramePart(marks.CASTER_BOOK, "ball-unread", sources=_ids(off))
        return
    moved = beyond(ball, 0.0)
    yield FramePart(
        marks.CASTER_BOOK,
        "ball" if moved else "ball-still",
        ball.finding.value if moved else 0.0,
        at_least=ball.finding.has(AT_LEAST),
        sources=(*_ids(off), ball.finding.id),
    )


SQUARE = (marks.RAIL_SHIFT, marks.TWIST)
"""What must be in order before unequal caster is laid to the beam."""


def _caster_apart(by: Found, layout: Layout) -> Iterator[FramePart]:
    """Unequal caster: one ball holds both ends alike; with two springs the frame must be square
    first.
    """
    apart = _told(by, marks.CASTER_APART)
    if not apart:
        return
    if "ball_x" in layout.figures:
        yield FramePart(marks.CASTER_APART, "one-ball", sources=_ids(apart))
        return
    out = [j for q in SQUARE for j in by.get(q, []) if is_out(j)]
    known = all(any(map(is_true, by.get(q, []))) for q in SQUARE)
    kind = "out" if out else "square" if known else "not-known"
    yield FramePart(marks.CASTER_APART, kind, sources=(*_ids(apart), *_ids(out)))


def _perches(by: Found, layout: Layout) -> Iterator[FramePart]:
    """Rails unequally high over their perches: a twist of the frame leans its front end too."""
    apart, twists = _told(by, marks.PERCH_APART), by.get(marks.TWIST, [])
    if not apart:
        return
    out = [j for j in twists if is_out(j)]
    worst = max(out, key=lambda j: abs(j.finding.value), default=None)
    kind = "twist" if out else "no-twist" if twists and all(map(is_true, twists)) else ""
    amount = abs(worst.finding.value) if worst else 0.0
    ids = (*_ids(apart), *_ids(out))
    yield FramePart(marks.PERCH_APART, kind or "twist-not-known", amount, sources=ids)


# The wobble ---------------------------------------------------------------------------------------

TIRES, JOINTS, PINS, TOE, CASTER, BRAKES, SPRINGS, AXLE, FRAME = (
    *("tires", "joints", "kingpins", "toe", "caster"),
    *("brakes", "springs", "axle", "frame"),
)
IN_ORDER: dict[str, tuple[str, ...]] = {
    marks.SHAKE: (TIRES, JOINTS, PINS, TOE, CASTER, SPRINGS, AXLE),
    marks.HOP: (TIRES, JOINTS, SPRINGS, PINS, AXLE),
    marks.WANDER: (JOINTS, TIRES, TOE, CASTER, PINS, SPRINGS, AXLE),
    marks.PULL: (TIRES, BRAKES, CASTER, AXLE, SPRINGS, JOINTS),
    "": (TIRES, JOINTS, PINS, TOE, CASTER, BRAKES, SPRINGS, AXLE),
}
"""Where to look first for what was felt; the frame is behind all of them. Too much caster, worn joints,
toe and tires for a wobble, too little caster for a wander: TM 5-3805-254-14P-2; the order: common
practice, no published source.
"""
FIRST: dict[str, tuple[str, ...]] = {
    marks.BRAKING: (BRAKES,),
    marks.FAST: (TIRES,),
    marks.NEW_TIRES: (TIRES,),
    marks.AXLE_WORK: (TOE, CASTER, SPRINGS),
    marks.A_HIT: (AXLE, TOE, CASTER),
    marks.SLOW: (),
    marks.ALWAYS: (),
    marks.BY_AND_BY: (JOINTS, PINS),
}
"""What comes before the rest because of when it was felt, or since when."""


def where_to_look(felt: str, when: str, since: str) -> tuple[str, ...]:
    """The causes in the order of looking; the frame is always the last.

    felt, when, since: what was answered, by its meaning; empty where nobody knew.

    >>> where_to_look("shake", "braking", "")[0], where_to_look("pull", "", "a-hit")[-1]
    ('brakes', 'frame')
    """
    first = (*FIRST.get(when, ()), *FIRST.get(since, ()))
    return tuple(dict.fromkeys((*first, *IN_ORDER.get(felt, IN_ORDER[""]), FRAME)))
