"""Lengths and widths of the frame that other checks lean on: as taped, else the layout's round
figures.
"""

from __future__ import annotations

from wizard.checks.case import Case, Taken
from wizard.library import marks
from wizard.library.places import (
    PlaceId,
    StepId,
    pair_ids,
    point_id,
    prompt_id,
    tape_id,
)
from wizard.library.shapes import Box
from wizard.math.diagonals import center_length
from wizard.math.uncertain import Part, Uncertain

ROUND_U = 0.04
"""Relative standard uncertainty of a layout's round figure: from memory, frames of one kind differ
so much.
"""
WIDTH_U, LENGTH_U = 0.08, 0.12
"""The same of a width, and of a box's length: one kind's widths differ by a quarter, and makers set
their crossmembers where they liked (this project's own figures).
"""


def round_figure(name: str, value: float, relative: float = ROUND_U) -> Uncertain:
    """A size of the layout with the doubt of a round figure."""
    why = "a round figure of this kind of frame"
    return Uncertain(
        value,
        (
            Part(
                f"round:{name}", abs(value) * relative, shared=True, source=why, whose="from memory"
            ),
        ),
    )


def width(
    case: Case, place: PlaceId, relative: float = ROUND_U
) -> tuple[Uncertain, tuple[str, ...]]:
    """The width between the two points of a place, mm, and the readings it came from (none: a round
    figure, known so well).
    """
    across, page = tape_id(*pair_ids(place)), case.library.page
    taken = case.taken(prompt_id(page[marks.WIDTHS], place, across)) or case.taken(
        prompt_id(page[marks.HORN_TIPS], case.layout.horns, across)
    )
    if taken:
        return taken.number, taken.ids
    plain = 2 * case.layout.place(place).half_width
    return round_figure(f"width:{place}", plain, relative), ()


def side(case: Case, box: Box, which: str) -> Taken | None:
    """The own-side length of a box on one side, as taped."""
    name, page = tape_id(point_id(box.front, which), point_id(box.rear, which)), case.library.page
    return case.taken(prompt_id(page[marks.RAIL_LENGTHS], box.id, name)) or case.taken(
        prompt_id(page[marks.HORN_TIPS], box.id, name)
    )


def pair(case: Case, box: Box, steps: tuple[StepId, ...] = ()) -> tuple[Taken, Taken] | None:
    """Both diagonals of a box: left front to right rear, then the other; None unless one step has
    both.
    """
    (left, right), (other_left, other_right) = pair_ids(box.front), pair_ids(box.rear)
    for step in steps or case.library.in_turn(marks.DIAGONALS):
        first = case.taken(prompt_id(step, box.id, tape_id(left, other_right)))
        second = case.taken(prompt_id(step, box.id, tape_id(right, other_left)))
        if first and second:
            return first, second
    return None


def length(case: Case, box: Box) -> tuple[Uncertain, tuple[str, ...]]:
    """The length of a box along the center line, mm, and the readings it came from."""
    left, right = side(case, box, "left"), side(case, box, "right")
    layout = case.layout
    ahead = layout.place(box.rear).x - layout.place(box.front).x
    plain = round_figure(f"length:{box.id}", ahead, LENGTH_U), ()
    if left is None or right is None:
        return plain
    front, front_ids = width(case, box.front)
    rear, rear_ids = width(case, box.rear)
    try:
        along = center_length(left.number, right.number, front, rear)
    except (
        ValueError
    ):  # Sides too short for the widths: a slip, kept all the same. The closure will say so.
        return plain
    return along, (*left.ids, *right.ids, *front_ids, *rear_ids)
