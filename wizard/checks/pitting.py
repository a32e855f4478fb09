"""What pitting has taken from a rail: thickness, stiffness and strength left at the worst place.

What is known of the other places is reckoned in section_left.py.

Source: area, centroid, second moment and section modulus of a channel of three rectangles (any text
on the strength of materials); square corners overstate a pressed rail slightly. Limit on thickness:
see content/limits.toml; it is published for a loss over the whole rail, so one pit is not held
against it.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import DEEP_THERE, DEEPER_THERE, ONE_PLACE, Mark
from wizard.checks.section_left import mapped_of
from wizard.checks.thin_places import ThinPlace, over, places_of, worst
from wizard.library import marks
from wizard.library.places import QuantityId, WhereId
from wizard.library.shapes import CLOSED_RAILS
from wizard.math.channel import Channel, Face, Loss, Skin, left_of
from wizard.math.conformance import over as is_over
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
    for side in ("left", "right"):
        places = places_of(case, side)
        if places:
            findings.append(_thickness(case, side, places))
            findings += _whole_face(case, side, places[0])
    return findings


def _whole_face(case: Case, side: str, place: ThinPlace) -> list[Finding]:
    """What is left of the rail if the whole face were as thin: the worst case, where nobody read
    how far the thin places run.
    """
    c, p, figures = place.clean.number, place.metal.number, case.layout.figures
    if CLOSED_RAILS in case.layout.traits or mapped_of(case, side):
        return []
    if place.face is None or not 0 <= p.value < c.value:
        return []
    depth, flange = figures.get("rail_depth", 0.0), figures.get("rail_flange", 0.0)
    if 2 * c.value >= depth or c.value >= flange:
        # mm typed where inches are set: no rail is that thick, so no section can be reckoned
        return []
    channel = Channel(depth, flange, c.value, c.value)
    ids = (*place.clean.ids, *place.metal.ids)
    left = (_left(channel, place.face, c, p, at) for at in range(len(LEFT)))
    return [case.found(q, WhereId(side), n, ids) for q, n in zip(LEFT, left, strict=True)]


def _thickness(case: Case, side: str, places: tuple[ThinPlace, ...]) -> Finding:
    """What is lost, held against the limit of a whole rail only where so much of it is as thin."""
    deepest, far = worst(places), over(places, WHOLE_RAIL * _rail_length(case))
    found = _lost(case, side, far or deepest)
    first = case.library.limits[found.limit].above[0].upto_mm
    if far is not None and (far is deepest or _is_deep(found, first)):
        deeper = _is_deep(_lost(case, side, deepest), max(first, found.value))
        return replace(found, notes=(DEEPER_THERE, *_near(case, side))) if deeper else found
    found = _lost(case, side, deepest)
    deep = (DEEP_THERE, *_near(case, side)) if _is_deep(found, first) else ()
    return replace(found, limit="", notes=(ONE_PLACE, *deep))


def _near(case: Case, side: str) -> tuple[Mark, ...]:
    """The mounting that the rail's deepest place lies near, where there is one."""
    said = case.meant(marks.THIN_NEAR, side=side)
    return (Mark(said),) if said in marks.BY_MOUNTING else ()


def _is_deep(found: Finding, limit: float) -> bool:
    """Whether it has certainly lost more than that, in percent."""
    return is_over(found.number.value, found.number.u, found.number.dof, limit)


def _lost(case: Case, side: str, place: ThinPlace) -> Finding:
    """The share of its thickness that a place has lost, in percent."""
    c, p = place.clean.number, place.metal.number
    lost = combine(
        100 * (1 - p.value / c.value), [(100 * p.value / c.value**2, c), (-100 / c.value, p)]
    )
    far = place.long.ids if place.long else ()
    return case.found(
        marks.THICKNESS, WhereId(side), lost, (*place.clean.ids, *place.metal.ids, *far)
    )


def _rail_length(case: Case) -> float:
    """From the foremost to the rearmost points of the rails, mm."""
    along = [place.x for place in case.layout.places if place.x >= 0]
    return max(along, default=0.0) - min(along, default=0.0)


def _left(
    channel: Channel, face: tuple[Face, Skin], clean: Uncertain, pitted: Uncertain, at: int
) -> Uncertain:
    """Share left in percent as if the whole face had lost so much: the pit is one spot, so this is
    the worst case.
    """
    depth = clean.value - pitted.value

    def share(lost: float) -> float:
        loss = Loss(*face, max(0.0, lost))
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
