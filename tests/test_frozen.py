"""A frozen class is the library's frozen dataclass in all that a reader of it can see."""

from __future__ import annotations

import copy
import pickle
from dataclasses import FrozenInstanceError, dataclass, field, fields, replace

import pytest

from wizard.frozen import Frozen
from wizard.survey.rows import TABLES, Row

pytestmark = pytest.mark.quick


@dataclass(frozen=True)
class Theirs:
    """As the library makes it."""

    id: str
    at: float = 1.0
    more: dict[str, str] = field(default_factory=dict)
    aside: str = field(default="", compare=False)
    long: str = field(init=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "long", f"{self.id}!")


class Ours(Frozen):
    """The same."""

    id: str
    at: float = 1.0
    more: dict[str, str] = field(default_factory=dict)
    aside: str = field(default="", compare=False)
    long: str = field(init=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "long", f"{self.id}!")


class Heir(Ours):
    """With a field more, that is named."""

    last: int = field(kw_only=True)


class Bare(Frozen):
    """With nothing to add to what it is given."""

    id: str
    at: float = 1.0
    more: dict[str, str] = field(default_factory=dict)


class Alone(Frozen):
    """Equal to itself only."""

    __eq__, __hash__ = object.__eq__, object.__hash__
    at: float = 1.0


@pytest.mark.parametrize(
    ("given", "named"),
    [
        (("a",), {}),
        (("a", 2.0), {}),
        ((), {"id": "a", "more": {"b": "c"}}),
        (("a", 2.0, {"b": "c"}), {"aside": "d"}),
    ],
)
def test_it_is_made_and_shown_as_the_librarys(given, named):
    ours, theirs = Ours(*given, **named), Theirs(*given, **named)
    assert repr(ours) == repr(theirs).replace("Theirs", "Ours")
    assert [f.name for f in fields(ours)] == [f.name for f in fields(theirs)]
    assert repr(replace(ours, at=3.0)) == repr(replace(theirs, at=3.0)).replace("Theirs", "Ours")


@pytest.mark.parametrize(
    ("given", "named"),
    [((), {}), (("a",), {"unknown": 1}), (("a", 1.0, {}, "", "b"), {}), ((), {"at": 1.0})],
)
def test_what_the_library_refuses_is_refused(given, named):
    for kind in (Theirs, Ours):
        with pytest.raises(TypeError):
            kind(*given, **named)


def test_equal_are_those_of_one_kind_whose_compared_fields_are():
    assert Ours("a") == Ours("a", aside="b")
    assert Ours("a") != Ours("a", 2.0)
    assert Ours("a") != Theirs("a")
    assert Ours("a") != Heir("a", last=1)
    assert hash(Alone()) != hash(Alone())
    assert Alone() != Alone()


def test_equal_ones_are_one_key():
    class Key(Frozen):
        """A key."""

        name: str

    assert len({Key("a"), Key("a"), Key("b")}) == 2


def test_it_is_frozen():
    one = Ours("a")
    with pytest.raises(FrozenInstanceError):
        one.id = "b"
    with pytest.raises(FrozenInstanceError):
        del one.id
    assert one.id == "a"


def test_each_has_its_own_of_what_is_made_for_it():
    assert Ours("a").more is not Ours("a").more


def test_an_heir_has_the_fields_of_both():
    assert [f.name for f in fields(Heir)] == ["id", "at", "more", "aside", "long", "last"]
    assert (Heir("a", last=1).last, Heir("a", last=1).long) == (1, "a!")


def test_it_can_be_sent_and_copied():
    one = Heir("a", 2.0, {"b": "c"}, last=1)
    assert copy.deepcopy(one) == one
    assert pickle.loads(pickle.dumps(one)) == one


def test_what_is_filled_is_what_would_be_made() -> None:
    made, filled = Bare("a", more={"b": "c"}), Bare.filled({"id": "a", "more": {"b": "c"}})
    assert made == filled
    assert vars(made) == vars(filled)
    assert type(filled) is Bare


@pytest.mark.parametrize("kind", TABLES.values())
def test_a_row_may_be_filled(kind: type[Row]) -> None:
    """Nothing is added to what a row is given, and nothing but its extra keys has to be made."""
    assert vars(kind.filled({"id": "r1", "extra": {}})) == vars(kind("r1"))
