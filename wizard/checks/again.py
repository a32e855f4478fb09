"""Every taped distance itself, which another survey of the same frame can be held against."""

from __future__ import annotations

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.library import marks
from wizard.library.places import WhereId

RETURNS = (marks.LENGTH,)
FROM = "surveys"


def check(case: Case) -> list[Finding]:
    """Distances between two points as taped, not reduced (`length/<prompt>`), mm: then and now are
    taped at the same heights.
    """
    found = []
    for id, rows in case.by_prompt.items():
        prompt = case.prompts[id]
        taken = case.taken(id) if prompt.kind.spans and prompt.start and prompt.end else None
        if taken:
            found.append(
                case.found(marks.LENGTH, WhereId(str(id)), taken.number, tuple(r.id for r in rows))
            )
    return found
