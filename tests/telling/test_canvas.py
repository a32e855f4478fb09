"""Dots, lines and words in cells."""

from __future__ import annotations

import unicodedata
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.telling.canvas import (
    DROP,
    FAINT,
    LOOKED,
    MEMBER,
    RAIL,
    TAPE,
    Canvas,
    Charset,
    Drawing,
    Pen,
    nearest_dots,
)

pytestmark = pytest.mark.quick

DOT = Pen("'.:")


def drawn(canvas: Canvas) -> list[str]:
    return list(canvas.drawing("").lines)


@pytest.mark.parametrize(
    ("place", "name"),
    [
        # Numbering of dots as in the Unicode character names, block Braille Patterns: identity.
        ((0, 0), "DOTS-1"),
        ((0, 1), "DOTS-2"),
        ((0, 2), "DOTS-3"),
        ((1, 0), "DOTS-4"),
        ((1, 1), "DOTS-5"),
        ((1, 2), "DOTS-6"),
        ((0, 3), "DOTS-7"),
        ((1, 3), "DOTS-8"),
    ],
)
def test_a_braille_dot_is_the_one_its_name_says(place: tuple[int, int], name: str) -> None:
    canvas = Canvas(1, 1, "braille")
    canvas.dots([place], DOT)
    assert unicodedata.name(drawn(canvas)[0]) == f"BRAILLE PATTERN {name}"


@pytest.mark.parametrize(
    ("places", "name"),
    [
        ([(0, 0)], "QUADRANT UPPER LEFT"),
        ([(1, 0)], "QUADRANT UPPER RIGHT"),
        ([(0, 1)], "QUADRANT LOWER LEFT"),
        ([(1, 1)], "QUADRANT LOWER RIGHT"),
        ([(0, 0), (1, 0)], "UPPER HALF BLOCK"),
        ([(0, 0), (0, 1)], "LEFT HALF BLOCK"),
        ([(1, 0), (1, 1)], "RIGHT HALF BLOCK"),
        ([(0, 1), (1, 1)], "LOWER HALF BLOCK"),
        ([(0, 0), (1, 1)], "QUADRANT UPPER LEFT AND LOWER RIGHT"),
        ([(1, 0), (0, 1)], "QUADRANT UPPER RIGHT AND LOWER LEFT"),
        ([(0, 0), (1, 0), (0, 1)], "QUADRANT UPPER LEFT AND UPPER RIGHT AND LOWER LEFT"),
        ([(0, 0), (1, 0), (1, 1)], "QUADRANT UPPER LEFT AND UPPER RIGHT AND LOWER RIGHT"),
        ([(0, 0), (0, 1), (1, 1)], "QUADRANT UPPER LEFT AND LOWER LEFT AND LOWER RIGHT"),
        ([(1, 0), (0, 1), (1, 1)], "QUADRANT UPPER RIGHT AND LOWER LEFT AND LOWER RIGHT"),
        ([(0, 0), (1, 0), (0, 1), (1, 1)], "FULL BLOCK"),
    ],
)
def test_a_block_is_the_one_its_name_says(places: list[tuple[int, int]], name: str) -> None:
    canvas = Canvas(1, 1, "blocks")
    for place in places:
        canvas.dots([place], DOT)
    assert unicodedata.name(drawn(canvas)[0]) == name


@given(*[st.floats(0, 40, allow_subnormal=False)] * 4)
def test_no_dot_of_a_line_is_more_than_half_a_dot_off_it(
    x0: float, y0: float, x1: float, y1: float
) -> None:
    # Identity: that is what makes it the nearest line on a grid. A dot's middle is half a dot from
    # its corner.
    if abs(x1 - x0) < abs(y1 - y0):
        x0, y0, x1, y1 = y0, x0, y1, x1
    for x, y in nearest_dots(x0, y0, x1, y1):
        true = y0 + (y1 - y0) * ((x + 0.5 - x0) / (x1 - x0) if x1 != x0 else 0.0)
        assert abs(y + 0.5 - true) <= 0.5 + 1e-9


@given(*[st.floats(0, 40, allow_subnormal=False)] * 4)
def test_a_line_has_no_gap_and_goes_from_end_to_end(
    x0: float, y0: float, x1: float, y1: float
) -> None:
    dots = nearest_dots(x0, y0, x1, y1)
    assert all(max(abs(a - c), abs(b - d)) == 1 for (a, b), (c, d) in pairwise(dots))
    for (x, y), (at_x, at_y) in ((dots[0], (x0, y0)), (dots[-1], (x1, y1))):
        assert abs(x + 0.5 - at_x) <= 1.0
        assert abs(y + 0.5 - at_y) <= 1.0


def test_a_slanting_line_in_each_charset() -> None:
    # By hand: 16 x 4 dots in blocks step down after dots 4, 8 and 12; 16 x 8 and 8 x 4 step every
    # second dot.
    lines = {}
    for charset in ("blocks", "braille", "ascii"):
        canvas = Canvas(8, 2, charset)
        canvas.line(0, 0, 8, 2, DOT)
        lines[charset] = drawn(canvas)
    assert lines == {
        "blocks": ["▀▀▄▄", "    ▀▀▄▄"],
        "braille": ["⠉⠒⠤⣀", "    ⠉⠒⠤⣀"],
        "ascii": ["''..", "    ''.."],
    }


@pytest.mark.parametrize("charset", ["blocks", "braille", "ascii"])
@pytest.mark.parametrize("pen", [TAPE, FAINT], ids=["tape", "taped"])
def test_a_dashed_line_begins_and_ends_with_a_dash_however_long_it_is(
    charset: Charset, pen: Pen
) -> None:
    for length in range(4, 60):
        canvas = Canvas(length, 1, charset)
        canvas.line(0, 0.2, length, 0.2, pen)
        (row,) = drawn(canvas)
        assert len(row) >= length - 1, length
        assert row[:2].strip()
        assert len(set(row)) > 1 or length < 5  # it has blanks between


def test_dashes_stand_a_row_apart_upright() -> None:
    canvas = Canvas(1, 4, "blocks")
    canvas.drop(0, 4, 0, DROP)
    assert "".join(drawn(canvas)).count("▀") + "".join(drawn(canvas)).count("▄") == 4


def test_an_unbroken_line_has_no_dashes() -> None:
    canvas = Canvas(7, 1, "blocks")
    canvas.line(0, 0, 7, 0, MEMBER)
    assert drawn(canvas) == ["▀▀▀▀▀▀▀"]


def test_a_typed_tape_leaves_the_cells_of_a_rail_alone_and_a_finer_one_only_their_color() -> None:
    for charset, expected in (("ascii", "==="), ("blocks", "█▀█")):
        canvas = Canvas(3, 1, charset)
        canvas.line(0, 0, 3, 0, RAIL)
        canvas.line(0, 0.5, 3, 0.5, TAPE, lit=True)
        assert drawn(canvas) == [expected]
        assert canvas.drawing("").lit == ()


def test_a_crossmember_stands_on_the_rail() -> None:
    canvas = Canvas(3, 1, "blocks")
    canvas.line(0, 0, 3, 0, RAIL)
    canvas.line(0, 0.5, 3, 0.5, MEMBER)
    assert drawn(canvas) == ["███"]


def test_a_rail_is_thicker_than_a_crossmember_in_braille_and_what_is_looked_at_thicker_still() -> (
    None
):
    for pen, expected in ((LOOKED, "⠿⠿"), (RAIL, "⠶⠶"), (MEMBER, "⠤⠤")):
        canvas = Canvas(2, 1, "braille")
        canvas.line(0, 0.5 - 0.125 * (pen is LOOKED), 2, 0.5 - 0.125 * (pen is LOOKED), pen)
        assert drawn(canvas) == [expected]


def test_a_bead_is_a_letter_where_marks_are_typed_and_lies_about_its_place_elsewhere() -> None:
    typed = Canvas(5, 1, "ascii")
    typed.bead(2.5, 0.5, "asked")
    assert drawn(typed) == [" (@)"]
    braille = Canvas(3, 1, "braille")
    braille.bead(1.5, 0.5, "asked")
    assert drawn(braille) == ["⢾⣿⡷"]
    # Half a row lower it lies across two rows.
    across = Canvas(3, 2, "braille")
    across.bead(1.5, 1.0, "asked")
    assert drawn(across) == ["⣠⣤⣄", "⠙⠛⠋"]


def test_what_falls_outside_is_left_out() -> None:
    canvas = Canvas(3, 1, "ascii")
    canvas.line(-4, -2, 6, 3, DOT)
    canvas.text(0, 2, "long")
    canvas.text(5, 0, "low")
    assert len(drawn(canvas)) == 1
    assert drawn(canvas)[0].endswith("l")
    assert len(drawn(canvas)[0]) == 3


def test_rows_keep_their_number_and_lose_their_trailing_blanks() -> None:
    canvas = Canvas(9, 3, "ascii")
    canvas.text(1, 2, "word ")
    assert drawn(canvas) == ["", "  word", ""]


def test_lit_runs_are_joined_per_row() -> None:
    canvas = Canvas(12, 2, "ascii")
    canvas.text(0, 1, "ab", lit=True)
    canvas.text(0, 3, "cd", lit=True)
    canvas.text(0, 8, "ef", lit=True)
    canvas.text(1, 0, "gh")
    canvas.text(1, 4, "ij", lit=True)
    canvas.text(1, 5, "k")
    assert canvas.drawing("w") == Drawing(
        (" abcd   ef", "gh  ik"), ((0, 1, 5), (0, 8, 10), (1, 4, 5)), "w"
    )


def test_a_label_moves_aside_for_another_and_goes_to_the_next_row_or_nowhere() -> None:
    canvas = Canvas(12, 2, "ascii")
    canvas.label([0, 1], 5, "first")
    canvas.label([0, 1], 6, "next")
    canvas.label([0], 4, "nowhere")
    assert drawn(canvas) == ["   first", "    next"]
    canvas = Canvas(14, 1, "ascii")
    canvas.label([0], 5, "first")
    canvas.label([0], 6, "next")
    assert drawn(canvas) == ["   first next"]
