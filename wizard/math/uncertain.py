"""A number with its doubt, kept as a list of named parts so that shared errors cancel where they
should.

Every part has a name. Two numbers that carry a part of the same name carry the same error: adding
them adds the parts with their signs, so one tape's error drops out of a difference and two tapes'
errors do not (JCGM 100:2008 5.2, correlated input quantities).
"""

import math
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from wizard.frozen import cached_property

OWN, GUESS = "this project's own figure", "this project's own guess"
"""Whose a size is that no source gives."""


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
    """What it is, in plain words, as a sentence goes on: `most of the doubt is the level's zero`.
    """
    pool: str = ""
    """Name of the pooled scatter that the size was reckoned from: parts of one pool know no more
    than the pool does.
    """
    whose: str = ""
    """Whose figure the size is, for who asks for the figures; no sentence of an answer has it."""


Learned = tuple[str, float]
"""What a source was learned from, its pool or itself, with the degrees of freedom of that."""
_INF = math.inf


class Uncertain:
    """A value and its parts of doubt, each source once. Nothing of it changes once it is made.

    What is computed from others keeps the sizes alone, and its parts are written out when somebody
    asks for them: of what a survey computes most is only computed with.

    >>> tape = Part("tape-1", 0.5, shared=True)
    >>> a, b = Uncertain(100.0, (tape,)), Uncertain(98.0, (tape,))
    >>> (a - b).value, (a - b).u
    (2.0, 0.0)
    """

    value: float
    sizes: dict[str, float]
    """How large each source is here, by name, signed."""
    sources: Mapping[str, Part]
    """At least one part of every source, by name, in whatever size."""
    learned: Mapping[str, Learned]
    """Of those the ones that are known with so many degrees of freedom and no more."""

    def __init__(self, value: float, parts: tuple[Part, ...] = ()) -> None:
        self.value, self.parts = value, parts
        sizes: dict[str, float] = {}
        sources: dict[str, Part] = {}
        learned: dict[str, Learned] = {}
        for part in parts:
            name, size, dof, _, _, pool, _ = part
            sizes[name] = sizes[name] + size if name in sources else size  # twice named adds up
            sources[name] = part
            if dof != _INF:
                learned[name] = pool or name, dof
        self.sizes, self.sources, self.learned = sizes, sources, learned

    @classmethod
    def computed(
        cls,
        value: float,
        sizes: dict[str, float],
        sources: Mapping[str, Part],
        learned: Mapping[str, Learned],
    ) -> "Uncertain":
        """A number by how large each source is in it, by name.

        sources: a part of each, in whatever size; learned: those of them of which that says. The
        number keeps all three.
        """
        if 0.0 in sizes.values():  # what comes to nothing is no part of it
            sizes = {name: size for name, size in sizes.items() if size != 0.0}
        number = cls.__new__(cls)
        number.value, number.sizes, number.sources, number.learned = value, sizes, sources, learned
        return number

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        """Every source in the size that it has here."""
        # As `part._replace` makes each, and sooner.
        make, sources = tuple.__new__, self.sources
        return tuple(
            [make(Part, (name, size, *sources[name][2:])) for name, size in self.sizes.items()]
        )

    @cached_property
    def u(self) -> float:
        """Combined standard uncertainty, in the unit of the value."""
        return math.hypot(*self.sizes.values())

    @cached_property
    def dof(self) -> float:
        """Effective degrees of freedom (Welch and Satterthwaite, JCGM 100:2008 G.4.1); infinite
        when u is 0.

        One term for each independent source: parts from one pooled scatter are one source, their
        squares added first.
        """
        squares: dict[Learned, float] = {}
        size, before = self.sizes.get, squares.get
        for name, source in self.learned.items():
            squares[source] = before(source, 0.0) + size(name, 0.0) ** 2
        below = sum([square * square / dof for (_, dof), square in squares.items()])
        return self.u**4 / below if below > 0 else math.inf

    def __add__(self, other: "Uncertain") -> "Uncertain":
        return combine(self.value + other.value, [(1.0, self), (1.0, other)])

    def __sub__(self, other: "Uncertain") -> "Uncertain":
        return combine(self.value - other.value, [(1.0, self), (-1.0, other)])

    def scaled(self, factor: float) -> "Uncertain":
        """The same number times an exact factor."""
        return combine(self.value * factor, [(factor, self)])

    def with_parts(self, *parts: Part) -> "Uncertain":
        """The same value in more doubt."""
        sizes, sources = dict(self.sizes), dict(self.sources)
        for part in parts:
            name, size = part[0], part[1]
            sizes[name] = sizes[name] + size if name in sizes else size
            sources[name] = part
        return Uncertain.computed(self.value, sizes, sources, {**self.learned, **learned_of(parts)})

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Uncertain):
            return NotImplemented
        return self.value == other.value and self.parts == other.parts

    def __hash__(self) -> int:
        return hash((self.value, self.parts))

    def __repr__(self) -> str:
        return f"Uncertain(value={self.value!r}, parts={self.parts!r})"


def learned_of(parts: Iterable[Part]) -> dict[str, Learned]:
    """Of these parts, by name, those that are known with so many degrees of freedom and no more."""
    return {part[0]: (part[5] or part[0], part[2]) for part in parts if part[2] != _INF}


def combine(value: float, terms: Iterable[tuple[float, Uncertain]]) -> Uncertain:
    """A number computed from others, with their doubts carried to first order.

    value: the result, computed by the caller.
    terms: (sensitivity, input) for each input; parts of one name are added with their signs.
    Source: JCGM 100:2008 5.1.2 and 5.2.2.
    """
    sizes: dict[str, float] = {}
    sources: dict[str, Part] = {}
    learned: dict[str, Learned] = {}
    for factor, number in terms:
        sources.update(number.sources)
        learned.update(number.learned)
        if not sizes and factor == 1.0:
            sizes = number.sizes.copy()
            continue
        before = sizes.get
        for name, size in number.sizes.items():
            sizes[name] = before(name, 0.0) + factor * size
    return Uncertain.computed(value, sizes, sources, learned)
