"""Do the residuals of a plan fit the doubts it was given; which reading in it is probably wrong, and
when nothing here can say which.

One reading at a time: set right or struck out by the person, then the plan is adjusted again.
Nothing is ever left out silently. Source: data snooping after Baarda; Ghilani and Wolf, Adjustment
Computations, from memory.
"""

import math
from typing import NamedTuple

import numpy as np

from wizard.math.network import Adjustment
from wizard.math.student import f_tail, t_quantile

SEPARABLE = 0.95
"""Two readings whose standardized residuals correlate as much as this, or more, cannot be told
apart.
"""


class Suspect(NamedTuple):
    """A reading that does not agree with the rest."""

    id: str
    """The distance."""
    error_mm: float
    """How much too long it probably is, residual over redundancy number; negative when too short."""
    u_mm: float
    """Standard uncertainty of that error, from the unshared parts."""
    w: float
    """Its standardized residual."""


class Suspects(NamedTuple):
    """What does not agree, worst first: one reading, or a set within which nothing can say which."""

    readings: tuple[Suspect, ...]
    """At least one; each would explain the disagreement by itself."""
    threshold: float
    """Standardized residual beyond which a reading is doubted."""

    @property
    def named(self) -> Suspect | None:
        """The one reading at fault; None when the set cannot be separated."""
        return self.readings[0] if len(self.readings) == 1 else None

    @property
    def disagree_mm(self) -> float:
        """The smallest single error that would explain it, mm."""
        return min(abs(s.error_mm) for s in self.readings)


def threshold(count: int, dof: float, alpha_total: float = 0.01) -> float:
    """Standardized residual that `count` sound readings exceed, any of them, with chance
    alpha_total at most.

    dof: degrees of freedom of the readings' doubts, math.inf when known.

    >>> import math
    >>> round(threshold(1, math.inf, 0.001), 2), round(threshold(20, math.inf), 2), round(threshold(20, 8), 2)
    (3.29, 3.48, 5.62)
    """
    return t_quantile(1.0 - alpha_total / (2.0 * count), dof)


def suspect(
    plan: Adjustment, alpha_total: float = 0.01, dof: float | None = None
) -> Suspects | None:
    """The reading that agrees least with the rest, or the set it cannot be separated from; None if
    all agree.

    alpha_total: chance of doubting a sound survey. dof: of the pool that the doubts came from; by
    default the harmonic mean over the distances.
    """
    limit = threshold(len(plan.distances), plan.dof if dof is None else dof, alpha_total)
    size = np.abs(plan.standardized)
    worst = int(np.argmax(size))
    if size[worst] <= limit:
        return None
    alike = np.flatnonzero(np.abs(plan.correlation[worst]) >= SEPARABLE)
    order = sorted({worst, *alike.tolist()}, key=lambda row: (row != worst, -size[row]))
    return Suspects(tuple(error_of(plan, row) for row in order), limit)


def as_likely(plan: Adjustment, id: str) -> tuple[str, ...]:
    """Ids of the readings that explain a disagreement as well as that one does, or better: those it
    cannot be told apart from, and those that stand out further. Raises ValueError for an id that is
    not in the plan.
    """
    row = [d.id for d in plan.distances].index(id)
    size = np.abs(plan.standardized)
    alike = np.abs(plan.correlation[row]) >= SEPARABLE
    rows = np.flatnonzero(alike | (size > size[row]))
    return tuple(plan.distances[r].id for r in rows.tolist() if r != row)


def error_of(plan: Adjustment, row: int) -> Suspect:
    """What would be wrong with one reading if all others were right; its redundancy number must be
    above 0.
    """
    reading, redundancy = plan.distances[row], float(plan.redundancy[row])
    return Suspect(
        reading.id,
        float(plan.residuals[row]) / redundancy,
        reading.u_mm / redundancy**0.5,
        float(plan.standardized[row]),
    )


def smallest_seen(plan: Adjustment, row: int, alpha: float = 0.001, power: float = 0.8) -> float:
    """The smallest error in one reading, mm, that data snooping finds with chance `power`; infinite
    if unchecked.

    Source: Baarda's 4.13 at 0.1 % and 80 %, times u/√r.
    """
    redundancy = float(plan.redundancy[row])
    shift = t_quantile(1.0 - alpha / 2.0, np.inf) + t_quantile(power, np.inf)
    return shift * plan.distances[row].u_mm / redundancy**0.5 if redundancy > 0 else float("inf")


class Fit(NamedTuple):
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
