"""What the other stations foretell of a gap under the string, and what the weight's going may do to
it.
"""

from __future__ import annotations

from wizard.checks.case import Case
from wizard.checks.foretell_slips import recognized
from wizard.library import marks
from wizard.readings.written import write_fraction_about
from wizard.survey.prompts import Prompt

FAR_MM = 16.0
"""A rail that changes by so much from one station to the next is a wreck or a slip (this project's
own figure).
"""
RISES_MM = 12.0
"""A sound rail rises 0.4 to 4 mm when the engine's weight goes (beam formula); three times that is
doubted.
"""
STRING = ("sag-loaded", "sag-unloaded")
DROPS_MM = 1.5
"""How far a rail may seem to go down when the weight goes, before it is doubted: the hand's
scatter, twice.
"""


def against_string(case: Case, prompt: Prompt, value: float) -> str:
    """A gap against its neighbors on the same rail and against the same station with the weight on."""
    step, station, side = prompt.step, prompt.item, prompt.name
    if step not in STRING or not station:
        return _far_too_long(case, value)
    if step == "sag-unloaded" and (loaded := case.taken(f"sag-loaded/{station}/{side}")):
        return _rise(case, loaded.number.value - value)
    near = _off_nearest(case, prompt, value)
    if near is None:
        return _far_too_long(case, value)
    slip = recognized(near, case.survey.unit)
    if abs(near) > FAR_MM or (slip and abs(near) > 9.0):
        size = write_fraction_about(abs(near), case.survey.unit)
        return f"That is {size} off the nearest station of this rail{slip}; read it once more."
    return ""


def _off_nearest(case: Case, prompt: Prompt, value: float) -> float | None:
    """How far a gap is off the one most like it on its rail; None where none was read yet."""
    ids = (f"{prompt.step}/{s.id}/{prompt.name}" for s in case.layout.stations)
    others = [taken.number.value for id in ids if (taken := case.taken(id))]
    return min((value - other for other in others), key=abs, default=None)


def _rise(case: Case, rise: float) -> str:
    """The change of a gap when the weight went: above the rail a rising rail closes it, below it
    opens it.
    """
    if case.meant(marks.STRING_SIDE) == marks.BELOW:
        rise = -rise
    size = write_fraction_about(abs(rise), case.survey.unit)
    if rise < -DROPS_MM:
        return (
            f"By that the rail went down by {size} when the weight went, and it should rise; read"
            " it once more."
        )
    if rise > RISES_MM:
        return (
            f"By that the rail rose by {size}, far more than a sound rail gives; read it once more."
        )
    return ""


def _far_too_long(case: Case, value: float) -> str:
    if value <= 300.0:
        return ""
    other = "mm" if case.survey.unit == "in" else "in"
    return f"That is long for a rule: is the figure in {other}? Then type {other} behind it."
