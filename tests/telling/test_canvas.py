"""Dots, lines and words in cells."""

from __future__ import annotations

import unicodedata

import pytest

from wizard.telling.canvas import DROP, MEMBER, RAIL, TAPE, Canvas, Drawing, Pen, grid_line

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


def test_no_dot_of_a_line_is_more_than_half_a_dot_off_it() -> None:
    # Identity: that is what makes it the nearest line on a grid.
    for x in range(-9, 10):
        for y in range(-9, 10):
            dots = list(grid_line(0, 0, x, y))
            longer = max(abs(x), abs(y))
            assert (dots[0], dots[-1], len(dots)) == ((0, 0), (x, y), longer + 1)
            for i, (dx, dy) in enumerate(dots):
                part = i / longer if longer else 0
                assert max(abs(dx - part * x), abs(dy - part * y)) <= 0.5


def test_a_slanting_line_in_each_charset() -> None:
    # By hand: 16 x 4 dots in blocks step down after dots 2, 7 and 12; 16 x 8 and 8 x 4 step every
    # second dot.
    lines = {}
    for charset in ("blocks", "braille", "ascii"):
        canvas = Canvas(8, 2, charset)
        canvas.line(0, 0, 7.5, 1.75, DOT)
        lines[charset] = drawn(canvas)
    assert lines == {
        "blocks": ["▀▚▄▄", "    ▀▀▚▄"],
        "braille": ["⠉⠒⠤⣀", "    ⠉⠒⠤⣀"],
        "ascii": ["''..", "    ''.."],
    }


def test_dashes_fill_whole_cells_level_and_every_row_upright() -> None:
    canvas = Canvas(7, 3, "blocks")
    canvas.line(0, 0, 6.5, 0, TAPE)
    assert drawn(canvas)[0] == "▀ ▀ ▀ ▀"
    canvas = Canvas(1, 3, "blocks")
    canvas.drop(0, 2.5, 0, DROP)
    assert drawn(canvas) == ["▀", "▀", "▀"]


def test_an_unbroken_line_has_no_dashes() -> None:
    canvas = Canvas(7, 1, "blocks")
    canvas.line(0, 0, 6.5, 0, MEMBER)
    assert drawn(canvas) == ["▀▀▀▀▀▀▀"]


def test_a_tape_leaves_the_cells_of_a_rail_alone_and_a_crossmember_does_not() -> None:
    for pen, expected in ((TAPE, "▀▀▀"), (MEMBER, "███")):
        canvas = Canvas(3, 1, "blocks")
        canvas.line(0, 0, 2.5, 0, RAIL)
        canvas.line(0, 0.5, 2.5, 0.5, pen)
        assert drawn(canvas) == [expected]


def test_a_rail_is_twice_as_thick_as_a_crossmember_in_braille() -> None:
    for pen, expected in ((RAIL, "⠛⠛"), (MEMBER, "⠉⠉")):
        canvas = Canvas(2, 1, "braille")
        canvas.line(0, 0, 1.5, 0, pen)
        assert drawn(canvas) == [expected]


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
