"""The worksheet's drawing: the frame from above with its points numbered and the string's stations
named.
"""

from __future__ import annotations

from wizard.library.shapes import Layout
from wizard.telling.canvas import Drawing
from wizard.telling.drawing_plan import MARGIN, Ground, plan_view, spots
from wizard.telling.sheet import Sheet
from wizard.telling.svg import Figure, picture
from wizard.telling.svg_frame import frame, ground_of, numbered, sides, stations

VIEW = "The frame from above, front to the left, so the car's left side is the lower one."
TITLE = "The points of the frame, from above"


def words_of(layout: Layout) -> str:
    """What the drawing shows."""
    names = ", ".join(s.name for s in sorted(layout.stations, key=lambda s: s.x))
    return (
        f"{VIEW} The"
        f" string's blocks are the black squares; its stations from front to rear: {names}."
    )


def point_lines(sheet: Sheet) -> list[str]:
    """`3 left front (rivet)`, in the order of the numbers."""
    kinds = {point: p.kind for p in sheet.layout.places for point in p.points}
    known = spots(sheet.layout)
    return [f"{n} {known[id].name} ({kinds[id]})" for id, n in sheet.points.items()]


def sheet_figure(sheet: Sheet) -> Figure:
    """The drawing for paper that can show lines."""
    ground = ground_of(sheet.layout, above=20.0, below=56.0)
    inside = (
        frame(sheet.layout, ground),
        sides(ground),
        stations(sheet.layout, ground),
        numbered(sheet.layout, ground, sheet.points),
    )
    return picture("points", TITLE, words_of(sheet.layout), ground.height, *inside)


def sheet_plan(sheet: Sheet, width: int = 78, height: int = 15) -> Drawing:
    """The drawing in typed marks, with the points' numbers in place of their rings."""
    layout = sheet.layout
    plain = plan_view(layout, None, width, height, "ascii")
    along = [p.x for p in layout.places] or [0.0]
    half = max((p.half_width for p in layout.places), default=0.0) or 1.0
    ground = Ground((min(along), max(along)), half, width, height)
    rows = [list(line.ljust(width)) for line in plain.lines]
    for id, spot in spots(layout).items():
        col, row = (int(v) for v in ground.at(spot))
        mark = f"({sheet.points[id]})"
        first = min(max(col - 1, MARGIN - 1), width - len(mark))
        rows[row][first : first + len(mark)] = mark
    return Drawing(tuple("".join(r).rstrip() for r in rows), (), plain.words)
