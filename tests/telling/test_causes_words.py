"""What it comes from, what follows from it, and in what order, in words and as data."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

from tests.checks.surveys import DAY, library
from tests.judgment.stories import findings, stories, survey, verdict
from tests.telling.saying import tells
from wizard.judgment.answer import answered
from wizard.judgment.cause import Causes
from wizard.library.shapes import Layout
from wizard.library.shapes_signs import CAUSES
from wizard.telling.answer_words import lines, told_of
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.causes_words import ANSWERS, RULED_OUT
from wizard.telling.cells import painted
from wizard.telling.consequences_words import FORETOLD
from wizard.telling.json_out import as_json
from wizard.telling.scene_found import where_scene
from wizard.telling.verdict_words import sections


def part(name: str, heading: str, **answers: str) -> str:
    story = told(name, **answers)
    parts = sections(verdict(story), survey(story), library())
    return " ".join(line for p in parts if p.heading == heading for line in p.lines)


def told(name: str, **answers: str) -> dict[str, Any]:
    story = stories()[name]
    more = {f"consequences/{k.replace('_', '-')}": v for k, v in answers.items()}
    return {**story, "answers": {**story.get("answers", {}), **more}}


def test_every_answer_and_every_witness_has_words() -> None:
    assert set(ANSWERS) == {"strong", "likely", "hint", "none"}
    assert set(RULED_OUT) == set(CAUSES) == set(library().signs.causes)
    witnesses = [w for c in library().signs.causes.values() for w in c.witnesses]
    assert all(w.settle and not w.settle.endswith(".") for w in witnesses)


@pytest.mark.parametrize("name", stories())
def test_each_cause_is_said_once_in_every_verdict(name: str) -> None:
    text = part(name, "What it comes from")
    for cause in library().signs.causes.values():
        assert text.count(f"{cause.name}: ") == 1


def test_a_hint_says_what_else_it_could_be_and_that_one_kind_is_not_enough() -> None:
    text = part("kink-alone", "What it comes from")
    tells(
        text,
        "A collision: it is only a hint",
        "could also be a jack or a chain",
        "One kind",
        "not enough",
    )


def test_cannot_tell_says_why_and_what_would_settle_it() -> None:
    text = part("kink-and-no-body-to-ask", "What it comes from")
    tells(text, "A collision: not known yet", "To find out", "bare metal inside the panels")


def test_the_local_horn_is_called_local() -> None:
    assert "It is local, at the horns" in part("bent-horn-true-box", "What it comes from")


def test_a_crown_under_the_weight_waits_for_nothing() -> None:
    assert "wait for the engine's weight" in part("crown-on-purpose", "What to do")
    assert "wait for" not in part("crown-with-the-engine-in", "What to do")


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("tight-at-top", "The car and the reading tell one story."),
        ("wide-at-top", "Read that place again before you act on it."),
        ("even", "it is too small to show, or was fitted to it"),
        ("off", "It was off: look once it is together."),
        ("sides-differ", "What you saw does not tell."),
    ],
)
def test_a_prediction_says_what_agreement_and_contradiction_do(said: str, words: str) -> None:
    text = part("equal-sag", "Worth a look because of it", hood_gap=said)
    assert "The hood's gap should be tighter at the top." in text
    assert words in text


def test_a_hood_that_was_fitted_to_the_sag_should_be_even() -> None:
    assert "its gap should be even. You saw just that." in part(
        "equal-sag-fitted", "Worth a look because of it", hood_gap="even"
    )


def test_every_prediction_has_words() -> None:
    kinds = {(p.id, p.kind) for s in stories().values() for p in verdict(s).foretold}
    assert {k for k in kinds if k[0] not in ("caster", "wheelbase")} <= set(FORETOLD)
    assert {k[0] for k in kinds} >= {"hood-gap", "fan", "brake-rods", "wheelbase", "doors"}


def test_the_order_puts_stops_first_and_the_brakes_before_the_car_moves() -> None:
    text = part("rail-shortened-and-buckled", "In what order")
    assert text.startswith("First: the places that stop you.")
    deep = part("deep-equal-sag", "In what order")
    assert deep.startswith("First: the frame")
    tells(deep, "Then: the brakes", "before the car moves again", "Last: toe and doors")
    assert part("quiet-frame", "In what order") == ""


def test_questions_go_to_a_specialist_only_where_one_is_needed() -> None:
    assert part("quiet-frame", "What to ask a specialist") == ""
    assert "fit one blow, or more than one?" in part("hit-and-mended", "What to ask a specialist")


def test_json_has_the_causes_with_their_signs(monkeypatch: pytest.MonkeyPatch) -> None:
    story = stories()["never-hit-one-smooth-dent"]
    monkeypatch.setattr("wizard.checks.run.findings_of", lambda *_: findings(story))
    found = {c["cause"]: c for c in json.loads(as_json(survey(story), library(), DAY))["causes"]}
    assert set(found) == set(CAUSES)
    for cause in found.values():
        assert set(cause) == {"cause", "strength", "signs", "against", "cannot_tell"}
        assert all({"id", "words", "weight", "where", "also"} <= set(s) for s in cause["signs"])
    hit = found["collision"]
    assert (hit["strength"], hit["cannot_tell"]) == ("none", "")
    assert [(s["id"], s["weight"], s["where"]) for s in hit["signs"]] == [
        ("dent-alone", "weak", ["left middle"])
    ]
    assert [s["id"] for s in hit["against"]] == ["told-of-no-hit"]


# The plan with its mark
# --------------------------------------------------------------------------------------------


def where_view(
    causes: Causes, layout: Layout, width: int, height: int, charset: Charset
) -> Drawing:
    scene = where_scene(causes, layout)
    assert scene is not None
    return painted(scene, width, height, charset)


@pytest.mark.parametrize("charset", ["ascii", "blocks", "braille"])
def test_the_corner_is_marked_on_its_own_side(charset: Any) -> None:
    """Front is to the left of the page and the car's left side is the lower one."""
    layout = library().layouts["straight-ladder"]
    causes = verdict(stories()["hit-and-mended"]).causes
    drawing = where_view(causes, layout, 72, 15, charset)
    row, start, end = next(
        span for span in drawing.lit if "here" not in drawing.lines[span[0]][span[1] : span[2]][:4]
    )
    marks = [s for s in drawing.lit if drawing.lines[s[0]][s[1] : s[2]] == "here"]
    assert len(marks) == 1
    assert marks[0][0] > 15 // 2
    assert marks[0][1] < 72 // 2
    right = where_view(replace(causes, corner=("right", "rear")), layout, 72, 15, charset)
    there = next(s for s in right.lit if right.lines[s[0]][s[1] : s[2]] == "here")
    assert there[0] < 15 // 2
    assert there[1] > 72 // 2
    assert "front box" in drawing.lines[row] or row >= 0
    assert max(map(len, drawing.lines)) <= 72
    assert end > start


def test_the_drawing_is_said_as_well_and_there_is_none_where_nothing_gathers() -> None:
    layout = library().layouts["straight-ladder"]
    words = where_view(verdict(stories()["hit-and-mended"]).causes, layout, 10, 3, "ascii").words
    assert "The mark is at the left front, where the signs gather." in words
    assert where_scene(verdict(stories()["quiet-frame"]).causes, layout) is None


def test_a_diamond_without_a_sign_of_a_blow_names_what_would_tell() -> None:
    """Points that the maker set unequally measure the same: a second set of holes tells."""
    lone = told("whole-diamond")
    from_the_maker = part("whole-diamond", "What it comes from")
    tells(from_the_maker, "From the maker: not known", "second set of holes")
    assert "second set of holes" in part("whole-diamond", "What to do")
    first = told_of(answered(verdict(lone), survey(lone), library()), survey(lone), library())
    assert next(i.text for label, i in lines(first) if label == "First").startswith("Tape the")


def test_a_twist_is_no_diamond_of_which_the_points_may_be_to_blame() -> None:
    """Points that the maker set unequally do not lean a level."""
    twisted = "twist-on-three-points"
    told_twice = part(twisted, "What it comes from") + part(twisted, "What to do")
    assert "diamond" not in told_twice
    assert "second set" not in told_twice


def test_a_diamond_on_a_car_that_was_hit_is_no_question_of_its_points() -> None:
    """The twin that must fail."""
    hit = "whole-diamond-hit-from-behind"
    assert "second set" not in part(hit, "What it comes from") + part(hit, "What to do")
