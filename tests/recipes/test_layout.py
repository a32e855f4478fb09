"""DEVELOPERS.md, "A layout", carried out: a kind of frame that can be chosen, walked and told."""

from __future__ import annotations

import json
import re
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
    screen,
    unnamed,
)
from tests.sitting.driving import READ, Driver, likely
from wizard.library import load_library
from wizard.model.bent import Bent
from wizard.model.frame import Frame
from wizard.model.kit import Kit
from wizard.model.readings import prompts_of, survey_on
from wizard.survey.file import save

RECIPE = recipe("A layout")
ID, NAME, WORDS = "van-ladder", "ladder of a light van", "ladder of a light van, no horns"
KINDS = ("place", "box", "station", "level", "figures")


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder for surveys; the program reads content in which the recipe was carried out."""
    folder = tmp_path_factory.mktemp("layout")
    with reading(carried_out(RECIPE, folder)):
        yield folder


@pytest.fixture(scope="module")
def begun(home: Path) -> Path:
    """A new survey of such a frame, its first page answered."""
    folder = home / "begun"
    folder.mkdir()
    driver = Driver(folder)
    while driver.sitting.prompt is not None and driver.at.startswith("about-the-car"):
        chooses = driver.sitting.prompt.keep == "survey.layout"
        driver.run("v" if chooses else likely(driver.sitting.prompt))
    assert driver.sitting.path
    assert driver.sitting.kept
    driver.sitting.kept.release()
    return driver.sitting.path


def taped(home: Path, name: str, bent: Bent) -> Path:
    """A whole survey of such a frame, as the model reads it."""
    library = load_library()
    frame = Frame(library.layouts[ID], bent)
    path = home / f"{name}.toml"
    save(path, survey_on(frame, prompts_of(frame, library), kit=Kit()))
    return path


@pytest.fixture(scope="module")
def slipped(home: Path) -> Path:
    """A whole survey of one whose right rail slid 8 mm back along its twin."""
    return taped(home, "slipped", Bent(diamond=8.0))


def test_the_content_is_in_order_with_it(tmp_path: Path) -> None:
    assert faults(carried_out(RECIPE, tmp_path)) == []


def test_each_part_left_out_is_named(tmp_path: Path) -> None:
    frame, answer = RECIPE
    assert faults(carried_out((frame,), tmp_path / "no-answer")) == [
        f"about-the-car.toml: prompt.choice: the layout '{ID}' cannot be chosen;"
        " add a choice for it"
    ]
    found = [f.split(";")[0] for f in faults(carried_out((answer,), tmp_path / "no-frame"))]
    assert found == [f"about-the-car.toml: prompt.choice.token: '{ID}' is not known"]


def test_each_field_is_named_but_for_those_that_may_be_left_out(tmp_path: Path) -> None:
    may_go = ("engine_front_x", "engine_mount_x", "note", "repeats")
    silent = unnamed(RECIPE, tmp_path, ID)
    assert sorted(line.split(" ")[0] for line in silent) == sorted(may_go)


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_of_table_left_out_is_named(tmp_path: Path, kind: str) -> None:
    content = carried_out(RECIPE, tmp_path)
    path = content / "layouts" / f"{ID}.toml"
    tables = re.split(r"\n(?=\[)", path.read_text(encoding="utf-8"))
    kept = [table for table in tables if not re.match(rf"\[+{kind}\]", table)]
    assert len(kept) < len(tables)
    path.write_text("\n".join(kept), encoding="utf-8")
    assert any(kind in fault and f"{ID}.toml" in fault for fault in faults(content, ID))


@pytest.mark.parametrize(
    ("old", "new", "wanted"),
    [
        ('"riveted"', '"bolted"', "traits: do not say one of riveted and welded"),
        ("track = ", "treck = ", "figures.treck: is not known; did you mean 'track'?"),
        ('id = "rear-box"', 'id = "back-box"', "box: 'rear-box' is missing"),
        (
            'role = "first"\n',
            "",
            "level.role: no place for the level is marked as the one to come back to",
        ),
    ],
)
def test_what_code_goes_by_is_named(tmp_path: Path, old: str, new: str, wanted: str) -> None:
    content = carried_out(RECIPE, tmp_path)
    path = content / "layouts" / f"{ID}.toml"
    path.write_text(path.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
    assert any(f"{ID}.toml: {wanted}" in fault for fault in faults(content, ID))


def test_the_wizard_offers_and_draws_it(home: Path, begun: Path) -> None:
    new = home / "new"
    new.mkdir()
    driver = Driver(new).run("Van", "i")
    assert driver.sitting.prompt
    assert driver.sitting.prompt.ask == "Which of these looks most like your frame?"
    assert "v" in [c.letter for c in driver.sitting.prompt.choices]
    kinds = driver.say("/why").says
    assert f"v  {WORDS}\nTwo straight rails of one width and three crossmembers," in kinds
    assert f"kind of frame: {WORDS}" in flat(piped(begun, "/readings"))
    assert f"kind of frame {WORDS}" in flat(screen(begun, "/go about-the-car"))


def test_its_pages_are_those_of_its_traits_and_boxes(home: Path, begun: Path) -> None:
    driver = Driver(home, path=begun)
    asked = {page.step.id for page in driver.sitting.pages() if not page.gone}
    assert {"long-diagonals", "front-crossmember-rivets", "inside-channel", "level"} <= asked
    assert not {"horns", "joint-welds", "closed-rails", "kick-bends"} & asked
    assert driver.sitting.kept
    driver.sitting.kept.release()


def test_a_page_shows_its_own_places(begun: Path) -> None:
    answered(begun, "/go widths", READ)
    assert "left front to right front" in flat(screen(begun, "/go widths"))


def test_tell_and_json_find_the_slip(slipped: Path) -> None:
    told = flat(said("tell", slipped, "--all"))
    assert "whole frame" in told
    findings = {f["id"]: f for f in json.loads(said("tell", slipped, "--json"))["findings"]}
    for box in ("whole", "front-box", "rear-box"):
        shift = findings[f"rail-shift/{box}"]
        assert (shift["unit"], shift["value"]) == ("mm", pytest.approx(8.0, abs=0.6)), box
    assert "horn/difference" not in findings
    assert "hand, long diagonals" in flat(said("tell", slipped, "--mentor"))


def test_compare_names_what_moved(home: Path, slipped: Path) -> None:
    told = flat(said("compare", taped(home, "straight", Bent()), slipped))
    assert "Whole frame: one rail along the other: then 0 mm, now 8 mm right rail back." in told


def test_the_report_and_the_sheet_are_of_that_frame(slipped: Path) -> None:
    told = reports(slipped)
    for kind in ("html", "md", "txt"):
        assert "left front to right rear" in flat(told[kind].replace("\\", "")), kind
    assert "front-left--rear-right" in told["csv"]
    sheet = flat(said("sheet", "--layout", ID))
    assert NAME in sheet
    assert "left front to right rear (1 to 6) ." in sheet
    assert "behind the center" in sheet


def test_the_model_bends_it(home: Path) -> None:
    from wizard.sitting.model_desk import ModelDesk, handle

    desk = ModelDesk(load_library(), layout=load_library().layouts[ID])
    reply = handle(desk, "diamond 6 mm")
    assert reply.kind == "taken", reply
    assert desk.bent.diamond == pytest.approx(6.0)
