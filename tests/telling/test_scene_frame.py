"""The plan, compared whole.

Front to the left seen from above: the left rail must be the lower one.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Collection

import pytest

from tests.telling.saying import tells
from wizard.library.shapes import Box, Layout, Place
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.cells import Ground, painted
from wizard.telling.scene_frame import Pair, plan_scene, spots

LADDER = Layout(
    "ladder",
    "ladder",
    "",
    "",
    (
        Place("tip", "horn tip", -450, 295, -40, "hole", horns=True),
        Place("front", "front", 0, 310, 0, "rivet"),
        Place("center", "center", 1000, 365, 0, "rivet"),
        Place("rear", "rear", 2200, 430, 0, "rivet"),
    ),
    (
        Box("whole", "whole", "front", "rear"),
        Box("rear-box", "rear box", "center", "rear"),
        Box("h", "h", "tip", "front"),
    ),
    (),
    (),
    (0, 2000),
)
NOSE = Layout(
    "nose",
    "nose",
    "",
    "",
    (
        Place("nose", "nose", 0, 0, 0, "bolt", ("middle",)),
        Place("front", "front", 700, 250, 0, "rivet"),
        Place("rear", "rear", 2300, 450, 0, "rivet"),
    ),
    (Box("whole", "whole", "front", "rear"),),
    (),
    (),
    (0, 2000),
)
BRACED = Layout(
    "braced",
    "braced",
    "",
    "",
    (
        Place("front", "front", 0, 330, 0, "rivet"),
        Place("center-plate", "center plate", 1300, 0, 0, "hole", ("middle",)),
        Place("rear", "rear", 2700, 430, 0, "rivet"),
    ),
    (Box("whole", "whole", "front", "rear", through="center-plate"),),
    (),
    (),
    (0, 2000),
)
LONG = ("front-left", "rear-right")
OTHER = ("front-right", "rear-left")


def plan_view(
    layout: Layout,
    lit: Pair | None,
    width: int,
    height: int,
    charset: Charset,
    done: Collection[Pair] = (),
) -> Drawing:
    return painted(plan_scene(layout, lit, done), width, height, charset)


def shown(drawing: Drawing) -> str:
    """The lines behind a rule, so that leading blanks and empty rows are seen."""
    return "".join(f"|{line}\n" for line in drawing.lines)


def test_the_long_diagonal_in_blocks_at_80_columns() -> None:
    assert (
        shown(plan_view(LADDER, LONG, 76, 7, "blocks"))
        == """\
|                                                                        end
|        ▄          ▄     ▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▟▙▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▟█▌
|right   █▀▀▀▀▀▀▀▀▀▀█▀▀▀▀▀                  ▝▌        ▄ ▄ ▄ ▄▗▖▗▖▗▖▝▘▝▘▝▘▝▜▘
|front              ▐     ▗▖▗▖▗▖▗▖▄ ▄ ▄ ▀ ▀ ▀▌▀ ▀ ▀ ▀                     ▐
|left    █▄▄▄▄▄▄▄▄▄▟█▙▟▙▟▙                  ▗▌                            ▟
|        ▀         ▝▀▘    ▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▜▛▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀█
|                 start
"""
    )


def test_the_other_diagonal_with_the_first_already_taped() -> None:
    assert (
        shown(plan_view(LADDER, OTHER, 76, 8, "blocks", done=[LONG]))
        == """\
|                 start
|        ▄         ▗▄▖             ▗▄▄▄▄▄▄▄▄▟▙▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄█
|right   █▀▀▀▀▀▀▀▀▀▜█▛▀▀▀▀▀▀▀▀▀▀▀▀▀▘        ▝▌                ▖  ▖  ▖  ▘  ▜
|front              ▐ ▝▘▝▘▝▘▝▘▝▖▗▖▄ ▄ ▄ ▄▗  ▗▌    ▖  ▘  ▘  ▘              ▐
|                   ▐  ▗  ▗  ▗  ▝  ▝  ▝   ▀ ▀▌▀ ▀ ▚ ▄ ▄ ▄ ▄               ▐
|left    █▄▄▄▄▄▄▄▄▄▄█▄▄▄▄▄▄▄▄▄▄▄▄▄▄▖        ▗▌              ▀▝▘▝▘▝▘▝▘▗▖▗▖▗▟▖
|        ▀          ▀              ▝▀▀▀▀▀▀▀▀▜▛▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▜█▌
|                      dashes: this tape   dots: taped already           end
"""
    )


def test_a_roomy_box_in_braille() -> None:
    assert (
        shown(plan_view(LADDER, LONG, 110, 14, "braille"))
        == """\
|                                                                                                          end
|                                                              ⣀           ⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣠⣤⣤⣤⣤⣤⣤⣤⣤⣤⣤⣤⣤⣤⠶⠶⡶⢶⡶⢾⣿⡷
|        ⣀        ⢀⣀⣀⣀⣀⣀⣀⣀⣤⣀⣀⣀⣀⣀⣀⣀⣀⣤⣤⣤⣤⣤⣤⣤⣤⣤⣤⣤⣤⣤⠶⠶⠶⠶⠶⠶⠶⠶⠶⠶⠶⠶⠶⠞⠛⢿⠛⠛⠛⠛⠛⠛⠛⠛⠛⠛⠛⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠁      ⢀⡀⠠⠄⠠⠂⠐⠁⠈    ⢸
|right  ⠘⠿⠛⠛⠛⠛⠛⠛⠛⠛⠋⠉⠉⠉⠉⠉⠉⠉⡟⠉⠉⠉⠉⠉⠉⠉⠉                            ⢸                       ⢀⡀⠠⠄⠐⠂⠈⠁             ⢸
|                         ⡇                                    ⢸              ⡀⢀⡀⠠⠄⠐⠂⠈⠁                     ⢸
|                         ⡇                                    ⢸     ⢀⡀⠠⠄⠠⠂⠐⠁⠈                              ⢸
|front                    ⡇                                 ⢀ ⣀⢸⠤ ⠒⠈⠁                                       ⢸
|                         ⡇                         ⣀ ⠤ ⠔ ⠊ ⠁  ⢸                                            ⢸
|                         ⡇                 ⣀ ⠤ ⠒ ⠉            ⢸                                            ⢸
|                         ⡇       ⢀ ⣀ ⠤ ⠒ ⠉                    ⢸                                            ⢸
|left   ⢠⣶⣤⣤⣤⣤⣤⣤⣤⣤⣄⣀⣀⣀⣀⣀⣀⣠⣧⣄⣤⣀⣔⣀⣊⣀⣁                            ⢸                                            ⢸
|        ⠉        ⠈⠉⠉⠉⠉⠉⠉⠙⠛⠋⠉⠉⠉⠉⠉⠉⠉⠛⠛⠛⠛⠛⠛⠛⠛⠛⠛⠛⠛⠛⠶⠶⠶⠶⠶⠶⠶⠶⠶⠶⠶⠶⠶⢦⣤⣾⣤⣤⣤⣤⣤⣤⣤⣤⣤⣤⣤⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⣀⡀                   ⢸
|                       start                                  ⠉           ⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠉⠙⠛⠛⠛⠛⠛⠛⠛⠛⠛⠛⠛⠛⠛⠶⠶⠶⠶⠶⠶⣿⠆
|
"""
    )


def test_a_narrow_box_in_typed_marks() -> None:
    assert (
        shown(plan_view(LADDER, LONG, 50, 6, "ascii"))
        == """\
|                                              end
|right   o======o=============o================(@)
|front          |             | . . . . . . . . .
|               ' ' ' ' ' ' ' '                 |
|left    o=====(@)============o=================o
|             start
"""
    )


def test_a_tape_along_a_rail_lies_beside_it() -> None:
    pair = ("front-left", "rear-left")
    assert (
        shown(plan_view(LADDER, pair, 76, 7, "ascii"))
        == """\
|
|                         ===================o============================o
|right   o==========o=====                   |                            |
|front              . . .                    |                            |
|left    o=========(@)====' ' ' ' ' ' ' ' ' '|' ' ' ' ' ' ' ' ' ' ' ' ' ' '
|                         ===================o===========================(@)
|                 start                                                  end
"""
    )


def test_a_tape_across_the_rear_lies_beside_the_crossmember() -> None:
    pair = ("rear-right", "rear-left")
    assert (
        shown(plan_view(LADDER, pair, 76, 7, "blocks"))
        == """\
|                                                                       start
|        ▄          ▄     ▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▟▙▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▟█▌
|right   █▀▀▀▀▀▀▀▀▀▀█▀▀▀▀▀                  ▝▌                          ▄▝▜▘
|front              ▐                        ▌                            ▐
|left    █▄▄▄▄▄▄▄▄▄▄█▄▄▄▄▄                  ▗▌                          ▀▗▟▖
|        ▀          ▀     ▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▜▛▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▜█▌
|                                                                        end
"""
    )


def test_both_rails_run_to_a_nose_and_the_tape_lies_inside() -> None:
    pair = ("nose", "rear-left")
    assert (
        shown(plan_view(NOSE, pair, 76, 7, "blocks"))
        == """\
|
|right start                 ▄                   ▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄█
|       ▗▄▖       ▗▄▄▄▄▄▄▄▄▞▀█▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀                         ▜
|front  ▐█████████▌▗▖▗▖▗▖▗▖▗▖▙▖▗▖▗▖▗▖▗▖▗▖▗▖▗                              ▐
|                 ▝▀▀▀▀▀▀▀▀▚▄█▄▄▄▄▄▄▄▄▄▄▄▄▄▄▙▟▙▟▙▝▘▝▘▝▘▝▘▝▘▝▘▝▘▝▘▝▘▝▘▝▘▝▘▐█▖
|left                        ▀                   ▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▜█▌
|                                                                        end
"""
    )


def test_the_leg_of_an_x_gives_way_to_the_tape_on_it() -> None:
    pair = ("center-plate", "rear-left")
    assert (
        shown(plan_view(BRACED, pair, 76, 7, "blocks"))
        == """\
|
|right   █▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄█
|        ▜▀▀▀▀▀▀▀▀▀▀▚▄▄▄▄▄▄▄▄▄▖         ▄▄       ▄▄▄▄▄▄▄▄▞▀▀▀▀▀▀▀▀        ▜
|front   ▐                    ▐███████████▜▛▜▛▜▛▜                         ▐
|        ▟▄▄▄▄▄▄▄▄▄▄▞▀▀▀▀▀▀▀▀▀▘       start       ▀ ▀ ▀ ▀ ▄ ▄ ▄ ▄        ▗▟▖
|left    █▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▜█▌
|                                                                        end
"""
    )


def test_the_left_side_is_below_the_right_side_and_the_front_is_left_of_the_rear() -> None:
    # Looking down with the front to the left: x (rearward) runs right, z (up) toward the reader, so
    # y, the car's right,
    # runs up the page, or the three would not make a right-handed set. Identity.
    ground, known = Ground((-450, 2200), 430, 76, 7), spots(LADDER)
    assert ground.at(known["rear-left"].at)[1] > ground.at(known["rear-right"].at)[1]
    assert ground.at(known["front-left"].at)[0] < ground.at(known["rear-left"].at)[0]


def test_the_two_diagonals_are_not_drawn_alike() -> None:
    assert (
        plan_view(LADDER, LONG, 76, 7, "blocks").lines
        != plan_view(LADDER, OTHER, 76, 7, "blocks").lines
    )


def test_a_tape_turned_end_for_end_changes_only_the_words_at_its_ends() -> None:
    there, back = (shown(plan_view(LADDER, pair, 76, 7, "blocks")) for pair in (LONG, LONG[::-1]))
    assert there != back
    assert sorted(there.replace(" ", "").replace("\n", "")) == sorted(
        back.replace(" ", "").replace("\n", "")
    )


def test_the_distance_being_taped_again_is_not_also_dotted() -> None:
    again = plan_view(LADDER, LONG, 76, 7, "blocks", done=[LONG[::-1]])
    assert again == plan_view(LADDER, LONG, 76, 7, "blocks")
    assert plan_view(LADDER, LONG, 76, 7, "blocks", done=[OTHER]) != again


def test_what_is_lit_is_the_tape_its_points_and_their_words() -> None:
    drawing = plan_view(LADDER, LONG, 76, 7, "blocks")
    lit = [drawing.lines[row][first:after].strip() for row, first, after in drawing.lit]
    assert [lit.count(word) for word in ("start", "end")] == [1, 1]
    assert sum("▄" in part or "▀" in part or "▙" in part for part in lit) >= 4  # dashes, beads
    assert plan_view(LADDER, None, 76, 7, "blocks").lit == ()


def test_the_words_say_what_the_picture_shows() -> None:
    words = plan_view(LADDER, LONG, 76, 7, "blocks", done=[OTHER]).words
    tells(words, "from above", "front to the left", "left side is the lower one", "tape runs")
    tells(words, "from the left front to the right rear", "One distance", "dotted")
    assert (
        "from the nose to the left rear"
        in plan_view(NOSE, ("nose", "rear-left"), 76, 7, "blocks").words
    )


def test_a_point_that_the_layout_does_not_have_is_said_not_to_be_there() -> None:
    drawing = plan_view(LADDER, ("gearbox", "rear-left"), 76, 7, "blocks")
    assert "not on this drawing" in drawing.words
    assert "start" not in shown(drawing)


@pytest.mark.parametrize("charset", ["blocks", "braille", "ascii"])
@pytest.mark.parametrize(
    ("width", "height"), [(24, 5), (31, 6), (50, 6), (76, 7), (110, 14), (200, 40)]
)
def test_a_drawing_keeps_to_its_box_and_to_characters_of_one_width(
    width: int, height: int, charset: Charset
) -> None:
    for layout in (LADDER, NOSE, BRACED):
        ids = list(spots(layout))
        for pair in ((a, b) for a in ids for b in ids if a != b):
            lines = plan_view(layout, pair, width, height, charset, done=[(ids[0], ids[-1])]).lines
            assert len(lines) == height
            assert max(map(len, lines)) <= width
            assert all(
                unicodedata.east_asian_width(c) in "N Na" or "\u2500" <= c <= "\u259f"
                for c in "".join(lines)
            )
            assert charset != "ascii" or "".join(lines).isascii()


@pytest.mark.parametrize(("width", "height"), [(23, 5), (24, 4), (0, 0)])
def test_with_too_little_room_there_are_only_words(width: int, height: int) -> None:
    drawing = plan_view(LADDER, LONG, width, height, "blocks")
    assert (drawing.lines, drawing.lit) == ((), ())
    assert "right rear" in drawing.words
