"""How warm it is, and which side stands in the sun, as people type it."""

import pytest

from wizard.readings.refused import Refused
from wizard.readings.warmth import read_sun, read_warmth, sun_in

pytestmark = pytest.mark.quick


@pytest.mark.parametrize(
    ("text", "kept", "celsius"),
    [
        ("52 F", "52 F", 11.1),
        ("52", "52 F", 11.1),
        ("64 F, sun on the left", "64 F, sun on the left", 17.8),
        ("64, sun on the left", "64 F, sun on the left", 17.8),
        ("64 sun left", "64 F, sun left", 17.8),
        ("18 C; right side in the sun", "18 C; right side in the sun", 18.0),
        ("sun on the left", "sun on the left", None),
        ("64, windy", "64, windy", None),
        ("1200, sun on the left", "1200, sun on the left", None),
        ("52 feels cold", "52 feels cold", None),
    ],
)
def test_a_number_keeps_its_unit_whatever_is_said_behind_it(
    text: str, kept: str, celsius: float | None
) -> None:
    said, warm = read_warmth(text, "in")
    assert said == kept
    assert warm == (None if celsius is None else pytest.approx(celsius, abs=0.05))


@pytest.mark.parametrize(
    ("text", "side"),
    [
        ("64 F, sun on the left", "left"),
        ("64 F, sun left", "left"),
        ("sun from the right side", "right"),
        ("Sun is on the right rail", "right"),
        ("right side stood in the sun", "right"),
        ("left in full sun, right in the shade", "left"),
        ("sun on the left, the right in the shade", "left"),
        ("both sides are in the sun", "both"),
        ("sun on both", "both"),
        ("64 F", ""),
        ("64 F, no sun", ""),
        ("out of the sun", ""),
        ("not in the sun", ""),
        ("a Sunday", ""),
        ("-", ""),
        ("", ""),
    ],
)
def test_the_side_in_the_sun(text: str, side: str) -> None:
    assert read_sun(text) == side


@pytest.mark.parametrize("text", ["sun", "64 F, some sun", "sun through the door"])
def test_the_sun_without_a_side_is_asked_about(text: str) -> None:
    with pytest.raises(Refused, match="which side"):
        read_sun(text)
    assert sun_in(text) == ""
