"""A rail with several thin stretches: what is left of its section along it, and of the whole.

Lengths in mm. Where stretches overlap, their losses add up in one section. Source: the section is
`channel.py` or `tube.py`; a beam of changing section under an even moment turns by the sum of length over
stiffness (Mohr's first theorem, any text on the strength of materials).
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from wizard.math.channel import Loss
from wizard.math.tube import Rail, section_of


class Thin(NamedTuple):
    """A stretch of the rail that has lost metal."""

    start: float
    """Where it begins along the rail, mm."""
    end: float
    """Where it ends, mm; not before its start."""
    loss: Loss


class Left(NamedTuple):
    """One stretch of the rail over which nothing changes."""

    start: float
    end: float
    stiffness: float
    """Share of the sound rail's second moment."""
    strength: float
    """Share of the sound rail's section modulus."""


def along(section: Rail, thin: Sequence[Thin], rail: tuple[float, float]) -> tuple[Left, ...]:
    """The rail from end to end, cut wherever a loss begins or ends. Raises ValueError when the rail
    has no length, or when nothing is left of a section.

    rail: where it begins and ends, mm; what lies beyond is cut off.

    >>> from wizard.math.channel import Channel
    >>> loss = Loss("top", "outside", 0.3)
    >>> found = along(Channel(100, 44, 3, 3), [Thin(500, 700, loss)], (0, 2000))
    >>> [(one.start, one.end, round(one.strength, 2)) for one in found]
    [(0, 500, 1.0), (500, 700, 0.94), (700, 2000, 1.0)]
    """
    first, last = rail
    if last <= first:
        raise ValueError("a rail ends behind its beginning")
    inside = [min(max(x, first), last) for one in thin for x in one[:2]]
    cuts = sorted({first, last, *inside})
    return tuple(_between(section, thin, start, end) for start, end in pairwise(cuts))


def _between(section: Rail, thin: Sequence[Thin], start: float, end: float) -> Left:
    middle = (start + end) / 2
    losses = [one.loss for one in thin if one.start <= middle <= one.end]
    if not losses:
        return Left(start, end, 1.0, 1.0)
    sound, now = section_of(section), section_of(section, losses)
    return Left(start, end, now.inertia / sound.inertia, now.modulus / sound.modulus)


def weakest(stretches: Sequence[Left]) -> Left:
    """Where the least strength is left; the first of several alike."""
    return min(stretches, key=lambda one: one.strength)


def stiffness_of(stretches: Sequence[Left]) -> float:
    """Share of its stiffness that the whole rail has left, bent alike everywhere: a short pit takes
    next to nothing from it.

    >>> half = Left(0, 1000, 0.5, 0.5), Left(1000, 2000, 1.0, 1.0)
    >>> round(stiffness_of(half), 4)
    0.6667
    """
    length = sum(one.end - one.start for one in stretches)
    turned = sum((one.end - one.start) / one.stiffness for one in stretches)
    return length / turned
