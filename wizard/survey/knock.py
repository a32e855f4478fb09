"""A knock between two surveys: the looks of that corner are open again.

Common practice, no published source: after a known knock a tradesman looks once more at the rail's
side, the horn, the crossmember and its rivets, the spring's hanger and the axle's end there.
Content marks the pages (wizard/library/marks.py).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wizard.library import marks
from wizard.library.places import SIDES, part_of_step
from wizard.library.shapes import Library
from wizard.survey.meant import meant
from wizard.survey.record import Survey

AT: Mapping[str, tuple[tuple[str, ...], str]] = {
    marks.LEFT_FRONT: (("left",), marks.FRONT_CORNER),
    marks.RIGHT_FRONT: (("right",), marks.FRONT_CORNER),
    marks.LEFT_REAR: (("left",), marks.REAR_CORNER),
    marks.RIGHT_REAR: (("right",), marks.REAR_CORNER),
    marks.BESIDE: (SIDES, marks.BETWEEN),
}
"""Where it was hit: the sides and the mark of the pages that are open again."""


def opened_again(survey: Survey, library: Library) -> tuple[str, ...]:
    """The looks that a knock since last time opens, as parts of steps; nothing without one.

    Where nobody knows the corner, every corner is open.
    """
    if not survey.follows or meant(survey, library, marks.HAPPENED) != marks.KNOCK:
        return ()
    happened = library.asking(marks.HAPPENED)
    where = meant(survey, library, marks.WHERE_HIT, happened.step if happened else "")
    hit = (AT[where],) if where in AT else tuple(AT.values())
    found = (p for sides, mark in hit for p in _looks(library, sides, mark))
    return tuple(dict.fromkeys(found))


def _looks(library: Library, sides: tuple[str, ...], mark: str) -> Iterator[str]:
    for step in library.marked(mark):
        yield from (part_of_step(step.id, side) for side in sides)
