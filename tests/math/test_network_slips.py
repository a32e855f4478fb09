"""Slips are recognized by their size, and only when nothing else would fit."""

from __future__ import annotations

import pytest

from wizard.math.network_slips import recognize_slip

pytestmark = pytest.mark.quick


@pytest.mark.parametrize(
    ("error", "u", "value", "unit", "name"),
    [
        (25.4, 0.8, 2314.6, "in", "1 in"),
        (-24.6, 0.8, 2314.6, "in", "1 in"),
        (12.1, 0.8, 2314.6, "in", "1/2 in"),
        (303.5, 0.8, 2314.6, "in", "1 ft"),
        (10.6, 0.4, 2222.0, "mm", "10 mm"),
        (-100.9, 0.8, 2222.0, "mm", "100 mm"),
        (-27.3, 0.8, 2314.0, "mm", "digits-swapped"),  # 2314 for 2341
        (89.4, 0.8, 3211.0, "mm", "digits-swapped"),  # 3211 for 3121
        (89.4, 0.8, 3221.0, "mm", None),  # 3221 can hide no 90
        (27.3, 0.8, -14.0, "mm", "digits-swapped"),  # -14 for -41: a gap on its other side
        (457.0, 0.8, 31 * 25.4, "in", "digits-swapped"),  # 31 for 13: 18 in
        (20.0, 0.8, 2222.0, "mm", None),
        (12.7, 0.4, 2222.0, "mm", None),  # half an inch cannot be lost on a metric scale
        (10.0, 0.4, 2222.0, "in", None),
        (10.0, 3.0, 2222.0, "mm", None),  # too vague to be named
        (0.0, 0.8, 2222.0, "mm", None),
    ],
)
def test_slips_by_size(error, u, value, unit, name):
    assert recognize_slip(error, u, value, unit) == name


def test_the_twin_s_reading_tells_of_swapped_sides():
    assert (
        recognize_slip(11.8, 0.8, 2619.0, "in", twin_mm=2607.5) is None
    )  # an equal case for half an inch
    assert recognize_slip(18.2, 0.8, 2619.0, "in", twin_mm=2601.0) == "sides-swapped"
    assert recognize_slip(18.2, 0.8, 2619.0, "in") is None
    assert recognize_slip(-18.2, 0.8, 2619.0, "in", twin_mm=2601.0) is None


def test_two_slips_that_fit_alike_name_none():
    """2321 for 2312 reads 9 mm long, and a lost centimeter 10 mm: at u 1 mm neither can be ruled
    out.
    """
    assert recognize_slip(9.5, 1.0, 2321.0, "mm") is None
    assert recognize_slip(9.0, 0.3, 2321.0, "mm") == "digits-swapped"
    assert recognize_slip(10.0, 0.3, 2321.0, "mm") == "10 mm"


def test_a_unit_no_tape_has_is_refused():
    with pytest.raises(ValueError, match="cm is not a unit of a tape"):
        recognize_slip(25.4, 0.8, 2314.6, "cm")
