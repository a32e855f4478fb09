"""What of a survey cannot be used: rows that a file holds and no prompt would have taken.

Every sum leaves them out.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Any, NamedTuple

from wizard.judgment.bands import own_figure
from wizard.library.shapes import Library
from wizard.readings.instruments import instrument
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.survey.guide import layout_of
from wizard.survey.own_frame import carried, frame_of
from wizard.survey.own_places import left_out_places
from wizard.survey.record import Survey
from wizard.survey.rows import (
    CarNote,
    OwnFrame,
    OwnLimit,
    OwnPlace,
    PointNote,
    Reading,
    Remark,
    Row,
    Size,
    Tool,
)
from wizard.survey.sizes import sizes_of, words
from wizard.telling.mark_words import mark_words
from wizard.telling.part_words import prompt_words


class LeftOut(NamedTuple):
    """A row that counts for nothing."""

    row: Row
    why: str
    """One sentence."""


def left_out(survey: Survey, library: Library) -> tuple[LeftOut, ...]:
    """Standing rows that no sum can use: readings, then what was set down beside them."""
    return (*_readings(survey, library), *left_out_beside(survey, library))


def left_out_beside(survey: Survey, library: Library) -> tuple[LeftOut, ...]:
    """Tools, limits, sizes and places that no sum can use.

    Loads no math, so that a survey opens as quickly.
    """
    layout = layout_of(survey, library)
    frame, row = frame_of(survey, library), carried(survey)
    base = frame.layout
    return (
        *((LeftOut(row, frame.refused),) if row and frame.refused else ()),
        *_tools(survey),
        *_limits(survey, library),
        *(LeftOut(row, why) for row, why in sizes_of(layout, survey).left_out),
        *(LeftOut(row, why) for row, why in left_out_places(base, survey)),
    )


def _tools(survey: Survey) -> Iterator[LeftOut]:
    for tool in survey.standing(Tool):
        try:
            instrument({**tool.extra, "kind": tool.kind, "name": tool.name}, survey.unit)
        except Refused as refused:
            yield LeftOut(tool, str(refused))


def _readings(survey: Survey, library: Library) -> Iterator[LeftOut]:
    from wizard.checks.case import case_of  # numpy only once there is something to compute

    case = case_of(survey, library)
    for row in survey.standing(Reading):
        if row.prompt not in case.prompts:
            yield LeftOut(row, "No page asks for it.")
            continue
        if why := case.unreadable(row):
            yield LeftOut(row, why)


def _limits(survey: Survey, library: Library) -> Iterator[LeftOut]:
    for row in survey.standing(OwnLimit):
        limit = library.limits.get(row.limit)
        if limit is None or row.band not in {b.band for b in limit.above}:
            yield LeftOut(row, "There is no such limit or band.")
            continue
        if isinstance(why := own_figure(row, survey, limit), str):
            yield LeftOut(row, why)


def row_words(row: Row) -> str:
    """A row as it was written down: what it is of, and what was typed."""
    say = SAYS.get(type(row))
    return clean_line(say(row) if say else str(getattr(row, "text", "")) or row.id, 200)


def _remark_words(row: Remark) -> str:
    return f"{row.text} photo {row.photo}".strip() if row.photo else row.text or row.id


def _place_words(row: OwnPlace) -> str:
    return f"your place {row.name}, {row.use}: {row.behind} behind the front points"


def _limit_words(row: OwnLimit) -> str:
    source = f", {row.source}" if row.source else ""
    return f"limit of {row.limit}, {row.band} up to {row.upto}{source}"


def _tool_words(row: Tool) -> str:
    figures = ", ".join(f"{key} {value}" for key, value in row.extra.items())
    return f"{row.name or row.kind}: {figures}"


SAYS: Mapping[type[Row], Callable[[Any], str]] = {
    Size: lambda row: f"{words(row.name)}: {row.typed}",
    Reading: lambda row: f"{prompt_words(row.prompt)}: {row.typed}",
    OwnLimit: _limit_words,
    OwnPlace: _place_words,
    OwnFrame: lambda row: f"the kind of frame {row.layout}",
    Tool: _tool_words,
    PointNote: mark_words,
    CarNote: lambda row: f"{row.about}: {row.text}",
    Remark: _remark_words,
}
"""How each kind of row is said that is no plain text."""


def left_out_sentence(survey: Survey, library: Library) -> str:
    """What of a file is left out as it is opened, in one sentence; empty where all of it can be
    used.
    """
    rows = left_out_beside(survey, library)
    if not rows:
        return ""
    first, more = row_words(rows[0].row), len(rows) - 1
    if more:
        return (
            f"“{first}” and {more} more cannot be used, so they are left out; /readings shows why."
        )
    return f"“{first}” cannot be used, so it is left out; /readings shows why."
