"""Dye for cracks: what it draws stops everything, and what it does not draw is never called no crack."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import library
from tests.judgment.test_verdict import DAY, sound, verdict
from tests.judgment.test_voices import looked
from wizard.judgment.answer import answer_of
from wizard.judgment.seen import gaps, looks_of
from wizard.library.places import PromptId
from wizard.survey.guide import called_topics, pages
from wizard.survey.record import Survey
from wizard.survey.rows import Look
from wizard.telling.answer_words import headline, told_of
from wizard.telling.not_driven import NOT_DRIVEN, must_not_move
from wizard.telling.tell import tell_text

LINE = "paint-cracks/left", "fresh-paint-crack"
UNSURE = "steering-mount/right", "not-sure"


def dyed(survey: Survey, place: str, answer: str, seen: str = "bare") -> Survey:
    """With dye used at a place, such as left/paint-cracks."""
    row = Look(
        id=survey.new_id(Look), at=DAY, prompt=PromptId(f"dye/{place}"), answer=answer, seen=seen
    )
    return survey.with_row(row)


def told(survey: Survey) -> str:
    return " ".join(tell_text(survey, library(), DAY, whole=True).split())


def head(survey: Survey) -> str:
    return headline(told_of(answer_of(survey, library(), DAY), survey, library()))


def asked(survey: Survey) -> set[str]:
    here = (p for page in pages(survey, library(), DAY) for p in page.prompts)
    return {str(p.id) for p in here if str(p.step) == "dye"}


def test_a_sound_frame_is_not_asked() -> None:
    assert asked(sound()) == set()


@pytest.mark.parametrize(
    ("found", "place"),
    [
        (LINE, "dye/left/paint-cracks"),
        (("paint-cracks/right", "rust-bleeding"), "dye/right/paint-cracks"),
        (UNSURE, "dye/right/steering-mount"),
        (("rail-sides/left", "not-sure"), "dye/left/rail-sides"),
    ],
)
def test_what_is_feared_calls_for_dye_at_that_place_alone(
    found: tuple[str, str], place: str
) -> None:
    survey = looked(*found)
    assert [a.id for a in called_topics(survey, library())] == ["dye"]
    places = {id for id in asked(survey) if not id.endswith(("/by", "/more", "/elsewhere"))}
    assert places == {place}


@pytest.mark.parametrize("answer", ["old-paint-line", "nothing-found"])
def test_an_old_line_calls_for_nothing(answer: str) -> None:
    assert asked(looked("paint-cracks/left", answer)) == set()


def test_a_line_that_bleeds_is_a_stop_at_the_place_where_it_was_feared() -> None:
    survey = dyed(looked(*UNSURE), "right/steering-mount", "crack")
    assert verdict(survey).action == "stop"
    said = head(survey)
    assert said.startswith("Crack that dye drew where the steering box is held, right rail.")
    assert NOT_DRIVEN in said


def test_no_line_on_bare_metal_settles_a_fresh_line_in_the_paint_and_is_not_no_crack() -> None:
    feared = looked(*LINE)
    assert (verdict(feared).held, must_not_move(verdict(feared))) == ("seen", True)
    survey = dyed(feared, "left/paint-cracks", "nothing-found")
    result = verdict(survey)
    assert (result.action, result.held, result.voices) == ("watch", "", ())
    assert not must_not_move(result)
    assert [(s.prompt.id, bool(s.dye)) for s in result.dyed] == [("paint-cracks/left", True)]
    said = told(survey)
    assert "where dye showed no crack: keep an eye on it" in head(survey)
    assert "With dye no crack was seen on the bare metal there. A fine one can still be" in said
    assert "no crack there" not in said.lower()


@pytest.mark.parametrize(
    ("answer", "seen"),
    [
        ("nothing-found", "painted"),
        ("nothing-found", "dirty"),
        ("all-pink", "bare"),
        ("round-spots", "bare"),
    ],
)
def test_dye_on_paint_or_used_badly_settles_nothing(answer: str, seen: str) -> None:
    survey = dyed(looked(*LINE), "left/paint-cracks", answer, seen)
    assert (verdict(survey).held, verdict(survey).dyed) == ("seen", ())


def test_the_other_side_and_another_place_settle_nothing() -> None:
    for place in ("right/paint-cracks", "left/engine-mounts", "left/elsewhere"):
        assert verdict(dyed(looked(*LINE), place, "nothing-found")).held == "seen", place


def test_a_brown_stain_stays_though_no_crack_was_seen() -> None:
    """Metal rubs inside that joint: no dye takes that away."""
    survey = dyed(
        looked("paint-cracks/left", "rust-bleeding"), "left/paint-cracks", "nothing-found"
    )
    assert verdict(survey).held == "seen"


def test_who_was_not_sure_has_seen_it_now() -> None:
    unsure = looked(*UNSURE)
    assert verdict(unsure).held == "unseen"
    survey = dyed(unsure, "right/steering-mount", "nothing-found")
    assert (verdict(survey).action, verdict(survey).unseen) == ("watch", ())
    assert "Doubt about a crack where the steering box is held, right rail, where dye" in head(
        survey
    )
    step = looks_of(unsure, library())[0].step.id and "steering-mount"
    assert step in {g.step for g in gaps(unsure, library(), DAY)}
    assert step not in {g.step for g in gaps(survey, library(), DAY)}


def test_a_crack_that_was_seen_stays_a_stop_whatever_dye_says() -> None:
    survey = dyed(looked("engine-mounts/left", "crack"), "left/engine-mounts", "nothing-found")
    assert verdict(survey).action == "stop"


def test_dye_that_drew_a_line_once_is_not_undone_by_a_second_try() -> None:
    survey = dyed(looked(*LINE), "left/paint-cracks", "crack")
    assert verdict(dyed(survey, "left/paint-cracks", "nothing-found")).action == "stop"


def test_a_place_that_was_not_reached_is_not_settled() -> None:
    survey = sound()
    row = next(k for k in survey.standing(Look) if k.prompt == "rail-sides/left")
    gone = survey.with_replaced(replace(row, answer="", seen="not-reached"))
    assert verdict(dyed(gone, "left/rail-sides", "nothing-found")).held == "unseen"
