"""Frozen classes made the quick way, held to the library's own: each is made twice and compared."""

from __future__ import annotations

import copy
import dataclasses
import inspect
import pickle
from collections.abc import Callable
from dataclasses import field
from functools import cached_property
from typing import Any

import pytest

from wizard import value

Make = Callable[..., Any]
WAYS: tuple[dict[str, bool], ...] = (
    {"frozen": True},
    {"frozen": True, "slots": True},
    {"frozen": True, "eq": False},
    {"frozen": True, "slots": True, "eq": False},
    {"frozen": True, "slots": True, "kw_only": True},
    {"slots": True},
    {},
)
MAKERS: dict[str, Make] = {"quick": value.dataclass, "library": dataclasses.dataclass}


def _plain(make: Make, **way: bool) -> Any:
    @make(**way)
    class Plain:
        """Some fields of each sort."""

        a: int
        b: str = "b"
        many: dict[str, int] = field(default_factory=dict)
        beside: int = field(default=3, compare=False, repr=False)
        later: str = field(init=False, repr=False, compare=False)
        set_later: int = field(default=7, init=False)
        own: list[int] = field(default_factory=list, init=False, compare=False)

        def __post_init__(self) -> None:
            object.__setattr__(self, "later", f"{self.a}{self.b}")

    return Plain


def _heir(make: Make, **way: bool) -> Any:
    above = _plain(make, **way)

    @make(**way)
    class Heir(above):  # type: ignore[misc]
        """One more field, and another default for one from above."""

        b: str = "heir"
        c: float = 0.5

    return Heir


def _one(make: Make, **way: bool) -> Any:
    @make(**way)
    class One:
        """A single field."""

        only: int

    return One


def _none(make: Make, **way: bool) -> Any:
    @make(**way)
    class Nothing:
        """No field at all."""

    return Nothing


def _own(make: Make, **way: bool) -> Any:
    @make(**way)
    class Own:
        """What a class says for itself stands."""

        a: int

        def __eq__(self, other: object) -> bool:
            return True

        def __hash__(self) -> int:
            return 5

        def __repr__(self) -> str:
            return "own"

    return Own


SHAPES = {"plain": _plain, "heir": _heir, "one": _one, "none": _none, "own": _own}
ARGUMENTS: tuple[tuple[tuple[Any, ...], dict[str, Any]], ...] = (
    ((), {}),
    ((1,), {}),
    ((), {"a": 1}),
    ((), {"only": 4}),
    ((1, "x"), {"many": {"y": 2}}),
    ((), {"a": 1, "b": "x", "c": 2.0}),
    ((1,), {"beside": 9}),
    ((1,), {"later": "no"}),
    ((1,), {"a": 2}),
    ((), {"nowhere": 1}),
)


def _tried(made: Callable[[], Any]) -> Any:
    """What comes of it, or the kind of refusal; without where it was tried."""
    try:
        found = made()
    except Exception as error:
        return type(error)
    return found.replace("_plain", "").replace("_heir", "") if isinstance(found, str) else found


def _all_of(kind: Any, other: Any, args: Any) -> list[Any]:
    """Everything that can be asked of an object made with these arguments."""
    one = _tried(lambda: kind(*args[0], **args[1]))
    if isinstance(one, type):
        return [one]
    again = kind(*args[0], **args[1])
    names = [f.name for f in dataclasses.fields(one)]
    return [
        repr(one),
        names,
        [getattr(one, name) for name in names],
        one == again,
        one != again,
        one == other,
        _tried(lambda: hash(one) == hash(again)),
        hasattr(one, "__dict__"),
        _tried(lambda: repr(dataclasses.replace(one, a=5))),
        _tried(lambda: repr(dataclasses.asdict(one))),
        repr(copy.copy(one)),
        repr(copy.deepcopy(one)),
        [f for f in names if getattr(one, f) is getattr(again, f)],
        [_tried(lambda name=name: setattr(one, name, 2)) for name in names],
        [_tried(lambda name=name: delattr(one, name)) for name in names],
    ]


@pytest.mark.parametrize("args", ARGUMENTS, ids=str)
@pytest.mark.parametrize("way", WAYS, ids=str)
@pytest.mark.parametrize("shape", SHAPES)
def test_a_class_is_as_the_library_makes_it(shape: str, way: dict[str, bool], args: Any) -> None:
    kinds = {name: SHAPES[shape](make, **way) for name, make in MAKERS.items()}
    other = _one(dataclasses.dataclass)(4)
    quick, library = (_all_of(kinds[name], other, args) for name in ("quick", "library"))
    assert quick == library


@pytest.mark.parametrize("way", WAYS, ids=str)
@pytest.mark.parametrize("shape", SHAPES)
def test_its_arguments_are_the_same(shape: str, way: dict[str, bool]) -> None:
    def asked(make: Make) -> list[tuple[str, Any, bool]]:
        made = SHAPES[shape](make, **way)
        given = inspect.signature(made.__init__).parameters.values()
        return [(p.name, p.kind, p.default is p.empty) for p in given]

    assert asked(value.dataclass) == asked(dataclasses.dataclass)
    names = [SHAPES[shape](make, **way).__match_args__ for make in MAKERS.values()]
    assert names[0] == names[1]


@value.dataclass(frozen=True, slots=True)
class Kept:
    """One that can be found again by its name."""

    a: int
    b: tuple[int, ...] = ()


def test_it_is_written_down_and_read_back() -> None:
    one = Kept(1, (2, 3))
    assert pickle.loads(pickle.dumps(one)) == one
    with pytest.raises(dataclasses.FrozenInstanceError):
        one.a = 2  # type: ignore[misc]


def test_two_kinds_with_the_same_fields_are_not_equal() -> None:
    first, second = _one(value.dataclass, frozen=True), _one(value.dataclass, frozen=True)
    assert first(1) != second(1)


def test_what_is_kept_beside_the_fields_is_kept() -> None:
    @value.dataclass(frozen=True)
    class Once:
        """A value with something worked out once."""

        a: int

        @cached_property
        def twice(self) -> list[int]:
            return [2 * self.a]

    one = Once(2)
    assert one.twice is one.twice
    assert one.twice == [4]
