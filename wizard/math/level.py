"""A spirit level across the rails: slopes, its own error, and how the slope changes along the frame:
steadily (twist), in one jump (one joint), or not at all.

Angles in radians, x in mm rearward; a slope is positive when the left side is higher; twist = slope
at the rear - slope at the front.
"""

import math
from collections.abc import Sequence
from typing import Literal, NamedTuple

import numpy as np

from wizard.math.covariance import Array, whitener
from wizard.math.number import Number, uncertain
from wizard.math.repeats import Spread
from wizard.math.uncertain import Uncertain, combine


def slope(r1: Number, r2: Number) -> Uncertain:
    """The slope itself, from two readings with the level turned end for end: their mean, in the
    unit of r1.

    Both readings are written as the frame's slope, left high positive, so that the level's own
    error has opposite signs in the two and drops out.

    >>> slope(3, 1).value, own_error(3, 1).value
    (2.0, 1.0)
    """
    a, b = uncertain(r1), uncertain(r2)
    return combine((a.value + b.value) / 2, [(0.5, a), (0.5, b)])


def own_error(r1: Number, r2: Number) -> Uncertain:
    """The level's own error from the same two readings: half their difference."""
    a, b = uncertain(r1), uncertain(r2)
    return combine((a.value - b.value) / 2, [(0.5, a), (-0.5, b)])


def own_error_spread(
    turned: Sequence[tuple[Sequence[float], Sequence[float]]],
) -> Spread:
    """What the level's own error, one and the same at every place, says of the hand that read it.

    turned: for each place the readings as set and those turned around, one or more each, as in `slope`
    and in the unit of the scatter. Half the difference of their means is the own error with a
    variance of s^2/4 (1/n + 1/m), so its weighted squares about the mean are s^2 chi-square with one
    degree of freedom less than places (JCGM 100:2008 H.5.2). Raises ValueError for no place.

    >>> own_error_spread([([1.0], [0.0]), ([2.0], [0.0])])
    Spread(size=2, squares=0.25)
    """
    if not turned:
        raise ValueError("no place, and nothing to learn from")
    errors = [(sum(a) / len(a) - sum(b) / len(b)) / 2 for a, b in turned]
    weights = [4.0 / (1 / len(a) + 1 / len(b)) for a, b in turned]
    pairs = list(zip(weights, errors, strict=True))
    middle = sum([w * e for w, e in pairs]) / sum(weights)
    return Spread(len(pairs), sum([w * (e - middle) ** 2 for w, e in pairs]))


def height_across(width: Number, slope_change: Number) -> Uncertain:
    """Height difference across the rails that a change of slope makes, mm: W tan(change).

    width: between the rails at the place named, mm. slope_change: radians.

    >>> round(height_across(760, 0.002).value, 3)
    1.52
    """
    w, change = uncertain(width), uncertain(slope_change)
    tan = math.tan(change.value)
    return combine(w.value * tan, [(tan, w), (w.value * (1 + tan * tan), change)])


Kind = Literal["none", "steady", "one-joint", "cannot-tell"]

TWENTY_TO_ONE = 5.99
"""Difference of two sums of squares at which one shape is twenty times as likely as the other: 2 ln
20.
"""
# Set by simulation (numpy default_rng, seed 7): 1000 straight frames each of 2, 3, 4 and 6 stations
# show a change in
# 0.6, 1.6, 2.5 and 1.8 of 100.
SEEN = 7.5
"""Fall of the sum of squares from which a change of slope is seen at all."""


class Twist(NamedTuple):
    """How the slope changes along the frame."""

    kind: Kind
    """"none": no change is seen. "steady": in proportion to x. "one-joint": a jump between two
    stations. Else a change is seen but its kind is not, "cannot-tell"; also with fewer than three
    stations.
    """
    change: Uncertain
    """Slope at the last station less slope at the first, radians."""
    rate: float
    """Best steady change, radians per mm."""
    jump: float
    """Best single jump, radians."""
    between: tuple[float, float]
    """x from and to between which that jump lies, mm: every gap that is not twenty times less
    likely.
    """
    none_misfit: float
    """Sum of squares left by one slope throughout, in units of u."""
    steady_misfit: float
    """Sum of squares left by a steady change."""
    jump_misfit: float
    """Sum of squares left by the best jump."""


def fit_twist(xs: Sequence[float], slopes: Sequence[Uncertain]) -> Twist:
    """Fit the slopes of n stations, any order, at different x.

    slopes: radians, each with a doubt above zero; a level's shared error is taken as shared.
    Raises ValueError with fewer than two stations, two at one x, or a slope without doubt.
    """
    if len(xs) != len(slopes) or len(set(xs)) < max(2, len(xs)):
        raise ValueError("two or more slopes at different places are needed")
    order = sorted(range(len(xs)), key=lambda i: xs[i])
    x = np.array([float(xs[i]) for i in order])
    numbers = [slopes[i] for i in order]
    change = numbers[-1] - numbers[0]
    white = whitener(numbers)
    seen = white @ np.array([number.value for number in numbers])
    jumps = x > (x[:-1, None] + x[1:, None]) / 2  # one row for each gap between two stations
    level, (steady, rate), steps = _fits(seen, white, np.vstack([x - x.mean(), jumps]))
    best = min(steps)
    near = [i for i, step in enumerate(steps) if step[0] - best[0] < TWENTY_TO_ONE]
    between = (float(x[near[0]]), float(x[near[-1] + 1]))
    kind = _kind(len(x), level, steady, best[0])
    return Twist(kind, change, rate, best[1], between, level, steady, best[0])


def _kind(n: int, level: float, steady: float, jump: float) -> Kind:
    if level - min(steady, jump) < SEEN:
        return "none"
    if n < 3 or abs(steady - jump) < TWENTY_TO_ONE:
        return "cannot-tell"
    return "steady" if steady < jump else "one-joint"


def _fits(
    seen: Array, white: Array, forms: Array
) -> tuple[float, tuple[float, float], list[tuple[float, float]]]:
    """Sum of squares left by a constant alone; then by a constant and a multiple of each form, with
    that multiple: of the first form, and of all others.

    seen: n, of equal doubt 1. white: what frees numbers of their covariance, n x n. forms: k x n.
    """
    level = white.sum(axis=1)
    # What the constant can say is taken out of all first: then each form stands alone.
    level = level / math.sqrt(float(level @ level))
    model, rest = forms @ white.T, seen - (seen @ level) * level
    model = model - np.outer(model @ level, level)
    amounts = model @ rest / np.add.reduce(model * model, axis=1)
    left = rest - amounts[:, None] * model
    misfits = np.add.reduce(left * left, axis=1)
    first, *others = zip(misfits.tolist(), amounts.tolist(), strict=True)
    return float(rest @ rest), first, others
