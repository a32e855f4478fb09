"""What a set rail does to caster."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from tests.checks.surveys import case_of, library
from wizard.checks import caster, sag
from wizard.checks.case import Case

SET = {"string-set-up/block": ["50"], "string-set-up/span": ["2180"]}


def drop(**gaps: str) -> dict[str, list[str]]:
    return SET | {
        f"sag-unloaded/{k.replace('_', '-').replace('--', '/')}": [v] for k, v in gaps.items()
    }


def check(readings: dict[str, list[str]], figures: dict[str, float] | None = None):  # type: ignore[no-untyped-def]
    case = case_of(readings, unit="mm")
    if figures is not None:
        layout = replace(case.layout, figures=figures)
        case = Case(case.survey, replace(library(), layouts={layout.id: layout}))
    return caster.check(case, sag.check(case))


def test_the_set_at_the_ball_is_read_between_its_two_stations() -> None:
    (finding,) = check(
        drop(
            engine_mount__left="60", center__left="50", engine_mount__right="60", center__right="50"
        )
    )
    # Ball at 780, stations at 640 and 1000; rod 900 mm. Dip of the string is 0.09 mm there.
    at_ball = 10 * (1000 - 780) / 360
    assert finding.value == pytest.approx(math.degrees(math.atan(at_ball / 900)), abs=0.01)
    assert finding.unit == "deg"


def test_a_rail_that_stands_high_takes_caster_away() -> None:
    (finding,) = check(drop(engine_mount__left="46", center__left="46"))
    assert finding.value < -0.2


def test_both_rails_count_half_each() -> None:
    (one,) = check(drop(engine_mount__left="60", center__left="60"))
    both = drop(
        engine_mount__left="60", center__left="60", engine_mount__right="50", center__right="50"
    )
    (two,) = check(both)
    assert two.value == pytest.approx(one.value / 2, abs=0.01)


def test_the_loaded_sag_is_not_used() -> None:
    loaded = SET | {"sag-loaded/engine-mount/left": ["60"], "sag-loaded/center/left": ["60"]}
    assert check(loaded) == []


def test_a_ball_beyond_the_stations_read_is_not_guessed_at() -> None:
    assert check(drop(front_crossmember__left="50", mid_engine__left="50")) == []


def test_a_frame_with_no_ball_has_no_such_finding() -> None:
    readings = drop(engine_mount__left="60", center__left="50")
    assert check(readings, {"rod": 900.0}) == []
    assert check(readings, {"ball_x": 780.0}) == []
