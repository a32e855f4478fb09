"""Horns against each other, against frames whose tips were bent on purpose."""

from __future__ import annotations

import pytest

from tests.checks.surveys import LADDER, case_of, moved, taped
from wizard.checks import horns
from wizard.checks.finding import Finding
from wizard.checks.notes import FRONT_OPEN, OWN_SIDES_OPEN

pytestmark = pytest.mark.quick

CROSSES = ("horns/horns/tip-left--front-right", "horns/horns/tip-right--front-left")


def found(readings: dict[str, list[str]]) -> Finding:
    (finding,) = horns.check(case_of(readings, unit="mm"))
    return finding


def only(readings: dict[str, list[str]], *prompts: str) -> dict[str, list[str]]:
    return {p: readings[p] for p in prompts}


@pytest.mark.parametrize(
    ("tip", "by", "difference"),
    [
        ("tip_left", (0.0, -8.0), 8.0),
        ("tip_left", (0.0, 8.0), -8.0),
        ("tip_right", (0.0, 8.0), -8.0),
        ("tip_right", (0.0, -8.0), 8.0),
    ],
)
def test_a_tip_bent_sideways_is_read_to_the_millimeter_with_own_sides(
    tip: str, by: tuple[float, float], difference: float
) -> None:
    result = found(taped(moved(LADDER, **{tip: by}), ("horns", "widths")))
    assert result.value == pytest.approx(difference, abs=0.001)
    # Nothing behind the horns was taped, so no limit judges them.
    assert result.notes == (FRONT_OPEN,)
    assert result.limit == ""


def test_without_the_widths_the_round_figure_serves_as_base() -> None:
    readings = taped(moved(LADDER, tip_left=(0, -8)), ("horns",))
    result = found(readings)
    assert result.value == pytest.approx(8.0, abs=0.001)
    assert not any("widths" in i for i in result.readings)


def test_a_tip_pushed_back_is_no_sideways_bend_once_own_sides_are_taped() -> None:
    bent = taped(moved(LADDER, tip_left=(10, 0)), ("horns", "widths"))
    assert found(bent).value == pytest.approx(0.0, abs=0.001)
    # The crosses alone take it for one, and say that the own sides are open.
    alone = found(only(bent, *CROSSES))
    assert alone.value < -5
    assert alone.notes == (OWN_SIDES_OPEN, FRONT_OPEN)


def test_one_own_side_is_not_enough() -> None:
    bent = taped(moved(LADDER, tip_left=(0, -8)), ("horns",))
    one = found(only(bent, *CROSSES, "horns/horns/tip-left--front-left"))
    assert one.notes == (OWN_SIDES_OPEN, FRONT_OPEN)


def test_crosses_alone_give_the_difference_to_first_order() -> None:
    """A tip moved in by e changes its diagonal by -e W/d (identity): W 605, d 754 mm."""
    bent = taped(moved(LADDER, tip_left=(0, -8)), ("horns",))
    assert found(only(bent, *CROSSES)).value == pytest.approx(8.0, abs=0.06)


def test_both_horns_bent_alike_do_not_show() -> None:
    bent = taped(moved(LADDER, tip_left=(0, -8), tip_right=(0, 8)), ("horns", "widths"))
    assert found(bent).value == pytest.approx(0.0, abs=0.001)


def test_one_cross_says_nothing() -> None:
    assert horns.check(case_of({CROSSES[0]: ["754"]}, unit="mm")) == []
