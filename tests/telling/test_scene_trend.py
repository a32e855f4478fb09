"""The plot of a quantity over several surveys: where the marks stand, what the line does, and when
there is none.
"""

from __future__ import annotations

import math

import pytest

from wizard.telling.canvas import Drawing
from wizard.telling.scene_trend import Mark, Plot, limits_of, trend_plot

RISING = [
    Mark(0.0, 1.0, 0.3, "2026-04-11", "2026-04"),
    Mark(182.0, 2.0, 0.3, "2026-10-10", "2026-10"),
    Mark(400.0, 3.0, 0.3, "2027-05-16", "2027-05"),
]
LINE = ((0.0, 1.0), (400.0, 3.0))


def plot(
    marks: list[Mark] = RISING, bound: float | None = None, width: int = 60, height: int = 10
) -> Drawing:
    seen = Plot(tuple(marks), LINE, bound, "leave it up to 1/8 in")
    return trend_plot(seen, ("0", "3.5 mm"), "it rises", width, height, "ascii")


def rows_of(drawing: Drawing, mark: str = "(@)") -> list[int]:
    """Rows of the marks from left to right."""
    found = [
        (line.index(mark, at), row)
        for row, line in enumerate(drawing.lines)
        for at in starts(line, mark)
    ]
    return [row for _, row in sorted(found)]


def starts(line: str, mark: str) -> list[int]:
    return [n for n in range(len(line)) if line.startswith(mark, n)]


def test_every_survey_is_a_mark_and_a_higher_value_stands_higher() -> None:
    rows = rows_of(plot())
    assert len(rows) == 3
    assert rows == sorted(rows, reverse=True)
    assert rows[0] > rows[-1]
    falling = [Mark(m.x, 4.0 - m.y, m.half, m.name) for m in RISING]
    assert rows_of(plot(falling)) == sorted(rows_of(plot(falling)))


def test_what_is_low_is_drawn_low_where_more_is_lower() -> None:
    seen = Plot(tuple(RISING), LINE, 4.0, "leave it up to 1/8 in", downward=True)
    drawing = trend_plot(seen, ("0", "3.5 mm"), "it drops", 60, 10, "ascii")
    assert rows_of(drawing) == sorted(rows_of(drawing))
    assert drawing.lines[0].startswith("0")
    assert drawing.lines[-2].startswith("3.5 mm")
    assert any("leave it up to 1/8 in" in line for line in drawing.lines)


def test_marks_stand_by_their_days_not_by_their_number() -> None:
    early = [RISING[0], Mark(20.0, 2.0, 0.3, ""), RISING[2]]
    cols = [
        sorted(at for line in plot(m).lines for at in starts(line, "(@)")) for m in (RISING, early)
    ]
    assert cols[0][0] == cols[1][0]
    assert cols[0][2] == cols[1][2]
    assert cols[1][1] < cols[0][1]


def test_the_dates_stand_under_the_marks_and_the_ends_beside_the_axis() -> None:
    lines = plot().lines
    assert all(m.short in lines[-1] for m in RISING)
    assert lines[0].startswith("3.5 mm")
    assert lines[-2].startswith("0")


def test_a_limit_near_by_is_drawn_and_one_far_off_is_not() -> None:
    for width in (44, 60, 90):
        told = "leave it up to 1/8 in"
        assert any(told in line for line in plot(bound=4.0, width=width).lines)
        assert any(told in line for line in plot(bound=2.5, width=width).lines)
        assert not any("up to" in line for line in plot(bound=400.0, width=width).lines)
        assert not any("up to" in line for line in plot(width=width).lines)


def test_the_axis_takes_in_every_doubt_and_zero() -> None:
    assert limits_of(RISING, None) == (0.0, 3.3)
    assert limits_of(RISING, None, zero=False) == (0.7, 3.3)
    assert limits_of(RISING, 5.0) == (0.0, 5.0)
    assert limits_of([Mark(0, 0.0, 0.0, ""), Mark(1, 0.0, 0.0, "")], None) == (0.0, 1.0)


@pytest.mark.parametrize(
    ("marks", "width", "height"),
    [
        (RISING, 20, 10),
        (RISING, 60, 4),
        (RISING[:1], 60, 10),
        ([RISING[0], RISING[0]], 60, 10),
        ([RISING[0], Mark(9.0, math.nan, 0.1, "")], 60, 10),
        ([RISING[0], Mark(9.0, 1.0, math.inf, "")], 60, 10),
    ],
)
def test_where_there_is_no_room_or_no_line_the_words_remain(
    marks: list[Mark], width: int, height: int
) -> None:
    drawing = plot(marks, width=width, height=height)
    assert drawing.lines == ()
    assert drawing.words == "it rises"


@pytest.mark.parametrize("charset", ["ascii", "blocks", "braille"])
def test_no_line_is_wider_than_the_room(charset: str) -> None:
    seen = Plot(tuple(RISING), LINE, 3.2, "keep an eye on it up to 1/8 in")
    drawing = trend_plot(seen, ("-1 1/2 in", "13/32 in"), "", 44, 9, charset)  # type: ignore[arg-type]
    assert len(drawing.lines) == 9
    assert max(map(len, drawing.lines)) <= 44


def test_a_step_is_drawn_level_and_level_again_and_a_slope_is_not() -> None:
    """A level fills one row with many marks; a slope has a few in every row."""
    step = ((0.0, 1.0), (200.0, 1.0), (200.0, 3.0), (400.0, 3.0))
    marks = [Mark(0.0, 1.0, 0.1, ""), Mark(400.0, 3.0, 0.1, "")]

    def long_rows(course: tuple[tuple[float, float], ...]) -> int:
        seen = Plot(tuple(marks), course)
        lines = trend_plot(seen, ("0", "3"), "", 60, 10, "ascii").lines
        return sum(line.count(".") + line.count("'") > 12 for line in lines)

    assert long_rows(step) == 2
    assert long_rows(LINE) == 0
