"""DEVELOPERS.md, "A command", carried out: both faces have the word, and the list of words too."""

from __future__ import annotations

import types
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.recipes.carried_out import carried_out, flat, piped, recipe, sample, screen
from wizard.sitting import commands

pytestmark = pytest.mark.quick

RECIPE = recipe("A command")
DOES = "says how many readings are written down"


def _commands(home: Path, parts: tuple[int, ...] = (0, 1, 2)) -> types.ModuleType:
    """The module with these steps of the recipe carried out."""
    home.mkdir(exist_ok=True)
    carried_out(tuple(RECIPE[n] for n in parts), home)
    module = types.ModuleType("wizard.sitting.commands")
    text = (home / "wizard" / "sitting" / "commands.py").read_text(encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(__import__("sys").modules, module.__name__, module)
        exec(compile(text, "commands.py", "exec"), module.__dict__)
    return module


@pytest.fixture
def survey(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A sample, in a program that has the new word."""
    monkeypatch.setattr(commands, "COMMANDS", _commands(tmp_path / "home").COMMANDS)
    return sample("marigold-2026-05-02", tmp_path / "surveys")


def test_the_plain_prompts_have_it(survey: Path) -> None:
    told = flat(piped(survey, "/count", "/COUNT now"))
    count = survey.read_text(encoding="utf-8").count("[[reading]]")
    assert told.count(f"How many readings Readings written down: {count}.") == 2


def test_the_full_screen_has_it(survey: Path) -> None:
    assert "Readings written down: " in flat(screen(survey, "/count"))


def test_help_lists_it_in_its_own_words(survey: Path) -> None:
    assert f"/count {DOES}" in flat(piped(survey, "/help"))


def test_a_word_that_is_none_is_still_refused(survey: Path) -> None:
    assert "There is no /counts. Type /help to see every word that there is." in flat(
        piped(survey, "/counts")
    )


@pytest.mark.parametrize("parts", [(1, 2), (0, 1)])
def test_without_its_function_or_its_line_there_is_no_such_word(
    tmp_path: Path, parts: tuple[int, ...]
) -> None:
    if 0 in parts:
        assert "count" not in [c.word for c in _commands(tmp_path / "home", parts).COMMANDS]
        return
    with pytest.raises(NameError, match="_count"):
        _commands(tmp_path / "home", parts)
