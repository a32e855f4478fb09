"""About how long pages take: the first time by the step's own minutes, the second time by what is
left of the work.

The second time the points are marked, the tools are known and most answers are last time's. What is
left of a page is setting up for it, which its step says as `again`, and the answers themselves; what
may be kept as last time is one answer for all of a page.
"""

from __future__ import annotations

from collections.abc import Iterable

from wizard.library.kinds import CHOICE
from wizard.library.places import PromptId, StepId
from wizard.survey.guide import Ask, Page, asks_of, still_open
from wizard.survey.prompts import Prompt, in_turn
from wizard.survey.record import Survey
from wizard.survey.same import may_keep

RULE = 1 / 3
"""Minutes of one rule against a string that hangs there. Common practice, no published source."""


def minutes_of(survey: Survey, pages: Iterable[Page]) -> float:
    """Minutes that the open part of these pages takes; of two pages that stand in for each other
    one is counted.
    """
    total, counted = 0.0, set[StepId]()
    for page in pages:
        if page.gone or page.step.stand_in in counted:
            continue
        counted.add(page.step.id)
        asks = list(in_turn(page.wanted)) if page.place else list(asks_of(page))
        left = still_open(survey, asks)
        aside = _aside(left)
        left = [a for a in left if a.prompt.id not in aside]
        every = max(page.of, len(asks))
        total += _minutes(page, left, every - len(aside), bool(survey.follows))
    return total


def _aside(left: Iterable[Ask]) -> set[PromptId]:
    """Open prompts that take no time: what hangs on an open answer."""
    waiting = {a.prompt.id for a in left}
    return {a.prompt.id for a in left if any(n.prompt in waiting for n in a.prompt.needs)}


def _minutes(page: Page, left: list[Ask], all_of_them: int, again: bool) -> float:
    if not left:
        return 0.0
    share = len(left) / all_of_them
    if not again or page.step.again is None:
        return page.step.minutes * share
    anew = [a for a in left if not may_keep(a.prompt)]
    kept = CHOICE.minutes if len(anew) < len(left) else 0.0
    return page.step.again * share + kept + sum(_answer(a.prompt) for a in anew)


def _answer(prompt: Prompt) -> float:
    if prompt.tool == "ruler":
        return RULE
    return prompt.kind.minutes
