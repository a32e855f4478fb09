"""A value and its doubt against the bands, compared whole."""

from __future__ import annotations

import re
from math import inf, nan
from typing import Any

import pytest

from tests.telling.saying import tells
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.scene_value import Axis, Value
from wizard.telling.scene_value import value_picture as painted

SHIFT = [
    (3.0, "leave it"),
    (6.0, "keep an eye on it"),
    (12.0, "put it right"),
    (inf, "take it to a specialist"),
]
SAG = [
    (4.7625, "leave it"),
    (8.0, "keep an eye on it"),
    (12.0, "put it right"),
    (inf, "take it to a specialist"),
]
CROWN = [
    (1.5875, "leave it"),
    (3.0, "keep an eye on it"),
    (6.0, "put it right"),
    (inf, "take it to a specialist"),
]
ENDS = ("crown", "sag")


def value_picture(
    value: float, low: float, high: float, bounds: Any, width: int, charset: Charset, **more: Any
) -> Drawing:
    return painted(Value(value, low, high, bounds, **more), width, charset)


def shown(drawing: Drawing) -> str:
    """The lines behind a rule, so that leading blanks and empty rows are seen."""
    return "".join(f"|{line}\n" for line in drawing.lines)


def test_a_doubt_across_a_bound_in_blocks() -> None:
    assert (
        shown(value_picture(4, 2.5, 5.5, SHIFT, 76, "blocks"))
        == """\
|0───────────▒▒│▒▒▒▒█▒▒▒▒▒▒▒──│────────────────────────────│─────────────────
|            3 mm           6 mm                         12 mm
|leave it up to 3 mm, [keep an eye on it up to 6 mm], put it right up to 12
|mm, beyond that take it to a specialist
"""
    )


def test_with_room_the_bands_take_one_line() -> None:
    assert (
        shown(value_picture(1, 0.2, 1.8, SHIFT, 110, "braille"))
        == """\
|0⣶⣶⣶⣶⣶⣶█⣶⣶⣶⣶⣶⣶⠒⠒⠒⠒⠒⠒⠒│⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒│⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒│⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒⠒
|                   3 mm                 6 mm                                      12 mm
|[leave it up to 3 mm], keep an eye on it up to 6 mm, put it right up to 12 mm, beyond that take it to a
|specialist
"""
    )


def test_a_sag_on_an_axis_with_two_sides() -> None:
    drawing = value_picture(5.2, 3.5, 6.9, SAG, 76, "ascii", below=CROWN, ends=ENDS)
    assert (
        shown(drawing)
        == """\
|crown --|-----0-----------=====|=#======---|--------------|------------- sag
|     1.59 mm                4.76 mm      8 mm           12 mm
|sag: leave it up to 4.76 mm, [keep an eye on it up to 8 mm], put it right up
|to 12 mm, beyond that take it to a specialist
"""
    )


def test_a_crown_on_the_same_axis_is_judged_by_the_other_bands() -> None:
    drawing = value_picture(-2.2, -3.5, -0.9, SAG, 76, "ascii", below=CROWN, ends=ENDS)
    assert (
        shown(drawing)
        == """\
|crown --------|-----------==|===#==|===---0---------------------|------- sag
|            6 mm          3 mm  1.59 mm                      4.76 mm
|crown: leave it up to 1.59 mm, [keep an eye on it up to 3 mm], put it right
|up to 6 mm, beyond that take it to a specialist
"""
    )
    assert 'in the band "keep an eye on it"' in drawing.words
    assert (
        'in the band "leave it"'
        in value_picture(2.2, 0.9, 3.5, SAG, 76, "ascii", below=CROWN).words
    )


def test_a_value_off_the_scale_becomes_an_arrow() -> None:
    assert (
        shown(value_picture(30, 28, 31, SHIFT, 76, "ascii"))
        == """\
|0-----------|----------|-----------------------|--------------------------#>
|          3 mm       6 mm                    12 mm
|leave it up to 3 mm, keep an eye on it up to 6 mm, put it right up to 12 mm,
|[beyond that take it to a specialist]
"""
    )


def test_a_doubt_wider_than_the_axis_has_arrows_at_both_ends() -> None:
    assert (
        shown(value_picture(8, -40, 40, SHIFT, 76, "ascii", below=SHIFT))
        == """\
|<=============|===========|=====|=====0====|=====|===#=======|=============>
|            12 mm       6 mm  3 mm       3 mm  6 mm        12 mm
|leave it up to 3 mm, keep an eye on it up to 6 mm, [put it right up to 12
|mm], beyond that take it to a specialist
"""
    )


def test_the_side_that_no_band_judges_is_kept_short() -> None:
    assert (
        shown(value_picture(8, -10, 40, SHIFT, 50, "ascii"))
        == """\
|<==========0=====|=====|===#=======|=============>
|               3 mm  6 mm        12 mm
|leave it up to 3 mm, keep an eye on it up to 6 mm,
|[put it right up to 12 mm], beyond that take it to
|a specialist
"""
    )


def test_a_value_that_no_band_judges_is_an_axis_alone() -> None:
    assert (
        shown(value_picture(0.7, 0.5, 0.9, [], 60, "ascii"))
        == """\
|0-----------------------------============#============-----
"""
    )


def test_a_negative_value_off_the_scale_points_the_other_way() -> None:
    line = value_picture(-30, -31, -28, SHIFT, 76, "ascii", below=SHIFT).lines[0]
    assert line.startswith("<#")
    assert not value_picture(-5, -6, -4, SHIFT, 76, "ascii", below=SHIFT).lines[0].startswith("<")


def test_the_run_is_as_wide_as_the_doubt() -> None:
    # Identity: 75 steps for 0 to 15.6 mm (1.3 times the last bound) is 4.808 columns per mm; both
    # ends are inked.
    runs = [value_picture(9, 9 - h, 9 + h, SHIFT, 76, "ascii").lines[0] for h in (0.5, 1.0, 2.0)]
    assert [line.count("=") + line.count("#") for line in runs] == [
        46 - 41 + 1,
        48 - 38 + 1,
        53 - 34 + 1,
    ]


def test_the_axis_is_even() -> None:
    axis = Axis(-2.0, 8.0, 10, 60)
    assert [axis.col(v) for v in (-2, 0, 3, 8)] == [10, 20, 35, 60]
    assert [axis.col(v) for v in (-9, 9)] == [10, 60]


def test_the_words_say_value_doubt_and_bands() -> None:
    two = value_picture(4, 2.5, 5.5, SHIFT, 76, "blocks").words
    tells(two, "4 mm", '"keep an eye on it"', "19 times in 20", "between 2.5 mm and 5.5 mm")
    tells(two, "5.5 mm", "takes in", '"leave it" and "keep an eye on it"')
    one = value_picture(1, 0.5, 1.5, SHIFT, 76, "blocks").words
    tells(one, "1 mm", '"leave it"', "19 times in 20", "between 0.5 mm and 1.5 mm")
    assert "takes in" not in one


def test_a_value_on_a_bound_belongs_to_both_bands() -> None:
    assert (
        'on the bound between "leave it" and "keep an eye on it"'
        in value_picture(3, 2, 4, SHIFT, 76, "blocks").words
    )
    assert "on the bound" not in value_picture(3.01, 2, 4, SHIFT, 76, "blocks").words


def test_the_caller_may_write_values_in_another_unit() -> None:
    words = value_picture(
        6.35, 3.175, 9.525, SHIFT, 76, "blocks", say=lambda v: f"{v / 25.4:g} in"
    ).words
    assert "The value is 0.25 in" in words
    assert "between 0.125 in and 0.375 in" in words


def test_the_band_of_the_value_is_lit_and_no_other() -> None:
    drawing = value_picture(4, 3.5, 4.5, SHIFT, 110, "ascii")
    assert [drawing.lines[row][first:after] for row, first, after in drawing.lit if row] == [
        "[keep an eye on it up to 6 mm],"
    ]


@pytest.mark.parametrize("charset", ["blocks", "braille", "ascii"])
@pytest.mark.parametrize("width", [24, 40, 50, 76, 110, 200])
def test_a_picture_keeps_to_its_width(width: int, charset: Charset) -> None:
    for value in (-50, -8, -2, 0, 2, 3, 8, 50):
        for half in (0, 0.1, 4, 60):
            for below in ((), CROWN):
                drawing = value_picture(
                    value, value - half, value + half, SAG, width, charset, below=below
                )
                # Axis, figures, and the bands of both sides in words: 200 letters at most.
                assert 1 <= len(drawing.lines) <= 2 + 2 * 200 / width + 2
                assert max(map(len, drawing.lines)) <= width
                assert charset != "ascii" or "".join(drawing.lines).isascii()


def test_with_too_little_room_or_no_number_there_are_only_words() -> None:
    assert value_picture(4, 3, 5, SHIFT, 23, "ascii").lines == ()
    assert value_picture(4, 3, inf, SHIFT, 76, "ascii").lines == ()
    assert value_picture(nan, nan, nan, SHIFT, 76, "ascii").lines == ()
    assert value_picture(4, 3, 5, SHIFT, 24, "ascii").lines != ()


def lit_words(drawing: Drawing) -> str:
    return " ".join(drawing.lines[row][first:after] for row, first, after in drawing.lit if row > 1)


def test_every_band_stands_with_its_figure_at_every_width_and_none_is_stacked() -> None:
    for width in range(24, 160, 3):
        for value, half in ((1.6, 0.8), (-5, 4), (30, 2)):
            lines = value_picture(
                value, value - half, value + half, SHIFT, width, "ascii", below=SHIFT
            ).lines
            told = " ".join(" ".join(lines[2:]).split())
            for bound, word in SHIFT[:-1]:
                assert f"{word} up to {bound:g} mm" in told
            assert "beyond that take it to a specialist" in told
            # Nothing but bounds, figures and one text that runs over the whole width.
            assert all(len(line) > width - 24 for line in lines[2:-1])


def test_the_figures_under_the_axis_stand_at_their_bounds() -> None:
    drawing = value_picture(4, 2.5, 5.5, SHIFT, 76, "ascii")
    axis, figures = drawing.lines[:2]
    bounds = [n for n, letter in enumerate(axis) if letter == "|"]
    told = [(m.start(), m.group()) for m in re.finditer(r"[\d.]+ mm", figures)]
    assert [words for _, words in told] == ["3 mm", "6 mm", "12 mm"]
    assert all(at <= n < at + len(words) for n, (at, words) in zip(bounds, told, strict=True))


def test_the_bands_that_the_answer_names_are_lit_and_named_however_narrow() -> None:
    """A crown just beyond `leave it`: its narrow band is named as well as the wide ones."""
    bounds = [(1.0, "leave it"), (2.0, "keep an eye on it"), (20.0, "put it right")]
    drawing = value_picture(
        -1.6, -2.4, -0.8, bounds, 60, "ascii", below=bounds, meant=("keep an eye on it",)
    )
    assert "[keep an eye on it up to 2 mm]" in lit_words(drawing)
    assert "leave it" not in lit_words(drawing)


def test_a_doubt_that_crosses_zero_tells_the_bands_of_both_sides_and_lights_what_it_reaches() -> (
    None
):
    drawing = value_picture(
        0.3, -2.7, 3.3, [(4.8, "leave it"), (8.0, "watch")], 70, "ascii", below=[(1.6, "leave it"), (9.0, "watch")],
        ends=("crown", "sag"), meant=("leave it", "watch"),
    )  # fmt: skip
    told = " ".join(drawing.lines[2:])
    assert "sag: leave it up to 4.8 mm" in told
    assert "crown: leave it up to 1.6 mm" in told
    assert "[watch up to 9 mm]" in lit_words(drawing)
    assert "[watch up to 8 mm]" not in lit_words(drawing)


def test_a_side_that_the_doubt_does_not_reach_is_left_out() -> None:
    told = " ".join(value_picture(5, 4, 6, SAG, 76, "ascii", below=CROWN, ends=ENDS).lines[1:])
    assert "sag: leave it up to 4.76 mm" in told
    assert "crown" not in told
