"""The shape of the plan: how far each point is off a frame made alike on both sides, with its
ellipse of doubt.

No limit judges these: they are what the drawing of the report shows.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

import numpy as np

from wizard.checks.plan import Plan
from wizard.library.places import PointId, Side, across, point_of
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
    wider: float = 1.0
    """By how much the ellipse is widened before this one of so many points is called off: else one
    sound frame in two would be drawn crooked at some point.
    """

    @property
    def is_off(self) -> bool:
        """Whether the place where it would be alike lies outside the widened ellipse."""
        along = self.dx * math.cos(self.angle) + self.dy * math.sin(self.angle)
        across = self.dy * math.cos(self.angle) - self.dx * math.sin(self.angle)
        return math.hypot(along * self.minor, across * self.major) > (
            self.wider * self.major * self.minor
        )


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


def put_on(
    points: Sequence[Displaced],
    side: Side | None,
    rails: Collection[PointId],
    horn: Side | None = None,
) -> tuple[Displaced, ...]:
    """The points as they are off a frame that is laid along the rail which has not moved, where it
    is known which has. Without such a side twins share what they differ by, half each.

    rails: the points that a frame is laid along; never the horns, which bend by themselves.
    horn: the side of the horn that alone is known to be bent: the frame is laid along both rails
    then, and what the horns differ by is that horn's.
    """
    if side is None and horn is not None:
        return _with_horn(points, horn, rails)
    still = [p for p in points if side and point_of(p.point).side is side.other]
    still = [p for p in still if p.point in rails]
    if side is None or len(still) < 2:
        return tuple(points)
    found = _moved_by(points, *_laid_along(still))
    return tuple(_as_doubted(p, side) for p in found)


def _with_horn(
    points: Sequence[Displaced], horn: Side, rails: Collection[PointId]
) -> tuple[Displaced, ...]:
    """The points off a frame that is laid along both rails, and of the horns the bent one alone."""
    still = [p for p in points if p.point in rails]
    if len(still) < 3:
        return tuple(points)
    laid = _moved_by(points, *_laid_along(still))
    off = {p.point: (p.dx, p.dy) for p in laid}
    return tuple(p if p.point in rails else _on_one(p, off[across(p.point)], horn) for p in laid)


def _on_one(p: Displaced, twin: tuple[float, float], horn: Side) -> Displaced:
    """A horn's tip that has all that twins differ by, with twice the doubt, or nothing of it."""
    if point_of(p.point).side is not horn:
        return replace(p, dx=0.0, dy=0.0)
    dx, dy = p.dx - twin[0], p.dy + twin[1]
    return replace(p, dx=dx, dy=dy, major=2 * p.major, minor=2 * p.minor)


def _moved_by(
    points: Sequence[Displaced], along: float, across_: float, turned: float
) -> list[Displaced]:
    """Points as they are off a frame that is moved and turned by so much."""
    return [
        replace(p, dx=p.dx - along + turned * p.y, dy=p.dy - across_ - turned * p.x) for p in points
    ]


def _laid_along(still: Sequence[Displaced]) -> tuple[float, float, float]:
    """By how much a frame is moved rearward and to the right, and turned (radians, small), to lie
    along points as well as it can.
    """
    rows = [row for p in still for row in ((1.0, 0.0, -p.y), (0.0, 1.0, p.x))]
    off = [d for p in still for d in (p.dx, p.dy)]
    along, across_, turned = np.linalg.lstsq(np.array(rows), np.array(off), rcond=None)[0]
    return float(along), float(across_), float(turned)


def _as_doubted(p: Displaced, side: Side) -> Displaced:
    """A point of the rail that moved with twice the doubt along: what it is off by was shared."""
    if point_of(p.point).side is not side:
        return p
    cos, sin = math.cos(p.angle), math.sin(p.angle)
    xx = 4 * ((p.major * cos) ** 2 + (p.minor * sin) ** 2)
    yy = (p.major * sin) ** 2 + (p.minor * cos) ** 2
    xy = 2 * (p.major**2 - p.minor**2) * sin * cos
    major, minor, angle = _axes(xx, yy, xy)
    return replace(p, major=major, minor=minor, angle=angle)


def _axes(xx: float, yy: float, xy: float) -> tuple[float, float, float]:
    """Half axes and angle of an ellipse, from its squares along, across and aslant."""
    mean, half = (xx + yy) / 2, math.hypot((xx - yy) / 2, xy)
    angle = 0.5 * math.atan2(2 * xy, xx - yy)
    return math.sqrt(mean + half), math.sqrt(max(0.0, mean - half)), angle


def _twinned(plan: Plan) -> list[PointId]:
    """Points whose twin is placed as well; none where there are fewer than two pairs."""
    points = map(PointId, plan.adjustment.points)
    names = [p for p in points if plan.places(across(p))]
    return names if len([n for n in names if across(n) != n]) >= 4 else []


def _ellipse(
    plan: Plan, names: list[PointId], twins: list[int], n: int
) -> tuple[float, float, float, float]:
    """Half axes, angle and how much wider, from the doubt along, across and aslant, so that every shared part is in
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
    dof = min(along.dof, across.dof)
    factor = ellipse_factor(dof)
    major, minor, angle = _axes(xx, yy, xy)
    wider = ellipse_factor(dof, 0.05 / len(names)) / factor
    return factor * major, factor * minor, angle, wider


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
