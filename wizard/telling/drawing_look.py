"""Where to look: both rails as two lines from front to rear, the part that the question is about
drawn heavily.

Two rows and no more, since a page that asks what was seen has many answers to show. On pages that
ask of no rail it is the frame alone, so that front, rear, left and right are never in doubt.
"""

from __future__ import annotations

from collections.abc import Mapping

from wizard.library.shapes import Layout
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.scene_frame import crossmembers

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
END = " rear"
HORNS = "horn-welds"
ACROSS = {
    **dict.fromkeys(
        ("front-crossmember-rivets", "front-crossmember-cracks", "welded-plates"), "front"
    ),
    "center-crossmember-rivets": "center",
    "rear-crossmember": "rear",
}
"""Steps that ask of a crossmember, by what it is called."""


def look_view(
    layout: Layout, step: str, side: str, third: str, width: int, charset: Charset
) -> Drawing:
    """The frame in two rows.

    side: left, right, or empty where the question is about no rail; third: front, middle, rear, or
    empty for the whole rail.
    """
    rung = next((p for p in layout.places if (p.role or p.id) == ACROSS.get(step)), None)
    part = (rung.x, rung.x) if rung else _part(layout, step, third)
    words = _words(side, third, step, bool(rung))
    if width < SMALLEST:
        return Drawing((), (), words)
    rows, lit = [], []
    first, last = _reach(layout)
    room = width - MARGIN - len(END)
    across = crossmembers(layout)
    for row, rail in enumerate(SIDES):
        here = rail == side
        cells = []
        for n in range(room):
            x = first + (last - first) * (n + 0.5) / room
            cells.append(PENS[charset][here and not rung and part[0] <= x <= part[1]])
        for place in layout.places:
            if rail in place.sides:
                inside = here and not rung and part[0] <= place.x <= part[1]
                plain, looked = RUNGS[charset]
                pair = (
                    (looked if place is rung and here else HEAVY[charset] if inside else plain)
                    if place in across
                    else "oo"
                )
                cells[_col(place.x, first, last, room)] = pair[row]
        rows.append(f"{rail:<{MARGIN}}{''.join(cells)}{'' if row else END}")
        if here:
            lit.append(
                (
                    row,
                    MARGIN + _col(part[0], first, last, room),
                    MARGIN + _col(part[1], first, last, room) + 1,
                )
            )
    return Drawing(tuple(rows), tuple(lit), words)


def _reach(layout: Layout) -> tuple[float, float]:
    along = [p.x for p in layout.places] or [0.0]
    return min(along), max(max(along), min(along) + 1.0)


def _col(x: float, first: float, last: float, room: int) -> int:
    return max(0, min(int(room * (x - first) / (last - first)), room - 1))


def _part(layout: Layout, step: str, third: str) -> tuple[float, float]:
    """From where to where along the rail the question looks, mm."""
    first, last = _reach(layout)
    if step == HORNS:
        return first, min((p.x for p in layout.places if p.x >= 0), default=0.0)
    start = max(first, 0.0) if third else first
    thirds = {"front": (0, 1), "middle": (1, 2), "rear": (2, 3)}
    low, high = thirds.get(third, (0, 3))
    return start + (last - start) * low / 3, start + (last - start) * high / 3


def _words(side: str, third: str, step: str, rung: bool) -> str:
    seen = "The rails from above, front to the left, so the car's left side is the lower one"
    if not side:
        return f"{seen}."
    if rung:
        return f"{seen}; to look at: the {side} half of the {ACROSS[step]} crossmember."
    what = "horn" if step == HORNS else f"{third} third" if third else "whole length"
    return f"{seen}; to look at: the {what} of the {side} rail."
