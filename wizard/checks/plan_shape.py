"""The shape of the plan: how far each point is off a frame made alike on both sides, with its
ellipse of doubt.

No limit judges these: they are what the drawing of the report shows.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from wizard.checks.plan import Plan
from wizard.library.places import PointId, across
from wizard.math.network_derived import Vectors, mirrored
from wizard.math.network_doubt import Derived, read_off


@dataclass(frozen=True, slots=True)
class Displaced:
    """One point of the plan, mm; x rearward, y to the car's right."""

    point: PointId
    x: float
    """Where it is, along the axis of the plan, from the foremost point."""
    y: float
    dx: float
    """How far it is off the frame made alike, rearward."""
    dy: float
    """How far it is off, to the right."""
    major: float
    """Longer half axis of the ellipse that holds the true place 19 times in 20."""
    minor: float
    angle: float
    """Of the longer axis, from rearward toward the right, radians."""


def displaced(plan: Plan) -> tuple[Displaced, ...]:
    """Every point whose twin is placed as well, in the plan's order; none where there are fewer
    than two pairs.
    """
    names = _twinned(plan)
    if not names:
        return ()
    twins = [names.index(across(n)) for n in names]
    shape = mirrored(
        plan.adjustment.xy[[plan.adjustment.points.index(str(n)) for n in names]], twins
    )
    first = float(shape.at[:, 0].min())
    found = []
    for n, name in enumerate(names):
        ellipse = _ellipse(plan, names, twins, n)
        x, y = (float(v) for v in shape.at[n])
        dx, dy = (float(v) for v in shape.off[n])
        found.append(Displaced(name, x - first, y, dx, dy, *ellipse))
    return tuple(found)


def _twinned(plan: Plan) -> list[PointId]:
    """Points whose twin is placed as well; none where there are fewer than two pairs."""
    points = map(PointId, plan.adjustment.points)
    names = [p for p in points if plan.places(across(p))]
    return names if len([n for n in names if across(n) != n]) >= 4 else []


def _ellipse(
    plan: Plan, names: list[PointId], twins: list[int], n: int
) -> tuple[float, float, float]:
    """Half axes and angle from the doubt along, across and aslant, so that every shared part is in
    it.
    """

    def component(a: float, b: float) -> Derived:
        way = np.array([a, b])

        def formula(at: Vectors) -> Vectors:
            return np.asarray((mirrored(at, twins).off[..., n, :] * way).sum(axis=-1))

        return read_off(plan.adjustment, [str(n) for n in names], formula)

    along, across, both = (
        plan.number(component(*way)) for way in ((1.0, 0.0), (0.0, 1.0), (1.0, 1.0))
    )
    xx, yy = along.u**2, across.u**2
    xy = (both.u**2 - xx - yy) / 2
    mean, half = (xx + yy) / 2, math.hypot((xx - yy) / 2, xy)
    factor = ellipse_factor(min(along.dof, across.dof))
    angle = 0.5 * math.atan2(2 * xy, xx - yy)
    return factor * math.sqrt(mean + half), factor * math.sqrt(max(0.0, mean - half)), angle


def ellipse_factor(dof: float, chance: float = 0.05) -> float:
    """Half axes of a 95 % ellipse in standard uncertainties: the root of 2 F(0.95; 2, dof), which
    has a closed form.

    Source: the tail of F with two degrees of freedom above is (1 + 2 f / dof) to the power -dof/2,
    an identity.

    >>> round(ellipse_factor(math.inf), 3)
    2.448
    """
    if not math.isfinite(dof):
        return math.sqrt(-2 * math.log(chance))
    return math.sqrt(dof * (chance ** (-2 / dof) - 1))
