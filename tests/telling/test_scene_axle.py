"""The pages of the axle set show where string, ruler, gauge and tape go, in every window and charset."""

from __future__ import annotations

from itertools import product

import pytest

from tests.checks.surveys import library, survey_of
from wizard.library.places import StepId
from wizard.survey.prompts import Prompt, expand
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.step_drawing import drawing_for

PAGES = ("beam-string", "spring-perches", "caster-camber", "kingpin-play", "toe-tapes")
LADDER = library().layouts["straight-ladder"]
PROMPTS = {str(p.id): p for id in PAGES for p in expand(library().steps[StepId(id)], LADDER, {})}
CHARSETS: tuple[Charset, ...] = ("ascii", "blocks", "braille")
SIZES = ((78, 7), (78, 10), (118, 10), (58, 7))


def drawn(prompt: Prompt, width: int = 78, height: int = 7, charset: Charset = "ascii") -> Drawing:
    step = library().steps[prompt.step]
    return drawing_for(survey_of({}), library(), step, prompt, width, height, charset)


def lit(drawing: Drawing) -> set[str]:
    """What is written in lit cells."""
    cut = (drawing.lines[row][first:last] for row, first, last in drawing.lit)
    return {word.strip() for word in cut if word.strip().replace(" ", "").isalpha()}


@pytest.mark.parametrize("id", sorted(PROMPTS))
def test_each_prompt_has_a_picture_that_keeps_to_its_box(id: str) -> None:
    for (width, height), charset in product(SIZES, CHARSETS):
        drawing = drawn(PROMPTS[id], width, height, charset)
        assert drawing.lines, (width, height, charset)
        assert len(drawing.lines) <= height
        assert max(map(len, drawing.lines)) <= width
        assert drawing.words.endswith(".")


def test_what_is_measured_is_named_and_lit_and_its_twin_is_not() -> None:
    wanted = {
        "beam-string/block": {"block"},
        "beam-string/left": {"left mark"},
        "beam-string/right": {"right mark"},
        "spring-perches/left": {"read here"},
        "caster-camber/caster-right": {"gauge"},
        "caster-camber/camber-left": {"bar"},
        "kingpin-play/right": {"a hand at top and bottom"},
    }
    for id, words in wanted.items():
        assert words <= lit(drawn(PROMPTS[id])), id


@pytest.mark.parametrize(
    "left",
    ["beam-string/left", "spring-perches/left", "caster-camber/camber-left", "kingpin-play/left"],
)
def test_left_is_left_and_right_is_right(left: str) -> None:
    at = {}
    for side in ("left", "right"):
        drawing = drawn(PROMPTS[left.removesuffix("left") + side])
        spans = [(a + b) / 2 for _, a, b in drawing.lit]
        at[side] = sum(spans) / len(spans)
        assert side in drawing.words
    assert at["left"] < 39 < at["right"]


def test_the_tape_runs_in_front_and_then_behind() -> None:
    rows = {n: {r for r, *_ in drawn(PROMPTS[f"toe-tapes/{n}"]).lit} for n in ("front", "back")}
    assert max(rows["front"]) < min(rows["back"])
    assert "in front of the tires" in drawn(PROMPTS["toe-tapes/front"]).words
    assert "behind the tires" in drawn(PROMPTS["toe-tapes/back"]).words


def test_it_says_which_way_an_angle_counts() -> None:
    for id, way in (
        ("spring-perches/shackle-left", "away"),
        ("spring-perches/shackle-left", "toward"),
        ("caster-camber/caster-left", "back: the kingpin's top leans this way"),
        ("caster-camber/camber-left", "out"),
    ):
        assert any(way in line for line in drawn(PROMPTS[id]).lines), id


def test_where_the_question_is_of_neither_side_nothing_is_lit() -> None:
    for id in ("kingpin-play/down", "toe-tapes/chocked"):
        assert not drawn(PROMPTS[id]).lit


def test_too_small_a_box_leaves_the_words() -> None:
    drawing = drawn(PROMPTS["beam-string/left"], 20, 3)
    assert not drawing.lines
    assert "left mark" in drawing.words
