"""How large a sum of squares may be by chance."""

from __future__ import annotations

import math
from statistics import NormalDist

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
