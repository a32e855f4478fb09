"""The examples that stand in the program's own texts are true."""

import doctest
from importlib import import_module
from pathlib import Path

import pytest

import wizard

pytestmark = pytest.mark.quick

HOUSE = Path(wizard.__file__).parent
WITH_EXAMPLES = [
    ".".join(path.relative_to(HOUSE.parent).with_suffix("").parts)
    for path in sorted(HOUSE.rglob("*.py"))
    if ">>> " in path.read_text(encoding="utf-8")
]


@pytest.mark.parametrize("name", WITH_EXAMPLES)
def test_every_example_is_as_it_says(name: str) -> None:
    found = doctest.testmod(import_module(name), optionflags=doctest.ELLIPSIS)
    assert found.attempted
    assert not found.failed


def test_there_are_some() -> None:
    assert len(WITH_EXAMPLES) > 20
