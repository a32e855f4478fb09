"""What slope a bubble means on a given level."""

from fractions import Fraction as F
from math import atan, degrees

import pytest

from wizard.readings.figures import Bubble, read_quantity
from wizard.readings.instruments import Level
from wizard.readings.refused import Refused

CARPENTERS = Level(0.5, F(600), None)


@pytest.mark.parametrize(
    ("bubble", "slope"),
    [
        (Bubble("divisions", F(2)), 0.001),
        (Bubble("divisions", F(-1, 2)), -0.00025),
        (Bubble("shim", F(3, 2)), 0.0025),
        (Bubble("shim", F(-3, 2)), -0.0025),
        # identity: tan 45° is 1
        (Bubble("degrees", F(45)), 1.0),
        (Bubble("degrees", F(0)), 0.0),
    ],
)
def test_the_slope_is_positive_when_the_left_is_higher(bubble: Bubble, slope: float) -> None:
    assert CARPENTERS.slope(bubble) == pytest.approx(slope, rel=1e-12)


@pytest.mark.parametrize(
    ("bubble", "said"),
    [
        (
            Bubble("divisions", F(1)),
            'Divisions .* sensitivity = "0.5 mm/m"',
        ),
        (Bubble("shim", F(1)), "length between its contacts"),
    ],
)
def test_a_level_of_unknown_figures_gives_no_slope(bubble: Bubble, said: str) -> None:
    with pytest.raises(Refused, match=said):
        Level(None, None, 0.1).slope(bubble)


@pytest.mark.parametrize("kind", ["divisions", "shim", "degrees"])
def test_a_bubble_in_the_middle_is_level_whatever_is_known(kind: str) -> None:
    assert Level(None, None, 0.1).slope(Bubble(kind, F(0))) == 0  # type: ignore[arg-type]


def test_one_second_of_arc_is_4_85_micrometers_per_meter() -> None:
    # JIS B 7510-1993, read; printed to three figures.
    assert read_quantity("1 arcsec", "slope") * 1000 == pytest.approx(4.85, abs=0.005)
    assert read_quantity("1.01 arcsec", "slope") * 1000 != pytest.approx(4.85, abs=0.005)


def test_half_a_millimeter_per_meter_is_103_seconds() -> None:
    # identity: atan(0.0005) in seconds of arc, to the nearest second.
    seconds = degrees(atan(read_quantity("0.5 mm/m", "slope") / 1000)) * 3600
    assert seconds == pytest.approx(103, abs=0.5)
    assert read_quantity("103 arcsec", "slope") == pytest.approx(0.5, abs=0.0024)
    assert read_quantity("104 arcsec", "slope") != pytest.approx(0.5, abs=0.0024)
