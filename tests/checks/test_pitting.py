"""What a pit has taken: thickness lost, stiffness and strength left."""

from __future__ import annotations

import pytest

from tests.checks.surveys import case_of
from wizard.checks import pitting
from wizard.checks.finding import Finding
from wizard.checks.notes import DEEP_THERE, ONE_PLACE


def found(clean: str, pitted: str, face: str = "top") -> dict[str, float]:
    readings = {"pitting/left/clean": [clean], "pitting/left/pitted": [pitted]}
    return {
        f.id: f.value
        for f in pitting.check(case_of(readings, unit="mm", answers={"pitting/left/face": face}))
    }


@pytest.mark.parametrize(
    ("pitted", "stiffness", "strength"), [("2.7", 4, 6), ("2.4", 8, 12), ("2.0", 14, 20)]
)
def test_off_the_outer_face_of_the_top_flange(
    pitted: str, stiffness: float, strength: float
) -> None:
    """0.3, 0.6, 1.0 mm off a 100 x 44 x 3 channel cost 4, 8, 14 % of stiffness, 6, 12, 20 % of
    strength.
    """
    result = found("3", pitted)
    assert 100 - result["stiffness-left/left"] == pytest.approx(stiffness, abs=0.6)
    assert 100 - result["strength-left/left"] == pytest.approx(strength, abs=0.8)


def test_thickness_lost_is_a_share_of_the_clean_place() -> None:
    assert found("3", "2.7")["thickness/left"] == pytest.approx(10.0)
    assert found("2.5", "2.5")["thickness/left"] == 0.0


def test_without_a_face_only_the_thickness_is_told() -> None:
    assert set(found("3", "2.7", face="")) == {"thickness/left"}


def test_a_pit_thicker_than_the_clean_place_is_no_loss_of_strength() -> None:
    assert set(found("3", "3.2")) == {"thickness/left"}


def test_one_of_the_two_says_nothing() -> None:
    assert pitting.check(case_of({"pitting/left/clean": ["3"]}, unit="mm")) == []
    assert found("0", "0") == {}


def lost(pitted: str, stretch: str = "") -> Finding:
    """Thickness lost out of 3 mm, over a stretch of that many mm."""
    readings = {"pitting/left/clean": ["3"], "pitting/left/pitted": [pitted]}
    if stretch:
        readings["pitting/left/stretch"] = [stretch]
    return pitting.check(case_of(readings, unit="mm"))[0]


@pytest.mark.parametrize(
    ("stretch", "limit"),
    [("", ""), ("25", ""), ("1099", ""), ("1100", "thickness"), ("2200", "thickness")],
)
def test_only_a_loss_over_half_the_rail_is_held_against_the_limit_of_a_whole_one(
    stretch: str, limit: str
) -> None:
    """The rails of the straight ladder run 2200 mm from point to point."""
    found = lost("2.4", stretch)
    assert found.limit == limit
    assert found.has(ONE_PLACE) is not bool(limit)


@pytest.mark.parametrize(("pitted", "deep"), [("2.4", True), ("2.0", True), ("2.9", False)])
def test_one_place_where_much_is_gone_says_so(pitted: str, deep: bool) -> None:
    """10 % may be gone over a whole rail (TB 9-2510-242-40)."""
    assert lost(pitted, "25").has(DEEP_THERE) is deep
    assert not lost(pitted, "2200").has(DEEP_THERE)
