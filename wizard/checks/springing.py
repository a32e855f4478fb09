"""What a sound rail of this section would give under the engine, beside what the string says it
gave.

Source: deflection of a straight beam on two supports under a point load, minus the chord between
the string's ends; the layout's sizes are round figures, so this foretells within a half or so, not
to the millimeter.
"""

from __future__ import annotations

from collections.abc import Mapping

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import Rises
from wizard.math.beam import Beam, below_chord
from wizard.math.channel import Channel, closed_inertia, section
from wizard.math.uncertain import Part, Uncertain

RETURNS = ("elastic-foretold",)
FROM = "findings"

ON_AXLES = ("wheels", "stands-under-axles")
"""Supports for which it is known where the frame is held: at its axles."""
FORETOLD_U = 0.4
"""Relative standard uncertainty of the foretold figure (this project's own guess: load, section and
supports).
"""
CLOSED = "closed-rails"
"""Trait of a layout whose rails are hollow boxes, not channels."""
GRAVITY = 9.80665


def check(case: Case, findings: list[Finding]) -> list[Finding]:
    """One finding at the engine mount: foretold rise in mm; notes say where a rail does not behave
    so.
    """
    foretold = expected(case)
    measured = {f.where: f for f in findings if f.quantity == "elastic"}
    mount = _mount(case)
    here = {s: measured[f"{mount}/{s}"] for s in ("left", "right") if f"{mount}/{s}" in measured}
    if foretold is None or not here:
        return []
    notes = _rises({s: found.number for s, found in here.items()}, foretold)
    ids = tuple(i for found in here.values() for i in found.readings)
    return [case.found("elastic-foretold", "mount", foretold, ids, *notes)]


def _rises(by_side: Mapping[str, Uncertain], foretold: Uncertain) -> tuple[Rises, ...]:
    """A note where a rail does not rise as a sound one, or the two rise unlike."""
    odd = tuple((way, s) for s, rise in by_side.items() if (way := _odd(rise, foretold)))
    unequal = len(by_side) == 2 and _unequal(by_side["left"], by_side["right"], foretold)
    return (Rises(odd, unequal),) if odd or unequal else ()


def _odd(rise: Uncertain, foretold: Uncertain) -> str:
    """Which way a rail's rise is not a sound one's; empty where it may be."""
    if rise.value < -2 * rise.u:
        return "down"
    return "far" if rise.value > 2.5 * foretold.value + 2 * rise.u else ""


def _unequal(left: Uncertain, right: Uncertain, foretold: Uncertain) -> bool:
    apart = left - right
    return abs(apart.value) > max(2 * apart.u, 0.5 * foretold.value)


def _mount(case: Case) -> str:
    x = case.layout.figures.get("engine_mount_x", 0.0)
    return min(case.layout.stations, key=lambda s: abs(s.x - x)).id if case.layout.stations else ""


def expected(case: Case) -> Uncertain | None:
    """How far a sound rail rises at the mount when the engine's weight goes, mm; None where nobody
    can say.
    """
    f = case.layout.figures
    wanted = ("rail_depth", "rail_flange", "rail_thickness", "engine_mass_kg", "engine_mount_x")
    if case.survey.state().supports not in ON_AXLES or any(name not in f for name in wanted):
        return None
    front, rear = f.get("front_axle_x", 0.0), f.get("rear_axle_x", f.get("wheelbase", 0.0))
    if not front < f["engine_mount_x"] < rear:
        return None
    rail = Channel(f["rail_depth"], f["rail_flange"], f["rail_thickness"], f["rail_thickness"])
    closed = CLOSED in case.layout.traits
    inertia = closed_inertia(rail) if closed else section(rail).inertia
    # Half of the engine hangs on its rear mounts, and each rail carries half of that.
    load = f["engine_mass_kg"] * GRAVITY / 4
    beam = Beam(rear - front, load, f["engine_mount_x"] - front, inertia)
    start, end = (x - front for x in case.layout.string)
    value = below_chord(beam, f["engine_mount_x"] - front, start, end)
    why = "load, section and supports are round figures"
    return Uncertain(value, (Part("foretold", value * FORETOLD_U, shared=True, source=why),))
