"""Gauss-Newton for taped distances in the plane: arrays in, arrays out, no names.

Arrays: xy (n, 2) places in mm; joined (m, n) which points each distance joins, from joins(); a flat
vector of coordinates is (2n,) in the order x0, y0, x1, y1 ...
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from wizard.frozen import Frozen

if TYPE_CHECKING:  # only types name it, and it takes milliseconds to load
    from numpy.typing import NDArray

Array: TypeAlias = "NDArray[np.float64]"
Ends: TypeAlias = "NDArray[np.intp]"
Flags: TypeAlias = "NDArray[np.bool_]"

LIMIT = 40
"""Most Gauss-Newton steps.

A start within 100 mm needs four to nine; beyond this the start is hopeless.
"""

CLOSE = 1e-9
"""Largest step that ends the iteration, as a part of the network's span. What is left after it is
smaller again, by the ratio of residuals to distances: about a thousandth.
"""


class Settled(Frozen):
    """Where the iteration came to rest."""

    __eq__, __hash__ = object.__eq__, object.__hash__

    xy: Array
    """Places, mm, shape (n, 2)."""
    design: Array
    """Change of each distance with each coordinate (direction cosines), shape (m, 2n); 0 for held
    points.
    """
    length: Array
    """Distances between the places, mm, shape (m,)."""
    covariance: Array
    """Of the coordinates, mm², shape (2n, 2n): pseudo-inverse of the normal matrix (inner
    constraints).
    """
    converged: bool
    """False when the last step was still larger than CLOSE allows."""
    steps: int
    """Gauss-Newton steps taken."""


def joins(ends: Ends, points: int) -> Array:
    """Which points each distance joins, shape (m, n): -1 at its first end, +1 at its second, 0
    elsewhere.
    """
    matrix = np.zeros((len(ends), points))
    rows = np.arange(len(ends))
    matrix[rows, ends[:, 0]] = -1.0
    matrix[rows, ends[:, 1]] = 1.0
    return matrix


def design(xy: Array, joined: Array) -> tuple[Array, Array]:
    """Direction cosines (m, 2n) and lengths (m,) of the distances between places xy."""
    way = joined @ xy
    length = np.sqrt(np.add.reduce(way * way, axis=1))
    unit = way / length[:, None]
    cosines = joined[:, :, None] * unit[:, None, :]
    return cosines.reshape(len(way), xy.size), length


def rigid_motions(xy: Array) -> Array:
    """Orthonormal shift along x, shift along y and small turn, shape (2n, 3): what no distance can
    see.
    """
    centered = xy - xy.mean(axis=0)
    motions = np.zeros((len(xy), 2, 3))
    motions[:, 0, 0] = motions[:, 1, 1] = 1.0
    motions[:, 0, 2] = -centered[:, 1]
    motions[:, 1, 2] = centered[:, 0]
    flat = motions.reshape(-1, 3)
    return np.asarray(flat / np.sqrt((flat * flat).sum(axis=0)))


def datum(xy: Array, held: Flags) -> Array:
    """Projector (2n, 2n) on the motions that the distances leave open, so that the inverse exists.

    With held points these are their own coordinates; without, the rigid motions of the whole: a
    free net. Source: inner constraints of a free network; Ghilani and Wolf, Adjustment
    Computations, from memory.
    """
    if held.any():
        return np.diag(held.astype(np.float64))
    motions = rigid_motions(xy)
    return np.asarray(motions @ motions.T)


def settle(xy: Array, joined: Array, value: Array, u: Array, held: Flags) -> Settled:
    """Weighted least squares places for distances `value` (m,) with unshared doubts `u` (m,), both
    mm.

    xy: start places, not changed. held: shape (2n,), True for coordinates that stay where they are.
    """
    places = xy.astype(np.float64)
    close = CLOSE * float(np.ptp(places, axis=0).max())
    weight = 1.0 / u
    scaled, length = _scaled(places, joined, weight, held)
    # The start's datum serves all steps: it only makes the matrix regular. The covariance needs the
    # last.
    ground = _size(scaled) * datum(places, held)
    steps, moved = 0, np.inf
    while steps < LIMIT and moved > close:
        step = np.linalg.solve(scaled.T @ scaled + ground, scaled.T @ ((value - length) * weight))
        places = places + step.reshape(-1, 2)
        scaled, length = _scaled(places, joined, weight, held)
        moved = float(np.abs(step).max())
        steps += 1
    covariance = _pseudo_inverse(scaled, datum(places, held))
    return Settled(places, scaled * u[:, None], length, covariance, moved <= close, steps)


def _scaled(xy: Array, joined: Array, weight: Array, held: Flags) -> tuple[Array, Array]:
    cosines, length = design(xy, joined)
    if held.any():
        cosines[:, held] = 0.0
    return cosines * weight[:, None], length


def _size(scaled: Array) -> float:
    # The datum is scaled like the normal matrix, else a fine tape would make the sum badly
    # conditioned.
    flat = scaled.ravel()
    return float(flat @ flat / scaled.shape[1])


def _pseudo_inverse(scaled: Array, ground: Array) -> Array:
    size = _size(scaled)
    inverse = np.linalg.inv(scaled.T @ scaled + size * ground) - ground / size
    return np.asarray((inverse + inverse.T) / 2)
