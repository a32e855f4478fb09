"""About how long pages take, the first time and again."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import DAY, add, library, survey_of
from wizard.survey.guide import Page, pages
from wizard.survey.minutes import minutes_of
from wizard.survey.record import Survey
from wizard.survey.rows import Ack, State

FIRST = survey_of({})
AGAIN = replace(FIRST, follows="last-year")


def page(survey: Survey, step: str) -> Page:
    return next(p for p in pages(survey, library(), DAY) if p.step.id == step)


def minutes(survey: Survey, *steps: str) -> float:
    return minutes_of(survey, [page(survey, s) for s in steps], DAY)


@pytest.mark.parametrize(
    ("step", "first", "again"),
    [
        # Setting up once more, and half a minute a tape: four of them; three widths; two sides of three boxes.
        ("long-diagonals", 10.0, 1 + 4 * 0.5),
        ("widths", 6.0, 1 + 3 * 0.5),
        ("own-sides", 8.0, 1 + 6 * 0.5),
        # The level both ways round at four places, and back at the first.
        ("level", 15.0, 1 + 10 * 0.5),
        # Two cautions and two letters; on its wheels nobody is asked where stands stand.
        ("set-supports", 20.0, 6 + 4 * 0.25),
        # Two cautions, the blocks by the rule, the span by the tape, two letters.
        ("string-set-up", 12.0, 3 + 4 * 0.25 + 1 / 3 + 0.5),
        # Two cautions, two places to look at; what is asked of a find only counts once there is one.
        ("paint-cracks", 3.0, 2 * 0.25 + 2 * 1.0),
    ],
)
def test_a_second_time_is_setting_up_and_the_answers(step: str, first: float, again: float) -> None:
    assert minutes(FIRST, step) == pytest.approx(first)
    assert minutes(AGAIN, step) == pytest.approx(again)


def test_no_second_time_takes_longer_than_the_first() -> None:
    for step in library().steps.values():
        there = next((p for p in pages(AGAIN, library(), DAY) if p.step.id == step.id and not p.gone), None)
        if there is not None:
            assert minutes_of(AGAIN, [there], DAY) <= step.minutes, step.id


def test_a_page_without_a_figure_for_the_second_time_takes_as_long_as_the_first() -> None:
    assert page(AGAIN, "your-hand").step.again is None
    assert minutes(AGAIN, "your-hand") == 5.0


def test_what_is_done_is_taken_off() -> None:
    half = add(AGAIN, "widths/front/front-left--front-right", "25 7/8")
    assert minutes(half, "widths") == pytest.approx((1 + 3 * 0.5) * 2 / 3)
    done = add(add(half, "widths/centre/centre-left--centre-right", "28"), "widths/rear/rear-left--rear-right", "33")
    assert minutes(done, "widths") == 0.0


def test_a_caution_is_read_once_a_day() -> None:
    alone = minutes(AGAIN, "set-supports") + minutes(AGAIN, "string-set-up")
    assert minutes(AGAIN, "set-supports", "string-set-up") == pytest.approx(alone - 0.25)
    read = AGAIN.with_row(Ack(id="c90", at=DAY, caution="going-under"))
    assert minutes(read, "set-supports") == pytest.approx(minutes(AGAIN, "set-supports") - 0.25)


def test_of_two_pages_that_stand_in_for_each_other_one_is_counted() -> None:
    assert minutes(AGAIN, "long-diagonals", "diagonals-below") == minutes(AGAIN, "long-diagonals")
    bolted = AGAIN.with_row(State(id="s90", body="bolted"))
    assert minutes(bolted, "long-diagonals", "diagonals-below") == minutes(bolted, "diagonals-below") > 0
