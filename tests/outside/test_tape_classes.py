"""Tape classes against the published figures."""

from math import sqrt

import pytest

from wizard.readings.instruments import Class, max_permissible_error, tape_standard_u

pytestmark = pytest.mark.quick

# Directive 2014/32/EU, Annex X (MI-008), read: class II over 2.5 m, and the same from the hook.
PUBLISHED = [("II", 2500, False, 0.9), ("II", 2500, True, 1.1)]

# The same directive's a, b, c worked by hand: a + b L, L in meters rounded up, + c from the end.
WORKED = [
    ("I", 2500, False, 0.4),
    ("I", 2500, True, 0.5),
    ("III", 2500, False, 1.8),
    ("III", 2500, True, 2.1),
    ("II", 1, False, 0.5),
    ("II", 2000, False, 0.7),
    ("II", 2000.0000000001, False, 0.7),
    ("II", 2000.1, False, 0.9),
]


@pytest.mark.parametrize(("class_", "length_mm", "from_end", "mm"), PUBLISHED + WORKED)
def test_the_class_allows_what_the_directive_says(
    class_: Class, length_mm: float, from_end: bool, mm: float
) -> None:
    assert max_permissible_error(class_, length_mm, from_end) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    ("class_", "length_mm", "from_end"),
    [("II", 2500, True), ("I", 2500, False), ("III", 2500, False), ("II", 3001, False)],
)
def test_another_class_length_or_start_does_not_allow_0_9_mm(
    class_: Class, length_mm: float, from_end: bool
) -> None:
    assert max_permissible_error(class_, length_mm, from_end) != pytest.approx(0.9, abs=0.05)


def test_the_standard_uncertainty_is_rectangular() -> None:
    # identity: a rectangle of half width a has the standard deviation a/√3
    assert tape_standard_u("II", 2500, False) == pytest.approx(0.9 / sqrt(3), rel=1e-12)
    assert tape_standard_u("II", 2500, False) == pytest.approx(0.5196, abs=5e-5)
