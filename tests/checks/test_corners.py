"""Frames without diagonals: what a nose or a plate pushed aside shows, in numbers and in words."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

import pytest

from tests.checks.surveys import library, survey_of
from wizard.checks.finding import Finding
from wizard.checks.notes import ROUND_FIGURES, OffPlan
from wizard.checks.run import findings_of
from wizard.judgment.bands import judge
from wizard.library.templates import misfit
from wizard.survey.prompts import expand
from wizard.survey.record import Survey
from wizard.survey.rows import Reading
from wizard.telling.sentences import sentence

XY = tuple[float, float]


def taped(layout: str, steps: Iterable[str] = (), **moved: XY) -> Survey:
    """A survey of a frame with some points moved by (rearward, to the right) mm, everything taped
    true.
    """
    frame, at = library().layouts[layout], {}
    for place in frame.places:
        for point, side in zip(place.points, place.sides, strict=True):
            dx, dy = moved.get(point.replace("-", "_"), (0.0, 0.0))
            y = {"left": -1, "right": 1, "middle": 0}[side] * place.half_width
            at[point] = (place.x + dx, y + dy, place.z)
    survey = replace(survey_of({}, unit="mm"), layout=layout)
    tape = survey.tool("tape")
    assert tape is not None
    for step in library().steps.values():
        if (steps and step.id not in steps) or misfit(step.needs, frame):
            continue
        for p in expand(step, frame):
            if p.kind.spans and p.start:
                typed = f"{math.dist(at[p.start], at[p.end]):.4f}"
                survey = survey.with_row(
                    Reading(id=survey.new_id(Reading), prompt=p.id, typed=typed, tool=tape.id)
                )
    return survey


def found(survey: Survey) -> dict[str, Finding]:
    return {f.id: f for f in findings_of(survey, library())}


def words(survey: Survey, id: str) -> str:
    judged = judge(found(survey)[id], survey, library())
    return sentence(judged, library().layouts[survey.layout], "mm")


def test_a_nose_pushed_aside_is_told_from_a_rail_that_slipped_once_all_is_taped() -> None:
    pushed, slipped = taped("a-frame", nose=(0, 12)), {"rear_right": (6, 0), "center_right": (6, 0)}
    assert found(pushed)["nose-off/nose"].value == pytest.approx(12.0, abs=0.1)
    assert found(pushed)["rail-shift/rear-box"].value == pytest.approx(0.0, abs=0.05)
    # By hand: -e W / m = -12 · 860 / 2300.
    assert found(pushed)["rail-shift/whole"].value == pytest.approx(-4.49, abs=0.02)
    back = found(taped("a-frame", front_right=(6, 0), **slipped))
    assert back["rail-shift/rear-box"].value == pytest.approx(6.0, abs=0.05)
    assert back["rail-shift/whole"].value == pytest.approx(6.0, abs=0.05)


def test_from_the_nose_alone_the_words_leave_both_open() -> None:
    survey = taped("a-frame", ("nose-diagonals",), nose=(0, -12))
    assert found(survey)["rail-shift/whole"].value == pytest.approx(4.49, abs=0.02)
    assert found(survey)["rail-shift/whole"].has(ROUND_FIGURES)
    assert words(survey, "rail-shift/whole").startswith(
        "Whole frame: from the nose the right corner lies 4.5 mm"
    )
    assert words(survey, "rail-shift/whole").endswith(
        "The right rail has moved, or the nose was pushed to the left."
    )
    assert "both corners lie equally far back" in words(taped("a-frame"), "rail-shift/whole")


def test_the_nose_off_the_middle_line_has_words_and_a_limit() -> None:
    survey = taped("a-frame", nose=(0, 12))
    assert words(survey, "nose-off/nose").startswith(
        "The nose lies 12 mm to the right of the middle line"
    )
    assert words(taped("a-frame"), "nose-off/nose").startswith(
        "The nose lies on the middle line of the frame"
    )
    assert judge(found(survey)["nose-off/nose"], survey, library()).bands


def test_the_limit_of_a_nose_is_that_of_a_bow_carried_out_to_it() -> None:
    """A nose aside is a bow of the frame between nose and rear: at the front bearer 1650 of 2300."""
    limits, frame = library().limits, library().layouts["a-frame"]
    nose, front, rear = (frame.place(p).x for p in ("nose", "front", "rear"))
    share = (rear - front) / (rear - nose)
    bow = [b.upto_mm for b in limits["rail-bow"].above]
    carried = [share * b.upto_mm for b in limits["nose-off"].above]
    assert carried == pytest.approx(bow, rel=0.05)
    assert library().quantities["nose-off"].limit == "nose-off"


def test_the_nose_is_taped_to_all_pairs_behind_it() -> None:
    """To two of them alone it was known to 5 mm or so, too close to its limit to be settled."""
    alone = [s for s in library().steps if s != "nose-diagonals"]
    assert "nose-off/nose" not in found(taped("a-frame", alone))
    to = {
        p
        for r in taped("a-frame").table(Reading)
        for p in r.prompt.split("--")
        if "nose" in r.prompt
    }
    assert {"front-left", "center-left", "rear-left"} <= to
    assert found(taped("a-frame"))["nose-off/nose"].number.u < 3.2


def test_horns_are_carried_on_from_a_pair_well_behind_the_front() -> None:
    """The front kick is no further behind than the tips stand ahead: the doubt was over 3.5 mm."""
    assert found(taped("double-drop"))["horn/difference"].number.u < 2.5
    kick = found(taped("double-drop", front_kick_left=(0, 4), front_kick_right=(0, 4)))
    assert kick["horn/difference"].value == pytest.approx(0.0, abs=0.1)


def test_a_plate_off_the_middle_is_no_shift_of_a_rail() -> None:
    survey = taped("x-braced", ("plate-to-corners", "widths"), plate=(0, 9))
    assert found(survey)["rail-shift/whole"].value == pytest.approx(0.0, abs=0.02)
    assert found(survey)["plate-off/whole"].value == pytest.approx(9.0, abs=0.02)
    assert words(survey, "plate-off/whole").startswith(
        "The X-member's plate lies 9 mm to the right of the middle of"
    )
    assert words(taped("x-braced"), "plate-off/x-box").startswith(
        "The X-member's plate lies in the middle of the box"
    )


def test_four_tapes_from_the_plate_say_what_the_whole_plan_says() -> None:
    moved: dict[str, XY] = {
        f"{p}_right": (7.0, 0.0) for p in ("front", "front_leg", "rear_leg", "rear", "tip")
    }
    few = found(taped("x-braced", ("plate-to-corners", "widths"), **moved))
    plan = found(taped("x-braced", **moved))
    for box in ("whole", "x-box"):
        assert few[f"rail-shift/{box}"].value == pytest.approx(7.0, abs=0.1)
        assert plan[f"rail-shift/{box}"].value == pytest.approx(7.0, abs=0.05)
    assert plan["rail-shift/whole"].note(OffPlan)


@pytest.mark.parametrize(
    ("layout", "prompt"), [("a-frame", "whole/nose--rear-left"), ("x-braced", "plate--rear-left")]
)
def test_one_tape_missing_is_no_finding(layout: str, prompt: str) -> None:
    survey = taped(layout, ("nose-diagonals", "plate-to-corners"))
    row = next(r for r in survey.standing(Reading) if r.prompt.endswith(prompt))
    assert "rail-shift/whole" in found(survey)
    assert "rail-shift/whole" not in found(survey.with_struck(row.id, "a slip"))


def test_tapes_that_cannot_be_are_kept_and_give_no_number() -> None:
    survey = taped("a-frame", ("nose-diagonals",))
    for row in survey.standing(Reading):
        survey = survey.with_struck(row.id, "again")
        survey = survey.with_row(replace(row, id=survey.new_id(Reading), typed="300"))
    assert "rail-shift/whole" not in found(survey)
