"""The body on its mounts and what must be free after work on the frame: called for, walked by keyboard,
typed from a sheet, told, reported, compared and measured again.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from tests.recipes.carried_out import answered, flat, piped, reports, said, sample, screen
from tests.sitting.driving import READ, Clock, Driver
from wizard.judgment.change import compare
from wizard.library import load_library
from wizard.library.places import PromptId
from wizard.sitting.recheck import start
from wizard.survey.file import load
from wizard.survey.rows import Look, State
from wizard.telling.change_words import compare_text
from wizard.telling.not_driven import NOT_DRIVEN

CAR = "bramble-2026-04-11"
SHIMS = ("3", "1/4", "0", "3 steel left, none right", "1/8", "1/8", "-", "0", "0", "-")
STATIONS = 10
"""Readings of a rail: five stations, each twice."""
SLACK = (READ, "y", "s", READ, "0", "0", *["50.0 mm"] * 2 * STATIONS)
TIGHT = (READ, "y", "s", READ, *["54.0 mm"] * STATIONS, *["50.2 mm"] * STATIONS)
BODY = ("/also body-mounts", "/go body-shims", READ, *SHIMS)
STRING = ("/go string-slack", *SLACK, "/go string-tight", *TIGHT)
FREE = ("/also drive-line", "/go what-is-free", READ, "b")


@pytest.fixture(scope="module")
def walked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The first sample with both called for and walked through, line by line."""
    file = sample(CAR, tmp_path_factory.mktemp("walked"))
    answered(file, *BODY, *STRING)
    answered(file, *FREE[:3], "b s r", "b x", "b x")
    return file


def all_of(file: Path) -> str:
    return flat(said("tell", file, "--all"))


# Called for ---------------------------------------------------------------------------------------


def titles(file: Path) -> Iterator[str]:
    driver = Driver(file.parent, path=file)
    yield from (page.title for page in driver.sitting.walk())
    if driver.sitting.kept:
        driver.sitting.kept.release()


PAGES = {
    "body-mounts": (
        "Shims under each mount",
        "String, body bolts slack",
        "String, body bolts tight",
    ),
    "drive-line": ("What must be free",),
}


@pytest.mark.parametrize(("id", "pages"), PAGES.items())
def test_nobody_is_asked_before_it_is_called_for(
    tmp_path: Path, id: str, pages: tuple[str, ...]
) -> None:
    file = sample(CAR, tmp_path)
    assert not set(pages) & set(titles(file))
    answered(file, f"/also {id}")
    assert set(pages) & set(titles(file))


@pytest.mark.parametrize(("seen", "asked"), [(("b s", "f"), True), (("b m", "f"), False)])
def test_one_stack_far_higher_than_its_twin_calls_for_it(
    tmp_path: Path, seen: tuple[str, ...], asked: bool
) -> None:
    file = sample(CAR, tmp_path)
    answered(file, "/go left-beside", READ, "b k", *seen)
    assert (PAGES["body-mounts"][0] in set(titles(file))) is asked
    why = "because one stack of shims is far higher than its twin"
    told = flat(piped(file, "/also"))
    assert (f"You are asked for it, {why}" in told) is asked


@pytest.mark.parametrize(("letter", "asked"), [("n", False), ("s", True), ("j", True)])
def test_after_work_on_the_frame_the_re_check_asks_what_is_free(
    tmp_path: Path, letter: str, asked: bool
) -> None:
    clock = Clock()
    clock.at = datetime(2026, 10, 10, 9, 30)
    path = start(sample(CAR, tmp_path), load_library(), clock.at, tmp_path)
    driver = Driver(tmp_path, path=path, clock=clock)
    driver.run("/go since-last-time", "900 miles", "n", letter)
    there = "drive-line" in {page.step.id for page in driver.sitting.pages()}
    assert there is asked


# The body -----------------------------------------------------------------------------------------


def test_what_was_taped_with_the_body_loose_is_not_asked_anew_from_below(walked: Path) -> None:
    driver = Driver(walked.parent, path=walked)
    gone = {p.step.id: p.gone for p in driver.sitting.pages()}
    if driver.sitting.kept:
        driver.sitting.kept.release()
    assert gone["long-diagonals"]
    assert not gone["diagonals-below"]


def test_the_state_follows_the_bolts_and_each_turn_asks_for_the_push_test(walked: Path) -> None:
    survey = load(walked)
    bodies = [s.body for s in survey.rows["state"]]  # type: ignore[attr-defined]
    assert bodies[-2:] == ["loosened", "bolted"] or bodies[-1] == "bolted"
    slack, tight = (
        survey.readings_of(PromptId(f"{page}/center/left"))
        for page in ("string-slack", "string-tight")
    )
    assert survey.state_of(slack[0].state).body == "loosened"
    assert survey.state_of(tight[0].state).body == "bolted"


def test_what_lies_under_each_mount_is_kept_as_typed(walked: Path) -> None:
    survey = load(walked)
    assert [r.typed for r in survey.readings_of(PromptId("body-shims/left/pair-1"))] == ["1/4"]
    assert survey.answer_to(PromptId("body-shims/pair-1-made-of")) == "3 steel left, none right"
    told = all_of(walked)
    assert "Under the first pair of body mounts the shims are 1/4 in higher on the left" in told
    assert "Under the second pair of body mounts the shims are as high on the left" in told
    assert "fourth pair" not in told


def test_which_holds_which_is_told_with_its_doubt_and_its_limit(walked: Path) -> None:
    told = all_of(walked)
    assert (
        "Drawn tight, the body bolts lift the left rail 5/32 in at the rear engine mount, give or take"
        " 1/16 in; there the body holds the frame straighter than it lies by itself. Keep an eye on"
        " it. (Limit: this project's own figure; no published limit was found.)" in told
    )
    assert "The body bolts do not move the right rail at the center crossmember, as far as" in told
    data = json.loads(said("tell", walked, "--json"))
    [found] = [f for f in data["findings"] if f["id"] == "body-pull/engine-mount/left"]
    assert (round(found["value"], 3), found["unit"], found["bands"]) == (4.0, "mm", ["watch"])
    assert 0.3 < found["u"] < 1.0


def test_a_gap_that_closes_while_no_rail_moves_is_the_bodys(tmp_path: Path) -> None:
    file = sample(CAR, tmp_path)
    still = (READ, "y", "s", READ, *["50.1 mm"] * 2 * STATIONS)
    wide = (READ, "y", "s", READ, "0", "5/16", *["50.0 mm"] * 2 * STATIONS)
    answered(file, "/also body-mounts", "/go string-slack", *wide, "/go string-tight", *still)
    gave = "the gap over the shims on that side was wider than that, so there the frame holds"
    told = all_of(file)
    assert told.count(gave) == 2  # among what was called for, and among all figures
    assert "move the right rail" in told.partition(gave)[0].rpartition("The body bolts")[2]


def test_body_off_there_is_nothing_to_draw_tight(tmp_path: Path) -> None:
    file = sample(CAR, tmp_path)
    answered(
        file,
        "/also body-mounts",
        "/go How is the body fixed to the frame?",
        "o",
        "/go body-shims",
        READ,
        *SHIMS,
    )
    assert "Come back to this with /also body-mounts when it goes on." in flat(
        said("tell", file, "--all")
    )


# What must be free --------------------------------------------------------------------------------


def test_what_binds_and_brakes_not_set_forbid_to_drive(walked: Path) -> None:
    told = flat(said("tell", walked))
    assert "Steering that binds and brake rods not set yet on this car." in told
    assert NOT_DRIVEN in told
    assert "Clutch" not in told


def test_all_free_says_nothing(tmp_path: Path) -> None:
    file = sample(CAR, tmp_path)
    before = said("tell", file)
    answered(file, *FREE)
    assert NOT_DRIVEN not in said("tell", file)
    assert said("tell", file) == before


# Told, on paper, again ----------------------------------------------------------------------------


def test_what_can_be_done_is_offered(walked: Path) -> None:
    data = json.loads(said("tell", walked, "--json"))["choices"]
    offered = {row["what"][:12]: [w["id"] for w in row["choices"]] for row in data}
    assert offered["Steering tha"] == offered["Brake rods n"] == ["free"]
    assert offered["Drawn tight,"] == ["shim", "leave"]
    assert "Make it free or set it" in screen(walked, "/verdict d") + said("tell", walked, "--all")


def test_each_report_has_it(walked: Path) -> None:
    for kind, text in reports(walked).items():
        if kind == "csv":
            assert "string-tight/engine-mount/left" in text
        else:
            assert "body bolts" in text, kind
            assert "brake rods not set yet" in text.lower(), kind


@pytest.mark.parametrize(("id", "pages"), PAGES.items())
def test_on_paper_where_it_is_called_for(id: str, pages: tuple[str, ...]) -> None:
    plain = flat(said("sheet", "--layout", "straight-ladder"))
    called = flat(said("sheet", "--layout", "straight-ladder", "--also", id))
    for page in pages:
        assert page.upper() not in plain
        assert page.upper() in called


def test_a_sheet_is_typed_in_any_order_and_comes_to_the_same(walked: Path, tmp_path: Path) -> None:
    """From paper: the string first, then the shims, `;` between readings of one place."""
    file = sample(CAR, tmp_path)
    answered(file, "/also body-mounts", *STRING)
    answered(file, "/go body-shims", READ, *SHIMS)
    ids = ("body-pull", "mount-shims")
    assert figures(file, ids) == figures(walked, ids)


def figures(file: Path, quantities: tuple[str, ...]) -> dict[str, float]:
    data = json.loads(said("tell", file, "--json"))["findings"]
    return {f["id"]: f["value"] for f in data if f["quantity"] in quantities}


def test_measured_again_it_is_compared(walked: Path, tmp_path: Path) -> None:
    """The shims were put right: 1/8 in under both first mounts, and the bolts move nothing more."""
    file = sample(CAR, tmp_path)
    answered(file, *BODY, *STRING)
    clock = Clock()
    clock.at = datetime(2026, 10, 10, 9, 30)
    path = start(file, load_library(), clock.at, tmp_path)
    driver = Driver(tmp_path, path=path, clock=clock)
    assert set(PAGES["body-mounts"]) <= {page.title for page in driver.sitting.walk()}
    driver.run("/go body-shims", READ, "3", "1/8", "1/8", *SHIMS[3:])
    driver.run("/go string-slack", *SLACK, "/go string-tight", READ, "y", "s", READ)
    driver.run(*["50.1 mm"] * 2 * STATIONS)
    assert driver.sitting.kept
    driver.sitting.kept.release()
    then, now = load(file), load(path)
    stands = (replace(s, supports=then.state().supports) for s in now.table(State))
    now = replace(now, rows={**now.rows, "state": tuple(stands)})
    text = flat(compare_text(compare(then, now, load_library()), load_library()))
    changed = {c.new.id: c.says for c in compare(then, now, load_library()).changes}
    assert changed["body-pull/engine-mount/left"] == "changed"
    assert changed["mount-shims/pair-1"] == "changed"
    assert changed["mount-shims/pair-2"] == "not changed"
    assert "first body mounts" in text


def again_on(file: Path, folder: Path, *lines: str) -> Path:
    """A re-check of the file in which what must be free was answered so."""
    clock = Clock()
    clock.at = datetime(2026, 10, 10, 9, 30)
    path = start(file, load_library(), clock.at, folder)
    driver = Driver(folder, path=path, clock=clock)
    driver.run("/go what-is-free", READ)
    for line in lines:
        driver.say(line)
    assert driver.at != "what-is-free/seen"
    assert driver.sitting.kept
    driver.sitting.kept.release()
    return path


LOOKS = ("clutch", "brake", "steering", "lever", "shaft", "fan", "exhaust", "rods")


def seen_in(file: Path) -> dict[str, str]:
    looks = {k.prompt: k.answer for k in load(file).standing(Look)}
    return {name: looks.get(PromptId(f"drive-line/{name}"), "") for name in LOOKS}


@pytest.mark.parametrize("then", [("b",), ("b s r", "b x", "b x")])
def test_measured_again_all_of_it_is_asked_and_one_entry_says_as_last_time(
    tmp_path: Path, then: tuple[str, ...]
) -> None:
    """Whatever was free last time may bind now, also where nothing bound."""
    file = sample(CAR, tmp_path)
    answered(file, *FREE[:3], *then)
    again = again_on(file, tmp_path, "b =")
    assert seen_in(again) == seen_in(file)
    assert "" not in seen_in(again).values()
    assert "What was seen otherwise than last time" not in said("compare", file, again)


def test_what_binds_now_and_what_is_free_again_is_told(walked: Path, tmp_path: Path) -> None:
    file = tmp_path / walked.name
    shutil.copy(walked, file)
    again = again_on(file, tmp_path, "b k", "", "b x")
    asked = seen_in(again)
    assert [name for name, answer in asked.items() if answer == "not-free"] == ["brake"]
    for text in (all_of(again), flat(said("compare", file, again))):
        told = text.partition("What was seen otherwise than last time")[2]
        assert "brake linkage: then free, and comes all the way back; now binds, sticks" in told
        assert "steering column: then tight at one place, or rubs; now turns alike" in told
        assert "brake rods: then not set yet; now set by the book" in told
        assert "clutch" not in told.partition("What to do")[0].partition("compared, and why")[0]
    for kind, text in reports(again).items():
        assert kind == "csv" or "then not set yet" in flat(text), kind
