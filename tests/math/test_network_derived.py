"""What is read off the plan: signs, identities, mirror and scale; and the plan against its mirror
image.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.math.network_frames import (
    BRACED,
    CORNERS,
    LAYOUT,
    box,
    moved,
    pair,
    shaken,
    starts,
    taped,
    widths,
)
from wizard.math.network import adjust
from wizard.math.network_derived import (
    center_line,
    diamond,
    fore_and_aft,
    half_width,
    horn_sideways,
    mash,
    mirrored,
    off_line,
    off_rail,
    sway,
)
from wizard.math.network_doubt import Derived, distance_between

FRONT, CENTER, REAR, TIP = pair("front"), pair("center"), pair("rear"), pair("tip")
MAIN = [FRONT, CENTER, REAR]


def plan_of(places, pairs=BRACED):
    return adjust(starts(pairs), taped(places, pairs))


def everything(plan) -> dict[str, Derived]:
    """Each quantity by name; those that must change sign in a mirror end in "±"."""
    line = center_line(plan, MAIN)
    return {
        "fore and aft ±": fore_and_aft(plan, line, TIP),
        "off line ±": off_line(plan, line, TIP),
        "half width": half_width(plan, line, CENTER),
        "diamond ±": diamond(plan, FRONT, REAR),
        "mash ±": mash(plan, CENTER, REAR),
        "sway ±": sway(plan, (FRONT, CENTER), REAR),
        "distance across": distance_between(plan, *REAR),
    }


def test_a_right_rail_moved_back_is_a_positive_diamond_in_every_box():
    back = moved(**{f"{s}_right": (6.0, 0.0) for s in ("tip", "front", "center", "rear")})
    plan = plan_of(back)
    for corners in ((FRONT, REAR), (FRONT, CENTER), (CENTER, REAR)):
        assert diamond(plan, *corners).value == pytest.approx(6.0, abs=1e-6)
        assert mash(plan, *corners).value == pytest.approx(0.0, abs=1e-6)
    assert diamond(plan_of(LAYOUT), FRONT, REAR).value == pytest.approx(0.0, abs=1e-6)


def test_a_right_rail_shortened_behind_the_center_is_mash_of_the_rear_box_only():
    plan = plan_of(moved(rear_right=(-8.0, 0.0)))
    assert mash(plan, CENTER, REAR).value == pytest.approx(-8.0, abs=0.01)
    assert mash(plan, FRONT, CENTER).value == pytest.approx(0.0, abs=1e-6)
    assert diamond(plan, CENTER, REAR).value == pytest.approx(-4.0, abs=0.01)


def test_a_rear_pushed_to_the_right_is_positive_sway_and_leaves_the_front_box_alone():
    plan = plan_of(moved(rear_left=(0.0, 7.0), rear_right=(0.0, 7.0)))
    assert sway(plan, (FRONT, CENTER), REAR).value == pytest.approx(7.0, abs=1e-6)
    assert diamond(plan, FRONT, CENTER).value == pytest.approx(0.0, abs=1e-6)
    bowed = off_line(plan, center_line(plan, [FRONT, REAR]), CENTER)
    assert bowed.value == pytest.approx(-3.5, abs=0.01)


def test_horns_pushed_to_the_left_are_a_rear_to_the_right():
    plan = plan_of(moved(tip_left=(0.0, -5.0), tip_right=(0.0, -5.0)))
    assert sway(plan, (FRONT, REAR), TIP).value == pytest.approx(5.0, abs=1e-6)
    assert off_line(plan, center_line(plan, MAIN), TIP).value == pytest.approx(-5.0, abs=1e-6)


def test_two_pairs_cannot_tell_sway_from_diamond():
    plan = plan_of(LAYOUT)
    with pytest.raises(ValueError, match="three pairs"):
        sway(plan, (FRONT, REAR), REAR)
    with pytest.raises(ValueError, match="two pairs"):
        center_line(plan, [FRONT])


def test_four_corners_show_a_sway_t_as_a_diamond_t_w_over_l():
    """One parallelogram, turned: s/W = t/L. Identity."""
    places = {
        "a-left": (0, -380),
        "a-right": (0, 380),
        "b-left": (2500, -374),
        "b-right": (2500, 386),
    }
    plan = adjust(places, taped(places, widths("a", "b") + box("a", "b")))
    first, second = math.dist((0, -380), (2500, 386)), math.dist((0, 380), (2500, -374))
    found = diamond(plan, ("a-left", "a-right"), ("b-left", "b-right"))
    length = math.hypot(2500, 6)
    assert found.value == pytest.approx((first**2 - second**2) / (4 * length), abs=1e-6)
    assert found.value == pytest.approx(6 * 760 / 2500, rel=1e-4)


@pytest.mark.parametrize("seed", range(20))
def test_the_shift_agrees_with_the_diagonals_for_any_four_corners(seed):
    """d1² - d2² = 4·L·s, L between the mid-points: identity, to 1e-6 mm whatever the shape."""
    true = shaken(np.random.default_rng(seed), 40.0, starts(CORNERS))
    plan = adjust(starts(CORNERS), taped(true, CORNERS))
    fl, fr, rl, rr = (
        np.array(true[p]) for p in ("front-left", "front-right", "rear-left", "rear-right")
    )
    length = np.linalg.norm(rl + rr - fl - fr) / 2
    shift = ((rr - fl) @ (rr - fl) - (rl - fr) @ (rl - fr)) / (4 * length)
    assert diamond(plan, FRONT, REAR).value == pytest.approx(shift, abs=1e-6)
    assert diamond(plan, FRONT, REAR).value != pytest.approx(shift + 1e-4, abs=1e-6)


def test_a_horn_bent_outwards_deviates_from_its_own_rail_only():
    """The front rails splay by 40 mm in 1250: a straight continuation puts a sound tip 16 mm
    further in.
    """
    places = moved()
    for side, sign in (("left", -1.0), ("right", 1.0)):
        places[f"tip-{side}"] = (-500.0, sign * 324.0)
    places["tip-right"] = (-500.0, 330.0)
    plan = plan_of(places)
    across = math.hypot(1250.0, 40.0) / 1250.0
    assert horn_sideways(plan, "tip-left", "front-left", "center-left").value == pytest.approx(
        0.0, abs=1e-6
    )
    assert horn_sideways(plan, "tip-right", "front-right", "center-right").value == pytest.approx(
        6 / across, abs=1e-6
    )


def test_a_tip_pushed_back_shows_as_fore_and_aft():
    plan = plan_of(moved(tip_right=(9.0, 0.0)))
    line = center_line(plan, MAIN)
    assert fore_and_aft(plan, line, TIP).value == pytest.approx(9.0, abs=1e-6)
    assert fore_and_aft(plan, line, FRONT).value == pytest.approx(0.0, abs=1e-6)


def test_a_rail_bowed_outward_on_the_right_is_positive():
    plan = plan_of(moved(center_right=(0.0, 5.0)))
    straight = plan_of(LAYOUT)
    gone = off_rail(plan, "center-right", "front-right", "rear-right").value
    assert gone - off_rail(
        straight, "center-right", "front-right", "rear-right"
    ).value == pytest.approx(5.0, abs=0.01)


def test_the_line_minds_a_well_known_mid_point_more():
    """Five times the doubt on the center station's distances: the line then all but ignores it."""
    bent = moved(center_left=(0.0, 10.0), center_right=(0.0, 10.0))
    fine = taped(bent, BRACED)
    coarse = [type(d)(d.id, d.a, d.b, d.value_mm, 5.0 if "center" in d.id else 0.5) for d in fine]
    even, uneven = (adjust(LAYOUT, ds) for ds in (fine, coarse))
    left = [off_line(p, center_line(p, MAIN), CENTER).value for p in (even, uneven)]
    assert left[0] < left[1] <= 10.0
    assert left[1] > 9.0


def test_a_line_through_held_points_weighs_them_alike():
    plan = adjust(LAYOUT, taped(LAYOUT, BRACED), [*FRONT, *REAR])
    assert center_line(plan, [FRONT, REAR]).weights == (1.0, 1.0)


bends = st.lists(st.floats(-30, 30, allow_nan=False), min_size=16, max_size=16)


@settings(max_examples=25, deadline=None)
@given(bends)
def test_left_for_right_turns_exactly_the_signed_quantities(offsets):
    true = {
        p: (x + offsets[2 * k], y + offsets[2 * k + 1])
        for k, (p, (x, y)) in enumerate(LAYOUT.items())
    }
    twin = {"left": "right", "right": "left"}
    other = {p: "-".join((p.split("-")[0], twin[p.split("-")[1]])) for p in LAYOUT}
    mirrored = {other[p]: (x, -y) for p, (x, y) in true.items()}
    here, there = plan_of(true), plan_of(mirrored)
    for name, quantity in everything(here).items():
        sign = -1.0 if name.endswith("±") else 1.0
        assert everything(there)[name].value == pytest.approx(sign * quantity.value, abs=1e-5)
    left = horn_sideways(here, "tip-left", "front-left", "center-left").value
    assert horn_sideways(there, "tip-right", "front-right", "center-right").value == pytest.approx(
        -left, abs=1e-5
    )


@settings(max_examples=25, deadline=None)
@given(bends, st.floats(0.2, 5.0))
def test_a_frame_twice_the_size_has_differences_twice_the_size(offsets, factor):
    true = {
        p: (x + offsets[2 * k], y + offsets[2 * k + 1])
        for k, (p, (x, y)) in enumerate(LAYOUT.items())
    }
    grown = {p: (x * factor, y * factor) for p, (x, y) in true.items()}
    here = plan_of(true)
    there = adjust(
        {p: (x * factor, y * factor) for p, (x, y) in LAYOUT.items()},
        taped(grown, BRACED, 0.7 * factor),
    )
    for name, quantity in everything(here).items():
        grown_quantity = everything(there)[name]
        assert grown_quantity.value == pytest.approx(factor * quantity.value, abs=1e-5)
        assert grown_quantity.gradient == pytest.approx(quantity.gradient, abs=1e-7)


TWINS = [1, 0, 3, 2]
FRAME = np.array([[0.0, -300.0], [0.0, 300.0], [2000.0, -400.0], [2000.0, 400.0]])


def turned(at: np.ndarray, degrees: float) -> np.ndarray:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return at @ np.array([[c, s], [-s, c]]) + np.array([123.0, -45.0])


@pytest.mark.parametrize("degrees", [0.0, 3.0, -20.0])
def test_a_frame_alike_on_both_sides_is_off_nowhere_however_it_lies(degrees: float) -> None:
    shape = mirrored(turned(FRAME, degrees), TWINS)
    assert np.abs(shape.off).max() < 1e-9
    assert shape.at[0, 1] == pytest.approx(-shape.at[1, 1], abs=1e-9)
    assert shape.at[2, 0] - shape.at[0, 0] == pytest.approx(2000.0)


def test_a_diamond_is_shared_by_both_rails() -> None:
    """Right rail 6 mm back: each rail is 3 mm off, but for the turn that the fit takes out of the
    pairs' lean.
    """
    bent = FRAME + np.array([[0, 0], [6, 0], [0, 0], [6, 0]])
    off = mirrored(bent, TWINS).off
    assert off[1, 0] == pytest.approx(3.0, abs=0.7)
    assert off[0] == pytest.approx(off[1] * [-1, 1])
    assert off[2] == pytest.approx(off[3] * [-1, 1])


def test_symmetric_changes_are_not_seen() -> None:
    """The twin that must fail to show: wider in front on both sides alike is no deviation."""
    wider = FRAME + np.array([[0, -9], [0, 9], [0, 0], [0, 0]])
    assert np.abs(mirrored(wider, TWINS).off).max() < 1e-9


def test_a_bow_goes_one_way_in_the_middle_and_the_other_at_the_ends() -> None:
    frame = np.array(
        [
            [0.0, -300.0],
            [0.0, 300.0],
            [1000.0, -350.0],
            [1000.0, 350.0],
            [2000.0, -400.0],
            [2000.0, 400.0],
        ]
    )
    bent = frame + np.array([[0, 0], [0, 0], [0, 9], [0, 9], [0, 0], [0, 0]])
    off = mirrored(bent, [1, 0, 3, 2, 5, 4]).off
    assert off[:, 1] == pytest.approx([-3, -3, 6, 6, -3, -3], abs=0.05)


def test_slopes_by_complex_steps_agree_with_differences() -> None:
    step = np.zeros(FRAME.shape, dtype=complex)
    step[1, 0] = 1e-30j
    slope = mirrored(FRAME + step, TWINS).off.imag / 1e-30
    near = np.zeros(FRAME.shape)
    near[1, 0] = 1e-4
    plain = (mirrored(FRAME + near, TWINS).off - mirrored(FRAME - near, TWINS).off) / 2e-4
    assert slope == pytest.approx(plain, abs=1e-6)
