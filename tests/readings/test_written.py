"""Lengths written back."""

from fractions import Fraction as F
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.readings.figures import Unit, read_length
from wizard.readings.written import write_fraction_about, write_length, write_with_doubt

pytestmark = pytest.mark.quick

SIXTEENTH, THIRTY_SECOND, SIXTY_FOURTH = F(127, 80), F(127, 160), F(127, 320)
PLUS_MINUS = ("past", "short")


@pytest.mark.parametrize(
    ("mm", "unit", "division", "text"),
    [
        (F("657.225"), "in", SIXTEENTH, "25 7/8"),
        (F("-1.5875"), "in", SIXTEENTH, "-1/16"),
        (F(0), "in", SIXTEENTH, "0"),
        (-0.0, "in", SIXTEENTH, "0"),
        (F("-0.1"), "in", SIXTEENTH, "0"),
        (2032.0, "in", SIXTEENTH, "80"),
        (F("12.7"), "in", SIXTEENTH, "1/2"),
        (-47.6, "in", SIXTEENTH, "-1 7/8"),
        (F("657.225"), "in", F(254, 100), "25.9"),
        (F("657.225"), "in", F(1), "25 7/8"),
        (F("2.0"), "in", F(1), "3/32"),
        (2032, "mm", F(1), "2032"),
        (F("0.5"), "mm", F(1, 2), "0.5"),
        (2032.2, "mm", F(1, 2), "2032.0"),
        (F("-0.2"), "mm", F(1, 2), "0.0"),
        (F("-2.5"), "mm", F(1), "-3"),
        (F("2.5"), "mm", F(1), "3"),
        (F("1.26"), "mm", F(1, 20), "1.25"),
        (F("2.05"), "mm", F(1, 20), "2.05"),
        (F("657.225"), "mm", SIXTEENTH, "657"),
        (F("657.225"), "mm", THIRTY_SECOND, "657.0"),
        (F("657.225"), "mm", SIXTY_FOURTH, "657.2"),
    ],
)
def test_a_length_is_written_to_the_division_of_the_tool(
    mm: F | float, unit: Unit, division: F, text: str
) -> None:
    assert write_length(mm, unit, division) == text


@pytest.mark.parametrize("division", [F(0), F(-1)])
def test_a_division_of_nothing_cannot_be_written_to(division: F) -> None:
    with pytest.raises(ValueError, match="above zero"):
        write_length(1, "mm", division)


@pytest.mark.parametrize("mm", [nan, inf, -inf])
def test_what_is_not_finite_cannot_be_written(mm: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        write_length(mm, "in", SIXTEENTH)


@given(st.integers(-60_000, 60_000), st.sampled_from([1, 2, 4, 8, 16, 32, 64]))
def test_inches_written_at_a_division_read_back_the_same(count: int, below: int) -> None:
    division = F(254, 10) / below
    mm = count * division / 16
    mm = round(mm / division) * division
    assert read_length(write_length(mm, "in", division), "in", PLUS_MINUS) == mm


@given(
    st.integers(-60_000, 60_000),
    st.sampled_from([F(1), F(1, 2), F(1, 5), F(1, 10), F(1, 20), F(5)]),
)
def test_millimeters_written_at_a_division_read_back_the_same(count: int, division: F) -> None:
    mm = count * division / 5
    mm = round(mm / division) * division
    assert read_length(write_length(mm, "mm", division), "mm", PLUS_MINUS) == mm


@given(
    st.floats(-5000, 5000),
    st.sampled_from(["in", "mm"]),
    st.sampled_from([SIXTEENTH, THIRTY_SECOND, F(1), F(1, 2)]),
)
def test_what_is_written_is_never_further_off_than_half_the_tool_shows(
    mm: float, unit: Unit, division: F
) -> None:
    back = read_length(write_length(mm, unit, division), unit, PLUS_MINUS)
    assert abs(back - F(mm)) <= division / 2


@pytest.mark.parametrize(
    ("value", "u", "unit", "text"),
    [
        (3.2, 0.45, "mm", "3.20 ± 0.45 mm"),
        (3.2, 1.26, "mm", "3.2 ± 1.3 mm"),
        (0.3, 0.0996, "mm", "0.30 ± 0.10 mm"),
        (123.4, 12.3, "mm", "123 ± 12 mm"),
        (1234.0, 123.0, "mm", "1230 ± 120 mm"),
        (-0.01, 1.2, "mm", "0.0 ± 1.2 mm"),
        (-3.26, 1.2, "mm", "-3.3 ± 1.2 mm"),
        (25.4, 2.54, "in", "1.00 ± 0.10 in"),
        (0.12, 0.034, "deg", "0.120 ± 0.034 deg"),
        (1.0, 0.0, "mm", "1.00 ± 0 mm"),
        (1.0, inf, "mm", "1.0 mm, doubt not known"),
        (nan, 1.0, "mm", "not known"),
    ],
)
def test_u_has_two_significant_digits_and_the_value_matches(
    value: float, u: float, unit: Unit, text: str
) -> None:
    assert write_with_doubt(value, u, unit) == text


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [
        (0.8, "in", "1/32 in"),
        (0.3, "in", "0 in"),
        (-0.3, "in", "0 in"),
        (-1.6, "in", "-1/16 in"),
        (28.6, "in", "1 1/8 in"),
        (F(254, 10), "in", "1 in"),
        (0.4, "mm", "0.5 mm"),
        (0.2, "mm", "0 mm"),
        (2.1, "mm", "2 mm"),
        (-12.6, "mm", "-12.5 mm"),
        (nan, "mm", "not known"),
    ],
)
def test_about_how_much_is_said_in_plain_fractions(mm: F | float, unit: Unit, text: str) -> None:
    assert write_fraction_about(mm, unit) == text
