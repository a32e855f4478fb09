"""What lies under the body at each pair of its mounts: the left stack less the right one.

Source: identity of two readings; the way of reading: common practice, no published source. No limit
judges it: shims make up for wood, rubber and rust as well as for a frame.
"""

from __future__ import annotations

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.library import marks
from wizard.library.places import SIDES, PlaceId, QuantityId, WhereId, asked_of, prompt_id

MOUNT_SHIMS = QuantityId("mount-shims")
RETURNS = (MOUNT_SHIMS,)


def check(case: Case) -> list[Finding]:
    """The shims of each pair of mounts that was read on both sides, left less right, mm."""
    found, page = [], case.library.page[marks.SHIMS]
    if page in case.uncalled:
        return []
    asked = (asked_of(p) for p in case.by_prompt)
    pairs = dict.fromkeys(a.name for a in asked if a.step == page and a.side)
    for pair in pairs:
        left, right = (case.taken(prompt_id(page, PlaceId(side), pair)) for side in SIDES)
        if left and right:
            number = left.number - right.number
            found.append(case.found(MOUNT_SHIMS, WhereId(pair), number, (*left.ids, *right.ids)))
    return found
