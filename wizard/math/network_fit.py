"""Do the residuals of a plan fit the doubts it was given?"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wizard.math.network_records import Adjustment
from wizard.math.student import t_cdf

MANY = 1e7
"""Degrees of freedom from which on the doubts count as exact."""


@dataclass(frozen=True, slots=True)
class Fit:
    """The test of the variance factor, its value 1 foretold."""

    factor: float
    """Weighted squares of the residuals per redundancy; nan without redundancy."""
    redundancy: int
    """Distances beyond those just needed."""
    dof: float
    """Degrees of freedom of the doubts themselves."""
    chance: float
    """Chance of a factor at least so large when the doubts are right; 1 without redundancy."""


def fit(plan: Adjustment, dof: float | None = None) -> Fit:
    """How well the residuals fit the doubts; a small chance means a slip, or doubts set too low.

    dof: of the pool that the doubts came from; by default the harmonic mean over the distances.
    Source: global model test; Ghilani and Wolf, Adjustment Computations, from memory; F for doubts
    of finite dof.
    """
    own = plan.dof if dof is None else dof
    redundancy = plan.total_redundancy
    if redundancy == 0:
        return Fit(math.nan, 0, own, 1.0)
    factor = plan.variance_factor
    return Fit(factor, redundancy, own, f_tail(factor, redundancy, own))


def f_tail(ratio: float, count: int, dof: float) -> float:
    """P(F > ratio), F a variance on `count` degrees of freedom over one on `dof` (infinite: chi
    square over count).

    A finite sum of positive terms in steps of two, begun at count 0 or, from Student's t, at 1.
    Error under 1e-6. Source: recurrence of the incomplete beta function, Abramowitz and Stegun,
    26.5 and 26.6, from memory.

    >>> round(f_tail(4.964603, 1, 10), 4), round(f_tail(2.371932, 4, math.inf), 4)
    (0.05, 0.05)
    """
    total = ratio * count
    if total <= 0:
        return 1.0
    tail = 2.0 * t_cdf(-math.sqrt(total), dof) if count % 2 else 0.0
    return tail + sum(math.exp(_log_term(k / 2.0, total, dof)) for k in range(count % 2, count, 2))


def _log_term(half: float, total: float, dof: float) -> float:
    """Logarithm of what the tail gains when the count goes from 2·half to 2·half + 2, at one sum of
    squares."""
    if dof > MANY:
        return -total / 2.0 + half * math.log(total / 2.0) - math.lgamma(half + 1.0)
    rest = total / (dof + total)
    gammas = math.lgamma(dof / 2.0 + half) - math.lgamma(dof / 2.0) - math.lgamma(half + 1.0)
    return dof / 2.0 * math.log1p(-rest) + half * math.log(rest) + gammas
