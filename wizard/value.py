"""The same as dataclasses.dataclass for frozen classes, made several times as fast.

A command makes a hundred and some classes before it tells anything, and the library compiles six
functions for each frozen one, one by one. Here it reads the fields alone; of the functions only
`__init__` is compiled, and the others are the same for every class. To mypy and to whoever reads
a class this is the library's own `dataclass`, which makes every class that is not frozen.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from operator import attrgetter
from types import MemberDescriptorType
from typing import TYPE_CHECKING, Any, NoReturn

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:

    def dataclass(
        cls: type | None = None,
        /,
        *,
        frozen: bool = False,
        eq: bool = True,
        slots: bool = False,
        kw_only: bool = False,
    ) -> Any:
        """As a decorator, with or without arguments."""

        def made(cls: type) -> type:
            if not frozen:
                return dataclasses.dataclass(eq=eq, slots=slots, kw_only=kw_only)(cls)
            return _frozen(cls, eq, slots, kw_only)

        return made if cls is None else made(cls)


def _frozen(cls: type, eq: bool, slots: bool, kw_only: bool) -> type:
    own = dict(vars(cls))
    read = dataclasses.dataclass(init=False, repr=False, eq=False, slots=slots, kw_only=kw_only)
    cls = read(cls)
    fields: tuple[dataclasses.Field[Any], ...] = tuple(cls.__dataclass_fields__.values())  # type: ignore[attr-defined]
    functions: dict[str, Callable[..., Any]] = {
        "__init__": _init(cls, fields),
        "__repr__": _repr,
        "__setattr__": _fixed,
        "__delattr__": _fixed,
    }
    if slots:
        functions |= {"__getstate__": _state, "__setstate__": _with_state}
    if eq:
        functions |= _compared(fields)
    for name, function in functions.items():
        if name not in own:
            setattr(cls, name, function)
    return cls


def _init(cls: type, fields: tuple[dataclasses.Field[Any], ...]) -> Callable[..., None]:
    """The one function that is written and compiled for each class.

    A name that belongs to it begins with two low lines, so that none is a field's.
    """
    known: dict[str, Any] = {"__none": dataclasses.MISSING, "__keep": object.__setattr__}
    asked, by_name, body = ["self"], ["*"], []
    for f in fields:
        default, value = _default(f, known)
        if f.init:
            (by_name if f.kw_only else asked).append(f.name + default)
        if f.init or default:  # what has none is left to the class
            body.append(_kept(cls, f.name, value, known))
    if hasattr(cls, "__post_init__"):
        body.append("self.__post_init__()")
    said = ", ".join(asked + by_name if by_name[1:] else asked)
    exec(f"def __init__({said}):\n " + "\n ".join(body or ["pass"]), known)
    made: Callable[..., None] = known["__init__"]
    made.__qualname__ = f"{cls.__qualname__}.__init__"
    return made


def _default(f: dataclasses.Field[Any], known: dict[str, Any]) -> tuple[str, str]:
    """What stands behind a field's name in the list of arguments, and what the field becomes."""
    name = f.name
    if f.default_factory is not dataclasses.MISSING:
        known[f"__make_{name}"] = f.default_factory
        value = f"__make_{name}()"
        return "=__none", f"{value} if {name} is __none else {name}" if f.init else value
    if f.default is not dataclasses.MISSING:
        known[f"__default_{name}"] = f.default
        return f"=__default_{name}", name if f.init else f"__default_{name}"
    return "", name


def _kept(cls: type, name: str, value: str, known: dict[str, Any]) -> str:
    """The line that sets a field: in its slot, where it has one, which is a third quicker."""
    slot = getattr(cls, name, None)
    if not isinstance(slot, MemberDescriptorType):
        return f"__keep(self, {name!r}, {value})"
    known[f"__set_{name}"] = slot.__set__
    return f"__set_{name}(self, {value})"


def _compared(fields: tuple[dataclasses.Field[Any], ...]) -> dict[str, Callable[..., Any]]:
    """Equal where the class is the same and all that counts of it; and the hash that goes with it."""
    names = [f.name for f in fields if f.compare]
    if len(names) > 1:
        values: Callable[[Any], tuple[Any, ...]] = attrgetter(*names)
    else:

        def values(one: Any) -> tuple[Any, ...]:
            return tuple(getattr(one, name) for name in names)

    def same(one: Any, other: object) -> Any:
        return values(one) == values(other) if other.__class__ is one.__class__ else NotImplemented

    def hashed(one: Any) -> int:
        return hash(values(one))

    return {"__eq__": same, "__hash__": hashed}


def _repr(one: Any) -> str:
    said = (f"{f.name}={getattr(one, f.name)!r}" for f in dataclasses.fields(one) if f.repr)
    return f"{type(one).__qualname__}({', '.join(said)})"


def _fixed(_one: object, name: str, *_value: object) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _state(one: Any) -> list[Any]:
    """What is copied or written down of an object that has no dictionary."""
    return [getattr(one, f.name) for f in dataclasses.fields(one)]


def _with_state(one: Any, state: list[Any]) -> None:
    for field, value in zip(dataclasses.fields(one), state, strict=True):
        object.__setattr__(one, field.name, value)
