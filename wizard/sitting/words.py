"""Sentences that every face says: where a survey was left, and what was taken."""

from __future__ import annotations

from dataclasses import replace

from wizard.library import marks
from wizard.library.kinds import named
from wizard.library.places import PromptId, spoken, step_of
from wizard.readings.plain import clean_line
from wizard.sitting.aside import LEFT_ON
from wizard.sitting.reply import Reply
from wizard.sitting.shelf import last_worked
from wizard.sitting.sitting import Sitting
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey, number_of
from wizard.survey.rows import Reading
from wizard.telling.left_out import left_out_sentence
from wizard.telling.then_words import recalled_words


def resumed_words(sitting: Sitting) -> str:
    """Where a survey was left, when, and how much of it is in."""
    survey = sitting.survey
    rows = [r for r in survey.all_rows() if getattr(r, "prompt", "") and not r.struck]
    last = max(rows, key=lambda r: number_of(r.id), default=None)
    step = sitting.steps.get(step_of(PromptId(getattr(last, "prompt", ""))))
    where = f" at “{step.title}”" if step else ""
    count = len(survey.standing(Reading))
    readings = "1 reading" if count == 1 else f"{count} readings"
    if not count:
        readings = f"{len(rows)} answers, no reading yet" if rows else "nothing yet"
    said = f"You stopped{where} on {last_worked(survey):%Y-%m-%d}: {readings}."
    return f"{said} {LEFT_ON}" if sitting.aside.mentor else said


def first_words(sitting: Sitting) -> str:
    """What is said before the first prompt: where it was left, or for a new re-check what it takes;
    mostly empty.

    What of the file cannot be used is said with it.
    """
    said = recalled_words(sitting.survey, sitting.library) if sitting.survey.follows else ""
    if sitting.resumed:
        said = resumed_words(sitting)
    return f"{left_out_sentence(sitting.survey, sitting.library)} {said}".strip()


def said_back(reply: Reply, text: str, prompt: Prompt | None, after: Survey) -> Reply:
    """The reply to an answer, with what was taken where it says nothing of its own.

    after: the survey with the answer in it.
    """
    own = reply.says or reply.kind != "taken" or text.strip().startswith("/")
    return reply if own else replace(reply, says=taken_words(text, prompt, after))


def taken_words(text: str, prompt: Prompt | None, after: Survey) -> str:
    """What was taken, said back beside what was asked."""
    said = clean_line(text, 60)
    if prompt is None or prompt.kind.acknowledges:
        return ""
    if prompt.reads == marks.DRILL:
        return "Taken. It stays hidden until all are in."
    if not said:
        return f"Kept: {prompt.ask}"
    return _beside(prompt, said, after)


def _beside(prompt: Prompt, said: str, after: Survey) -> str:
    """The question and the answer; a choice in its words."""
    question, mark, _ = prompt.ask.partition("?")
    asked = question + mark
    chosen = _seen(prompt, after) if prompt.kind.looks else _chosen(prompt, said.lower())
    if chosen and prompt.kind.looks:
        return f"{question.partition(':')[0]}: {chosen.rstrip('.')}."
    if chosen:
        return f"{asked} {chosen.rstrip('.')}."
    if said == NOTHING:
        return f"{LEFT_EMPTY}: {asked}"
    return f"{asked} {said}" if mark else f"{asked.rstrip('.')}: {said}"


NOTHING, LEFT_EMPTY = "-", "Left empty"
NAMED = 2
"""Finds of one look that are said back by name; more would push the moves of the next page out of sight."""


def _seen(look: Prompt, after: Survey) -> str:
    """What was written down of a look: the line may say no more than how well it is seen today."""
    rows = after.looks_at(look.id)
    if not rows:
        return ""
    how = spoken(rows[0].seen)
    if len(rows) > NAMED:
        return f"{len(rows)} of these ({how})"
    return look.kind.said(look, [k.answer for k in rows if k.answer], how)


def _chosen(prompt: Prompt, said: str) -> str:
    """The words of the choice that was typed, or of the letter that answers more than this
    question; empty where it is none.
    """
    if not prompt.kind.chooses:
        return ""
    if prompt.together and prompt.together.letter == said:
        return prompt.together.words
    found = named(prompt.choices, said, loosely=True)
    return found[0].words if len(found) == 1 else ""
