"""About how long pages take, the first time and again."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import DAY, add, library, survey_of
from wizard.survey.guide import Page, pages
from wizard.survey.minutes import minutes_of
from wizard.survey.record import Survey
from wizard.survey.rows import Ack, Answer, State

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
        ("long-diagonals", 10.0, 1 + 4 * 0.5),
        ("widths", 6.0, 1 + 3 * 0.5),
        ("own-sides", 8.0, 1 + 6 * 0.5),
        # The level both ways round at four places, and back at the first.
        ("level", 15.0, 1 + 10 * 0.5),
        # Two letters; before it is said what it rests on nobody is asked for metal or where stands
        # stand.
        ("set-supports", 20.0, 6 + 2 * 0.25),
        # The blocks by the rule, the span by the tape, two letters.
        ("string-set-up", 12.0, 3 + 2 * 0.25 + 1 / 3 + 0.5),
        # What may be kept as last time is one answer; how warm it is and what it stands on are of today.
        ("state", 5.0, 3 * 0.25),
        # Two places to look at; what is asked of a find only counts once there is one.
        ("paint-cracks", 3.0, 2 * 1.0),
    ],
)
def test_a_second_time_is_setting_up_and_the_answers(step: str, first: float, again: float) -> None:
    assert minutes(FIRST, step) == pytest.approx(first)
    assert minutes(AGAIN, step) == pytest.approx(again)


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
    assert minutes(on_wheels, "set-supports") == pytest.approx((6 + 0.25 * 2) / 2)
    assert minutes(on_stands, "set-supports") == pytest.approx(6 * 6 / 7 + 4 * 1.0 + 2 * 0.25)


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
