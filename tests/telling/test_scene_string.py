"""A rail from the side, compared whole; and that the enlargement said is the enlargement drawn."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from typing import Any

import pytest

from tests.telling.saying import tells
from wizard.library.shapes import Layout, Station
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.scene import TIMES
from wizard.telling.scene_string import Face, Rail, face_of
from wizard.telling.scene_string import side_view as painted

LADDER = Layout(
    "ladder",
    "ladder",
    "",
    "",
    (),
    (),
    (
        Station("front", "front crossmember", 0),
        Station("engine", "middle of the engine", 330),
        Station("mount", "rear engine mount", 640),
        Station("center", "center crossmember", 1000),
        Station("behind", "behind the center", 1550),
    ),
    (),
    (-80, 2100),
)
SAG = {"front": 0.4, "engine": 3.0, "mount": 5.5, "center": 3.2, "behind": 1.0}
CROWN = {"front": -0.2, "engine": -1.5, "mount": -3.0, "center": -1.5}


def side_view(
    layout: Layout,
    side: str,
    sags: Mapping[str, float],
    lit: str | None,
    string: str,
    *box: Any,
) -> Drawing:
    return painted(Rail(layout, side, sags, lit, string == "above"), *box)


def _face(sags: Mapping[str, float], above: bool, width: int, height: int) -> Face:
    return face_of(Rail(LADDER, "left", sags, None, above), width, height)


def shown(drawing: Drawing) -> str:
    """The lines behind a rule, so that leading blanks and empty rows are seen."""
    return "".join(f"|{line}\n" for line in drawing.lines)


def test_nothing_read_yet_in_blocks() -> None:
    assert (
        shown(side_view(LADDER, "left", {}, "engine", "above", 76, 7, "blocks"))
        == """\
|string       ──────────────────────────────────────────────────────────────
|              █          ▀                                               █
|left rail   ▝▀▀▀o▀▀▀▀▀▀▀▐█▌▀▀▀▀▀▀o▀▀▀▀▀▀▀▀▀o▀▀▀▀▀▀▀▀▀▀▀▀▀▀o▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀▀
|
|        front crossmember  rear engine mount
|              [middle of the engine]  center crossmember  behind the center
|front at the left
"""
    )


def test_a_sag_under_the_string() -> None:
    assert (
        shown(side_view(LADDER, "left", SAG, "mount", "above", 76, 7, "blocks"))
        == """\
|string       ──────────────────────────────────────────────────────────────
|              █                  ▀                                       █
|left rail   ▝▀▀▀o▀▀▄▄▄▄▖         ▀                     ▄▄▄o▄▄▄▄▄▄▄▀▀▀▀▀▀▀▀▀▀
|                       ▝▀o▀▚▄▄▄▖ ▀    ▗▄▄▄▄o▄▄▄▞▀▀▀▀▀▀▀
|         middle of the engine  ▝▐█▌▀▀▀▘  center crossmember
|     front crossmember  [rear engine mount]       behind the center
|front at the left; sag drawn 30 times too large
"""
    )


def test_a_sag_toward_a_string_below_in_braille() -> None:
    assert (
        shown(side_view(LADDER, "right", SAG, "center", "below", 76, 8, "braille"))
        == """\
|        front crossmember        [center crossmember]  behind the center
|right rail  ⠰⠶⠶⢦o⣤⡄  middle of the engine                    ⣤⣤⣤⣤⣤⣤⣤⣤⣤⣤⠶⠶⠶⠶⠶
|              █   ⠘⠳⢦⣤⣤                            ⣤⣤⣤⣤⡴⠶⠞o⠛⠛            █
|              █        ⠛⠶o⣤               ▐█▌⣤⣤⠶⠶⠛⠛                      █
|              █            ⠛⠶⣤⣤      ⢠⣤⣤⠶⠞⠛⠛                             █
|              █                ⠛⠶o⡴⠶⠛⠃     ⠛                             █
|string       ──────────────────────────────────────────────────────────────
|front at the left; sag drawn 60 times too large
"""
    )


def test_a_crown_with_a_station_still_to_read_in_typed_marks() -> None:
    assert (
        shown(side_view(LADDER, "right", CROWN, None, "above", 110, 14, "ascii"))
        == """\
|string       ------------------------------------------------------------------------------------------------
|              #                                                                                            #
|              #                                                                                            #
|              #                                                                                            #
|              #                                                                                            #
|              #                           ===o===                                                          #
|              #                       ====       ====                                                      #
|              #                   ====               ====                                                  #
|              #               =o==                       ===o===                                           #
|              #         ======                                  ================                           #
|              #    =====                                                        ====?===========           #
|right rail  =====o=                  rear engine mount                                          ==============
|         front crossmember  middle of the engine   center crossmember       behind the center
|front at the left; crown drawn 100 times too large
"""
    )


def test_a_narrow_box() -> None:
    assert (
        shown(side_view(LADDER, "left", SAG, "mount", "above", 50, 6, "blocks"))
        == """\
|string       ────────────────────────────────────
|              █          ▀                     █
|left rail   ▝▀▀o▀▀▄▄o▄▄  ▀  ▄▄o▄▄▄▄▀▀▀▀o▀▀▀▀▀▀▀▀▀▀
|    front crossmember  ▀▐█▌▀   behind the center
|                [rear engine mount]
|front at the left; sag drawn 30 times too large
"""
    )


@pytest.mark.parametrize("string", ["above", "below"])
def test_sag_goes_down_the_page_and_crown_up_wherever_the_string_is(string: str) -> None:
    for sags, downward in ((SAG, True), (CROWN, False)):
        face = _face(sags, string == "above", 76, 8)
        assert (face.row(sags["mount"]) > face.row(0)) is downward


def test_the_enlargement_said_is_the_one_drawn() -> None:
    # Twelve rows of room. A cell is taken as 1 wide and 2 high. Identity: rows x 2 x (mm per
    # column) / mm of sag.
    face = _face(SAG, True, 76, 14)
    mm_per_column = 2180 / (face.col(2100) - face.col(-80))
    drawn = (face.row(5.5) - face.row(0)) * 2 * mm_per_column / 5.5
    assert drawn == pytest.approx(face.times, rel=1e-9)
    assert (
        f"Sag drawn {face.times} times too large"
        in side_view(LADDER, "left", SAG, None, "above", 76, 14, "ascii").words
    )


def test_a_trifle_is_not_blown_up_without_end() -> None:
    assert _face({"mount": 0.01}, True, 76, 14).times == max(TIMES) == 100


def test_a_sag_larger_than_the_box_stays_on_the_page() -> None:
    drawing = side_view(LADDER, "left", {"mount": 900.0}, None, "above", 76, 7, "ascii")
    assert "sag drawn as large as it is" in drawing.lines[-1]
    assert max(map(len, drawing.lines)) <= 76


def test_what_is_not_read_is_marked_so_only_once_something_is() -> None:
    part = side_view(LADDER, "left", {"engine": 2.0}, None, "above", 76, 7, "blocks")
    assert shown(part).count("?") == 4
    assert shown(side_view(LADDER, "left", {}, None, "above", 76, 7, "blocks")).count("?") == 0


def test_the_words_say_what_the_picture_shows() -> None:
    words = side_view(LADDER, "right", CROWN, "mount", "below", 76, 7, "blocks").words
    tells(words, "right rail from the side", "front to the left", "string below it", "two equal")
    tells(words, "gap is read at this station: rear engine mount", "Crown drawn 60 times")


@pytest.mark.parametrize("charset", ["blocks", "braille", "ascii"])
@pytest.mark.parametrize(("width", "height"), [(34, 6), (50, 6), (76, 7), (110, 14), (200, 40)])
def test_a_drawing_keeps_to_its_box_and_to_characters_of_one_width(
    width: int, height: int, charset: Charset
) -> None:
    for sags in ({}, SAG, CROWN, {"front": 2.0, "mount": -2.0}):
        for string in ("above", "below"):
            lines = side_view(LADDER, "right", sags, "mount", string, width, height, charset).lines
            assert len(lines) == height
            assert max(map(len, lines)) <= width
            assert all(
                unicodedata.east_asian_width(c) in "N Na" or "\u2500" <= c <= "\u259f"
                for c in "".join(lines)
            )
            assert charset != "ascii" or "".join(lines).isascii()


@pytest.mark.parametrize(("width", "height"), [(33, 6), (34, 5), (0, 0)])
def test_with_too_little_room_there_are_only_words(width: int, height: int) -> None:
    drawing = side_view(LADDER, "left", SAG, "mount", "above", width, height, "blocks")
    assert drawing.lines == ()
    assert "left rail" in drawing.words
