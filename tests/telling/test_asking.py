"""Texts that a person asks for at a prompt."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import DAY, add, library, survey_of
from tests.told import says
from wizard.survey.guide import Page, pages
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Skip, State
from wizard.telling import asking

STEP = library().steps["wheelbase"]


def page(survey: Survey, step: str) -> Page:
    return next(p for p in pages(survey, library(), DAY) if p.step.id == step)


def test_why_gives_the_reason_the_mentors_question_and_the_source() -> None:
    text = asking.why_text(STEP)
    assert text.startswith(STEP.why)
    assert "A mentor would ask: " in text
    assert "If you are alone: " in text
    assert text.endswith("Where this comes from: common practice, no published source.")
    assert ".." not in asking.why_text(library().steps["history"])


def test_why_leaves_out_what_a_step_does_not_say() -> None:
    bare = STEP._replace(mentor="", alone="", source="", caveat="")
    assert asking.why_text(bare) == STEP.why


def test_spoils_ends_with_what_to_do_instead_where_there_is_something() -> None:
    assert asking.spoils_text(STEP).startswith(f"- {STEP.spoils[0]}")
    assert "Done well: " in asking.spoils_text(STEP)
    assert "If you cannot: " in asking.spoils_text(STEP)
    assert "If you cannot" not in asking.spoils_text(STEP._replace(instead=""))


def test_help_lists_each_word() -> None:
    told = asking.help_text([("Now", [("why", "says why it matters"), ("undo", "takes back")])])
    assert says(told, "press Enter … An example … Now /why says why … /undo takes back")


AXLES = (
    "front-axle-left",
    "front-axle-right",
    "rear-axle-left",
    "rear-axle-right",
    "chocked",
    "push",
)


def at_wheelbase(survey: Survey) -> tuple[tuple[Page, ...], Page]:
    """The course as it stands, and the page in front."""
    there = pages(survey, library(), DAY)
    return there, next(p for p in there if p.step is STEP)


@pytest.mark.parametrize(
    ("readings", "skips", "state"),
    [
        ({}, (), "open"),
        ({"wheelbase/left": ["103"]}, (), "part"),
        ({}, ("left", "right", *AXLES), "skipped"),
        (
            {f"wheelbase/{s}": ["103", "103"] for s in ("left", "right")},
            AXLES,
            "done",
        ),
    ],
)
def test_the_state_of_a_page(
    readings: dict[str, list[str]], skips: tuple[str, ...], state: str
) -> None:
    survey = survey_of(readings)
    for name in skips:
        survey = survey.with_row(
            Skip(id=survey.new_id(Skip), prompt=f"wheelbase/{name}", why="on blocks")
        )
    assert asking.page_state(survey, page(survey, "wheelbase")) == state


def test_a_page_that_does_not_apply_is_gone_and_says_why_in_the_trail() -> None:
    survey = survey_of({}).with_row(State(id="s90", engine="out"))
    assert asking.page_state(survey, page(survey, "sag-loaded")) == "gone"
    trail = asking.trail_text(survey, *at_wheelbase(survey))
    assert "[.] Sag with the engine's weight on" in trail
    assert "The engine's weight is off" in trail


def test_a_page_with_nothing_left_to_ask_is_not_open_for_ever() -> None:
    assert asking.page_state(survey_of({}), Page(STEP, ())) == "done"


def test_the_trail_marks_where_one_is() -> None:
    survey = survey_of({})
    lines = asking.trail_text(survey, *at_wheelbase(survey)).splitlines()
    here = [line for line in lines if line.startswith(">")]
    assert len(here) == 1
    assert here[0].endswith("(wheelbase)")
    left = asking.left_words(survey, pages(survey, library(), DAY))
    longer = " (the longer where something is open)"
    assert lines[-1] == f"A{left[1:]}{longer}. To go to a page, type /go and its number."
    assert asking.trail_line(survey, *at_wheelbase(survey)).endswith(left)


def test_a_survey_with_nothing_open_is_all_answered() -> None:
    assert asking.left_words(survey_of({}), (Page(STEP, ()),)) == "all answered"


def test_the_time_left_falls_with_every_answer_and_ends_at_zero() -> None:
    survey = survey_of({})
    whole = pages(survey, library(), DAY)
    (only,) = [p for p in whole if p.step.id == "string-set-up"]
    bare = (replace(only, prompts=tuple(p for p in only.prompts if not p.kind.acknowledges)),)
    assert asking.minutes_left(survey, bare) == only.step.minutes
    half = add(survey, "string-set-up/block", "2")
    half = add(half, "string-set-up/span", "85")
    assert asking.minutes_left(half, bare) == round(only.step.minutes / 2)
    for prompt in ("where", "steady"):
        half = half.with_row(
            Answer(id=half.new_id(Answer), prompt=f"string-set-up/{prompt}", answer="above")
        )
    assert asking.minutes_left(half, bare) == 0


def test_what_is_read_again_only_where_something_is_open_is_said_apart() -> None:
    """The string is read to the last, of the level and of the diagonals the first time; a survey that
    wants every reading has but one figure.
    """
    survey = survey_of({})
    string = page(survey, "sag-loaded")
    assert asking.left_words(survey, (string,)) == f"about {string.step.minutes} min left"
    twice = page(survey, "box-diagonals")
    assert asking.left_words(survey, (twice,)) == "about 4 to 8 min left"
    every = survey.with_row(
        Answer(id=survey.new_id(Answer), prompt="about-the-car/course", answer="every")
    )
    assert asking.left_words(every, (twice,)) == "about 8 min left"


def test_the_trail_in_a_line_counts_as_the_worksheet_does() -> None:
    """A page that drops out keeps its number, so that no other's changes."""
    survey = survey_of({}).with_row(State(id="s90", engine="out", body="off"))
    there = pages(survey, library(), DAY)
    ids = [p.step.id for p in there]
    assert any(p.gone for p in there[: ids.index("wheelbase")])
    line = asking.trail_line(survey, *at_wheelbase(survey))
    assert line.startswith(f"{ids.index('wheelbase') + 1} of {len(ids)}, about ")
    assert asking.trail_line(survey, there, None).startswith(f"{len(ids)} of {len(ids)}")


def test_long_times_are_said_in_hours() -> None:
    survey = survey_of({})
    assert " h left" in asking.trail_line(survey, *at_wheelbase(survey))
    assert (
        asking.trail_line(survey, (there := page(survey, "wheelbase"),), there)
        == f"1 of 1, about 6 to {STEP.minutes} min left"
    )
