"""The bent model from above, from the side and end-on, drawn larger than it is bent, with the scale
said.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from wizard.library.places import SIDES, PlaceId, PointId
from wizard.model.bent import Bent
from wizard.model.frame import Frame
from wizard.telling.canvas import FAINT, RAIL, TAPE, Canvas, Charset, Drawing
from wizard.telling.cells import painted
from wizard.telling.scene import (
    Flat,
    Mark,
    Scene,
    Stroke,
    drawn_words,
    enlargement,
    times_as_far,
)
from wizard.telling.scene_frame import members, rail_of, rails, sides
from wizard.telling.scene_string import own_shape

SMALLEST = (26, 4)
"""Width and height in cells under which only the words are given."""
LEAST = 0.05
"""mm; what moved less is drawn as not moved."""
STEPS = 40
"""Straight pieces of a rail seen from the side."""
APART = 0.3
"""mm from which the two rails are told apart."""
SPRINGING = 10
"""Times at most that a sound rail's springing under the engine is drawn too large: it is not to
look like a bend.
"""


@dataclass(frozen=True, slots=True)
class Views:
    """The three pictures."""

    plan: Drawing
    side: Drawing
    end: Drawing
    captions: tuple[str, str, str]
    """A few words over each: from where it is seen, and how much too large it is drawn."""


class Scale(NamedTuple):
    """How large a view draws what moved: by the frame alone, whatever the size of the picture."""

    times: int
    moved: bool

    def words(self) -> str:
        """The same said."""
        return drawn_words(self.times) if self.moved else "nothing moved"


def scale_of(moved: Iterable[float], length: float) -> Scale:
    """The largest round enlargement for the largest of some movements, mm, on what is so long.

    >>> scale_of([3.0, -6.0], 3000.0).words(), scale_of([0.0], 3000.0).words()
    ('drawn 50 times too large', 'nothing moved')
    """
    most = max((abs(m) for m in moved), default=0.0)
    return Scale(enlargement(most, length), True) if most > LEAST else Scale(1, False)


def views(frame: Frame, width: int, heights: tuple[int, int, int], charset: Charset) -> Views:
    """Plan, side and end-on, each in its own box of so many cells."""
    captions = (
        f"From above, {_plan_scale(frame).words()}",
        f"Side on, {_side_scale(frame).words()}",
        f"End-on, {_end_scale(frame).words()}",
    )
    return Views(
        plan_bent(frame, width, heights[0], charset),
        side_bent(frame, width, heights[1], charset),
        end_bent(frame, width, heights[2], charset),
        captions,
    )


# From above
# --------------------------------------------------------------------------------------


def plan_bent(frame: Frame, width: int, height: int, charset: Charset) -> Drawing:
    """From above, the front to the left, so the car's left rail is the lower one.

    Dots: where it was.
    """
    return painted(bent_scene(frame), width, height, charset, SMALLEST)


def bent_scene(frame: Frame) -> Scene:
    """Both rails where they are now, too far, over where they were."""
    layout, scale = frame.layout, _plan_scale(frame)
    was, now = _places(Frame(layout, Bent())), _places(frame)
    drawn = times_as_far(was, now, scale.times)
    axles = _axles(frame) if _skew(frame) else []
    shown = [*was.values(), *drawn.values(), *((x, half) for x, _, half in axles)]
    along = [x for x, _ in shown] or [0.0, 1.0]
    half = max(abs(y) for _, y in shown)
    parts = (
        *rails(layout, drawn, lit=True),
        *members(layout, drawn),
        *(rails(layout, was, pale=True) if scale.times > 1 else ()),
        *(_skewed(x, scale.times * skewed / 2, across) for x, skewed, across in axles),
        *(Mark("point", at) for at in drawn.values()),
        *sides(layout, half),
    )
    words = f"From above, front to the left: {scale.words()}."
    return Scene(parts, (min(along), max(along)), half or 1.0, words)


def _plan_scale(frame: Frame) -> Scale:
    was, now = _places(Frame(frame.layout, Bent())), _places(frame)
    along = [x for x, _ in was.values()] or [0.0, 1.0]
    return scale_of([*_moves(was, now), _skew(frame)], max(along) - min(along))


def _skew(frame: Frame) -> float:
    """How far an axle's end is drawn from where it was, mm."""
    return max(abs(frame.bent.axle_front), abs(frame.bent.axle_rear)) / 2


def _moves(was: dict[PointId, Flat], now: dict[PointId, Flat]) -> list[float]:
    """How far each point moved, along and across."""
    return [b - a for id in was for a, b in zip(was[id], now[id], strict=True)]


def _places(frame: Frame) -> dict[PointId, Flat]:
    """Where each point of the rails lies, from above."""
    found = {}
    for side in SIDES:
        for id in rail_of(frame.layout, side):
            x, y, _ = frame.point(id)
            found[id] = (x, y)
    return found


def _skewed(x: float, lean: float, half: float) -> Stroke:
    """An axle that leans: its right end so far ahead of the middle as its left end is behind."""
    return Stroke("skewed", ((x + lean, -half), (x - lean, half)))


def _axles(frame: Frame) -> list[tuple[float, float, float]]:
    """x, skew and half length as drawn of each axle."""
    f = frame.layout.figures
    half = 1.15 * max(p.half_width for p in frame.layout.places)
    ends = (
        ("front_axle_x", frame.front, frame.bent.axle_front),
        ("rear_axle_x", frame.rear, frame.bent.axle_rear),
    )
    return [(f.get(name, x), skew, half) for name, x, skew in ends]


# From the side
# --------------------------------------------------------------------------------------------------


def _lowered(frame: Frame, side: str, x: float) -> float:
    """How far a rail, or the horn ahead of it, lies below the line between the string's blocks, mm."""
    low = frame.sag(side, x, loaded=frame.loaded)
    tip = next((p for p in frame.layout.places if p.horns), None)
    if tip is None or x >= frame.front:
        return low
    horn = frame.bent.horn_left if side == "left" else frame.bent.horn_right
    return low - horn.up * (frame.front - x) / (frame.front - tip.x)


def _bent(bent: Bent) -> bool:
    """Whether anything of it shows from the side."""
    return bool(bent.left or bent.right or bent.horn_left.up or bent.horn_right.up)


@dataclass(frozen=True, slots=True)
class Bend:
    """Both rails against their string."""

    xs: tuple[float, ...]
    """mm, from the first to the last of rails and string."""
    left: tuple[float, ...]
    """How low the left rail lies at each, mm."""
    right: tuple[float, ...]

    def each(self) -> list[tuple[float, float, float]]:
        """x, left and right."""
        return list(zip(self.xs, self.left, self.right, strict=True))

    @property
    def low(self) -> float:
        """The lowest that either lies, mm."""
        return max(*self.left, *self.right, 0.0)

    @property
    def high(self) -> float:
        """The highest that either lies, mm upward."""
        return -min(*self.left, *self.right, 0.0)

    @property
    def differs(self) -> bool:
        """Whether the rails are told apart."""
        return max(abs(a - b) for a, b in zip(self.left, self.right, strict=True)) > APART


def bend_of(frame: Frame) -> Bend:
    """Both rails of a bent frame."""
    along = [*(p.x for p in frame.layout.places), *frame.layout.string]
    start, end = min(along), max(along)
    xs = tuple(start + (end - start) * n / STEPS for n in range(STEPS + 1))
    left, right = (tuple(_lowered(frame, side, x) for x in xs) for side in ("left", "right"))
    return Bend(xs, left, right)


def _side_scale(frame: Frame) -> Scale:
    bend = bend_of(frame)
    scale = scale_of([bend.low + bend.high], bend.xs[-1] - bend.xs[0])
    return scale if _bent(frame.bent) else scale._replace(times=min(scale.times, SPRINGING))


def side_bent(frame: Frame, width: int, height: int, charset: Charset) -> Drawing:
    """Both rails from the side against a string, the front to the left; the right rail dashed where
    they differ. In a low box the picture is narrower, so that the scale is the one that is said.
    """
    bend, scale = bend_of(frame), _side_scale(frame)
    words = f"From the side, front to the left: {scale.words()}."
    if width < SMALLEST[0] or height < SMALLEST[1]:
        return Drawing((), (), words)
    start, length = bend.xs[0], bend.xs[-1] - bend.xs[0]
    own = own_shape(frame.layout)
    drop = [own(x) + scale.times * sag for x, *sags in bend.each() for sag in sags]
    low, high = max(*drop, 0.0), -min(*drop, 0.0)
    deep = low + high
    room = min(width - 12.0, (height - 2.0) * 2 * length / deep if deep else math.inf)
    mm_per_row = 2 * length / room
    canvas = Canvas(width, height, charset)
    zero = 0.75 + high / mm_per_row

    def at(x: float, sag: float) -> Flat:
        row = zero + (own(x) + scale.times * sag) / mm_per_row
        return 8.5 + room * (x - start) / length, min(max(row, 0.25), height - 0.25)

    first, last = frame.layout.string
    canvas.line(*at(first, 0.0), *at(last, 0.0), FAINT)
    _rails(canvas, bend, at)
    canvas.text(int(zero), 0, "string")
    key = "right rail dashed" if bend.differs else "both rails alike"
    canvas.label([height - 1, height - 2, 0], width // 2 + 3, key, reach=width)
    return canvas.drawing(words)


def _rails(canvas: Canvas, bend: Bend, at: Callable[[float, float], Flat]) -> None:
    right = TAPE if bend.differs else RAIL
    for sags, pen, lit in ((bend.left, RAIL, True), (bend.right, right, False)):
        for (x0, a), (x1, b) in pairwise(zip(bend.xs, sags, strict=True)):
            canvas.line(*at(x0, a), *at(x1, b), pen, lit)


# End-on
# --------------------------------------------------------------------------------------


def _leans(frame: Frame) -> dict[PlaceId, float]:
    """How much higher one side stands than the other, mm: in front, and where it leans most."""
    across = 2 * frame.half_width(frame.rear)
    return {e: frame.slope(e) * across for e in (frame.pairs[0].id, _leans_most(frame))}


def _end_scale(frame: Frame) -> Scale:
    return scale_of(_leans(frame).values(), 2 * frame.half_width(frame.rear))


def end_bent(frame: Frame, width: int, height: int, charset: Charset) -> Drawing:
    """The rails' tops end-on, seen from the rear looking forward: in front dashed, where it leans
    most whole.
    """
    names = {p.id: p.name for p in frame.layout.places}
    first, other = leans = _leans(frame)
    scale, across = _end_scale(frame), 2 * frame.half_width(frame.rear)
    words = f"End-on from the rear, {names[first]} dashed, {names[other]} solid: {scale.words()}."
    if width < SMALLEST[0] or height < SMALLEST[1]:
        return Drawing((), (), words)
    canvas = Canvas(width, height, charset)
    middle = height / 2 - 0.25
    most = scale.times * max(map(abs, leans.values())) / across
    room = min(width - 13.0, (height - 2.0) * 2 / most if most else math.inf)
    for end, pen in ((first, TAPE), (other, RAIL)):
        rise = scale.times * leans[end] / across * room / 4
        canvas.line(6.5, middle - rise, 6.5 + room, middle + rise, pen, lit=end == other)
    canvas.text(int(middle), 0, "left")
    canvas.text(int(middle), int(8 + room), "right")
    key = f"{names[first]} dashed, {names[other]} solid"
    canvas.label([height - 1, 0], width // 2, key, reach=width)
    return canvas.drawing(words)


def _leans_most(frame: Frame) -> PlaceId:
    """The place that leans most against the front; the rear where none leans more."""
    first, rear = frame.pairs[0].id, frame.pairs[-1].id
    ends = [p.id for p in frame.pairs] + [p.id for p in frame.layout.places if p.horns]
    off = {e: round(abs(frame.slope(e) - frame.slope(first)), 6) for e in ends if e != first}
    return max(off, key=lambda e: (off[e], e == rear))
