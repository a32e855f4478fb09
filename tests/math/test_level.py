"""The level turned round, shims and heights; steady twist against one joint."""

import math
import random
from collections import Counter
from collections.abc import Callable

import numpy as np
import pytest
from uncertainties import umath

from wizard.math.level import (
    Twist,
    fit_twist,
    height_across,
    own_error,
    own_error_spread,
    slope,
)
from wizard.math.uncertain import Part, Uncertain


@pytest.mark.parametrize(("true", "error"), [(2.0, 0.0), (0.0, 1.5), (-1.0, 0.5)])
def test_turning_the_level_parts_the_slope_from_its_own_error(true: float, error: float) -> None:
    assert slope(true + error, true - error).value == pytest.approx(true)
    assert own_error(true + error, true - error).value == pytest.approx(error)


def test_an_error_in_both_readings_alike_stays_in_the_slope_and_leaves_the_own_error() -> None:
    first, second = (Uncertain(v, (Part("sensitivity", 0.1),)) for v in (3.0, 1.0))
    assert slope(first, second).u == pytest.approx(0.1)
    assert own_error(first, second).u == 0.0


def test_height_across_has_the_sign_of_the_change() -> None:
    assert height_across(760, 0.002).value == pytest.approx(1.52, abs=1e-4)
    assert height_across(760, -0.002).value == pytest.approx(-1.52, abs=1e-4)


def test_level_formulas_agree_with_the_uncertainties_package(agrees: Callable[..., None]) -> None:
    agrees(slope, lambda a, b: (a + b) / 2, [(3.0, 0.2), (1.0, 0.3)])
    agrees(own_error, lambda a, b: (a - b) / 2, [(3.0, 0.2), (1.0, 0.3)])
    agrees(
        lambda w, d: height_across(w, d.scaled(0.001)),
        lambda w, d: w * umath.tan(d / 1000),
        [(760, 3), (40, 0.4)],
    )


def test_tan_and_not_the_bare_angle() -> None:
    assert height_across(760, 0.1).value == pytest.approx(760 * math.tan(0.1), rel=1e-12)
    assert abs(height_across(760, 0.1).value - 76) > 0.2


U = 2e-4


def read(slopes: np.ndarray, noise: np.ndarray, shared: float = 0.0) -> list[Uncertain]:
    return [
        Uncertain(float(s + U * e), (Part(f"r{i}", U), Part("level", shared, shared=True)))
        for i, (s, e) in enumerate(zip(slopes, noise, strict=True))
    ]


def fit(slopes: list[float]) -> Twist:
    xs = [float(x) for x in np.linspace(0, 3000, len(slopes))]
    return fit_twist(xs, read(np.array(slopes), np.zeros(len(slopes))))


def kinds(form: str, n: int, frames: int = 300) -> Counter[str]:
    rng, count, x = np.random.default_rng(n), Counter[str](), np.linspace(0, 3000, n)
    for _ in range(frames):
        forms = {
            "none": 0 * x,
            "steady": 2e-3 * x / 3000,
            "one-joint": 2e-3 * (x > rng.uniform(0, 3000)),
        }
        count[fit_twist(list(x), read(0.01 + forms[form], rng.standard_normal(n))).kind] += 1
    return count


@pytest.mark.parametrize("n", [2, 3, 4, 6])
def test_a_straight_frame_not_leveled_shows_no_twist(n: int) -> None:
    assert kinds("none", n)["none"] >= 285


@pytest.mark.parametrize(("form", "least"), [("steady", 180), ("one-joint", 270)])
@pytest.mark.parametrize("n", [4, 6])
def test_the_kind_of_twist_is_told_and_hardly_ever_mistaken(form: str, least: int, n: int) -> None:
    count = kinds(form, n)
    assert count[form] >= least
    assert count["none"] == 0
    assert sum(count[other] for other in ("steady", "one-joint") if other != form) <= 6


def test_steady_twist_gives_its_rate_and_change() -> None:
    twist = fit([0.0, 0.001, 0.002, 0.003])
    assert twist.kind == "steady"
    assert twist.rate == pytest.approx(1e-6, rel=1e-6)
    assert twist.change.value == pytest.approx(0.003, rel=1e-12)
    assert height_across(760, twist.change).value == pytest.approx(2.28, abs=0.001)


def test_one_joint_gives_its_jump_and_between_which_stations() -> None:
    twist = fit([0.005, 0.005, 0.002, 0.002])
    assert twist.kind == "one-joint"
    assert twist.jump == pytest.approx(-0.003, rel=1e-6)
    assert twist.between == (1000.0, 2000.0)


def test_rear_less_front_with_stations_in_any_order() -> None:
    xs, slopes = [3000.0, 0.0, 1500.0], read(np.array([0.004, 0.0, 0.002]), np.zeros(3))
    assert fit_twist(xs, slopes).change.value == pytest.approx(0.004)
    assert fit_twist([-x for x in xs], slopes).change.value == pytest.approx(-0.004)


def test_two_stations_show_a_change_but_not_its_kind() -> None:
    assert fit([0.0, 0.003]).kind == "cannot-tell"
    assert fit([0.0, 0.0001]).kind == "none"


def test_the_levels_own_error_drops_out_of_the_change() -> None:
    alone = fit_twist([0, 1, 2], read(np.array([0, 0.001, 0.002]), np.zeros(3)))
    shared = fit_twist([0, 1, 2], read(np.array([0, 0.001, 0.002]), np.zeros(3), shared=5e-3))
    assert shared.change.u == pytest.approx(alone.change.u, rel=1e-9)
    assert shared.steady_misfit == pytest.approx(alone.steady_misfit, abs=1e-3)
    assert shared.none_misfit == pytest.approx(alone.none_misfit, rel=1e-3)


def test_change_agrees_with_the_uncertainties_package(agrees) -> None:  # type: ignore[no-untyped-def]
    inputs = [(0.001, 2e-4), (0.002, 1e-4), (0.0045, 3e-4)]
    agrees(
        lambda a, b, c: fit_twist([0, 1000, 2000], [a, b, c]).change, lambda a, b, c: c - a, inputs
    )


@pytest.mark.parametrize("xs", [[0.0], [0.0, 0.0], [0.0, 1.0, 2.0]])
def test_too_few_places_or_two_at_one_are_refused(xs: list[float]) -> None:
    slopes = read(np.array([0.0, 0.001])[: len(xs)], np.zeros(min(len(xs), 2)))
    with pytest.raises(ValueError, match="two or more slopes"):
        fit_twist(xs, slopes)


def test_a_levels_own_error_tells_how_the_hand_scatters() -> None:
    """Squares of s^2 chi-square (n - 1), as of any n readings of one thing (JCGM 100:2008 H.5.2), whatever
    the slopes are; drawn by random.gauss.
    """
    rng, s, places, times = random.Random(4), 0.14, 4, 4000
    total = 0.0
    for _ in range(times):
        slopes, own = [rng.gauss(0.0, 3.0) for _ in range(places)], rng.gauss(0.0, 1.0)
        turned = [
            ([rng.gauss(v + own, s) for _ in range(1 + n % 2)], [rng.gauss(v - own, s)])
            for n, v in enumerate(slopes)
        ]
        found = own_error_spread(turned)
        assert found.size == places
        total += found.squares
    assert total / (times * (places - 1)) == pytest.approx(s * s, rel=0.04)


def test_one_place_tells_nothing_of_the_hand_and_none_is_refused() -> None:
    assert own_error_spread([([0.3], [-0.5])]).squares == 0.0
    with pytest.raises(ValueError, match="no place"):
        own_error_spread([])
