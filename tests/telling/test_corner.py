"""The corner in one sentence, a rail short with nothing to see, an axle askew, what is looked at
beside them.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import DAY, LADDER, library, moved, survey_of, taped, with_looks
from tests.telling.saying import tells
from wizard.checks.notes import EITHER_SIDE
from wizard.judgment.corner import settled
from wizard.judgment.sight import verdict_of
from wizard.judgment.verdict import Verdict
from wizard.library.shapes import Layout
from wizard.survey.record import Survey
from wizard.survey.rows import Look
from wizard.telling.amounts import bands_words, few
from wizard.telling.axle_words import axle_advice, beside, holds
from wizard.telling.causes_words import cause_lines, corner_lines
from wizard.telling.consequences_words import consequence_lines
from wizard.telling.sentences import sentence
from wizard.telling.work_order import order_lines, question_lines, short_rail_lines

LAYOUT = library().layouts["straight-ladder"]
LEAF = library().layouts["leaf-ladder-light"]
HIT = {"history/knocked": "yes", "history/where": "left-front"}


def car(base: tuple[str, str] = ("2613.5", "2620"), **by: tuple[float, float]) -> Survey:
    readings = taped(moved(LADDER, **by))
    readings |= {"wheelbase/left": [base[0]] * 2, "wheelbase/right": [base[1]] * 2}
    return with_looks(survey_of(readings, unit="mm", answers=HIT))


def verdict(survey: Survey) -> Verdict:
    found = verdict_of(survey, library(), DAY)
    return found._replace(judged=settled(found.judged, LAYOUT))


FRONT = car(front_left=(9.5, 0.0), tip_left=(9.5, 0.0))
REAR = car(rear_left=(-8.0, 0.0))


def one(survey: Survey) -> str:
    (line,) = corner_lines(verdict(survey), LAYOUT, "mm")
    assert line.sources
    return line.text


def test_the_plain_thing_in_one_line() -> None:
    tells(one(FRONT), "left front corner", "9.5 mm back of the right", "give or take ")
    tells(one(FRONT), "rear box is square", "bend is ahead of the center crossmember")
    tells(one(REAR), "left rear corner", "8 mm forward of the right", "give or take ")
    tells(one(REAR), "front box is square", "bend is behind the center crossmember")
    assert corner_lines(verdict(car()), LAYOUT, "mm") == []


def test_it_stands_first_under_what_it_comes_from() -> None:
    assert cause_lines(verdict(FRONT), library(), FRONT)[0].text == one(FRONT)
    assert not cause_lines(verdict(FRONT), library())[0].text.startswith("The left front corner")


def test_the_half_figure_gets_no_advice_of_its_own_and_the_corner_does() -> None:
    found = {j.finding.id: j for j in verdict(FRONT).judged}
    assert bands_words(found["rail-shift/front-box"]) == ""
    assert bands_words(found["mash/front-box"]) == "take it to a specialist"


def look(survey: Survey, seen: str, answer: str) -> Survey:
    row = Look(id=survey.new_id(Look), at=DAY, prompt="rail-sides/left", seen=seen, answer=answer)
    kept = tuple(k for k in survey.table(Look) if k.prompt != "rail-sides/left")
    return replace(survey, rows={**survey.rows, "look": kept}).with_row(row)


FOLD = ("fold between front crossmember and center crossmember", "joints that slipped")


def test_a_rail_cannot_be_short_with_nothing_to_see() -> None:
    bare = short_rail_lines(verdict(FRONT), LAYOUT, "mm")[0].text
    tells(bare, "9.5 mm short with nothing to see", "Tape it again from another rivet", *FOLD)
    dirty = short_rail_lines(verdict(look(FRONT, "dirty", "nothing-found")), LAYOUT, "mm")[0].text
    tells(dirty, "Tape it again from another rivet", *FOLD)
    assert "nothing to see" not in dirty
    assert short_rail_lines(verdict(look(FRONT, "bare", "ripple")), LAYOUT, "mm") == [], (
        "there is something to see"
    )
    assert short_rail_lines(verdict(car()), LAYOUT, "mm") == []


def order(survey: Survey) -> str:
    return " ".join(line.text for line in order_lines(verdict(survey), survey, LAYOUT))


def test_the_axle_of_a_corner_that_was_hit_is_looked_at_and_only_setting_waits() -> None:
    text = order(FRONT)
    tells(
        text,
        "spindles, radius rods",
        "of the left front corner",
        "bends and cracks by the same person",
        "Then: ",
        "the brakes",
        "before the car moves again",
    )
    assert "can wait" not in text
    assert "spindles" not in order(car()), "a true frame has no corner to look at"
    asked = " ".join(line.text for line in question_lines(verdict(FRONT), LAYOUT))
    tells(asked, "Where has the length gone", "a fold", "a joint that slipped")
    tells(asked, "axle, spindle and steering box", "for cracks")


@pytest.mark.parametrize(
    ("corner", "layout", "parts"),
    [
        (("right", "front"), LEAF, ("axle", "spindles", "springs", "steering arms")),
        (("left", "rear"), LAYOUT, ("axle", "radius rods", "shackles")),
    ],
)
def test_what_lies_beside_a_corner(
    corner: tuple[str, str], layout: Layout, parts: tuple[str, ...]
) -> None:
    tells(beside(corner, layout), *parts, f"{' '.join(corner)} corner")


def test_beside_the_middle_of_a_rail_lies_nothing() -> None:
    assert beside(("left", "middle"), LAYOUT) == ""


def around(survey: Survey) -> str:
    return " ".join(line.text for line in consequence_lines(verdict(survey), LAYOUT, survey.unit))


def test_a_wheelbase_that_must_be_short_is_not_blamed() -> None:
    tells(around(FRONT), "left wheelbase is 6.5 mm short, as it must be", "corner back", "again")
    much = around(car(("2598", "2620"), front_left=(9.5, 0.0), tip_left=(9.5, 0.0)))
    tells(much, "left wheelbase should be shorter by up to 9.5 mm", "by 22 mm", "more than that")


def askew(front: tuple[str, str]) -> Survey:
    readings = {"wheelbase/left": ["2611"] * 2, "wheelbase/right": ["2620"] * 2} | taped(LADDER)
    readings |= {
        "wheelbase/front-axle-left": [front[0]] * 2,
        "wheelbase/front-axle-right": [front[1]] * 2,
    }
    return with_looks(survey_of(readings, unit="mm"))


def test_the_axle_that_is_askew_is_named_with_its_side_and_what_holds_it() -> None:
    text = order(askew(("211", "220")))
    tells(text, "front axle is out of square", "its left end", "9 mm further back", "radius rods")
    unknown = order(askew(("220", "220")))
    tells(unknown, "First: the axle", "radius rods", "shackles", "Tape it again")
    assert "is out of square" not in unknown


def test_what_holds_an_axle_is_that_of_the_kind_of_frame() -> None:
    assert "center bolts" not in axle_advice(verdict(askew(("211", "220"))), LAYOUT)
    assert "the front axle out of square" in axle_advice(verdict(askew(("211", "220"))), LAYOUT)
    assert holds(LEAF) == "the center bolts, springs and shackles"


def test_an_axle_whose_way_is_not_known_is_told_by_its_dots() -> None:
    found = next(j for j in verdict(askew(("211", "220"))).judged if j.finding.id == "axle/front")
    apart = found._replace(finding=replace(found.finding, notes=(EITHER_SIDE,)))
    assert "its left end sits 9 mm further from its dot than its right" in sentence(
        apart, LAYOUT, "mm"
    )


def test_at_most_three_readings_are_named_in_a_line() -> None:
    assert few(("a", "b", "c")) == "a; b; c"
    assert few(("a", "b", "c", "d", "e")) == "a; b; c; and 2 more"
