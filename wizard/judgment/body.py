"""What a body bolted tight does to the string: it props the rails, so the sag that shows may be
less than there is.

Source: common practice, no published source.
"""

from __future__ import annotations

from wizard.checks.finding import Finding
from wizard.library import marks
from wizard.library.places import step_of
from wizard.survey.record import Survey
from wizard.survey.rows import Reading

BOLTED = "bolted"


def is_propped(finding: Finding, survey: Survey) -> bool:
    """Whether it is a sag of which any reading under the string was taken with the body bolted
    tight.

    The block is left out: it may have been measured before the body was touched. A rail that surely
    stands high is no sag: without the prop it would only stand less high.
    """
    if finding.quantity not in marks.SAGS or finding.value < -2 * finding.number.u:
        return False
    rows = survey.rows_by_id(Reading)
    taken = (rows[id] for id in finding.readings if id in rows)
    states = {r.state for r in taken if r.state and step_of(r.prompt) == finding.of.read_at}
    if not states:
        return survey.state().body == BOLTED
    return any(survey.state_of(s).body == BOLTED for s in states)
