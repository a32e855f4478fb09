"""What a plan says about a frame: pairs of points against the center line, boxes, horns, and each point
against the plan's own mirror image.

Signs: x rearward, y to the car's right. A fore-and-aft difference is right minus left, positive
when the right point lies further back; sideways is positive to the right. Pairs are (left point,
right point). Everything but the mirror image is a Derived in mm, its doubt comes from
network_doubt.derive. Plane geometry throughout: no source needed, but for the mirror image.

A frame's true sizes are seldom known, but it was made alike on both sides. The plan is reflected,
its points change names with their twins, and the image is laid on the plan as well as it goes
(rigid, least squares). The mean of both is the frame made alike; half of the difference is how far
each point is off. Twins share a difference equally: nothing in the tapes can say which of the two
has moved. Source: symmetric and asymmetric parts of an object with itself as its mirror image, as
in the statistics of shape (Mardia, Bookstein and Moreton, Statistical assessment of bilateral
symmetry of shapes, from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple, TypeAlias

import numpy as np

from wizard.frozen import Frozen
from wizard.math.network import Adjustment
from wizard.math.network_doubt import Derived, read_off, read_off_all

if TYPE_CHECKING:  # only types name it, and it takes milliseconds to load
    from numpy.typing import NDArray

Pair = tuple[str, str]
Vectors: TypeAlias = "NDArray[Any]"


class CenterLine(NamedTuple):
    """The line through the mid-points of pairs, pointing from the first pair to the last."""

    pairs: tuple[Pair, ...]
    """Pairs of the main box, front to rear; never the horns: they are what gets bent."""
    weights: tuple[float, ...]
    """Weight of each mid-point; with two pairs the line goes through both, whatever the weights."""


def center_line(plan: Adjustment, pairs: Sequence[Pair]) -> CenterLine:
    """The center line of the main box's pairs, front to rear, weighted by how well each mid-point
    is known.

    Weights are 1/variance across the line (1/mm²), from the plan's own covariance, and count as
    exact afterwards. Raises ValueError with fewer than two pairs, or for a point that the plan does
    not place.
    """
    if len(pairs) < 2:
        raise ValueError("a center line needs two pairs of points")
    ends = [_middle(plan, both) for both in (pairs[0], pairs[-1])]
    normal = _right(_unit(ends[1] - ends[0]))
    variances = [_variance_across(plan, pair, normal) for pair in pairs]
    # Held points have no variance: a line through known points weighs them alike.
    weights = [1.0 / v for v in variances] if min(variances) > 0 else [1.0] * len(pairs)
    return CenterLine(tuple(pairs), tuple(weights))


def fore_and_aft(plan: Adjustment, line: CenterLine, pair: Pair) -> Derived:
    """How much further back the right point of a pair lies than the left one, along the line."""
    return _against(
        plan, line, pair, lambda _, along, at: _dot(at[..., 1, :] - at[..., 0, :], along)
    )


def back_beyond(plan: Adjustment, line: CenterLine, pair: Pair, other: Pair) -> Derived:
    """How much more the right point of a pair lies back than that of another: the difference of
    their two fore-and-aft differences.
    """

    def formula(_: Vectors, along: Vectors, at: Vectors) -> Vectors:
        here, there = at[..., 1, :] - at[..., 0, :], at[..., 3, :] - at[..., 2, :]
        return _dot(here - there, along)

    return _against(plan, line, (*pair, *other), formula)


def off_line(plan: Adjustment, line: CenterLine, pair: Pair) -> Derived:
    """How far the mid-point of a pair lies to the right of the line."""
    return _against(
        plan, line, pair, lambda start, along, at: _dot(_mid(at) - start, _right(along))
    )


def half_width(plan: Adjustment, line: CenterLine, pair: Pair) -> Derived:
    """Half the distance between the points of a pair, across the line."""
    return _against(
        plan,
        line,
        pair,
        lambda _, along, at: _dot(at[..., 1, :] - at[..., 0, :], _right(along)) / 2,
    )


def diamond(plan: Adjustment, front: Pair, rear: Pair) -> Derived:
    """Rail shift of a box: the mean of its two fore-and-aft differences, positive when the right
    rail is back.

    Taken along the box's own line, through its two mid-points L apart, for then d1² - d2² = 4·L·s
    holds for any four corners, not for true diamonds alone: d1 and d2 are L·e ± (h_front + h_rear),
    h half of left to right. Four corners cannot tell a diamond from a sway: a sway t of the whole
    box shows here as s = t·W/L.
    """
    return diamond_and_mash(plan, front, rear)[0]


def mash(plan: Adjustment, front: Pair, rear: Pair) -> Derived:
    """How much longer the right rail of a box is than the left, along the box's own line.

    It is the change of the fore-and-aft difference from front to rear; negative when the right rail
    is shortened.
    """
    return diamond_and_mash(plan, front, rear)[1]


def diamond_and_mash(plan: Adjustment, front: Pair, rear: Pair) -> tuple[Derived, Derived]:
    """Both of a box at once, along the one line that they share."""
    return diamonds_and_mashes(plan, [(front, rear)])[0]


def diamonds_and_mashes(
    plan: Adjustment, boxes: Sequence[tuple[Pair, Pair]]
) -> list[tuple[Derived, Derived]]:
    """Both of each box, by its front and its rear pair, all read off together."""
    names = [point for front, rear in boxes for point in (*front, *rear)]

    def formula(at: Vectors) -> Vectors:
        corners = at.reshape(len(at), len(boxes), 4, 2)
        mids = _mids(corners)
        along = _unit(mids[..., 1, :] - mids[..., 0, :])
        before = corners[..., 1, :] - corners[..., 0, :]
        behind = corners[..., 3, :] - corners[..., 2, :]
        both = np.stack([(before + behind) / 2, behind - before], axis=-2)
        return _dot(both, along[..., None, :]).reshape(len(at), -1)

    read = read_off_all(plan, names, formula) if boxes else ()
    return list(zip(read[::2], read[1::2], strict=True))


def sway(plan: Adjustment, references: tuple[Pair, Pair], pair: Pair) -> Derived:
    """Sideways shift of a third pair against the line through two others, positive when the rear
    sits to the right.

    references: front one first. A pair ahead of both counts with its sign turned: the horns to the
    left are a rear to the right. A pair between them is positive when it bows to the right. Raises
    ValueError when the third pair is one of the two: then diamond and sway cannot be told apart.
    """
    if pair in references:
        raise ValueError(
            "sway needs three pairs of points: with two it cannot be told from a diamond"
        )
    shift = off_line(plan, CenterLine(references, (1.0, 1.0)), pair)
    front, rear, here = (_middle(plan, p) for p in (*references, pair))
    is_ahead = float((here - front) @ (rear - front)) < 0.0
    return shift.scaled(-1.0) if is_ahead else shift


def off_rail(plan: Adjustment, point: str, front: str, rear: str) -> Derived:
    """How far a point lies to the right of the straight line through two points of its own rail,
    front one first.
    """

    def formula(at: Vectors) -> Vectors:
        along = _unit(at[..., 2, :] - at[..., 1, :])
        return _dot(at[..., 0, :] - at[..., 1, :], _right(along))

    return read_off(plan, (point, front, rear), formula)


def horn_sideways(plan: Adjustment, tip: str, front: str, second: str) -> Derived:
    """How far a horn's tip lies to the right of its own rail carried straight on.

    front, second: the rail's points at the front and the second station. Where the rails of a sound
    frame are not straight up to the tip, compare with the layout's own figure or with the mirror
    image of the other horn.
    """
    return off_rail(plan, tip, front, second)


def _against(
    plan: Adjustment,
    line: CenterLine,
    points: tuple[str, ...],
    formula: Callable[[Vectors, Vectors, Vectors], Vectors],
) -> Derived:
    """A formula of the line's start, its direction and the places of the points (..., k, 2)."""
    names = [p for both in line.pairs for p in both]

    def whole(at: Vectors) -> Vectors:
        start, along = _axis(_mids(at[..., : len(names), :]), line.weights)
        return formula(start, along, at[..., len(names) :, :])

    return read_off(plan, [*names, *points], whole)


def _axis(mids: Vectors, weights: Sequence[float]) -> tuple[Vectors, Vectors]:
    """Weighted straight line through mid-points (..., k, 2): a place on it and its direction, both
    (..., 2).
    """
    chord = _unit(mids[..., -1, :] - mids[..., 0, :])
    w = np.array(weights) / sum(weights)
    start = np.add.reduce(w[:, None] * mids, axis=-2)
    if len(weights) == 2:
        return start, chord  # Through two mid-points there is one line.
    off = mids - start[..., None, :]
    along, across = _dot(off, chord[..., None, :]), _dot(off, _right(chord)[..., None, :])
    slope = np.add.reduce(w * along * across, axis=-1) / np.add.reduce(w * along * along, axis=-1)
    return start, _unit(chord + slope[..., None] * _right(chord))


def _middle(plan: Adjustment, pair: Pair) -> Vectors:
    """Where the mid-point of a pair is, mm."""
    left, right = (plan.xy[plan.points.index(point)] for point in pair)
    return np.asarray((left + right) / 2)


def _variance_across(plan: Adjustment, pair: Pair, normal: Vectors) -> float:
    """How well the mid-point of a pair is known along a fixed direction, mm²."""
    gradient = np.zeros(plan.xy.shape)
    for point in pair:
        gradient[plan.points.index(point)] += normal / 2
    return float(gradient.ravel() @ plan.covariance @ gradient.ravel())


def _mids(at: Vectors) -> Vectors:
    return (at[..., 0::2, :] + at[..., 1::2, :]) / 2


def _mid(at: Vectors) -> Vectors:
    return (at[..., 0, :] + at[..., 1, :]) / 2


def _dot(a: Vectors, b: Vectors) -> Vectors:
    return np.asarray(np.add.reduce(a * b, axis=-1))


def _unit(way: Vectors) -> Vectors:
    """Of length 1; no number where there is no way, and nobody is warned of it on his screen."""
    with np.errstate(invalid="ignore"):
        return np.asarray(way / np.sqrt(np.add.reduce(way * way, axis=-1, keepdims=True)))


TURN = np.array([-1.0, 1.0])


def _right(along: Vectors) -> Vectors:
    """A quarter turn from rearward to the car's right."""
    return np.asarray(along[..., ::-1] * TURN)


class Mirrored(Frozen):
    """A plan laid on its own axis of symmetry, mm; x along the axis, y to the right of it."""

    __eq__, __hash__ = object.__eq__, object.__hash__

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
