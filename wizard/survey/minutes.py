"""About how long pages take: the first time by the step's own minutes, the second time by what is
left of the work; and by the person's own pace, once some pages are done.

The second time the points are marked, the tools are known and most answers are last time's. What is
left of a page is setting up for it, which its step says as `again`, and the answers themselves; what
may be kept as last time is one answer for all of a page.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import NamedTuple

from wizard.library import marks
from wizard.library.kinds import CHOICE, LOOK
from wizard.library.places import NO_PROMPT, PromptId, StepId
from wizard.library.shapes import Need
from wizard.library.templates import KIND
from wizard.survey.guide import Ask, Page, course_name, is_open, need_met, still_open
from wizard.survey.prompts import Prompt, answered
from wizard.survey.record import Survey
from wizard.survey.rows import CARRIED, NEVER, SAME_AS, Row
from wizard.survey.same import may_keep

RULE = 1 / 3
"""Minutes of one rule against a string that hangs there. Common practice, no published source."""


class Span(NamedTuple):
    """Minutes that the open part of some pages takes."""

    usual: float
    """Where nothing is found and nothing is open: what is asked only to settle or to explain is not."""
    most: float
    """With all that may be asked."""


def minutes_of(survey: Survey, pages: Iterable[Page]) -> float:
    """Minutes that the open part of these pages takes, with all that may be asked; of two pages that
    stand in for each other one is counted.
    """
    return span_of(survey, pages).most


def span_of(survey: Survey, pages: Iterable[Page]) -> Span:
    """The same, and what it takes where nothing is found."""
    usual, most, counted, there = 0.0, 0.0, set[StepId](), tuple(pages)
    folds = not survey.follows and course_name(survey) == marks.WHOLE and not survey.takes_all
    for page in there:
        if page.gone:
            coming = _coming(page, there, survey)
            span = Span(coming * _is_usual(page, folds), coming)
        elif page.step.stand_in in counted or (page.step.needs and _waits(page, survey)):
            continue
        else:
            counted.add(page.step.id)
            left = still_open(survey, page.each)
            span = _of_page(survey, page, left, folds) if left else NOTHING
        usual, most = usual + span.usual, most + span.most
    return Span(usual, most)


NOTHING = Span(0.0, 0.0)


def _of_page(survey: Survey, page: Page, left: list[Ask], folds: bool) -> Span:
    """What is left of a page takes. folds: whether what is not needed is left out."""
    aside = {a.prompt.id for a in left if _may_never_be(a.prompt, survey)}
    left = [a for a in left if a.prompt.id not in aside]
    every = max(page.of, len(page.each)) - len(aside)
    most = _minutes(page, left, every, bool(survey.follows))
    if not folds or not left:
        return Span(most, most)
    first = sum([_is_first(page, a) for a in left])
    return Span(most * _is_usual(page, folds) * first / len(left), most)


def _is_usual(page: Page, folds: bool) -> bool:
    """Whether a page is asked also where nothing is open."""
    return not (folds and _is_to_settle(page))


DRILLED = 3
"""Readings of the drill after which the hand is mostly known."""


def _is_to_settle(page: Page) -> bool:
    """Whether a page is asked only where something is open: of the engine's weight, of the front box, or
    of what explains a find.
    """
    step = page.step
    only = marks.ENGINE_WEIGHT in step.marks or marks.EXPLAINS in step.marks
    return only or step.reads in (marks.STRING_UNLOADED, marks.CARRIED_BAR)


def _is_first(page: Page, ask: Ask) -> bool:
    """Whether it is no repeat of a distance or a slope: those go where the first settles it."""
    if page.step.reads == marks.DRILL:
        return ask.nth <= DRILLED
    return ask.nth == 1 or page.step.reads == marks.STRING_LOADED


def _coming(page: Page, pages: Iterable[Page], survey: Survey) -> float:
    """Minutes of a page that is not for the car as it stands, but will be by an answer that is still
    to be given on another; 0 where it never will.
    """
    if not is_coming(page, pages, survey):
        return 0.0
    step = page.step
    return float(step.minutes if not survey.follows or step.again is None else step.again)


def is_coming(page: Page, pages: Iterable[Page], survey: Survey) -> bool:
    """Whether a page that is not for the car as it stands will be, by an open answer of the others."""
    needs = [n for n in page.step.needs if not need_met(survey, n)]
    return bool(needs) and all(n.state and _is_offered(n, pages, survey) for n in needs)


def _is_offered(need: Need, pages: Iterable[Page], survey: Survey) -> bool:
    """Whether an open question may set the state that a page needs."""
    asked = (a for p in pages if not p.gone for a in p.asks if a.prompt.keep == need.key)
    tokens = (c.token for a in asked if is_open(survey, a) for c in a.prompt.choices)
    return any(token in need.any for token in tokens)


def _waits(page: Page, survey: Survey) -> bool:
    """Whether a page is asked only by an answer that is open. Of the tools that is whether they are
    last time's, which a first survey does not ask.
    """
    return _hangs(page.step.needs, survey) and (bool(survey.follows) or not page.step.only_tools)


def _may_never_be(prompt: Prompt, survey: Survey) -> bool:
    """Whether a prompt hangs on an answer that is open, and on one that most cars do not get: nearly all
    are lifted, and the metal is looked at first.
    """
    lifts = prompt.kind.looks and any(c.stands for c in prompt.choices)
    return not lifts and _hangs(prompt.needs, survey)


def _hangs(needs: Iterable[Need], survey: Survey) -> bool:
    """Whether something is asked only by an answer that is open: of a find, say, that most cars do not
    have. It takes no time before it is known.
    """
    asked = (n for n in needs if not (n.state or n.usual or n.key == KIND))
    return any(_is_open(n.prompt, survey) for n in asked)


def _is_open(prompt: PromptId, survey: Survey) -> bool:
    said = survey.looks_at(prompt) or survey.answer_to(prompt) or survey.skipped(prompt)
    return not said


def _minutes(page: Page, left: Sequence[Ask], all_of_them: int, again: bool) -> float:
    if not left:
        return 0.0
    share = len(left) / all_of_them
    if not again or page.step.again is None:
        by_one = page.step.readings
        if page.step.gathers and by_one:
            return _at_place(page, len(left), share)
        return page.step.minutes * (len(left) / by_one if by_one else share)
    anew = [a for a in left if not may_keep(a.prompt)]
    kept = CHOICE.minutes if len(anew) < len(left) else 0.0
    return page.step.again * share + kept + sum(_answer(a.prompt) for a in anew)


def _at_place(page: Page, looks: int, share: float) -> float:
    """A place of a round: to get there, and a minute for each look that this kind of frame has
    there.
    """
    there = page.step.minutes - page.step.readings * LOOK.minutes
    return there * share + looks * LOOK.minutes


def _answer(prompt: Prompt) -> float:
    if prompt.tool == "ruler":
        return RULE
    return prompt.kind.minutes


# The person's own pace ----------------------------------------------------------------------------

BREAK = 20.0
"""Minutes without an answer after which it was a break and no work; a page that by its own minutes
takes longer may take twice those (this project's own figures).
"""
KNOWN = 60.0
"""Minutes of pages, by their own figures, for which the table speaks beside what is known of the
person: until so many are done it counts for more than he does (this project's own figure).
"""
QUICKEST, SLOWEST = 0.4, 2.5
"""Nobody is taken for quicker or slower than the table by more."""


def taken(survey: Survey, pages: Iterable[Page]) -> float:
    """Minutes by the table of all that was answered on these pages: what is still open, was passed over
    or found not to be needed took none, and what an answer opened took its own.
    """
    total = 0.0
    for page in pages:
        done = [a for a in page.each if a.nth <= answered(survey, a.prompt)]
        total += _minutes(page, done, max(page.of, len(page.each)), bool(survey.follows))
    return total


def pace_of(survey: Survey, pages: Sequence[Page]) -> float:
    """By how much a person is slower than the table: 1 where nothing is known of him.

    Only pages that are done count, so that it changes between two pages and never within one.
    """
    took = _took(survey, pages)
    worked, by_table = KNOWN, KNOWN
    for number, minutes in took.items():
        if table := _whole(survey, pages[number]):
            worked, by_table = worked + minutes, by_table + table
    return min(max(worked / by_table, QUICKEST), SLOWEST)


def _whole(survey: Survey, page: Page) -> float:
    """Minutes of all of a page by the table; 0 where it is not done, or something of it was skipped."""
    asks, skipped = page.each, survey.by_prompt().skipped
    if page.gone or still_open(survey, asks) or any(skipped.get(a.prompt.id) for a in asks):
        return 0.0
    return _minutes(page, asks, max(page.of, len(asks)), bool(survey.follows))


def _took(survey: Survey, pages: Sequence[Page]) -> Mapping[int, float]:
    """By the number of a page, minutes from answer to answer there; without pages on which he took a
    break, and those with times that a clock did not make.
    """
    at = {p.id: n for n, page in enumerate(pages) for p in (*page.prompts, *page.wanted)}
    most = [max(BREAK, 2.0 * page.step.minutes) for page in pages]
    took, broken = dict[int, float](), set[int]()
    gap, start = 0.0, Spans(survey.started, (), ())
    _, prompts, spans = survey.in_turn(start, _with_row)
    for number, since in zip(map(at.get, prompts), spans, strict=True):
        gap += since
        if number is not None:
            if gap > most[number]:
                broken.add(number)
            took[number] = took.get(number, 0.0) + gap
            gap = 0.0
    return {number: minutes for number, minutes in took.items() if number not in broken}


class Spans(NamedTuple):
    """What passed between the rows of a survey."""

    last: datetime
    """When the last one was written."""
    prompts: tuple[PromptId, ...]
    """What each is of."""
    minutes: tuple[float, ...]
    """The minutes since the one before."""


def _with_row(spans: Spans, row: Row) -> Spans:
    """With one row more. Where a clock went back the time is nobody's: it has no end."""
    if not _is_of_today(row):
        return spans
    since = (row.at - spans.last).total_seconds() / 60
    prompt = getattr(row, "prompt", NO_PROMPT)
    gap = since if since >= 0 else math.inf
    return Spans(row.at, (*spans.prompts, prompt), (*spans.minutes, gap))


def _is_of_today(row: Row) -> bool:
    """Whether it was written in this survey, at a time that is known."""
    return row.at != NEVER and CARRIED not in row.extra and SAME_AS not in row.extra
