"""Everything that was written down, page by page; what of it cannot be used is marked, so that it
can be struck out, and what is left out of the mean.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wizard.library import marks
from wizard.library.places import step_of
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.survey.guide import Page, steps_of
from wizard.survey.prompts import Prompt, answered
from wizard.survey.record import Survey
from wizard.survey.rows import (
    NEVER,
    SECOND,
    CarNote,
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
from wizard.telling.document import Section, section
from wizard.telling.left_out import left_out, row_words
from wizard.telling.text import wrap

BAD = "cannot be used"
UNUSED = "not used"
"""Of a reading that the others prove a slip: it stays on record and out of the mean."""
GO = "To go to a page or a reading, type /go and its number, like /go 3 or /go {id}. "
STRIKE = (
    "To take a reading out, type /strike and its number, like /strike {id}; /undo puts it back."
)


def left_out_section(survey: Survey, library: Library) -> Section:
    """The rows that cannot be used, each with its number and the reason."""
    found = left_out(survey, library)
    said = (f"{one.row.id}  {row_words(one.row)}. {one.why}" for one in found)
    return section("left-out", "Left out because it cannot be used", said)


def opinions(survey: Survey) -> Section:
    """The signed opinions, the latest last: beside the program's verdict, never in its place."""
    said = (_opinion(row) for row in survey.standing(Opinion))
    return section("opinions", "Signed opinions, beside the program's answer", said)


def _opinion(row: Opinion) -> str:
    when = f", {row.at:%Y-%m-%d}" if row.at != NEVER else ""
    return f"{clean_line(row.text, 500)} (signed {clean_line(row.by, 60) or 'by nobody'}{when})"


UNASKED = "No page asks for these now"
BESIDE: tuple[tuple[str, type[Row]], ...] = (
    ("Sizes of this frame", Size),
    ("Limits of your own", OwnLimit),
    ("Tools", Tool),
    ("Places of your own", OwnPlace),
    ("Points", PointNote),
    ("The car", CarNote),
    ("Remarks and photos", Remark),
    ("Opinions", Opinion),
)
"""What belongs to no page, under its heading."""


def written_text(survey: Survey, library: Library, pages: tuple[Page, ...]) -> str:
    """All that was written down: page by page, then what belongs to no page; what cannot be used,
    or is not, is marked.
    """
    bad = {found.row.id: f"{BAD}: {found.why}" for found in left_out(survey, library)}
    notes = {**_slips(survey, library), **bad}
    numbered = enumerate(pages, start=1)
    lines = [line for n, page in numbered for line in _page(survey, n, page, notes)]
    for heading, rows in _of_no_page(survey, pages).items():
        lines += _under(heading, [_marked(r, row_words(r), notes) for r in rows])
    lines += _under("Guesses, each beside what it came to", guess_lines(survey, library))
    if not lines:
        return "You have written nothing down yet."
    return "\n".join([*_head(survey, bad), *lines]).strip()


def guess_lines(survey: Survey, library: Library) -> list[str]:
    """Every guess with its page, and what that page came to."""
    from wizard.telling.page import live  # few guess

    said = []
    for row in survey.standing(Guess):
        step = steps_of(survey, library).get(step_of(row.prompt))
        came_to = live(survey, library, step, 1)[:1] if step else ()
        where = f"{step.title}, " if step else ""
        by = clean_line(row.by or "nobody named", 60)
        guessed = f"{row.id}  {where}guessed by {by}: {clean_line(row.text, 200).rstrip('.')}."
        said.append(" ".join([guessed, *(f"It came to: {text}" for text in came_to)]))
    return said


def _slips(survey: Survey, library: Library) -> dict[str, str]:
    """By id, what is said of a reading that stays out of the mean."""
    from wizard.checks.case import case_of  # numpy only once there is something to compute

    return dict.fromkeys((r.id for r in case_of(survey, library).slips.values()), UNUSED)


def _head(survey: Survey, bad: dict[str, str]) -> list[str]:
    """How to come to what stands below, and how to take it out; the example is what cannot be used,
    else the latest reading.
    """
    readings = [r.id for r in survey.standing(Reading)]
    return wrap((GO + STRIKE).format(id=([*bad, *reversed(readings)] or ["r12"])[0]))


def _of_no_page(survey: Survey, pages: tuple[Page, ...]) -> dict[str, Sequence[Row]]:
    """Heading to rows: readings that no page asks for any more, then what never has a page."""
    asked = {prompt.id for page in pages for prompt in page.prompts}
    rest = [r for r in survey.standing(Reading) if r.prompt not in asked]
    return {UNASKED: rest} | {heading: survey.standing(kind) for heading, kind in BESIDE}


def _page(survey: Survey, number: int, page: Page, notes: dict[str, str]) -> list[str]:
    from wizard.telling.asking import not_needed  # not needed where nothing is left out

    named = {p.look.id: p.name for p in page.place.parts} if page.place else {}
    said = [said for p in page.wanted for said in _page_rows(survey, p, notes, named.get(p.id, ""))]
    read = [p for p in page.wanted if survey.folded(p.id) and answered(survey, p)]
    said += dict.fromkeys(f"the rest is {not_needed(survey.folded(p.id))}" for p in read)
    return _under(f"{number}. {page.title}", said)


def _under(heading: str, rows: list[str]) -> list[str]:
    lines = [part for row in rows for part in wrap(row, 76, "  ", "      ")]
    return ["", heading, *lines] if lines else []


def _page_rows(survey: Survey, prompt: Prompt, notes: dict[str, str], name: str) -> Iterator[str]:
    """What stands at a prompt; a reading that cannot be used, or is not, stands in a line of its
    own as well, which says so. name: what a look is called at its place; empty for all others.
    """
    from wizard.telling.page import row_of  # only for who asks what was written down

    row = row_of(survey, prompt)
    if row.values:
        yield clean_line(f"{name or row.label}: {row.values}{_numbers(survey, prompt)}", 300)
    hidden = prompt.reads == marks.DRILL
    yield from (
        _marked(r, r.typed, notes)
        for r in survey.readings_of(prompt.id)
        if r.id in notes and not hidden
    )


def _numbers(survey: Survey, prompt: Prompt) -> str:
    """The numbers of a prompt's readings, by which one of them is struck."""
    rows = survey.readings_of(prompt.id) if prompt.kind.measures else ()
    ids = [r.id + (" by the second reader" if r.by == SECOND else "") for r in rows]
    return f"   ({', '.join(ids)})" if ids else ""


def _marked(row: Row, said: str, notes: dict[str, str]) -> str:
    return f"{row.id}  {said} ({notes[row.id]})" if row.id in notes else said
