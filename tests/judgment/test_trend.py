"""Three surveys or more: the line agrees with scipy and published values; a tape that all share
does not tilt it.
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from scipy.optimize import curve_fit

from tests.bench.frames import Bend
from tests.checks.surveys import library
from tests.judgment.pairs import AGED, again, first, only, said, stood
from wizard.judgment.series import Series, in_order, same_frame, series
from wizard.judgment.trend import Trend, slope_of
from wizard.math.uncertain import Part, Uncertain
from wizard.survey.record import Survey
from wizard.survey.rows import Trip

XS = [0.0, 182.0, 400.0, 735.0, 800.0]
YS = [3.1, 3.4, 4.0, 5.1, 4.9]
US = [0.2, 0.4, 0.3, 0.2, 0.5]
SAG = "sag-loaded/engine-mount/left"


def numbers(ys: list[float], us: list[float], *shared: Part) -> list[Uncertain]:
    """Values with a doubt each of their own, and parts that all of them have."""
    return [
        Uncertain(y, (Part(f"own:{n}", u), *shared))
        for n, (y, u) in enumerate(zip(ys, us, strict=True))
    ]


def test_the_slope_agrees_with_scipy() -> None:
    best, cov = curve_fit(
        lambda x, a, b: a + b * x, XS, YS, p0=[3, 0.002], sigma=US, absolute_sigma=True
    )
    found = slope_of(XS, numbers(YS, US))
    assert [found.line.intercept, found.number.value] == pytest.approx(list(best), rel=1e-6)
    assert found.number.u == pytest.approx(math.sqrt(cov[1, 1]), rel=1e-6)
    assert slope_of(XS, numbers(YS, [0.3] * 5)).number.value != pytest.approx(best[1], rel=1e-3)


def test_the_slope_under_shared_doubt_agrees_with_the_covariance_matrix() -> None:
    """Two tapes: the first three readings share one error, the last two another (identity: c' V c)."""
    one, two = Part("tape:1", 0.6), Part("tape:2", 0.4)
    own = enumerate(zip(YS, US, strict=True))
    ys = [Uncertain(y, (Part(f"own:{n}", u), one if n < 3 else two)) for n, (y, u) in own]
    found = slope_of(XS, ys)
    first_three, last_two = np.array([1, 1, 1, 0, 0.0]), np.array([0, 0, 0, 1, 1.0])
    tape = 0.36 * np.outer(first_three, first_three) + 0.16 * np.outer(last_two, last_two)
    full = np.diag(np.square(US)) + tape
    weights = 1 / np.diag(full)
    x = np.array(XS)
    c = weights * (x - weights @ x / weights.sum())
    c /= c @ x
    assert found.number.value == pytest.approx(float(c @ YS), rel=1e-9)
    assert found.number.u == pytest.approx(math.sqrt(float(c @ full @ c)), rel=1e-9)


def test_a_tape_that_all_share_does_not_enter_and_two_tapes_do() -> None:
    alone = slope_of(XS, numbers(YS, US)).number
    shared = slope_of(XS, numbers(YS, US, Part("tape:1", 5.0))).number
    assert (shared.value, shared.u) == pytest.approx((alone.value, alone.u), rel=1e-12)
    mixed = [
        Uncertain(n.value, (*n.parts, Part(f"tape:{k // 3}", 5.0)))
        for k, n in enumerate(numbers(YS, US))
    ]
    assert slope_of(XS, mixed).number.u > 5 * alone.u


# JCGM 100:2008 H.3, calibration of a thermometer, t0 = 20 degrees; second hand. Without a doubt of
# its own each reading
# gets the scatter about the line, 0.0035, as its u.
READ = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511]
CORRECTION = [
    -0.171,
    -0.169,
    -0.166,
    -0.159,
    -0.164,
    -0.165,
    -0.156,
    -0.157,
    -0.159,
    -0.161,
    -0.160,
]


def test_the_thermometer_line() -> None:
    scatter = slope_of([t - 20 for t in READ], numbers(CORRECTION, [1.0] * 11)).line.s
    found = slope_of([t - 20 for t in READ], numbers(CORRECTION, [scatter] * 11))
    assert found.number.value == pytest.approx(0.00218, abs=0.000005)
    assert found.number.u == pytest.approx(0.00067, abs=0.000005)
    assert found.line.intercept == pytest.approx(-0.1712, abs=0.00005)
    assert found.line.intercept_u == pytest.approx(0.0029, abs=0.00005)
    value, u = found.line.at(10)
    assert (value, u) == (pytest.approx(-0.1494, abs=0.00005), pytest.approx(0.0041, abs=0.00005))
    assert found.straight


# NIST Statistical Reference Datasets NoInt1 and NoInt2, read in a copy: x, y, certified slope, its
# u, s. A line through
# the origin is one with a first point there that is known beyond all others.
NOINT = [
    (
        [60.0 + n for n in range(11)],
        [130.0 + n for n in range(11)],
        2.07438016528926,
        0.0165289256198347,
        3.56753034006338,
    ),
    ([4.0, 5.0, 6.0], [3.0, 4.0, 4.0], 0.727272727272727, 0.0420827318078432, 0.369274472937998),
]


@pytest.mark.parametrize(("xs", "ys", "slope", "u", "s"), NOINT)
def test_a_line_from_a_known_start(
    xs: list[float], ys: list[float], slope: float, u: float, s: float
) -> None:
    found = slope_of([0.0, *xs], numbers([0.0, *ys], [1e-7 * s, *[s] * len(xs)]))
    assert found.number.value == pytest.approx(slope, rel=1e-9)
    assert found.number.u == pytest.approx(u, rel=1e-9)
    assert slope_of(xs, numbers(ys, [s] * len(xs))).number.value != pytest.approx(slope, rel=0.05)


def test_points_of_one_day_bear_no_line() -> None:
    with pytest.raises(ValueError, match="same x"):
        slope_of([1.0, 1.0, 1.0], numbers([1.0, 2.0, 3.0], [0.1] * 3))


# Whole surveys
# --------------------------------------------------------------------------------------------------


def seasons(*sags: float, km: str = "") -> list[Survey]:
    """Surveys half a year apart of a frame whose left rail has sunk by so many mm each time."""
    found: list[Survey] = []
    for n, by in enumerate(sags):
        truth = replace(AGED, left=(*AGED.left, Bend(by, 640.0, 280.0)))
        new = first(truth, seed=20 + n)
        new = again(found[-1], new) if found else new
        if km and found:
            new = new.with_row(Trip(id=f"e{n}", distance=km))
        found.append(replace(new, id=f"s{n}", follows=found[-1].id if found else ""))
    return found


def trend(found: Series, id: str = SAG) -> Trend:
    return next(t for t in found.by_days if t.findings[-1].id == id)


def test_a_rail_that_sinks_by_a_steady_rate_is_foretold_to_meet_its_limit() -> None:
    found = series(seasons(0.0, 1.5, 3.0, 4.5), library())
    sinks = trend(found)
    assert sinks.says == "moving"
    assert abs(sinks.slope.number.value * 182 - 1.5) < sinks.slope.half_width * 182
    assert sinks.meets is not None
    assert (sinks.meets.band, sinks.meets.bound) == ("watch", 8.0)
    assert sinks.xs[-1] < sinks.meets.earliest < sinks.meets.x < sinks.meets.latest
    line = sinks.slope.line
    assert line.at(sinks.meets.x)[0] == pytest.approx(sinks.meets.bound)
    rate, half, last = sinks.slope.number.value, sinks.slope.half_width, sinks.xs[-1]
    away = 8.0 - line.at(last)[0]
    assert (sinks.meets.earliest - last) * (rate + half) == pytest.approx(away)
    assert (sinks.meets.latest - last) * (rate - half) == pytest.approx(away)


def test_a_frame_that_stands_still_has_no_slope_and_meets_nothing() -> None:
    found = series(seasons(0.0, 0.0, 0.0, 0.0), library())
    assert len(found.by_days) > 40
    assert {t.says for t in found.by_days} == {"not moving"}
    assert {t.meets for t in found.by_days} == {None}


def test_one_jump_is_no_rate_and_is_not_foretold() -> None:
    sinks = trend(series(seasons(0.0, 0.0, 0.0, 8.0, 8.0), library()))
    assert sinks.says == "jumped"
    assert sinks.slope.jump == 2
    assert sinks.meets is None
    (x0, before), (x1, up), (x2, after), (x3, level) = sinks.step
    assert (x0, x1, x2, x3) == (sinks.xs[0], (sinks.xs[2] + sinks.xs[3]) / 2, x1, sinks.xs[-1])
    assert (up, level) == (before, after)
    assert after - before == pytest.approx(8.0, abs=0.6)
    steady = trend(series(seasons(0.0, 1.5, 3.0, 4.5), library()))
    assert steady.step == (), "where a line fits there is not a page"


def test_distance_driven_is_used_where_every_survey_says_it() -> None:
    surveys = seasons(0.0, 1.5, 3.0, km="500 miles")
    found = series(surveys, library())
    assert found.by_km[0].xs == pytest.approx((0.0, 804.672, 1609.344))
    silent = [
        *surveys[:2],
        replace(surveys[2], rows={k: v for k, v in surveys[2].rows.items() if k != "trip"}),
    ]
    assert series(silent, library()).by_km == ()


def test_a_survey_in_another_state_is_left_out_of_the_line() -> None:
    surveys = seasons(0.0, 0.0, 0.0, 0.0)
    surveys[1] = stood(surveys[1], supports="three-points")
    found = series(surveys, library())
    assert trend(found).at == (0, 2, 3)
    assert trend(found, "rail-shift/whole").at == (0, 1, 2, 3)


def test_two_readings_of_a_quantity_are_no_trend() -> None:
    surveys = seasons(0.0, 0.0, 0.0)
    surveys[0] = only(surveys[0], "level")
    found = {t.findings[-1].quantity for t in series(surveys, library()).by_days}
    assert found == {"twist", "horn-height"}


def test_a_trend_counts_from_the_last_correction() -> None:
    surveys = seasons(6.0, 0.0, 0.0, 0.0)
    surveys[1] = said(surveys[1], "since-last-time/corrected", "straightened")
    found = series(surveys, library())
    assert found.start == 1
    assert trend(found).says == "not moving"
    assert trend(series(seasons(6.0, 0.0, 0.0, 0.0), library())).says != "not moving"


def test_what_was_pulled_and_went_back_is_spring_back() -> None:
    surveys = seasons(8.0, 0.0, 5.0)
    surveys[1] = said(surveys[1], "since-last-time/corrected", "straightened")
    sprung = {
        then.new.id: (then.number.value, back.number.value)
        for then, back in series(surveys, library()).sprung
    }
    moved, back = sprung[SAG]
    assert moved < -5 < 3 < back
    kept = seasons(8.0, 0.0, 0.0)
    kept[1] = said(kept[1], "since-last-time/corrected", "straightened")
    assert series(kept, library()).sprung == ()


def test_surveys_are_put_in_order_and_belong_together() -> None:
    a, b, c = seasons(0.0, 0.0, 0.0)
    assert in_order([c, a, b]) == (a, b, c)
    assert same_frame(a, replace(b, car="another name"))
    assert same_frame(replace(a, id=""), replace(c, follows="", car="BRAMBLE, the green one"))
    assert not same_frame(a, replace(c, follows="", car="Marigold"))
    assert same_frame(replace(a, car=""), replace(c, follows=""))
    late = replace(a, started=a.started + timedelta(days=4000))
    assert in_order([late, b, c]) == (b, c, late)
    # Two of one day: the one that the other follows is the older, however they were named.
    again = replace(b, started=a.started, follows=a.id)
    assert in_order([again, a]) == (a, again) == in_order([a, again])
    third = replace(c, started=a.started, follows=again.id)
    for given in ([third, again, a], [third, a, again], [again, third, a]):
        assert in_order(given) == (a, again, third)
    assert (
        len(in_order([replace(a, follows=again.id), again])) == 2
    )  # a ring in two files ends all the same


def test_one_survey_is_not_compared() -> None:
    with pytest.raises(ValueError, match="two surveys"):
        series(seasons(0.0), library())
