"""A piece of a rail that does not fit the whole is asked about; a bent rail is not taken for a
slip.
"""

import math

import pytest

from tests.checks.surveys import library, survey_of
from wizard.checks.case import Case
from wizard.checks.foretell import against_sum, foretelling

WHOLE, FRONT, REAR = (
    "own-sides/whole/front-left--rear-left",
    "own-sides/front-box/front-left--center-left",
    "own-sides/rear-box/center-left--rear-left",
)
# Straight rails of the layout, plane geometry: 310 to 365 mm over 1000, 365 to 430 over 1200.
MM = {WHOLE: math.hypot(2200, 120), FRONT: math.hypot(1000, 55), REAR: math.hypot(1200, 65)}


def doubt(prompt: str, mm: float, off: float = 0.0) -> str:
    """The doubt of one of the three with the other two in the survey, `off` mm added to the whole."""
    read = {p: [f"{v + (off if p == WHOLE else 0.0):.2f} mm"] for p, v in MM.items() if p != prompt}
    case = Case(survey_of(read, unit="mm"), library())
    return against_sum(case, case.prompts[prompt], mm)


@pytest.mark.parametrize("prompt", MM)
def test_three_tapes_that_agree_are_not_asked_about(prompt: str) -> None:
    assert doubt(prompt, MM[prompt]) == ""
    assert doubt(prompt, MM[prompt] + 3.0) == ""


@pytest.mark.parametrize("prompt", MM)
@pytest.mark.parametrize("slip", [-11.1, 12.7, 25.4])
def test_a_fraction_or_an_inch_that_was_lost_is(prompt: str, slip: float) -> None:
    way = "more" if (slip > 0) == (prompt != WHOLE) else "less"
    assert f"{way} than its whole length" in doubt(prompt, MM[prompt] + slip)


def test_it_is_asked_of_the_last_of_the_three_whichever_was_wrong() -> None:
    assert "1/2 in more" in foretelling(library())(
        survey_of({WHOLE: [f"{MM[WHOLE] / 25.4 - 0.5:.3f}"], FRONT: [f"{MM[FRONT] / 25.4:.3f}"]}),
        Case(survey_of({}), library()).prompts[REAR],
        f"{MM[REAR] / 25.4:.3f}",
    )


def test_a_frame_bowed_by_half_an_inch_fits_its_sum() -> None:
    """12.7 mm sideways at the center: the pieces grow by 12.7^2/2 (1/1000 + 1/1200), not by a slip."""
    out = math.hypot(1000, 55 + 12.7), math.hypot(1200, 65 - 12.7)
    read = {WHOLE: [f"{MM[WHOLE]:.2f} mm"], FRONT: [f"{out[0]:.2f} mm"]}
    case = Case(survey_of(read, unit="mm"), library())
    assert against_sum(case, case.prompts[REAR], out[1]) == ""


def test_with_a_piece_missing_there_is_nothing_to_say() -> None:
    case = Case(survey_of({WHOLE: ["2203 mm"]}, unit="mm"), library())
    assert against_sum(case, case.prompts[REAR], 10.0) == ""


def test_across_the_frame_there_is_no_sum() -> None:
    case = Case(survey_of({}), library())
    prompt = case.prompts["long-diagonals/whole/front-left--rear-right"]
    assert against_sum(case, prompt, 10.0) == ""
