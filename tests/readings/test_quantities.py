"""Pull, line mass, slope, angle, mass, temperature, distance: units converted, everything else
refused.
"""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.readings.figures import read_quantity
from wizard.readings.refused import Refused
from wizard.readings.units import KINDS, Dimension


# Conversion factors are identities: 1 lb = 0.45359237 kg, g = 9.80665 m/s², 1 ft = 0.3048 m, 1 mile
# = 1609.344 m.
@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("30 N", "force", 30),
        ("2 kgf", "force", 2 * 9.80665),
        ("12 lbf", "force", 12 * 0.45359237 * 9.80665),
        ("0,5 g/m", "line_mass", 0.0005),
        ("1 g per m", "line_mass", 0.001),
        ("0.028 lb/ft", "line_mass", 0.028 * 0.45359237 / 0.3048),
        ("0.5 mm/m", "slope", 0.5),
        ("0.006 in/ft", "slope", 0.5),
        ("0.0005 in/in", "slope", 0.5),
        ("30°", "slope", 1000 / 3**0.5),
        ("0.1 deg", "angle", 0.1),
        ("6 arcmin", "angle", 0.1),
        ("180 kg", "mass", 180),
        ("400 LB", "mass", 400 * 0.45359237),
        ("400 lbs.", "mass", 400 * 0.45359237),
        ("1/2 lb", "mass", 0.5 * 0.45359237),
        ("18 °C", "temperature", 18),
        ("-5 ° C", "temperature", -5),
        ("−40 °F", "temperature", -40),
        ("68°F", "temperature", 20),
        ("0 degC", "temperature", 0),
        ("1200 km", "distance", 1200),
        ("0 km", "distance", 0),
        ("750 miles", "distance", 750 * 1.609344),
    ],
)
def test_a_quantity_comes_back_in_the_unit_of_its_dimension(
    text: str, dimension: Dimension, value: float
) -> None:
    assert read_quantity(text, dimension) == pytest.approx(value, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "dimension", "said"),
    [
        ("30", "force", "Type the unit after “30”, for example 30 N"),
        ("3 kg", "force", "“kg” is not a unit of a pull"),
        ("3 lb", "force", "“lb” is not a unit of a pull"),
        ("3 N", "mass", "“n” is not a unit of a mass"),
        ("3 N/m", "line_mass", "is not a unit of a mass per length"),
        ("0.5 kg/kg", "slope", "is not a unit of a slope"),
        ("0.5 mm/m", "angle", "is not a unit of an angle"),
        ("18 °C/m", "temperature", "is not a unit of a temperature"),
        ("18 K", "temperature", "not a known unit"),
        ("3 stone", "mass", "“stone” is not a known unit"),
        ("3 kg*2", "mass", "is not a mass"),
        ("3 kg 200 g", "mass", "is not a mass"),
        ("3**9 kg", "mass", "is not a mass|not a known unit"),
        ("__import__('os')", "mass", "is not a mass"),
        ("3 kg/m/m", "mass", "not a known unit"),
        ("nan kg", "mass", "No tool shows"),
        ("inf km", "distance", "No tool shows"),
        ("1e3 km", "distance", "with an e in it"),
        ("1,200 km", "distance", "can be read two ways"),
        ("-30 N", "force", "plus or minus of a pull"),
        ("-4 km", "distance", "plus or minus of a distance"),
        ("0 N", "force", "not a likely size for a pull"),
        ("1001 N", "force", "not a likely size"),
        ("0 kg", "mass", "not a likely size"),
        ("3001 kg", "mass", "not a likely size"),
        ("89°", "slope", "not a likely size"),
        ("91°", "slope", "not a likely size"),
        ("81 °C", "temperature", "not a likely size"),
        ("-500 °F", "temperature", "not a likely size"),
        ("2000001 km", "distance", "not a likely size"),
        ("9" * 59 + "N", "force", "not a likely size"),
        ("", "mass", "You typed nothing: type a mass"),
        ("9" * 10_000 + " kg", "mass", "too long"),
    ],
)
def test_what_is_no_such_quantity_is_refused(text: str, dimension: Dimension, said: str) -> None:
    with pytest.raises(Refused, match=said) as refusal:
        read_quantity(text, dimension)
    assert "for example" in str(refusal.value)
    assert len(str(refusal.value)) < 160


@pytest.mark.parametrize("dimension", KINDS)
def test_every_example_is_taken(dimension: Dimension) -> None:
    for example in KINDS[dimension].like.replace(" or ", ", ").split(", "):
        assert read_quantity(example, dimension) > 0


@given(
    st.text(alphabet="0123456789 ./-°cfnkglbmitdears", max_size=12), st.sampled_from(sorted(KINDS))
)
def test_any_text_is_within_bounds_or_refused(text: str, dimension: Dimension) -> None:
    kind = KINDS[dimension]
    with suppress(Refused):
        assert kind.low <= read_quantity(text, dimension) <= kind.high
