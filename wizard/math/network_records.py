"""What goes into the plan of a frame and what comes out of it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wizard.math.network_solve import Array


@dataclass(frozen=True, slots=True)
class Distance:
    """A taped distance between two points, reduced to the plan."""

    id: str
    """Name of the reading or of the mean of its repeats; unique in a network."""
    a: str
    """Point at one end."""
    b: str
    """Point at the other end."""
    value_mm: float
    """Mean of the repeats, mm."""
    u_mm: float
    """Unshared part of its standard uncertainty, mm: not point definition, not the tape's own
    error.
    """
    dof: float = math.inf
    """Degrees of freedom of u_mm."""


@dataclass(frozen=True, slots=True, eq=False)
class Adjustment:
    """An adjusted plan: rows follow its m `distances`, coordinates x0, y0, x1, y1 ... its n
    `points`.
    """

    points: tuple[str, ...]
    """Points placed, in the order of the coordinates."""
    xy: Array
    """Their places, mm, shape (n, 2)."""
    distances: tuple[Distance, ...]
    """Distances used, in the order of the rows."""
    design: Array
    """Change of each distance with each coordinate, shape (m, 2n)."""
    covariance: Array
    """Of the coordinates from the unshared parts alone, mm², shape (2n, 2n); datum by inner
    constraints.
    """
    residuals: Array
    """Observed minus computed, mm, shape (m,): positive where the reading is too long."""
    redundancy: Array
    """Redundancy numbers, shape (m,): 0 where nothing else checks a distance, near 1 where all else
    does.
    """
    standardized: Array
    """Residual over its own standard deviation, shape (m,); 0 where nothing checks the distance."""
    correlation: Array
    """Of the standardized residuals, shape (m, m); at ±1 two readings cannot be told apart."""
    converged: bool
    """False when the iteration did not come to rest: then nothing here may be used."""
    steps: int
    """Gauss-Newton steps taken."""
    dropped: tuple[str, ...] = ()
    """Points left out because the distances do not fix them."""
    unused: tuple[str, ...] = ()
    """Ids of distances left out: they lead to a dropped point, or from one held point to another."""

    @property
    def total_redundancy(self) -> int:
        """Distances beyond those just needed."""
        return round(float(self.redundancy.sum()))

    @property
    def variance_factor(self) -> float:
        """Weighted squares of the residuals per redundancy: about 1 if the doubts are right; nan
        for 0.
        """
        square = sum((v / d.u_mm) ** 2 for v, d in zip(self.residuals, self.distances, strict=True))
        return float(square) / self.total_redundancy if self.total_redundancy else math.nan

    @property
    def dof(self) -> float:
        """Degrees of freedom of the doubts, their harmonic mean: the pool's own where all share one
        pool.
        """
        below = sum(1.0 / d.dof for d in self.distances)
        return len(self.distances) / below if below > 0 else math.inf

    def place(self, point: str) -> tuple[float, float]:
        """Where a point is, mm."""
        x, y = self.xy[self.points.index(point)]
        return float(x), float(y)
