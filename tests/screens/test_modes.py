"""What is in front, and over what it lies."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.screens.conftest import NAMED, NOON
from tests.sitting.driving import READ, typed_to
from wizard.library import load_library
from wizard.screens.desk import Careful, Desk
from wizard.screens.mode import MOST_LINES, Panel, Window, message
from wizard.screens.model import Model
from wizard.screens.opening import Opening
from wizard.screens.page import CautionPage, MentorPage, Page, VerdictPage, VerdictPanel
from wizard.screens.paper import as_text, line
from wizard.screens.stage import stage
from wizard.sitting.reply import Reply

pytestmark = pytest.mark.quick

READING = ("n", *typed_to(*NAMED, "/go long-diagonals", READ, "91"))


@pytest.fixture
def desk() -> Desk:
    return Desk(load_library(), Path("Surveys"), lambda: NOON)


def _type(desk: Desk, *lines: str) -> None:
    for text in lines:
        desk.line(text)


def _stack(desk: Desk) -> list[type]:
    """The kinds of modes, once they were looked at; the one in front last."""
    desk.look()
    return [type(mode) for mode in desk.modes]


def test_each_thing_has_its_mode_and_lies_where_it_came_from(desk: Desk) -> None:
    assert _stack(desk) == [Opening]
    _type(desk, "m", "why")
    assert _stack(desk) == [Opening, Model, Panel]
    _type(desk, "", "back", "n")
    assert _stack(desk) == [Page]
    _type(desk, *READING[1:], "/verdict")
    assert _stack(desk) == [Page, VerdictPanel]
    _type(desk, "/mentor")
    assert _stack(desk) == [MentorPage]
    _type(desk, "/go sag-loaded")
    assert _stack(desk) == [CautionPage]
    _type(desk, "/model")
    assert _stack(desk) == [CautionPage, Model]
    desk.sitting.target = None  # type: ignore[union-attr]
    _type(desk, "back")
    assert _stack(desk) == [VerdictPage]


def test_a_key_that_a_panel_does_not_know_goes_to_the_mode_below(desk: Desk) -> None:
    _type(desk, "m", "help")
    chosen = desk.model.chosen  # type: ignore[union-attr]
    desk.key("down")
    assert desk.model.chosen == chosen, "the panel takes the arrow"  # type: ignore[union-attr]
    assert _stack(desk) == [Opening, Model, Panel]
    desk.key("right")
    assert desk.model.bent != type(desk.model.bent)()  # type: ignore[union-attr]
    assert _stack(desk) == [Opening, Model]
    _type(desk, "help")
    desk.key("f5")
    assert _stack(desk) == [Opening]


def test_the_key_of_the_model_waits_for_the_second_reader_as_its_word_does(desk: Desk) -> None:
    """The model has the sizes of the survey, and with them what the first reader read."""
    _type(desk, *READING, "/second")
    for way in (lambda: desk.line("/model"), lambda: desk.key("f12")):
        assert way().kind == "refused"
        assert desk.model is None
        assert "second reader" in desk.said.says


def test_the_letter_of_a_task_asks_and_once_more_lets_it_be(desk: Desk) -> None:
    assert desk.line("s").entry == "s "
    assert _stack(desk) == [Opening, Panel]
    desk.typed()
    assert desk.said.says.startswith("Type the number of your kind of frame")
    assert desk.line("s").entry is None
    assert (_stack(desk), desk.said.says) == ([Opening], "")
    assert desk.line("s").entry == "s "


def test_what_was_said_of_a_survey_shows_once_the_panel_over_it_is_closed(desk: Desk) -> None:
    _type(desk, *READING)
    desk.sitting.kept.release()  # type: ignore[union-attr]
    again = Desk(load_library(), Path("Surveys"), lambda: NOON)
    again.line("r 1")
    assert again.panel
    assert again.panel.title == "Measured again"
    assert as_text(stage(again, 80, 24, "blocks").said).startswith("Press Enter to close this.")
    again.line("")
    assert again.panel is None
    assert again.said.kind == "told"


def test_a_window_stops_at_both_ends_and_says_which_way_there_is_more() -> None:
    window, lines = Window(), [line(str(n)) for n in range(10)]
    assert as_text(window.show(lines, 4)) == "0\n1\n2\n3"
    assert window.further() == "PgDn: more"
    window.scroll(99)
    assert as_text(window.show(lines, 4)) == "6\n7\n8\n9"
    assert window.further() == "PgUp: back up"
    window.scroll(-99)
    assert window.top == 0
    assert as_text(window.show(lines[:3], 4)) == "0\n1\n2"
    assert window.further() == ""


def test_a_message_takes_five_lines_at_most_and_none_of_over_90_letters() -> None:
    assert message(Reply("nothing"), "", 40) == []
    assert {
        len(as_text([part])) <= 90 for part in message(Reply("told", "word " * 40), "", 198)
    } == {True}
    long = message(Reply("refused", "word " * 60), "", 40)
    assert len(long) == 5
    assert as_text(long).startswith("! Not taken. word")
    assert as_text(long).endswith("…")


@pytest.mark.parametrize("name", ["f10", "x"])
def test_a_fault_is_told_as_a_refusal_and_what_leaves_still_leaves(
    desk: Desk, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> Reply:
        raise KeyError("on purpose")

    _type(desk, "n", "/trail")
    monkeypatch.setattr(Page, "key", broken)
    monkeypatch.setattr(Panel, "key", broken)
    reply = Careful(desk).key(name)
    assert (reply.quits, reply.stops_burst) == (name == "f10", name == "x")
    assert "The program made a mistake (KeyError)" in desk.said.says
    assert desk.panel is None
    assert bool(desk.farewell) == (name == "f10")


DOUBT = "By the other gaps under the string this is about 5/16 in too wide at that station. "


@pytest.mark.parametrize("end", ["Press Enter to keep it, or type what it is.", "Type /go level."])
@pytest.mark.parametrize("width", [58, 78, 118])
def test_the_end_of_a_long_message_which_says_what_to_do_is_whole(end: str, width: int) -> None:
    for times in range(1, 12):
        lines = message(Reply("doubted", DOUBT * times + end), "", width)
        told = " ".join(as_text([part]) for part in lines)
        assert len(lines) <= MOST_LINES
        assert told.startswith("? In doubt. By the other gaps")
        assert told.endswith(end)
        whole = f"? In doubt. {DOUBT * times}{end}"
        assert ("…" in told) is (told != whole)


def test_a_long_message_of_one_sentence_is_cut_at_its_end() -> None:
    lines = message(Reply("told", "word " * 200), "", 78)
    assert len(lines) == MOST_LINES
    assert as_text([lines[-1]]).endswith("…")


@pytest.mark.parametrize("most", [3, 5])
def test_what_a_page_came_to_is_told_in_whole_sentences(most: int) -> None:
    """Half a sentence with a mark for the rest said neither what was found nor what to do."""
    found = "The left rail is straight at the center, as far as these readings can show. "
    says = found * 5 + "Good to stop here. Before the engine leaves, read the pulley's place."
    said = " ".join(as_text(message(Reply("taken", says), "", 78, most)).split())
    assert said.startswith("+ ")
    todo, more = "Before the engine leaves, read the pulley's place.", " /verdict tells more."
    assert said.removesuffix(more).endswith(f"Good to stop here. {todo}")
    assert said.count(more) == 1
    assert not said.startswith(f"+{more}"), "nobody knows yet of what"
    assert "…" not in said
    assert said.count(found.strip()) == said.count("The left rail")
    assert len(message(Reply("taken", says), "", 78, most)) <= most
