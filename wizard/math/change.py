"""Then against now: whether a difference is a change, over one figure and over many at once."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wizard.math.student import coverage_factor, t_cdf, t_quantile

FALSE_ALARM = 0.05
"""Chance, over a whole re-check, of calling anything changed when nothing is."""


def changed(d: float, u: float, dof: float) -> bool:
    """One difference by itself: |d| > k u, k at 95 %. With u = 0 any difference is a change.

    >>> changed(2.0, 1.0, math.inf), changed(1.9, 1.0, math.inf)
    (True, False)
    """
    return abs(d) > coverage_factor(dof) * u


def p_value(d: float, u: float, dof: float) -> float:
    """Two-sided: how often a difference this large comes about when nothing has changed."""
    if u <= 0:
        return 1.0 if d == 0 else 0.0
    return 2.0 * t_cdf(-abs(d) / u, dof)


def holm(chances: Sequence[float], false_alarm: float = FALSE_ALARM) -> list[bool]:
    """Which of many p-values stand when all are judged together; in the order given.

    The smallest must beat false_alarm/m, the next false_alarm/(m - 1), and so on; the first that
    fails stops it. Source: S. Holm, A simple sequentially rejective multiple test procedure, 1979,
    from memory.

    >>> holm([0.04, 0.001])
    [True, True]
    >>> holm([0.04, 0.03])
    [False, False]
    """
    stands = [False] * len(chances)
    order = sorted(range(len(chances)), key=chances.__getitem__)
    for rank, i in enumerate(order):
        if chances[i] > false_alarm / (len(chances) - rank):
            break
        stands[i] = True
    return stands


def smallest_visible(u: float, dof: float, false_alarm: float = FALSE_ALARM) -> float:
    """The smallest change that `changed` would have seen 19 times in 20, in the unit of u; about
    3.6 u.

    false_alarm: what one comparison may have of it; among m that are judged together, a m-th of the
    whole, since then each must stand out so much further (4.7 u among 20). For many degrees of
    freedom (k + z) u, k at 95 % two-sided and z at 95 % one-sided; for few, u itself scatters and
    more is needed: k (1 - 1/4ν) + z √(1 + k²/2ν), the normal approximation to the non-central t.
    Source: Abramowitz and Stegun, 26.7.10. Error: under 1 % from 3 degrees of freedom up.

    >>> round(smallest_visible(1.0, math.inf), 2), round(smallest_visible(1.0, 8), 1)
    (3.6, 4.1)
    >>> round(smallest_visible(1.0, math.inf, 0.05 / 20), 1)
    4.7
    """
    dof = max(dof, 1.0)
    k, z = coverage_factor(dof, 1.0 - false_alarm), t_quantile(0.95, math.inf)
    return u * (k * (1 - 1 / (4 * dof)) + z * math.sqrt(1 + k * k / (2 * dof)))
