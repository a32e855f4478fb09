"""What the person set down in his own words: it belongs beside the verdict, or it was written for
nobody.
"""

from __future__ import annotations

from collections.abc import Iterator

from wizard.library import marks
from wizard.library.places import step_of
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.survey.guide import CARRIED
from wizard.survey.meant import meant
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Remark
from wizard.telling.document import Item as Line

LAST, WHICH = "finish/remark", "finish/question"
WISHES = {
    marks.MEASURE_AGAIN: "Before you put this away you wanted to look at something again.",
    marks.ASK_MENTOR: "You have a question for a mentor.",
    marks.ASK_SPECIALIST: "You have a question for a specialist.",
}
MOST = 8
"""Remarks said here; the report has them all."""


def noted_lines(survey: Survey, library: Library) -> list[Line]:
    """The last page's words and wish, then the remarks made on the way, each with its place."""
    lines = [*_last(survey, library), *_remarks(survey, library)]
    if len(lines) > MOST:
        more = Line(f"And {len(lines) - MOST} more; the report has them all.", lines[MOST].sources)
        return [*lines[:MOST], more]
    return lines


def own_question(survey: Survey, library: Library) -> list[Line]:
    """The person's own question for a specialist, before the program's."""
    which = survey.answer_to(WHICH).strip(" -")
    if meant(survey, library, marks.WISH) != marks.ASK_SPECIALIST or not which:
        return []
    return [
        Line(_sentence(which), tuple(r.id for r in survey.standing(Answer) if r.prompt == WHICH))
    ]


def _last(survey: Survey, library: Library) -> Iterator[Line]:
    asked = library.asking(marks.WISH)
    wish = WISHES.get(meant(survey, library, marks.WISH), "")
    for row in survey.standing(Answer):
        if row.prompt == LAST and row.answer.strip(" -"):
            yield Line(_sentence(row.answer), (row.id,))
        elif asked and row.prompt == asked.prompt and wish:
            which = survey.answer_to(WHICH).strip(" -")
            yield Line(
                f"{wish.rstrip('.')}: {_sentence(which)}" if which else wish,
                (row.id,),
            )


def _remarks(survey: Survey, library: Library) -> Iterator[Line]:
    for row in survey.standing(Remark):
        if row.text.strip() and CARRIED not in row.extra:
            step = library.steps.get(step_of(row.prompt))
            yield Line(
                f"{step.title}: {_sentence(row.text)}" if step else _sentence(row.text), (row.id,)
            )


def _sentence(text: str) -> str:
    text = clean_line(text, 200).strip()
    return text if text.endswith((".", "!", "?")) else f"{text}."
