"""Curves of a rail seen from the side, mm below the line that it was made to, by x in mm.

Source: the Euler-Bernoulli beam on two supports; nothing here comes from the program.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

Curve = Callable[[float], float]
Ends = tuple[float, float]
"""x of two places: the blocks of the string, or where the frame is held."""
STEEL = 205_000.0
"""N/mm2."""


def flat(_x: float) -> float:
    """No curve at all."""
    return 0.0


def added(*curves: Curve) -> Curve:
    """One on top of another."""
    return lambda x: sum(c(x) for c in curves)


def scaled(curve: Curve, by: float) -> Curve:
    """The same, so many times as deep."""
    return lambda x: by * curve(x)


def below(curve: Curve, blocks: Ends) -> Curve:
    """How far it lies below the straight line between two places on it."""
    first, last = blocks
    y_first, y_last = curve(first), curve(last)
    return lambda x: curve(x) - y_first - (y_last - y_first) * (x - first) / (last - first)


def deepest(curve: Curve, blocks: Ends) -> float:
    """How deep it is at its deepest between two places, below their line."""
    hang = below(curve, blocks)
    first, last = blocks
    return max(hang(first + (last - first) * n / 200) for n in range(201))


def to_depth(curve: Curve, depth: float, blocks: Ends) -> Curve:
    """The curve made so deep below the line between two places."""
    return scaled(curve, depth / deepest(curve, blocks))


def loaded(load: float, at: float, held: Ends, inertia: float) -> Curve:
    """A beam under one load, held at two places; straight on beyond them."""
    first, last = held
    span = last - first
    a, b = at - first, last - at

    def within(x: float, far: float) -> float:
        scale = 6 * STEEL * inertia * span
        return load * far * x * (span**2 - far**2 - x**2) / scale

    slope = (within(1.0, b), within(1.0, a))

    def curve(x: float) -> float:
        if x <= first:
            return (x - first) * slope[0]
        if x >= last:
            return (last - x) * slope[1]
        return within(x - first, b) if x <= at else within(last - x, a)

    return curve


def arch(held: Ends) -> Curve:
    """A smooth bow from one place to another."""
    first, last = held
    return lambda x: math.sin(math.pi * (x - first) / (last - first))


def hinge(at: float, held: Ends, rounding: float = 20.0) -> Curve:
    """Straight from each support to one sharp bend, which is round over a hand's width or less."""
    first, last = held
    left, right = 1.0 / (at - first), 1.0 / (last - at)

    def curve(x: float) -> float:
        off = x - at
        straight = 1.0 + left * off if off <= 0 else 1.0 - right * off
        near = max(0.0, 1.0 - abs(off) / rounding)
        return straight - (left + right) * rounding / 4 * near**2

    return curve


@dataclass(frozen=True, slots=True)
class Section:
    """What a rail is made of, mm."""

    depth: float
    flange: float
    thickness: float
    closed: bool
    tube: bool = False
    """Round or oval."""

    @property
    def inertia(self) -> float:
        """About the axis across the car, mm4: the outer rectangle, or ellipse, less what is hollow."""
        hollow = self.flange - self.thickness * (2 if self.closed else 1)
        inner = self.depth - 2 * self.thickness
        share = math.pi / 64 if self.tube else 1 / 12
        return share * (self.flange * self.depth**3 - hollow * inner**3)
