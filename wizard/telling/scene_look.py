"""Where to look: both rails as two lines from front to rear, the part that the question is about
drawn heavily.

Two rows where there are no more, since a page that asks what was seen has many answers to show; with
room for it the same plan as on the pages that are taped. On pages that ask of no rail it is the
frame alone, so that front, rear, left and right are never in doubt.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from wizard.library import marks
from wizard.library.places import NO_PLACE, PlaceId, PointId, point_id
from wizard.library.shapes import Layout, Place, Step
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.cells import painted
from wizard.telling.scene import Flat, Mark, Part, Scene, Stroke
from wizard.telling.scene_frame import crossmembers, cut, flat, frame, rail_of, sides

SIDES = ("right", "left")
"""From above, with the front to the left, the car's right side is the upper one."""
PENS: Mapping[Charset, tuple[str, str]] = {
    "ascii": ("-", "="),
    "blocks": ("─", "━"),
    "braille": ("─", "━"),
}
"""A plain stretch and one that is looked at."""
RUNGS: Mapping[Charset, tuple[str, str]] = {
    "ascii": ("oo", "##"),
    "blocks": ("┬┴", "██"),
    "braille": ("┬┴", "██"),
}
"""Where a crossmember meets the right and the left rail: a plain one, and one that is looked at."""
HEAVY: Mapping[Charset, str] = {"ascii": "oo", "blocks": "┯┷", "braille": "┯┷"}
"""The same on a stretch of rail that is looked at."""
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

    def end(self, rail: str, place: Place, charset: Charset) -> str:
        """How a place is drawn, on the right and on the left rail."""
        if place not in crossmembers(self.layout):
            return "oo"
        plain, looked = RUNGS[charset]
        if place is self.rung and rail == self.side:
            return looked
        return HEAVY[charset] if self.on(rail, place.x) else plain


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
    rail = [at[id] for id in rail_of(look.layout, look.side)]
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
    cells = [PENS[charset][look.on(rail, x)] for x in along]
    for place in look.layout.places:
        if rail in place.sides:
            cells[_col(place.x, first, last, room)] = look.end(rail, place, charset)[row]
    return "".join(cells)


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
