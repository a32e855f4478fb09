"""Sag by a string: the sign above and below the rail, the string's own dip, and what springs back."""

from __future__ import annotations

import pytest

from tests.checks.surveys import case_of
from wizard.checks import sag
from wizard.checks.finding import Finding
from wizard.survey.record import Survey

pytestmark = pytest.mark.quick

BLOCK = {"string-set-up/block": ["50"], "string-set-up/span": ["2180"]}
ABOVE = {"string-set-up/where": "above"}
BELOW = {"string-set-up/where": "below"}
MOUNT = "sag-unloaded/engine-mount/left"


def found(
    readings: dict[str, list[str]], answers: dict[str, str] | None = None, **more: object
) -> dict[str, Finding]:
    case = case_of(BLOCK | readings, unit="mm", answers=ABOVE | (answers or {}), **more)
    return {f.id: f for f in sag.check(case)}


def dip_mm(x_from_block: float, span: float, grams: float = 0.5, newtons: float = 30.0) -> float:
    """w x (l - x) / 2T with w from the mass: written out afresh (identity)."""
    weight_per_mm = grams / 1000 / 1000 * 9.80665
    return weight_per_mm * x_from_block * (span - x_from_block) / (2 * newtons)


@pytest.mark.parametrize(("typed", "sags"), [("54", 4.0), ("46", -4.0), ("50", 0.0)])
def test_above_the_rail_a_wider_gap_is_sag_and_the_dip_hides_some(typed: str, sags: float) -> None:
    value = found({MOUNT: [typed]})["sag-unloaded/engine-mount/left"].value
    # The mount lies 640 mm behind the front points, the front block 80 mm ahead of them.
    assert value == pytest.approx(sags + dip_mm(720, 2180), abs=1e-9)


@pytest.mark.parametrize(("typed", "sags"), [("46", 4.0), ("54", -4.0), ("50", 0.0)])
def test_below_the_rail_a_narrower_gap_is_sag_and_the_dip_hides_some_too(
    typed: str, sags: float
) -> None:
    value = found({MOUNT: [typed]}, BELOW)["sag-unloaded/engine-mount/left"].value
    assert value == pytest.approx(sags + dip_mm(720, 2180), abs=1e-9)


def test_a_straight_rail_read_with_a_hanging_string_comes_out_straight_both_ways() -> None:
    hang = dip_mm(720, 2180)
    above = found({MOUNT: [f"{50 - hang:.6f}"]})["sag-unloaded/engine-mount/left"].value
    below = found({MOUNT: [f"{50 + hang:.6f}"]}, BELOW)["sag-unloaded/engine-mount/left"].value
    assert above == pytest.approx(0.0, abs=1e-5)
    assert below == pytest.approx(0.0, abs=1e-5)


def test_the_string_chosen_decides_how_far_it_dips() -> None:
    heavy = found({MOUNT: ["50"]}, tools=("ordinary-tape", "steel-ruler", "masons-line-soft"))
    assert heavy["sag-unloaded/engine-mount/left"].value == pytest.approx(
        dip_mm(720, 2180, 1.5, 20)
    )
    none = found({MOUNT: ["50"]}, tools=("ordinary-tape", "steel-ruler"))
    assert none["sag-unloaded/engine-mount/left"].value == pytest.approx(dip_mm(720, 2180))


def test_a_string_that_did_not_move_under_double_weight_hangs_half_a_millimeter_at_most() -> None:
    slack = {"tools": ("ordinary-tape", "steel-ruler", "thin-line")}
    long = {"string-set-up/span": ["6000"], "sag-unloaded/behind/left": ["50"]}
    tried = found(long, {"string-set-up/steady": "steady"}, **slack)[
        "sag-unloaded/behind/left"
    ].value
    untried = found(long, {"string-set-up/steady": "not-tried"}, **slack)[
        "sag-unloaded/behind/left"
    ].value
    assert tried == 0.5 < untried


def test_without_a_span_the_layouts_blocks_serve() -> None:
    readings = {"string-set-up/block": ["50"], MOUNT: ["50"]}
    (finding,) = sag.check(case_of(readings, unit="mm", answers=ABOVE))
    assert finding.value == pytest.approx(dip_mm(720, 2180))


def test_without_the_blocks_nothing_is_said() -> None:
    assert sag.check(case_of({MOUNT: ["50"]}, unit="mm")) == []


def test_what_comes_back_is_loaded_less_unloaded_and_blocks_and_dip_drop_out() -> None:
    result = found({"sag-loaded/engine-mount/left": ["55"], MOUNT: ["53.5"]})
    elastic = result["elastic/engine-mount/left"]
    assert elastic.value == pytest.approx(1.5)
    assert {p.name for p in elastic.number.parts} == {
        "hand:sag-loaded/engine-mount/left",
        f"hand:{MOUNT}",
    }
    down = found({"sag-loaded/engine-mount/left": ["53.5"], MOUNT: ["55"]})
    assert down["elastic/engine-mount/left"].value == pytest.approx(-1.5)


def test_each_station_is_compared_only_where_both_were_read() -> None:
    result = found({"sag-loaded/engine-mount/left": ["55"], "sag-unloaded/center/left": ["51"]})
    assert set(result) == {"sag-loaded/engine-mount/left", "sag-unloaded/center/left"}


def test_loaded_and_unloaded_have_their_own_limits() -> None:
    result = found(
        {"sag-loaded/engine-mount/right": ["55"], "sag-unloaded/engine-mount/right": ["53"]}
    )
    assert {f.quantity: f.limit for f in result.values()} == {
        "sag-loaded": "sag-loaded",
        "sag-unloaded": "sag-unloaded",
        "elastic": "",
    }


def test_a_string_row_nobody_can_read_is_taken_for_a_plain_one() -> None:
    from dataclasses import replace

    from tests.checks.surveys import library, survey_of
    from wizard.checks.case import Case

    survey: Survey = survey_of(BLOCK | {MOUNT: ["50"]}, unit="mm", answers=ABOVE)
    tool = survey.tool("string")
    assert tool is not None
    for values in ({"mass": "heavy"}, {"mass": "0 g/m", "pull": "30 N"}):
        broken = survey.with_replaced(replace(tool, extra=values))
        assert sag.check(Case(broken, library()))[0].value == pytest.approx(dip_mm(720, 2180))


def test_the_doubt_of_unlike_blocks_and_of_the_pull_stands_beside_that_of_the_readings() -> None:
    number = found({MOUNT: ["54"]})["sag-unloaded/engine-mount/left"].number
    parts = {p.name: abs(p.size) for p in number.parts}
    assert parts["blocks"] == 0.15
    assert parts["string:dip"] == pytest.approx(0.3 * dip_mm(720, 2180))
    assert number.u**2 == pytest.approx(sum(size**2 for size in parts.values()))
