"""The worksheet's drawing: the frame from above with its points numbered and the string's stations
named.
"""

from __future__ import annotations

from wizard.library.shapes import Layout
from wizard.telling.canvas import Drawing
from wizard.telling.cells import painted
from wizard.telling.scene import Mark, Part, Scene
from wizard.telling.scene_frame import flat, frame, sides, spots
from wizard.telling.sheet import Sheet
from wizard.telling.svg import Figure
from wizard.telling.svg_scene import drawn

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


def sheet_scene(sheet: Sheet) -> Scene:
    """The frame with its points numbered. The string's stations and blocks stand on the left rail;
    the right one is alike.
    """
    layout, at = sheet.layout, flat(sheet.layout)
    along = [x for x, _ in at.values()] or [0.0]
    half = max((p.half_width for p in layout.places), default=0.0) or 1.0
    stations = sorted(layout.stations, key=lambda s: s.x)
    parts: tuple[Part, ...] = (
        *frame(layout, at),
        *sides(layout, half),
        *(
            Mark("station", (station.x, -half), station.name, row=n % 2)
            for n, station in enumerate(stations)
        ),
        *(Mark("block", (x, -half)) for x in layout.string),
        *(Mark("number", place, str(sheet.points[id])) for id, place in at.items()),
    )
    return Scene(parts, (min(along), max(along)), half, words_of(layout))


def sheet_figure(sheet: Sheet) -> Figure:
    """The drawing for paper that can show lines."""
    return drawn("points", TITLE, sheet_scene(sheet), above=20.0, below=56.0)


def sheet_plan(sheet: Sheet, width: int = 78, height: int = 15) -> Drawing:
    """The drawing in typed marks, which have no room for the stations."""
    return painted(sheet_scene(sheet), width, height, "ascii")
