"""What can be done about what was found: the works that content/paper.toml offers for each thing
that asks for something, in the order of doing.

It says who does it, what it leaves and what is measured again after it, and never how. Source of
what is offered: common practice, no published source; how much is out is judged elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from wizard.judgment.fact import Fact, facts_of, gravest
from wizard.judgment.facts import is_out
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.places import StepId, step_of, where_of
from wizard.library.shapes import Library, Work
from wizard.survey.record import Survey
from wizard.survey.rows import Reading


class Choice(NamedTuple):
    """One thing that was found, and what can be done about it."""

    fact: Fact
    works: tuple[Work, ...]
    """In the order of doing; those that take the place of all others stand last."""
    pages: tuple[StepId, ...]
    """The pages on which it was found, which tell it again afterward."""


def choices_of(verdict: Verdict, survey: Survey, library: Library) -> tuple[Choice, ...]:
    """What can be done about each thing that asks for something, the gravest first; nothing for
    what may stay as it is, nor for what nobody has looked at yet.
    """
    found = (*facts_of(verdict, survey, library), *_beside(verdict))
    asking = sorted((f for f in found if _asks(f)), key=lambda f: f.gravity)
    return tuple(Choice(f, works_for(f, library), _pages(f, survey, library)) for f in asking)


def _beside(verdict: Verdict) -> Iterator[Fact]:
    """What is out beside the frame, such as an axle, of each kind and side the gravest: no fact of
    the frame, and yet something to do.
    """
    out = sorted((j for j in verdict.beside if is_out(j) and not j.quiet), key=gravest)
    worst = {(j.finding.quantity, where_of(j.finding.where).side): j for j in out}
    for judged in worst.values():
        found = judged.finding
        where = where_of(found.where)
        yield Fact("added", judged.established, where, found.number, found.unit, "", (judged,))


def _asks(fact: Fact) -> bool:
    """Whether something can be done about it; what is open and inside its own doubt is no
    finding.
    """
    return fact.deed in marks.ASKED_FOR and (fact.deed != "open" or fact.is_told)


def works_for(fact: Fact, library: Library) -> tuple[Work, ...]:
    """What can be done about it; where nothing is named for it, the choice that is there for
    such.
    """
    works = library.paper.brief.works
    fitting = [w for w in works if _fits(w, fact)] or [w for w in works if w.otherwise]
    return tuple(sorted(fitting, key=turn_of))


def turn_of(work: Work) -> tuple[bool, int]:
    """Its place in the order of doing, last what takes the place of all the others."""
    return work.turn == 0, work.turn


def _fits(work: Work, fact: Fact) -> bool:
    if work.frame and any(j.is_beside for j in fact.judged):
        return False
    if fact.deed in work.always:
        return True
    if work.only and fact.deed not in work.only:
        return False
    out = {j.finding.quantity for j in fact.judged}
    return bool(out & {*work.of}) or is_seen(fact, work)


def is_seen(fact: Fact, work: Work) -> bool:
    """Whether what was seen there points to the work."""
    found = {fact.way} | ({fact.deed} & {"stop", "loose"})
    return bool(found & {*work.seen})


def _pages(fact: Fact, survey: Survey, library: Library) -> tuple[StepId, ...]:
    """The pages of its readings and its looks, in the order of the course; the hand alone is
    none.
    """
    rows = {i for j in fact.judged for i in j.finding.readings}
    read = {step_of(r.prompt) for r in survey.table(Reading) if r.id in rows}
    found = read | {s.step.id for s in fact.seen}
    found = {id for id in found if library.steps[id].reads != marks.DRILL}
    return tuple(id for id in library.courses[marks.WHOLE] if id in found)


def in_turn(choices: tuple[Choice, ...]) -> tuple[Work, ...]:
    """Every work that is a choice anywhere, once, in the order of doing."""
    every = {w.id: w for choice in choices for w in choice.works}
    return tuple(sorted(every.values(), key=turn_of))
