"""Student's t: how far a result may stray when its doubt rests on few readings; and F, for several
results at once.

Degrees of freedom are any number from 1 up, whole or not; fewer are taken as 1, infinite means the
normal curve. Errors: under 1e-10 in a probability, under 1e-10 relative in a quantile. Source: the
incomplete beta function by its continued fraction, Abramowitz and Stegun, 26.5.8 and 26.7.1.
"""

from __future__ import annotations

import math
from functools import lru_cache
from statistics import NormalDist

_NORMAL = NormalDist()
_TINY = 1e-300
_MANY = 1e5
"""From here on the continued fraction loses digits, and the normal curve with two more terms does
not.
"""


@lru_cache(
    maxsize=4096
)  # each limit asks three questions of one value: the chance, whether over, whether within
def t_cdf(x: float, dof: float) -> float:
    """P(T <= x) for Student's t with `dof` degrees of freedom.

    >>> round(t_cdf(12.706, 1), 4)
    0.975
    """
    return 1.0 - _upper_tail(x, dof) if x > 0 else _upper_tail(-x, dof)


@lru_cache(maxsize=4096)
def t_quantile(p: float, dof: float) -> float:
    """The x with P(T <= x) = p.

    p: strictly between 0 and 1. Raises ValueError otherwise.

    >>> round(t_quantile(0.975, 10), 3)
    2.228
    >>> t_quantile(1.0, 10)
    Traceback (most recent call last):
    ...
    ValueError: a probability strictly between 0 and 1 is needed, not 1.0
    """
    if not 0.0 < p < 1.0:
        raise ValueError(f"a probability strictly between 0 and 1 is needed, not {p}")
    if p < 0.5:
        return -_far_point(p, dof)
    return _far_point(1.0 - p, dof) if p > 0.5 else 0.0


def t_density(x: float, dof: float) -> float:
    """The density of Student's t at x.

    >>> round(t_density(0.0, 1), 4), round(t_density(0.0, math.inf), 4)
    (0.3183, 0.3989)
    """
    if dof >= _MANY:
        return _NORMAL.pdf(x)
    return _density(x, max(dof, 1.0))


def coverage_factor(dof: float, level: float = 0.95) -> float:
    """k: how many standard uncertainties on each side hold `level` of the chance (JCGM 100:2008
    G.3).

    >>> round(coverage_factor(8), 3)
    2.306
    """
    return t_quantile(0.5 + level / 2, dof)


def _upper_tail(x: float, dof: float) -> float:
    """P(T > x) for x >= 0, with full relative precision far out."""
    dof = max(dof, 1.0)
    if math.isinf(x):
        return 0.0
    if dof >= _MANY:
        return _near_normal_tail(x, dof)
    return 0.5 * _beta_half(dof / 2.0, dof / (dof + x * x), x * x / (dof + x * x))


def _far_point(tail: float, dof: float) -> float:
    """The x > 0 with P(T > x) = tail < 1/2.

    Newton from the normal curve's point and what few degrees of freedom add to it (Fisher and
    Cornish; Abramowitz and Stegun 26.7.5, two terms). The tail is convex: from wherever the first step
    begins, it ends below, and every further one approaches from there; one that goes back is no more
    than rounding, which stays above 1e-14 where the degrees of freedom are many.
    """
    x = -_NORMAL.inv_cdf(tail)
    if math.isinf(dof):
        return x
    few = max(dof, 1.0)
    x += x * (x * x + 1) / (4 * few) + x * (5 * x**4 + 16 * x * x + 3) / (96 * few * few)
    for n in range(300):
        step = (_upper_tail(x, dof) - tail) / _density(x, few)
        x += step
        if step <= 1e-14 * x and n:
            break
    return x


def _near_normal_tail(x: float, dof: float) -> float:
    """P(T > x) for many degrees of freedom: Fisher's expansion in 1/dof, to the second power."""
    density = math.exp(-x * x / 2) / math.sqrt(2 * math.pi)
    first = x * (x**2 + 1) / (4 * dof)
    second = x * (3 * x**6 - 7 * x**4 - 5 * x**2 - 3) / (96 * dof**2)
    return 0.5 * math.erfc(x / math.sqrt(2.0)) + density * (first + second)


def _density(x: float, dof: float) -> float:
    log = _log_gamma_ratio(dof / 2) - 0.5 * math.log(dof * math.pi)
    return math.exp(log - (dof + 1) / 2 * math.log1p(x * x / dof))


def _beta_half(a: float, x: float, rest: float) -> float:
    """The regularized incomplete beta function I_x(a, 1/2); rest = 1 - x, given apart to keep its
    digits.
    """
    if x <= 0.0 or rest <= 0.0:
        return 0.0 if x <= 0.0 else 1.0
    log_x = math.log(x) if x < 0.5 else math.log1p(-rest)
    front = math.exp(
        _log_gamma_ratio(a) - 0.5 * math.log(math.pi) + a * log_x + 0.5 * math.log(rest)
    )
    if x < (a + 1.0) / (a + 2.5):
        return front * _fraction(a, 0.5, x) / a
    return 1.0 - front * _fraction(0.5, a, rest) / 0.5


def _log_gamma_ratio(a: float) -> float:
    """ln(gamma(a + 1/2) / gamma(a)); by its series for large a, where two logs' difference loses
    digits.
    """
    if a < 40.0:
        return math.lgamma(a + 0.5) - math.lgamma(a)
    return 0.5 * math.log(a) - 1 / (8 * a) + 1 / (192 * a**3) - 1 / (640 * a**5)


def _fraction(a: float, b: float, x: float) -> float:
    """The continued fraction of the incomplete beta function, by Lentz's method."""
    c, d = 1.0, 1.0 / (1.0 - (a + b) * x / (a + 1.0) or _TINY)
    total = d
    for m in range(1, 10_000):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        for term in (even, odd):
            d = 1.0 / (
                1.0 + term * d or _TINY
            )  # nothing between zero and 1e-16 is left by a sum with one
            c = 1.0 + term / c or _TINY
            total *= c * d
        if abs(c * d - 1.0) < 1e-16:
            break
    return total


# F ---------------------------------------------------------------------------------------------

EXACT = 1e7
"""Degrees of freedom from which on the doubts count as exact."""


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
    if dof > EXACT:
        return -total / 2.0 + half * math.log(total / 2.0) - math.lgamma(half + 1.0)
    rest = total / (dof + total)
    gammas = math.lgamma(dof / 2.0 + half) - math.lgamma(dof / 2.0) - math.lgamma(half + 1.0)
    return dof / 2.0 * math.log1p(-rest) + half * math.log(rest) + gammas
