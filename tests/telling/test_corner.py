"""The corner in one sentence, a rail short with nothing to see, an axle askew, what is looked at
beside them.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import DAY, LADDER, library, moved, survey_of, taped, with_looks
from wizard.checks.notes import EITHER_SIDE
from wizard.judgment.corner import settled
from wizard.judgment.sight import verdict_of
from wizard.judgment.verdict import Verdict
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
    return replace(found, judged=settled(found.judged, LAYOUT))


FRONT = car(front_left=(9.5, 0.0), tip_left=(9.5, 0.0))
REAR = car(rear_left=(-8.0, 0.0))


def one(survey: Survey) -> str:
    (line,) = corner_lines(verdict(survey), LAYOUT, "mm")
    assert line.sources
    return line.text


def test_the_plain_thing_in_one_line() -> None:
    assert one(FRONT).startswith(
        "The left front corner stands 9.5 mm back of the right, give or take "
    )
    assert one(FRONT).endswith(
        "The rear box is square and equal. The bend is ahead of the center crossmember."
    )
    assert one(REAR).startswith(
        "The left rear corner stands 8 mm forward of the right, give or take "
    )
    assert one(REAR).endswith(
        "The front box is square and equal. The bend is behind the center crossmember."
    )
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


FOLD = (
    "look for the fold between front crossmember and center crossmember, or for joints that"
    " slipped."
)


def test_a_rail_cannot_be_short_with_nothing_to_see() -> None:
    bare = short_rail_lines(verdict(FRONT), LAYOUT, "mm")[0].text
    assert bare.startswith(
        "A rail cannot be 9.5 mm short with nothing to see. Tape it again from another rivet."
        " If it "
    )
    assert bare.endswith(FOLD)
    dirty = short_rail_lines(verdict(look(FRONT, "dirty", "nothing-found")), LAYOUT, "mm")[0].text
    assert dirty == f"Tape it again from another rivet. If it stands, {FOLD}"
    assert short_rail_lines(verdict(look(FRONT, "bare", "ripple")), LAYOUT, "mm") == [], (
        "there is something to see"
    )
    assert short_rail_lines(verdict(car()), LAYOUT, "mm") == []


def order(survey: Survey) -> str:
    return " ".join(line.text for line in order_lines(verdict(survey), survey, LAYOUT))


def test_the_axle_of_a_corner_that_was_hit_is_looked_at_and_only_setting_waits() -> None:
    text = order(FRONT)
    assert "axle, spindles, radius rods and steering arms of the left front corner" in text
    assert "looked at for bends and cracks by the same person. Then:" in text
    assert "Then: the brakes and their rods, put right before the car moves again." in text
    assert "can wait" not in text
    assert "spindles" not in order(car()), "a true frame has no corner to look at"
    asked = " ".join(line.text for line in question_lines(verdict(FRONT), LAYOUT))
    assert "Will you check axle, spindle and steering box mounting for cracks too?" in asked
    assert "Where has the length gone: a fold, or a joint that slipped?" in asked


@pytest.mark.parametrize(
    ("corner", "layout", "says"),
    [
        (
            ("right", "front"),
            LEAF,
            "axle, spindles, springs and steering arms of the right front corner",
        ),
        (("left", "rear"), LAYOUT, "axle, radius rods and shackles of the left rear corner"),
        (("left", "middle"), LAYOUT, ""),
    ],
)
def test_what_lies_beside_a_corner(corner: tuple[str, str], layout: object, says: str) -> None:
    assert beside(corner, layout) == says  # type: ignore[arg-type]


def around(survey: Survey) -> str:
    return " ".join(line.text for line in consequence_lines(verdict(survey), LAYOUT, survey.unit))


def test_a_wheelbase_that_must_be_short_is_not_blamed() -> None:
    assert (
        "The left wheelbase is 6.5 mm short, as it must be with that corner back. Measure it again"
        " after" in around(FRONT)
    )
    much = around(car(("2598", "2620"), front_left=(9.5, 0.0), tip_left=(9.5, 0.0)))
    assert (
        "the left wheelbase should be shorter by up to 9.5 mm. It is, by 22 mm: more than that"
        " explains." in much
    )


def askew(front: tuple[str, str]) -> Survey:
    readings = {"wheelbase/left": ["2611"] * 2, "wheelbase/right": ["2620"] * 2} | taped(LADDER)
    readings |= {
        "wheelbase/front-axle-left": [front[0]] * 2,
        "wheelbase/front-axle-right": [front[1]] * 2,
    }
    return with_looks(survey_of(readings, unit="mm"))


def test_the_axle_that_is_askew_is_named_with_its_side_and_what_holds_it() -> None:
    text = order(askew(("211", "220")))
    assert "the front axle stands askew: its left end sits 9 mm further back than its right" in text
    assert "Look at radius rods, their ball, perches and shackles" in text
    unknown = order(askew(("220", "220")))
    assert (
        "First: the axle: radius rods, their ball, perches and shackles. Tape it again." in unknown
    )


def test_what_holds_an_axle_is_that_of_the_kind_of_frame() -> None:
    assert "center bolts" not in axle_advice(verdict(askew(("211", "220"))), LAYOUT)
    assert "the front axle askew" in axle_advice(verdict(askew(("211", "220"))), LAYOUT)
    assert holds(LEAF) == "center bolts, springs and shackles"


def test_an_axle_whose_way_is_not_known_is_told_by_its_dots() -> None:
    found = next(j for j in verdict(askew(("211", "220"))).judged if j.finding.id == "axle/front")
    apart = replace(found, finding=replace(found.finding, notes=(EITHER_SIDE,)))
    assert "its left end sits 9 mm further from its dot than its right" in sentence(
        apart, LAYOUT, "mm"
    )


def test_at_most_three_readings_are_named_in_a_line() -> None:
    assert few(("a", "b", "c")) == "a; b; c"
    assert few(("a", "b", "c", "d", "e")) == "a; b; c; and 2 more"
