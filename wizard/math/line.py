"""A straight line through points whose x is exact: slope, intercept, their doubt, and what it
foretells.

Source: JCGM 100:2008 H.3; least squares in deviations from the weighted mean, which keeps the
digits.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Line:
    """A fitted straight line."""

    slope: float
    """In the unit of y per unit of x."""
    intercept: float
    """y at x = 0; 0 for a line through the origin."""
    slope_u: float
    """Standard uncertainty of the slope."""
    intercept_u: float
    """Standard uncertainty of the intercept; 0 for a line through the origin."""
    correlation: float
    """Correlation of slope and intercept, -1 to 1; 0 for a line through the origin."""
    dof: float
    """Degrees of freedom behind the uncertainties."""
    s: float
    """Scatter about the line: in the unit of y without weights, against the given u with them
    (about 1 is well); 0 when there are no points to spare.
    """

    def at(self, x: float) -> tuple[float, float]:
        """y on the line at x and its standard uncertainty (the line's own, without a new reading's
        scatter)."""
        cross = self.correlation * self.slope_u * self.intercept_u
        square = (x * self.slope_u) ** 2 + self.intercept_u**2 + 2 * x * cross
        return self.intercept + self.slope * x, math.sqrt(max(square, 0.0))


def fit_line(
    xs: Sequence[float],
    ys: Sequence[float],
    us: Sequence[float] | None = None,
    dof: float = math.inf,
) -> Line:
    """The line y = intercept + slope x of least weighted squares.

    us: standard uncertainty of each y, above 0; its degrees of freedom are `dof`. None: equal and
    unknown, learned from the scatter about the line, which takes three points. Raises ValueError
    when the points cannot bear a line.

    >>> fit_line([0, 1, 2], [1, 3, 5]).slope
    2.0
    >>> fit_line([1, 1, 1], [1, 3, 5])
    Traceback (most recent call last):
    ...
    ValueError: all points have the same x
    """
    weights = _weights(xs, ys, us, 2)
    total = math.fsum(weights)
    mid_x, mid_y = _dot(weights, xs) / total, _dot(weights, ys) / total
    spread = math.fsum(w * (x - mid_x) ** 2 for w, x in zip(weights, xs, strict=True))
    if spread <= 0:
        raise ValueError("all points have the same x")
    slope = (
        math.fsum(w * (x - mid_x) * (y - mid_y) for w, x, y in zip(weights, xs, ys, strict=True))
        / spread
    )
    misfits = [y - mid_y - slope * (x - mid_x) for x, y in zip(xs, ys, strict=True)]
    s = _scatter(weights, misfits, 2)
    scale = s if us is None else 1.0
    far = math.sqrt(1 / total + mid_x**2 / spread)
    lean = -mid_x / (math.sqrt(spread) * far)
    freedom = len(xs) - 2.0 if us is None else dof
    return Line(
        slope, mid_y - slope * mid_x, scale / math.sqrt(spread), scale * far, lean, freedom, s
    )


def _weights(
    xs: Sequence[float], ys: Sequence[float], us: Sequence[float] | None, needs: int
) -> list[float]:
    given = [1.0] * len(ys) if us is None else [float(u) for u in us]
    if not len(xs) == len(ys) == len(given):
        raise ValueError("as many x as y and u are needed")
    if len(xs) < (needs + 1 if us is None else needs):
        raise ValueError("too few points for a line")
    if min(given) <= 0:
        raise ValueError("every u must be above zero")
    return [1 / (u * u) for u in given]


def _scatter(weights: list[float], misfits: list[float], spent: int) -> float:
    spare = len(misfits) - spent
    return math.sqrt(_dot(weights, [m * m for m in misfits]) / spare) if spare > 0 else 0.0


def _dot(weights: Sequence[float], numbers: Sequence[float]) -> float:
    return math.fsum(w * n for w, n in zip(weights, numbers, strict=True))
