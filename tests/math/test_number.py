"""Plain numbers beside uncertain ones."""

from fractions import Fraction

import pytest

from wizard.math.number import uncertain
from wizard.math.uncertain import Part, Uncertain


@pytest.mark.parametrize("plain", [3, 3.0, Fraction(3)])
def test_a_plain_number_has_no_doubt(plain: float) -> None:
    assert uncertain(plain) == Uncertain(3.0)
    assert uncertain(plain).u == 0


def test_an_uncertain_number_stays_itself() -> None:
    number = Uncertain(3.0, (Part("a", 0.1),))
    assert uncertain(number) is number
