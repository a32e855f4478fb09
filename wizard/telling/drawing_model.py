"""The bent model from above, from the side and end-on, drawn larger than it is bent, with the scale
said.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import pairwise

from wizard.library.places import SIDES, PlaceId, PointId
from wizard.model.bent import Bent
from wizard.model.frame import Frame
from wizard.telling.canvas import FAINT, RAIL, TAPE, Canvas, Charset, Drawing
from wizard.telling.cells import painted
from wizard.telling.scene import TIMES, Flat, Mark, Scene, Stroke, times_as_far
from wizard.telling.scene_frame import members, rail_of, rails, sides

SMALLEST = (26, 4)
"""Width and height in cells under which only the words are given."""
SHARE = 0.09
"""Share of the frame's length that the largest movement is drawn as, at most."""
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


def views(frame: Frame, width: int, heights: tuple[int, int, int], charset: Charset) -> Views:
    """Plan, side and end-on, each in its own box of so many cells."""
    plan = plan_bent(frame, width, heights[0], charset)
    side = side_bent(frame, width, heights[1], charset)
    end = end_bent(frame, width, heights[2], charset)
    return Views(plan, side, end, (_caption(plan), _caption(side), _caption(end)))


def _caption(drawing: Drawing) -> str:
    """The sentence of a picture without what its labels say already."""
    words = (
        drawing.words.replace(", front to the left", "").replace(" from the rear", "").rstrip(".")
    )
    return words.replace("dashed: moved", "dashed:")


def times_for(moved: Iterable[float], room: float) -> int:
    """The largest round enlargement at which all of it stays within `room`, mm; 1 where nothing
    moved.

    >>> times_for([3.0, -6.0], 200.0), times_for([0.0], 200.0)
    (30, 1)
    """
    most = max((abs(m) for m in moved), default=0.0)
    return max((t for t in TIMES if t * most <= room), default=1) if most > LEAST else 1


def scale_words(times: int, moved: bool) -> str:
    """How much too large it is drawn."""
    if not moved:
        return "nothing moved"
    return f"moved {times} times too far" if times > 1 else "drawn as far as it moved"


# From above
# --------------------------------------------------------------------------------------


def plan_bent(frame: Frame, width: int, height: int, charset: Charset) -> Drawing:
    """From above, the front to the left, so the car's left rail is the lower one.

    Dots: where it was.
    """
    return painted(bent_scene(frame), width, height, charset, SMALLEST)


def bent_scene(frame: Frame) -> Scene:
    """Both rails where they are now, too far, over where they were."""
    layout = frame.layout
    was, now = _places(Frame(layout, Bent())), _places(frame)
    moved = [*_moves(was, now), max(abs(frame.bent.axle_front), abs(frame.bent.axle_rear)) / 2]
    along = [x for x, _ in was.values()] or [0.0, 1.0]
    times = times_for(moved, SHARE * (max(along) - min(along)))
    drawn = times_as_far(was, now, times)
    axles = _axles(frame) if moved[-1] else []
    along += [x for x, _, _ in axles]
    half = max(abs(y) for _, y in was.values())
    parts = (
        *rails(layout, drawn, lit=True),
        *members(layout, drawn),
        *(rails(layout, was, pale=True) if times > 1 else ()),
        *(_skewed(x, times * skewed / 2, across) for x, skewed, across in axles),
        *(Mark("point", at) for at in drawn.values()),
        *sides(layout, half),
    )
    words = f"From above, front to the left: {scale_words(times, max(map(abs, moved)) > LEAST)}."
    return Scene(parts, (min(along) - 60, max(along) + 60), half * 1.2 or 1.0, words)


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


def side_bent(frame: Frame, width: int, height: int, charset: Charset) -> Drawing:
    """Both rails from the side against a string, the front to the left; the right rail dashed where
    they differ.
    """
    bend = bend_of(frame)
    start, length = bend.xs[0], bend.xs[-1] - bend.xs[0]
    room = width - 12
    mm_per_row = 2 * length / max(room, 1)
    times = times_for([bend.low + bend.high], max(height - 1.8, 1) * mm_per_row)
    times = times if _bent(frame.bent) else min(times, SPRINGING)
    told = scale_words(times, bend.low + bend.high > LEAST)
    words = f"From the side, front to the left: {told}."
    if width < SMALLEST[0] or height < SMALLEST[1]:
        return Drawing((), (), words)
    canvas = Canvas(width, height, charset)
    zero = 0.75 + times * bend.high / mm_per_row

    def at(x: float, sag: float) -> Flat:
        row = zero + times * sag / mm_per_row
        return 8.5 + room * (x - start) / length, min(max(row, 0.25), height - 0.25)

    _rails(canvas, bend, at)
    first, last = frame.layout.string
    canvas.line(*at(first, 0.0), *at(last, 0.0), FAINT)
    canvas.text(int(zero), 0, "string")
    key = "right rail dashed" if bend.differs else "both rails alike"
    canvas.label([height - 1, height - 2], width // 2 + 3, key, reach=20)
    return canvas.drawing(words)


def _rails(canvas: Canvas, bend: Bend, at: Callable[[float, float], Flat]) -> None:
    right = TAPE if bend.differs else RAIL
    for sags, pen, lit in ((bend.left, RAIL, True), (bend.right, right, False)):
        for (x0, a), (x1, b) in pairwise(zip(bend.xs, sags, strict=True)):
            canvas.line(*at(x0, a), *at(x1, b), pen, lit)


# End-on
# --------------------------------------------------------------------------------------


def end_bent(frame: Frame, width: int, height: int, charset: Charset) -> Drawing:
    """The rails' tops end-on, seen from the rear looking forward: in front dashed, where it leans
    most whole.
    """
    names = {p.id: p.name for p in frame.layout.places}
    first, other = frame.pairs[0].id, _leans_most(frame)
    across = 2 * frame.half_width(frame.rear)
    leans = {e: frame.slope(e) * across for e in (first, other)}
    mm_per_row = 2 * across / max(width - 12, 1)
    times = times_for(leans.values(), max(height - 1.6, 1) * mm_per_row)
    leaning = max(map(abs, leans.values())) > LEAST
    words = f"End-on from the rear, {names[first]} dashed: {scale_words(times, leaning)}."
    if width < SMALLEST[0] or height < SMALLEST[1]:
        return Drawing((), (), words)
    canvas = Canvas(width, height, charset)
    middle = height / 2
    for end, pen in ((first, TAPE), (other, RAIL)):
        rise = times * leans[end] / 2 / mm_per_row
        canvas.line(6.5, middle - rise, width - 7.5, middle + rise, pen, lit=end == other)
    canvas.text(int(middle), 0, "left")
    canvas.text(int(middle), width - 5, "right")
    canvas.label([height - 1, 0], width // 2, f"solid: {names[other]}", reach=20)
    return canvas.drawing(words)


def _leans_most(frame: Frame) -> PlaceId:
    """The place that leans most against the front; the rear where none leans more."""
    first, rear = frame.pairs[0].id, frame.pairs[-1].id
    ends = [p.id for p in frame.pairs] + [p.id for p in frame.layout.places if p.horns]
    off = {e: round(abs(frame.slope(e) - frame.slope(first)), 6) for e in ends if e != first}
    return max(off, key=lambda e: (off[e], e == rear))
