"""A layout with the sizes of the car in a survey: the owner's figures, and widths and lengths as
taped.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.checks.case import Case, case_of
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
    halves, along = _half_widths(case), _stretched(case)
    if sorted(along, key=lambda p: along[p]) != _from_front(layout):
        return layout
    places = tuple(replace(p, x=along[p.id], half_width=halves[p.id]) for p in layout.places)
    return replace(layout, places=places)


def _from_front(layout: Layout) -> list[str]:
    """The places in their order along the frame."""
    return [p.id for p in sorted(layout.places, key=lambda p: p.x)]


def _half_widths(case: Case) -> dict[str, float]:
    """Half the width at each place, as taped where that can be believed."""
    halves = {p.id: p.half_width for p in case.layout.places}
    for place in case.layout.places:
        if set(place.sides) != {"left", "right"}:
            continue
        wide, ids = width(case, place.id)
        if ids and _likely(wide.value, 2 * place.half_width):
            halves[place.id] = wide.value / 2
    return halves


def _stretched(case: Case) -> dict[str, float]:
    """Where each place lies along the frame, with the boxes as long as taped."""
    layout = case.layout
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
    return along


def _likely(taped: float, round_figure: float) -> bool:
    return abs(taped - round_figure) <= LIKELY * abs(round_figure)
