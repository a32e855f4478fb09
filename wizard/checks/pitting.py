"""What pitting has taken from a rail: thickness, stiffness and strength left at the worst place.

Source: area, centroid, second moment and section modulus of a channel of three rectangles (any text
on the strength of materials); square corners overstate a pressed rail slightly. Limit on thickness:
see content/limits.toml; it is published for a loss over the whole rail, so one pit is not held
against it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Literal, cast

from wizard.checks.case import Case, Taken
from wizard.checks.finding import Finding
from wizard.checks.notes import DEEP_THERE, ONE_PLACE
from wizard.checks.springing import CLOSED
from wizard.library import marks
from wizard.library.places import PlaceId, QuantityId, WhereId, prompt_id
from wizard.math.channel import Channel, Loss, left_of
from wizard.math.conformance import over
from wizard.math.uncertain import Part, Uncertain, combine

LEFT = (QuantityId("stiffness-left"), QuantityId("strength-left"))
"""What a thin rail has left."""
RETURNS = (
    marks.THICKNESS,
    *LEFT,
)

SQUARE_CORNERS_U = 0.02
"""Relative doubt from square corners and from the layout's round sizes (this project's own guess)."""


WHOLE_RAIL = 0.5
"""Share of the rail from which a thin stretch is taken for the whole of it (this project's own
figure).
"""


def check(case: Case) -> list[Finding]:
    """Thickness lost in percent, and stiffness and strength left in percent, for each side that was
    calipered.
    """
    findings = []
    step = case.library.page[marks.METAL]
    for side in ("left", "right"):
        clean, pitted = (
            case.taken(prompt_id(step, PlaceId(side), at)) for at in ("clean", "pitted")
        )
        if clean and pitted and clean.number.value > 0:
            findings += _side(case, side, clean, pitted)
    return findings


def _side(case: Case, side: str, clean: Taken, pitted: Taken) -> list[Finding]:
    c, p = clean.number, pitted.number
    ids = (*clean.ids, *pitted.ids)
    lost = combine(
        100 * (1 - p.value / c.value), [(100 * p.value / c.value**2, c), (-100 / c.value, p)]
    )
    findings = [_thickness(case, side, lost, ids)]
    face = case.meant(marks.PIT_FACE, side=side)
    figures = case.layout.figures
    if (
        CLOSED in case.layout.traits
    ):  # A hollow box has another section than the channel that is reckoned here.
        return findings
    if (
        not face
        or not 0 <= p.value < c.value
        or not {"rail_depth", "rail_flange"} <= figures.keys()
    ):
        return findings
    if 2 * c.value >= figures["rail_depth"] or c.value >= figures["rail_flange"]:
        # mm typed where inches are set: no rail is that thick, so no section can be reckoned
        return findings
    channel = Channel(figures["rail_depth"], figures["rail_flange"], c.value, c.value)
    for at, quantity in enumerate(LEFT):
        number = _left(channel, face, c, p, at)
        findings.append(case.found(quantity, WhereId(side), number, ids))
    return findings


def _thickness(case: Case, side: str, lost: Uncertain, ids: tuple[str, ...]) -> Finding:
    """What is lost, held against the limit of a whole rail only where the stretch is that long."""
    step = case.library.page[marks.METAL]
    stretch = case.taken(prompt_id(step, PlaceId(side), "stretch"))
    found = case.found(
        marks.THICKNESS, WhereId(side), lost, (*ids, *(stretch.ids if stretch else ()))
    )
    if stretch and stretch.number.value >= WHOLE_RAIL * _rail_length(case):
        return found
    first = case.library.limits[found.limit].above[0].upto_mm
    deep = over(lost.value, lost.u, lost.dof, first)
    return replace(found, limit="", notes=(ONE_PLACE, *([DEEP_THERE] if deep else [])))


def _rail_length(case: Case) -> float:
    """From the foremost to the rearmost points of the rails, mm."""
    along = [place.x for place in case.layout.places if place.x >= 0]
    return max(along, default=0.0) - min(along, default=0.0)


def _left(channel: Channel, face: str, clean: Uncertain, pitted: Uncertain, at: int) -> Uncertain:
    """Share left in percent as if the whole face had lost so much: the pit is one spot, so this is
    the worst case.
    """
    depth = clean.value - pitted.value

    def share(lost: float) -> float:
        loss = Loss(cast(Literal["top", "web", "bottom"], face), "outside", max(0.0, lost))
        return 100 * left_of(channel, [loss])[at]

    step = 0.01
    slope = (share(depth + step) - share(depth)) / step
    corners = Part(
        "square-corners",
        share(depth) * SQUARE_CORNERS_U,
        shared=True,
        source="square corners, round sizes",
    )
    number = combine(share(depth), [(slope, clean), (-slope, pitted)])
    return number.with_parts(corners)
