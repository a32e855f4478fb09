"""What to tape next: how far one more distance would bring down the doubt of a wanted quantity."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from wizard.math.network_doubt import Derived, distance_between
from wizard.math.network_records import Adjustment


@dataclass(frozen=True, slots=True)
class Candidate:
    """A distance that could be taped, for the first time or once more."""

    a: str
    """Point at one end."""
    b: str
    """Point at the other end."""
    sigma_mm: float
    """Unshared standard uncertainty it would have, mm."""


@dataclass(frozen=True, slots=True)
class Gain:
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
