"""Lines, key line, columns: text fitted to cells."""

from __future__ import annotations

import re

import pytest

from wizard.screens.key_line import key_at, key_lines
from wizard.screens.page import Pictures, choice_columns, row_lines, step_page, whole_choices
from wizard.screens.paper import as_text, cells, drawn, fit, page_text, spread, wrap
from wizard.telling.canvas import Drawing
from wizard.telling.page import PageView, Row

pytestmark = pytest.mark.quick

HOSTILE = "[/red]\x1b]0;x\x07 \u202eabc\u2066 🚗車 \x9b31m\x00[bold"


@pytest.mark.parametrize("width", [1, 5, 12, 40])
def test_fit_never_exceeds_its_cells_and_carries_no_controls(width: int) -> None:
    text = fit(HOSTILE * 3, width)
    assert cells(text) <= width
    assert not any(ord(c) < 32 or 0x7F <= ord(c) < 0xA0 or c in "\u202e\u2066" for c in text)


def test_fit_leaves_a_short_text_alone() -> None:
    assert fit("[/] left horn", 20) == "[/] left horn"


def test_spread_cuts_the_left_piece_and_keeps_the_right() -> None:
    text = as_text([spread(("A very long name of a car", ""), ("7 of 19 - saved", ""), 30)])
    assert text.endswith("7 of 19 - saved")
    assert cells(text) == 30


def test_listed_lines_hang_behind_their_mark() -> None:
    text = as_text(page_text("10. one two three four\n- five six seven eight", 14))
    assert text.splitlines() == ["10. one two", "    three four", "- five six", "  seven eight"]


def test_wrap_of_nothing_is_one_blank_line() -> None:
    assert wrap("", 20) == [()]


def test_a_drawing_keeps_its_text_and_lights_what_is_lit() -> None:
    (pieces,) = drawn(Drawing(("o----o",), ((0, 1, 3),), ""), "  ")
    assert as_text([pieces]) == "  o----o"
    assert ("--", "lit") in pieces
    assert ("---", "lit") not in pieces


def test_all_keys_stand_in_order_in_two_lines_of_the_same_columns_or_in_one() -> None:
    for width, count in ((198, 1), (118, 1), (117, 1), (116, 2), (78, 2), (58, 2)):
        lines = key_lines(True, width)
        assert len(lines) == count
        assert all(cells(as_text([part])) <= width for part in lines)
        assert re.findall(r"F\d+", as_text(lines)) == [f"F{n}" for n in range(1, 13)]
        assert "^T open" in as_text(lines)
        if count == 2 and width > 65:  # the narrowest window has no room for columns
            first, second = (as_text([part]) for part in lines)
            assert first.index("F2 ") == second.index("F8 ")


def test_a_click_finds_its_key() -> None:
    keys, _ = key_lines(True, 78)
    text = as_text([keys])
    assert key_at(keys, text.index("skip")) == "f4"
    assert key_at(keys, text.index("F4")) == "f4"
    assert key_at(keys, text.index("F4") - 1) == ""


def test_readings_go_in_columns_only_where_they_fit_whole() -> None:
    rows = [Row(f"left front to place {n}", "91 1/8   91 1/16", n == 2) for n in range(4)]
    wide = row_lines(rows, 100)
    assert len(wide) == 2
    assert as_text([wide[0][1]]).count("91 1/16") == 2
    narrow = row_lines(rows, 60)
    assert len(narrow) == 4
    assert [here for here, _ in narrow] == [False, False, True, False]
    assert as_text([narrow[2][1]]).startswith("> ")


def test_choices_are_all_there_in_either_form() -> None:
    choices = ("how seen:  b bare", *(f"{letter}  words for {letter}" for letter in "oabcdef"))
    for width in (78, 30):
        text = as_text(choice_columns(choices, width))
        assert all(f"words for {letter}" in text for letter in "oabcdef")
    assert len(choice_columns(choices, 78)) == 5
    assert len(choice_columns(choices, 30)) == 8


def test_a_choice_is_never_cut_it_is_folded_or_begins_the_page() -> None:
    long = "steering wheel and front wheels shook left and right, and the car with them"
    choices = ("how seen:  b bare   p painted", *(f"{letter}  {long}" for letter in "abcdefghij"))
    roomy = as_text(whole_choices(choices, 58, 30))
    assert "…" not in roomy
    assert " ".join(roomy.split()).count(long) == 10
    assert whole_choices(choices, 58, 8) == []  # no room beside the entry line
    short = tuple(f"{letter}  words" for letter in "abcdefghij")
    assert len(whole_choices(short, 58, 8)) == 5  # two columns, whole


@pytest.mark.parametrize(("height", "rows"), [(20, 2), (21, 6), (25, 10), (40, 12)])
def test_where_to_look_is_the_whole_frame_as_soon_as_six_lines_are_to_spare(
    height: int, rows: int
) -> None:
    asked: list[int] = []

    def frame(width: int, height: int) -> Drawing:
        asked.append(height)
        return Drawing(("o---o",) * height, ((0, 0, 1),), "")

    view = PageView(
        *("a car", "", "Left front", "Why.", ("One.", "Two.", "Three."), 1, "Seen bare.", ""),
        *("", "", "", (), None, (), ()),
    )
    page = step_page(view, Pictures(frame, frame, small=True), 78, height)
    assert asked == [rows]
    assert sum(as_text([line]) == "o---o" for line in page) == rows
    assert len(page) <= height
