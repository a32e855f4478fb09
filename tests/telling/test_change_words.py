"""Then and now in words: amounts with their way, a doubt that is never zero, states as the pages
word them.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from tests.checks.surveys import found as made
from tests.checks.surveys import library
from tests.judgment.pairs import AGED, again, first, in_mm, only, said, stood
from tests.telling.saying import tells
from wizard.checks.finding import Finding
from wizard.judgment.change import compare
from wizard.judgment.states import Unlike
from wizard.math.uncertain import Uncertain
from wizard.survey.record import Survey
from wizard.survey.rows import Trip
from wizard.telling.amounts import size
from wizard.telling.change_words import change_headline, compare_text, next_date, title, unlike_line
from wizard.telling.quantity_names import amount, distance, name_of
from wizard.telling.then_words import then_line

LAYOUT = library().layouts["straight-ladder"]


def finding(quantity: str, where: str, value: float) -> Finding:
    return made(quantity, where, Uncertain(value))


@pytest.mark.parametrize(
    ("quantity", "where", "value", "name", "says"),
    [
        (
            "sag-loaded",
            "engine-mount/left",
            3.0,
            "left rail at the rear engine mount, engine on",
            "1/8 in low",
        ),
        (
            "sag-unloaded",
            "behind/right",
            -3.0,
            "right rail behind the center, engine off",
            "1/8 in high",
        ),
        (
            "rail-shift",
            "whole",
            6.0,
            "whole frame: one rail along the other",
            "1/4 in right rail back",
        ),
        (
            "rail-shift",
            "front-box-bar",
            -6.0,
            "front box, by the bar: one rail along the other",
            "1/4 in left rail back",
        ),
        ("twist", "rear", 0.1, "rear crossmember: twist, compared with the front", "0 in"),
        ("wheelbase", "difference", 6.4, "wheelbase, left against right", "1/4 in right shorter"),
        (
            "length",
            "long-diagonals/whole/front-left--rear-right",
            2314.575,
            "left front to right rear",
            "91 1/8 in",
        ),
    ],
)
def test_a_figure_has_a_name_and_a_way(
    quantity: str, where: str, value: float, name: str, says: str
) -> None:
    found = finding(quantity, where, value)
    assert name_of(found, LAYOUT) == name
    assert amount(found, "in") == says


def test_every_compared_quantity_has_a_name_and_a_way() -> None:
    compared = [q for q in library().quantities.values() if q.compared and not q.size]
    assert len(compared) >= 13
    assert all(q.name and q.plural for q in compared)
    # What is a share of the metal has no way but more and less.
    plain = {"thickness", "rail-strength", "rail-stiffness"}
    assert {q.id for q in compared if not q.way(1.0)} == plain


@pytest.mark.parametrize(
    ("value", "unit", "says"),
    [(0.01, "in", "1/32 in"), (0.01, "mm", "0.5 mm"), (-3.2, "mm", "3 mm")],
)
def test_a_doubt_is_never_said_as_zero(value: float, unit: str, says: str) -> None:
    assert size(value, "mm", unit) == says  # type: ignore[arg-type]


def test_a_distance_is_said_in_the_persons_own_unit() -> None:
    assert (distance(1448.4, "in"), distance(1448.4, "mm")) == ("900 miles", "1448 km")


def told(old: Survey, new: Survey) -> str:
    return compare_text(compare(old, new, library()), library())


def test_the_answer_comes_first_and_no_line_is_too_long() -> None:
    old = first()
    text = told(old, again(old, first(replace(AGED, diamond=9.0), seed=9)))
    tells(text.splitlines()[2], "One rail moved", " in along the other", "back")
    assert max(map(len, text.splitlines())) <= 76
    assert text.index("What has changed") < text.index("What has not changed")
    assert "safe" not in text


def test_an_unlike_state_is_said_in_the_words_of_its_page() -> None:
    old = stood(first(), supports="stands-under-axles")
    text = " ".join(told(old, again(old, stood(old, supports="wheels"))).split())
    tells(text, "the supports", "four stands under the axles", "its own wheels")
    assert "10 places of sag with the engine on: the supports" in text
    assert unlike_line(Unlike("supports", "wheels, three-points", "wheels"), library()) == (
        "the supports: then its own wheels and three points (a bare frame only), now its own wheels"
    )
    assert "“by the door[31m” then and “front 24 in apart, rear 30 in” now" in unlike_line(
        Unlike("stood", "by the door\x1b[31m", "front 24 in apart, rear 30 in"), library()
    )


def test_what_the_work_did_is_said_only_after_work() -> None:
    old = first(replace(AGED, diamond=12.0))
    new = again(old, first(replace(AGED, diamond=5.0), seed=9))
    assert "What the work between did" not in told(old, new)
    text = " ".join(told(old, said(new, "since-last-time/corrected", "straightened")).split())
    tells(text, "part of the way", "metal springs back", "is left")


def test_nothing_in_common_is_said() -> None:
    old = first()
    found = compare(only(old, "level"), again(old, only(old, "wheelbase")), library())
    tells(
        change_headline(found, library()),
        "Nothing could be compared",
        "in the same state both times",
    )


def test_the_title_has_days_and_distance_and_no_control_of_the_terminal() -> None:
    old = first()
    new = again(old, in_mm(old)).with_row(Trip(id="e1", distance="1448 km"))
    found = compare(replace(old, car="Bram\x1bble"), replace(new, car=""), library())
    assert title(found) == "Bramble: 2026-04-11 against 2026-10-10 (182 days, 1448 km)"


@pytest.mark.parametrize(
    ("when", "date"),
    [
        ("season", "2027-02-28"),
        ("year", "2027-08-31"),
        ("two-years", "2028-08-31"),
        ("no-date", None),
        ("", None),
    ],
)
def test_the_next_time_is_a_day_that_there_is(when: str, date: str | None) -> None:
    survey = replace(first(), started=datetime(2026, 8, 31, 9))
    survey = said(survey, "next-time/when", when) if when else survey
    found = next_date(survey, library())
    assert (f"{found:%Y-%m-%d}" if found else None) == date


def test_a_reading_is_never_recalled_before_it_is_in() -> None:
    from wizard.checks.case import Case

    old = first()
    for prompt in Case(old, library()).prompts.values():
        line = then_line(prompt, old)
        for row in old.readings_of(prompt.id):
            assert row.typed not in line
