"""About how long pages take, the first time and again."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from tests.checks.surveys import DAY, add, library, survey_of
from wizard.survey.guide import Page, guide_of, pages
from wizard.survey.minutes import minutes_of, pace_of
from wizard.survey.record import Survey
from wizard.survey.rows import Ack, Answer, Reading, Skip, State

FIRST = survey_of({})
AGAIN = replace(FIRST, follows="last-year")


def page(survey: Survey, step: str) -> Page:
    return next(p for p in pages(survey, library(), DAY) if p.step.id == step)


def minutes(survey: Survey, *steps: str) -> float:
    return minutes_of(survey, [page(survey, s) for s in steps])


def said(survey: Survey, prompt: str, answer: str) -> Survey:
    return survey.with_row(Answer(id=survey.new_id(Answer), at=DAY, prompt=prompt, answer=answer))


@pytest.mark.parametrize(
    ("step", "first", "again"),
    [
        # Setting up once more, and half a minute a tape: four of them; three widths; two sides of
        # three boxes.
        ("long-diagonals", 6.0, 1 + 4 * 0.5),
        ("widths", 6.0, 1 + 3 * 0.5),
        ("own-sides", 6.0, 1 + 6 * 0.5),
        # The level both ways round at four places, and back at the first.
        ("level", 15.0, 1 + 10 * 0.5),
        # Two letters; before it is said what it rests on nobody is asked where stands stand. The metal is
        # looked at first, at four places.
        ("set-supports", 17.0, 4 + 2 * 0.25 + 4 * 1.0),
        # The blocks by the rule, the span by the tape, two letters.
        ("string-set-up", 12.0, 3 + 2 * 0.25 + 1 / 3 + 0.5),
        # What may be kept as last time is one answer; how warm it is, what it stands on and how its body
        # is fixed are of today.
        ("state", 4.0, 4 * 0.25),
        # Two places to look at; what is asked of a find only counts once there is one.
        ("paint-cracks", 3.0, 2 * 1.0),
    ],
)
def test_a_second_time_is_setting_up_and_the_answers(step: str, first: float, again: float) -> None:
    assert minutes(FIRST, step) == pytest.approx(first)
    assert minutes(AGAIN, step) == pytest.approx(again)


@pytest.mark.parametrize(
    ("layout", "left", "right"),
    [
        # Three to lie down there, which the other side takes no second time, and a minute for each look.
        ("straight-ladder", 3 + 6, 6),
        ("double-drop", 3 + 7, 7),
        ("tube-ladder", 3 + 6, 6),
    ],
)
def test_a_place_takes_a_minute_for_each_look_that_the_frame_has_there(
    layout: str, left: float, right: float
) -> None:
    survey = replace(FIRST, layout=layout)
    walk = {str(stop.step.id): stop for stop in guide_of(survey, library()).walk(DAY)}
    for id, wanted in (("left-rail", left), ("right-rail", right)):
        stop = walk[id]
        assert stop.place is not None
        assert len(stop.place.parts) == right
        assert minutes_of(survey, [stop]) == pytest.approx(wanted)


def test_no_second_time_takes_longer_than_the_first() -> None:
    for step in library().steps.values():
        there = next(
            (p for p in pages(AGAIN, library(), DAY) if p.step.id == step.id and not p.gone), None
        )
        if there is not None:
            assert minutes_of(AGAIN, [there]) <= step.minutes, step.id


def test_a_page_without_a_figure_for_the_second_time_takes_as_long_as_the_first() -> None:
    assert page(AGAIN, "your-hand").step.again is None
    assert minutes(AGAIN, "your-hand") == 5.0


def test_what_is_done_is_taken_off() -> None:
    half = add(AGAIN, "widths/front/front-left--front-right", "25 7/8")
    assert minutes(half, "widths") == pytest.approx((1 + 3 * 0.5) * 2 / 3)
    done = add(
        add(half, "widths/center/center-left--center-right", "28"),
        "widths/rear/rear-left--rear-right",
        "33",
    )
    assert minutes(done, "widths") == 0.0


def test_stands_bring_the_metal_under_them_and_where_they_stand() -> None:
    """Four places looked at and a few words more than on its wheels."""
    on_wheels = said(AGAIN, "set-supports/supports", "wheels")
    on_stands = said(AGAIN, "set-supports/supports", "stands-under-frame")
    assert minutes(on_wheels, "set-supports") == pytest.approx((4 + 0.25 * 2) / 2)
    assert minutes(on_stands, "set-supports") == pytest.approx(4 * 6 / 7 + 4 * 1.0 + 2 * 0.25)


def test_what_was_read_of_cautions_changes_no_page() -> None:
    """They are read in no time beside the work, and they come again; so none of them is counted."""
    read = AGAIN
    for caution in library().cautions:
        read = read.with_row(Ack(id=read.new_id(Ack), at=DAY, caution=caution))
    for step in ("set-supports", "string-set-up", "paint-cracks"):
        assert minutes(read, step) == minutes(AGAIN, step)


def test_of_two_pages_that_stand_in_for_each_other_one_is_counted() -> None:
    assert minutes(AGAIN, "long-diagonals", "diagonals-below") == minutes(AGAIN, "long-diagonals")
    bolted = AGAIN.with_row(State(id="s90", body="bolted"))
    assert (
        minutes(bolted, "long-diagonals", "diagonals-below")
        == minutes(bolted, "diagonals-below")
        > 0
    )


# The person's own pace ----------------------------------------------------------------------------

BEGIN = datetime(2026, 4, 11, 9)
WIDTHS = (
    "widths/front/front-left--front-right",
    "widths/center/center-left--center-right",
    "widths/rear/rear-left--rear-right",
)


def timed(*minutes: float, survey: Survey = FIRST, prompts: tuple[str, ...] = WIDTHS) -> Survey:
    """Readings, each so many minutes behind the one before."""
    survey, at = replace(survey, started=BEGIN), BEGIN
    for prompt, since in zip(prompts, minutes, strict=False):
        at += timedelta(minutes=since)
        row = Reading(id=survey.new_id(Reading), at=at, prompt=prompt, typed="25 7/8", tool="t1")
        survey = survey.with_row(row)
    return survey


def pace(survey: Survey) -> float:
    return pace_of(survey, guide_of(survey, library()).walk(DAY))


def test_nothing_is_known_of_a_person_before_a_page_is_done() -> None:
    assert pace(FIRST) == 1.0
    assert pace(timed(9.0, 9.0)) == 1.0


def test_who_takes_twice_as_long_is_believed_by_and_by() -> None:
    """The table's 60 minutes against 6 of his own, which took 12."""
    slow = timed(8.0, 2.0, 2.0)
    assert pace(slow) == pytest.approx((60 + 12) / (60 + 6))
    assert pace(timed(2.0, 0.5, 0.5)) == pytest.approx((60 + 3) / (60 + 6))


def test_a_break_is_no_work() -> None:
    """Twenty minutes and a bit without an answer on a page of six: nothing is told by it."""
    assert pace(timed(3.0, 20.5, 1.0)) == 1.0
    assert pace(timed(3.0, 19.5, 1.0)) > 1.0
    assert pace(timed(24 * 60.0, 1.0, 1.0)) == 1.0


def test_a_clock_that_was_set_back_tells_nothing() -> None:
    assert pace(timed(3.0, -5.0, 1.0)) == 1.0


def test_nobody_is_taken_for_slower_than_two_and_a_half_tables() -> None:
    """Every reading of the frame's sides, widths, boxes, level, horns and wheels, 19 minutes apart."""
    pages = (
        "widths",
        "own-sides",
        "long-diagonals",
        "box-diagonals",
        "level",
        "horns",
        "wheelbase",
    )
    asks = [a.prompt.id for s in pages for a in page(FIRST, s).asks if a.prompt.kind.measures]
    assert pace(timed(*[19.0] * len(asks), prompts=tuple(asks))) == 2.5


def test_a_skipped_page_tells_nothing() -> None:
    left = timed(8.0, 8.0)
    skip = Skip(id=left.new_id(Skip), at=BEGIN + timedelta(minutes=17), prompt=WIDTHS[2], why="rag")
    assert pace(left.with_row(skip)) == 1.0


def test_what_hangs_on_an_open_answer_is_counted_before_it_is_given() -> None:
    """The sag without the weight waits for the engine to be lifted, and takes its time all the same."""
    engine = FIRST.with_row(State(id="s90", engine="in", body="bolted", supports="wheels"))
    three = ("lift-engine", "sag-unloaded", "lower-engine")
    assert page(engine, "sag-unloaded").gone
    assert minutes(engine, *three) == 20 + 8 + 5
    said = Answer(id="a91", at=DAY, prompt="lift-engine/engine", answer="in", keeps="state.engine")
    never = engine.with_row(said)
    assert minutes(never, "sag-unloaded", "lower-engine") == 0.0


def test_a_first_survey_counts_the_tools_and_a_second_one_only_where_they_are_others() -> None:
    assert minutes(FIRST, "tools") == pytest.approx(4.0)
    assert minutes(AGAIN, "tools") == 0.0
