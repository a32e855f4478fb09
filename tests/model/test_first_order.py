"""Formulas that the checks and the pages lean on, against the model's exact geometry, with their
stated error.

Every formula here is an identity of plane geometry or its first-order part; the model works in
points and distances and knows none of them.
"""

from __future__ import annotations

import math

import pytest

from wizard.judgment.blind import Bench
from wizard.model.bent import Bent, Horn, Sag
from wizard.model.readings import readings

WHOLE = "long-diagonals/whole/front-{}--rear-{}"
FRONT = "box-diagonals/front-box/front-{}--center-{}"


def _read(bench: Bench, bent: Bent) -> dict[str, float]:
    return readings(bench.frame(bent), bench.prompts.values())


def _squares(found: dict[str, float], box: str) -> float:
    return found[box.format("left", "right")] ** 2 - found[box.format("right", "left")] ** 2


@pytest.mark.parametrize("s", [-12.0, -3.0, 6.0])
def test_one_rail_along_its_twin_is_exact_on_a_taper(bench: Bench, s: float) -> None:
    """d1² - d2² = 4 L s, no error: 1e-9 mm is the computer's."""
    found = _read(bench, Bent(diamond=s))
    assert _squares(found, WHOLE) / (4 * 2200.0) == pytest.approx(s, abs=1e-9)
    assert _squares(found, FRONT) / (4 * 1000.0) == pytest.approx(s, abs=1e-9)


@pytest.mark.parametrize("t", [-8.0, 5.0])
def test_one_end_aside_is_exact_by_the_mean_width(bench: Bench, t: float) -> None:
    """d1² - d2² = 4 W t, t positive when the rear sits to the right of the front."""
    found = _read(bench, Bent(sway_front=-t))
    assert _squares(found, WHOLE) / (4 * 740.0) == pytest.approx(t, abs=1e-9)


def test_four_corners_cannot_tell_the_two_apart(bench: Bench) -> None:
    """s/W = t/L gives one difference of squares."""
    s = 6.0
    slipped, swayed = (
        _read(bench, Bent(diamond=s)),
        _read(bench, Bent(sway_front=-s * 2200.0 / 740.0)),
    )
    assert _squares(slipped, WHOLE) == pytest.approx(_squares(swayed, WHOLE), abs=1e-6)


def test_a_long_box_shows_about_1_9_s_and_a_short_one_about_1_7(bench: Bench) -> None:
    """d1 - d2 = 2 s L/d to first order: 1.90 for 2200 by 740, 1.66 for 1000 by 675; under 0.01 mm
    off at 6 mm.
    """
    found = _read(bench, Bent(diamond=6.0))
    for box, length, width in ((WHOLE, 2200.0, 740.0), (FRONT, 1000.0, 675.0)):
        shown = found[box.format("left", "right")] - found[box.format("right", "left")]
        assert shown == pytest.approx(2 * 6.0 * length / math.hypot(length, width), abs=0.01)
    assert 2 * 2200.0 / math.hypot(2200.0, 740.0) == pytest.approx(1.9, abs=0.01)


@pytest.mark.parametrize("m", [3.0, 8.0])
def test_a_short_rail_shows_as_half_of_it(bench: Bench, m: float) -> None:
    """|s| = m/2 to first order, the right rail then further back by -m/2: under 0.1 mm off at 8 mm."""
    found = _read(bench, Bent(mash_left=m))
    assert _squares(found, WHOLE) / (4 * 2200.0) == pytest.approx(-m / 2, abs=0.1)


@pytest.mark.parametrize("t", [6.0, -15.0])
def test_a_pure_twist_leaves_both_diagonals_equal(bench: Bench, t: float) -> None:
    """With the weight off: under it the rails spring, and the tapes differ by under 0.001 mm."""
    found = _read(bench, Bent(twist=t, engine="weight-off"))
    for box in (WHOLE, FRONT):
        assert found[box.format("left", "right")] == pytest.approx(
            found[box.format("right", "left")], abs=1e-9
        )


@pytest.mark.parametrize("bent", [Bent(), Bent(diamond=8.0), Bent(sway_rear=8.0)])
def test_six_tapes_of_a_box_close(bench: Bench, bent: Bent) -> None:
    """d1² + d2² = left² + right² + 2 × front × rear, as taped: under 0.002 mm off with taper,
    diamond and sway.
    """
    found = _read(bench, bent)
    d = [found[FRONT.format(a, b)] for a, b in (("left", "right"), ("right", "left"))]
    sides = [found[f"own-sides/front-box/front-{s}--center-{s}"] for s in ("left", "right")]
    widths = [found[f"widths/{p}/{p}-left--{p}-right"] for p in ("front", "center")]
    lack = d[0] ** 2 + d[1] ** 2 - sides[0] ** 2 - sides[1] ** 2 - 2 * widths[0] * widths[1]
    assert lack / sum(d) == pytest.approx(0.0, abs=0.002)


def test_a_bent_box_that_is_not_parallel_does_not_close_as_well(bench: Bench) -> None:
    """The twin that must fail: a rail short by 30 mm turns the front crossmember."""
    found = _read(bench, Bent(mash_left=30.0))
    d = [found[FRONT.format(a, b)] for a, b in (("left", "right"), ("right", "left"))]
    sides = [found[f"own-sides/front-box/front-{s}--center-{s}"] for s in ("left", "right")]
    widths = [found[f"widths/{p}/{p}-left--{p}-right"] for p in ("front", "center")]
    lack = d[0] ** 2 + d[1] ** 2 - sides[0] ** 2 - sides[1] ** 2 - 2 * widths[0] * widths[1]
    assert abs(lack / sum(d)) > 0.1


@pytest.mark.parametrize("e", [3.0, 10.0])
def test_a_tip_moved_inward_changes_its_cross_by_e_w_over_d(bench: Bench, e: float) -> None:
    """To first order -e W/d; the second-order part is e²(1 - W²/d²)/2d, 0.03 mm at 10 mm."""
    cross = "horns/horns/tip-left--front-right"
    straight, bent = _read(bench, Bent()), _read(bench, Bent(horn_left=Horn(inward=e)))
    d, w = straight[cross], 295.0 + 310.0
    assert bent[cross] - straight[cross] == pytest.approx(-e * w / d, abs=0.03)
    off = bent[cross] - straight[cross] + e * w / d
    assert off == pytest.approx(e * e * (1 - w * w / d / d) / (2 * d), abs=0.001)


@pytest.mark.parametrize("t", [2.0, 8.0])
def test_height_across_is_the_width_times_the_tangent_of_the_change(bench: Bench, t: float) -> None:
    """Width as it lies flat: W tan(Δθ), under 1e-9 mm off where the front is level."""
    found = _read(bench, Bent(twist=t))
    change = math.atan(found["level/rear/as-set"]) - math.atan(
        found["level/front-crossmember/as-set"]
    )
    assert 860.0 * math.tan(change) == pytest.approx(t, abs=1e-9)


def test_left_against_right_by_string_and_by_level(bench: Bench) -> None:
    """sag right - sag left = W (slope - the line in slope between the string's ends): exact for one
    width, and off by 3 % of the sag at most on this taper.
    """
    frame = bench.frame(Bent(left=(Sag(8.0, 640.0),), engine="weight-off"))

    def slope(x: float) -> float:
        low, high = frame.height("right", x), frame.height("left", x)
        return (high - low) / (2 * frame.half_width(x))

    x, (start, end) = 1000.0, bench.layout.string
    share = (x - start) / (end - start)
    by_level = 730.0 * (slope(x) - slope(start) * (1 - share) - slope(end) * share)
    by_string = frame.sag("right", x, loaded=False) - frame.sag("left", x, loaded=False)
    assert by_level == pytest.approx(by_string, abs=0.03 * 8.0)


def test_two_axles_askew_alike_leave_the_wheelbases_equal(bench: Bench) -> None:
    found = _read(bench, Bent(axle_front=9.0, axle_rear=9.0))
    assert found["wheelbase/left"] == pytest.approx(found["wheelbase/right"], abs=1e-9)
    found = _read(bench, Bent(axle_front=9.0))
    assert found["wheelbase/left"] - found["wheelbase/right"] == pytest.approx(-9.0, abs=0.001)
