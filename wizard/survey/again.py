"""What does not read as last time is read again at once; the new readings alone then count.

A reading that is taken again because it looked odd is no chance repeat of the first: to take the mean
of both would pull the one that matters toward the one that is in doubt. The first stay on record as
struck out, once the new ones are in and not before.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from wizard.library.places import PromptId
from wizard.survey.record import Survey, number_of
from wizard.survey.rows import SECOND, Answer, Reading

if TYPE_CHECKING:
    from wizard.survey.prompts import Prompt

AGAIN_PROMPT = PromptId("recheck/again")
"""The rows of a re-check that keep what was asked for again: ids of prompts, blanks between."""
READ_AGAIN = "read again, since it did not read as last time"
CANNOT_BE = "read again, since it could not be right beside the others"
"""Reasons of a reading that was struck once the new ones were in: in a re-check, in a first survey.
"""


def asked_again(survey: Survey) -> dict[PromptId, int]:
    """By prompt the number of the row that asks for it again."""
    rows = (a for a in survey.standing(Answer) if a.prompt == AGAIN_PROMPT)
    return {PromptId(id): number_of(a.id) for a in rows for id in a.answer.split()}


def asking_again(survey: Survey, prompts: Iterable[PromptId], row: Answer) -> Survey:
    """The survey with these asked for again. row: who asks, and when."""
    ids = " ".join(map(str, prompts))
    return survey.with_row(replace(row, id=survey.new_id(Answer), prompt=AGAIN_PROMPT, answer=ids))


def _first(survey: Survey, prompt: PromptId, number: int) -> list[Reading]:
    """The standing readings from before it was asked for again."""
    return [r for r in survey.readings_of(prompt) if number_of(r.id) < number and r.by != SECOND]


def wanted(
    survey: Survey, prompts: tuple[Prompt, ...], asked: Mapping[PromptId, int]
) -> tuple[Prompt, ...]:
    """Prompts as often as they are wanted: what is asked for again as often as at first once more.

    asked: from `asked_again`.
    """
    if not asked:
        return prompts
    return tuple([_as_often(survey, p, asked.get(p.id, 0)) for p in prompts])


def _as_often(survey: Survey, prompt: Prompt, number: int) -> Prompt:
    first = len(_first(survey, prompt.id, number)) if number else 0
    return replace(prompt, repeats=first + prompt.repeats) if first else prompt


def settled(survey: Survey, prompts: Mapping[PromptId, Prompt]) -> Survey:
    """The survey where the first readings are struck of whatever has been read again as often as it
    is asked, or as it had been read.
    """
    for id, number in asked_again(survey).items():
        first = _first(survey, id, number)
        new = [r for r in survey.readings_of(id) if number_of(r.id) > number and r.by != SECOND]
        if id in prompts and len(new) >= min(prompts[id].repeats, max(len(first), 1)):
            for row in first:
                survey = survey.with_struck(row.id, READ_AGAIN if survey.follows else CANNOT_BE)
    return survey


def was_read_again(survey: Survey, prompt: Prompt) -> bool:
    """Whether more was read than the page asks for, in whatever way."""
    rows = [r for r in survey.table(Reading) if r.prompt == prompt.id]
    counted = [r for r in rows if not r.struck or r.struck in (READ_AGAIN, CANNOT_BE)]
    return len(counted) > prompt.repeats
