"""What each rail shows as a whole: a kink or a bow, and a crown.

Kink or bow: whether it bends smoothly, as age does, or at one place, as a blow or a jack does; by the
mean of both states where both were read, for what is set stands in both. A crown is told of the smooth
curve through all stations, never of one of them, and counts with the weight on, or beyond what the
rail springs when the engine leaves.
Source: the family of smooth curves and its threshold stand in wizard/math/shape.py.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import Bend, Crown
from wizard.checks.springing import SPRING_MM, curve_through, expected, least_crown
from wizard.library import marks
from wizard.library.places import SIDES, PlaceId, QuantityId, WhereId, where_of
from wizard.math.conformance import SURE
from wizard.math.shape import LEAST_STATIONS, Shape, own_dof, surely_beyond, tell_shape
from wizard.math.student import t_quantile
from wizard.math.uncertain import Part, Uncertain, combine

RETURNS = (marks.KINK_OR_BOW, marks.CROWN)
FROM = "findings"

LEAST_OF_A_RAIL = 3
"""Stations from which a curve may be laid through a rail."""

Sags = Mapping[PlaceId, Finding]
"""The sags of one rail in one state, by station."""


def check(case: Case, findings: list[Finding]) -> list[Finding]:
    """For each rail the depth of the hinge that fits best, with its kind as a note, and a crown
    where there is one.
    """
    found = []
    for side in SIDES:
        unloaded, loaded = (_sags(findings, quantity, side) for quantity in marks.SAGS)
        stations = _both(case, loaded, unloaded)
        if len(stations) >= LEAST_OF_A_RAIL:
            found.append(_finding(case, side, stations))
        crown = _crown(case, side, loaded, is_loaded=True)
        if len(loaded) < LEAST_OF_A_RAIL:
            crown = _crown(case, side, unloaded, is_loaded=False)
        if crown is not None:
            found.append(crown)
    return found


def _sags(findings: list[Finding], quantity: QuantityId, side: str) -> Sags:
    here = ((f, where_of(f.where)) for f in findings if f.quantity == quantity)
    return {where.place: f for f, where in here if where.side == side}


Read = tuple[float, Uncertain, tuple[str, ...]]
"""Where a station lies, its sag, and the readings behind that."""


def _both(case: Case, loaded: Sags, unloaded: Sags) -> list[Read]:
    """The mean of both states where four stations were read in both; else the one that was read,
    without the weight first.
    """
    stations = [(s.x, loaded.get(s.id), unloaded.get(s.id)) for s in case.layout.stations]
    both = [(x, _mean(case, a, b), (*a.readings, *b.readings)) for x, a, b in stations if a and b]
    if len(both) >= LEAST_STATIONS:
        return both
    one = unloaded if len(unloaded) >= LEAST_OF_A_RAIL else loaded
    read = [(s.x, one.get(s.id)) for s in case.layout.stations]
    return [(x, f.number, f.readings) for x, f in read if f]


def _mean(case: Case, one: Finding, other: Finding) -> Uncertain:
    """The mean of two states, each by how often it was read."""
    counts = [max(1, sum(i in case.gap_ids for i in f.readings)) for f in (one, other)]
    first, second = (n / sum(counts) for n in counts)
    value = first * one.value + second * other.value
    return combine(value, [(first, one.number), (second, other.number)])


def _finding(case: Case, side: str, stations: Sequence[Read]) -> Finding:
    mount = case.layout.figures.get("engine_mount_x", sum(case.layout.string) / 2)
    sags = [number for _, number, _ in stations]
    dof = own_dof(sags)
    shape = tell_shape([x for x, _, _ in stations], sags, mount, case.layout.string, dof)
    ids = tuple(dict.fromkeys(i for _, _, readings in stations for i in readings))
    hides = shape.kink_seen_mm if math.isfinite(shape.kink_seen_mm) else None
    note = Bend(shape.kind, _nearest(case, shape.place_mm), hides)
    return case.found(marks.KINK_OR_BOW, WhereId(side), _depth(shape), ids, note)


def _depth(shape: Shape) -> Uncertain:
    """Depth of the best hinge; its doubt as in the middle part of the string."""
    u = shape.depth_u_mm if shape.depth_u_mm < 1e5 else 1e3
    return Uncertain(
        shape.depth_mm, (Part("bend", u, source="how well these stations show a hinge"),)
    )


def _nearest(case: Case, x: float) -> PlaceId:
    return min(case.layout.stations, key=lambda s: abs(s.x - x)).id


def _crown(case: Case, side: str, sags: Sags, *, is_loaded: bool) -> Finding | None:
    """A rail whose smooth curve stands higher than its limit allows; None where that is not
    established.

    Corrected for being the highest of the stations, by Student's t with the learned scatter.
    """
    stations = [s for s in case.layout.stations if s.id in sags]
    if len(stations) < LEAST_OF_A_RAIL:
        return None
    curve = curve_through(case, {s.id: sags[s.id].number for s in stations})
    high, station = max(
        zip(curve, stations, strict=True),
        key=lambda there: (-there[0].value - least_crown(case)) / there[0].u,
    )
    highest, u, dof = -high.value, high.u, high.dof
    if highest - least_crown(case) < t_quantile(SURE, dof) * u:
        return None  # by itself it is not sure, so it is not as the highest of several
    sure = surely_beyond(curve, SURE)
    if highest - least_crown(case) < sure * u:
        return None
    springs = Uncertain(0.0) if is_loaded else expected(case) or Uncertain(SPRING_MM)
    beyond = highest - least_crown(case) - springs.value
    note = Crown(station.id, is_loaded, beyond >= sure * math.hypot(u, springs.u))
    why = "how well all stations together show the curve"
    number = Uncertain(-highest, (Part("crown", u, dof, source=why),))
    ids = tuple(dict.fromkeys(i for s in stations for i in sags[s.id].readings))
    return case.found(marks.CROWN, WhereId(side), number, ids, note)
