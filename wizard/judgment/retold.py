"""Which prompts tell a finding again: the readings that it leans on, without the sizes that are
known from last time.

Written as a re-check keeps them: the id of a step for all of it, or of a part of it, such as
`level/rear`.
"""

from __future__ import annotations

from collections.abc import Set

from wizard.checks.case import Case
from wizard.checks.diagonals import STEPS
from wizard.checks.finding import HORNS, Finding
from wizard.checks.notes import OffPlan
from wizard.library.places import asked_of, part_of_step, step_of, within
from wizard.survey.rows import Reading

STRING = ("sag-loaded", "sag-unloaded")
LIFT = ("lift-engine", "lower-engine")
BAR, FRONT_BOX = "front-box-bar", "front-box"
LONG = ("long-diagonals", "diagonals-below")
"""The same diagonals from above and from below; which of them can be taken is the body's affair on
the day.
"""
CORNERS = ("nose-diagonals", "plate-to-corners")
"""What stands in for a box's diagonals where nobody can tape them."""
PLAN = ("widths", "own-sides", *LONG, *CORNERS, "box-diagonals")
"""Steps of the plan, but for the horns and the wheels."""


def compared_as(finding: Finding) -> str:
    """Id of the finding that is held against last time's in its place: a rail's length by the two
    sides as taped.
    """
    return f"own-sides/{finding.where}" if finding.quantity == "mash" else finding.id


def retold(finding: Finding, case: Case) -> set[str]:
    """What to read again so that the finding can be held against itself."""
    sides = part_of_step("own-sides", finding.where)
    if finding.quantity == "mash" and any(within(id, sides) for id in case.by_prompt):
        return {sides}
    if finding.quantity == "rail-shift":
        return _box(finding, case)
    if finding.note(OffPlan):
        return _off_the_plan(finding, case)
    prompts = _read_for(finding, case)
    if finding.quantity in STRING:
        return _string(prompts)
    # The width at a level or a horn only scales what was read; it was known well enough the first
    # time.
    return {_whole(p) for p in prompts if step_of(p) != "widths"}


def _read_for(finding: Finding, case: Case) -> set[str]:
    """The prompts whose readings a finding leans on."""
    ids = set(finding.readings)
    return {r.prompt for r in case.survey.standing(Reading) if r.id in ids}


def _whole(prompt: str) -> str:
    """The level is always turned round: its place stands for both ways."""
    return asked_of(prompt).page if step_of(prompt) == "level" else prompt


def _string(prompts: set[str]) -> set[str]:
    """Both rails at each station: that one hangs lower than its twin is half of what a string
    tells.
    """
    along = {p for p in prompts if step_of(p) in STRING}
    found = {"string-set-up", *(asked_of(p).page for p in along)}
    return found | set(LIFT) if any(step_of(p) == STRING[1] for p in along) else found


def _box(finding: Finding, case: Case) -> set[str]:
    """A box by its own diagonals and sides; the front one by the bar only where no tape got across."""
    where = FRONT_BOX if finding.where == BAR else finding.where
    read = {(a.step, a.item) for a in map(asked_of, case.by_prompt)}
    for step in STEPS:
        if (step, where) in read:
            return {*(LONG if step in LONG else (f"{step}/{where}",)), f"own-sides/{where}"}
    if where == FRONT_BOX and any(step == BAR for step, _ in read):
        return {BAR, f"own-sides/{where}"}
    return _by_corners(where, read, case) or _plan(case)


def _by_corners(where: str, read: Set[tuple[str, str]], case: Case) -> set[str]:
    """A box by what stands in for its diagonals; nothing where neither was read."""
    step = next((s for s in CORNERS if (s, where) in read), None)
    box = next((b for b in case.layout.boxes if b.id == where), None)
    if step is None or box is None:
        return set()
    return {f"{step}/{where}", f"widths/{box.front}", f"widths/{box.rear}"}


def _off_the_plan(finding: Finding, case: Case) -> set[str]:
    """A plan leans on every tape. A bow wants them all, a horn its own page and the box behind it.

    That box says which way the rails run on, and halves what the horns' tapes alone leave in doubt
    [computed].
    """
    if finding.quantity not in HORNS:
        return _plan(case)
    behind = part_of_step("box-diagonals", FRONT_BOX)
    return {"horns", *(behind for id in case.by_prompt if within(id, behind))}


def _plan(case: Case) -> set[str]:
    return {step_of(id) for id in case.by_prompt} & set(PLAN)
