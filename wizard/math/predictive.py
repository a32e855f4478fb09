"""What readings still to come can make of an answer: whether a fixed list may end before its last.

An estimate lies so far from a limit now, and in the end of the list it lies somewhere else, with less
doubt. Two questions. Were the truth just at the limit, how surely would the end find what is found
now (`stays_within`, `stays_over`)? Where that is nine in ten, the list may end: who stops so errs at
most in α/0.9 of all cases, α the share in which the whole list errs, however often he looks
(stochastic curtailment; Lan, Simon and Halperin, Stochastically curtailed tests in long-term
clinical trials, 1982, from memory). And as the estimate is now, how likely is each end (`foreseen`)?

The end depends on the estimate now through their common part alone: the end of a list is the best
of all its readings, so that their covariance is the square of the end's own u. What is still to be
read spreads as Student's t, since its scatter is known with so many degrees of freedom and no more
(the predictive distribution). Values, limits and u in one unit; `lower` as in
`wizard.math.conformance`.
"""

import math
from typing import NamedTuple

from wizard.math.conformance import SURE, beyond_both, leaves_within
from wizard.math.student import t_cdf, t_density, t_quantile

CURTAILED = 0.9
"""Chance of coming to the same answer at which a list may end."""
STEPS, CLOSE = 60, 1e-13
"""Newton's steps by which the end of a region is found, at the most, and how near to its chance they
come.
"""


class Ahead(NamedTuple):
    """An estimate, and what the rest of its list would make of its doubt."""

    value: float
    u_now: float
    u_then: float
    """Standard uncertainty at the end of the list; never above the one now."""
    dof: float
    """Degrees of freedom with which the scatter of what is still to come is known."""

    @property
    def kept(self) -> float:
        """The share of the square of the doubt that the rest of the list leaves."""
        return min(1.0, (self.u_then / self.u_now) ** 2) if self.u_now > 0 else 1.0

    def end_at(self, truth: float) -> tuple[float, float]:
        """Where the end would lie were the truth there: the middle and the scale of its spread."""
        kept = self.kept
        middle = truth + kept * (self.value - truth)
        return middle, min(self.u_now, self.u_then) * math.sqrt(1.0 - kept)

    @property
    def end_unknown(self) -> tuple[float, float]:
        """Where the end would lie, nothing but the estimate being known of the truth."""
        return self.value, self.u_now * math.sqrt(1.0 - self.kept)


class Foreseen(NamedTuple):
    """The chances of what the end of the list would say; they add up to one."""

    within: float
    over: float
    open: float


def spent(alpha: float) -> float:
    """What a claim that may be made early spends, so that it errs in α of all cases at most.

    >>> round(spent(0.01), 4)
    0.009
    """
    return alpha * CURTAILED


def stays_within(ahead: Ahead, upper: float, lower: float | None = None) -> float:
    """The chance that the end of the list finds the value within its limits, were the truth at one
    of them: the smaller of the two.

    >>> round(stays_within(Ahead(0.0, 1.0, 0.5**0.5, math.inf), upper=4.0), 4)
    0.9529
    """
    region = region_within(ahead.u_then, ahead.dof, upper, lower)
    if region is None:
        return 0.0
    limits = [limit for limit in (upper, lower) if limit is not None]
    return min([_between(*ahead.end_at(limit), ahead.dof, *region) for limit in limits])


def stays_over(ahead: Ahead, upper: float, lower: float | None = None, among: int = 1) -> float:
    """The chance that the end finds it beyond the limit on its own side, were the truth just at it.

    among: as `wizard.math.conformance.is_sure` has it.
    """
    below = lower is not None and ahead.value < (upper + lower) / 2
    limit, way = (lower, -1.0) if lower is not None and below else (upper, 1.0)
    guarded = limit + way * _guard(ahead.u_then, ahead.dof, among)
    middle, scale = ahead.end_at(limit)
    return _below(way * (middle - guarded), scale, ahead.dof)


def foreseen(ahead: Ahead, upper: float, lower: float | None = None, among: int = 1) -> Foreseen:
    """How likely each end of the list is, from the estimate as it is now."""
    middle, scale = ahead.end_unknown
    guard = _guard(ahead.u_then, ahead.dof, among)
    over = _below(middle - (upper + guard), scale, ahead.dof)
    if lower is not None:
        over += _below((lower - guard) - middle, scale, ahead.dof)
    region = region_within(ahead.u_then, ahead.dof, upper, lower)
    within = _between(middle, scale, ahead.dof, *region) if region else 0.0
    return Foreseen(within, over, max(0.0, 1.0 - within - over))


def region_within(
    u: float, dof: float, upper: float, lower: float | None = None
) -> tuple[float, float] | None:
    """The values that are found within their limits at such a doubt; None where none is.

    >>> region_within(1.0, math.inf, 1.0, -1.0) is None
    True
    """
    if lower is None:
        return -math.inf, upper - _guard(u, dof, 1)
    middle, far = (upper + lower) / 2, (upper - lower) / 2
    if not leaves_within(sum(beyond_both(middle, u, dof, upper, lower))):
        return None
    # By one limit alone the region would end here, and from here to where both leave 5 % the chance
    # of lying outside is convex: Newton's steps go down to it and never past it.
    near = far - _guard(u, dof, 1)
    for _ in range(STEPS if u > 0 else 0):
        over, under = (near - far) / u, (-near - far) / u
        more = t_cdf(over, dof) + t_cdf(under, dof) - (1.0 - SURE)
        near -= more * u / (t_density(over, dof) - t_density(under, dof))
        if more <= CLOSE:
            break
    return middle - near, middle + near


def _guard(u: float, dof: float, among: int) -> float:
    return t_quantile(1.0 - (1.0 - SURE) / among, dof) * u


def _below(by: float, scale: float, dof: float) -> float:
    """The chance of a spread of that scale to lie under `by`."""
    if scale <= 0:
        return float(by >= 0)
    return t_cdf(by / scale, dof)


def _between(middle: float, scale: float, dof: float, low: float, high: float) -> float:
    return max(0.0, _below(high - middle, scale, dof) + _below(middle - low, scale, dof) - 1.0)
