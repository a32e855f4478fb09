"""What a sound rail of this section would give under the engine, beside what the string says it
gave.

Source: deflection of a straight beam on two supports under a point load, minus the chord between
the string's ends; the layout's sizes are round figures, so this foretells within a half or so, not
to the millimeter.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import Rises
from wizard.library import marks
from wizard.library.places import NO_PLACE, SIDES, PlaceId, WhereId, where_id, where_of
from wizard.library.shapes import Station
from wizard.math.beam import Beam, below_chord
from wizard.math.conformance import SURE
from wizard.math.shape import LEAST_STATIONS, learned_dof, smoothed
from wizard.math.student import t_quantile
from wizard.math.tube import rail, section_of
from wizard.math.uncertain import Part, Uncertain, combine

RETURNS = (marks.ELASTIC_FORETOLD,)
FROM = "findings"

ON_AXLES = ("wheels", "stands-under-axles")
"""Supports for which it is known where the frame is held: at its axles."""
SPRING_MM = 4.0
"""The most that a sound rail gives under an engine (computed for common rails)."""
FAR = 3.0
"""A rail that rises so many times as far as a sound one foretold from round figures is loose or
cracked, or was read wrongly (this project's own figure).
"""
UNEQUAL = 0.5
"""Two sound rails rise unlike by no more than this share of what is foretold (this project's own
figure).
"""
FALSE_ALARMS = 0.01
"""In so many surveys at most one of the alarms is false by chance: each of two rails down, each far,
and both unequal are five questions.
"""
FORETOLD_U = 0.4
"""Relative standard uncertainty of the foretold figure (this project's own guess: load, section and
supports).
"""
GRAVITY = 9.80665


def check(case: Case, findings: list[Finding]) -> list[Finding]:
    """One finding at the engine mount: foretold rise in mm; notes say where a rail does not behave
    so.
    """
    foretold = expected(case)
    measured = {f.where: f for f in findings if f.quantity == marks.ELASTIC}
    mount = case.once(_mount)
    here = {s: measured[at] for s in SIDES if (at := where_id(mount, s)) in measured}
    if foretold is None or not here:
        return []
    risen: dict[str, Risen] = {
        s: found for s in here if (found := _risen(case, findings, s)) is not None
    }
    notes = _rises(risen, foretold)
    ids = tuple(i for found in here.values() for i in found.readings)
    return [case.found(marks.ELASTIC_FORETOLD, WhereId("mount"), foretold, ids, *notes)]


Risen = tuple[float, float, float]
"""How far a rail rose at the mount, mm, its doubt, and the degrees of freedom of that."""


def _risen(case: Case, findings: list[Finding], side: str) -> Risen | None:
    """By the smooth curve through all stations that were read in both states; of fewer than four, by
    the one at the mount.
    """
    here = ((f, where_of(f.where)) for f in findings if f.quantity == marks.ELASTIC)
    rises = {where.place: f.number for f, where in here if where.side == side}
    mount = case.once(_mount)
    rise = rises.get(mount)
    if rise is None:
        return None
    stations = _within(case, rises)
    numbers = [rises[s.id] for s in stations]
    at = next((n for n, s in enumerate(stations) if s.id == mount), None)
    if at is None or len(stations) < LEAST_STATIONS:
        return rise.value, rise.u, learned_dof([rise])
    xs = [s.x for s in stations]
    curve = smoothed(xs, numbers, case.layout.figures["engine_mount_x"], case.layout.string)
    return curve[at].value, curve[at].u, learned_dof(numbers)


def _within(case: Case, read: Collection[PlaceId]) -> list[Station]:
    """The stations between the string's ends among those read."""
    front, rear = case.layout.string
    return [s for s in case.layout.stations if s.id in read and front < s.x < rear]


def _rises(by_side: Mapping[str, Risen], foretold: Uncertain) -> tuple[Rises, ...]:
    """A note where a rail does not rise as a sound one, or the two rise unlike."""
    odd = tuple((way, s) for s, rise in by_side.items() if (way := _odd(rise, foretold)))
    rises = tuple(by_side.values())
    unequal = len(rises) == 2 and _unequal(rises[0], rises[1], foretold)
    return (Rises(odd, unequal),) if odd or unequal else ()


def _sure(dof: float) -> float:
    return t_quantile(1.0 - FALSE_ALARMS / 5, dof)


def _odd(rise: Risen, foretold: Uncertain) -> str:
    """Which way a rail's rise is not a sound one's; empty where it may be."""
    value, u, dof = rise
    if value < -_sure(dof) * u:
        return "down"
    return "far" if value > FAR * foretold.value + _sure(dof) * u else ""


def _unequal(left: Risen, right: Risen, foretold: Uncertain) -> bool:
    doubt = _sure(min(left[2], right[2])) * math.hypot(left[1], right[1])
    return abs(left[0] - right[0]) > UNEQUAL * foretold.value + doubt


def _mount(case: Case) -> PlaceId:
    x = case.layout.figures.get("engine_mount_x", 0.0)
    stations = case.layout.stations
    return min(stations, key=lambda s: abs(s.x - x)).id if stations else NO_PLACE


def least_crown(case: Case) -> float:
    """Up to where a crown with the weight on is left, mm."""
    below = case.library.limits[case.library.quantities[marks.SAG_LOADED].limit].below
    return below[0].upto_mm if below else 0.0


def curve_through(case: Case, sags: Mapping[PlaceId, Uncertain]) -> list[Uncertain]:
    """The smooth curve through the sags of one rail, three stations or more, at each of them, mm.

    sags: by station, mm.
    """
    stations = [s for s in case.layout.stations if s.id in sags]
    mount = case.layout.figures.get("engine_mount_x", sum(case.layout.string) / 2)
    numbers = [sags[s.id] for s in stations]
    return smoothed([s.x for s in stations], numbers, mount, case.layout.string)


def highest_yet(case: Case, sags: Mapping[PlaceId, Uncertain]) -> float:
    """How high the smooth curve through the sags of one rail may stand at most, at any of them, mm,
    by Student's t at 95 %.

    sags: by station, three or more, mm.
    """
    return max(t_quantile(SURE, p.dof) * p.u - p.value for p in curve_through(case, sags))


def without_weight(case: Case, loaded: Finding) -> Uncertain:
    """The sag of a station without the engine's weight, mm, by its sag with it: less what a sound
    rail springs there by its section and load. Where nobody can say how far, it is taken for no
    less than with the weight on: a rail that loses a weight does not go down.
    """
    station = case.layout.station_by_id[where_of(loaded.where).place]
    springs = expected(case, station.x)
    if springs is None or springs.value <= 0:
        return loaded.number
    value = loaded.value - springs.value
    return combine(value, [(1.0, loaded.number), (-1.0, springs)])


def expected(case: Case, x: float | None = None) -> Uncertain | None:
    """How far a sound rail rises when the engine's weight goes, mm, at a station, else at the
    mount; None where nobody can say.

    x: of the station, mm behind the front points.
    """
    f = case.layout.figures
    wanted = ("rail_depth", "rail_flange", "rail_thickness", "engine_mass_kg", "engine_mount_x")
    if case.survey.state().supports not in ON_AXLES or any(name not in f for name in wanted):
        return None
    front, rear = f.get("front_axle_x", 0.0), f.get("rear_axle_x", f.get(marks.BASE, 0.0))
    if not front < f["engine_mount_x"] < rear:
        return None
    sizes = (f["rail_depth"], f["rail_flange"], f["rail_thickness"])
    inertia = section_of(rail(case.layout.section, *sizes)).inertia
    # Half of the engine hangs on its rear mounts, and each rail carries half of that.
    load = f["engine_mass_kg"] * GRAVITY / 4
    beam = Beam(rear - front, load, f["engine_mount_x"] - front, inertia)
    start, end = (x - front for x in case.layout.string)
    at = f["engine_mount_x"] if x is None else x
    value = below_chord(beam, at - front, start, end)
    why = "load, section and supports are round figures"
    return Uncertain(value, (Part("foretold", value * FORETOLD_U, shared=True, source=why),))
