"""The units and sizes that quantities other than lengths may have."""

from collections.abc import Mapping
from typing import Literal, NamedTuple

Dimension = Literal["force", "line_mass", "slope", "angle", "mass", "temperature", "distance"]


class Kind(NamedTuple):
    """One dimension: what it is called, the unit it comes back in, and what is plausible on a car."""

    what: str
    like: str
    own: str
    """Unit of the result, as pint names it."""
    plain: Mapping[str, float]
    """Units that need no pint: factor to the result's unit."""
    low: float
    high: float
    """Bounds in the result's unit; the project's own."""
    above: bool = True
    """True where the low bound itself is refused."""


KINDS: dict[Dimension, Kind] = {
    "force": Kind("a pull", "30 N, 3 kgf or 7 lbf", "newton", {"newton": 1.0}, 0, 1000),
    "line_mass": Kind(
        "a mass per length",
        "0.5 g/m",
        "kilogram/meter",
        {"gram/meter": 0.001, "kilogram/meter": 1.0},
        0,
        1,
    ),
    "slope": Kind(
        "a slope", "0.5 mm/m or 0.006 in/ft", "millimeter/meter", {"millimeter/meter": 1.0}, 0, 1000
    ),
    "angle": Kind("an angle", "0.1 deg", "degree", {"degree": 1.0}, 0, 45),
    "mass": Kind("a mass", "180 kg or 400 lb", "kilogram", {"kilogram": 1.0}, 0, 3000),
    "temperature": Kind(
        "a temperature", "18 °C or 64 °F", "celsius", {"celsius": 1.0}, -60, 80, above=False
    ),
    "distance": Kind(
        "a distance",
        "1200 km or 750 miles",
        "kilometer",
        {"kilometer": 1.0},
        0,
        2_000_000,
        above=False,
    ),
}

DEFINITIONS = """
meter = [length]
kilogram = [mass]
second = [time]
radian = [angle]
kelvin = [temperature]
millimeter = 0.001 * meter
kilometer = 1000 * meter
inch = 0.0254 * meter
foot = 12 * inch
mile = 5280 * foot
gram = 0.001 * kilogram
pound = 0.45359237 * kilogram
newton = kilogram * meter / second ** 2
kilogram_force = 9.80665 * newton
pound_force = 4.4482216152605 * newton
degree = 0.017453292519943295 * radian
arcminute = degree / 60
arcsecond = degree / 3600
celsius = kelvin; offset: 273.15
fahrenheit = 5 / 9 * kelvin; offset: 255.37222222222223
"""
"""What pint is told. Only what the prompts can meet: a registry of this size is built in a few
milliseconds. The angle has a dimension of its own here, so that no angle passes for a ratio
unnoticed.
"""

_SPELLINGS = {
    "newton": ("n", "newton", "newtons"),
    "kilogram_force": ("kgf", "kp"),
    "pound_force": ("lbf", "lbsf"),
    "gram": ("g", "gram", "grams"),
    "kilogram": ("kg", "kgs", "kilogram", "kilograms", "kilo", "kilos"),
    "pound": ("lb", "lbs", "pound", "pounds"),
    "millimeter": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    "meter": ("m", "metre", "metres", "meter", "meters"),
    "inch": ("in", "inch", "inches"),
    "foot": ("ft", "foot", "feet"),
    "kilometer": ("km", "kms", "kilometre", "kilometres", "kilometer", "kilometers"),
    "mile": ("mi", "mile", "miles"),
    "degree": ("°", "deg", "degree", "degrees"),
    "arcminute": ("arcmin", "arcminute", "arcminutes"),
    "arcsecond": ("arcsec", "arcsecs", "arcsecond", "arcseconds"),
    "celsius": ("°c", "c", "degc", "deg c", "degrees c", "celsius"),
    "fahrenheit": ("°f", "f", "degf", "deg f", "degrees f", "fahrenheit"),
}
UNITS = {spelling: unit for unit, spellings in _SPELLINGS.items() for spelling in spellings}
"""Every accepted spelling, lower case, to the name in DEFINITIONS."""
