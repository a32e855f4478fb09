"""How the maker shaped the rails: asked only when called for, told, reported, kept by a re-check."""

import json
from datetime import datetime
from pathlib import Path

import pytest

from tests.checks.surveys import library
from tests.sitting.driving import BEGUN, READ, Driver
from tests.sitting.test_sun import TOOLS
from wizard.checks.case import case_of
from wizard.checks.edge import depths_read
from wizard.command import main
from wizard.sitting.recheck import start
from wizard.survey.guide import pages
from wizard.survey.prompts import wanting
from wizard.survey.rows import Reading

DEPTHS = ("4", "4 1/4", "4 1/2", "4 1/2", "4 1/4", "4 1/2", "4", "4")
"""At the five stations, once more at the engine mount, and where the blocks stand."""
NAME = "by-make"


def at_string(driver: Driver, where: str) -> Driver:
    return driver.run(*BEGUN, *TOOLS, "/go string-set-up", READ, "2", "86!", where, "n")


def asked(driver: Driver) -> bool:
    return NAME in {str(p.step.id) for p in pages(driver.survey, library(), driver.clock())}


def test_nobody_is_asked_whose_string_runs_above(driver: Driver) -> None:
    at_string(driver, "a")
    assert not asked(driver)
    assert not driver.at.startswith(NAME)


def test_the_owner_calls_for_it(driver: Driver) -> None:
    at_string(driver, "a").run(f"/also {NAME}")
    assert asked(driver)
    driver.run("/undo")
    assert not asked(driver)


def test_a_string_below_calls_for_it_and_it_comes_next(driver: Driver) -> None:
    at_string(driver, "b")
    assert driver.at == f"{NAME}/edges"
    driver.run("k")
    assert not driver.at.startswith(NAME), "nobody knows: nothing more to ask"


def test_where_it_is_known_from_is_asked_and_no_depth_of_a_straight_edge(driver: Driver) -> None:
    at_string(driver, "b").run("s")
    assert driver.at == f"{NAME}/known-by"
    driver.run("d")
    assert not driver.at.startswith(NAME)


@pytest.fixture
def deeper(driver: Driver) -> Path:
    """The rails deeper in the middle, each depth read, and the string read below."""
    at_string(driver, "b").run("d", "book")
    for depth in DEPTHS:
        assert driver.at.startswith(NAME), driver.at
        driver.run(depth)
    assert not driver.at.startswith(NAME)
    driver.run("/go sag-loaded", READ, *["1 1/2!"] * 10)
    assert driver.sitting.kept
    driver.sitting.kept.release()
    assert driver.sitting.path
    return driver.sitting.path


def _told(capsys: pytest.CaptureFixture[str], *argv: str) -> str:
    assert main(list(argv)) == 0
    return " ".join(capsys.readouterr().out.split())


def test_it_is_told_and_reported_with_where_it_is_known_from(
    deeper: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = "straight from the maker (known from figures in the car's own book), and they are deeper"
    assert said in _told(capsys, "tell", str(deeper), "--all")
    assert said in _told(capsys, "report", str(deeper))
    assert "hand, by make engine mount depth" in _told(capsys, "tell", str(deeper), "--mentor")


def test_the_depths_are_taken_out_of_the_sag(
    deeper: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Gaps of half an inch less than the blocks, of which half an inch is the rail's own depth there."""
    found = json.loads(_told(capsys, "tell", str(deeper), "--json"))["findings"]
    sags = {f["id"]: f["value"] for f in found if f["quantity"] == "sag-loaded"}
    assert sags["sag-loaded/center/left"] == pytest.approx(0.0, abs=0.6)


def test_nobody_knows_is_told_in_the_answer(
    driver: Driver, capsys: pytest.CaptureFixture[str]
) -> None:
    at_string(driver, "b").run("k", "/go sag-loaded", READ, *["1 1/2!"] * 10)
    told = _told(capsys, "tell", str(driver.sitting.path), "--all")
    assert "nobody knows whether the maker made that straight" in told
    assert "a string does not tell it from the maker's own shape of that edge" in told
    assert "To find out, see how the maker shaped that edge: /also calls" in told
    assert "hangs" not in told.partition("Every finding")[0]


def test_below_and_not_asked_says_what_it_supposes(
    driver: Driver, capsys: pytest.CaptureFixture[str]
) -> None:
    at_string(driver, "b").run("/go sag-loaded", READ, *["1 7/8!"] * 10)
    told = _told(capsys, "tell", str(driver.sitting.path), "--all")
    assert "What is told of sag supposes that it was: /also calls for that page." in told


def test_a_re_check_knows_it_and_asks_no_more(deeper: Path) -> None:
    path = start(deeper, library(), datetime(2026, 10, 1, 9), deeper.parent)
    again = Driver(deeper.parent, path=path)
    left = [q for p in again.sitting.pages() if p.step.id == NAME for q in p.prompts]
    assert not any(wanting(again.survey, prompt) for prompt in left)
    assert again.survey.answer_to(f"{NAME}/edges") == "top-straight"
    assert depths_read(case_of(again.survey, library()))
    kept = {r.prompt: r.typed for r in again.survey.standing(Reading)}
    assert kept[f"{NAME}/center/depth"] == "4 1/2 in"


def test_it_is_on_paper_when_called_for(capsys: pytest.CaptureFixture[str]) -> None:
    title = library().steps[NAME].title.upper()
    assert title not in _told(capsys, "sheet")
    sheet = _told(capsys, "sheet", "--also", NAME)
    assert title in sheet
    assert "d top straight, deeper in places" in sheet
