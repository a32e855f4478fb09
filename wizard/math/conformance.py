"""A value against limits: the chance of being over, and what would settle the question.

Values, limits and u in one unit. The value's chance spreads as Student's t around it, scaled by u.
`lower` is the lower limit itself, usually negative; None where there is none.
Source: JCGM 106:2012, 7 (chance of conformity); ISO 14253-1:2017 (decision rules).
"""

from __future__ import annotations

import math

from wizard.math.student import t_cdf, t_quantile

SURE = 0.95
"""Chance of being over at which a value is called over; one less it, being outside at which it is
called within.
"""


def beyond_both(
    value: float, u: float, dof: float, upper: float, lower: float | None = None
) -> tuple[float, float]:
    """The chances of lying above `upper` and of lying below `lower`, from which all else follows."""
    below = 0.0 if lower is None else _beyond(lower - value, u, dof)
    return _beyond(value - upper, u, dof), below


def chance_over(
    value: float, u: float, dof: float, upper: float, lower: float | None = None
) -> float:
    """The greater of the chances of lying above `upper` and below `lower`. With u = 0 a value at
    the limit gives 1/2.

    >>> round(chance_over(2.0, 1.0, math.inf, upper=3.0), 4)
    0.1587
    """
    return max(beyond_both(value, u, dof, upper, lower))


def chance_outside(
    value: float, u: float, dof: float, upper: float, lower: float | None = None
) -> float:
    """The chance of lying outside the limits on either side: the sum of the two."""
    return min(1.0, sum(beyond_both(value, u, dof, upper, lower)))


def over(
    value: float,
    u: float,
    dof: float,
    upper: float,
    lower: float | None = None,
    among: int = 1,
) -> bool:
    """Established to be over one of the limits."""
    return is_sure(chance_over(value, u, dof, upper, lower), among)


def is_sure(chance: float, among: int = 1) -> bool:
    """Whether a chance of being over establishes it: 95 % or more.

    among: how many such values were looked at. The worst of them is over by chance oftener than a
    single one, so that each must be surer (Bonferroni). "Within" asks nothing of that kind.
    """
    return chance >= 1.0 - (1.0 - SURE) / among


def within(value: float, u: float, dof: float, upper: float, lower: float | None = None) -> bool:
    """Established to be within both limits: 5 % or less outside.

    Neither over nor within: cannot tell yet.
    """
    return leaves_within(chance_outside(value, u, dof, upper, lower))


def leaves_within(outside: float) -> bool:
    """Whether a chance of lying outside establishes that it lies within: 5 % or less."""
    return outside <= 1.0 - SURE + 1e-15


def guard(u: float, dof: float) -> float:
    """Width of the guard band on each side of a limit in which nothing is established: t(0.95, ν)
    u.

    >>> round(guard(1.0, math.inf), 3)
    1.645
    """
    return t_quantile(SURE, dof) * u


def u_to_settle(value: float, limit: float, dof: float, among: int = 1) -> float:
    """The largest u at which this value would be settled against this limit; 0 when it lies exactly
    on it. among: of how many it is one, for a value beyond the limit.
    """
    return abs(value - limit) / t_quantile(1.0 - (1.0 - SURE) / among, dof)


def repeats_to_settle(
    value: float, limit: float, dof: float, one: float, fixed: float = 0.0, most: int = 99
) -> int | None:
    """How many repeats in all would settle the value, were it to stay where it is; None when no
    number up to `most` does.

    one: the part of u that a single repeat of each reading leaves and that shrinks with √n.
    fixed: the part that repeats cannot shrink (the tool, the points).

    >>> repeats_to_settle(2.0, 3.0, math.inf, one=1.0), repeats_to_settle(2.0, 3.0, math.inf, one=1.0, fixed=0.7)
    (3, None)
    """
    room = u_to_settle(value, limit, dof) ** 2 - fixed**2
    if room <= 0:
        return None
    n = max(1, math.ceil(one**2 / room - 1e-12))
    return n if n <= most else None


def _beyond(by: float, u: float, dof: float) -> float:
    if u <= 0:
        return 0.5 if by == 0 else float(by > 0)
    return t_cdf(by / u, dof)
