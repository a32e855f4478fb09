"""Heights along the frame on paper: which way is up, which place the others are held against."""

from __future__ import annotations

from functools import cache
from xml.etree import ElementTree

import pytest

from tests.checks.surveys import DAY, bent, library
from tests.telling.pages import SVG
from wizard.judgment.sight import verdict_of
from wizard.judgment.verdict import Verdict
from wizard.survey.guide import layout_of
from wizard.telling.svg import Figure
from wizard.telling.svg_along import leans_of, profile, reach_of, string_figure, twist_figure

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
    assert f"held against the {held[0].name} (open ring)" in figure.words


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
    figure = string_figure("left", profiles, LAYOUT, "in", reach_of(list(profiles.values())))
    dots = [y for _, y, fill in rings(figure) if fill == "#000"]
    values = [j.finding.value for _, j in profiles.get("sag-loaded", [])]
    order = sorted(range(len(values)), key=values.__getitem__)
    assert [dots[n] for n in order] == sorted(dots)
    assert all(name in figure.words for points in profiles.values() for name in [points[0][0].name])
