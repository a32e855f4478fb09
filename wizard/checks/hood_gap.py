"""The gap between hood and body, at the top against low down: how a sag shows before anybody takes
the hood off.

A frame that hangs low at the engine tips the hood on its hinge line, so the gap closes at the top.
Source: common practice, no published source. No limit judges it: a hood is fitted by hand. Its gap
dates a sag and does not prove one.
"""

from __future__ import annotations

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.library import marks
from wizard.library.places import PlaceId, WhereId, prompt_id
from wizard.math.uncertain import combine

RETURNS = (marks.HOOD_TAPER,)


def check(case: Case) -> list[Finding]:
    """Gap low down less gap at the top, mm, for each side that was read at both: positive is
    tighter at the top.
    """
    findings = []
    step = case.library.page[marks.HOOD]
    for side in ("left", "right"):
        top, low = (case.taken(prompt_id(step, PlaceId(side), end)) for end in ("top", "low"))
        if top and low:
            number = combine(
                low.number.value - top.number.value, [(1.0, low.number), (-1.0, top.number)]
            )
            ids = (*top.ids, *low.ids)
            findings.append(case.found(marks.HOOD_TAPER, WhereId(side), number, ids))
    return findings
