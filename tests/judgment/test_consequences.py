"""Predictions that can be checked, and what the car's answer does to them."""

from __future__ import annotations

from typing import Any

import pytest

from tests.judgment.stories import causes, evidence_for, stories, verdict
from wizard.judgment.consequences import Prediction, predictions


def foretold(
    name: str, answers: dict[str, str] | None = None, **findings: list[Any]
) -> dict[str, Prediction]:
    story = stories()[name]
    more = {f"consequences/{k}": v for k, v in (answers or {}).items()}
    rows = [*story.get("findings", []), *findings.values()]
    story = {**story, "answers": {**story.get("answers", {}), **more}, "findings": rows}
    return {p.id: p for p in predictions(evidence_for(story)[1], causes(story))}


def test_a_true_frame_foretells_nothing() -> None:
    assert foretold("quiet-frame") == {}


@pytest.mark.parametrize(
    ("said", "outcome"),
    [
        ("tight-at-top", "agrees"),
        ("wide-at-top", "contradicts"),
        ("even", "open"),
        ("off", "open"),
        ("", "open"),
    ],
)
def test_a_sag_closes_the_hood_at_the_top(said: str, outcome: str) -> None:
    found = foretold("equal-sag", {"hood-gap": said} if said else None)
    assert found["hood-gap"].outcome == outcome
    assert set(found) == {"hood-gap", "brake-rods"}


@pytest.mark.parametrize(
    ("mm", "said", "outcome"),
    [
        (5.0, "low", "agrees"),
        (5.0, "high", "contradicts"),
        (5.0, "middle", "open"),
        (-5.0, "high", "agrees"),
        (-5.0, "low", "contradicts"),
    ],
)
def test_a_fan_goes_where_its_supports_let_it(mm: float, said: str, outcome: str) -> None:
    found = foretold("equal-sag", {"fan": said}, fan=["fan-drop", "fan", mm, 0.5])
    assert found["fan"].outcome == outcome


@pytest.mark.parametrize(("mm", "u"), [(2.0, 0.3), (5.0, 4.0)])
def test_a_fan_that_moves_too_little_or_perhaps_not_at_all_is_not_foretold(
    mm: float, u: float
) -> None:
    assert "fan" not in foretold("equal-sag", {"fan": "low"}, fan=["fan-drop", "fan", mm, u])


def test_a_sag_that_is_surely_left_foretells_nothing() -> None:
    rows = {f"{w}": ["sag-unloaded", f"engine-mount/{w}", 2.0, 0.2] for w in ("left", "right")}
    found = foretold("quiet-frame", **rows)
    assert "hood-gap" not in found


def test_a_crown_opens_the_hood_at_the_top() -> None:
    assert foretold("crown-on-purpose", {"hood-gap": "wide-at-top"})["hood-gap"].outcome == "agrees"


@pytest.mark.parametrize(
    ("degrees", "felt", "outcome"),
    [
        (0.3, "wobble", "contradicts"),
        (0.3, "quiet", "agrees"),
        (1.6, "wobble", "agrees"),
        (1.6, "wander", "open"),
    ],
)
def test_little_caster_explains_no_wobble_and_much_may(
    degrees: float, felt: str, outcome: str
) -> None:
    found = foretold("equal-sag", {"steering": felt}, caster=["caster", "ball", degrees, 0.05])
    assert (found["caster"].outcome, found["caster"].amount) == (outcome, degrees)


@pytest.mark.parametrize(
    ("left_minus_right", "outcome"),
    [(8.0, "agrees"), (0.3, "contradicts"), (-8.0, "open"), (4.0, "agrees")],
)
def test_a_front_box_that_is_out_carries_the_axle_with_it(
    left_minus_right: float, outcome: str
) -> None:
    """Right rail back in front: the right front wheel goes back with it, so the left wheelbase is
    the longer.
    """
    found = foretold(
        "front-box-out-alone", wheelbase=["wheelbase", "difference", left_minus_right, 0.6]
    )
    assert found["wheelbase"].outcome == outcome
    # A corner would show 16 mm; where nobody can tell that it is one, no more than half is foretold.
    assert (found["wheelbase"].kind, found["wheelbase"].amount) == ("shift", 8.0)


def test_a_whole_diamond_leaves_the_wheelbases_alike() -> None:
    assert "wheelbase" not in foretold("whole-diamond")


def test_the_verdict_carries_them() -> None:
    assert {p.id for p in verdict(stories()["twist-on-three-points"]).foretold} == {"doors"}


@pytest.mark.parametrize(
    ("left", "right", "said", "outcome"),
    [
        (4.8, 4.8, "tight-at-top", "agrees"),
        (-4.8, -4.8, "wide-at-top", "contradicts"),
        (0.1, -0.1, "even", "open"),
        (4.8, 0.0, "sides-differ", "open"),
    ],
)
def test_a_rule_in_the_gap_is_asked_before_the_eye(
    left: float, right: float, said: str, outcome: str
) -> None:
    rows = {side: ["hood-taper", side, mm, 0.4] for side, mm in (("left", left), ("right", right))}
    found = foretold("equal-sag", {"hood-gap": "even"}, **rows)["hood-gap"]
    assert (found.said, found.outcome) == (said, outcome)
    assert {"hood-taper/left", "hood-taper/right"} <= set(found.sources)
    alone = foretold("equal-sag", {"hood-gap": "even"}, left=["hood-taper", "left", left, 0.4])[
        "hood-gap"
    ]
    assert alone.said == "even"  # one side settles nothing: the eye's answer stands


def test_a_hood_that_was_fitted_to_a_low_rail_shows_nothing_of_it() -> None:
    """Else `it is older than that` stands beside `you saw the opposite`."""
    name, even = "one-rail-sags", {"hood-gap": "even"}
    assert foretold(name, even)["hood-gap"].outcome == "contradicts"
    story = stories()[name]
    past = {f"history/{q}": "yes" for q in ("fitted", "hood-fits", "doors-fit")}
    fitted = {
        **story,
        "answers": {**story.get("answers", {}), **past, "consequences/hood-gap": "even"},
    }
    assert causes(fitted).older
    found = {p.id for p in predictions(evidence_for(fitted)[1], causes(fitted))}
    assert "hood-gap" not in found
    assert "brake-rods" in found
