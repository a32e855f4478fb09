"""The two rails in two lines, with the part to look at drawn heavily."""

from __future__ import annotations

import pytest

from tests.checks.surveys import library, survey_of
from wizard.library.shapes import Layout
from wizard.survey.prompts import expand
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.scene_look import look_of
from wizard.telling.scene_look import look_view as painted
from wizard.telling.step_drawing import drawing_for

LADDER = library().layouts["straight-ladder"]


def look_view(
    layout: Layout, step: str, side: str, third: str, width: int, charset: Charset
) -> Drawing:
    return painted(look_of(layout, library().steps[step], side, third), width, 2, charset)


def shown(side: str, third: str = "", step: str = "rail-tops") -> str:
    return "\n".join(f"|{line}" for line in look_view(LADDER, step, side, third, 60, "ascii").lines)


def test_the_left_rail_is_the_lower_line_and_the_front_is_on_the_left() -> None:
    assert shown("left") == (
        "|right   o------o-----------------o--------------------o rear\n"
        "|left    o======o=================o====================o"
    )


def test_a_third_counts_behind_the_front_crossmember() -> None:
    assert shown("right", "front") == (
        "|right   o------o=============----o--------------------o rear\n"
        "|left    o------o-----------------o--------------------o"
    )


def test_the_horns_are_what_lies_ahead_of_it() -> None:
    lines = shown("right", "front", "horn-welds").splitlines()
    assert lines[0].startswith("|right   o======o---")
    assert "=" not in lines[1]


def test_a_crossmember_is_a_rung_and_its_half_is_marked_where_it_meets_the_rail() -> None:
    drawing = look_view(LADDER, "center-crossmember-rivets", "right", "middle", 60, "blocks")
    upper, lower = drawing.lines
    at = upper.index("█")
    assert lower[at] == "┴"
    assert upper.count("┬") == 2
    assert "━" not in upper + lower
    assert drawing.lit == ((0, at, at + 1),)
    assert drawing.words.endswith("the right half of the center crossmember.")


def test_without_a_side_nothing_is_heavy_and_the_words_say_no_place() -> None:
    assert "=" not in shown("")
    assert "look at" not in look_view(LADDER, "history", "", "", 60, "ascii").words
    assert (
        "front third of the left rail"
        in look_view(LADDER, "engine-mounts", "left", "front", 60, "ascii").words
    )


def test_where_there_is_no_room_there_are_words() -> None:
    drawing = look_view(LADDER, "rail-tops", "left", "", 30, "ascii")
    assert drawing.lines == ()
    assert "whole length of the left rail" in drawing.words


@pytest.mark.parametrize("id", list(library().layouts))
def test_every_step_of_every_layout_has_a_drawing(id: str) -> None:
    layout, survey = library().layouts[id], survey_of({})
    of = survey.__class__(
        **{
            **{f: getattr(survey, f) for f in ("id", "car", "started", "unit", "rows")},
            "layout": id,
        }
    )
    for step in library().steps.values():
        for prompt in expand(step, layout, library().tools):
            drawing = drawing_for(of, library(), step, prompt, 76, 8, "ascii")
            if step.id == "my-points" and not drawing.lines:
                continue  # a frame of the owner's own is drawn once it has points
            assert drawing.lines, prompt.id
            assert drawing.words, prompt.id
            assert max(map(len, drawing.lines)) <= 76


def test_a_frame_without_that_crossmember_is_told_of_the_rail_that_is_drawn() -> None:
    drawing = look_view(
        library().layouts["x-braced"], "center-crossmember-rivets", "left", "middle", 60, "blocks"
    )
    assert "━" in drawing.lines[1]
    assert drawing.words.endswith("the middle third of the left rail.")


@pytest.mark.parametrize(
    "id", ["cruciform", "backbone", "a-frame", "torque-boxes", "boxed-perimeter"]
)
@pytest.mark.parametrize(("charset", "marks"), [("blocks", "▔▀ ▁▄"), ("ascii", "'\" .:")])
def test_in_two_rows_a_frame_is_wide_and_narrow_where_it_is(
    id: str, charset: Charset, marks: str
) -> None:
    layout = library().layouts[id]
    top, foot = marks.split()
    upper, lower = look_view(layout, "rail-sides", "left", "", 78, charset).lines
    wide = [p.half_width for p in layout.places]
    middle = (min(wide) + max(wide)) / 2
    along = [p.x for p in layout.places]
    for place in layout.places:
        room = 78 - 8 - len(" rear")
        col = 8 + int(room * (place.x - min(along)) / (max(along) - min(along)))
        beside = col + 1 if place.x < max(along) else col - 2
        outward = place.half_width > middle
        assert upper[beside] in (top if outward else foot), (place.id, upper)
        assert lower[beside] in (foot if outward else top), (place.id, lower)


@pytest.mark.parametrize("id", ["straight-ladder", "tube-ladder", "wooden-sills", "x-braced"])
def test_rails_side_by_side_are_two_straight_rows(id: str) -> None:
    lines = look_view(library().layouts[id], "rail-sides", "left", "", 78, "blocks").lines
    assert not set("▔▀▁▄╲╱") & set("".join(lines))
