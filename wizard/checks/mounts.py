"""The body on its mounts: what lies under it, and what drawing its bolts tight does to the rails.

Shims: the left stack less the right one of the same pair. The bolts: under one string, on one pair
of blocks, the gap to a rail's lower edge with the bolts tight less that with them slack; block, dip and
the shape that the edge has from the maker stand in both and drop out, so it is the rail alone that
moved. Source: identity of two readings from one line; the way of reading: common practice, no
published source.
"""

from __future__ import annotations

from wizard.checks import sag
from wizard.checks.case import Case
from wizard.checks.finding import Finding, one_of_many
from wizard.checks.notes import BODY_GAVE, FURTHER, STRAIGHTER, Mark
from wizard.library import marks
from wizard.library.places import (
    SIDES,
    PlaceId,
    QuantityId,
    WhereId,
    asked_of,
    prompt_id,
    step_of,
    where_id,
)
from wizard.math.student import coverage_factor
from wizard.math.uncertain import Part, Uncertain, combine
from wizard.survey.rows import Reading

MOUNT_SHIMS, BODY_PULL = QuantityId("mount-shims"), QuantityId("body-pull")
RETURNS = (MOUNT_SHIMS, BODY_PULL)

AGAIN_U = 0.3
"""mm: the string drawn again, and a ruler not quite where it stood (this project's own guess)."""


def check(case: Case) -> list[Finding]:
    """The shims of each pair, left less right, mm; how far each station rises when the bolts are drawn
    tight, mm, up positive.
    """
    sags = _own_sags(case)
    pulls = [finding for side in SIDES for finding in _pulls(case, side, sags)]
    return [*_shims(case), *one_of_many(pulls)]


def _shims(case: Case) -> list[Finding]:
    found, page = [], case.library.page[marks.SHIMS]
    asked = (asked_of(p) for p in case.by_prompt)
    pairs = dict.fromkeys(a.name for a in asked if a.step == page and a.side)
    for pair in pairs:
        left, right = (case.taken(prompt_id(page, PlaceId(side), pair)) for side in SIDES)
        if left and right:
            number = left.number - right.number
            found.append(case.found(MOUNT_SHIMS, WhereId(pair), number, (*left.ids, *right.ids)))
    return found


def _pulls(case: Case, side: str, sags: dict[WhereId, Uncertain]) -> list[Finding]:
    """Every station of a rail that was read both times; one that moves says whether that makes it
    straighter, and if none does, whether the body gave in its place.

    sags: how the rails lie by themselves.
    """
    found = []
    for station in case.layout.stations:
        slack, tight = (
            case.taken(prompt_id(case.library.page[page], station.id, side))
            for page in (marks.BODY_SLACK, marks.BODY_TIGHT)
        )
        if slack and tight:
            why = "the string drawn again, a ruler not quite where it stood (our own guess)"
            part = Part(f"again:{station.id}:{side}", AGAIN_U, source=why)
            number = (tight.number - slack.number).with_parts(part)
            where = where_id(station.id, side)
            note = _way(number, sags.get(where))
            ids = (*slack.ids, *tight.ids)
            found.append(case.found(BODY_PULL, where, number, ids, *([note] if note else [])))
    if found and not any(sure(f.number) for f in found) and _body_gave(case, side, found):
        most = max(found, key=lambda f: abs(f.value))
        found = [f.noted(BODY_GAVE) if f is most else f for f in found]
    return found


def sure(number: Uncertain) -> int:
    """1 or -1 where a number surely lies on that side of zero, else 0."""
    half = coverage_factor(number.dof) * number.u
    return int(number.value > half) - int(number.value < -half)


def _own_sags(case: Case) -> dict[WhereId, Uncertain]:
    """How low the rails lie under the same load with the body slack, by station and side; only where
    the string ran above them, so that no maker's shape of the lower edge misleads.
    """
    slack = case.library.page[marks.BODY_SLACK]
    read = next((r for r in case.survey.table(Reading) if step_of(r.prompt) == slack), None)
    if read is None or case.meant(marks.STRING_SIDE) == marks.BELOW:
        return {}
    same = _load(case, read)
    return {one.where: one.number for one in sag.check(case) if same in _loads(case, one)}


def _load(case: Case, read: Reading) -> tuple[str, str]:
    """How a reading found engine and body."""
    state = case.survey.state_of(read.state)
    return state.engine, state.body


def _loads(case: Case, one: Finding) -> set[tuple[str, str]]:
    """How the readings of a sag found them, where all found them alike; nothing for another finding."""
    if one.quantity not in marks.SAGS:
        return set()
    loads = {_load(case, r) for r in case.survey.read_on(one.of.read_at, one.readings)}
    return loads if len(loads) == 1 else set()


def _way(pull: Uncertain, low: Uncertain | None) -> Mark | None:
    """Whether the bolts bring a rail nearer to straight or further from it; None where nobody can say.

    A rail that lies `low` and is lifted by `pull` lies |low - pull| off, which is less than |low| just
    where pull and 2 low - pull have one sign.
    """
    if low is None or not sure(pull):
        return None
    rest = combine(2 * low.value - pull.value, [(2.0, low), (-1.0, pull)])
    way = sure(pull) * sure(rest)
    return {1: STRAIGHTER, -1: FURTHER}.get(way)


def _body_gave(case: Case, side: str, found: list[Finding]) -> bool:
    """Whether the widest gap that the bolts closed is surely more than the rail could have moved at any
    station.
    """
    gap = case.taken(prompt_id(case.library.page[marks.BODY_SLACK], PlaceId(side), "gap"))
    if gap is None:
        return False
    rests = (
        combine(gap.number.value - way * f.value, [(1.0, gap.number), (-way, f.number)])
        for f in found
        for way in (1.0, -1.0)
    )
    return all(sure(rest) > 0 for rest in rests)
