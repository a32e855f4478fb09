"""What the plan takes from a tape before it adjusts: the distance as it lies flat."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import library, survey_of
from wizard.checks.case import Case
from wizard.checks.plan import flat

HORN = "horns/horns/tip-left--front-left"


def test_the_doubt_of_a_points_height_is_the_same_whichever_end_the_tape_starts_at() -> None:
    large = replace(survey_of({HORN: ["500"]}, unit="mm"), layout="leaf-ladder-large")
    case = Case(large, library())
    taken = case.taken(HORN)
    assert taken is not None
    there = flat(case, taken)
    turned = replace(taken.prompt, start=taken.prompt.end, end=taken.prompt.start)
    back = flat(case, replace(taken, prompt=turned))
    assert there.value == pytest.approx((500.0**2 - 40.0**2) ** 0.5) == back.value
    (height,) = [p.size for p in there.parts if p.name == "height:tip"]
    # The tip lies 40 mm low, give or take 10: the lower, the more the tape reads too long.
    assert height == pytest.approx(10.0 * 40.0 / there.value)
    assert [p.size for p in back.parts if p.name == "height:tip"] == [height]
