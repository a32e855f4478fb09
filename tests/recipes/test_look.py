"""DEVELOPERS.md, "A look", carried out: the page is asked, and what was seen there is told."""

from __future__ import annotations

import json
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
    reports,
    said,
    sample,
    screen,
    unnamed,
)
from tests.sitting.driving import READ, Driver
from wizard.library import load_library
from wizard.sitting.model_desk import ModelDesk
from wizard.sitting.recheck import start
from wizard.survey.file import load
from wizard.survey.rows import Look

RECIPE = recipe("A look")
TITLE = "Where the steering box is held"
SEEN = f"{TITLE}, left: a crack"
WELDED = f"({TITLE}, right.)"


@pytest.fixture(scope="module")
def looked(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A whole survey with the new page answered: a crack on the left, a weld on the right."""
    home = tmp_path_factory.mktemp("look")
    with reading(carried_out(RECIPE, home)):
        file = sample("bramble-2026-04-11", home / "surveys")
        answered(file, "/go steering-box", READ, "b c", "p r")
        yield file


def test_the_content_is_in_order_with_it(tmp_path: Path) -> None:
    assert faults(carried_out(RECIPE, tmp_path)) == []


def test_each_part_left_out_is_named(tmp_path: Path) -> None:
    page, course, _ = RECIPE
    no_page = faults(carried_out((course,), tmp_path / "no-page"))
    assert [f.split(";")[0] for f in no_page] == [
        f"course.toml: courses.{name}: 'steering-box' is not known" for name in ("whole", "recheck")
    ]
    assert [f.split(";")[0] for f in faults(carried_out((page,), tmp_path / "no-course"))] == [
        "course.toml: courses.recheck: 'steering-box' can stop a survey, but no re-check looks there"
        " again",
        "steering-box.toml: id: no course names this page",
    ]


def test_each_field_is_named_but_for_those_that_may_be_left_out(tmp_path: Path) -> None:
    may_go = ("again", "drawing", "words", "paper", "alone", "mentor")
    silent = unnamed(RECIPE, tmp_path, "straight-ladder")
    fields = [line for line in silent if not line.startswith(("{", '"'))]
    assert sorted(line.split(" ")[0] for line in fields) == sorted(may_go)
    # One move, one thing that spoils it or one answer less is a shorter page and still a page.
    assert not [line for line in silent if "nothing-found" in line]


@pytest.mark.parametrize(
    ("mark", "instead", "wanted"),
    [
        (", nothing = true", "", "choice.nothing: is not said by just one answer of a look"),
        ('"welds"', '"weld"', "did you mean 'welds'?"),
        ("stop = true", "stop = true, loose = true", "stop: outranks loose and speaks"),
        ("stop = true", "loose = true", "loose: does not belong to a joint"),
    ],
)
def test_a_mark_that_says_nothing_is_named(
    tmp_path: Path, mark: str, instead: str, wanted: str
) -> None:
    content = carried_out(RECIPE, tmp_path)
    page = content / "steps" / "steering-box.toml"
    text = page.read_text(encoding="utf-8")
    assert text.count(mark) == 1
    page.write_text(text.replace(mark, instead), encoding="utf-8")
    assert any(wanted in fault for fault in faults(content, "straight-ladder"))


def test_the_wizard_asks_it_and_shows_what_was_answered(looked: Path) -> None:
    shown = flat(screen(looked, "/go steering-box"))
    assert TITLE in shown
    assert "Where the steering box is held, left rail?" in shown
    assert "how seen: b bare p painted d dirty n not reached" in shown
    assert "> left rail a crack (bare) right rail torn once and welded again (painted)" in shown


def test_the_plain_prompts_ask_it_too(looked: Path) -> None:
    told = flat(piped(looked, "/go steering-box", "/why", "/readings"))
    assert "Where the steering box is held, left rail?" in told
    assert "The steering box pulls at one rail for a whole life" in told
    assert "left rail: a crack (bare)" in told


def test_tell_stops_at_it_and_holds_what_was_welded(looked: Path) -> None:
    told = flat(said("tell", looked, "--all"))
    assert "somebody who knows frames must look at it first." in told.split("What to do")[0]
    assert "Crack where the left steering box is held." in flat(said("tell", looked))
    assert f"{SEEN} (the place was bare)." in told
    assert WELDED in told


def test_the_mentor_s_view_and_json_have_it(looked: Path) -> None:
    told = flat(said("tell", looked, "--mentor"))
    assert f"{SEEN} (bare)." in told
    assert f"{TITLE}, right: torn once and welded again (painted)." in told
    data = json.loads(said("tell", looked, "--json"))
    cracked = next(k.id for k in load(looked).standing(Look) if k.prompt == "steering-box/left")
    assert data["verdict"]["stops"] == [cracked]
    assert SEEN in flat(data["verdict"]["text"])


def test_the_report_has_it_in_each_form(looked: Path) -> None:
    told = {kind: flat(text.replace("\\", "")) for kind, text in reports(looked).items()}
    for kind in ("html", "md", "txt"):
        assert f"{SEEN} (the place was bare)." in told[kind], kind
        assert f"{TITLE}, right" in told[kind], kind
    assert "torn once and welded again" in told["html"]
    assert "steering-box" not in told["csv"]  # figures alone


def test_the_sheet_has_a_box_for_each_side(looked: Path) -> None:
    told = flat(said("sheet", "--layout", "a-frame"))
    assert f"{TITLE}, left rail? ." in told
    assert f"{TITLE}, right rail? ." in told
    assert "Rag and low lamp round each bolt; turn the wheel a little and watch." in told


def test_a_re_check_looks_there_again(looked: Path, tmp_path: Path) -> None:
    again = Driver(tmp_path, path=start(looked, load_library(), Driver(tmp_path).clock(), tmp_path))
    asked = [p.id for page in again.sitting.pages() for p in page.prompts]
    assert [id for id in asked if id.startswith("steering-box")] == [
        "steering-box/left",
        "steering-box/right",
    ]


def test_the_model_opens_straight_on_it_and_has_no_reading(looked: Path) -> None:
    desk = ModelDesk(load_library(), Driver(looked.parent, path=looked).survey, "steering-box")
    assert desk.bent == type(desk.bent)()
