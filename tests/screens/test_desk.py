"""What the screen stands on, driven without a screen."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from tests.sitting.driving import READ, typed_to
from tests.told import says
from wizard.library import load_library
from wizard.library.paths import samples_dir
from wizard.screens.desk import Desk
from wizard.screens.paper import as_text
from wizard.screens.stage import stage
from wizard.survey.file import load
from wizard.survey.toml import Unreadable
from wizard.telling import evening_words
from wizard.telling.evening_words import next_line

pytestmark = pytest.mark.quick

NOON = datetime(2026, 4, 11, 12, 0)
AT_TAPE = ("n", *typed_to("Bramble", "i", "s", "w", "o", "/go long-diagonals", READ))
AT_LEVEL = ("n", *typed_to("Bramble", "i", "s", "w", "o", "/go level", READ))


@pytest.fixture
def desk() -> Desk:
    return Desk(load_library(), Path("Surveys"), lambda: NOON)


def _type(desk: Desk, *lines: str) -> None:
    for line in lines:
        desk.line(line)


def _front(desk: Desk) -> str:
    return desk.sitting.ask.prompt.id if desk.sitting and desk.sitting.ask else ""


def test_opening_starts_a_survey_by_letter_and_by_the_mark(desk: Desk) -> None:
    assert desk.sitting is None
    assert not desk.line("").stops_burst
    assert _front(desk) == "about-the-car/car"


def test_opening_refuses_what_is_not_listed(desk: Desk) -> None:
    assert desk.line("25 7/8").stops_burst
    assert desk.sitting is None
    assert desk.said.kind == "refused"
    assert "n, s, m or q" in desk.said.says


def test_opening_quits(desk: Desk) -> None:
    assert desk.line("q").quits
    assert desk.key("f10").quits
    assert not desk.key("f2").quits


def test_arrows_move_the_mark_around_the_ends(desk: Desk) -> None:
    desk.key("up")
    assert desk.opening.items[desk.opening.marked].kind == "quit"
    desk.key("down")
    assert desk.opening.items[desk.opening.marked].kind == "new"


def test_a_survey_is_gone_on_with_by_its_number(desk: Desk) -> None:
    _type(desk, *AT_TAPE, "91 1/8")
    assert desk.sitting
    assert desk.sitting.kept
    desk.sitting.kept.release()  # the first wizard is over
    again = Desk(load_library(), Path("Surveys"), lambda: NOON)
    again.line("1")
    assert _front(again) == "long-diagonals/whole/front-right--rear-left"
    assert says(again.said.says, "stopped at “The long diagonals” … 2026-04-11 … 1 reading")


def test_a_sample_is_opened_as_a_copy(desk: Desk, tmp_path: Path) -> None:
    _type(desk, *AT_TAPE, "91 1/8")
    whole = (Path("Surveys") / "bramble-2026-04-11.toml").read_bytes()
    (tmp_path / "samples" / "sample.toml").write_bytes(whole)
    again = Desk(load_library(), Path("Others"), lambda: NOON)
    again.line("a")
    again.line("91")
    assert (tmp_path / "samples" / "sample.toml").read_bytes() == whole
    assert len(load(Path("Others/bramble-2026-04-11.toml")).rows["reading"]) == 2


def test_a_damaged_file_is_listed_and_left_alone(desk: Desk) -> None:
    Path("Surveys").mkdir()
    Path("Surveys/torn.toml").write_text("format = [", encoding="utf-8")
    again = Desk(load_library(), Path("Surveys"), lambda: NOON)
    shown = as_text(stage(again, 80, 24, "blocks").page)
    assert "cannot be opened: torn.toml" in shown
    assert again.line("1").stops_burst
    assert Path("Surveys/torn.toml").read_text(encoding="utf-8") == "format = ["
    with pytest.raises(Unreadable):
        again.open(Path("Surveys/torn.toml"))


BAD = [
    "x" * 10_000,
    "9" * 10_000,
    "25 9/8",
    "nan",
    "1e9",
    "3 m 2 in",
    "",
    "-",
    "[/",
    "\x1b[31m",
    "\u202e25",
    "∞",
]


@pytest.mark.parametrize("text", BAD, ids=lambda t: repr(t[:12]))
def test_what_is_no_length_gives_one_message_and_moves_nothing(desk: Desk, text: str) -> None:
    _type(desk, *AT_TAPE)
    before, file = _front(desk), Path("Surveys/bramble-2026-04-11.toml").read_bytes()
    if (
        text == "\u202e25"
    ):  # a hidden mark before a good number is taken out, and the number is then doubted
        assert desk.line(text).stops_burst
        assert desk.said.kind == "doubted"
    else:
        assert desk.line(text).stops_burst
        assert desk.said.kind == "refused"
    assert _front(desk) == before
    assert Path("Surveys/bramble-2026-04-11.toml").read_bytes() == file
    assert len(re.findall(r"[.?](?: |$)", desk.said.says)) <= 4
    assert len(desk.said.says) < 250


def test_a_good_length_moves_on_and_is_said_back(desk: Desk) -> None:
    _type(desk, *AT_TAPE)
    before = _front(desk)
    assert not desk.line("91 1/8").stops_burst
    assert _front(desk) != before
    assert desk.said.says == "left front to right rear: 91 1/8"


def test_a_choice_is_said_back_in_its_words(desk: Desk) -> None:
    _type(desk, "n", "Bramble", "i")
    choice = next(
        c for c in load_library().steps["about-the-car"].prompts[1].choices if c.letter == "i"
    )
    assert desk.said.says.endswith(f"? {choice.words}.")


def test_a_doubt_is_kept_by_an_empty_line_unless_a_panel_lies_over_it(desk: Desk) -> None:
    _type(desk, *AT_TAPE, "91 1/8", "91", "92 1/8")
    assert desk.said.kind == "doubted"
    desk.key("f1")
    assert not desk.line("").stops_burst
    assert len(load(Path("Surveys/bramble-2026-04-11.toml")).rows["reading"]) == 2
    desk.line("")
    assert len(load(Path("Surveys/bramble-2026-04-11.toml")).rows["reading"]) == 3


@pytest.mark.parametrize(
    ("key", "title"), [("f1", "Why"), ("f2", "spoils"), ("f3", "words"), ("f6", "Where you are")]
)
def test_a_key_opens_its_panel_and_closes_it(desk: Desk, key: str, title: str) -> None:
    _type(desk, *AT_TAPE)
    desk.key(key)
    assert desk.panel
    assert title in desk.panel.title
    desk.key(key)
    assert desk.panel is None


def test_typing_closes_a_panel(desk: Desk) -> None:
    _type(desk, *AT_TAPE)
    assert not desk.typed()
    desk.key("f1")
    assert desk.typed()
    assert desk.panel is None


def test_why_shows_every_move_of_the_step(desk: Desk) -> None:
    _type(desk, *AT_LEVEL)
    desk.key("f1")
    step = load_library().steps["level"]
    assert desk.panel
    assert all(move in desk.panel.text for move in step.how)


def test_skip_leaves_its_word_in_the_line(desk: Desk) -> None:
    _type(desk, *AT_TAPE)
    outcome = desk.key("f4")
    assert outcome.entry == "/skip "
    before = _front(desk)
    desk.line("/skip tank in the way")
    assert _front(desk) != before


def test_the_end_shows_the_verdict_and_can_be_left_backwards(desk: Desk) -> None:
    _type(desk, *AT_TAPE)
    for _ in range(400):
        if _front(desk):
            desk.line(
                "understood" if desk.sitting.prompt.kind.acknowledges else "/skip step no time"
            )  # type: ignore[union-attr]
    assert not _front(desk), (
        "every page passed over, in some order, is the end: none comes back for ever"
    )
    shown = as_text(stage(desk, 80, 24, "blocks").page)
    assert "not known yet" in shown.lower()
    desk.key("f5")
    assert _front(desk)


def test_f10_says_where_it_is_saved(desk: Desk) -> None:
    _type(desk, *AT_TAPE)
    assert desk.key("f10").quits
    assert "bramble-2026-04-11.toml" in desk.farewell


def test_a_long_page_scrolls_and_stops_at_its_ends(desk: Desk) -> None:
    _type(desk, *AT_TAPE, "/verdict a")
    stage(desk, 80, 24, "blocks")
    assert desk.panel
    for _ in range(200):
        desk.key("pagedown")
    assert desk.panel.window.top == desk.panel.window.length - desk.panel.window.room > 0
    desk.key("pageup")
    desk.roll(-3)
    assert desk.panel.window.goes_on
    for _ in range(200):
        desk.key("up")
    assert desk.panel.window.top == 0


def test_a_page_that_goes_on_says_so_even_where_the_message_fills_its_lines(tmp_path: Path) -> None:
    """At the end of a survey taken up again, the verdict lies below the line about where one
    stopped.
    """
    name = "old-post-2026-06-20.toml"
    (tmp_path / name).write_bytes((samples_dir() / name).read_bytes())
    old = Desk(load_library(), tmp_path, lambda: NOON)
    old.open(tmp_path / name)
    old.said = replace(old.said, says=f"{old.said.says} {old.said.says}")
    shown = stage(old, 80, 24, "blocks")
    assert len(as_text(shown.said)) > 80
    assert as_text(shown.hint).endswith("PgDn: more")
    old.key("pagedown")
    while old.front.window.goes_on:
        old.key("pagedown")
        stage(old, 80, 24, "blocks")
    assert as_text(stage(old, 80, 24, "blocks").hint).endswith("PgUp: back up")


def test_what_is_known_next_is_found_once_however_often_it_is_drawn(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And anew for each page and each answer."""
    found: list[str] = []

    def counted(*given: Any) -> str:
        found.append(next_line(*given))
        return found[-1]

    monkeypatch.setattr(evening_words, "next_line", counted)
    _type(desk, *AT_TAPE)
    drawn = [as_text(stage(desk, *size, "blocks").page) for size in ((80, 24), (120, 36)) * 2]
    assert len(found) == 1
    assert found[0].startswith("Known next: square or not")
    assert drawn[0] == drawn[2]
    assert drawn[1] == drawn[3]
    assert found[0] in drawn[1]
    desk.line("/go level")
    while desk.sitting.prompt.kind.acknowledges:  # type: ignore[union-attr]
        desk.line("understood")
    assert found[0] not in as_text(stage(desk, 120, 36, "blocks").page)
    assert found[-1].startswith("Known next: twist")
    before = len(found)
    desk.line("1/2 left!")
    stage(desk, 120, 36, "blocks")
    assert len(found) == before + 1
