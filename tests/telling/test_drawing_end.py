"""The level across the rails, compared whole. Seen from the rear: left is left."""

from __future__ import annotations

import pytest

from tests.telling.saying import tells
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.drawing_end import ONE_BOX, end_view

pytestmark = pytest.mark.quick


def shown(drawing: Drawing) -> str:
    """The lines behind a rule, so that leading blanks and empty rows are seen."""
    return "".join(f"|{line}\n" for line in drawing.lines)


def test_the_first_way_round_before_it_is_read() -> None:
    assert (
        shown(end_view("front crossmember", None, False, 76, 7, "blocks"))
        == """\
|         first way round
|       [─ mark ─────────────────(   | ? |   )───────────────────────]
|           ██                                                  ██
|         █▀▀▀▀▀▀▀▀            front crossmember           ▀▀▀▀▀▀▀▀█
|         █                   seen from the rear                   █
|         █▄▄▄▄▄▄▄▄                                        ▄▄▄▄▄▄▄▄█
|         left                                                 right
"""
    )


def test_turned_end_for_end_with_the_left_side_high() -> None:
    assert (
        shown(end_view("horns", 0.004, True, 76, 8, "ascii"))
        == """\
|         ------------------ turned end for end ------------------->
|       [------------------------(   O   |   )---------------- mark -]
|           ##                                                  ##
|         #========                  horns                 ========#
|         #                   seen from the rear                   #
|         #                                                        #
|         #========                                        ========#
|         left, higher                                         right
"""
    )


def test_a_narrow_box_with_the_right_side_high_in_braille() -> None:
    assert (
        shown(end_view("rear", -0.02, True, 50, 6, "braille"))
        == """\
|      ──────── turned end for end ─────────>
|    [──────────────(   |   |  O)────── mark ─]
|        ██                              ██
|      ⣿⠛⠛⠛⠛⠛           rear           ⠛⠛⠛⠛⠛⣿
|      ⣿⣤⣤⣤⣤⣤    seen from the rear    ⣤⣤⣤⣤⣤⣿
|      left                     right, higher
"""
    )


@pytest.mark.parametrize(
    ("slope", "vial", "says"),
    [
        (0.0, "(   | O |   )", "in the middle"),
        (0.0004, "(   | O |   )", "in the middle"),
        (0.0006, "(   |O  |   )", "to the left, the higher side"),
        (0.004, "(   O   |   )", "to the left, the higher side"),
        (-0.004, "(   |   O   )", "to the right, the higher side"),
        (0.5, "(O  |   |   )", "to the left, the higher side"),
        (-0.5, "(   |   |  O)", "to the right, the higher side"),
    ],
)
def test_the_bubble_runs_to_the_higher_side(slope: float, vial: str, says: str) -> None:
    drawing = end_view("front", slope, False, 76, 7, "ascii")
    assert vial in drawing.lines[1]
    assert says in drawing.words


def test_before_it_is_read_no_side_is_called_higher() -> None:
    drawing = end_view("front", None, False, 76, 7, "ascii")
    assert "higher" not in shown(drawing) + drawing.words
    assert "(   | ? |   )" in drawing.lines[1]


def test_the_marked_end_changes_sides_when_the_level_is_turned() -> None:
    first, second = (
        end_view("front", None, turned, 76, 7, "ascii").lines[1] for turned in (False, True)
    )
    assert first.index("mark") < first.index("(") < second.index(")") < second.index("mark")


def test_the_words_say_what_the_picture_shows() -> None:
    words = end_view("horns", -0.003, True, 76, 7, "blocks").words
    tells(words, "from the rear", "level across both rails", "(horns)", "turned end for end")
    tells(words, "marked end on the right", "bubble stands to the right", "the higher side")


@pytest.mark.parametrize("charset", ["blocks", "braille", "ascii"])
@pytest.mark.parametrize(("width", "height"), [(44, 6), (50, 6), (76, 7), (110, 14), (200, 40)])
def test_a_drawing_keeps_to_its_box(width: int, height: int, charset: Charset) -> None:
    for slope in (None, 0.01, -0.01):
        for turned in (False, True):
            lines = end_view("rear crossmember", slope, turned, width, height, charset).lines
            assert len(lines) == height
            assert max(map(len, lines)) <= width
            assert charset != "ascii" or "".join(lines).isascii()


@pytest.mark.parametrize(("width", "height"), [(43, 6), (44, 5), (0, 0)])
def test_with_too_little_room_there_are_only_words(width: int, height: int) -> None:
    drawing = end_view("front", 0.01, False, width, height, "blocks")
    assert drawing.lines == ()
    assert "left, the higher side" in drawing.words


def test_each_section_is_drawn_as_it_is_cut() -> None:
    """A box has a wall on either side of each rail, a tube no corners; all stand in the same cells."""
    lines = {
        section: end_view("rear", None, False, 76, 9, "ascii", section).lines
        for section in ("channel", "box", "tube")
    }
    rails = {section: [line for line in found if "#==" in line] for section, found in lines.items()}
    assert len(rails["channel"]) == len(rails["box"]) == 2
    assert "#========#" in rails["box"][0]
    assert "#========#" not in rails["channel"][0]
    assert rails["tube"] == []
    walls = [line.count("#") for line in lines["tube"]]
    # The blocks on top, the crest, four walls a row, the bottom.
    assert walls[2:7] == [4, 0, 4, 4, 4]
    assert sum("=" * 8 in line for line in lines["tube"]) == 2


@pytest.mark.parametrize(
    ("charset", "edge"), [("blocks", "█▀"), ("ascii", "#="), ("braille", "⣿⠛")]
)
def test_where_one_box_is_all_there_is_no_two_rails_are_drawn(charset: Charset, edge: str) -> None:
    wall, flange = edge
    for height in (6, 7, 9):
        drawing = end_view("center box", None, False, 76, height, charset, ONE_BOX)
        top = next(line.strip() for line in drawing.lines if line.strip().startswith(wall + flange))
        assert top.strip(wall) == flange * (len(top) - 2)
        inside = [line.strip() for line in drawing.lines if line.strip().startswith(f"{wall} ")]
        assert all(line.count(wall) == 2 for line in inside)
        assert any("center box, seen from the rear" in line for line in drawing.lines)
