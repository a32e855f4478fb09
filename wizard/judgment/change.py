"""Then against now: per quantity changed, not changed or cannot tell, and what could not be
compared and why.

Source: correlated inputs, JCGM 100:2008 5.2; the false alarm of a whole re-check held by Holm's
step-down; see wizard/math/change.py.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from wizard.checks.case import case_of
from wizard.checks.edge import string_edge, without_make
from wizard.checks.finding import Finding
from wizard.checks.run import comparable
from wizard.judgment.alike import Names, names_of
from wizard.judgment.states import Record, Unlike, unlike, worth_saying
from wizard.library import marks
from wizard.library.places import FindingId
from wizard.library.shapes import Library
from wizard.math.change import FALSE_ALARM, changed, holm, p_value, smallest_visible
from wizard.math.student import coverage_factor
from wizard.math.uncertain import Uncertain
from wizard.survey.record import Survey

STATE = "state"
"""Why a figure was not compared: the car stood another way when it was read."""
EDGE = "edge"
"""Why two sags were not compared: the string ran along another edge of the rail, or the shape of it
was taken out of one of them alone.
"""
ONE_OF_MANY = "one-of-many"
"""Why it cannot be told: alone it would be a change, and among so many figures one such is chance.
"""
WATCHED = 1
"""Place among a limit's bounds of the one up to which nothing is to be put right."""


@dataclass(frozen=True)
class Once:
    """One survey of a frame with all that can be compared of it."""

    survey: Survey
    findings: Mapping[FindingId, Finding]
    """By id; every part of doubt under its name over all surveys."""
    edge: str = ""
    """Along which edge the string ran, as wizard/checks/edge.py says it."""

    @cached_property
    def record(self) -> Record:
        """The states it was read in."""
        return Record(self.survey)


class Change(NamedTuple):
    """One quantity then and now."""

    old: Finding
    new: Finding
    number: Uncertain
    """New minus old, without the doubt that both share."""
    says: str
    """changed, not changed, cannot tell"""
    why: str
    """Why it cannot be told: ONE_OF_MANY, too-coarse (its 95 %
    interval holds a change that would matter); empty otherwise.
    """
    visible: float
    """The smallest change that would have been called one 19 times in 20, among all that are
    compared.
    """
    visible_alone: float
    """The same, had this been the only figure compared: about 3.6 u."""

    @property
    def half_width(self) -> float:
        """Half the 95 % interval of the difference."""
        return coverage_factor(self.number.dof) * self.number.u


class Apart(NamedTuple):
    """A quantity that is in one survey or both and was not compared."""

    finding: Finding
    why: str
    """STATE, EDGE (of the rail, under the string), not-now, not-then"""
    unlike: tuple[Unlike, ...] = ()


class Comparison(NamedTuple):
    """Two surveys of one frame."""

    then: Once
    now: Once
    changes: tuple[Change, ...]
    apart: tuple[Apart, ...]
    said: tuple[Unlike, ...]
    """What was unlike and does not forbid the comparison."""

    def of(self, says: str) -> tuple[Change, ...]:
        """The changes that say so."""
        return tuple(c for c in self.changes if c.says == says)


def once(survey: Survey, library: Library, names: Names | None = None) -> Once:
    """What can be compared of a survey; names: from `names_of`, where it is one of several."""
    case = case_of(survey, library)
    found = comparable(case)
    if names is None:
        names = names_of([survey], library)[0]
    named = {f.id: f.with_number(names.lasting(f.number)) for f in found}
    return Once(survey, named, string_edge(case))


def row_of(surveys: Sequence[Survey], library: Library) -> tuple[Once, ...]:
    """Surveys of one frame, the oldest first, ready to be compared with one another."""
    names, case = names_of(surveys, library), case_of(surveys[0], library)
    for survey in surveys[1:]:  # one car and the same tools: what was read once is not read again
        case = case.followed_by(survey)
    return tuple(once(s, library, n) for s, n in zip(surveys, names, strict=True))


def compare(old: Survey, new: Survey, library: Library) -> Comparison:
    """Two surveys of one frame held against each other."""
    then, now = row_of((old, new), library)
    return compared(then, now, library)


def compared(then: Once, now: Once, library: Library) -> Comparison:
    """Two of a row of surveys held against each other."""
    pairs: list[tuple[Finding, Finding]] = []
    apart: list[Apart] = []
    said: dict[Unlike, None] = {}
    for id in (*then.findings, *(i for i in now.findings if i not in then.findings)):
        old, new = then.findings.get(id), now.findings.get(id)
        if old is None or new is None:
            found = old or new
            assert found is not None
            apart.append(Apart(found, "not-then" if old is None else "not-now"))
        elif no := _not_like(then, old, now, new):
            apart.append(no)
        else:
            pairs.append((old, new))
            said.update(dict.fromkeys(worth_saying(then.record, old, now.record, new)))
    return Comparison(then, now, _changes(pairs, library), tuple(apart), tuple(said))


def _not_like(then: Once, old: Finding, now: Once, new: Finding) -> Apart | None:
    """What forbids to compare a figure that both have; None where nothing does."""
    if why := unlike(then.record, old, now.record, new):
        return Apart(new, STATE, why)
    other = then.edge != now.edge and new.quantity in marks.SAGS
    return Apart(new, EDGE) if other else None


def _changes(pairs: list[tuple[Finding, Finding]], library: Library) -> tuple[Change, ...]:
    # What the maker shaped is as it was, whatever is known of it.
    numbers = [without_make(new.number - old.number) for old, new in pairs]
    stand = holm([p_value(n.value, n.u, n.dof) for n in numbers])
    share = FALSE_ALARM / max(len(numbers), 1)
    found = []
    for (old, new), number, stands in zip(pairs, numbers, stand, strict=True):
        alone = smallest_visible(number.u, number.dof)
        says, why = _says(number, stands, matters(new, library))
        found.append(
            Change(
                old, new, number, says, why, smallest_visible(number.u, number.dof, share), alone
            )
        )
    return tuple(found)


def _says(number: Uncertain, stands: bool, matters: float | None) -> tuple[str, str]:
    if stands:
        return "changed", ""
    if changed(number.value, number.u, number.dof):
        return "cannot tell", ONE_OF_MANY
    if matters is not None and abs(number.value) + coverage_factor(number.dof) * number.u > matters:
        return "cannot tell", "too-coarse"
    return "not changed", ""


def matters(finding: Finding, library: Library) -> float | None:
    """A change of this size takes a true frame to one that wants putting right; None where no limit
    says so.
    """
    limit = library.limits.get(finding.limit)
    return (
        limit.above[WATCHED].upto_mm if limit is not None and len(limit.above) > WATCHED else None
    )
