"""What the plan takes from a tape before it adjusts: the distance as it lies flat."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests.checks.surveys import DAY, LADDER, add, findings, library, moved, survey_of, taped
from wizard.checks.case import Case
from wizard.checks.plan import flat, plan_of
from wizard.judgment.sight import sight_of

HORN = "horns/horns/tip-left--front-left"


def test_the_doubt_of_a_points_height_is_the_same_whichever_end_the_tape_starts_at() -> None:
    large = replace(survey_of({HORN: ["500"]}, unit="mm"), layout="leaf-ladder-large")
    case = Case(large, library())
    taken = case.taken(HORN)
    assert taken is not None
    there = flat(case, taken)
    turned = replace(taken.prompt, start=taken.prompt.end, end=taken.prompt.start)
    back = flat(case, taken._replace(prompt=turned))
    assert there.value == pytest.approx((500.0**2 - 40.0**2) ** 0.5) == back.value
    (height,) = [p.size for p in there.parts if p.name == "height:tip"]
    # The tip lies 40 mm low, give or take 10: the lower, the more the tape reads too long.
    assert height == pytest.approx(10.0 * 40.0 / there.value)
    assert [p.size for p in back.parts if p.name == "height:tip"] == [height]


LOW = 15.0
"""mm by which the rails hang low between the kicks."""


def test_a_rail_that_hangs_low_between_its_kicks_accuses_no_tape() -> None:
    """A double drop's low places lie deeper than the layout has them: every tape down to them is
    long by a millimeter or two, and no reading slipped.
    """
    layout = library().layouts["double-drop"]
    at = {}
    for place in layout.places:
        z = place.z - (LOW if place.id.endswith("kick") or place.id == "center" else 0.0)
        for point in place.points:
            side = -1.0 if point.endswith("left") else 1.0
            at[point] = (place.x, side * place.half_width, z)
    empty = replace(survey_of({}, unit="mm"), layout="double-drop")
    spans = [p for p in Case(empty, library()).prompts.values() if p.kind.spans]
    taped = {p.id: (p.start, p.end) for p in spans if p.start in at and p.end in at}
    readings = {
        id: [f"{math.dist(at[a], at[b]):.1f}"] * 2
        for id, (a, b) in taped.items()
        if not id.startswith("your-hand")
    }
    plan = plan_of(on_double_drop(readings))
    assert plan is not None
    assert plan.strain <= 1.0
    assert plan.suspects is None
    slipped = plan_of(on_double_drop({**readings, WHOLE_SIDE: ["2776 mm"] * 2}))
    assert slipped is not None
    assert slipped.suspects is not None, "an inch is still told from a rail that hangs"


WHOLE_SIDE = "own-sides/whole/front-left--rear-left"


def on_double_drop(readings: dict[str, list[str]]) -> Case:
    survey = replace(survey_of({}, unit="mm"), layout="double-drop")
    for prompt, typed in readings.items():
        survey = add(survey, prompt, *typed)
    return Case(survey, library())


SAME = "25 7/8"
TIPS = "left--front-right right--front-left left--front-left right--front-right left--center-right"
ALIKE = (
    *("widths/rear/rear-left--rear-right", "widths/center/center-left--center-right"),
    *("own-sides/whole/front-left--rear-left", "long-diagonals/whole/front-left--rear-right"),
    *("long-diagonals/whole/front-right--rear-left",) * 2,
    "box-diagonals/front-box/front-left--center-right",
    *(f"horns/horns/tip-{ends}" for ends in TIPS.split()),
    *("horns/horns/tip-left--front-right", "horns/horns/tip-right--front-left"),
    *("horns/horns/tip-right--center-left", "horns/horns/tip-right--center-right"),
    "horns/horns/tip-left--center-left",
)
"""Tapes of which each is typed with the same figure, those that stand here twice two times."""


def test_tapes_that_lay_points_upon_each_other_are_told_of_and_break_nothing() -> None:
    """All of one length: front and rear of a box fell together, its figures were no numbers, and every
    answer ended in a fault from then on.
    """
    typed = {"your-hand/front/front-left--front-right": [SAME] * 3}
    typed |= {prompt: [SAME] * ALIKE.count(prompt) for prompt in ALIKE}
    sight = sight_of(survey_of(typed), library())
    assert all(math.isfinite(f.value) and math.isfinite(f.number.u) for f in sight.findings)
    assert sight.verdict(DAY).action != "leave"


# One diagonal of two ------------------------------------------------------------------------------

TAPED = ("long-diagonals", "box-diagonals", "own-sides", "widths")
CROSSES = {
    "whole": (
        "long-diagonals/whole/front-left--rear-right",
        "long-diagonals/whole/front-right--rear-left",
    ),
    "front-box": (
        "box-diagonals/front-box/front-left--center-right",
        "box-diagonals/front-box/front-right--center-left",
    ),
    "rear-box": (
        "box-diagonals/rear-box/center-left--rear-right",
        "box-diagonals/rear-box/center-right--rear-left",
    ),
}


@pytest.mark.parametrize(("box", "left_out"), [(b, i) for b, ids in CROSSES.items() for i in ids])
def test_nothing_is_told_of_a_box_from_one_of_its_two_diagonals(box: str, left_out: str) -> None:
    """An inch misread in the one would be a rail moved, and no reading would gainsay it."""
    read = taped(moved(LADDER), TAPED)
    whole = findings(survey_of(read, unit="mm"))
    half = findings(survey_of({k: v for k, v in read.items() if k != left_out}, unit="mm"))
    of_box = {f"rail-shift/{box}", f"mash/{box}"}
    assert of_box <= whole.keys()
    assert not of_box & half.keys()
    others = {f"rail-shift/{other}" for other in CROSSES if other != box}
    assert others <= half.keys(), "the others keep theirs"
    assert ("sway/center" in half) == (box == "whole"), "from above, where such a box ends"
    assert "sway/center" in whole


def test_a_box_of_which_neither_diagonal_was_taped_is_known_by_the_plan_as_before() -> None:
    read = taped(moved(LADDER), TAPED)
    left = findings(
        survey_of({k: v for k, v in read.items() if k not in CROSSES["front-box"]}, unit="mm")
    )
    assert {"rail-shift/front-box", "sway/center"} <= left.keys()
