"""A re-check held against the survey that it follows, while it is under way and at its end."""

from __future__ import annotations

from wizard.library.shapes import Step
from wizard.sitting.sitting import Sitting
from wizard.survey.guide import wanting
from wizard.telling.document import Section, section
from wizard.telling.page import results_of_step

HEADING = "Since last time"
MORE = "/change tells it figure by figure."
SAYS = {
    "changed": "Last time {then}: it has changed.",
    "not changed": "Last time {then}: no change that shows.",
    "cannot tell": "Last time {then}; whether it changed cannot be told yet.",
}


def since_line(sitting: Sitting, step: Step | None) -> str:
    """What last time's figure says to the gravest result of a step, once nothing more is read
    there; else empty.

    Earlier it would lead the hand: no old figure shows before the new one is in.
    """
    if sitting.earlier is None or step is None or sitting.aside.second:
        return ""
    if not _all_in(sitting, step):
        return ""
    results = results_of_step(sitting.survey, sitting.library, step)
    if not results:
        return ""
    from wizard.judgment.change import compare  # numpy only once there is something to compute
    from wizard.telling.quantity_names import amount

    found = compare(sitting.earlier, sitting.survey, sitting.library).changes
    change = next((c for c in found if c.new.id == results[0].finding.id), None)
    return SAYS[change.says].format(then=amount(change.old, sitting.survey.unit)) if change else ""


def _all_in(sitting: Sitting, step: Step) -> bool:
    """Whether the step is in the course and nothing more is wanted there."""
    page = next((p for p in sitting.pages() if p.step.id == step.id), None)
    return page is not None and not any(
        wanting(sitting.survey, p) for p in page.prompts if not p.kind.acknowledges
    )


def since_section(sitting: Sitting) -> tuple[Section, ...]:
    """Whether anything moved, for the head of a re-check's result; none where the survey follows
    none.
    """
    if sitting.earlier is None:
        return ()
    from wizard.judgment.change import compare
    from wizard.telling.change_words import change_headline

    said = change_headline(compare(sitting.earlier, sitting.survey, sitting.library))
    return (section("since", HEADING, [f"{said} {MORE}"]),)
