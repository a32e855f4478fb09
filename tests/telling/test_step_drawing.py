"""Which drawing a prompt gets, and what of the survey goes into it."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest

from tests.checks.surveys import bent, library, survey_of
from wizard.checks.case import Case
from wizard.survey.prompts import Prompt, caution_prompt, expand
from wizard.survey.record import Survey
from wizard.telling.canvas import Drawing
from wizard.telling.step_drawing import NOTHING, drawing_for

D1, D2 = (
    "long-diagonals/whole/front-left--rear-right",
    "long-diagonals/whole/front-right--rear-left",
)


def prompt(id: str) -> Prompt:
    return Case(survey_of({}), library()).prompts[id]


def drawn(survey: Survey, id: str) -> Drawing:
    there = prompt(id)
    return drawing_for(survey, library(), library().steps[there.step], there, 76, 9, "ascii")


@pytest.mark.parametrize(
    "id", [D1, "horns/horns/tip-left--front-right", "sag-loaded/center/left", "level/rear/turned"]
)
def test_each_kind_of_step_has_a_drawing_within_its_box(id: str) -> None:
    lines = drawn(survey_of({}), id).lines
    assert lines
    assert len(lines) <= 9
    assert max(map(len, lines)) <= 76


def test_the_tape_in_front_is_lit_and_its_twin_is_not() -> None:
    assert drawn(survey_of({}), D1).lines != drawn(survey_of({}), D2).lines


def test_what_is_done_is_drawn_otherwise() -> None:
    assert drawn(survey_of({D2: ["80"]}), D1).lines != drawn(survey_of({}), D1).lines
    # Nothing of another step's tapes is drawn here.
    other = survey_of({"own-sides/whole/front-left--rear-left": ["80"]})
    assert drawn(other, D1).lines == drawn(survey_of({}), D1).lines


def test_the_sag_read_so_far_bends_the_rail_of_its_own_side() -> None:
    flat, low = survey_of({}), bent()
    assert (
        drawn(low, "sag-unloaded/center/right").lines
        != drawn(flat, "sag-unloaded/center/right").lines
    )
    assert (
        drawn(low, "sag-unloaded/center/left").lines
        != drawn(low, "sag-unloaded/center/right").lines
    )


def test_a_sag_inside_its_doubt_is_drawn_straight_and_one_beyond_it_in_the_scale_that_is_said() -> (
    None
):
    stations = ("front-crossmember", "mid-engine", "engine-mount", "center", "behind")
    readings = {"string-set-up/block": ["50 mm"], "string-set-up/span": ["2180 mm"]}
    for side, station in product(("left", "right"), stations):
        readings[f"sag-unloaded/{station}/{side}"] = ["50.2 mm"]
    straight = drawn(survey_of(readings), "sag-unloaded/center/left")
    assert "Straight, as far as" in straight.words
    assert "too large" not in straight.words + " ".join(straight.lines)
    bowed = drawn(bent(), "sag-unloaded/center/right")
    assert "too large" in bowed.words
    assert "too large" in " ".join(bowed.lines)


def test_a_string_below_the_rail_is_drawn_below() -> None:
    below = survey_of({}, answers={"string-set-up/where": "below"})
    assert (
        drawn(below, "sag-loaded/center/left").lines
        != drawn(survey_of({}), "sag-loaded/center/left").lines
    )


def test_a_step_of_both_rails_draws_the_left_one() -> None:
    assert drawn(survey_of({}), "string-set-up/block").lines


def test_the_bubble_stands_where_it_was_read() -> None:
    read = survey_of({"level/rear/turned": ["2 left"]})
    assert drawn(read, "level/rear/turned").lines != drawn(survey_of({}), "level/rear/turned").lines
    broken = survey_of({"level/rear/turned": ["nowhere"]})
    assert (
        drawn(broken, "level/rear/turned").lines == drawn(survey_of({}), "level/rear/turned").lines
    )


def test_a_caution_has_none_and_a_step_of_no_place_shows_the_two_rails() -> None:
    ack = caution_prompt("string", "string-set-up", "A string")
    step = library().steps["string-set-up"]
    assert drawing_for(survey_of({}), library(), step, ack, 76, 9, "ascii") is NOTHING
    plain = drawn(survey_of({}), "about-the-car/car")
    sides = [line.split()[0] for line in plain.lines if line[:1].isalpha()]
    assert sides == ["right", "front", "left"]
    assert plain.lit == ()


def test_a_layout_that_the_content_lacks_is_drawn_as_the_first() -> None:
    strange = replace(survey_of({}), layout="of-another-program")
    assert drawn(strange, D1).lines == drawn(survey_of({}), D1).lines


def test_there_is_no_room_in_a_tiny_box() -> None:
    there = prompt(D1)
    tiny = drawing_for(survey_of({}), library(), library().steps[there.step], there, 10, 2, "ascii")
    assert tiny.lines == ()


@pytest.mark.parametrize("name", ["left", "front-axle-right", "rear-axle-left"])
def test_the_axles_are_drawn_under_the_frame_where_the_wheelbase_is_taped(name: str) -> None:
    drawing = drawn(survey_of({}), f"wheelbase/{name}")
    text = "\n".join(drawing.lines)
    assert "start" in text
    assert "end" in text
    assert "axle" in drawing.words
    assert drawing.lines != drawn(survey_of({}), D1).lines


def test_the_tape_of_the_wheelbase_lies_outside_the_rails_from_axle_to_axle() -> None:
    left, right = (drawn(survey_of({}), f"wheelbase/{side}").lines for side in ("left", "right"))
    assert "start" in left[-1]
    assert "start" in right[0]


@pytest.mark.parametrize(("name", "said"), [("pulley", "pulley"), ("gearbox-tail", "gearbox tail")])
def test_what_hangs_over_a_crossmember_is_marked_and_named(name: str, said: str) -> None:
    drawing = drawn(survey_of({}), f"pulley-hint/{name}")
    assert any(said in line for line in drawing.lines)
    assert said in drawing.words
    assert drawing.lit


def test_a_frame_whose_axles_nobody_knows_is_drawn_without_them() -> None:
    there = prompt("wheelbase/left")
    ladder = library().layouts["straight-ladder"]
    bare = replace(library(), layouts={ladder.id: replace(ladder, figures={})})
    drawing = drawing_for(survey_of({}), bare, library().steps["wheelbase"], there, 76, 9, "ascii")
    assert drawing.lines
    assert "axle" not in drawing.words


@pytest.mark.parametrize(
    ("kind", "boxes"), [("cruciform", {"center"}), ("backbone", {"box-front", "box-rear"})]
)
def test_the_level_lies_on_one_box_where_one_box_is_all_there_is(
    kind: str, boxes: set[str]
) -> None:
    survey = replace(survey_of({}), layout=kind)
    step = library().steps["level"]
    for there in expand(step, library().layouts[kind], library().tools):
        if there.name == "as-set":
            lines = drawing_for(survey, library(), step, there, 76, 9, "blocks").lines
            assert any("█" + "▀" * 40 in line for line in lines) == (str(there.item) in boxes)
