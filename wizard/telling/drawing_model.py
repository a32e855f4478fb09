"""The bent model from above, from the side and end-on, drawn larger than it is bent, with the scale
said.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from wizard.model.bent import Bent
from wizard.model.frame import HORNS, SIDES, Frame
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
    skew = max(abs(frame.bent.axle_front), abs(frame.bent.axle_rear)) / 2
    moved = [b - a for id in was for a, b in zip(was[id], now[id], strict=True)] + [skew]
    along = [x for x, _ in was.values()] or [0.0, 1.0]
    times = times_for(moved, SHARE * (max(along) - min(along)))
    drawn = times_as_far(was, now, times)
    axles = _axles(frame) if skew else []
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


def _places(frame: Frame) -> dict[str, Flat]:
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
    tip = next((p for p in frame.layout.places if p.id == HORNS), None)
    if tip is None or x >= frame.front:
        return low
    horn = frame.bent.horn_left if side == "left" else frame.bent.horn_right
    return low - horn.up * (frame.front - x) / (frame.front - tip.x)


def _bent(bent: Bent) -> bool:
    """Whether anything of it shows from the side."""
    return bool(bent.left or bent.right or bent.horn_left.up or bent.horn_right.up)


def side_bent(frame: Frame, width: int, height: int, charset: Charset) -> Drawing:
    """Both rails from the side against a string, the front to the left; the right rail dashed where
    they differ.
    """
    along = sorted({p.x for p in frame.layout.places})
    start, end = min(along[0], frame.layout.string[0]), max(along[-1], frame.layout.string[1])
    steps = [start + (end - start) * n / 40 for n in range(41)]
    lines = {side: [_lowered(frame, side, x) for x in steps] for side in SIDES}
    both = [*lines["left"], *lines["right"]]
    room = width - 12
    mm_per_row = 2 * (end - start) / max(room, 1)
    low, high = max([*both, 0.0]), -min([*both, 0.0])
    times = times_for([low + high], max(height - 1.8, 1) * mm_per_row)
    if not _bent(frame.bent):
        times = min(times, SPRINGING)
    apart = max(abs(a - b) for a, b in zip(*lines.values(), strict=True)) > 0.3
    words = f"From the side, front to the left: {scale_words(times, low + high > LEAST)}."
    if width < SMALLEST[0] or height < SMALLEST[1]:
        return Drawing((), (), words)
    canvas = Canvas(width, height, charset)
    zero = 0.75 + times * high / mm_per_row

    def at(x: float, sag: float) -> Flat:
        row = zero + times * sag / mm_per_row
        return 8.5 + room * (x - start) / (end - start), min(max(row, 0.25), height - 0.25)

    for side, pen in (("left", RAIL), ("right", TAPE if apart else RAIL)):
        for (x0, a), (x1, b) in pairwise(zip(steps, lines[side], strict=True)):
            canvas.line(*at(x0, a), *at(x1, b), pen, lit=side == "left")
    canvas.line(*at(frame.layout.string[0], 0.0), *at(frame.layout.string[1], 0.0), FAINT)
    canvas.text(int(zero), 0, "string")
    canvas.label(
        [height - 1, height - 2],
        width // 2 + 3,
        "right rail dashed" if apart else "both rails alike",
        reach=20,
    )
    return canvas.drawing(words)


# End-on -------------------------------------------------------------------------------------------
# --------------


def end_bent(frame: Frame, width: int, height: int, charset: Charset) -> Drawing:
    """The rails' tops end-on, seen from the rear looking forward: in front dashed, where it leans
    most whole.
    """
    ends = [p.id for p in frame.pairs] + [p.id for p in frame.layout.places if p.id == HORNS]
    names = {p.id: p.name for p in frame.layout.places}
    first, rear = frame.pairs[0].id, frame.pairs[-1].id
    off = {e: round(abs(frame.slope(e) - frame.slope(first)), 6) for e in ends if e != first}
    other = max(off, key=lambda e: (off[e], e == rear))
    leans = {e: frame.slope(e) * 2 * frame.half_width(frame.rear) for e in (first, other)}
    room = width - 12
    mm_per_row = 2 * 2 * frame.half_width(frame.rear) / max(room, 1)
    times = times_for(leans.values(), max(height - 1.6, 1) * mm_per_row)
    leaning = max(abs(v) for v in leans.values()) > LEAST
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
