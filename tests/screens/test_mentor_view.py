"""The mentor's view on the screen: its key, its page, what it hides from the newcomer."""

from __future__ import annotations

import pytest

from tests.sitting.driving import READ, typed_to
from wizard.screens.key_line import key_at
from wizard.screens.paper import as_text, cells
from wizard.screens.stage import stage

TO_TAPE = ("Bramble", "i", "s", "w", "o", "/go long-diagonals", READ)
DIAGONALS = ("n", *typed_to(*TO_TAPE), "91 1/8", "91", "91 1/16")


def _text(desk, width: int = 80, height: int = 24) -> str:
    shown = stage(desk, width, height, "blocks")
    return as_text([*shown.top, *shown.page, *shown.ask, *shown.said, *shown.keys])


async def test_f11_turns_it_on_and_off(build, screen_text) -> None:
    app = build(*DIAGONALS)
    async with app.run_test(size=(80, 24)) as pilot:
        assert "Whole frame: " in screen_text(app)
        await pilot.press("f11")
        await pilot.pause()
        shown = screen_text(app)
        assert "The long diagonals: the mentor's view" in shown
        assert "Whole frame: " not in shown
        await pilot.press("f11")
        await pilot.pause()
        assert "the mentor's view" not in screen_text(app)
        assert "Whole frame: " in screen_text(app)


def test_the_word_is_the_key_and_the_question_stays(build) -> None:
    desk = build(*DIAGONALS, "/mentor").desk
    assert desk.panel is None
    shown = _text(desk)
    assert "right front to left rear (second time)" in shown
    assert "mentor's view" in shown.splitlines()[0]
    desk.line("91")
    assert "what do you expect?" in desk.said.says


def test_after_the_guess_the_doubt_is_told_part_by_part(build) -> None:
    desk = build(*DIAGONALS, "/mentor", "/guess nothing").desk
    shown = _text(desk, 120, 60)
    assert "Guessed by owner: nothing" in shown
    assert "degrees of freedom" in shown
    desk.line("/second")
    assert "Caution: Before you reach under" in _text(
        desk
    )  # what the first reader read tells the second nothing
    assert "degrees of freedom" not in _text(desk, 120, 60)
    desk.line("understood")
    assert "Caution: Sharp points" in _text(desk)
    desk.line("understood")
    assert "(second reader)" in _text(desk)
    assert "degrees of freedom" not in _text(desk, 120, 60)


def test_the_picture_of_the_value_waits_too(build) -> None:
    app = build(*DIAGONALS)
    assert "leave it" in _text(app.desk, 120, 60)
    app.desk.line("/mentor")
    assert "leave it" not in _text(app.desk, 120, 60)


def test_a_caution_is_read_in_the_mentors_view_as_ever(build) -> None:
    desk = build("n", "Bramble", "i", "s", "w", "o", "/mentor", "/go sag-loaded").desk
    assert "Caution: " in _text(desk)


@pytest.mark.parametrize("lines", [DIAGONALS, (*DIAGONALS, "92"), (*DIAGONALS, "25 9/8")])
@pytest.mark.parametrize("size", [(60, 20), (80, 24), (100, 28), (118, 30), (120, 36), (200, 60)])
def test_every_key_is_shown_in_order_at_each_size_and_can_be_clicked(build, lines, size) -> None:
    """Also while a long message stands above them: what is not seen is not known."""
    shown = stage(build(*lines).desk, *size, "blocks")
    hit = (key_at(line, col) for line in shown.keys for col in range(size[0] - 2))
    keys = [f"f{n}" for n in range(1, 13)]
    assert list(dict.fromkeys(filter(None, hit))) == [*keys[:6], "ctrl+t", *keys[6:]]
    assert all(cells(as_text([line])) <= size[0] - 2 for line in shown.keys)


def test_an_opinion_shows_beside_the_verdict(build) -> None:
    desk = build(*DIAGONALS, "91", "/verdict").desk
    assert "leave it (signed" not in as_text(stage(desk, 80, 200, "blocks").page)
    desk.line("/opinion A. Mentor: leave it")
    desk.line("/verdict")
    after = as_text(stage(desk, 80, 200, "blocks").page)
    assert "leave it (signed by A. Mentor, 2026-04-11)" in " ".join(after.split())
