"""The charts on paper: points, lines, bands and limits stand where the numbers say; which way is up."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from tests.checks.surveys import DAY, bent, found, library
from tests.telling.pages import SVG
from wizard.judgment.bands import Edge
from wizard.judgment.sight import verdict_of
from wizard.judgment.trend import Meeting, Trend, slope_of
from wizard.judgment.verdict import Verdict
from wizard.math.uncertain import Part, Uncertain
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey
from wizard.telling.scene_string import sags_of, times_of
from wizard.telling.scene_trend import band_of
from wizard.telling.svg import Figure, ticks
from wizard.telling.svg_charts import (
    leans_of,
    profile,
    reach_of,
    string_figure,
    trend_figure,
    twist_figure,
)
from wizard.telling.trend_words import typed_plot

XS = (0.0, 100.0, 200.0)
EDGE = Edge("leave", 3.0, -3.0, "a source", "C", 0.1, False, False)


def trend_of(
    ys: list[float], u: float = 0.3, says: str = "moving", quantity: str = "twist", unit: str = "mm"
) -> Trend:
    numbers = [Uncertain(y, (Part(f"hand:{n}", u),)) for n, y in enumerate(ys)]
    findings = [found(quantity, "center", n, limit="twist", unit=unit) for n in numbers]
    xs = tuple(100.0 * n for n in range(len(ys)))
    return Trend(tuple(findings), xs, tuple(range(len(ys))), slope_of(xs, numbers), says)


def figure_of(trend: Trend, *edges: Edge, by: str = "days") -> Figure:
    surveys = [
        Survey(id=f"s{n}", started=datetime(2026, 4, 11) + timedelta(days=x))
        for n, x in enumerate(trend.xs)
    ]
    found = trend_figure("t", "Twist", trend, by, surveys, edges, "It turns.")
    assert found is not None
    return found


def all_of(figure: Figure, kind: str) -> list[dict[str, str]]:
    root = ElementTree.fromstring(figure.svg)
    return [e.attrib for e in root.iter(f"{SVG}{kind}")]


def points(figure: Figure) -> list[tuple[float, float]]:
    return [(float(c["cx"]), float(c["cy"])) for c in all_of(figure, "circle")]


def dashed(figure: Figure) -> list[float]:
    """Heights of the limits; the one in the key left out."""
    return [float(e["y1"]) for e in all_of(figure, "line") if e.get("stroke-dasharray") == "9 4"][
        : -1 or None
    ]


def test_points_stand_to_scale_along_and_up() -> None:
    (x0, y0), (x1, y1), (x2, y2) = points(figure_of(trend_of([1.0, 1.5, 4.0], says="jumped")))
    assert x1 - x0 == pytest.approx(x2 - x1, abs=0.02)
    assert (y1 - y2) / (y0 - y1) == pytest.approx(5.0, abs=0.02)
    assert y2 < y1 < y0, "more is higher"


def test_a_jump_is_drawn_as_a_step_and_never_as_a_slope() -> None:
    """Each piece runs level or upright, never both (identity)."""
    trend = trend_of([1.0, 1.0, 9.0], says="jumped")
    assert trend.step
    dotted = [
        e["d"] for e in all_of(figure_of(trend), "path") if e.get("stroke-dasharray") == "1.5 4"
    ]
    spots = [tuple(map(float, spot.split())) for spot in dotted[0].removeprefix("M").split(" L")]
    assert len(spots) == 4
    assert all(a[0] == b[0] or a[1] == b[1] for a, b in pairwise(spots)), spots


def test_a_rail_that_is_low_is_drawn_low() -> None:
    heights = [
        y
        for _, y in points(
            figure_of(trend_of([1.0, 1.5, 4.0], quantity="sag-loaded", says="jumped"))
        )
    ]
    assert heights == sorted(heights)


def test_the_bars_are_95_percent_of_the_doubt() -> None:
    """1.96 u on each side, for a doubt of endless freedom (table of the normal distribution,
    memory).
    """
    figure = figure_of(trend_of([0.0, 2.0, 4.0], u=0.5, says="jumped"))
    (x0, y0), (_, y1), _ = points(figure)
    unit = (y0 - y1) / 2.0
    upright = [
        e
        for e in all_of(figure, "line")
        if e["x1"] == e["x2"] and float(e["x1"]) == pytest.approx(x0)
    ]
    bar = max(abs(float(e["y1"]) - float(e["y2"])) for e in upright)
    assert bar / unit == pytest.approx(2 * 1.96 * 0.5, rel=0.01)


def test_the_line_and_its_band_go_where_the_fit_goes() -> None:
    """u of a line over 0, 1, 2 with u = 0.3 each (identity: u sqrt(1/n + (x - mean)² / Sxx))."""
    trend = trend_of([1.0, 2.0, 3.0])
    band = band_of(trend)
    assert [band[0].y, band[-1].y] == pytest.approx([1.0, 3.0])
    assert band[0].half == pytest.approx(1.959964 * 0.3 * math.sqrt(1 / 3 + 1 / 2), rel=1e-5)
    assert band[6].half == pytest.approx(1.959964 * 0.3 * math.sqrt(1 / 3), rel=1e-5)
    assert band[6].half < band[0].half == pytest.approx(band[-1].half)
    figure = figure_of(trend)
    heavy = [e["d"] for e in all_of(figure, "path") if e["stroke-width"] == "2"]
    start, end = (
        tuple(map(float, spot.split())) for spot in heavy[0].removeprefix("M").split(" L")
    )
    found = points(figure)
    assert start == pytest.approx(found[0], abs=0.02)
    assert end == pytest.approx(found[-1], abs=0.02)


def test_the_bands_slope_is_the_one_that_is_said_in_words() -> None:
    """A tape of the last two surveys tilts the line more than each doubt alone would: half² at 100
    days from the middle is that of the middle and (100 times the slope's half width)² together.
    """
    alone = trend_of([1.0, 2.0, 3.0])
    tape = Part("tape:2", 0.3)
    numbers = [
        Uncertain(n + 1.0, (Part(f"hand:{n}", 0.3), *([tape] if n else []))) for n in range(3)
    ]
    slope = slope_of(XS, numbers)
    assert slope.line.slope_u != pytest.approx(slope.number.u, rel=0.01), (
        "else this would tell nothing"
    )
    band = band_of(replace(alone, slope=slope))
    middle = -slope.line.correlation * slope.line.intercept_u / slope.line.slope_u
    least = 1.959964 * slope.line.at(middle)[1]
    assert math.sqrt(band[0].half ** 2 - least**2) / middle == pytest.approx(
        slope.half_width, rel=1e-5
    )
    assert math.sqrt(band[-1].half ** 2 - least**2) / (200.0 - middle) == pytest.approx(
        slope.half_width, rel=1e-5
    )


def test_a_limit_in_view_is_drawn_where_it_is_and_one_far_off_is_not() -> None:
    figure = figure_of(trend_of([1.0, 2.0, 4.0], says="jumped"), EDGE)
    (_, y0), (_, y1), _ = points(figure)
    assert dashed(figure) == [pytest.approx(y0 - 2.0 * (y0 - y1), abs=0.02)]
    assert "leave it up to 1/8 in" in figure.words
    drawn = [e.text for e in ElementTree.fromstring(figure.svg).iter() if e.tag.endswith("}text")]
    assert "leave it up to 1/8 in" in drawn
    far = figure_of(trend_of([1.0, 2.0, 4.0], says="jumped"), EDGE._replace(high=30.0, low=-30.0))
    assert "9 4" not in far.svg
    assert "Limits" not in far.words


def test_a_limit_that_the_line_is_going_to_meet_is_brought_into_view() -> None:
    trend = trend_of([1.0, 2.0, 3.0])
    ahead = EDGE._replace(high=6.0, low=-6.0)
    assert "9 4" not in figure_of(trend, ahead).svg
    met = replace(trend, meets=Meeting("leave", 6.0, 500.0, 450.0, 600.0))
    assert len(dashed(figure_of(met, ahead))) == 1


def test_what_is_no_number_is_not_drawn() -> None:
    trend = trend_of([1.0, 2.0, 3.0])
    odd = replace(
        trend,
        findings=(*trend.findings[:2], replace(trend.findings[2], number=Uncertain(math.nan, ()))),
    )
    survey = [Survey(id="s")] * 3
    assert trend_figure("t", "Twist", odd, "days", survey, (), "It turns.") is None
    assert trend_figure("t", "Twist", trend, "days", survey, (), "It turns.") is not None


def test_many_surveys_keep_their_points_and_lose_dates_that_would_touch() -> None:
    figure = figure_of(trend_of([0.1 * n for n in range(40)]))
    assert len(points(figure)) == 40
    dates = [e for e in all_of(figure, "text") if e.get("text-anchor") == "middle"]
    assert 6 <= len(dates) <= 14
    for row in {e["y"] for e in dates}:
        at = sorted(float(e["x"]) for e in dates if e["y"] == row)
        assert all(b - a >= 66 for a, b in pairwise(at))


def test_hostile_words_stay_words() -> None:
    trend = trend_of([1.0, 2.0, 3.0])
    found = trend_figure(
        "t", "<script>", trend, "days", [Survey(id="</text><script>")] * 3, (), "]]><b>"
    )
    assert found is not None
    kinds = {e.tag.removeprefix(SVG) for e in ElementTree.fromstring(found.svg).iter()}
    assert not kinds & {"script", "b"}


@pytest.mark.parametrize(
    ("low", "high", "kind"), [(-1e9, 1e9, "mm"), (0.0, 1e12, "%"), (-3.0, 3.0, "mm"), (0, 40, "%")]
)
def test_an_axis_never_has_too_many_strokes(low: float, high: float, kind: str) -> None:
    for unit in ("in", "mm"):
        assert 1 <= len(list(ticks(low, high, unit, kind=kind))) <= 8  # type: ignore[arg-type]
    assert list(ticks(0.0, math.inf, "in")) == []


def test_the_typed_typed_plot_a_jump_has_two_levels_and_no_slope() -> None:
    def long_rows(trend: Trend) -> int:
        surveys = [
            Survey(id=f"s{n}", started=datetime(2026, 4, 11) + timedelta(days=x))
            for n, x in enumerate(trend.xs)
        ]
        lines = typed_plot(trend, "days", surveys, library().layouts["straight-ladder"]).lines
        return sum(line.count(".") + line.count("'") > 12 for line in lines)

    assert long_rows(trend_of([1.0, 1.0, 1.0, 9.0, 9.0, 9.0], says="jumped")) == 2
    assert long_rows(trend_of([1.0, 3.0, 5.0, 7.0, 9.0, 11.0])) == 0


LAYOUT = layout_of(bent(), library())


@cache
def verdict() -> Verdict:
    return verdict_of(bent(), library(), DAY)


def rings(figure: Figure) -> list[tuple[float, float, str]]:
    """Each ring from front to rear: along, up, and what fills it."""
    root = ElementTree.fromstring(figure.svg)
    found = [c.attrib for c in root.iter(f"{SVG}circle")]
    return sorted((float(c["cx"]), float(c["cy"]), c["fill"]) for c in found)


def test_the_place_that_others_are_held_against_is_the_one_open_ring_at_no_height() -> None:
    leans, figure = leans_of(verdict().judged, LAYOUT), twist_figure(verdict().judged, LAYOUT, "in")
    assert figure is not None
    assert [fill == "#fff" for _, _, fill in rings(figure)] == [not one.judged for one in leans]
    held = [one for one in leans if not one.judged]
    assert [(one.value, one.half) for one in held] == [(0.0, 0.0)]
    assert f"compared with the {held[0].name} (open ring)" in figure.words


def test_a_place_higher_on_the_left_stands_higher_on_the_page() -> None:
    leans, figure = leans_of(verdict().judged, LAYOUT), twist_figure(verdict().judged, LAYOUT, "in")
    assert figure is not None
    ys = [y for _, y, _ in rings(figure)]
    zero = next(y for y, one in zip(ys, leans, strict=True) if not one.judged)
    told = [one.value for one in leans]
    assert any(told)
    # Identity: on one scale every height is the same multiple of its value.
    units = [(zero - y) / v for y, v in zip(ys, told, strict=True) if v]
    assert all(u > 0 for u in units)
    assert units == pytest.approx([units[0]] * len(units), rel=0.05)


def test_where_no_level_was_laid_there_is_no_figure() -> None:
    level = [j for j in verdict().judged if j.finding.quantity not in ("twist", "horn-height")]
    assert twist_figure(level, LAYOUT, "in") is None


def test_a_low_station_is_drawn_low_and_both_states_are_told() -> None:
    profiles = {
        q: p
        for q in ("sag-loaded", "sag-unloaded")
        if (p := profile(verdict().judged, LAYOUT, q, "left"))
    }
    assert profiles
    times = times_of(sags_of(verdict().judged), LAYOUT)
    reach = reach_of(list(profiles.values()))
    figure = string_figure("left", profiles, LAYOUT, "in", reach, times)
    dots = [y for _, y, fill in rings(figure) if fill == "#000"]
    values = [j.finding.value for _, j in profiles.get("sag-loaded", [])]
    order = sorted(range(len(values)), key=values.__getitem__)
    assert [dots[n] for n in order] == sorted(dots)
    assert all(name in figure.words for points in profiles.values() for name in [points[0][0].name])
