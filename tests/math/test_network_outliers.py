"""A slip in the tape is named where it can be, and owned up to as a set where it cannot; the test of
the variance factor, against scipy's F and chi square.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from tests.math.network_frames import (
    BRACED,
    CLOSED,
    CORNERS,
    HORNS,
    LAYOUT,
    OPEN,
    diagonals,
    starts,
    taped,
)
from wizard.math.network import adjust
from wizard.math.network_outliers import fit, smallest_seen, suspect, threshold
from wizard.math.student import f_tail


def survey(pairs, slips=None, seed=1):
    return adjust(starts(pairs), taped(LAYOUT, pairs, rng=np.random.default_rng(seed), slips=slips))


def test_a_sound_survey_is_not_doubted():
    assert suspect(survey(CLOSED)) is None


def test_false_alarms_stay_near_one_in_a_hundred():
    alarms = sum(suspect(survey(CLOSED, seed=k)) is not None for k in range(600))
    assert alarms <= 14
    eager = sum(suspect(survey(CLOSED, seed=k), alpha_total=0.5) is not None for k in range(100))
    assert eager > 15


@pytest.mark.parametrize("slip", [25.4, -25.4, 10.0, -304.8])
@pytest.mark.parametrize(
    "reading", ["front-left--center-right", "rear-left--rear-right", "center-right--rear-right"]
)
def test_a_slip_in_a_braced_frame_is_named_with_its_size(reading, slip):
    found = suspect(survey(CLOSED, {reading: slip}))
    assert found is not None
    assert found.named is not None
    assert found.named.id == reading
    # The plan is not linear: a foot too short bends it enough to show 3 mm in the estimate.
    assert found.named.error_mm == pytest.approx(
        slip, abs=3.5 * found.named.u_mm + 0.02 * abs(slip)
    )
    assert math.copysign(1, found.named.w) == math.copysign(1, slip)


def test_four_corners_name_all_six_and_no_one():
    found = suspect(survey(CORNERS, {"front-left--rear-right": 25.4}))
    assert found is not None
    assert found.named is None
    assert len(found.readings) == 6
    assert found.disagree_mm == pytest.approx(25.4, abs=3.0)


def test_without_the_rear_diagonals_a_whole_diagonal_is_not_separable():
    found = suspect(survey(OPEN, {"front-left--rear-right": 25.4}))
    assert found is not None
    assert "front-left--rear-right" in {s.id for s in found.readings}
    assert found.named is None


def test_horns_need_their_distances_to_the_second_station():
    short, slip = CLOSED + HORNS, {"tip-left--front-right": 25.4}
    unsure, sure = suspect(survey(short, slip)), suspect(survey(BRACED, slip))
    assert unsure is not None
    assert {s.id for s in unsure.readings} == {f"{a}--{b}" for a, b in HORNS}
    assert sure is not None
    assert sure.named is not None
    assert sure.named.id == "tip-left--front-right"


def test_both_diagonals_the_wrong_way_round_cannot_be_found_in_four_corners():
    """They close as well as the right way round: only another station tells."""
    bent = {**starts(CORNERS), "front-right": (6.0, 340.0), "rear-right": (2506.0, 400.0)}
    first, second = (f"{a}--{b}" for a, b in diagonals("front", "rear"))
    distances = {d.id: d for d in taped(bent, CORNERS)}
    gap = distances[first].value_mm - distances[second].value_mm
    assert abs(gap) > 10
    swapped = taped(bent, CORNERS, slips={first: -gap, second: gap})
    assert suspect(adjust(starts(CORNERS), swapped)) is None
    assert suspect(adjust(starts(CORNERS), taped(bent, CORNERS, slips={first: -gap}))) is not None


def test_one_at_a_time_finds_two_slips():
    slips = {"front-left--center-left": 25.4, "center-left--rear-right": -12.7}
    distances = taped(LAYOUT, CLOSED, rng=np.random.default_rng(7), slips=slips)
    found = []
    while (seen := suspect(adjust(starts(CLOSED), distances))) and seen.named:
        found.append(seen.named.id)
        distances = [d for d in distances if d.id != seen.named.id]
    assert found == list(slips)


def test_a_survey_with_no_check_at_all_doubts_nothing():
    assert suspect(survey(CORNERS[:-1], {"front-left--rear-right": 254.0})) is None


def test_few_degrees_of_freedom_make_it_slower_to_doubt():
    plan = survey(CLOSED, {"front-left--rear-left": 6.0})
    assert suspect(plan) is not None
    assert suspect(plan, dof=3.0) is None
    assert threshold(15, 8.0) > threshold(15, 50.0) > threshold(15, math.inf)


def test_the_smallest_error_seen_grows_without_bound_as_checks_vanish():
    checked, unchecked = survey(CLOSED), survey(CORNERS[:-1])
    assert 0.7 * 4.13 < smallest_seen(checked, 0) < 15
    assert smallest_seen(unchecked, 0) == math.inf


@pytest.mark.parametrize("count", [1, 2, 3, 4, 7, 10, 25, 60])
@pytest.mark.parametrize("dof", [1, 2.5, 8, 30, 1000, 1e6])
def test_the_tail_of_f(count, dof):
    for ratio in (0.1, 0.9, 1.0, 2.0, 5.0, 40.0):
        assert f_tail(ratio, count, dof) == pytest.approx(stats.f.sf(ratio, count, dof), abs=1e-6)


@pytest.mark.parametrize("count", [1, 2, 3, 8, 31])
def test_the_tail_of_chi_square(count):
    for ratio in (0.2, 1.0, 2.0, 6.0):
        assert f_tail(ratio, count, math.inf) == pytest.approx(
            stats.chi2.sf(ratio * count, count), abs=1e-10
        )
        assert f_tail(ratio, count, 1e9) == pytest.approx(
            stats.chi2.sf(ratio * count, count), abs=1e-6
        )


def test_nothing_is_more_likely_than_not_less_than_nothing():
    assert f_tail(0.0, 3, 8) == 1.0
    assert f_tail(1.0, 3, 8) < 1.0


def test_sound_surveys_spread_evenly_over_the_chances():
    rng = np.random.default_rng(12)
    chances = [fit(adjust(LAYOUT, taped(LAYOUT, BRACED, rng=rng))).chance for _ in range(200)]
    assert stats.kstest(chances, "uniform").pvalue > 0.01


def test_a_slip_shows_and_finite_degrees_of_freedom_soften_it():
    plan = adjust(starts(CLOSED), taped(LAYOUT, CLOSED, slips={"front-left--rear-left": 10.0}))
    sharp, soft = fit(plan), fit(plan, dof=4.0)
    assert sharp.chance < 0.001 < soft.chance
    assert (sharp.redundancy, sharp.dof) == (6, math.inf)


def test_without_redundancy_there_is_nothing_to_test():
    nothing = fit(adjust(starts(CORNERS), taped(LAYOUT, CORNERS[:-1])))
    assert (nothing.redundancy, nothing.chance) == (0, 1.0)
    assert math.isnan(nothing.factor)
