"""A rail from the side, compared whole; and that the enlargement said is the enlargement drawn."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from typing import Any

import pytest

from tests.telling.saying import tells
from wizard.library import load_library
from wizard.library.marks import SAG_LOADED
from wizard.library.places import PlaceId
from wizard.library.shapes import Layout, Station
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.scene import TIMES
from wizard.telling.scene_string import Face, Rail, Sag, face_of, times_of
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
    return painted(_rail(layout, side, sags, lit, string == "above"), *box)


def _rail(
    layout: Layout,
    side: str,
    sags: Mapping[str, float],
    lit: str | None = None,
    above: bool = True,
    half: float = 0.0,
) -> Rail:
    """A rail read so, each station with the same give or take."""
    read = {PlaceId(id): Sag(value, half) for id, value in sags.items()}
    times = times_of({SAG_LOADED: {side: read}}, layout)
    return Rail(layout, side, read, PlaceId(lit) if lit else None, above, times)


def _face(sags: Mapping[str, float], above: bool, width: int, height: int) -> Face:
    return face_of(_rail(LADDER, "left", sags, None, above), width, height)


def shown(drawing: Drawing) -> str:
    """The lines behind a rule, so that leading blanks and empty rows are seen."""
    return "".join(f"|{line}\n" for line in drawing.lines)


def test_nothing_read_yet_in_blocks() -> None:
    assert (
        shown(side_view(LADDER, "left", {}, "engine", "above", 76, 7, "blocks"))
        == """\
|string      ▄─────────────────────────────────────────────────────────────▄
|            █                                                             █
|left rail   ▜▄▟▙▄▄▄▄▄▄▄██▄▄▄▄▄▄▄▟▙▄▄▄▄▄▄▄▄▟▙▄▄▄▄▄▄▄▄▄▄▄▄▄▄▟▙▄▄▄▄▄▄▄▄▄▄▄▄▄▄▛
|front         ▝▘       ▀▀       ▝▘        ▝▘              ▝▘
|              1        [2]      3          4              5
|1 front crossmember  [2 middle of the engine]  3 rear engine mount
|4 center crossmember  5 behind the center
"""
    )


def test_a_sag_under_the_string() -> None:
    assert (
        shown(side_view(LADDER, "left", SAG, "mount", "above", 76, 7, "blocks"))
        == """\
|string      ▄───────────────────────────────────────────────────▄
|left rail   ▜▄█▄▄▖           ▄                   ▄▄█▄▄▄▄▄▄▄▄▄▄▄▄▛
|front         ▀  ▝▀▀▀▚█▄▄▄  ▗█▖   ▗▄▄▄█▄▞▀▀▀▀▀▀▀▀  ▀
|              1       ▀   ▀▀▜█▛▀▀▀▘   ▀            5
|                      2     [3]       4
|1 front crossmember  2 middle of the engine  [3 rear engine mount]
|4 center crossmember  5 behind the center  sag drawn 30 times too large
"""
    )


def test_a_sag_toward_a_string_below_in_braille() -> None:
    assert (
        shown(side_view(LADDER, "right", SAG, "center", "below", 76, 8, "braille"))
        == """\
|
|front         1                                    5
|right rail  ⣴⢶⣶⣤⣄⣀⡀   2      3       [4]       ⣀⣀⣀⣠⣶⣤⣤⣤⣤⣤⣤⣤⣤⠶⠶⠶⠶⣦
|            ⣿ ⠉ ⠈⠉⠙⠛⠳⠶⣿⣦⣤⣀⣀      ⢀⣀⣀⣤⣴⣶⣶⠶⠶⠶⠛⠛⠛⠛⠉⠉⠉⠉⠉            ⣿
|            ⣿            ⠉⠉⠛⠻⣿⠞⠛⠛⠋⠉⠉ ⠈⣉⠁                        ⣿
|string      ⠻⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠿⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠤⠟
|1 front crossmember  2 middle of the engine  3 rear engine mount
|[4 center crossmember]  5 behind the center  sag drawn 30 times too large
"""
    )


def test_a_crown_with_a_station_still_to_read_in_typed_marks() -> None:
    assert (
        shown(side_view(LADDER, "right", CROWN, None, "above", 110, 14, "ascii"))
        == """\
|string      #-----------------------------------------------------------------------------------------------#
|            #                            ===o===                                                            #
|            #                     =======       ========                                                    #
|            #             ====o===          3           ====o===========                                    #
|            #     ========                                              ============o===========            #
|right rail  ====o=            2                             4                                   =============
|front           1                                                                  5?
|
|1 front crossmember  2 middle of the engine  3 rear engine mount  4 center crossmember  5 behind the center
|crown drawn 60 times too large
|
|
|
|
"""
    )


def test_a_narrow_box() -> None:
    assert (
        shown(side_view(LADDER, "left", SAG, "mount", "above", 50, 6, "blocks"))
        == """\
|string      ▄───────────────────────────────────▄
|left rail   ▜▟▙▄▄  ▄          ▄    ▄▄▄▄█▄▄▄▄▄▄▄▄▛
|front        ▝▘  ▀▀█▀▀▀▜█▛▀▀▀▀█▀▀▀▀    ▀
|1 front crossmember2 2 middle of the engine
|[3 rear engine mount]  4 center crossmember
|5 behind the center  sag drawn 30 times too large
"""
    )


@pytest.mark.parametrize("string", ["above", "below"])
def test_sag_goes_down_the_page_and_crown_up_wherever_the_string_is(string: str) -> None:
    for sags, downward in ((SAG, True), (CROWN, False)):
        face = _face(sags, string == "above", 76, 9)
        assert (face.row(10 * sags["mount"]) > face.row(0)) is downward


@pytest.mark.parametrize(("width", "height"), [(50, 8), (76, 8), (76, 14), (110, 9), (200, 40)])
def test_the_enlargement_said_is_the_one_drawn_and_the_same_at_every_size(
    width: int, height: int
) -> None:
    # 5.5 mm of 2180 mm: 30 times is 165, a tenth of the length is 218, 40 times would be over it.
    # A cell is taken as 1 wide and 2 high. Identity: rows x 2 x (mm per column) / mm of sag.
    rail = _rail(LADDER, "left", SAG)
    face = face_of(rail, width, height)
    mm_per_column = 2180 / (face.col(2100) - face.col(-80))
    deepest = max(down for _, down in rail.profile())
    drawn = (face.row(deepest) - face.row(0)) * 2 * mm_per_column / 5.5
    assert drawn == pytest.approx(30, rel=1e-6)
    drawing = side_view(LADDER, "left", SAG, None, "above", width, height, "ascii")
    assert "Sag drawn 30 times too large." in drawing.words
    assert "sag drawn 30 times too large" in " ".join(" ".join(drawing.lines).split())


def test_a_trifle_is_not_blown_up_without_end() -> None:
    assert _rail(LADDER, "left", {"mount": 0.01}).times == max(TIMES) == 100


def test_a_sag_larger_than_the_box_stays_on_the_page() -> None:
    drawing = side_view(LADDER, "left", {"mount": 900.0}, None, "above", 76, 7, "ascii")
    assert "sag drawn as large as it is" in drawing.lines[-1]
    assert max(map(len, drawing.lines)) <= 76


def test_a_deviation_inside_its_doubt_is_drawn_straight_and_no_scale_is_said() -> None:
    rail = _rail(LADDER, "left", SAG, half=6.0)
    assert rail.curve() == [(-80, 0.0), (2100, 0.0)]
    assert "times too large" not in rail.words()
    assert "Straight, as far as" in rail.words()
    lines = painted(rail, 76, 8, "ascii").lines
    assert sum("====" in line for line in lines) == 1


def test_what_is_beyond_its_doubt_is_drawn_where_it_was_read_and_the_rest_straight() -> None:
    rail = _rail(LADDER, "left", SAG, half=2.0)
    # Only the deepest leaves the straight line; the others are within 2 mm of the pieces.
    assert rail.curve() == [(-80, 0.0), (640, 5.5), (2100, 0.0)]
    assert rail.profile()[1] == (640, rail.times * 5.5)


def test_the_kicks_of_the_frame_are_drawn_as_high_as_they_are() -> None:
    layout = load_library().layouts["double-drop"]
    rail = _rail(layout, "left", {"center": 8.0})
    x, down = rail.profile()[-1]
    # The rear stands 125 mm above the low part, in which the string is read.
    assert (x, down) == (2750, pytest.approx(-125.0))
    face = face_of(rail, 150, 16)
    assert face.row(0) - face.row(down) == pytest.approx(face.rows_of(125.0))


@pytest.mark.parametrize("charset", ["blocks", "braille", "ascii"])
def test_a_larger_picture_names_every_station_that_a_smaller_one_names(charset: Charset) -> None:
    layouts = [LADDER, *load_library().layouts.values()]
    for layout in layouts:
        asked = layout.stations[len(layout.stations) // 2]
        named: dict[tuple[int, int], set[str]] = {}
        for width in range(34, 150, 4):
            for height in range(6, 15):
                view = side_view(layout, "left", SAG, asked.id, "above", width, height, charset)
                text = " ".join(" ".join(view.lines).split())
                here = {s.name for s in layout.stations if s.name in text}
                assert asked.name in here, (layout.id, width, height)
                assert named.get((width - 4, height), set()) <= here
                assert named.get((width, height - 1), set()) <= here
                named[width, height] = here
        assert named[146, 14] == {s.name for s in layout.stations}
        assert named[74, 7] == {s.name for s in layout.stations}, layout.id


def test_what_is_not_read_is_marked_so_only_once_something_is() -> None:
    part = side_view(LADDER, "left", {"engine": 2.0}, None, "above", 76, 8, "blocks")
    assert shown(part).count("?") == 4
    assert shown(side_view(LADDER, "left", {}, None, "above", 76, 8, "blocks")).count("?") == 0


def test_the_words_say_what_the_picture_shows() -> None:
    words = side_view(LADDER, "right", CROWN, "mount", "below", 76, 7, "blocks").words
    tells(words, "right rail from the side", "front to the left", "string below it", "two equal")
    tells(words, "gap is read at this station: rear engine mount", "Crown drawn 60 times too large")


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
