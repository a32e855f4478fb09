"""The front end close up, compared whole."""

from __future__ import annotations

from tests.telling.saying import tells
from wizard.library.shapes import Box, Layout, Place
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.cells import painted
from wizard.telling.scene_frame import Pair, horns_scene

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
    (Box("whole", "whole", "front", "rear"), Box("h", "h", "tip", "front")),
    (),
    (),
    (0, 2000),
)


def horns_view(layout: Layout, lit: Pair, width: int, height: int, charset: Charset) -> Drawing:
    return painted(horns_scene(layout, lit), width, height, charset)


def shown(drawing: Drawing) -> str:
    """The lines behind a rule, so that leading blanks and empty rows are seen."""
    return "".join(f"|{line}\n" for line in drawing.lines)


def test_a_tip_to_the_opposite_rivet_in_blocks() -> None:
    assert (
        shown(horns_view(LADDER, ("tip-left", "front-right"), 76, 7, "blocks"))
        == """\
|                          end
|        ▄                 ▄▄        ▗▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄█▄▄▄▄▖
|right   █▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▜▛██▀▀▀▀▀▀▀▀▘                               ▀
|front     ▗▖▗▖▗▖▗▖▝▘▝▘▝▘   ▌
|left   ▐█▙▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▄▟▙▄▄▄▄▄▄▄▄▖                               ▄
|       ▝▀▘                ▝▘        ▝▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀█▀▀▀▀▘
|      start
"""
    )


def test_a_tip_to_the_second_station_in_typed_marks() -> None:
    pair = ("tip-right", "center-left")
    assert (
        shown(horns_view(LADDER, pair, 76, 7, "ascii"))
        == """\
|      start
|                                     ===============================o=====
|right  (@)=================o=========
|front   . . . . . . . . . .|. . . . . .
|left    o==================o=========   ' ' ' ' ' ' ' ' ' ' ' ' ' ' '
|                                     ==============================(@)====
|                                                                   end
"""
    )


def test_the_rear_is_cut_off_unless_the_tape_goes_there() -> None:
    near = horns_view(LADDER, ("tip-left", "front-right"), 76, 7, "ascii")
    far = horns_view(LADDER, ("tip-left", "rear-right"), 76, 7, "ascii")
    assert [shown(d).count("o") + shown(d).count("@") for d in (near, far)] == [
        6 + 1,
        8 + 1,
    ]  # one o is that of "front"


def test_the_words_name_the_front() -> None:
    words = horns_view(LADDER, ("tip-left", "tip-right"), 76, 7, "blocks").words
    tells(words, "The front of the frame", "front to the left", "left side is the lower one")
    tells(words, "tape runs from the left horn tip to the right horn tip")


def test_a_layout_with_nothing_behind_the_front_is_drawn_whole() -> None:
    stub = Layout("stub", "stub", "", "", LADDER.places[:2], (), (), (), (0, 1))
    assert len(horns_view(stub, ("tip-left", "front-right"), 76, 7, "blocks").lines) == 7
