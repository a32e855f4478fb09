"""A sign that was measured weighs no more than its chance of being false supports."""

from __future__ import annotations

from typing import Any

import pytest

from tests.checks.surveys import library
from tests.judgment.stories import causes, evidence_for, judged, stories, survey
from wizard.judgment.signs import Evidence, evidence_of, often_false


def box_out(u: float) -> dict[str, Any]:
    """The front box 5 mm out, which is more than is left, with this doubt; the rest is true."""
    shifts = [["rail-shift", "front-box", 5.0, u], ["rail-shift", "rear-box", 0.1, 0.3]]
    return {**stories()["quiet-frame"], "findings": shifts}


def signs(of: dict[str, Any]) -> dict[str, Evidence]:
    return {e.sign.id: e for e in evidence_of(*evidence_for(of), library().signs)}


@pytest.mark.parametrize(("u", "weight"), [(0.5, "strong"), (0.9, "strong"), (1.1, "medium")])
def test_a_box_that_is_barely_known_to_be_out_weighs_less(u: float, weight: str) -> None:
    """3 mm may be left, so 1.5 mm is half of it: 3.5 mm further out, with two boxes read, is false
    in 0.0001 of frames at u = 0.9 and in 0.0015 at u = 1.1.
    """
    assert signs(box_out(u))["front-box-out-rest-true"].weight == {"collision": weight}


@pytest.mark.parametrize(
    ("value", "u", "places", "chance"),
    [(4.5, 1.0, 1, 0.00135), (4.5, 1.0, 3, 0.00405), (1.5, 1.0, 1, 0.5), (-4.5, 1.0, 1, 0.00135)],
)
def test_how_often_it_is_false_is_reckoned_from_half_the_limit_and_for_all_the_places(
    value: float, u: float, places: int, chance: float
) -> None:
    story = {**stories()["quiet-frame"], "findings": [["rail-shift", "whole", value, u]]}
    one = next(j for j in judged(story, survey(story)) if j.finding.quantity == "rail-shift")
    assert often_false(one, places) == pytest.approx(chance, rel=0.01)


def test_what_is_not_doubted_at_all_is_never_false() -> None:
    story = {**stories()["quiet-frame"], "findings": [["rail-shift", "whole", 4.5, 0.0]]}
    one = next(j for j in judged(story, survey(story)) if j.finding.quantity == "rail-shift")
    assert often_false(one, 5) == 0.0


def test_a_kink_by_the_string_is_as_often_false_as_its_threshold_lets_it() -> None:
    story = stories()["quiet-frame"]
    made = judged({**story, "findings": [["bend", "left", 6.0, 0.001, "kink"]]}, survey(story))
    one = next(j for j in made if j.finding.quantity == "bend")
    assert often_false(one, 1) == 0.01
    with_kink = {**story, "findings": [["bend", "left", 6.0, 0.6, "kink", "center"]]}
    assert causes(with_kink)["collision"].answer == "hint"


def test_a_look_keeps_its_weight_whatever_is_measured() -> None:
    look = [["rail-sides", "left", "front", "bare", "kink"]]
    assert signs({**box_out(2.0), "looks": look})["kink"].weight == {"collision": "strong"}
