"""Everything that was written down, page by page; what of it cannot be used is marked, so that it
can be struck out.
"""

from __future__ import annotations

from collections.abc import Iterator

from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.survey.guide import Page
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import (
    Guess,
    Opinion,
    OwnLimit,
    OwnPlace,
    PointNote,
    Reading,
    Remark,
    Row,
    Size,
    Tool,
)
from wizard.telling.closing import wrap
from wizard.telling.left_out import left_out, row_words
from wizard.telling.page import DRILL, row_of

BAD = "cannot be used"
HOW = "/strike and its number takes it out, like /strike {id}; /undo puts it back."


def left_out_lines(survey: Survey, library: Library, width: int = 76) -> list[str]:
    """The rows that cannot be used, each with its number and the reason; empty where there are
    none.
    """
    lines: list[str] = []
    for found in left_out(survey, library):
        lines += wrap(f"{found.row.id}  {row_words(found.row)}. {found.why}", width, "  - ", "    ")
    return ["Left out because it cannot be used", *lines] if lines else []


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
    """All that was written down: page by page, then what belongs to no page; what cannot be used is
    marked.
    """
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
    return _under(
        page.step.title, [said for p in page.prompts for said in _page_rows(survey, p, bad)]
    )


def _under(heading: str, rows: list[str]) -> list[str]:
    lines = [part for row in rows for part in wrap(row, 76, "  ", "      ")]
    return ["", heading, *lines] if lines else []


def _page_rows(survey: Survey, prompt: Prompt, bad: dict[str, str]) -> Iterator[str]:
    """What stands at a prompt; a reading that cannot be used stands in a line of its own with the
    reason.
    """
    row = row_of(survey, prompt)
    if row.values:
        yield clean_line(f"{row.label}: {row.values}", 300)
    hidden = prompt.step == DRILL
    yield from (
        _marked(r, r.typed, bad)
        for r in survey.readings_of(prompt.id)
        if r.id in bad and not hidden
    )


def _marked(row: Row, said: str, bad: dict[str, str]) -> str:
    why = f" ({BAD}: {bad[row.id]})" if row.id in bad else ""
    return f"{row.id}  {said}{why}" if row.id in bad else said
