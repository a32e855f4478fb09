"""What the next half hour would tell: what is known, what is open, and of each open thing how long it
takes and whether it may change what to do.

Nothing here tells a band: in between only `known` and `open` are said, so that whoever stops is told
no answer that was chosen by when he looked.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import NamedTuple

from wizard.judgment.bands import Judged, is_open
from wizard.judgment.fact import GRAVE
from wizard.judgment.next import can_change
from wizard.judgment.sight import verdict_of
from wizard.judgment.verdict import Verdict, stands_aside
from wizard.library import marks
from wizard.library.shapes import Library, Topic
from wizard.math.predictive import Ahead, foreseen
from wizard.survey.guide import LENGTH_PROMPT, answered, course_name, guide_of
from wizard.survey.minutes import minutes_of, pace_of
from wizard.survey.record import Survey
from wizard.survey.rows import Answer
from wizard.survey.topics import Matter, matters, only_today
from wizard.survey.walk import Page

NO, PERHAPS, YES = "no", "perhaps", "yes"
SAG = "sag"
"""What a verdict lacks where no string was read."""
ENGINE = "engine"
"""What ends the chance to read a thing once it leaves: one of marks.BEFORE."""
SELDOM = 0.1
"""Chance below which settling an open figure is said probably not to change what to do."""
TWICE = 2.0
"""Minutes of reading once more a figure that is open: two readings and the way there. Common practice,
no published source.
"""


class Open(NamedTuple):
    """One thing that is open."""

    topic: Topic
    pages: tuple[Page, ...]
    """The stops that settle it; none where all is read and it is open all the same."""
    minutes: float
    """By the person's own pace."""
    changes: str
    """Whether it may change what to do: no (probably not), perhaps, yes."""
    today: bool
    """Whether only today can tell it."""
    undecided: tuple[Judged, ...] = ()
    """What is read of it and leaves open what to do."""


class HalfHour(NamedTuple):
    """How far a survey is."""

    known: tuple[Topic, ...]
    open: tuple[Open, ...]
    """What only today can tell first, then what is surest to change what to do."""
    left_out: tuple[Topic, ...]
    """What was skipped whole."""


def half_hour(survey: Survey, library: Library, now: datetime) -> HalfHour:
    """How far a survey is just now."""
    walk = guide_of(survey, library).walk(now)
    verdict, pace = verdict_of(survey, library, now), survey.once(walk, pace_of)
    known, left_out, still = list[Topic](), list[Topic](), list[Open]()
    for matter in matters(survey, library, walk):
        undecided = _undecided(matter.topic, verdict)
        if matter.is_skipped or matter.is_off:
            left_out.append(matter.topic)
        elif matter.left or undecided:
            still.append(_open(matter, undecided, verdict, pace))
        elif any(
            answered(survey, a.prompt) for a in matter.asks
        ):  # what need not be read is known by something else, and told of that
            known.append(matter.topic)
    return HalfHour(tuple(known), tuple(sorted(still, key=_rank)), tuple(left_out))


def _undecided(topic: Topic, verdict: Verdict) -> tuple[Judged, ...]:
    """The figures of a topic that leave open what to do."""
    return tuple(j for j in verdict.judged if j.finding.quantity in topic.tells and is_open(j))


def _open(matter: Matter, undecided: tuple[Judged, ...], verdict: Verdict, pace: float) -> Open:
    survey = matter.survey
    minutes = minutes_of(survey, matter.stops) if matter.left else TWICE * len(undecided)
    return Open(
        matter.topic,
        matter.left,
        minutes * pace,
        _changes(matter, undecided, verdict),
        only_today(matter, survey),
        undecided,
    )


def _changes(matter: Matter, undecided: tuple[Judged, ...], verdict: Verdict) -> str:
    """Whether it may change what to do.

    yes: no answer is possible without it. no: all of it is read, and what is open leaves a chance
    under one in ten; or something stops everything. Of what nobody has read yet `no` is never said.
    """
    if verdict.action == "stop":
        return NO
    if verdict.numbers not in GRAVE and _is_missed(matter.topic, undecided, verdict):
        return YES
    if not matter.left and not _may_be_graver(undecided, verdict):
        return NO
    return PERHAPS


def _is_missed(topic: Topic, undecided: tuple[Judged, ...], verdict: Verdict) -> bool:
    """Whether there is no answer without it: nothing was measured, or a figure leaves it open."""
    if topic.lacks in verdict.lacking:
        return True
    return any(not stands_aside(j) for j in undecided if j in verdict.open)


def _may_be_graver(undecided: tuple[Judged, ...], verdict: Verdict) -> bool:
    worth = (j for j in undecided if can_change(j, verdict.numbers))
    return any(_chance(j, verdict) >= SELDOM for j in worth)


def _chance(judged: Judged, verdict: Verdict) -> float:
    """The chance that what would settle it best finds it beyond the first bound that is open; that the
    truth lies there, where nothing would.
    """
    edge = next((e for e in judged.edges if not e.is_over and not e.is_within), None)
    if edge is None:
        return 0.0
    number = judged.finding.number
    found = (a for a in verdict.advice if a.finding == judged.finding.id and a.u_then < a.u_now)
    advice = next(found, None)
    if advice is None or edge.high is None:
        return edge.chance
    ahead = Ahead(number.value, number.u, advice.u_then, number.dof)
    return foreseen(ahead, edge.high, edge.low).over


def _rank(one: Open) -> tuple[bool, int]:
    return not one.today, (YES, PERHAPS, NO).index(one.changes)


# The short survey ---------------------------------------------------------------------------------


class Short(NamedTuple):
    """What a short survey is for, and what it leaves for another day."""

    on_paper: bool
    """Whether both rails were read under the string with the engine's weight on, or as they are where
    there is none.
    """
    engine_in: bool
    """Whether there is an engine that may leave."""
    lost: tuple[Topic, ...]
    """What can be read only before the engine leaves, and is not."""
    another_day: tuple[Topic, ...]
    """What it does not ask."""
    minutes: float
    """That all this takes, by the person's own pace."""


def short_of(survey: Survey, library: Library, verdict: Verdict) -> Short | None:
    """What a short survey came to; None for any other."""
    if course_name(survey) != marks.SHORT:
        return None
    told = survey.in_order().told
    now = told[-1][1] if told else survey.started
    walk = guide_of(survey, library).walk(now)
    found = matters(survey, library, walk)
    lost, whole = _lost(found), _whole(survey, now)
    stops = guide_of(whole, library).walk(now)
    with_sag, without = _parted(lost)
    return Short(
        on_paper=SAG not in verdict.lacking and not with_sag,
        engine_in=survey.state().engine != "out",
        lost=without,
        another_day=_more(found, matters(whole, library, stops)),
        minutes=minutes_of(whole, stops) * survey.once(walk, pace_of),
    )


def _parted(lost: Iterable[Topic]) -> tuple[tuple[Topic, ...], tuple[Topic, ...]]:
    """Those that tell the sag, and the others."""
    all_of_them = tuple(lost)
    sags = tuple([t for t in all_of_them if t.lacks == SAG])
    return sags, tuple([t for t in all_of_them if t not in sags])


def _more(asked: Iterable[Matter], whole: Iterable[Matter]) -> tuple[Topic, ...]:
    """What is open of the whole survey and is not asked now."""
    ids = {m.topic.id for m in asked}
    return tuple([m.topic for m in whole if m.left and m.topic.id not in ids])


def _lost(found: Iterable[Matter]) -> list[Topic]:
    """What can be read only before the engine leaves, and is not."""
    with_engine = (m for m in found if m.topic.until == ENGINE)
    return [m.topic for m in with_engine if m.left or m.is_skipped]


def _whole(survey: Survey, now: datetime) -> Survey:
    """The same survey, gone on with as a whole one."""
    id = survey.new_id(Answer)
    return survey.with_row(Answer(id=id, at=now, prompt=LENGTH_PROMPT, answer=marks.WHOLE))
