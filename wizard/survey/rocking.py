"""The push test: while the car rocks nobody goes under it, and nothing is measured on it.

Source: push test before going under, HSE, Working under vehicles. That nothing is measured on it: common practice, no
published source.
"""

from __future__ import annotations

from itertools import pairwise

from wizard.library.shapes import Step
from wizard.survey.record import Survey, number_of
from wizard.survey.rows import Answer, State

PUSH, ROCKS, UNDER = "set-supports/push", "rocks", "going-under"
WHY = "It rocks. Nobody goes under, and nothing is measured until it stands still."


def rocks(survey: Survey) -> bool:
    """Whether the push test was answered so last."""
    return survey.answer_to(PUSH) == ROCKS


def wants_push(survey: Survey) -> bool:
    """Whether the push test is still to be done: it rocked, or the car was set up anew since it was done."""
    if rocks(survey):
        return True
    done = max((number_of(a.id) for a in survey.standing(Answer) if a.prompt == PUSH), default=0)
    states = survey.standing(State)
    moved = (b for a, b in pairwise(states) if a.supports and b.supports != a.supports)
    return done > 0 and any(number_of(state.id) > done for state in moved)


def held_back(survey: Survey, step: Step) -> str:
    """Why the step waits until the car stands still; empty where it does not. The supports themselves never wait."""
    if f"{step.id}/" == PUSH[: len(step.id) + 1] or not rocks(survey):
        return ""
    return WHY if step.part == "measure" or UNDER in step.cautions else ""
