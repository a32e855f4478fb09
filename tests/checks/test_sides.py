"""Own sides: one rail against its twin."""

from __future__ import annotations

import pytest

from tests.checks.surveys import LADDER, case_of, moved, taped
from wizard.checks import sides


def found(
    points: dict[str, tuple[float, float]], steps: tuple[str, ...] = ("own-sides",)
) -> dict[str, float]:
    return {f.id: f.value for f in sides.check(case_of(taped(points, steps), unit="mm"))}


def test_left_longer_is_plus_and_right_longer_is_minus() -> None:
    assert found(moved(LADDER, rear_left=(4, 0)))["own-sides/whole"] == pytest.approx(4.0, abs=0.01)
    assert found(moved(LADDER, rear_right=(4, 0)))["own-sides/whole"] == pytest.approx(
        -4.0, abs=0.01
    )


def test_a_buckle_shows_in_its_own_box_and_not_in_the_other() -> None:
    points = moved(LADDER, front_left=(4, 0))
    result = found(points)
    assert result["own-sides/front-box"] == pytest.approx(-4.0, abs=0.01)
    assert result["own-sides/rear-box"] == pytest.approx(0.0, abs=0.01)


def test_a_rail_that_slipped_whole_is_as_long_as_before() -> None:
    points = moved(LADDER, **{f"{p}_left": (9.0, 0.0) for p in ("tip", "front", "center", "rear")})
    assert set(found(points).values()) == {0.0}


def test_the_horns_own_sides_are_compared_too() -> None:
    assert found(moved(LADDER, tip_left=(-5, 0)), ("horns",))["own-sides/horns"] == pytest.approx(
        5.0, abs=0.01
    )


def test_one_side_alone_says_nothing() -> None:
    assert (
        sides.check(case_of({"own-sides/whole/front-left--rear-left": ["2200"]}, unit="mm")) == []
    )
