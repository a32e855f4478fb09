"""From an adjusted plan to any quantity read off it, with every part of its doubt; and what to tape
next: how far one more distance would bring that doubt down.

The weights of the adjustment see only what each distance has for itself. What distances share (a
point's definition, a tape's own error) is carried here: a quantity is a weighted sum of the
distances, and parts of one name add up with their signs before they are squared.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple, TypeAlias

import numpy as np

from wizard.frozen import Frozen
from wizard.math.covariance import spread
from wizard.math.network import TINY, Adjustment
from wizard.math.network_solve import Array
from wizard.math.uncertain import Learned, Part, Uncertain, combine, learned_of

if TYPE_CHECKING:  # only types name it, and it takes milliseconds to load
    from numpy.typing import NDArray


Formula: TypeAlias = "Callable[[NDArray[Any]], NDArray[Any]]"
"""Takes places of shape (..., k, 2), gives the quantity of shape (...); written without abs, hypot
or arctan2.
"""


class Derived(Frozen):
    """A quantity read off a plan, with its slope: enough for its doubt and for what to measure
    next.
    """

    __eq__, __hash__ = object.__eq__, object.__hash__

    value: float
    """The quantity, mm unless its maker says otherwise."""
    gradient: Array
    """Its change with each coordinate, shape (2n,)."""

    def __add__(self, other: Derived) -> Derived:
        return Derived(self.value + other.value, self.gradient + other.gradient)

    def __sub__(self, other: Derived) -> Derived:
        return Derived(self.value - other.value, self.gradient - other.gradient)

    def scaled(self, factor: float) -> Derived:
        """The same quantity times an exact factor."""
        return Derived(self.value * factor, self.gradient * factor)


def read_off(plan: Adjustment, names: Sequence[str], formula: Formula) -> Derived:
    """A formula of the places of `names`, with its gradient by complex steps (exact to rounding).

    Raises ValueError for a point that is not in the plan. Source: Squire and Trapp, Using complex
    variables to estimate derivatives of real functions, from memory.
    """
    return read_off_all(plan, names, lambda at: formula(at)[..., None])[0]


def read_off_all(plan: Adjustment, names: Sequence[str], formula: Formula) -> tuple[Derived, ...]:
    """Several quantities by one formula of the same places, which gives them as shape (..., q)."""
    missing = [p for p in names if p not in plan.row]
    if missing:
        raise ValueError(f"{missing[0]} is not placed by this plan")
    answers = formula(plan.stepped[:, [plan.row[p] for p in names]])
    return tuple([Derived(float(a.real[0]), a.imag / TINY) for a in answers.T])


def distance_between(plan: Adjustment, a: str, b: str) -> Derived:
    """The adjusted distance between two points, taped or not, mm."""
    return read_off(
        plan, (a, b), lambda at: np.sqrt(((at[..., 1, :] - at[..., 0, :]) ** 2).sum(axis=-1))
    )


def sensitivities(plan: Adjustment) -> Array:
    """Change of each coordinate with each observed distance, shape (2n, m): Q Aᵀ W."""
    weights = np.array([d.u_mm for d in plan.distances]) ** -2
    return np.asarray(plan.covariance @ plan.design.T * weights)


class Carried(Frozen):
    """The doubt of all observed distances, carried into the plan once for all that is read off it."""

    __eq__, __hash__ = object.__eq__, object.__hash__

    sources: Mapping[str, Part]
    """Every source of doubt, by name, in whatever size."""
    learned: Mapping[str, Learned]
    """Those of them that are known with so many degrees of freedom and no more."""
    moves: Array
    """How far each source moves each coordinate, mm, shape (2n, sources)."""

    def into(self, quantity: Derived) -> Uncertain:
        """The quantity with all that doubt."""
        sizes = (quantity.gradient @ self.moves).tolist()
        by_name = dict(zip(self.sources, sizes, strict=True))
        return Uncertain.computed(quantity.value, by_name, self.sources, self.learned)


def carried(plan: Adjustment, observations: Mapping[str, Uncertain]) -> Carried:
    """The doubt of all observed distances in the plan, parts merged by name.

    observations: by distance id, each with all its parts, shared ones too; values are not looked at. Parts
        that belong to one reading alone must have names of their own.
    Raises KeyError for a distance without an observation.
    Source: JCGM 100:2008 5.2.2.
    """
    sources, sizes = spread([observations[d.id] for d in plan.distances])
    return Carried(sources, learned_of(sources.values()), sensitivities(plan) @ sizes)


def derive(plan: Adjustment, quantity: Derived, observations: Mapping[str, Uncertain]) -> Uncertain:
    """One quantity with the doubt of all observed distances carried into it, as `carried` says."""
    return carried(plan, observations).into(quantity)


def point_parts(
    a: str, b: str, xa: float, ya: float, xb: float, yb: float, u_a: float, u_b: float
) -> tuple[Part, ...]:
    """What the definition of its two points adds to the doubt of the distance from a to b.

    xa .. yb: places in mm. u_a, u_b: standard uncertainty of where "the point" is, mm, alike along
    x and y. Every distance to a point carries the same two parts, so a point's definition moves the
    point and strains nothing.

    >>> [(p.name, p.size) for p in point_parts("horn", "rivet", 0, 0, 400, 300, 0.5, 1.0)]
    [('point:horn:x', -0.4), ('point:horn:y', -0.3), ('point:rivet:x', 0.8), ('point:rivet:y', 0.6)]
    >>> point_parts("horn", "horn", 0, 0, 0, 0, 0.5, 0.5)
    Traceback (most recent call last):
    ValueError: horn and horn lie in one place: there is no direction between them
    """
    length = math.hypot(xb - xa, yb - ya)
    if length == 0:
        raise ValueError(f"{a} and {b} lie in one place: there is no direction between them")
    cos, sin = (xb - xa) / length, (yb - ya) / length
    sizes = {
        f"point:{a}:x": -cos * u_a,
        f"point:{a}:y": -sin * u_a,
        f"point:{b}:x": cos * u_b,
        f"point:{b}:y": sin * u_b,
    }
    why = "which spot of the mark is the point"
    return tuple(Part(name, size, shared=True, source=why) for name, size in sizes.items())


def reduce_to_plan(distance: Uncertain, height: Uncertain) -> Uncertain:
    """A taped distance as it lies in the plan, when one end is `height` mm above the other.

    Raises ValueError when the distance is not longer than the height.

    >>> reduce_to_plan(Uncertain(1300.0, (Part("hand", 1.0),)), Uncertain(-500.0, (Part("z", 2.4),))).parts
    (Part(name='hand', size=1.0833333333333333, ...), Part(name='z', size=1.0, ...))
    >>> reduce_to_plan(Uncertain(100.0), Uncertain(100.0))
    Traceback (most recent call last):
    ValueError: a distance of 100 mm cannot rise by 100 mm and still lead anywhere
    """
    if not distance.value > abs(height.value):
        raise ValueError(
            f"a distance of {distance.value:g} mm cannot rise by {height.value:g} mm and still lead"
            " anywhere"
        )
    level = math.sqrt(distance.value**2 - height.value**2)
    return combine(level, [(distance.value / level, distance), (-height.value / level, height)])


class Candidate(NamedTuple):
    """A distance that could be taped, for the first time or once more."""

    a: str
    """Point at one end."""
    b: str
    """Point at the other end."""
    sigma_mm: float
    """Unshared standard uncertainty it would have, mm."""


class Gain(NamedTuple):
    """What a candidate would bring."""

    candidate: Candidate
    """The distance to tape."""
    variance_fall: float
    """By how much the variance of the quantity falls, mm²; unshared parts alone."""
    u_before: float
    """Standard uncertainty now, mm; unshared parts alone."""
    u_after: float
    """Standard uncertainty with it, mm; unshared parts alone."""


def gain(plan: Adjustment, quantity: Derived, candidate: Candidate) -> Gain:
    """What one further distance between points already placed does for the quantity cᵀx.

    The variance falls by (cᵀQa)² / (σ² + aᵀQa), a the candidate's direction cosines: the update of
    an inverse for one more row, exact to first order (Sherman and Morrison, from memory). Raises
    ValueError for a doubt of nothing or a point not in the plan.
    """
    if not candidate.sigma_mm > 0:
        raise ValueError("a distance without doubt cannot be taped")
    row = distance_between(plan, candidate.a, candidate.b).gradient
    seen = plan.covariance @ row
    fall = float(quantity.gradient @ seen) ** 2 / (candidate.sigma_mm**2 + float(row @ seen))
    before = max(0.0, float(quantity.gradient @ plan.covariance @ quantity.gradient))
    return Gain(candidate, fall, float(np.sqrt(before)), float(np.sqrt(max(0.0, before - fall))))


def best_next(plan: Adjustment, quantity: Derived, candidates: Sequence[Candidate]) -> Gain | None:
    """The candidate that helps most; earlier ones win a draw. None without candidates, or when none
    helps.

    candidates: only distances that the car's state lets a person reach; those to points not placed
    are passed over.
    """
    placed = set(plan.points)
    gains = [gain(plan, quantity, c) for c in candidates if {c.a, c.b} <= placed]
    best = max(gains, key=lambda g: g.variance_fall, default=None)
    return best if best is not None and best.variance_fall > 0 else None
