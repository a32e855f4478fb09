"""Several uncertain numbers at once: their covariance from the parts they share, and freeing them
of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from wizard.math.uncertain import Uncertain

if TYPE_CHECKING:  # only types name it, and it takes milliseconds to load
    from numpy.typing import NDArray

Array: TypeAlias = "NDArray[np.float64]"


def covariance(numbers: Sequence[Uncertain]) -> Array:
    """The covariance matrix of n numbers, n x n, in the square of their unit (JCGM 100:2008 5.2).

    Parts of one name are one and the same error, so they give the covariances.
    """
    names = {part.name: column for column, part in enumerate(p for n in numbers for p in n.parts)}
    sizes = np.zeros((len(numbers), max(names.values(), default=0) + 1))
    for row, number in enumerate(numbers):
        for part in number.parts:
            sizes[row, names[part.name]] += part.size
    return np.asarray(sizes @ sizes.T, dtype=np.float64)


def whitener(numbers: Sequence[Uncertain]) -> Array:
    """The n x n matrix that turns these numbers into ones of equal doubt 1, independent of one
    another.

    Raises ValueError when a number has no doubt at all: it would outweigh every other.
    """
    full = covariance(numbers)
    if np.any(np.diag(full) <= 0):
        raise ValueError("every number needs a doubt above zero")
    # A trace more on the diagonal keeps numbers that share every part from making the matrix
    # singular.
    full += 1e-9 * float(np.mean(np.diag(full))) * np.eye(len(numbers))
    return np.asarray(np.linalg.inv(np.linalg.cholesky(full)), dtype=np.float64)


def misfit(seen: Array, model: Array) -> float:
    """Sum of squares left of n whitened numbers after the best fit of a whitened model, n x
    parameters.
    """
    if model.shape[1] == 0:
        return float(seen @ seen)
    best = np.linalg.lstsq(model, seen, rcond=None)[0]
    left = seen - model @ best
    return float(left @ left)
