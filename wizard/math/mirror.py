"""A plan against its own mirror image: what is not alike on both sides, and which way each point is
off.

A frame's true sizes are seldom known, but it was made alike on both sides. The plan is reflected,
its points change names with their twins, and the image is laid on the plan as well as it goes
(rigid, least squares). The mean of both is the frame made alike; half of the difference is how far
each point is off. Twins share a difference equally: nothing in the tapes can say which of the two
has moved.

Source: symmetric and asymmetric parts of an object with itself as its mirror image, as in the
statistics of shape (Mardia, Bookstein and Moreton, Statistical assessment of bilateral symmetry of
shapes, from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeAlias

import numpy as np

if TYPE_CHECKING:  # only types name it, and it takes milliseconds to load
    from numpy.typing import NDArray

Vectors: TypeAlias = "NDArray[Any]"


@dataclass(frozen=True, slots=True, eq=False)
class Mirrored:
    """A plan laid on its own axis of symmetry, mm; x along the axis, y to the right of it."""

    at: Vectors
    """Where the points are, shape (..., n, 2), their mean at the origin."""
    off: Vectors
    """How far each is off the frame made alike, shape (..., n, 2)."""


def mirrored(at: Vectors, twins: Sequence[int]) -> Mirrored:
    """The plan against its mirror image.

    at: places (..., n, 2), x roughly rearward, y roughly to the right; may be complex, for slopes
    by complex steps. twins: for each point the index of its twin, itself for a point in the middle.

    >>> square = np.array([[0.0, -1.0], [0.0, 1.0], [4.0, -1.0], [4.0, 1.0]])
    >>> bool(np.abs(mirrored(square, [1, 0, 3, 2]).off).max() < 1e-12)
    True
    """
    here = at - at.mean(axis=-2)[..., None, :]
    image = here[..., list(twins), :] * np.array([1.0, -1.0])
    along = (here * image).sum(axis=(-2, -1))
    across = (image[..., 0] * here[..., 1] - image[..., 1] * here[..., 0]).sum(axis=-1)
    size = np.sqrt(along * along + across * across)
    cos, sin = along / size, across / size
    off = (here - _turned(image, cos, sin)) / 2
    # A reflection followed by a turn is a reflection in the line at half of the angle: the axis of
    # symmetry.
    half_cos = np.sqrt((1 + cos) / 2)
    half_sin = sin / (2 * half_cos)
    return Mirrored(_turned(here, half_cos, -half_sin), _turned(off, half_cos, -half_sin))


def _turned(at: Vectors, cos: Vectors, sin: Vectors) -> Vectors:
    c, s = np.asarray(cos)[..., None], np.asarray(sin)[..., None]
    x, y = at[..., 0], at[..., 1]
    return np.stack([c * x - s * y, s * x + c * y], axis=-1)
