"""Looks, stop signs, and what was not seen."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import DAY, add, library, survey_of, with_looks
from wizard.judgment.seen import Gap, gaps, looks_of, stops
from wizard.survey.guide import LENGTH_PROMPT, STEPS_PROMPT
from wizard.survey.record import Survey
from wizard.survey.rows import NOTHING_TO_SAY, Answer, Look, Skip, State

pytestmark = pytest.mark.quick


def look(prompt: str, seen: str, answer: str = "", survey: Survey | None = None) -> Survey:
    survey = survey or survey_of({})
    return survey.with_row(Look(id=survey.new_id(Look), prompt=prompt, seen=seen, answer=answer))


def gap(survey: Survey, step: str) -> Gap | None:
    return next((g for g in gaps(survey, library(), DAY) if g.step == step), None)


def test_a_look_comes_with_its_words_and_its_side() -> None:
    (seen,) = looks_of(look("rail-tops/left", "bare", "light-pitting"), library())
    assert (seen.title, seen.side) == ("The tops of the rails", "left")
    assert seen.choice is not None
    assert seen.choice.words == "light pits, a pin ticks over them"


def test_looks_at_places_that_the_content_does_not_know_are_left_out() -> None:
    assert looks_of(look("rail-tops/roof", "bare", "crack"), library()) == ()


@pytest.mark.parametrize("answer", ["crack", "hole-near-mounting"])
@pytest.mark.parametrize("seen", ["bare", "painted", "dirty"])
def test_a_crack_or_a_hole_near_a_mounting_stops_however_well_it_was_seen(
    answer: str, seen: str
) -> None:
    assert len(stops(looks_of(look("rail-tops/left", seen, answer), library()))) == 1


@pytest.mark.parametrize("answer", ["nothing-found", "heavy-pitting", "hole-away", "not-sure"])
def test_what_is_no_stop_sign_does_not_stop(answer: str) -> None:
    assert stops(looks_of(look("rail-tops/left", "bare", answer), library())) == ()


def test_a_struck_look_stops_nothing() -> None:
    survey = look("rail-tops/left", "bare", "crack")
    (row,) = survey.standing(Look)
    assert stops(looks_of(survey.with_struck(row.id, "a scratch"), library())) == ()


@pytest.mark.parametrize(
    ("seen", "answer", "counts"),
    [
        ("bare", "nothing-found", True),
        ("painted", "nothing-found", True),
        ("dirty", "nothing-found", False),
        ("dirty", "heavy-pitting", True),
        ("bare", "not-sure", False),
        ("not-reached", "", False),
    ],
)
def test_what_counts_as_seen(seen: str, answer: str, counts: bool) -> None:
    (found,) = looks_of(look("rail-tops/left", seen, answer), library())
    assert found.counts is counts


def test_a_place_untouched_is_not_done() -> None:
    assert gap(survey_of({}), "rail-tops") == Gap("The tops of the rails", "not done", "rail-tops")


def test_half_a_step_says_how_many_places_and_why() -> None:
    survey = look("rail-tops/left", "bare", "nothing-found")
    survey = survey.with_row(Skip(id="p99", prompt="rail-tops/right", why="webbing glued down"))
    found = gap(survey, "rail-tops")
    assert found is not None
    assert found.why == "webbing glued down (1 of 2 places)"


@pytest.mark.parametrize(
    ("seen", "answer", "why"),
    [("not-reached", "", "not reached"), ("dirty", "nothing-found", "seen only under dirt")],
)
def test_what_was_hidden_is_a_gap(seen: str, answer: str, why: str) -> None:
    survey = look("rail-tops/right", seen, answer, look("rail-tops/left", seen, answer))
    found = gap(survey, "rail-tops")
    assert found is not None
    assert found.why == why


def test_a_step_wholly_seen_is_no_gap() -> None:
    assert gap(with_looks(survey_of({})), "rail-tops") is None
    assert gap(add(survey_of({}), "wheelbase/left", "103"), "wheelbase") is not None


def test_a_step_that_does_not_apply_gives_its_reason() -> None:
    survey = survey_of({}).with_row(State(id="s90", engine="out"))
    found = gap(survey, "sag-loaded")
    assert found is not None
    assert found.why.startswith("The engine's weight is off")


def test_the_short_survey_leaves_the_rest_for_another_day() -> None:
    survey = survey_of({}).with_row(Answer(id="a90", prompt="about-the-car/course", answer="short"))
    found = gap(survey, "long-diagonals")
    assert found is not None
    assert found.why == "left for another day"


def test_what_a_short_list_leaves_out_of_a_page_is_a_gap_too() -> None:
    again = survey_of({"level/rear/as-set": ["0"], "level/rear/turned": ["0"]})
    for prompt, said in ((LENGTH_PROMPT, "recheck"), (STEPS_PROMPT, "level/rear level/center")):
        again = again.with_row(Answer(id=again.new_id(Answer), prompt=prompt, answer=said))
    found = gap(again, "level")
    assert found is not None
    assert found.why == "left for another day; not done (8 of 10 places)"


def test_pages_without_anything_to_see_or_measure_are_no_gaps() -> None:
    assert not {"about-the-car", "tools", "lift-engine", "finish"} & {
        g.step for g in gaps(survey_of({}), library(), DAY)
    }


def test_a_question_passed_over_is_named_in_the_person_s_words_wherever_it_stands() -> None:
    asked = survey_of({}).with_row(
        Skip(id="k1", prompt="history/fitted", why="the widow did not know")
    )
    found = gap(asked, "history")
    assert found is not None
    assert found.why == "the widow did not know (1 of 8 answers)"
    assert gap(asked, "consequences") is None


def test_what_need_not_be_read_is_a_gap_only_with_a_reason_of_its_own() -> None:
    taped = add(add(survey_of({}), "wheelbase/left", "103", "103"), "wheelbase/right", "103", "103")
    row = Skip(id="k1", prompt="wheelbase/front-axle-right", why=NOTHING_TO_SAY)
    assert gap(taped.with_row(row), "wheelbase") is None
    found = gap(taped.with_row(replace(row, why="spring in the way")), "wheelbase")
    assert found is not None
    assert found.why == "spring in the way (1 of 3 places)"


@pytest.mark.parametrize(("answer", "missing"), [("even", False), ("off", True)])
def test_a_hoods_gap_that_was_seen_to_be_even_was_not_missed(answer: str, missing: bool) -> None:
    survey = survey_of({}, answers={"consequences/hood-gap": answer})
    survey = survey.with_row(State(id="s90", panels="on"))
    assert (gap(survey, "panel-gaps") is not None) is missing
