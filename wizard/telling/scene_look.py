"""Where to look, and what the car stands on: the place of the frame that a question is about, drawn
heavily.

Two rows where there are no more, since a page that asks what was seen has many answers to show: far
apart where the frame is wide, close together where it is narrow. With room for it the same plan as
on the pages that are taped. On pages that ask of no rail it is the frame alone, so that front, rear,
left and right are never in doubt.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from wizard.judgment.supports import THREE
from wizard.library import marks
from wizard.library.places import NO_PLACE, PlaceId, PointId, point_id
from wizard.library.shapes import Choice, Layout, Place, Step
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.cells import painted
from wizard.telling.scene import Flat, Label, Mark, Part, Scene, Stroke
from wizard.telling.scene_frame import SIDES as ACROSS
from wizard.telling.scene_frame import crossmembers, cut, flat, frame, rail_of, sides

SIDES = ("right", "left")
"""From above, with the front to the left, the car's right side is the upper one."""
PENS: Mapping[Charset, tuple[str, str]] = {
    "ascii": ("'-.\\/", '"=:\\/'),
    "blocks": ("▔─▁╲╱", "▀━▄╲╱"),
    "braille": ("▔─▁╲╱", "▀━▄╲╱"),
}
"""A plain stretch and one that is looked at: at the top of its row, in its middle, at its foot, on
its way down and up between them.
"""
RUNGS: Mapping[Charset, tuple[str, str, str]] = {
    "ascii": ("oo", "oo", "##"),
    "blocks": ("┬┴", "┯┷", "██"),
    "braille": ("┬┴", "┯┷", "██"),
}
"""Where a crossmember meets the right and the left rail: a plain one, one on a stretch of rail that
is looked at, and one that is looked at.
"""
BARS: Mapping[Charset, tuple[str, str, str]] = {
    "ascii": ("oo", "oo", "##"),
    "blocks": ("││", "┃┃", "██"),
    "braille": ("││", "┃┃", "██"),
}
"""The same where the rail does not lie in the middle of its row."""
TOP, MIDDLE, FOOT, DOWN, UP = range(5)
"""Where in its row a rail lies, by its place in a pen; a straight one in the middle."""
STRAIGHT = 2 / 3
"""Of its greatest width: a frame that is nowhere narrower is drawn straight in two rows."""
MARGIN, SMALLEST = 8, 40
TALL = 5
"""Rows from which the whole frame is drawn from above, as on the other pages."""
NEAR = 200.0
"""mm to either side of a place that is looked at."""
END = " rear"


@dataclass(frozen=True, slots=True)
class Look:
    """What of the rails a question looks at."""

    layout: Layout
    side: str
    """left, right, or empty where the question is about no rail."""
    part: Flat
    """From where to where, mm."""
    rung: Place | None
    """The crossmember that is looked at, where it is one."""
    words: str

    def on(self, rail: str, x: float) -> bool:
        """Whether a place of a rail lies in the stretch that is looked at."""
        return rail == self.side and not self.rung and self.part[0] <= x <= self.part[1]

    def end(self, rail: str, place: Place, step: int, charset: Charset) -> str:
        """How a place is drawn, on the right and on the left rail.

        step: where in its row the rail lies there.
        """
        if place not in crossmembers(self.layout):
            return "oo"
        drawn = RUNGS if step == MIDDLE else BARS
        looked = 2 if place is self.rung and rail == self.side else self.on(rail, place.x)
        return drawn[charset][looked]


def look_of(layout: Layout, step: Step, side: str, third: str, over: PlaceId = NO_PLACE) -> Look:
    """What a step's question looks at.

    third: front, middle, rear, or empty for the whole rail. over: the place or station near which
    it is, where it is at one.
    """
    rung = next((p for p in layout.places if (p.role or p.id) == step.across), None)
    near = layout.place_by_id.get(over) or layout.station_by_id.get(over)
    if rung:
        return Look(layout, side, (rung.x, rung.x), rung, _words(side, third, step, rung=True))
    part = _near(layout, near.x) if near else _part(layout, step, third)
    place = near.name if near else ""
    return Look(layout, side, part, None, _words(side, third, step, place))


def look_view(look: Look, width: int, height: int, charset: Charset) -> Drawing:
    """The frame from above with what is looked at drawn heavily; in a low box its two rails alone."""
    if width < SMALLEST:
        return Drawing((), (), look.words)
    if height >= TALL:
        return painted(look_scene(look), width, height, charset)
    return _strip(look, width, charset)


def look_scene(look: Look) -> Scene:
    """The frame, and over it what is looked at."""
    layout, at = look.layout, flat(look.layout)
    half = max((abs(y) for _, y in at.values()), default=0.0) or 1.0
    parts: list[Part] = [*frame(layout, at), *_looked(look, at)]
    parts += [*(Mark("point", place) for place in at.values()), *sides(layout, half)]
    return Scene(tuple(parts), _reach(layout), half, look.words)


def _looked(look: Look, at: Mapping[PointId, Flat]) -> Iterator[Stroke]:
    """The stretch of a rail, or that side's half of a crossmember."""
    if look.side not in SIDES:
        return
    if look.rung:
        end = at[point_id(look.rung.id, look.side)]
        yield Stroke("looked", ((end[0], 0.0), end), lit=True)
        return
    rail = _points(look.layout, look.side)
    yield Stroke("looked", tuple(cut(rail, look.part)), lit=True)


def _near(layout: Layout, x: float) -> Flat:
    """A hand's length or two to either side of a place."""
    first, last = _reach(layout)
    return max(x - NEAR, first), min(x + NEAR, last)


def _strip(look: Look, width: int, charset: Charset) -> Drawing:
    """The frame in two rows."""
    room = width - MARGIN - len(END)
    reach = _reach(look.layout)
    rows = [
        f"{rail:<{MARGIN}}{_row(look, row, room, charset)}{'' if row else END}"
        for row, rail in enumerate(SIDES)
    ]
    first, last = (MARGIN + _col(x, *reach, room) for x in look.part)
    lit = tuple((row, first, last + 1) for row, rail in enumerate(SIDES) if rail == look.side)
    return Drawing(tuple(rows), lit, look.words)


def _row(look: Look, row: int, room: int, charset: Charset) -> str:
    """One rail with its places."""
    rail, (first, last) = SIDES[row], _reach(look.layout)
    along = [first + (last - first) * (n + 0.5) / room for n in range(room)]
    steps = _steps(look.layout, rail, along)
    cells = [PENS[charset][look.on(rail, x)][step] for x, step in zip(along, steps, strict=True)]
    for place in look.layout.places:
        if rail in place.sides:
            col = _col(place.x, first, last, room)
            cells[col] = look.end(rail, place, steps[col], charset)[row]
    return "".join(cells)


def _steps(layout: Layout, rail: str, along: Sequence[float]) -> list[int]:
    """Where in its row a rail lies at each place: in the middle all along where the frame is about
    as wide everywhere, else further out where it is wide.
    """
    points = [(x, abs(y)) for x, y in _points(layout, rail)]
    wide = [_across_at(points, x) for x in along]
    least, most = min(wide), max(wide)
    if least >= STRAIGHT * most:
        return [MIDDLE] * len(wide)
    out, within = (TOP, FOOT) if rail == SIDES[0] else (FOOT, TOP)
    steps = [out if 2 * y > least + most else within for y in wide]
    return [_between(a, b) for a, b in pairwise((steps[0], *steps))]


def _between(before: int, step: int) -> int:
    """Where a rail lies that lay elsewhere a cell before: on its way."""
    if before == step:
        return step
    return DOWN if step == FOOT else UP


def _reach(layout: Layout) -> tuple[float, float]:
    along = [p.x for p in layout.places] or [0.0]
    return min(along), max(max(along), min(along) + 1.0)


def _col(x: float, first: float, last: float, room: int) -> int:
    return max(0, min(int(room * (x - first) / (last - first)), room - 1))


def _part(layout: Layout, step: Step, third: str) -> tuple[float, float]:
    """From where to where along the rail the question looks, mm."""
    first, last = _reach(layout)
    if marks.HORN in step.marks:
        return first, min((p.x for p in layout.places if p.x >= 0), default=0.0)
    start = max(first, 0.0) if third else first
    thirds = {"front": (0, 1), "middle": (1, 2), "rear": (2, 3)}
    low, high = thirds.get(third, (0, 3))
    return start + (last - start) * low / 3, start + (last - start) * high / 3


def _words(side: str, third: str, step: Step, place: str = "", rung: bool = False) -> str:
    seen = "The rails from above, front to the left, so the car's left side is the lower one"
    if not side:
        return f"{seen}."
    if rung:
        return f"{seen}; to look at: the {side} half of the {step.across} crossmember."
    if place:
        return f"{seen}; to look at: the {side} rail at the {place}."
    what = "horn" if marks.HORN in step.marks else f"{third} third" if third else "whole length"
    return f"{seen}; to look at: the {what} of the {side} rail."


# What the car stands on
# --------------------------------------------------------------------------------------

TIRE = 280.0
"""mm from the middle of a wheel to its front and rear, about: a round figure."""
INWARD = 0.72
"""Part of half the track at which a stand under an axle is drawn: inward of the wheel."""
CLEAR = 0.08
"""Part of the wheelbase that a stand under the frame is drawn clear of the axle."""
TRACK = 3.0
"""Half widths of the frame that the track is wide where the layout does not say."""
WHEELS = "wheels"
ON: Mapping[str, str] = {
    WHEELS: "on its own wheels",
    "stands-under-axles": "on four stands under the axles",
    "stands-under-frame": "on four stands under the frame",
    THREE: "a bare frame, on three points",
}
"""What it stands on, by the word that a file keeps."""


@dataclass(frozen=True, slots=True)
class Corner:
    """The corner that a question is about."""

    side: str
    """left or right."""
    place: Place

    def nearest(self, stands: Sequence[Flat]) -> Flat | None:
        """The stand there; None while none stands."""
        y = ACROSS[self.side] * max((abs(y) for _, y in stands), default=0.0)
        apart = {at: (abs(at[0] - self.place.x), abs(at[1] - y)) for at in stands}
        return min(apart, key=lambda at: apart[at], default=None)


def corner_of(layout: Layout, side: str, over: PlaceId) -> Corner | None:
    """The corner, where the question names a side and a place of the layout."""
    place = layout.place_by_id.get(over)
    return Corner(side, place) if place and side in ACROSS else None


@dataclass(frozen=True, slots=True)
class Standing:
    """What the car stands on, or what is asked of it.

    Where a stand goes is the car's own manual's to say: what is drawn is which part of the car
    carries it, and at which corner the question is.
    """

    layout: Layout
    supports: str
    """What was answered; empty before it is."""
    letters: Mapping[str, str]
    """The letter of each answer, where the question in front is what it rests on: each is drawn
    where it would rest.
    """
    corner: Corner | None = None

    @property
    def stands(self) -> list[Flat]:
        """Where a stand stands."""
        if self.letters or self.supports == WHEELS:
            return []
        return _spots(self.layout).get(self.supports, [])

    @property
    def bare(self) -> bool:
        """Whether it is a frame without axles."""
        return self.supports == THREE and not self.letters

    def parts(self) -> Iterator[Part]:
        """The frame over what it stands on."""
        layout, half = self.layout, _half(self.layout)
        here = self.corner.nearest(self.stands) if self.corner else None
        if not self.bare:
            yield from _axles(layout)
        yield from frame(layout, flat(layout))
        yield from _marks(self.stands, here)
        yield from self._letters()
        yield from sides(layout, half)
        if here:
            yield Label("here", here, "beyond", lit=True)
        yield from self._key()

    def reach(self) -> Flat:
        """From where to where it goes, wheels and all, mm."""
        along = [x for x, _ in flat(self.layout).values()]
        if not self.bare:
            along += [x + sign * TIRE for x in _xs(self.layout) for sign in (-1, 1)]
        return min(along), max(along)

    def _letters(self) -> Iterator[Label]:
        spots = _spots(self.layout)
        for token, letter in self.letters.items():
            yield from (Label(letter, at, "over", lit=True) for at in spots[token])

    def _key(self) -> Iterator[Label]:
        """What the letters, or the squares, are."""
        if self.letters:
            yield Label("letters: what it would rest on there", (0.0, 0.0), "foot")
        elif self.stands:
            yield Label("squares: stands", (0.0, 0.0), "foot")

    def words(self) -> str:
        """The same thing said."""
        seen = "The car from above, front to the left, so its left side is the lower one"
        if self.letters:
            told = "; ".join(f"{letter}: {ON[token]}" for token, letter in self.letters.items())
            return f"{seen}; each letter stands where it would rest: {told}."
        on = f"; it stands {ON[self.supports]}" if self.supports in ON else ""
        at = self.corner
        where = f"; asked about: the {at.side} {at.place.name} corner" if at else ""
        return f"{seen}{on}{where}."


def supports_scene(
    layout: Layout, supports: str, choices: Sequence[Choice], corner: Corner | None
) -> Scene:
    """The frame over what it stands on.

    supports: what was answered, empty before it is. choices: the answers of the question in front,
    where it is what the car rests on.
    """
    drawn = {*_spots(layout)} - {THREE}
    letters = {c.token: c.letter for c in choices if c.token in drawn}
    standing = Standing(layout, supports, letters, corner)
    return Scene(tuple(standing.parts()), standing.reach(), _half(layout), standing.words())


def _marks(stands: list[Flat], corner: Flat | None) -> Iterator[Mark]:
    for at in stands:
        yield Mark("asked" if at == corner else "stand", at, lit=at == corner)


def _xs(layout: Layout) -> tuple[float, float]:
    """Where the axles stand, mm rearward."""
    along = sorted(p.x for p in layout.places if len(p.sides) > 1 and p.x >= 0) or [0.0, 1.0]
    figures = layout.figures
    return figures.get("front_axle_x", along[0]), figures.get("rear_axle_x", along[-1])


def _half(layout: Layout) -> float:
    """Half the track, mm."""
    wide = max((p.half_width for p in layout.places), default=0.0) or 1.0
    return max(layout.figures.get("track", wide * TRACK) / 2, wide)


def _axles(layout: Layout) -> Iterator[Stroke]:
    """Each axle with a wheel at both ends."""
    half = _half(layout)
    for x in _xs(layout):
        yield Stroke("member", ((x, -half), (x, half)))
        for y in (-half, half):
            yield Stroke("looked", ((x - TIRE, y), (x + TIRE, y)))


def _spots(layout: Layout) -> dict[str, list[Flat]]:
    """Where each answer carries the car, front before rear, left before right."""
    half, xs = _half(layout), _xs(layout)
    inner = (xs[0] + CLEAR * (xs[1] - xs[0]), xs[1] - CLEAR * (xs[1] - xs[0]))
    on_rail = [_within(layout, x) for x in inner]
    rails = [(x, sign * _rail_at(layout, x)) for x in on_rail for sign in (-1.0, 1.0)]
    return {
        WHEELS: [(x, y) for x in xs for y in (-half, half)],
        "stands-under-axles": [(x, y * INWARD) for x in xs for y in (-half, half)],
        "stands-under-frame": rails,
        THREE: [(rails[0][0], 0.0), *rails[2:]],
    }


def _within(layout: Layout, x: float) -> float:
    """The place along the rails that is nearest to an axle's."""
    along = [p.x for p in layout.places if len(p.sides) > 1] or [x]
    return min(max(x, min(along)), max(along))


def _rail_at(layout: Layout, x: float) -> float:
    """mm from the center line to the right rail at a place."""
    return _across_at(_points(layout, "right"), x)


def _points(layout: Layout, side: str) -> list[Flat]:
    """Where a rail runs, from front to rear."""
    at = flat(layout)
    return [at[id] for id in rail_of(layout, side)]


def _across_at(points: Sequence[Flat], x: float) -> float:
    """How far across a line through points lies at a place along it."""
    for (x0, y0), (x1, y1) in pairwise(points):
        if x0 <= x <= x1:
            return y0 + (y1 - y0) * (x - x0) / ((x1 - x0) or 1.0)
    return points[-1][1] if points else 1.0
