"""What would settle an open finding, in one sentence."""

from __future__ import annotations

from wizard.judgment.next import Advice
from wizard.survey.record import Unit
from wizard.telling.amounts import about

COUNT = ("", "once", "twice", "three times", "four times", "five times", "six times")


def advice_words(advice: Advice, finding_unit: str, unit: Unit, k: float = 2.0) -> str:
    """How to go on, and how much it would help; k is the factor from the standard doubt to that of
    95 %.
    """
    if advice.kind == "at-limit":
        return "It lies right at the limit: more readings will hardly move it to one side."
    now, then = (about(k * u, finding_unit, unit) for u in (advice.u_now, advice.u_then))
    helps = f"The doubt would go from {now} to {then}" + (
        ", enough to tell." if advice.settles else "."
    )
    if now == then:
        helps = "That would be enough to tell." if advice.settles else "That would help a little."
    if advice.kind == "measure":
        return f"Next, tape this one too: {advice.label}. {helps}"
    if advice.kind == "repeat":
        times = COUNT[advice.times] if advice.times < len(COUNT) else f"{advice.times} times"
        return f"Next, read {advice.label} and what it is compared with {times} more. {helps}"
    return (
        f"More repeats will not help: most of the doubt is {advice.label}. A finer tool or point"
        " would."
    )
