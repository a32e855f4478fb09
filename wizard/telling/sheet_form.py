"""The worksheet as a form: room for names and dates, the frame from above with its points numbered
and the string's stations named, then step by step what is read and what is written down.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import groupby

from wizard.library.places import PointId, asked_of
from wizard.library.shapes import Layout
from wizard.telling.also_words import called_by
from wizard.telling.cells import painted
from wizard.telling.document import Heading, Paragraph, Picture, items
from wizard.telling.form import (
    Blank,
    Blanks,
    Columns,
    Field,
    Fields,
    Form,
    FormBlock,
    Move,
    Notice,
    Numbered,
    PaperSize,
    Together,
)
from wizard.telling.numbering import station_name, station_numbers
from wizard.telling.quantity_names import cap
from wizard.telling.scene import Mark, Part, Scene
from wizard.telling.scene_frame import flat, frame, sides, spots
from wizard.telling.sheet import Box, Sheet, SheetStep
from wizard.telling.sheet_words import (
    AGAIN_LINES,
    ALIKE,
    ENTER_LINES,
    FILL_LINES,
    GOING_ON_LINES,
    HEAD_FIELDS,
    LOOK_LINES,
    OWN_SHEET,
    PLACE_LINE,
    STOOD_THEN,
    WHOLE_LINE,
    title_of,
)
from wizard.telling.svg_scene import drawn

VIEW = "The frame from above, front to the left, so the car's left side is the lower one."
TITLE = "The points of the frame, from above"
TYPED = (78, 15)
"""Columns and lines of the drawing in typed marks."""


def words_of(layout: Layout) -> str:
    """What the drawing shows."""
    along = sorted(layout.stations, key=lambda s: s.x)
    names = ", ".join(station_name(s.id, layout) for s in along)
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
    parts: tuple[Part, ...] = (
        *frame(layout, at),
        *sides(layout, half),
        *_stations(layout, -half),
        *(Mark("block", (x, -half)) for x in layout.string),
        *(Mark("number", place, str(points[id])) for id, place in at.items()),
    )
    return Scene(parts, (min(along), max(along)), half, words_of(layout))


def _stations(layout: Layout, across: float) -> Iterator[Mark]:
    """The string's stations with their names, every other one a line lower."""
    numbers = station_numbers(layout)
    for n, station in enumerate(sorted(layout.stations, key=lambda s: s.x)):
        name = station_name(station.id, layout)
        yield Mark("station", (station.x, across), name, row=n % 2, short=numbers[station.id])


def form_of(sheet: Sheet) -> Form:
    """The whole sheet."""
    word = sheet.layout.worded
    steps = tuple(_step(step, word) for step in sheet.steps)
    parts: tuple[Together | Numbered, ...] = (
        _head(sheet),
        numbered(sheet.layout, sheet.points),
        *steps,
        *((_more(sheet),) if sheet.more else ()),
        *((_photos(sheet),) if sheet.photos else ()),
        _end(sheet),
    )
    return Form(f"Crosstape worksheet: {sheet.car or sheet.layout.name}", parts)


DRAWINGS = {
    "A3": PaperSize("A3 landscape", 1, 235),
    "A4": PaperSize("A4 landscape", 2, 150),
    "letter": PaperSize("letter landscape", 2, 155),
}
"""The papers on which the drawing is printed alone, large."""
POINT_LINES = (
    "Write beside each point how it is marked, and the number of its photo. Write what you tape"
    " beside the line between its points."
)


def drawing_of(sheet: Sheet, paper: str) -> Form:
    """The drawing alone, large, with room beside each point; paper: one of DRAWINGS."""
    size = DRAWINGS[paper]
    pages = size.sheets
    scene = replace(numbered_scene(sheet.layout, sheet.points), words=POINT_LINES)
    first, last = scene.reach
    each = (last - first) / pages
    name = sheet.car or sheet.layout.name
    head = Together((Heading("drawing", f"Drawing of the points: {name}", 1),))
    parts: list[Together | Numbered] = [head]
    for n in range(pages):
        reach = (first + n * each, first + (n + 1) * each)
        words = ("", "front half", "rear half")[n + 1] if pages > 1 else ""
        title = ", ".join(w for w in ("The frame from above", words) if w)
        here = replace(scene, reach=reach, parts=(*scene.parts, *_to_write_in(sheet, reach)))
        figure = drawn(f"points-{n}", title, here, above=58.0, below=100.0)
        typed = painted(scene, *TYPED, "ascii").lines if n == 0 else ()
        points = point_lines(sheet.layout, sheet.points) if n == pages - 1 else ()
        parts.append(Numbered(Picture(figure, typed), POINT_LINES, points))
    return Form(f"Drawing of the points: {name}", tuple(parts), size)


def _to_write_in(sheet: Sheet, reach: tuple[float, float]) -> Iterator[Mark]:
    """A box for each point there, over the right rail or under the left one."""
    for id, number in sheet.points.items():
        x, y = flat(sheet.layout)[id]
        if reach[0] <= x <= reach[1]:
            yield Mark("write", (x, y), f"{number}: mark, photo", row=int(y < 0))


def _head(sheet: Sheet) -> Together:
    title = Heading("sheet", f"Worksheet: {sheet.car}" if sheet.car else "Worksheet", 1)
    about = Paragraph(title_of(sheet.layout, sheet.state))
    known = (Paragraph(f"{cap(words)}.") for words in sheet.of_car)
    said = (*_first_lines(sheet), *_fill_lines(sheet), *_enter_lines(sheet))
    return Together((title, about, *known, _head_fields(sheet), items(said)))


def _head_fields(sheet: Sheet) -> Fields:
    """Room for names and tools, and for what nobody noted of the car."""
    car, *rest = HEAD_FIELDS
    lacks = [tuple(map(cap, sheet.lacks))] if sheet.lacks else []
    rows = (car, *lacks, *rest)
    return Fields(tuple(tuple(_head_field(name, sheet) for name in row) for row in rows))


def _first_lines(sheet: Sheet) -> tuple[str, ...]:
    """What a sheet for a re-check, or for a survey that goes on, says first."""
    if sheet.again:
        stood = (f"{STOOD_THEN}: {sheet.stood}. {ALIKE}",) if sheet.stood else ()
        return (*stood, *AGAIN_LINES)
    return GOING_ON_LINES if sheet.going_on else ()


def _fill_lines(sheet: Sheet) -> list[str]:
    """How the boxes that it has are filled in."""
    kinds = [box.kind for step in sheet.steps for box in step.boxes]
    places = any(kind.gathers for kind in kinds)
    looks = places or any(kind.looks for kind in kinds)
    needless = {*(() if looks else LOOK_LINES), *(() if places else (PLACE_LINE,))}
    return [sheet.layout.worded(line) for line in FILL_LINES if line not in needless]


def _enter_lines(sheet: Sheet) -> list[str]:
    """How it is typed in."""
    anew = not (sheet.again or sheet.going_on)
    return [line for line in ENTER_LINES if line != WHOLE_LINE or anew]


def _head_field(name: str, sheet: Sheet) -> Field:
    return Field(name, value=sheet.car if name == HEAD_FIELDS[0][0] else "")


def _more(sheet: Sheet) -> Together:
    """What a sign may call for, and that needs a sheet of its own."""
    said = [
        "; ".join(filter(None, (f"{cap(a.name)} ({a.id})", called_by(a)))) + "." for a in sheet.more
    ]
    said = [sheet.layout.worded(line) for line in said]
    return Together((items([*said, OWN_SHEET]),), Heading("more", "Not on this sheet"))


def _photos(sheet: Sheet) -> Together:
    """Room for the number of each photo that every record needs."""
    word = sheet.layout.worded
    names = [cap(word(photo.name)) for photo in sheet.photos]
    pairs = (names[n : n + 2] for n in range(0, len(names), 2))
    rows = tuple(tuple(Field(name, 38) for name in pair) for pair in pairs)
    how = items(word(f"{cap(photo.name)}: {photo.how}.") for photo in sheet.photos)
    return Together(
        (how, Fields(rows)),
        Heading("photos", "Photos that every record needs: write their numbers"),
    )


def numbered(layout: Layout, points: Mapping[PointId, int]) -> Numbered:
    """The drawing in lines, and in typed marks, which have no room for the stations."""
    scene = numbered_scene(layout, points)
    figure = drawn("points", TITLE, scene, above=20.0, below=56.0)
    typed = painted(scene, *TYPED, "ascii")
    return Numbered(Picture(figure, typed.lines), VIEW, point_lines(layout, points))


def _step(step: SheetStep, word: Callable[[str], str]) -> Together:
    """Its cautions and their boxes come first."""
    read = tuple(_blank(box) for box in step.boxes if box.kind.acknowledges)
    filled = [box for box in step.boxes if not box.kind.acknowledges]
    blocks: tuple[FormBlock, ...] = (
        *(Notice(caution.title, caution.sentences) for caution in step.cautions),
        *((Blanks(read),) if read else ()),
        Move(step.only_when, step.how),
        *step.codes,
        *_by_rail(filled, word),
    )
    return Together(blocks, Heading(str(step.id), f"{step.number}. {step.title}"))


def _by_rail(boxes: Sequence[Box], word: Callable[[str], str]) -> Iterator[FormBlock]:
    """The boxes in their order; where all of the left rail are followed by as many of the right one,
    a column for each.
    """
    runs = [
        (side, tuple(_blank(box) for box in some))
        for side, some in groupby(boxes, key=lambda box: asked_of(box.ask.prompt.id).side)
    ]
    loose: list[Blank] = []
    while runs:
        side, blanks = runs.pop(0)
        twin = runs[0] if runs else (None, ())
        if side and twin[0] == side.other and len(blanks) == len(twin[1]) > 1:
            if loose:
                yield Blanks(tuple(loose))
            loose = []
            heads = word(f"{side} rail"), word(f"{side.other} rail")
            yield Columns(heads, Blanks(blanks), Blanks(twin[1]))
            runs.pop(0)
        else:
            loose += blanks
    if loose:
        yield Blanks(tuple(loose))


def _blank(box: Box) -> Blank:
    return Blank(box.kind, box.label, box.points, box.only_if, box.codes, box.preset)


def _end(sheet: Sheet) -> Together:
    """What was left out, and who signs."""
    left = (Paragraph(f"Left out: {n}. {name}. {why}") for n, name, why in sheet.left_out)
    return Together((*left, Fields(((Field("Signed", 48), Field("Date", 26)),))))
