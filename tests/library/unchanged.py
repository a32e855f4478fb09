"""Content with one change is read some five hundred times: what is as it was in a file, and without a
fault, is taken from the time before. Whatever is said of files beside one another is looked at anew.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping
from types import SimpleNamespace
from typing import Any

import pytest

from wizard.library import load, quick, references
from wizard.library.fields import Table
from wizard.library.shapes import Step

KEPT: dict[Hashable, tuple[tuple[object, ...], Any]] = {}
"""What was made, with all that it was made of: while that is kept here, its id is nobody else's."""


def _of(name: str, make: Callable[..., Any], *given: object) -> Any:
    """What is made of just these values, made once."""
    key = name, *map(id, given)
    if key not in KEPT:
        KEPT[key] = given, make(*given)
    return KEPT[key][1]


def _read(name: str, read: Callable[..., Any], table: Table, *more: set[str]) -> Any:
    """A file that says the same; one with a fault is read again, so that the fault is found."""
    key = name, table.file, repr(table.data), *map(repr, map(sorted, more))
    if key in KEPT:
        return KEPT[key][1]
    before = len(table.faults)
    found = read(table, *more)
    if len(table.faults) == before:
        KEPT[key] = (), found
    return found


def _parsed(parse: Callable[[str], Any], text: str) -> Any:
    if ("text", text) not in KEPT:
        KEPT["text", text] = (), parse(text)
    return KEPT["text", text][1]


@pytest.fixture(autouse=True, scope="module")
def _unchanged() -> Iterator[None]:
    step, layout, called, asked, parse = (
        load.read_step,
        load.read_layout,
        load._with_call,
        references._asked,
        quick.parse,
    )
    said: tuple[object, str] = None, ""

    def with_call(one: Step, also: Mapping[str, Any]) -> Any:
        nonlocal said
        if said[0] is not also:
            said = also, repr(also)
        key = "called", id(one), said[1]
        if key not in KEPT:
            KEPT[key] = (one,), called(one, also)
        return KEPT[key][1]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(load, "read_step", lambda t: _read("step", step, t))
        patch.setattr(load, "read_layout", lambda t, points: _read("layout", layout, t, points))
        patch.setattr(load, "_with_call", with_call)
        parsed = SimpleNamespace(parse=lambda text: _parsed(parse, text))
        patch.setattr(load, "quick", parsed)
        patch.setattr(references, "_asked", lambda s, y: _of("asked", asked, s, y))
        yield
