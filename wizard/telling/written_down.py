"""Everything that was written down, page by page, and what of it cannot be used.

A file may hold what no prompt would have taken. It is left out of every sum; here it is named, so that it can be
struck out or measured again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wizard.checks.case import Case
from wizard.judgement.bands import own_figure
from wizard.library.shapes import Library
from wizard.readings.instruments import instrument
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.survey.guide import Page, layout_of
from wizard.survey.own_places import left_out_places
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Guess, Opinion, OwnLimit, OwnPlace, PointNote, Reading, Remark, Row, Size, Tool
from wizard.survey.sizes import sizes_of, words
from wizard.telling.closing import wrap
from wizard.telling.mark_words import mark_words
from wizard.telling.page import DRILL, row_of
from wizard.telling.part_words import prompt_words

BAD = "cannot be used"
HOW = "/strike and its number takes it out, like /strike {id}; /undo puts it back."


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A row that counts for nothing."""

    row: Row
    why: str
    """One sentence."""


def left_out(survey: Survey, library: Library) -> tuple[LeftOut, ...]:
    """Standing rows that no sum can use, in the order of the file's tables."""
    layout = layout_of(survey, library)
    base = library.layouts.get(survey.layout, layout)
    found = (
        *_tools(survey),
        *_readings(survey, library),
        *_limits(survey, library),
        *(LeftOut(row, why) for row, why in sizes_of(layout, survey).left_out),
        *(LeftOut(row, why) for row, why in left_out_places(base, survey)),
    )
    return found


def _tools(survey: Survey) -> Iterator[LeftOut]:
    for tool in survey.standing(Tool):
        try:
            instrument({**tool.extra, "kind": tool.kind, "name": tool.name}, survey.unit)
        except Refused as refused:
            yield LeftOut(tool, str(refused))


def _readings(survey: Survey, library: Library) -> Iterator[LeftOut]:
    case = Case(survey, library)
    for row in survey.standing(Reading):
        if row.prompt not in case.prompts:
            yield LeftOut(row, "No page of this program asks for it.")
            continue
        if why := case.unreadable(row):
            yield LeftOut(row, why)


def _limits(survey: Survey, library: Library) -> Iterator[LeftOut]:
    for row in survey.standing(OwnLimit):
        limit = library.limits.get(row.limit)
        if limit is None or row.band not in {b.band for b in limit.above}:
            yield LeftOut(row, "There is no such limit or band.")
            continue
        if isinstance(why := own_figure(row, survey), str):
            yield LeftOut(row, why)


def row_words(row: Row) -> str:
    """A row as it was written down: what it is of, and what was typed."""
    return clean_line(_row_words(row), 200)


def _row_words(row: Row) -> str:
    if isinstance(row, Size):
        return f"{words(row.name)}: {row.typed}"
    if isinstance(row, Reading):
        return f"{prompt_words(row.prompt)}: {row.typed}"
    if isinstance(row, OwnLimit):
        return f"limit {row.limit}, {row.band}: {row.upto}, {row.source}"
    if isinstance(row, OwnPlace):
        return f"own place {row.name}, {row.use}: {row.behind} behind the front points"
    if isinstance(row, Tool):
        figures = ", ".join(f"{key} {value}" for key, value in row.extra.items())
        return f"{row.name or row.kind}: {figures}"
    if isinstance(row, PointNote):
        return mark_words(row)
    if isinstance(row, Remark) and row.photo:
        return f"{row.text} photo {row.photo}".strip()
    return str(getattr(row, "text", "")) or row.id


def left_out_sentence(survey: Survey, library: Library) -> str:
    """What of a file is left out, in one sentence; empty where all of it can be used."""
    rows = left_out(survey, library)
    if not rows:
        return ""
    first, more = row_words(rows[0].row), len(rows) - 1
    also = f", nor can {more} more" if more else ""
    return f"{first[:1].upper()}{first[1:]} cannot be used{also}, and is left out; /readings lists what was written."


def left_out_lines(survey: Survey, library: Library, width: int = 76) -> list[str]:
    """The rows that cannot be used, each with its number and the reason; empty where there are none."""
    lines: list[str] = []
    for found in left_out(survey, library):
        lines += wrap(f"{found.row.id}  {row_words(found.row)}. {found.why}", width, "  - ", "    ")
    return ["Left out, for it cannot be used", *lines] if lines else []


BESIDE: tuple[tuple[str, type[Row]], ...] = (
    ("Sizes of this frame", Size),
    ("Limits of your own", OwnLimit),
    ("Tools", Tool),
    ("Places of your own", OwnPlace),
    ("Points", PointNote),
    ("Remarks and photos", Remark),
    ("Guesses", Guess),
    ("Opinions", Opinion),
)
"""What belongs to no page, under its heading."""


def written_text(survey: Survey, library: Library, pages: tuple[Page, ...]) -> str:
    """All that was written down: page by page, then what belongs to no page; what cannot be used is marked."""
    bad = {found.row.id: found.why for found in left_out(survey, library)}
    lines: list[str] = []
    for page in pages:
        lines += _page(survey, page, bad)
    asked = {prompt.id for page in pages for prompt in page.prompts}
    rest = [r for r in survey.standing(Reading) if r.prompt not in asked]
    lines += _under("No page asks for it just now", [_marked(r, row_words(r), bad) for r in rest])
    for heading, kind in BESIDE:
        lines += _under(heading, [_marked(r, row_words(r), bad) for r in survey.standing(kind)])
    if not lines:
        return "Nothing is written down yet."
    return "\n".join([*(wrap(HOW.format(id=next(iter(bad)))) if bad else ()), *lines]).strip()


def _page(survey: Survey, page: Page, bad: dict[str, str]) -> list[str]:
    return _under(page.step.title, [said for p in page.prompts for said in _page_rows(survey, p, bad)])


def _under(heading: str, rows: list[str]) -> list[str]:
    lines = [part for row in rows for part in wrap(row, 76, "  ", "      ")]
    return ["", heading, *lines] if lines else []


def _page_rows(survey: Survey, prompt: Prompt, bad: dict[str, str]) -> Iterator[str]:
    """What stands at a prompt; a reading that cannot be used stands in a line of its own with the reason."""
    row = row_of(survey, prompt)
    if row.values:
        yield clean_line(f"{row.label}: {row.values}", 300)
    hidden = prompt.step == DRILL
    yield from (_marked(r, r.typed, bad) for r in survey.readings_of(prompt.id) if r.id in bad and not hidden)


def _marked(row: Row, said: str, bad: dict[str, str]) -> str:
    why = f" ({BAD}: {bad[row.id]})" if row.id in bad else ""
    return f"{row.id}  {said}{why}" if row.id in bad else said
