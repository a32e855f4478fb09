"""What a body bolted tight does to the string: it props the rails, so the sag that shows may be
less than there is.

Source: common practice, no published source.
"""

from __future__ import annotations

from wizard.checks.finding import Finding
from wizard.library import marks
from wizard.survey.record import Survey

BOLTED = "bolted"


def is_propped(finding: Finding, survey: Survey) -> bool:
    """Whether it is a sag of which any reading under the string was taken with the body bolted
    tight.

    The block is left out: it may have been measured before the body was touched. A rail that surely
    stands high is no sag: without the prop it would only stand less high.
    """
    if finding.quantity not in marks.SAGS or finding.value < -2 * finding.number.u:
        return False
    rows = survey.read_on(finding.of.read_at, finding.readings)
    states = {r.state for r in rows if r.state}
    if not states:
        return survey.state().body == BOLTED
    return any(survey.state_of(s).body == BOLTED for s in states)
