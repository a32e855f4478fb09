"""Frozen classes that cost a start next to nothing.

`dataclass(frozen=True)` writes six functions for each class and has Python compile them at every
start: over four million instructions a class, and nearly seventy such classes stand on the way of
`crosstape tell`, a fifth of all that it took. Here the same six stand once, as plain methods that
ask the class for its fields. An heir is the library's dataclass all the same, with nothing left for
it to write: `replace`, `fields`, `asdict` and the type checker know it as they know any other.

For what is loaded at each start. Where a class is made by the hundred thousand, what the library
writes is the quicker one; a value with nothing but fields is a NamedTuple.
"""

from collections.abc import Callable, Iterable
from dataclasses import MISSING, Field, FrozenInstanceError, dataclass, field, fields
from functools import cached_property as locked_property
from typing import TYPE_CHECKING, Any, ClassVar, NamedTuple, Self, TypeVar, dataclass_transform

Made = TypeVar("Made")


class cached_property(locked_property[Made]):
    """`functools.cached_property` as Python has it from 3.12 on: without the lock, which takes longer
    than much of what is kept so. Two threads may make a thing twice; it comes to the same.
    """

    if not TYPE_CHECKING:

        def __get__(self, kept, _=None):
            if kept is None:
                return self
            made = kept.__dict__[self.attrname] = self.func(kept)
            return made


class _Said(NamedTuple):
    """What a class says of its fields."""

    asked: tuple[str, ...]
    """Names of those that are given when one is made, in order."""
    known: frozenset[str]
    """The same names."""
    absent: dict[str, Any]
    """What stands where none is given."""
    fresh: dict[str, Callable[[], Any]]
    """What makes one anew for each, where none is given or none can be."""
    size: int
    """How many stand in one that was made, but for those that `__post_init__` adds."""
    ends: bool
    """Whether there is a `__post_init__`."""
    compared: tuple[str, ...]
    shown: tuple[str, ...]


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
class Frozen:
    """A value whose fields do not change. An heir names them as a dataclass does; what it says of
    itself, such as how it is shown or what it is equal to, stands.
    """

    _said: ClassVar[_Said]

    def __init_subclass__(cls) -> None:
        dataclass(init=False, repr=False, eq=False, match_args=False)(cls)
        cls._said = _said_by(cls)
        # What stands in every one of it need not be looked for in the class, which takes longer.
        for name in cls._said.absent.keys() & vars(cls).keys():
            delattr(cls, name)

    def __init__(self, *given: Any, **named: Any) -> None:
        asked, known, absent, fresh, size, ends, _, _ = self._said
        own = dict(zip(asked, given, strict=False)) if given else {}
        if len(own) < size:
            own = {**absent, **own, **named}
            for name, make in fresh.items():
                if name not in own:
                    own[name] = make()
        if len(own) != size or len(given) > len(asked) or not known.issuperset(named):
            raise TypeError(f"{type(self).__name__} takes {', '.join(asked)}")
        object.__setattr__(self, "__dict__", own)
        if ends:
            self.__post_init__()

    @classmethod
    def filled(cls, named: dict[str, Any]) -> Self:
        """One of it whose fields are known to be these, none missing but what has a default; it
        keeps what it is given. A file has hundreds of rows that were looked through together.
        """
        own = {**cls._said.absent, **named}
        made = cls.__new__(cls)
        object.__setattr__(made, "__dict__", own)
        return made

    def __post_init__(self) -> None:
        """What an heir adds to what was given."""

    def __setattr__(self, name: str, value: Any) -> None:
        raise FrozenInstanceError(f"cannot assign to field {name!r}")

    def __delattr__(self, name: str) -> None:
        raise FrozenInstanceError(f"cannot delete field {name!r}")

    def __eq__(self, other: object) -> bool:
        if type(other) is not type(self):
            return NotImplemented
        if self is other:
            return True
        own, theirs = vars(self), vars(other)
        for name in self._said.compared:  # two that are unlike mostly differ in one of the first
            ours = own[name]
            if ours is not theirs[name] and ours != theirs[name]:
                return False
        return True

    def __hash__(self) -> int:
        own = vars(self)
        return hash(tuple([own[name] for name in self._said.compared]))

    def __repr__(self) -> str:
        shown = ", ".join([f"{name}={getattr(self, name)!r}" for name in self._said.shown])
        return f"{type(self).__qualname__}({shown})"


def _said_by(kind: Any) -> _Said:
    ours = fields(kind)
    asked = _those(ours, "init")
    absent = {f.name: f.default for f in ours if f.default is not MISSING}
    fresh = {f.name: f.default_factory for f in ours if f.default_factory is not MISSING}
    return _Said(
        asked,
        frozenset(asked),
        absent,
        fresh,
        len({*asked, *absent, *fresh}),
        kind.__post_init__ is not Frozen.__post_init__,
        _those(ours, "compare"),
        _those(ours, "repr"),
    )


def _those(ours: Iterable[Field[Any]], what: str) -> tuple[str, ...]:
    """Names of the fields that say of themselves that they are given, compared or shown."""
    return tuple([f.name for f in ours if getattr(f, what)])
