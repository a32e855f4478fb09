"""DEVELOPERS.md, "What is asked only when it is called for", carried out: nobody is asked until the
owner or a sign calls for it, and then everything has it.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.recipes.carried_out import (
    answered,
    carried_out,
    faults,
    flat,
    piped,
    reading,
    recipe,
    said,
    sample,
)
from tests.sitting.driving import READ, Driver
from wizard.library import load_library
from wizard.library.places import PromptId
from wizard.sitting.recheck import start
from wizard.survey.file import load
from wizard.survey.guide import called_today

RECIPE = recipe("What is asked only when it is called for")
TITLE = "Where the tow hook is held"
TYPED = "/also tow-hook"


@pytest.fixture(scope="module")
def content(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    home = tmp_path_factory.mktemp("also")
    with reading(carried_out(RECIPE, home)):
        yield home


def fresh(content: Path, name: str) -> Path:
    """A whole survey in which no bracket is bent."""
    return sample("bramble-2026-04-11", content / name)


def titles(file: Path) -> list[str]:
    driver = Driver(file.parent, path=file)
    found = [page.title for page in driver.sitting.walk()]
    if driver.sitting.kept:
        driver.sitting.kept.release()
    return found


def test_the_content_is_in_order_with_it(tmp_path: Path) -> None:
    assert faults(carried_out(RECIPE, tmp_path)) == []


@pytest.mark.parametrize(
    ("file", "old", "new", "wanted"),
    [
        ("steps/tow-hook.toml", 'called = "tow-hook"', 'called = "hook"', "'hook' is not known"),
        ("steps/tow-hook.toml", 'called = "tow-hook"\n', "", "no page is called for by it"),
        ("course.toml", "bracket-rivets/{side}", "bracket-rivet/{side}", "is not known"),
        ("course.toml", '"bent-bracket"', '"bent"', "'bent' is not known"),
        ("course.toml", ', instead = "because a bracket is bent"', "", "instead: is missing"),
    ],
)
def test_what_is_wrong_with_it_is_named(
    tmp_path: Path, file: str, old: str, new: str, wanted: str
) -> None:
    path = carried_out(RECIPE, tmp_path) / file
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), encoding="utf-8")
    assert any(wanted in fault for fault in faults(tmp_path / "content"))


def test_nobody_is_asked_and_nothing_is_missing(content: Path) -> None:
    file = fresh(content, "none")
    assert TITLE not in titles(file)
    assert "tow hook" not in said("tell", file, "--all")
    assert "tow hook" not in said("sheet", file).partition("NOT ON THIS SHEET")[0]


def test_also_lists_it_with_what_calls_for_it(content: Path) -> None:
    told = flat(piped(fresh(content, "list"), "/also"))
    assert "tow-hook: where the tow hook is held, 3 min." in told
    assert "An answer can call for it too (because a bracket is bent)." in told


def test_the_owner_calls_for_it_and_takes_it_back(content: Path) -> None:
    file = fresh(content, "owner")
    answered(file, TYPED)
    assert TITLE in titles(file)
    told = flat(piped(file, TYPED, "/also"))
    assert "You are asked for where the tow hook is held already" in told
    assert "You have called for it." in told
    assert "Undone: the call for where the tow hook is held." in flat(piped(file, "/undo"))
    assert TITLE not in titles(file)


def test_what_was_read_of_it_stays_when_the_call_is_taken_back(content: Path) -> None:
    file = fresh(content, "stays")
    answered(file, TYPED, "/go tow-hook", READ, "b c")
    ids = {getattr(r, "prompt", ""): r.id for r in load(file).all_rows()}
    answered(file, f"/strike {ids['also/tow-hook']}!")
    assert TITLE in titles(file)
    answered(file, f"/strike {ids['tow-hook/left']}!")
    assert TITLE not in titles(file)


def test_a_sign_calls_for_it_and_why_is_said(content: Path) -> None:
    file = fresh(content, "sign")
    answered(file, "/go left-rear", READ, "b k", "b v")
    assert TITLE in titles(file)
    assert "You are asked for it, because a bracket is bent." in flat(piped(file, "/also"))


def test_what_is_found_is_told_and_a_re_check_asks_for_it_again(content: Path) -> None:
    file = fresh(content, "found")
    answered(file, TYPED, "/go tow-hook", READ, "b c", "b o")
    assert f"{TITLE}, left: a crack" in flat(said("tell", file, "--all"))
    now = Driver(content).clock()
    again = Driver(content, path=start(file, load_library(), now, content))
    asked = [p.id for page in again.sitting.pages() for p in page.prompts]
    assert [id for id in asked if id.startswith("tow-hook")] == ["tow-hook/left"]  # the crack alone
    assert not called_today(again.sitting.survey), "it was called for then, and not today"
    assert again.sitting.survey.answer_to(PromptId("also/tow-hook")) == "called"


def test_the_sheet_has_it_where_it_is_called_for(content: Path) -> None:
    sheet, _, named = said("sheet", "--layout", "straight-ladder").partition("NOT ON THIS SHEET")
    assert TITLE not in sheet
    assert (
        f"{TITLE} (tow-hook); an answer can call for it too (because a bracket is bent)."
        in flat(named)
    )
    assert TITLE in said("sheet", "--layout", "straight-ladder", "--also", "tow-hook")
    file = fresh(content, "sheet")
    answered(file, TYPED)
    assert TITLE in said("sheet", file)


def test_a_re_check_that_leaves_it_out_asks_for_it_once_it_is_called_for(content: Path) -> None:
    file = fresh(content, "left-out")
    answered(file, TYPED, "/go tow-hook", READ, "b o", "b o")
    now = Driver(content).clock()
    again = Driver(content, path=start(file, load_library(), now, content))
    assert TITLE not in [page.title for page in again.sitting.pages()], "nothing was found there"
    assert again.say(TYPED).kind == "taken"
    assert TITLE in [page.title for page in again.sitting.pages()]
    assert again.say(TYPED).kind == "refused"
