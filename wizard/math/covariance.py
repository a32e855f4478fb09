"""Several uncertain numbers at once: their covariance from the parts they share, freeing them of
it, and one cause against them all.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import chain, repeat
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

import numpy as np

from wizard.math.student import f_tail
from wizard.math.uncertain import Part, Uncertain

if TYPE_CHECKING:  # only types name it, and it takes milliseconds to load
    from numpy.typing import NDArray

Array: TypeAlias = "NDArray[np.float64]"

SHARE_U, SHARE_LEAST = 0.08, 0.03
"""Doubt of a share, relative and at the least: sizes are round figures, and a bend is seldom where
the drawing has it (this project's own figures). The least is less where no figure sees the whole of
the cause: an end that goes over by 19 mm is 7 mm of every box, and no more of a box is in doubt.
"""
DEPENDENT = 1e-3
"""Part of the mean variance below which a combination of the numbers is known beforehand: the shift
of a whole follows from its parts, but for what is rounded.
"""


def spread(numbers: Sequence[Uncertain]) -> tuple[dict[str, Part], Array]:
    """A part of each source of n numbers, by name, and how large each is in each number, n x
    sources.
    """
    known: dict[str, Part] = {}
    for number in numbers:
        known.update(number.sources)
    names = list(dict.fromkeys(chain.from_iterable([number.sizes for number in numbers])))
    table = [list(map(number.sizes.get, names, repeat(0.0))) for number in numbers]
    sizes = np.array(table, dtype=np.float64)
    return {name: known[name] for name in names}, sizes.reshape(len(numbers), len(names))


def covariance(numbers: Sequence[Uncertain]) -> Array:
    """The covariance matrix of n numbers, n x n, in the square of their unit (JCGM 100:2008 5.2).

    Parts of one name are one and the same error, so they give the covariances.
    """
    _, sizes = spread(numbers)
    return np.asarray(sizes @ sizes.T, dtype=np.float64)


def whitener(numbers: Sequence[Uncertain]) -> Array:
    """The n x n matrix that turns these numbers into ones of equal doubt 1, independent of one
    another.

    Raises ValueError when a number has no doubt at all: it would outweigh every other.
    """
    free = np.linalg.inv(np.linalg.cholesky(regular_covariance(numbers)))
    return np.asarray(free, dtype=np.float64)


def regular_covariance(numbers: Sequence[Uncertain]) -> Array:
    """Their covariance matrix, such that it has an inverse: n x n.

    Raises ValueError when a number has no doubt at all: it would outweigh every other.
    """
    return regular(spread(numbers)[1])


def regular(sizes: Array) -> Array:
    """The same of numbers whose sources are so large in each, n x sources. Raises as it does."""
    full = sizes @ sizes.T
    variances = full.diagonal().tolist()
    if min(variances) <= 0:
        raise ValueError("every number needs a doubt above zero")
    # A trace more on the diagonal keeps numbers that share every part from making the matrix
    # singular.
    trace = 1e-9 * sum(variances) / len(variances)
    np.fill_diagonal(full, [variance + trace for variance in variances])
    return full


def misfit(seen: Array, model: Array) -> float:
    """Sum of squares left of n whitened numbers after the best fit of a whitened model, n x
    parameters.
    """
    if model.shape[1] == 0:
        return float(seen @ seen)
    best = np.linalg.lstsq(model, seen, rcond=None)[0]
    left = seen - model @ best
    return float(left @ left)


# One cause against many numbers ------------------------------------------------------------------


class Fitted(NamedTuple):
    """One cause fitted to several numbers."""

    amount: float
    """How much of it fits best, in the unit of the shares."""
    chance: float
    """Chance of so bad a misfit where this cause is all there is; 1 where nothing is left to test."""


def fitted(numbers: Sequence[Uncertain], shares: Sequence[float]) -> Fitted:
    """The amount of a cause that fits best, and the chance of what is left.

    Where no amount fits within the doubts, the cause is not what happened; two that both fit cannot
    be told apart by these numbers. Source: least squares with a known covariance and the global test
    of its residuals, as of a plan.
    shares: by how much one unit of the cause moves each number; not all zero.

    >>> from wizard.math.uncertain import Part
    >>> seen = [Uncertain(v, (Part(n, 0.5),)) for n, v in (("a", 6.0), ("b", 6.4), ("c", 0.1))]
    >>> round(fitted(seen, [1.0, 1.0, 0.0]).amount, 1), fitted(seen, [1.0, 1.0, 1.0]).chance < 0.001
    (6.2, True)
    """
    model, values = np.array(shares, dtype=np.float64), np.array([n.value for n in numbers])
    known = covariance(numbers)
    sizes, ways = np.linalg.eigh(known)
    ways = ways[:, sizes > DEPENDENT * float(np.mean(np.diag(known)))]
    known, model, values = ways.T @ known @ ways, ways.T @ model, ways.T @ values
    amount, _ = _best(values, known, model)
    # What one does not know of the shares grows with the amount: it is one more doubt.
    least = SHARE_LEAST * min(1.0, float(np.max(np.abs(shares))))
    unknown = np.diag((SHARE_U * np.array(shares)) ** 2 + least**2)
    amount, left = _best(values, known + amount**2 * ways.T @ unknown @ ways, model)
    count = len(values) - 1
    return Fitted(amount, f_tail(left / count, count, _dof(numbers)) if count else 1.0)


def _best(values: Array, known: Array, model: Array) -> tuple[float, float]:
    """The best amount, and the sum of squares that it leaves."""
    free = np.linalg.inv(np.linalg.cholesky(known))
    seen, pull = free @ values, free @ model
    weight = float(pull @ pull)
    amount = float(pull @ seen) / weight if weight > 0.0 else 0.0
    off = seen - amount * pull
    return amount, float(off @ off)


def _dof(numbers: Sequence[Uncertain]) -> float:
    """Degrees of freedom of the doubts, the least of them: one pooled scatter is behind them all."""
    return max(1.0, min((n.dof for n in numbers), default=math.inf))
