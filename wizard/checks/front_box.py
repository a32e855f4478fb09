"""The front box by a bar: the gap at the second diagonal is the difference itself, so the tape's
error stays out.

Source: geometry of the box; the leaning pointer is common practice, no published source.
"""

from __future__ import annotations

import math

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import ROUND_FIGURES
from wizard.checks.sizes import WIDTH_U, length, width
from wizard.library import marks
from wizard.library.places import (
    FRONT_BOX,
    NO_PLACE,
    Side,
    pair_ids,
    part_of,
    point_id,
    prompt_id,
    tape_id,
)
from wizard.library.shapes import Box
from wizard.math.uncertain import GUESS, Part, Uncertain, combine
from wizard.readings.instruments import Bar, instrument
from wizard.readings.refused import Refused

RETURNS = (marks.RAIL_SHIFT,)

LEAN_DEG = 1 / 6
POINTER_MM = 60.0


def check(case: Case) -> list[Finding]:
    """Rail shift of the front box from the bar; nothing where the bar was not used."""
    box, bar = case.layout.box_by_id.get(FRONT_BOX), case.library.page[marks.CARRIED_BAR]
    if box is None:
        return []
    tape = tape_id(point_id(box.front, Side.RIGHT), point_id(box.rear, Side.LEFT))
    gap = case.taken(prompt_id(bar, NO_PLACE, tape))
    if gap is None:
        return []
    closing = case.taken(prompt_id(bar, NO_PLACE, "closing"))
    number, ids = _with_all_points(case, box, gap.number), gap.ids
    if closing:
        # What the bar had moved by when it came back may have happened before or after any of the
        # gaps.
        # The gaps are not corrected for it, so the whole of it counts (JCGM 100:2008 F.2.4.5):
        # rectangular, one-sided.
        slip = Part(
            "bar:slip",
            abs(closing.number.value) / 3**0.5,
            shared=True,
            source="the bar did not come back",
        )
        number, ids = number.with_parts(slip), (*ids, *closing.ids)
    along, length_ids = length(case, box)
    wide, width_ids = _mean_width(case, box)
    # s = (d1 - d2)(d1 + d2) / 4L = gap × d / 2L with d the mean diagonal, d² = L² + W².
    mean = math.hypot(along.value, wide.value)
    factor = mean / (2 * along.value)
    slant = number.value * (wide.value / along.value) / (2 * mean)
    shift = combine(
        number.value * factor,
        [(factor, number), (slant, wide), (-slant * wide.value / along.value, along)],
    )
    sizes = (*length_ids, *(i for i in width_ids if i not in length_ids))
    return [
        case.found(
            marks.RAIL_SHIFT,
            marks.BY_BAR,
            shift,
            (*ids, *sizes),
            *(() if length_ids and width_ids else (ROUND_FIGURES,)),
        )
    ]


def _with_all_points(case: Case, box: Box, gap: Uncertain) -> Uncertain:
    """The gap with the doubt of all four points: it is the first diagonal, where the bar was set,
    less the second.
    """
    own = (*(p for p in gap.parts if part_of(p.name).kind != "point"), *_lean(case))
    front, rear = pair_ids(box.front), pair_ids(box.rear)
    first = Uncertain(0.0, case.point_parts(front[0], rear[1]))
    second = Uncertain(0.0, case.point_parts(front[1], rear[0]))
    return Uncertain(gap.value, own) + (first - second)


def _lean(case: Case) -> tuple[Part, ...]:
    """Pointers that lean a little differently each time they are set: the longer they are the more
    it reads.
    """
    tool = case.survey.tool("bar")
    try:
        found = (
            instrument({**tool.extra, "kind": "bar", "name": tool.name}, case.survey.unit)
            if tool
            else None
        )
    except Refused:
        found = None
    pointer = float(found.pointer) if isinstance(found, Bar) else POINTER_MM
    why = "a pointer that leans by a sixth of a degree"
    return (Part("bar:lean", pointer * math.radians(LEAN_DEG), source=why, whose=GUESS),)


def _mean_width(case: Case, box: Box) -> tuple[Uncertain, tuple[str, ...]]:
    """Half of what the widths at both ends add up to, and the readings; none where one is a round
    figure.
    """
    ends = (width(case, place, WIDTH_U) for place in (box.front, box.rear))
    (front, front_ids), (rear, rear_ids) = ends
    mean = (front + rear).scaled(0.5)
    return mean, (*front_ids, *rear_ids) if front_ids and rear_ids else ()
