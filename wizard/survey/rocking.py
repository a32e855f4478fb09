"""The push test: while the car rocks nobody goes under it, and nothing is measured on it.

Source: push test before going under, HSE, Working under vehicles. That nothing is measured on it: common practice, no
published source.
"""

from __future__ import annotations

from wizard.library.shapes import Step
from wizard.survey.record import Survey

PUSH, ROCKS, UNDER = "set-supports/push", "rocks", "going-under"
WHY = "It rocks. Nobody goes under, and nothing is measured until it stands still."


def rocks(survey: Survey) -> bool:
    """Whether the push test was answered so last."""
    return survey.answer_to(PUSH) == ROCKS


def held_back(survey: Survey, step: Step) -> str:
    """Why the step waits until the car stands still; empty where it does not. The supports themselves never wait."""
    if f"{step.id}/" == PUSH[: len(step.id) + 1] or not rocks(survey):
        return ""
    return WHY if step.part == "measure" or UNDER in step.cautions else ""
