"""The gaps under the string: what the hand is worth, and which of them is a slip."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
import pytest

from tests.bench.string_alone import LINES, RULES, surveys
from tests.checks.surveys import DAY, case_of, findings, library, survey_of
from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.gaps import Gap, Line, hand_of, slips_in
from wizard.checks.notes import OneOf, Slip
from wizard.judgment.bands import judge
from wizard.judgment.sight import verdict_of
from wizard.survey.record import Survey
from wizard.telling.tell import verdict_page

STATIONS = ("front-crossmember", "mid-engine", "engine-mount", "center", "behind")
BLOCK = {"string-set-up/block": ["2"]}
ABOVE = {"string-set-up/where": "above"}
BELOW = {"string-set-up/where": "below"}
PRIOR = math.hypot(0.5, 25.4 / 32 / math.sqrt(12))
"""The hand before it has read anything, by a rule in thirty-seconds, mm."""


def strung(
    steps: tuple[str, ...] = ("sag-loaded", "sag-unloaded"), **other: list[str]
) -> dict[str, list[str]]:
    """Straight rails, every station read once in each state; other: station__side or
    step__station__side, read otherwise.
    """
    made = {
        f"{step}/{station}/{side}": ["2"]
        for step in steps
        for side in ("left", "right")
        for station in STATIONS
    }
    return BLOCK | made | {k.replace("__", "/").replace("_", "-"): v for k, v in other.items()}


def case(readings: Mapping[str, list[str]], answers: dict[str, str] = ABOVE) -> Case:
    return case_of(readings, answers=answers)


def hand(readings: Mapping[str, list[str]]) -> tuple[float, float]:
    pooled = case(readings).pooled[("ruler", "string")]
    return pooled.s, pooled.dof


def slip(readings: Mapping[str, list[str]], answers: dict[str, str] = ABOVE) -> Finding | None:
    found = findings(survey_of(readings, answers=answers)).values()
    return next((f for f in found if f.quantity == "gap-slip"), None)


# The hand
# ----------------------------------------------------------------------------------------------


def test_before_anything_shows_it_the_hand_is_the_prior_with_rounding_on_top() -> None:
    assert hand(BLOCK | {"sag-loaded/center/left": ["2"]}) == (pytest.approx(PRIOR), 4.0)


def test_each_thing_that_shows_the_hand_counts_once() -> None:
    """Five stations in both states: three of the change and six tenths of the mean, for each rail."""
    assert hand(strung())[1] == pytest.approx(4 + 2 * (3 + 0.6))
    assert hand(strung(("sag-unloaded",)))[1] == pytest.approx(4 + 2 * 0.6)
    twice = strung(sag_loaded__center__left=["2", "2"])
    assert hand(twice)[1] == pytest.approx(4 + 2 * (3 + 0.6) + 1)


def test_a_hand_that_scatters_is_learned_and_a_fixed_figure_is_not_believed() -> None:
    """It was 0.3 mm whatever was read, and so straight rails were told to be kinked."""
    wild = {
        f"sag_unloaded__{s.replace('-', '_')}__left": [g]
        for s, g in zip(STATIONS, ("2 1/16", "1 15/16", "2 1/16", "1 15/16", "2 1/16"), strict=True)
    }
    assert hand(strung(**wild))[0] > 1.5 * hand(strung())[0]
    (sag,) = [
        f for f in findings(survey_of(strung(**wild))).values() if f.id == "sag-loaded/center/right"
    ]
    assert sag.number.u > 0.8


def test_readings_alike_to_the_last_mark_do_not_make_the_hand_better_than_its_rule() -> None:
    (sag,) = [f for f in findings(survey_of(strung())).values() if f.id == "sag-loaded/center/left"]
    hand = next(p for p in sag.number.parts if p.name.startswith("hand:sag"))
    assert hand.size >= 25.4 / 32 / math.sqrt(12)


def test_a_smooth_sag_a_spring_and_a_kink_teach_nothing_of_the_hand() -> None:
    curve = (0.14, 0.61, 0.88, 1.0, 0.76)
    kink = (0.04, 0.2, 0.36, 0.52, 0.3)
    bowed = {
        f"{step}__{s.replace('-', '_')}__{side}": [f"{50.8 + 6 * c + more * c + 10 * k:.3f} mm"]
        for step, more in (("sag_loaded", 2.0), ("sag_unloaded", 0.0))
        for side in ("left", "right")
        for s, c, k in zip(STATIONS, curve, kink, strict=True)
    }
    assert hand(strung(**bowed))[0] < 1.2 * hand(strung())[0]


def test_the_bench_and_the_survey_learn_alike() -> None:
    """What tests/bench/string_alone.py judges is what a survey computes."""
    line = LINES[0]
    read = surveys(np.random.default_rng(4), 20, line, RULES["1/16 in"], 0.5, "LU", "one")
    for n in range(20):
        gaps = []
        for (rail, state), sags in read.sags.items():
            for x, mean, times in zip(line.along, sags[n], read.counts, strict=True):
                id = f"{state}{rail}{x:.3f}"
                first = read.first[rail, state][n][list(line.along).index(x)]
                values = [first] if times == 1 else [first, 2 * mean - first]
                gaps += [
                    Gap(f"{id}/{i}", id, float(x), rail == 1, state == "L", float(v))
                    for i, v in enumerate(values)
                ]
        made = Line(tuple(gaps), line.load, 0.0, False, read.division, "in")
        prior = math.hypot(0.5, read.division / math.sqrt(12))
        learned = hand_of(made, prior, 4.0)
        assert slips_in(made) == ()
        assert learned.dof == pytest.approx(read.dof)
        floor = read.division / math.sqrt(12)
        assert max(learned.s, floor) == pytest.approx(read.s[n], rel=1e-6)


# Slips
# ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "kind", "long"),
    [
        ("2 1/2", "1/2 in", True),
        ("1 1/2", "1/2 in", False),
        ("3", "1 in", True),
        ("1", "1 in", False),
    ],
)
@pytest.mark.parametrize("steps", [("sag-loaded", "sag-unloaded"), ("sag-unloaded",)])
@pytest.mark.parametrize("answers", [ABOVE, BELOW])
@pytest.mark.parametrize("station", STATIONS)
def test_half_an_inch_or_an_inch_under_the_string_is_named(
    typed: str, kind: str, long: bool, steps: tuple[str, ...], answers: dict[str, str], station: str
) -> None:
    """It stood in the result, and some ended at the specialist."""
    wrong = {f"sag_unloaded__{station.replace('-', '_')}__left": [typed]}
    found = slip(strung(steps, **wrong), answers)
    assert found
    note = found.note(Slip)
    assert note
    assert (note.named, note.kind) == (True, kind)
    assert (found.value > 0) is long
    assert found.where == f"{station}/left"
    assert len(found.readings) == 1


def test_a_slip_opens_its_own_sag_and_leaves_the_hand_and_the_rest_alone() -> None:
    wrong = strung(sag_unloaded__center__left=["2 1/2"])
    survey = survey_of(wrong, answers=ABOVE)
    bands = {id: judge(f, survey, library()).bands for id, f in findings(survey).items()}
    assert bands["sag-unloaded/center/left"][0] == "leave"
    assert bands["sag-unloaded/center/left"][-1] == "specialist"
    assert bands["sag-unloaded/center/right"] == ("leave",)
    assert hand(wrong)[0] < 1.1 * hand(strung())[0]


def test_a_slip_is_told_before_all_that_was_reckoned_with_it() -> None:
    survey: Survey = survey_of(strung(sag_unloaded__center__left=["2 1/2"]), answers=ABOVE)
    said = " ".join(verdict_page(survey, library(), DAY).split())
    assert "half an inch" in said
    assert "left rail, center crossmember" in said
    assert verdict_of(survey, library(), DAY).action not in ("specialist", "put-right")


def test_what_a_second_reading_bears_out_is_no_slip() -> None:
    assert slip(strung(sag_unloaded__center__left=["2 1/2", "2 1/2"])) is None


def test_of_two_readings_the_one_that_does_not_fit_is_named() -> None:
    for typed in (["2", "2 1/2"], ["2 1/2", "2"]):
        readings = strung(sag_unloaded__center__left=typed)
        found = slip(readings)
        assert found
        rows = case(readings).by_prompt["sag-unloaded/center/left"]
        assert found.readings == tuple(r.id for r in rows if r.typed == "2 1/2")


def test_blocks_measured_an_inch_wrong_are_named_and_no_gap_is() -> None:
    found = slip({**strung(), "string-set-up/block": ["3"]})
    assert found
    note = found.note(Slip)
    assert note
    assert note.asks == ("height of the blocks",)
    assert found.readings == ()


def test_a_kink_that_stands_in_both_states_is_no_slip() -> None:
    bent = {
        f"{step}__{station.replace('-', '_')}__left": [f"{50.8 + 12.7 * k:.2f} mm"]
        for step in ("sag_loaded", "sag_unloaded")
        for station, k in zip(STATIONS, (0.07, 0.38, 0.67, 1.0, 0.5), strict=True)
    }
    assert slip(strung(**bent)) is None


def test_a_metric_rule_slips_by_centimeters_and_by_no_half_inch() -> None:
    made = {k: ["50"] for k in strung()} | {"sag-unloaded/center/left": ["60"]}
    survey = survey_of(made, unit="mm", answers=ABOVE)
    (found,) = [f for f in findings(survey).values() if f.quantity == "gap-slip"]
    note = found.note(Slip)
    assert note
    assert note.kind == "10 mm"


# How many places were looked at
# ----------------------------------------------------------------------------------------------


def test_over_is_surer_the_more_stations_were_looked_at_and_within_is_not() -> None:
    found = findings(survey_of(strung(), answers=ABOVE))
    notes = [f.note(OneOf) for f in found.values() if f.quantity == "sag-unloaded"]
    assert [n.places for n in notes if n] == [5] * 10
    assert sum(n.worst for n in notes if n) == 2
    survey = survey_of(strung(), answers=ABOVE)
    assert all(
        judge(f, survey, library()).bands == ("leave",)
        for f in found.values()
        if f.quantity == "sag-unloaded"
    )


def test_the_interval_told_of_the_worst_station_is_one_for_the_worst_of_so_many() -> None:
    readings = strung(sag_unloaded__center__left=["2 1/8"])
    survey = survey_of(readings, answers=ABOVE)
    found = findings(survey)
    worst, other = (
        judge(found[f"sag-unloaded/{s}/left"], survey, library()) for s in ("center", "mid-engine")
    )
    assert worst.k > 1.2 * other.k
