"""How large a sum of squares may be by chance, where its unit is known and where it was learned."""

from __future__ import annotations

import math
from statistics import NormalDist

from wizard.math.student import t_quantile

_NORMAL = NormalDist()


def chisquare_quantile(p: float, dof: float) -> float:
    """The value that a sum of `dof` squared standard normal numbers stays under with chance p; 0
    for dof 0.

    Exact for 1 and 2; beyond, Wilson and Hilferty's cube root, within 1 % for p from 0.9 to 0.99.
    Source: Abramowitz and Stegun 26.4.17.

    >>> round(chisquare_quantile(0.95, 4), 1)
    9.5
    """
    if dof <= 0:
        return 0.0
    if dof == 1:
        return _NORMAL.inv_cdf(0.5 + p / 2) ** 2
    if dof == 2:
        return -2.0 * math.log(1.0 - p)
    part = 2.0 / (9.0 * dof)
    return float(dof * max(0.0, 1.0 - part + _NORMAL.inv_cdf(p) * part**0.5) ** 3)


def fisher_quantile(p: float, of: int, dof: float) -> float:
    """The value that the mean of `of` squares in units of a scatter with `dof` degrees of freedom
    stays under with chance p.

    Exact for 1 and 2; beyond, Paulson's cube root, within 4 % for p up to 0.99 and 6 degrees of
    freedom or more, and too great with fewer. Source: Paulson, Annals of Mathematical Statistics 13 (1942), from memory; for 2
    by integration.

    >>> round(fisher_quantile(0.95, 2, 10), 2), round(fisher_quantile(0.95, 4, 10), 2)
    (4.1, 3.48)
    """
    if math.isinf(dof):
        return chisquare_quantile(p, of) / of
    if of == 1:
        return t_quantile(0.5 + p / 2, dof) ** 2
    if of == 2:
        return float(dof / 2 * ((1.0 - p) ** (-2.0 / dof) - 1.0))
    a, b, z = 2.0 / (9.0 * of), 2.0 / (9.0 * dof), _NORMAL.inv_cdf(p)
    # (1 - b) F^(1/3) - (1 - a) is z times the root of b F^(2/3) + a: a square equation.
    square, half = (1 - b) ** 2 - b * z * z, (1 - b) * (1 - a)
    root = half + z * math.sqrt(max(0.0, (1 - b) ** 2 * a + (1 - a) ** 2 * b - a * b * z * z))
    return float((root / square) ** 3)
