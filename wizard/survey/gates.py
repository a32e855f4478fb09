"""Gates: what must be read before a page, and whether anybody may go near the car for it at all.

A page declares what it exposes a person to, the car's state says which of that is real, and the
cautions follow. What was read holds for this sitting, this standing and this person. Source: common
practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import TYPE_CHECKING

from wizard.library.shapes import Caution, Exposure, Library, Step
from wizard.survey.record import Survey, number_of
from wizard.survey.rows import Ack
from wizard.survey.standing import (
    TIPS,
    holds,
    last_push,
    moved_since,
    same_sitting,
    stances,
)

if TYPE_CHECKING:
    from wizard.survey.prompts import Prompt


def exposures_of(step: Step, prompts: Iterable[Prompt]) -> frozenset[str]:
    """What a page exposes a person to: its own moves, and those of its prompts that are asked of
    this car.
    """
    return frozenset({*step.exposes, *(e for p in prompts for e in p.exposes)})


def real(exposures: Iterable[str], library: Library, now: frozenset[str]) -> tuple[Exposure, ...]:
    """Those of the exposures that are a danger. now: how the car may stand (wheels, lifted, bare)."""
    known = (library.exposures[e] for e in exposures if e in library.exposures)
    return tuple(e for e in known if now.intersection(e.stances))


def cautions_of(
    exposures: Iterable[str], library: Library, now: frozenset[str]
) -> tuple[Caution, ...]:
    """What is to be read before such work, in the order of the content; none whose every word
    another one covers.
    """
    wanted = {e.id for e in real(exposures, library, now)}
    against = [
        c
        for c in library.cautions.values()
        if now.intersection(c.stances) and wanted.intersection(c.against)
    ]
    return tuple(c for c in against if not _covered(c, wanted, against))


def _covered(caution: Caution, wanted: set[str], among: Iterable[Caution]) -> bool:
    covered = {e for c in among if c is not caution for e in c.covers}
    return wanted.intersection(caution.against) <= covered


def open_cautions(
    exposures: Iterable[str],
    library: Library,
    survey: Survey,
    *,
    now: datetime,
    by: str,
    visit: int | None = None,
    stood: frozenset[str] = frozenset(),
) -> tuple[Caution, ...]:
    """The cautions that this person has still to read before such work.

    stood: how the car may stand in the course of the work, beside how it stands now.

    visit: number of the last row before he came to this page; what he changes on the page itself
    does not make him read again there what he had read. None: whatever was changed since makes him
    read again.
    """
    read = _read_by(by, survey, now, visit)
    enough = {e for id in read if id in library.cautions for e in library.cautions[id].covers}
    now_or_then = stances(survey.state()) | stood
    wanted = {e.id for e in real(exposures, library, now_or_then)}
    return tuple(
        c
        for c in cautions_of(exposures, library, now_or_then)
        if c.id not in read and not wanted.intersection(c.against) <= enough
    )


def _read_by(by: str, survey: Survey, now: datetime, visit: int | None) -> set[str]:
    """Ids of the cautions that this person has read, and that he need not read again.

    Of each, as the car stood, the last time counts: no earlier one says more.
    """
    last = {(a.caution, a.standing): a for a in survey.standing(Ack) if a.by == by}
    return {a.caution for a in last.values() if _still_read(survey, a, now, visit)}


def _still_read(survey: Survey, ack: Ack, now: datetime, visit: int | None) -> bool:
    if visit is None or visit == survey.last_number():
        return holds(survey, ack, ack.standing, now)
    return not moved_since(survey, number_of(ack.id), visit) and same_sitting(survey, ack, now)


def held(exposures: Iterable[str], library: Library, survey: Survey, why: str) -> str:
    """Why nobody may be near the car for such work; empty where he may.

    why: what wizard.survey.standing.why_held says of the car.
    """
    near = [e for e in exposures if e in library.exposures and library.exposures[e].near]
    if why in TIPS:  # it is nothing to stand beside, whatever it stands on
        return why if near else ""
    return why if any(real(near, library, stances(survey.state()))) else ""


def hold_of(library: Library, why: str) -> Caution:
    """The page in the largest words that says so."""
    return next(c for c in library.cautions.values() if c.holds == why)


def hold_read(survey: Survey, library: Library, why: str, now: datetime, by: str) -> bool:
    """Whether this person has read that page since the last push test and the last change."""
    push, _ = last_push(survey, library)
    since = number_of(push.id) if push else 0
    id = hold_of(library, why).id
    return any(
        a.caution == id
        and a.by == by
        and number_of(a.id) > since
        and not moved_since(survey, number_of(a.id))
        and same_sitting(survey, a, now)
        for a in survey.standing(Ack)
    )
