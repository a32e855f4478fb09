"""The frame from above, with the tape that the prompt asks for.

The front is to the left of the page. Looking down on a car that faces left, its left side is
nearest to the reader: so the left rail is the lower one.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from itertools import pairwise

from wizard.library.layouts import OWN
from wizard.library.shapes import Layout, Place
from wizard.telling.canvas import (
    BRACE,
    DROP,
    FAINT,
    MEMBER,
    RAIL,
    SOLID,
    TAPE,
    Canvas,
    Charset,
    Drawing,
)
from wizard.telling.drawing_extras import Extras

MARGIN = 7
"""Cells kept free on the left for the words that say which side is which."""
SMALLEST = (24, 5)
"""Width and height in cells under which only the words are given."""

Pair = tuple[str, str]
NONE = Extras()


@dataclass(frozen=True, slots=True)
class Spot:
    """A point of the layout as seen from above."""

    name: str
    """For a sentence: "left front", "right horn tip"."""
    x: float
    """mm rearward."""
    y: float
    """mm to the car's right."""
    nose: bool = False
    """True where both rails meet in this point."""
    beside: bool = False
    """True for what is no point of the frame, such as the end of an axle."""


def spots(layout: Layout) -> dict[str, Spot]:
    """Every point of the layout by its id: `<place>-<side>`, in the middle the place's own."""
    noses = {p.id for p in layout.places if _is_nose(p, layout)}
    return {
        point: _spot(p, side, p.id in noses)
        for p in layout.places
        for point, side in zip(p.points, p.sides, strict=True)
    }


def _spot(place: Place, side: str, nose: bool = False) -> Spot:
    y = {"left": -place.half_width, "right": place.half_width}.get(side, 0.0)
    return Spot(place.name if side == "middle" else f"{side} {place.name}", place.x, y, nose)


def _is_nose(place: Place, layout: Layout) -> bool:
    """True for a middle point ahead of, or behind, every pair of points: both rails run to it."""
    paired = [p.x for p in layout.places if "left" in p.sides]
    return "middle" in place.sides and bool(paired) and not min(paired) <= place.x <= max(paired)


@dataclass(frozen=True, slots=True)
class Ground:
    """Where millimeters of the frame fall on the page."""

    x: tuple[float, float]
    """mm at the first and last column of the frame."""
    half: float
    """mm from the center line to the outermost rail."""
    width: int
    height: int

    def col(self, x: float) -> float:
        """Column of a place, the middle of its cell."""
        room = self.width - MARGIN - 4
        return MARGIN + 1.5 + room * (x - self.x[0]) / (self.x[1] - self.x[0])

    def row(self, y: float) -> float:
        """Row of a distance from the center line: the car's right is up; one row is kept for words
        at each edge.
        """
        return 1.25 + (self.height - 2.5) * (self.half - y) / (2 * self.half)

    def at(self, spot: Spot) -> tuple[float, float]:
        """Column and row of a point."""
        return self.col(spot.x), self.row(spot.y)

    def holds(self, spot: Spot) -> bool:
        """True when the point lies in the part that is drawn."""
        return self.x[0] <= spot.x <= self.x[1]


TAPED = "dots: taped already"
"""What the fainter lines are."""


def plan_view(
    layout: Layout,
    lit: Pair | None,
    width: int,
    height: int,
    charset: Charset,
    done: Collection[Pair] = (),
    window: tuple[float, float] | None = None,
    extras: Extras = NONE,
    key: str = "",
) -> Drawing:
    """The whole frame from above, stretched to the box, or the part of it between two x in mm.

    `lit` and `done` hold point ids; one that the layout does not have is left out of the picture.
    """
    beside = {id: Spot(*spot, beside=True) for id, spot in extras.places.items()}
    known, lit = spots(layout) | beside, extras.lit or lit
    done = [pair for pair in done if not lit or set(pair) != set(lit)]
    words = _words(known, lit, len(done), known[extras.mark].name if extras.mark else "")
    along = [spot.x for spot in known.values()] or [0.0]
    reach = window or (min(along), max(along))
    if width < SMALLEST[0] or height < SMALLEST[1] or reach[0] >= reach[1]:
        return Drawing((), (), words)
    ground = Ground(reach, max(abs(spot.y) for spot in known.values()) or 1.0, width, height)
    canvas = Canvas(width, height, charset)
    _frame(canvas, ground, layout, lit)
    for a, b in extras.lines:
        canvas.line(*ground.at(known[a]), *ground.at(known[b]), MEMBER)
    for pair in done:
        _tape(canvas, ground, known, pair, now=False)
    for spot in known.values():
        if ground.holds(spot):
            canvas.text(int(ground.at(spot)[1]), int(ground.at(spot)[0]), "o")
    if lit:
        _tape(canvas, ground, known, lit, now=True)
        _ends(canvas, ground, known, lit)
    if extras.mark:
        _mark(canvas, ground, known[extras.mark])
    _sides(canvas, ground, layout)
    if done:
        text = key if key not in ("", TAPED) else f"dashes: this tape   {TAPED}" if lit else TAPED
        canvas.label([height - 1], (MARGIN + width) // 2, text, reach=20, apart=3)
    return canvas.drawing(words)


def _frame(canvas: Canvas, ground: Ground, layout: Layout, lit: Pair | None) -> None:
    for side in ("left", "right"):
        for a, b in pairwise(rail_of(layout, side)):
            _clipped(canvas, ground, a, b)
    for place in crossmembers(layout):
        left, right = _spot(place, "left"), _spot(place, "right")
        if ground.holds(left):
            canvas.line(*ground.at(left), *ground.at(right), MEMBER)
    for leg in braces(layout):
        # The leg that the tape lies on is left out, or the tape would not show.
        ends = [known for id, known in spots(layout).items() if lit and id in lit]
        if all(ground.holds(spot) for spot in leg) and not all(spot in ends for spot in leg):
            canvas.line(*ground.at(leg[0]), *ground.at(leg[1]), BRACE)


def rail_of(layout: Layout, side: str) -> Iterator[Spot]:
    """The points of one rail from front to rear."""
    for place in sorted(layout.places, key=lambda p: p.x):
        if side in place.sides:
            yield _spot(place, side)
        elif _is_nose(place, layout):
            yield _spot(place, "middle")


def _clipped(canvas: Canvas, ground: Ground, a: Spot, b: Spot) -> None:
    low, high = max(a.x, ground.x[0]), min(b.x, ground.x[1])
    if low > high:
        return
    slope = (b.y - a.y) / (b.x - a.x) if b.x > a.x else 0.0
    ends = [Spot("", x, a.y + slope * (x - a.x)) for x in (low, high)]
    canvas.line(*ground.at(ends[0]), *ground.at(ends[1]), RAIL)


def crossmembers(layout: Layout) -> list[Place]:
    """Places that end a box, but for the horns, ahead of the front crossmember's x = 0, and the
    owner's own pairs.
    """
    ends = {end for box in layout.boxes for end in (box.front, box.rear)}
    pairs = (
        p for p in layout.places if not p.id.startswith(OWN) and {"left", "right"} <= set(p.sides)
    )
    members = [p for p in pairs if p.id in ends and p.x >= 0]
    return sorted(members, key=lambda p: p.x)


def braces(layout: Layout) -> Iterator[tuple[Spot, Spot]]:
    """Legs of an X-member: from a plate in the middle to the nearest crossmember ahead and behind."""
    for plate in (p for p in layout.places if "middle" in p.sides and "plate" in p.id):
        ahead = [p for p in crossmembers(layout) if p.x < plate.x]
        behind = [p for p in crossmembers(layout) if p.x > plate.x]
        for place in ahead[-1:] + behind[:1]:
            for side in ("left", "right"):
                yield _spot(plate, "middle"), _spot(place, side)


def _tape(canvas: Canvas, ground: Ground, known: dict[str, Spot], pair: Pair, now: bool) -> None:
    if not all(id in known and ground.holds(known[id]) for id in pair):
        return
    a, b = sorted((known[id] for id in pair), key=lambda spot: spot.x)
    (col0, row0), (col1, row1) = ground.at(a), ground.at(b)
    if a.x == b.x:
        aside = col0 + (2 if col0 + 4 < canvas.width else -2)
        canvas.drop(row0, row1, aside, DROP if now else FAINT, lit=now)
        return
    in0, in1 = _aside(a, b)
    pen = TAPE if now else FAINT
    canvas.line(col0 + (4 if a.nose else 0), row0 + in0, col1, row1 + in1, pen, lit=now)


def _aside(a: Spot, b: Spot) -> tuple[float, float]:
    """Rows by which each end of a tape along a rail moves toward the center line, so as not to lie
    on the rail.
    """
    if a.beside and b.beside:
        return 0, 0
    if a.y * b.y > 0:
        return (1, 1) if a.y > 0 else (-1, -1)
    if a.nose:
        return 0, (1 if b.y > 0 else -1)
    return 0, 0


def _ends(canvas: Canvas, ground: Ground, known: dict[str, Spot], pair: Pair) -> None:
    for id, word in zip(pair, ("start", "end"), strict=True):
        if id not in known or not ground.holds(known[id]):
            continue
        col, row = (int(v) for v in ground.at(known[id]))
        canvas.text(row, col - 1, SOLID[canvas.charset], lit=True)
        beyond = row - 1 if known[id].y > 0 else row + 1
        rows = [beyond] if known[id].y else [row - 1, row + 1]
        canvas.label(rows, col, word, lit=True)


def _mark(canvas: Canvas, ground: Ground, spot: Spot) -> None:
    col, row = (int(v) for v in ground.at(spot))
    canvas.text(row, col - 1, SOLID[canvas.charset], lit=True)
    canvas.text(row, col + 3, spot.name, lit=True)


def _sides(canvas: Canvas, ground: Ground, layout: Layout) -> None:
    halves = [p.half_width for p in sorted(layout.places, key=lambda p: p.x) if p.x >= ground.x[0]]
    half = next(iter(halves), 0.0) or ground.half
    canvas.text(int(ground.row(half)), 0, "right")
    canvas.text(int(ground.row(0)), 0, "front")
    canvas.text(int(ground.row(-half)), 0, "left")


def _words(known: dict[str, Spot], lit: Pair | None, done: int, mark: str) -> str:
    seen = "The frame from above, front to the left, so the car's left side is the lower one"
    if mark:
        seen += f"; the {mark} is marked over its crossmember"
    elif lit and all(id in known for id in lit):
        start, end = (known[id].name for id in lit)
        seen += f"; the tape runs from the {start} to the {end}"
    elif lit:
        seen += "; the points asked for are not on this drawing"
    taped = {0: "", 1: " One distance already taped is dotted."}
    return seen + "." + taped.get(done, f" {done} distances already taped are dotted.")
