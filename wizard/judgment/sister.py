"""This frame beside a sister: another frame of its make, surveyed in the same way.

Its figures stand in the record itself, each with its doubt. The two surveys share no tool, point or
hand that anybody vouches for, so both doubts count whole. What the maker gave both frames alike, as
the shape of a rail's edge, is no doubt between them. Source: as wizard/judgment/change.py, of which
this is the same reckoning over two frames.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cached_property
from typing import NamedTuple

from wizard.checks.case import case_of
from wizard.checks.edge import string_edge, without_make
from wizard.checks.finding import Finding
from wizard.judgment.change import Apart, Change, Once, compared, once
from wizard.judgment.sight import sight_of
from wizard.judgment.states import Record
from wizard.library.places import (
    NO_STEP,
    FindingId,
    PromptId,
    StepId,
    WhereId,
    asked_of,
    is_own,
    where_of,
)
from wizard.library.shapes import Library
from wizard.math.uncertain import Part, Uncertain
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.survey.record import Survey
from wizard.survey.rows import OwnFrame, Row, Sister, SisterFigure

GONE = "another sister, or none"
"""Why the rows of a sister frame were struck."""
MOST = 1e5
"""mm beyond which no figure of a frame lies."""


@dataclass(frozen=True)
class Kept(Record):
    """The states in which a sister's figures were read, as this record has them."""

    rows: Mapping[FindingId, SisterFigure]

    def of(self, finding: Finding, field: str, step: StepId = NO_STEP) -> str:
        """What the field said; empty where it was not kept."""
        row = self.rows.get(finding.id)
        return str(getattr(row, field, "")) if row else ""


@dataclass(frozen=True)
class SisterOnce(Once):
    """A sister frame with all that is kept of it."""

    rows: Mapping[FindingId, SisterFigure] = field(default_factory=dict)

    @cached_property
    def record(self) -> Record:
        """The states it was read in."""
        return Kept(self.survey, self.rows)


class Beside(NamedTuple):
    """A survey's figures, each held against the sister's."""

    sister: Sister
    changes: tuple[Change, ...]
    """Old is the sister's figure, new is this frame's."""
    apart: tuple[Apart, ...]
    """Figures of this frame that were not compared: state, edge or not-then."""
    itself: frozenset[FindingId]
    """Of which the sister's own survey says that it wants more than to be left."""
    unread: int
    """Rows of the sister that are no figures."""

    def of(self, finding: FindingId) -> Change | None:
        """The figure compared; None where it was not."""
        return self.by_id.get(finding)

    @property
    def by_id(self) -> Mapping[FindingId, Change]:
        """What was compared, by id."""
        return {c.new.id: c for c in self.changes}

    def says(self, what: str) -> tuple[Change, ...]:
        """Those of which it says so: changed (they differ), not changed, cannot tell."""
        return tuple(c for c in self.changes if c.says == what)


# What is kept of a sister ------------------------------------------------------------------------


def with_sister(
    survey: Survey, sister: Survey, library: Library, at: datetime, said: tuple[str, str]
) -> Survey:
    """The survey with all that is kept of a sister frame, in place of another one.

    said: by whom it is set down, and what the sister's own survey came to. Raises Refused, with one
    sentence, for a survey that this one cannot be compared with.
    """
    by, answer = said
    figures = tuple(_figures(sister, library))
    _fit(survey, sister, library, figures)
    name = sister.id or clean_line(sister.car, 60)
    row = Sister(
        id="",
        at=at,
        by=by,
        name=name,
        car=sister.car,
        day=f"{sister.started:%Y-%m-%d}" if sister.started.year > 1 else "",
        edge=string_edge(case_of(sister, library)),
        answer=answer,
    )
    after = without_sister(survey)
    for figure in (*figures, row):  # the frame last, so that it is what can be taken back
        after = after.with_row(_numbered(figure, after, at, name))
    return after


def _numbered(row: Row, survey: Survey, at: datetime, name: str) -> Row:
    row = replace(row, id=survey.new_id(type(row)), at=at)
    return replace(row, sister=name) if isinstance(row, SisterFigure) else row


def without_sister(survey: Survey) -> Survey:
    """The survey with no sister; its rows stay as struck out."""
    for row in (*survey.standing(Sister), *survey.standing(SisterFigure)):
        survey = survey.with_struck(row.id, GONE)
    return survey


def _fit(
    survey: Survey, sister: Survey, library: Library, figures: tuple[SisterFigure, ...]
) -> None:
    """That it is another frame of this kind with something measured. Raises Refused."""
    from wizard.judgment.series import same_frame  # asked only once a sister is taken in

    if survey.id == sister.id or (survey.car and sister.car and same_frame(survey, sister)):
        raise Refused(
            "That is a survey of this very frame: crosstape compare tells what changed on it"
        )
    if (sister.layout, _own_kind(sister)) != (survey.layout, _own_kind(survey)):
        raise Refused(
            "That is another kind of frame, so its figures are from other places: a sister must be"
            " of the same kind"
        )
    if not figures:
        raise Refused("Nothing is measured in that survey that could be compared")


def _own_kind(survey: Survey) -> str:
    """The kind of frame that its owner has set up, whole; empty for one of the program's own."""
    return next((f.text for f in survey.standing(OwnFrame) if f.layout == survey.layout), "")


def _figures(sister: Survey, library: Library) -> Iterator[SisterFigure]:
    """Each figure of the sister that another frame can be held against."""
    found = once(sister, library)
    established = {j.finding.id: j.established for j in sight_of(sister, library).judged}
    for finding in found.findings.values():
        number = without_make(finding.number)
        if _is_own(finding.where) or not _sane(number.value, number.u):
            continue
        step = finding.of.read_at or NO_STEP
        yield SisterFigure(
            id="",
            finding=finding.id,
            value=f"{number.value:.5f}",
            u=f"{number.u:.5f}",
            dof=f"{number.dof:.1f}" if math.isfinite(number.dof) else "",
            band=established.get(finding.id, ""),
            engine=found.record.of(finding, "engine", step),
            body=found.record.of(finding, "body", step),
            supports=found.record.of(finding, "supports", step),
        )


def _is_own(where: WhereId) -> bool:
    """Whether it was read at a place that an owner added: another owner's lies elsewhere."""
    place = where_of(where).place
    tape = asked_of(PromptId(str(where))).tape
    ends = (tape.start.place, tape.end.place) if tape else (place,)
    return any(map(is_own, ends))


# Beside it ---------------------------------------------------------------------------------------


def beside(survey: Survey, library: Library) -> Beside | None:
    """The survey beside the sister frame that it keeps; None where it keeps none."""
    return survey.once(library, _beside) if survey.standing(Sister) else None


def beside_kept_by(survey: Survey, keeper: Survey, library: Library) -> Beside:
    """A survey beside the sister frame that another survey of the same frame keeps, which keeps
    one.
    """
    return _beside_these(survey, keeper, library)


def _beside(survey: Survey, library: Library) -> Beside:
    return _beside_these(survey, survey, library)


def _beside_these(survey: Survey, keeper: Survey, library: Library) -> Beside:
    sister = keeper.standing(Sister)[-1]
    mine = [r for r in keeper.standing(SisterFigure) if r.sister == sister.name]
    then = _as_kept(mine)
    now, rows = once(survey, library), {r.finding: r for r in mine}
    kept = SisterOnce(survey, _like(now, then), sister.edge, rows)
    found = compared(kept, now, library)
    itself = frozenset(i for i in then if rows[i].band not in ("", "leave"))
    return Beside(sister, found.changes, found.apart, itself, len(mine) - len(then))


def _as_kept(rows: Iterable[SisterFigure]) -> dict[FindingId, Uncertain]:
    """The figures that the rows hold."""
    numbers = ((r.finding, _number(r)) for r in rows)
    return {finding: number for finding, number in numbers if number is not None}


def _like(now: Once, numbers: Mapping[FindingId, Uncertain]) -> dict[FindingId, Finding]:
    """The sister's figures of which this frame has the same."""
    alike = ((f, numbers.get(id)) for id, f in now.findings.items())
    return {
        f.id: replace(f, number=number, readings=(), notes=())
        for f, number in alike
        if number is not None
    }


def _number(row: SisterFigure) -> Uncertain | None:
    """The figure as a number; None for a row that holds none."""
    try:
        value, u = float(row.value), float(row.u)
        dof = float(row.dof) if row.dof else math.inf
    except ValueError:
        return None
    if not _sane(value, u) or not dof >= 1.0:
        return None
    why = "the survey of the sister frame, with its own tools and hand"
    return Uncertain(value, (Part(f"sister:{row.finding}", u, dof, False, why),))


def _sane(value: float, u: float) -> bool:
    """Whether it may be a figure of a frame; never for what is no number."""
    return abs(value) < MOST and 0.0 < u < MOST
