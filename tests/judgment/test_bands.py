"""A value against its limits: bands not excluded, the owner's own figures, and where each limit
comes from.
"""

from __future__ import annotations

import math
from statistics import NormalDist

import pytest

from tests.checks.surveys import found, level_on, library, survey_of, with_limit
from wizard.checks.finding import Finding
from wizard.judgment.bands import Judged, judge, own_bounds
from wizard.math.uncertain import Part, Uncertain
from wizard.survey.record import Survey
from wizard.survey.rows import Reading


def finding(value: float, u: float, limit: str = "rail-shift", dof: float = math.inf) -> Finding:
    return found(
        limit, "y", Uncertain(value, (Part("p", u, dof),)), readings=("r900",), limit=limit
    )


def on_three(survey: Survey) -> Survey:
    """The survey with the level read on the bare frame on three points: else a twist is never
    settled.
    """
    return level_on(survey.with_row(Reading(id="r900", prompt="level/rear/as-set", typed="0")))


def judged(
    value: float,
    u: float,
    limit: str = "rail-shift",
    dof: float = math.inf,
    survey: Survey | None = None,
) -> Judged:
    return judge(finding(value, u, limit, dof), on_three(survey or survey_of({})), library())


# Rail shift: leave to 3, watch to 6, put right to 12, either way. u 0.1: nothing within 0.165 of a
# limit is settled.
@pytest.mark.parametrize(
    ("value", "bands"),
    [
        (0.0, ("leave",)),
        (2.8, ("leave",)),
        (2.9, ("leave", "watch")),
        (3.1, ("leave", "watch")),
        (3.2, ("watch",)),
        (5.9, ("watch", "put-right")),
        (8.0, ("put-right",)),
        (12.1, ("put-right", "specialist")),
        (13.0, ("specialist",)),
    ],
)
@pytest.mark.parametrize("sign", [1, -1])
def test_bands_not_excluded_on_both_sides(value: float, bands: tuple[str, ...], sign: int) -> None:
    assert judged(sign * value, 0.1).bands == bands


@pytest.mark.parametrize(
    ("value", "u", "bands"),
    [
        (0.0, 1.5, ("leave",)),
        (0.0, 1.6, ("leave", "watch")),
        (4.5, 1.0, ("leave", "watch", "put-right")),
        (4.5, 6.0, ("leave", "watch", "put-right", "specialist")),
        (20.0, 6.0, ("put-right", "specialist")),
    ],
)
def test_a_large_doubt_leaves_more_bands_open(
    value: float, u: float, bands: tuple[str, ...]
) -> None:
    """Within ±3 is impossible once u passes 3/1.96: two tails of 2.5 % each for a value of zero."""
    assert judged(value, u).bands == bands


def test_few_degrees_of_freedom_open_what_many_settle() -> None:
    assert judged(2.8, 0.1, dof=math.inf).bands == ("leave",)
    assert judged(2.8, 0.1, dof=2).bands == ("leave", "watch")


@pytest.mark.parametrize(
    "limit", ["sag-unloaded", "sag-loaded", "horn", "rail-shift", "twist", "wheelbase"]
)
def test_a_value_just_at_a_limit_is_open_however_small_its_doubt(limit: str) -> None:
    for bound in library().limits[limit].above:
        result = judged(bound.upto_mm, 1e-12, limit)
        assert len(result.bands) == 2
        assert result.bands[0] == bound.band


def test_beyond_the_limit_by_a_hair_and_no_doubt_is_over() -> None:
    assert judged(3.0 + 1e-6, 1e-12).bands == ("watch",)


def test_twist_knows_no_putting_right_and_the_wheelbase_asks_for_the_axle() -> None:
    assert judged(5.0, 0.1, "twist").bands == ("specialist",)
    assert judged(9.0, 0.1, "wheelbase").bands == ("axle-first",)


def test_a_crown_without_the_weight_is_not_judged_and_with_it_it_is() -> None:
    assert judged(-9.0, 0.1, "sag-unloaded").bands == ("leave",)
    assert judged(-4.0, 0.1, "sag-loaded").bands == ("put-right",)
    assert judged(4.0, 0.1, "sag-loaded").bands == ("leave",)


def test_a_crowns_limit_names_its_own_source() -> None:
    high, low = judged(2.0, 0.1, "sag-loaded").edges[0], judged(-2.0, 0.1, "sag-loaded").edges[0]
    assert high.source == "common practice, no published source"
    assert "crown" in low.source
    assert (low.low, low.high) == (-1.5875, 4.7625)


def test_a_quantity_without_a_limit_has_no_bands() -> None:
    result = judged(1.0, 0.1, "elastic")
    assert (result.bands, result.edges, result.established, result.worst) == ((), (), "", "")


def test_established_is_the_mildest_and_worst_the_gravest() -> None:
    result = judged(4.5, 1.0)
    assert (result.established, result.worst) == ("leave", "put-right")


def test_the_interval_is_k_times_u() -> None:
    """t for ν 10 is 2.23 (JCGM 100:2008 Table G.2, second hand)."""
    assert judged(0.0, 0.4, dof=10).half_width == pytest.approx(0.4 * 2.228, abs=1e-3)


def test_chances_are_those_of_lying_beyond_each_bound() -> None:
    first, second, third = judged(3.0, 1.0).edges
    assert first.chance == pytest.approx(0.5)
    # 3 u below 6 mm: 0.135 % of the normal curve lies beyond (identity).
    assert second.chance == pytest.approx(0.00135, abs=1e-5)
    assert third.chance < 1e-12


# The owner's own figures
# ------------------------------------------------------------------------------------------


def own(
    upto: str,
    band: str = "leave",
    limit: str = "rail-shift",
    unit: str = "mm",
    source: str = "the maker's sheet",
) -> Survey:
    return with_limit(survey_of({}, unit=unit), limit, band, upto, source)  # type: ignore[arg-type]


def test_the_owners_figure_takes_the_tables_place_and_its_source_is_kept() -> None:
    result = judged(2.0, 0.1, survey=own("1.5"))
    assert result.bands == ("watch",)
    assert (result.edges[0].high, result.edges[0].low) == (1.5, -1.5)
    assert (result.edges[0].source, result.edges[0].mark) == ("the maker's sheet", "owner")
    assert result.edges[1].source == judged(2.0, 0.1).edges[1].source


def test_a_figure_without_a_source_says_whose_it_is() -> None:
    assert judged(0.0, 0.1, survey=own("1.5", source="")).edges[0].source == "the owner's figure"


@pytest.mark.parametrize(
    ("unit", "upto", "mm"),
    [("in", "1/4", 6.35), ("in", "5 mm", 5.0), ("mm", "5", 5.0), ("mm", "1/4 in", 6.35)],
)
def test_a_bare_figure_is_in_the_surveys_unit(unit: str, upto: str, mm: float) -> None:
    assert judged(0.0, 0.1, survey=own(upto, unit=unit)).edges[0].high == pytest.approx(mm)


@pytest.mark.parametrize("upto", ["much", "-3", "nan", "inf", "nan%", "1e9", ""])
def test_a_figure_that_cannot_be_read_leaves_the_tables(upto: str) -> None:
    assert judged(0.0, 0.1, survey=own(upto)).edges[0].high == 3.0


def test_a_generous_owner_moves_the_tables_next_bound_out_of_the_way() -> None:
    survey = own("8")
    assert [e.high for e in judged(0.0, 0.1, survey=survey).edges] == [8.0, 8.0, 12.0]
    assert judged(7.0, 0.1, survey=survey).bands == ("leave",)
    assert judged(9.0, 0.1, survey=survey).bands == ("put-right",)


def test_a_strict_owner_pulls_the_milder_bands_in() -> None:
    survey = own("2", band="watch")
    assert [e.high for e in judged(0.0, 0.1, survey=survey).edges] == [2.0, 2.0, 12.0]
    assert judged(2.5, 0.1, survey=survey).bands == ("put-right",)


def test_a_struck_figure_is_the_tables_again() -> None:
    survey = own("1.5")
    row = survey.rows["limit"][0]
    assert judged(2.0, 0.1, survey=survey.with_struck(row.id, "mistaken")).bands == ("leave",)


def test_an_owners_sag_does_not_touch_the_crown() -> None:
    edge = judged(0.0, 0.1, "sag-loaded", survey=own("6", limit="sag-loaded")).edges[0]
    assert (edge.high, edge.low) == (6.0, -1.5875)


def test_a_share_is_kept_in_percent() -> None:
    limit = own_bounds(own("5 %", limit="thickness"), library().limits["thickness"])
    assert limit.above[0].upto_mm == 5.0


def test_a_band_that_the_limit_lacks_changes_nothing() -> None:
    assert judged(5.0, 0.1, "twist", survey=own("9", band="put-right", limit="twist")).bands == (
        "specialist",
    )


SURVEY = survey_of({})


@pytest.mark.parametrize("u", [1.0, 1.4])
@pytest.mark.parametrize("true", [0.0, 1.0, 2.9, 6.0])
def test_what_is_told_holds_the_truth_though_it_was_told_for_being_large(
    true: float, u: float
) -> None:
    """Every 1000th part of a normal hand; of the values that are settled as `leave it` none is told."""
    hand = [NormalDist(true, u).inv_cdf((n + 0.5) / 1000) for n in range(1000)]
    values = [judge(finding(y, u), SURVEY, library()) for y in hand]
    told = [j for j in values if j.bands != ("leave",)]
    held = [abs(j.finding.value - true) <= j.told_half for j in told]
    assert told
    assert sum(held) / len(held) >= 0.94
    assert all(j.told_half == j.half_width for j in values if j not in told)


def test_a_sag_is_told_as_it_is_judged() -> None:
    """What no repeat shows is reckoned at its worst there, and the interval holds 99 % without."""
    assert judged(3.5, 1.0, "sag-loaded").told_half == judged(3.5, 1.0, "sag-loaded").half_width
