"""The model on the full screen: reached, bent by lines and arrows, left again; its pages kept as
text.

After a change that is meant, look at every page and then renew the files:

    CROSSTAPE_RENEW_SHOTS=1 pytest tests/screens/test_model.py
"""

from __future__ import annotations

import os
import random
from datetime import datetime
from pathlib import Path

import pytest

from wizard.library import load_library
from wizard.model.bent import Bent
from wizard.screens.desk import Desk
from wizard.screens.paper import as_text, cells
from wizard.screens.stage import stage

SHOTS = Path(__file__).parent / "shots" / "model"
SIZES = ((80, 24), (120, 36))
STARTED = ("n", "Bramble, tourer", "i", "w", "o")
PAGES: dict[str, tuple[str, ...]] = {
    "straight": ("m",),
    "diamond": ("m", "diamond 6"),
    "sag": ("m", "sag left 8 at engine-mount"),
    "twist": ("m", "fault twist"),
    "several": ("m", "diamond 6", "horn left down 5", "axle rear 10"),
    "from-a-step": (*STARTED, "/go horns", "/model"),
    "why": ("m", "fault horns-both", "why"),
    "game": (
        "m",
        "guess with twist 8",
        "ask level/rear/as-set",
        "ask left horn tip to right front",
        "hint",
    ),
}


@pytest.fixture
def desk() -> Desk:
    return Desk(load_library(), Path("Surveys"), lambda: datetime(2026, 4, 11, 12, 0))


def _type(desk: Desk, *lines: str) -> None:
    for line in lines:
        desk.line(line)


def _text(desk: Desk, size: tuple[int, int] = (80, 24)) -> str:
    shown = stage(desk, *size, "blocks")
    return as_text(shown.page)


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("page", PAGES)
async def test_page_looks_as_it_did(page: str, size: tuple[int, int], build, screen_text) -> None:  # type: ignore[no-untyped-def]
    app = build(*PAGES[page])
    async with app.run_test(size=size, notifications=True, tooltips=True) as pilot:
        await pilot.pause()
        text = screen_text(app)
    path = SHOTS / f"{page}-{size[0]}x{size[1]}.txt"
    if os.environ.get("CROSSTAPE_RENEW_SHOTS") == "1":
        path.write_text(text, encoding="utf-8")
    assert path.read_text(encoding="utf-8") == text, (
        f"{page} looks otherwise; see the top of this file"
    )


def test_every_kept_shot_belongs_to_a_page() -> None:
    assert {p.name for p in SHOTS.glob("*.txt")} == {
        f"{page}-{w}x{h}.txt" for page in PAGES for w, h in SIZES
    }


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("size", [(60, 20), *SIZES], ids=str)
def test_no_line_is_wider_than_the_window_and_the_entry_line_is_there(
    page: str, size: tuple[int, int], desk: Desk
) -> None:
    _type(desk, *PAGES[page])
    shown = stage(desk, *size, "blocks")
    for part in (shown.top, shown.page, shown.ask, shown.hint, shown.said, shown.keys):
        assert all(cells(as_text([pieces])) <= size[0] - 2 for pieces in part)
    assert "F10 stop" in as_text(shown.keys)
    assert len(shown.page) + len(shown.ask) + len(shown.said) + len(shown.keys) + 3 <= size[1]


def test_the_marks_tell_without_any_color(desk: Desk) -> None:
    _type(desk, "m", "diamond 6")
    for size, blind in (((80, 24), "- blind: own sides"), ((120, 36), "- own sides")):
        text = as_text(stage(desk, *size, "blocks").page)
        assert blind in text
        assert "+ long diagonals" in text


def test_reached_from_the_opening_and_left_again(desk: Desk) -> None:
    _type(desk, "m")
    assert desk.model is not None
    desk.key("f5")
    assert desk.model is None
    assert desk.sitting is None
    assert desk.line("n").quits is False
    assert desk.sitting is not None


def test_reached_from_a_step_by_key_and_by_word_and_the_survey_stays_as_it_was(desk: Desk) -> None:
    _type(desk, *STARTED, "/go level")
    before, ask = desk.sitting.survey, desk.sitting.ask  # type: ignore[union-attr]
    for way in (lambda: desk.key("f12"), lambda: desk.line("/model")):
        way()
        assert desk.model is not None
        assert desk.model.fault == "twist"
        _type(desk, "diamond 1/4", "91 1/8", "/skip not today")
        desk.key("f4")
        desk.key("f7")
        desk.line("back")
        assert desk.model is None
    assert desk.sitting.survey is before  # type: ignore[union-attr]
    assert desk.sitting.ask == ask  # type: ignore[union-attr]


def test_a_refused_line_sets_the_rest_of_its_burst_aside(desk: Desk) -> None:
    _type(desk, "m")
    assert desk.line("banjo 5").stops_burst
    assert desk.said.kind == "refused"
    assert not desk.line("twist 5").stops_burst


async def test_arrows_bend_and_a_burst_lands_in_the_line(build) -> None:  # type: ignore[no-untyped-def]
    app = build("m")
    async with app.run_test(size=(80, 24), notifications=True, tooltips=True) as pilot:
        await pilot.press("right", "right", "down", "left")
        assert app.desk.model.bent == Bent(diamond=2.0, sway_front=-1.0)
        await pilot.press(*"twist", "space", "5", "left", "right", "enter")
        assert app.desk.model.bent == Bent(diamond=2.0, sway_front=-1.0, twist=5.0)
        assert app.entry.has_focus


def test_panels_lie_over_the_model_and_go(desk: Desk) -> None:
    _type(desk, "m", "fault twist")
    desk.key("f1")
    assert desk.panel is not None
    desk.key("f1")
    assert desk.panel is None
    desk.key("f3")
    desk.key("escape")
    assert desk.panel is None
    assert desk.model is not None
    desk.key("f3")
    desk.line("")
    assert desk.panel is None


def test_the_reasons_are_below_and_scroll_into_view(desk: Desk) -> None:
    _type(desk, "m", "fault twist")
    assert "Equal diagonals do not rule out a twist" not in _text(desk)
    seen = ""
    for _ in range(6):
        desk.key("pagedown")
        seen += _text(desk)
    assert "Equal diagonals do not rule out a twist" in " ".join(seen.split())


def test_leaving_the_program_from_the_model(desk: Desk) -> None:
    _type(desk, *STARTED, "/model")
    assert desk.key("f10").quits
    assert "bramble-tourer" in desk.farewell or "bramble" in desk.farewell


def test_a_click_on_the_page_chooses_nothing(desk: Desk) -> None:
    _type(desk, "m")
    stage(desk, 80, 24, "blocks")
    desk.click(3)
    assert desk.model is not None
    assert desk.sitting is None


def test_a_secret_is_not_on_the_screen(desk: Desk) -> None:
    _type(desk, "m")
    desk.model.rng = random.Random(3)  # type: ignore[union-attr]
    _type(desk, "guess with diamond 9")
    text = _text(desk, (120, 36)) + as_text(stage(desk, 120, 36, "blocks").said)
    assert "diamond" not in text
    assert "times too far" not in text.split("From the side")[0]
