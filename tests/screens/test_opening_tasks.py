"""The opening page beside opening: measure again, compare, print a sheet."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from tests.sitting.driving import READ, typed_to
from wizard.library import load_library
from wizard.screens.desk import Desk
from wizard.screens.paper import as_text
from wizard.screens.stage import stage
from wizard.survey.file import load

NOON = datetime(2026, 4, 11, 12, 0)
BEGUN = ("Bramble", "i", "s", "w", "o")
AT_TAPE = ("n", *typed_to(*BEGUN, "/go long-diagonals", READ), "91 1/8", "91", "91 1/16", "91")


def _desk() -> Desk:
    return Desk(load_library(), Path("Surveys"), lambda: NOON)


def _written(name: str = "Bramble") -> Desk:
    desk = _desk()
    for line in (AT_TAPE[0], name, *AT_TAPE[2:]):
        desk.line(line)
    assert desk.sitting
    assert desk.sitting.kept
    desk.sitting.kept.release()
    return _desk()


def _page(desk: Desk) -> str:
    shown = stage(desk, 80, 24, "blocks")
    return as_text([*shown.page, *shown.said])


def test_an_empty_folder_offers_no_comparison(tmp_path: Path) -> None:
    kinds = [i.kind for i in _desk().opening.items]
    assert kinds == ["new", "sheet", "model", "quit"]
    assert [i.kind for i in _written().opening.items] == [
        "new",
        "survey",
        "again",
        "sheet",
        "model",
        "quit",
    ]


def test_a_listed_survey_is_measured_again() -> None:
    desk = _written()
    assert not desk.line("r 1").stops_burst
    assert desk.sitting
    assert desk.sitting.survey.follows == "bramble-2026-04-11"
    assert "You will measure again" in _page(desk)
    desk.line("")
    assert desk.sitting.ask


def test_the_letter_alone_waits_for_the_number() -> None:
    desk = _written()
    assert desk.line("r").entry == "r "
    assert "like r 1" in desk.said.says
    desk.opening.marked = next(n for n, i in enumerate(desk.opening.items) if i.kind == "again")
    assert desk.line("").entry == "r "
    assert desk.sitting is None


def test_two_surveys_are_compared_and_the_list_comes_back() -> None:
    _written()
    desk = _written("Bramble two")
    assert not desk.line("v 1 2").stops_burst
    assert desk.panel
    assert desk.panel.title == "Compared"
    assert "against" in _page(desk) or "two frames" in _page(desk).lower()
    desk.key("down")
    assert desk.panel
    desk.line("")
    assert "Go on with a survey" in _page(desk)


@pytest.mark.parametrize("line", ["r 9", "r 1 1 2", "v 1", "v 1 1", "v 1 x", "s 99", "r [/"])
def test_what_is_not_in_the_list_is_refused_with_what_would_do(line: str) -> None:
    _written()
    desk = _written("Other")
    assert desk.line(line).stops_burst
    assert desk.said.kind == "refused"
    assert "like" in desk.said.says
    assert desk.sitting is None


def test_a_sheet_is_written_and_said_where() -> None:
    desk = _desk()
    assert desk.line("s").entry == "s "
    assert "X-braced" in _page(desk)
    desk.line("s 6")
    assert desk.said.says.startswith("The sheet is in Surveys/sheet-x-braced.html")
    assert Path("Surveys/sheet-x-braced.html").exists()


def test_a_survey_that_cannot_be_followed_is_told() -> None:
    first = _desk()
    for line in AT_TAPE[:6]:
        first.line(line)
    assert first.sitting
    assert first.sitting.kept
    first.sitting.kept.release()
    desk = _desk()
    assert desk.line("r 1").stops_burst
    assert "no readings" in desk.said.says


async def test_a_click_finds_the_second_of_two_on_a_line(build, screen_text) -> None:
    app = build()
    async with app.run_test() as pilot:
        lines = screen_text(app).splitlines()
        row = next(n for n, text in enumerate(lines) if "bend a model frame" in text)
        await pilot.click(offset=(lines[row].index("bend a model"), row))
        await pilot.pause()
        assert "A model to bend" in screen_text(app)


def test_the_report_is_written_from_a_survey() -> None:
    desk = _written()
    desk.line("1")
    desk.line("/report")
    assert desk.panel
    assert "bramble-2026-04-11.html" in desk.panel.text
    assert "<html" in Path("Surveys/bramble-2026-04-11.html").read_text(encoding="utf-8")
    assert load(Path("Surveys/bramble-2026-04-11.toml")).car == "Bramble"
