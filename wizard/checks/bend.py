"""Kink or bow: whether each rail bends smoothly, as age does, or at one place, as a blow or a jack
does.

Without the weight where that was read, else with it. Source: the family of smooth curves and its
threshold stand in wizard/math/shape.py.
"""

from __future__ import annotations

import math

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import Bend
from wizard.library.places import SIDES, where_of
from wizard.math.shape import Shape, tell_shape
from wizard.math.uncertain import Part, Uncertain

RETURNS = ("bend",)
FROM = "findings"


def check(case: Case, findings: list[Finding]) -> list[Finding]:
    """One finding a rail: depth of the hinge that fits best, with its kind as a note."""
    found = []
    for side in SIDES:
        for quantity in ("sag-unloaded", "sag-loaded"):
            sags = {
                where_of(f.where).place: f
                for f in findings
                if f.quantity == quantity and where_of(f.where).side == side
            }
            stations = [(s.x, sags[s.id]) for s in case.layout.stations if s.id in sags]
            if len(stations) >= 3:
                found.append(_finding(case, side, stations))
                break
    return found


def _finding(case: Case, side: str, stations: list[tuple[float, Finding]]) -> Finding:
    mount = case.layout.figures.get("engine_mount_x", sum(case.layout.string) / 2)
    shape = tell_shape(
        [x for x, _ in stations], [f.number for _, f in stations], mount, case.layout.string
    )
    ids = tuple(dict.fromkeys(i for _, f in stations for i in f.readings))
    hides = shape.kink_seen_mm if math.isfinite(shape.kink_seen_mm) else None
    note = Bend(shape.kind, _nearest(case, shape.place_mm), hides)
    return case.found("bend", side, _depth(shape), ids, note)


def _depth(shape: Shape) -> Uncertain:
    """Depth of the best hinge; its doubt from the depth that these stations would show half the
    time.
    """
    u = (
        shape.kink_seen_mm / shape.threshold**0.5
        if shape.threshold > 0 and shape.kink_seen_mm < 1e6
        else 1e3
    )
    return Uncertain(
        shape.depth_mm, (Part("bend", u, source="how well these stations show a hinge"),)
    )


def _nearest(case: Case, x: float) -> str:
    return min(case.layout.stations, key=lambda s: abs(s.x - x)).id
