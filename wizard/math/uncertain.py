"""A number with its doubt, kept as a list of named parts so that shared errors cancel where they
should.

Every part has a name. Two numbers that carry a part of the same name carry the same error: adding
them adds the parts with their signs, so one tape's error drops out of a difference and two tapes'
errors do not (JCGM 100:2008 5.2, correlated input quantities).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple


class Part(NamedTuple):
    """One source of doubt in one number; a tuple, since a survey's numbers have thousands."""

    name: str
    """Identity of the source: equal names are one and the same error."""
    size: float
    """Sensitivity times standard uncertainty, signed, in the unit of the number."""
    dof: float = math.inf
    """Degrees of freedom of the standard uncertainty; infinite for a class limit."""
    shared: bool = False
    """True when several readings carry the same error (a tape's scale, a point's definition)."""
    source: str = ""
    """Where the size comes from, in plain words."""
    pool: str = ""
    """Name of the pooled scatter that the size was reckoned from: parts of one pool know no more
    than the pool does.
    """


@dataclass(frozen=True)
class Uncertain:
    """A value and its parts of doubt.

    >>> tape = Part("tape-1", 0.5, shared=True)
    >>> a, b = Uncertain(100.0, (tape,)), Uncertain(98.0, (tape,))
    >>> (a - b).value, (a - b).u
    (2.0, 0.0)
    """

    value: float
    parts: tuple[Part, ...] = ()

    @cached_property
    def u(self) -> float:
        """Combined standard uncertainty, in the unit of the value."""
        return math.sqrt(sum([p.size * p.size for p in self.parts]))

    @cached_property
    def dof(self) -> float:
        """Effective degrees of freedom (Welch and Satterthwaite, JCGM 100:2008 G.4.1); infinite
        when u is 0.

        One term for each independent source: parts from one pooled scatter are one source, their
        squares added first.
        """
        squares: dict[tuple[str, str, float], float] = {}
        for p in self.parts:
            if p.dof == math.inf:
                continue
            key = (p.pool, "" if p.pool else p.name, p.dof)
            squares[key] = squares.get(key, 0.0) + p.size * p.size
        below = sum(square * square / dof for (_, _, dof), square in squares.items())
        return self.u**4 / below if below > 0 else math.inf

    def __add__(self, other: Uncertain) -> Uncertain:
        return combine(self.value + other.value, [(1.0, self), (1.0, other)])

    def __sub__(self, other: Uncertain) -> Uncertain:
        return combine(self.value - other.value, [(1.0, self), (-1.0, other)])

    def scaled(self, factor: float) -> Uncertain:
        """The same number times an exact factor."""
        return combine(self.value * factor, [(factor, self)])


def combine(value: float, terms: Iterable[tuple[float, Uncertain]]) -> Uncertain:
    """A number computed from others, with their doubts carried to first order.

    value: the result, computed by the caller.
    terms: (sensitivity, input) for each input; parts of one name are added with their signs.
    Source: JCGM 100:2008 5.1.2 and 5.2.2.
    """
    sizes: dict[str, float] = {}
    kinds: dict[str, Part] = {}
    for factor, number in terms:
        for part in number.parts:
            name = part[0]
            sizes[name] = factor * part[1] + sizes.get(name, 0.0)
            kinds[name] = part
    return Uncertain(value, resized(kinds.values(), sizes.values()))


def resized(parts: Iterable[Part], sizes: Iterable[float]) -> tuple[Part, ...]:
    """The same sources of doubt in other sizes, without those that come to nothing; as
    `part._replace` makes each, and sooner: a survey has some two thousand of them.
    """
    make = tuple.__new__
    sized = zip(parts, sizes, strict=True)
    return tuple([make(Part, (p[0], size, *p[2:])) for p, size in sized if size != 0.0])
