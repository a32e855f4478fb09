"""Which axle is askew, and which way; expected values by plane geometry (identity)."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import case_of, library, survey_of
from wizard.checks import axles
from wizard.checks.case import Case
from wizard.checks.foretell import foretelling
from wizard.checks.notes import EITHER_SIDE
from wizard.survey.rows import Size


def taped(end: str, left: str, right: str) -> Case:
    readings = {f"wheelbase/{end}-axle-left": [left], f"wheelbase/{end}-axle-right": [right]}
    return case_of(readings, unit="mm")


@pytest.mark.parametrize(
    ("end", "left", "right", "back"),
    [
        # The front axle stands ahead of its points: the end nearer to its point is the one further
        # back.
        ("front", "211", "220", 9.0),
        ("front", "220", "211", -9.0),
        # The rear axle stands behind its points: the end further from its point is the one further
        # back.
        ("rear", "310", "300", 10.0),
        ("rear", "300", "310", -10.0),
    ],
)
def test_the_end_that_sits_further_back(end: str, left: str, right: str, back: float) -> None:
    (finding,) = axles.check(taped(end, left, right))
    assert (finding.id, finding.value, finding.limit) == (f"axle/{end}", back, "")
    assert len(finding.readings) == 2


def test_where_an_axle_stands_over_its_points_the_way_is_not_told() -> None:
    case = taped("front", "211", "220")
    owned = case.survey.with_row(Size(id="z90", name="front_axle_x", typed="10 mm"))
    (finding,) = axles.check(replace(case, survey=owned))
    assert (finding.value, finding.notes) == (-9.0, (EITHER_SIDE,))


def test_one_end_alone_says_nothing() -> None:
    assert axles.check(case_of({"wheelbase/front-axle-left": ["211"]}, unit="mm")) == []
    assert (
        axles.check(case_of({"wheelbase/left": ["2620"], "wheelbase/right": ["2620"]}, unit="mm"))
        == []
    )


SOUND = {
    "own-sides/whole/front-left--rear-left": ["2000"] * 2,
    "wheelbase/left": ["2500"] * 2,
    "wheelbase/front-axle-left": ["210"],
}


@pytest.mark.parametrize(("rear", "doubted"), [("291", False), ("297", False), ("304", True)])
def test_a_tape_to_an_axle_is_held_against_wheelbase_and_rail(rear: str, doubted: bool) -> None:
    """The rail is 1998.6 mm along the car (its ends lie 75 mm further apart at the rear): 2500 less
    that less 210 leaves 291; half an inch more is doubted, and so is a front axle read wrong.
    """
    foretell = foretelling(library())
    prompt = "wheelbase/rear-axle-left"
    survey = survey_of(SOUND, unit="mm")
    asked = Case(survey, library()).prompts[prompt]
    assert ("its two axles" in foretell(survey, asked, rear)) is doubted
    slipped = survey_of({**SOUND, "wheelbase/front-axle-left": ["223"]}, unit="mm")
    assert "its two axles" in foretell(slipped, asked, rear)
    alone = survey_of({**SOUND, "wheelbase/left": []}, unit="mm")
    assert "its two axles" not in foretell(alone, asked, rear)
