"""The axles: which one stands askew, what holds it on this kind of frame, and what to look at
beside a bent corner.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from wizard.judgment.bands import Judged
from wizard.judgment.facts import beyond
from wizard.library import marks
from wizard.library.shapes import Layout

if TYPE_CHECKING:  # it would bring the math before there is something to compute
    from wizard.judgment.verdict import Verdict

ACROSS = "cross-springs"
LEAST_MM = 3.0
"""An axle that is less askew is not named (the wheelbase's own limit of what is left)."""


def askew(verdict: Verdict) -> list[Judged]:
    """The axles that stand askew beyond doubt."""
    axles = [j for j in verdict.judged if j.finding.quantity == marks.AXLE]
    return [j for j in axles if beyond(j, 0.0) and abs(j.finding.value) >= LEAST_MM]


def holds(layout: Layout | None) -> str:
    """What keeps an axle in its place on this kind of frame."""
    if layout is None:
        return "what holds it to the frame"
    if ACROSS in layout.traits:
        return "the radius rods, their ball, perches and shackles"
    return "the center bolts, springs and shackles"


def axle_advice(verdict: Verdict, layout: Layout) -> str:
    """What to do where the wheelbases differ under a true frame."""
    found = askew(verdict)
    which = f"the {found[0].finding.where} axle" if len(found) == 1 else "an axle"
    return f"The frame may be straight and {which} out of square. Look at {holds(layout)}, then measure again."


def beside(corner: tuple[str, str], layout: Layout | None) -> str:
    """The parts of a corner that a blow may have bent too; empty for the middle of the frame."""
    rods = "springs" if layout is None or ACROSS not in layout.traits else "radius rods"
    if corner[1] == "front":
        return f"axle, spindles, {rods} and steering arms of the {' '.join(corner)} corner"
    if corner[1] == "rear":
        return f"axle, {rods} and shackles of the {' '.join(corner)} corner"
    return ""
