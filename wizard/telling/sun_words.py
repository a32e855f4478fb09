"""What is said of a car that was read with the sun on a side of it."""

from __future__ import annotations

from collections.abc import Callable

from wizard.checks.sunny import WARMER, bow_of
from wizard.library.shapes import Library
from wizard.readings.warmth import BOTH
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import State
from wizard.survey.sizes import own_layout
from wizard.telling.amounts import at_most, size
from wizard.telling.document import Item

SHADE = (
    "Cover the car, or wait for shade, until both sides feel equally warm; then say so here again."
    " A rail that the sun warms on top bows: this one by up to {bow} if its top is {warmer} warmer."
    " What you read in the sun gets more doubt."
)
TOLD = (
    "{what} in the sun for {count}. A rail that is {warmer} warmer on top than below bows by {bow}"
    " here, and is longer than a cool tape says. Nobody knows how much of that there was, so it"
    " adds to the doubt of the figures. To be rid of that, read them again in the shade."
)
WHAT = {"left": "The left side stood", "right": "The right side stood", BOTH: "Both sides stood"}


def _warmer(survey: Survey) -> str:
    """How much warmer, in the scale that goes with the survey's unit."""
    return f"{WARMER * 1.8:.0f} °F" if survey.unit == "in" else f"{WARMER:.0f} °C"


def _bow(survey: Survey, library: Library, said: Callable[[float, str, Unit], str]) -> str:
    return said(bow_of(own_layout(layout_of(survey, library), survey)), "mm", survey.unit)


def shade_it(survey: Survey, library: Library) -> str:
    """What to do about it, as soon as it is said."""
    return SHADE.format(bow=_bow(survey, library, at_most), warmer=_warmer(survey))


def sun_items(survey: Survey, library: Library) -> list[Item]:
    """A line for each side that was in the sun while something was read; none in the shade."""
    if not any(s.temperature for s in survey.table(State)):
        return []
    from wizard.checks.case import case_of  # numpy only where somebody said how warm it was

    by_side: dict[str, list[str]] = {}
    case = case_of(survey, library)
    for rows in case.counted.values():
        for row in rows:
            if row.id in case.suns:
                by_side.setdefault(case.suns[row.id], []).append(row.id)
    return [Item(_told(side, ids, survey, library), tuple(ids)) for side, ids in by_side.items()]


def _told(side: str, ids: list[str], survey: Survey, library: Library) -> str:
    count = "one reading" if len(ids) == 1 else f"{len(ids)} readings"
    how = {"what": WHAT[side], "count": count, "warmer": _warmer(survey)}
    return TOLD.format(bow=_bow(survey, library, size), **how)
