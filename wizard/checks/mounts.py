"""The body on its mounts: what lies under it, and what drawing its bolts tight does to the rails.

Shims: the left stack less the right one of the same pair. The bolts: under one string, on one pair
of blocks, the gap to a rail's lower edge with the bolts tight less that with them slack; block, dip and
the shape that the edge has from the maker stand in both and drop out, so it is the rail alone that
moved. Source: identity of two readings from one line; the way of reading: common practice, no
published source.
"""

from __future__ import annotations

from wizard.checks.case import Case
from wizard.checks.finding import Finding, one_of_many
from wizard.checks.notes import BODY_GAVE
from wizard.library import marks
from wizard.library.places import SIDES, PlaceId, QuantityId, WhereId, asked_of, prompt_id, where_id
from wizard.math.student import coverage_factor
from wizard.math.uncertain import Part, Uncertain, combine

MOUNT_SHIMS, BODY_PULL = QuantityId("mount-shims"), QuantityId("body-pull")
RETURNS = (MOUNT_SHIMS, BODY_PULL)

AGAIN_U = 0.3
"""mm: the string drawn again, and a ruler not quite where it stood (this project's own guess)."""


def check(case: Case) -> list[Finding]:
    """The shims of each pair, left less right, mm; how far each station rises when the bolts are
    drawn tight, mm, up positive.
    """
    pulls = [finding for side in SIDES for finding in _pulls(case, side)]
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


def _pulls(case: Case, side: str) -> list[Finding]:
    """Every station of a rail that was read both times; the one that moved most says whether the body
    gave in place of the rail.
    """
    found = []
    for station in case.layout.stations:
        slack, tight = (
            case.taken(prompt_id(case.library.page[page], station.id, side))
            for page in (marks.BODY_SLACK, marks.BODY_TIGHT)
        )
        if slack and tight:
            why = "the string drawn again, a ruler not quite where it stood (our own guess)"
            number = (tight.number - slack.number).with_parts(
                Part(f"again:{station.id}:{side}", AGAIN_U, source=why)
            )
            ids = (*slack.ids, *tight.ids)
            found.append(case.found(BODY_PULL, where_id(station.id, side), number, ids))
    most = max(found, key=lambda f: abs(f.value), default=None)
    if most is not None and _body_gave(case, side, most):
        found = [f.noted(BODY_GAVE) if f is most else f for f in found]
    return found


def _body_gave(case: Case, side: str, most: Finding) -> bool:
    """Whether the widest gap that the bolts closed is surely more than the rail moved anywhere.

    most: the station of that rail that moved most.
    """
    gap = case.taken(prompt_id(case.library.page[marks.BODY_SLACK], PlaceId(side), "gap"))
    if gap is None:
        return False
    way = 1.0 if most.value >= 0 else -1.0
    left: Uncertain = combine(
        gap.number.value - abs(most.value), [(1.0, gap.number), (-way, most.number)]
    )
    return left.value > coverage_factor(left.dof) * left.u
