"""What a set rail does to caster."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from tests.checks.surveys import case_of, library
from wizard.checks import caster, sag
from wizard.checks.case import Case
from wizard.checks.caster import falls_short
from wizard.checks.finding import Finding
from wizard.checks.notes import AT_LEAST
from wizard.library.places import SIDES
from wizard.math.caster import drop_on_engine
from wizard.model.bending import bend
from wizard.model.bent import Bent
from wizard.model.frame import Frame

SET = {"string-set-up/block": ["50"], "string-set-up/span": ["2180"]}


def drop(**gaps: str) -> dict[str, list[str]]:
    return SET | {
        f"sag-unloaded/{k.replace('_', '-').replace('--', '/')}": [v] for k, v in gaps.items()
    }


def check(
    readings: dict[str, list[str]], figures: dict[str, float] | None = None, **made: Any
) -> list[Finding]:
    """made: what else of the layout is another."""
    case = case_of(readings, unit="mm")
    if figures is not None:
        made["figures"] = figures
    if made:
        layout = replace(case.layout, **made)
        case = Case(case.survey, replace(library(), layouts={layout.id: layout}))
    return caster.check(case, sag.check(case))


def sound(**low: float) -> dict[str, list[str]]:
    """Gaps under blocks of 50 mm for rails that hang low by so much, both alike."""
    gaps = {f"{place}__{side}": f"{50 + mm}" for place, mm in low.items() for side in SIDES}
    return drop(**gaps)


def degrees(mm: float) -> float:
    return math.degrees(math.atan(mm / 900.0))


def test_a_ball_on_the_gearbox_goes_down_with_the_engine_and_not_with_the_rail_beside_it() -> None:
    (finding,) = check(sound(front_crossmember=0, engine_mount=10, center=2))
    # Supports at 0 and 640, ball at 780 and rod 900 mm: 10 * 780 / 640, whatever the rail does behind.
    assert finding.value == pytest.approx(degrees(12.1875), abs=0.01)
    assert finding.unit == "deg"
    (low_in_front,) = check(sound(front_crossmember=4, engine_mount=10, center=2))
    assert low_in_front.value == pytest.approx(degrees(4 + 6 * 780 / 640), abs=0.01)


def test_a_ball_on_the_frame_goes_down_with_the_rail() -> None:
    (finding,) = check(
        sound(front_crossmember=0, engine_mount=10, center=0), traits=("cross-springs",)
    )
    assert finding.value == pytest.approx(degrees(10 * (1000 - 780) / 360), abs=0.01)


def test_the_doubt_of_the_ball_is_larger_than_that_of_the_mount_by_the_leverage() -> None:
    """Reckoned by hand: 780 / 640 of the mount's, and what the round places add."""
    readings = sound(front_crossmember=0, engine_mount=10, center=0)
    (finding,) = check(readings)
    hand = [p.size for p in finding.number.parts if p.name.startswith("hand:sag-unloaded/engine")]
    lone = math.degrees(1 / 900.0)
    assert math.hypot(*hand) == pytest.approx(0.5 * 780 / 640 * lone / math.sqrt(2), rel=0.35)
    assert {"round:ball_x", "round:engine_mount_x", "round:rod"} <= {
        p.name for p in finding.number.parts
    }


def test_a_rail_that_stands_high_takes_caster_away() -> None:
    (finding,) = check(sound(front_crossmember=0, engine_mount=-4))
    assert finding.value < -0.2


def test_both_rails_count_half_each() -> None:
    left = {"front_crossmember__left": "50", "engine_mount__left": "60"}
    right = {"front_crossmember__right": "50", "engine_mount__right": "50"}
    (one,) = check(drop(**left))
    (two,) = check(drop(**left, **right))
    assert two.value == pytest.approx(one.value / 2, abs=0.01)


def test_the_loaded_sag_is_not_used() -> None:
    loaded = SET | {"sag-loaded/engine-mount/left": ["60"], "sag-loaded/center/left": ["60"]}
    assert check(loaded) == []


def test_supports_beyond_the_stations_read_are_not_guessed_at() -> None:
    assert check(sound(front_crossmember=0, mid_engine=0)) == []
    assert check(sound(mid_engine=4, engine_mount=9)) == []


def test_a_frame_with_no_ball_has_no_such_finding() -> None:
    readings = sound(front_crossmember=0, engine_mount=10)
    assert check(readings, {"rod": 900.0}) == []
    assert check(readings, {"ball_x": 780.0}) == []


@pytest.mark.parametrize(
    ("string", "short"),
    [((-80, 2100), True), ((-200, 2100), True), ((-80, 2600), True), ((-200, 2600), False)],
)
def test_at_least_where_the_string_ends_before_the_springs(
    string: tuple[float, float], short: bool
) -> None:
    """The axles, and their springs with them, at -120 and 2500."""
    layout = replace(library().layouts["straight-ladder"], string=string)
    assert falls_short(layout) is short
    (finding,) = check(sound(front_crossmember=0, engine_mount=10), string=string)
    assert finding.has(AT_LEAST) is short


@pytest.mark.parametrize("place", ["engine-mount", "center"])
def test_a_short_string_shows_less_than_the_rails_went_down_between_the_springs(
    place: str,
) -> None:
    """Against the model, whose rails are held at the axles (wizard/model/rail.py)."""
    layout = library().layouts["straight-ladder"]
    bent = bend(bend(Bent(), f"sag left 9 at {place}", layout), f"sag right 9 at {place}", layout)
    frame = Frame(layout, replace(bent, supports="wheels", engine="weight-off"))
    figures = layout.figures
    at = [figures["engine_front_x"], figures["engine_mount_x"]]
    by_string, by_springs = (
        drop_on_engine(*((x, low("left", x, loaded=False)) for x in at), figures["ball_x"]).value
        for low in (frame.sag, frame.drop)
    )
    assert 0 < by_string < by_springs


def test_a_fan_is_foretold_only_where_the_engine_can_go_down_in_front() -> None:
    """A front support on the front crossmember keeps the fan where it is; on the rails behind it, the
    fan goes down with it.
    """
    figures = library().layouts["straight-ladder"].figures
    readings = sound(front_crossmember=6, mid_engine=8, engine_mount=9)
    assert [f.quantity for f in check(readings)] == ["caster"]
    behind = {**figures, "engine_front_x": 330.0}
    fan = next(f for f in check(readings, behind) if f.quantity == "fan-drop")
    # A line through 8 mm at 330 and 9 mm at 640, at the front points: 8 - 330 / 310.
    assert fan.value == pytest.approx(8 - 330 / 310, abs=0.05)
    del behind["engine_front_x"]
    assert not [f for f in check(readings, behind) if f.quantity == "fan-drop"]
