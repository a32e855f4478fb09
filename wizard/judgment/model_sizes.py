"""A layout with the sizes of the car in a survey: the owner's figures, and widths and lengths as
taped.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.checks.case import case_of
from wizard.checks.sizes import length, width
from wizard.library.places import is_own
from wizard.library.shapes import Layout, Library
from wizard.model.frame import HORNS
from wizard.survey.record import Survey

LIKELY = 0.25
"""Share by which a taped size may differ from the layout's: beyond it a slip is likelier than such
a frame.
"""


def model_layout(survey: Survey, library: Library) -> Layout:
    """The survey's layout, with its own sizes wherever they were taped and can be believed."""
    case = case_of(survey, library)
    layout = case.layout
    halves = {p.id: p.half_width for p in layout.places}
    for place in layout.places:
        wide, ids = width(case, place.id) if set(place.sides) == {"left", "right"} else (None, ())
        if wide is not None and ids and _likely(wide.value, 2 * place.half_width):
            halves[place.id] = wide.value / 2
    along = {p.id: p.x for p in layout.places}
    for box in layout.boxes:
        long, ids = length(case, box)
        if not ids or not _likely(long.value, layout.place(box.rear).x - layout.place(box.front).x):
            continue
        if (
            is_own(box.front) or box.front == HORNS
        ):  # what is tied to the frame, not the frame to it
            along[box.front] = along[box.rear] - long.value
        else:
            along[box.rear] = along[box.front] + long.value
    if sorted(along, key=lambda p: along[p]) != [
        p.id for p in sorted(layout.places, key=lambda p: p.x)
    ]:
        return layout
    places = tuple(replace(p, x=along[p.id], half_width=halves[p.id]) for p in layout.places)
    return replace(layout, places=places)


def _likely(taped: float, round_figure: float) -> bool:
    return abs(taped - round_figure) <= LIKELY * abs(round_figure)
