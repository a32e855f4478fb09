"""Angles as people type them off a gauge, and as a car's book gives them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from wizard.library.kinds import book_angle, book_length
from wizard.readings.figures import read_angle
from wizard.readings.refused import Refused

WAYS = ("back", "forward")


@pytest.mark.parametrize(
    ("typed", "degrees"),
    [
        ("5 back", Fraction(5)),
        ("back 5", Fraction(5)),
        ("0.3° forward", Fraction(-3, 10)),
        ("2,5 deg back", Fraction(5, 2)),
        ("1 1/2 degrees forward", Fraction(-3, 2)),
        ("7° 30' back", Fraction(15, 2)),
        ("0", Fraction(0)),
        ("upright", Fraction(0)),
    ],
)
def test_an_angle_is_read_exactly(typed: str, degrees: Fraction) -> None:
    assert read_angle(typed, WAYS) == degrees


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("5", "Say which way it leans"),
        ("-5", "not a plus or minus"),
        ("5 mm back", "is no angle"),
        ("5 lines back", "is no angle"),
        ("75 back", "over 60 degrees"),
        ("", "You typed nothing"),
        ("nan back", "No tool shows"),
        ("1e1 back", "is not read"),
        ("back", "is no angle"),
    ],
)
def test_what_is_no_angle_is_refused_with_an_example(typed: str, said: str) -> None:
    with pytest.raises(Refused, match=said) as refused:
        read_angle(typed, WAYS)
    assert refused.value.like


@pytest.mark.parametrize(
    ("line", "degrees"), [("5", 5.0), ("-1/2", -0.5), ("1 negative", -1.0), ("+ 1.5", 1.5)]
)
def test_a_book_gives_an_angle_without_a_way(line: str, degrees: float) -> None:
    assert float(book_angle(line)) == degrees


@pytest.mark.parametrize(
    ("line", "unit", "mm"),
    [("1/8", "in", 3.175), ("3 mm", "in", 3.0), ("1/16 in toe-out", "mm", -1.5875), ("2", "mm", 2)],
)
def test_a_book_gives_toe_in_unless_it_says_out(line: str, unit: str, mm: float) -> None:
    assert float(book_length(line, unit)) == mm  # type: ignore[arg-type]
