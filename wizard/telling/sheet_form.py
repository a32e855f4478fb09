"""The worksheet as a form: room for names and dates, the frame from above with its points numbered
and the string's stations named, then step by step what is read and what is written down.
"""

from __future__ import annotations

from collections.abc import Mapping

from wizard.library.places import PointId
from wizard.library.shapes import Layout
from wizard.telling.cells import painted
from wizard.telling.document import Heading, Paragraph, Picture, items
from wizard.telling.form import (
    Blank,
    Blanks,
    Field,
    Fields,
    Form,
    FormBlock,
    Move,
    Notice,
    Numbered,
    Together,
)
from wizard.telling.scene import Mark, Part, Scene
from wizard.telling.scene_frame import flat, frame, sides, spots
from wizard.telling.sheet import Box, Sheet, SheetStep
from wizard.telling.sheet_words import ENTER_LINES, FILL_LINES, HEAD_FIELDS, title_of
from wizard.telling.svg_scene import drawn

VIEW = "The frame from above, front to the left, so the car's left side is the lower one."
TITLE = "The points of the frame, from above"
TYPED = (78, 15)
"""Columns and lines of the drawing in typed marks."""


def words_of(layout: Layout) -> str:
    """What the drawing shows."""
    names = ", ".join(s.name for s in sorted(layout.stations, key=lambda s: s.x))
    return (
        f"{VIEW} The black squares are the string's blocks. Its stations from front to rear are"
        f" {names}."
    )


def point_lines(layout: Layout, points: Mapping[PointId, int]) -> tuple[str, ...]:
    """`3 left front (rivet)`, in the order of the numbers."""
    kinds = {point: p.kind for p in layout.places for point in p.points}
    known = spots(layout)
    return tuple(f"{n} {known[id].name} ({kinds[id]})" for id, n in points.items())


def numbered_scene(layout: Layout, points: Mapping[PointId, int]) -> Scene:
    """The frame with its points numbered. The string's stations and blocks stand on the left rail;
    the right one is alike.
    """
    at = flat(layout)
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
        *(Mark("number", place, str(points[id])) for id, place in at.items()),
    )
    return Scene(parts, (min(along), max(along)), half, words_of(layout))


def form_of(sheet: Sheet) -> Form:
    """The whole sheet."""
    steps = tuple(_step(step) for step in sheet.steps)
    parts: tuple[Together | Numbered, ...] = (
        _head(sheet),
        numbered(sheet.layout, sheet.points),
        *steps,
        _end(sheet),
    )
    return Form(f"Crosstape worksheet: {sheet.layout.name}", parts)


def _head(sheet: Sheet) -> Together:
    rows = tuple(tuple(Field(name) for name in row) for row in HEAD_FIELDS)
    title = Heading("sheet", title_of(sheet.layout, sheet.state), 1)
    return Together((title, Fields(rows), items((*FILL_LINES, *ENTER_LINES))))


def numbered(layout: Layout, points: Mapping[PointId, int]) -> Numbered:
    """The drawing in lines, and in typed marks, which have no room for the stations."""
    scene = numbered_scene(layout, points)
    figure = drawn("points", TITLE, scene, above=20.0, below=56.0)
    typed = painted(scene, *TYPED, "ascii")
    return Numbered(Picture(figure, typed.lines), VIEW, point_lines(layout, points))


def _step(step: SheetStep) -> Together:
    """Its cautions and their boxes come first."""
    read = tuple(_blank(box) for box in step.boxes if box.kind.acknowledges)
    filled = tuple(_blank(box) for box in step.boxes if not box.kind.acknowledges)
    blocks: tuple[FormBlock, ...] = (
        *(Notice(caution.title, caution.sentences) for caution in step.cautions),
        *((Blanks(read),) if read else ()),
        Move(step.only_when, step.how),
        *step.codes,
        Blanks(filled),
    )
    return Together(blocks, Heading(str(step.id), f"{step.number}. {step.title}"))


def _blank(box: Box) -> Blank:
    return Blank(box.kind, box.label, box.points, box.only_if, box.codes, box.preset)


def _end(sheet: Sheet) -> Together:
    """What was left out, and who signs."""
    left = (Paragraph(f"Left out: {n}. {name}. {why}") for n, name, why in sheet.left_out)
    return Together((*left, Fields(((Field("Signed", 48), Field("Date", 26)),))))
