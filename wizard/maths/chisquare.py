"""How large a sum of squares may be by chance."""

from __future__ import annotations

from statistics import NormalDist


def chisquare_quantile(p: float, dof: float) -> float:
    """The value that a sum of `dof` squared standard normal numbers stays under with chance p; 0 for dof 0.

    Source: Wilson and Hilferty's cube root, Abramowitz and Stegun 26.4.17. Error: under 2 % for p from 0.9
    to 0.99.

    >>> round(chisquare_quantile(0.95, 4), 1)
    9.5
    """
    if dof <= 0:
        return 0.0
    part = 2.0 / (9.0 * dof)
    return float(dof * max(0.0, 1.0 - part + NormalDist().inv_cdf(p) * part**0.5) ** 3)
