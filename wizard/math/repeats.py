"""Repeated readings: their mean, their pooled scatter, and what is left of the doubt after n of
them.
"""

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple, SupportsFloat


class Pooled(NamedTuple):
    """The scatter of one reading, learned from all repeats of one kind."""

    s: float
    """Standard deviation of a single reading, in the unit of the readings."""
    dof: float
    """Degrees of freedom: the prior's and one less than each group's size."""


class Spread(NamedTuple):
    """Repeats of one thing, as far as they tell of the scatter."""

    size: int
    """How many there are."""
    squares: float
    """The sum of squares about their mean."""


def mean(readings: Sequence[SupportsFloat]) -> float:
    """The arithmetic mean. Raises ValueError when there is nothing to average.

    >>> mean([2, 4])
    3.0
    """
    if not readings:
        raise ValueError("no readings to average")
    return math.fsum(float(r) for r in readings) / len(readings)


def pool(groups: Sequence[Sequence[SupportsFloat]], prior_s: float, prior_dof: float) -> Pooled:
    """Scatter pooled over groups of repeats of different things, together with a prior.

    groups: each the repeats of one thing; a group of one adds nothing. prior_s: scatter expected
    beforehand, weighing as much as `prior_dof` degrees of freedom (0: none). Raises ValueError when
    neither prior nor repeats say anything. Source: pooled variance, JCGM 100:2008 H.5.2; the prior
    enters as one more group.

    >>> pool([[1.0, 2.0, 3.0], [7.0]], prior_s=0.5, prior_dof=8)
    Pooled(s=0.6324555320336759, dof=10)
    >>> pool([[1.0]], 0.5, 0)
    Traceback (most recent call last):
    ...
    ValueError: no repeats and no prior: the scatter is unknown
    """
    return pool_squares(map(spread_of, filter(None, groups)), prior_s, prior_dof)


def spread_of(group: Sequence[SupportsFloat]) -> Spread:
    """What a group of repeats says of the scatter. Raises ValueError for an empty one."""
    return Spread(len(group), squares(group) if len(group) > 1 else 0.0)


def pool_squares(groups: Iterable[Spread], prior_s: float, prior_dof: float) -> Pooled:
    """`pool` from what is kept of each group. Raises as it does."""
    found = tuple(groups)
    dof = prior_dof + sum([group.size - 1 for group in found])
    if dof <= 0:
        raise ValueError("no repeats and no prior: the scatter is unknown")
    total = (prior_s * prior_s * prior_dof if prior_dof else 0.0) + math.fsum(
        [group.squares for group in found]
    )
    return Pooled(math.sqrt(total / dof), dof)


def mean_u(s: float, n: int, division: float) -> float:
    """Standard uncertainty of the mean of n readings taken to the nearest division.

    s: scatter of one reading as seen, so rounding is already in it and is not added again.
    division: the scale's division, in the unit of s; 0 for an unrounded reading. When the hand
    scatters much less than a division, every repeat falls on the same mark and is wrong by the same
    amount: that part does not shrink with n, and is what the second term adds below s = 0.4
    divisions. A scatter under division/√12, the least that rounding can leave, counts as that.
    Raises ValueError when n is under 1. Source: first term of the Fourier series of the rounding
    error, after Widrow and Kollár, Quantization Noise, from memory.

    >>> round(mean_u(0.0, 1, 1.0), 4), round(mean_u(2.0, 4, 1.0), 4)
    (0.2887, 1.0)
    """
    if n < 1:
        raise ValueError("the mean of fewer than one reading has no uncertainty")
    seen = max(s, division / math.sqrt(12.0))
    square = seen * seen / n
    if s < 0.4 * division:
        hand = (seen / division) ** 2 - 1 / 12
        lasting = division * division / (2 * math.pi**2) * math.exp(-4 * math.pi**2 * hand)
        square += lasting * (1.0 - 1.0 / n)
    return math.sqrt(square)


def squares(group: Sequence[SupportsFloat]) -> float:
    """The sum of squares of the readings about their mean."""
    middle = mean(group)
    return math.fsum((float(r) - middle) ** 2 for r in group)
