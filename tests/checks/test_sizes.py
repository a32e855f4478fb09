"""Sizes as taped, else the layout's round figures with a round figure's doubt."""

from __future__ import annotations

import pytest

from tests.checks.surveys import LADDER, case_of, taped
from wizard.checks.sizes import length, round_figure, side, width


def test_a_round_figure_is_good_to_four_percent() -> None:
    number = round_figure("rod", 900.0)
    assert (number.value, number.u) == (900.0, 36.0)


def test_a_taped_width_wins_over_the_round_one() -> None:
    prompt = "widths/rear/rear-left--rear-right"
    number, ids = width(case_of({prompt: ["851"]}, unit="mm"), "rear")
    assert number.value == 851
    assert len(ids) == 1
    number, ids = width(case_of({}), "rear")
    assert (number.value, ids) == (860, ())


def test_tip_to_tip_serves_as_the_width_at_the_tips() -> None:
    assert (
        width(case_of({"horns/horns/tip-left--tip-right": ["571"]}, unit="mm"), "tip")[0].value
        == 571
    )


def test_the_length_runs_along_the_center_line_and_not_along_the_rails() -> None:
    case = case_of(taped(LADDER, ("own-sides", "widths")), unit="mm")
    along, ids = length(case, case.layout.boxes[0])
    assert along.value == pytest.approx(2200.0, abs=0.001)
    assert len(ids) == 4
    taped_side = side(case, case.layout.boxes[0], "left")
    assert taped_side is not None
    assert taped_side.number.value > 2203


def test_one_side_is_not_enough_for_a_length() -> None:
    case = case_of({"own-sides/whole/front-left--rear-left": ["1900"]}, unit="mm")
    along, ids = length(case, case.layout.boxes[0])
    assert (along.value, ids) == (2200, ())
    assert along.u == pytest.approx(264)  # makers set their crossmembers where they liked


def test_sides_too_short_for_the_taper_are_no_length() -> None:
    sides = {f"own-sides/whole/front-{s}--rear-{s}": ["2 mm"] for s in ("left", "right")}
    case = case_of(sides, unit="mm")
    assert length(case, case.layout.boxes[0])[1] == ()
