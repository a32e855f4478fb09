"""How far wood moves with damp, as the wooden sills' layout says it.

Source: Wood Handbook (Forest Products Laboratory), shrinkage of white ash from green to oven dry, from
memory: 4.9 % radially, 7.8 % tangentially, 0.1 to 0.2 % along the grain; wood is taken to shrink evenly
below 30 % of moisture.
"""

from __future__ import annotations

import pytest

from wizard.library import load_library

RADIAL, TANGENTIAL, ALONG = 0.049, 0.078, 0.002
FROM_GREEN = 30.0
DRY, WET = 8.0, 16.0
"""Percent of moisture: a heated garage in winter, an open shed in fall."""


def moved(mm: float, shrinkage: float) -> float:
    """How much it swells from dry to wet, mm."""
    return mm * shrinkage * (WET - DRY) / FROM_GREEN


def test_a_sill_as_deep_as_its_rail_swells_by_a_millimeter_and_more_across_its_grain() -> None:
    layout = load_library().layouts["wooden-sills"]
    deep = layout.figures["rail_depth"]
    assert moved(deep, RADIAL) == pytest.approx(1.1, abs=0.05)
    assert moved(deep, TANGENTIAL) == pytest.approx(1.8, abs=0.05)
    assert any("by 1 mm (1/32 in) and more" in said for said in layout.cannot)


def test_along_its_grain_it_hardly_grows() -> None:
    """Over the whole frame no more than a careful tape misses."""
    layout = load_library().layouts["wooden-sills"]
    assert moved(max(p.x for p in layout.places), ALONG) < 1.2
