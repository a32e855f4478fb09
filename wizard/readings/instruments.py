"""The tools: tapes and rules, strings, levels and bars, each made from its row in the session file.

Every refusal names the tool and the field.
"""

import math
from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import lru_cache
from typing import Literal, NamedTuple, cast

from wizard.readings.figures import Bubble, Unit, read_length, read_quantity, shown
from wizard.readings.refused import Refused
from wizard.readings.units import Dimension

# Fields of a tool's row
# ------------------------------------------------------------------------------------------------


Row = Mapping[str, str]


def _named(row: Row) -> str:
    """The tool's id, or its kind where it has none, in quotation marks."""
    return shown(str(row.get("id") or row.get("kind") or "tool"))


def _choice(row: Row, key: str, tokens: tuple[str, ...], default: str) -> str:
    """One of `tokens`, whatever its case; `default` where the field is missing or empty."""
    typed = str(row.get(key) or default).strip()
    for token in tokens:
        if token.lower() == typed.lower():
            return token
    *most, last = tokens
    raise Refused(
        f"The {key} of {_named(row)} is {', '.join(most)} or {last}, not {shown(typed)}",
        f'{key} = "{default}"',
    )


_exact = lru_cache(maxsize=256)(read_length)
"""One survey after another has the same tools."""


def _yes(row: Row, key: str) -> bool:
    """True for yes or true, False for no, false or a missing field."""
    return _choice(row, key, ("no", "false", "yes", "true"), "no") in ("yes", "true")


def _length(row: Row, key: str, unit: Unit, most_mm: int) -> Fraction | None:
    """Exact mm, above zero and at most `most_mm`; None where the field is missing or empty."""
    typed = str(row.get(key) or "")
    if not typed.strip():
        return None
    try:
        mm = _exact(typed, unit)
    except Refused as refusal:
        raise _of(row, key, refusal) from refusal
    if not 0 < mm <= most_mm:
        raise Refused(f"The {key} of {_named(row)} must be above zero and at most {most_mm} mm")
    return mm


def _division(row: Row, unit: Unit) -> Fraction:
    """The smallest division, exact mm; 1/16 in or 1 mm where the row does not say."""
    usual = Fraction(127, 80) if unit == "in" else Fraction(1)
    return _length(row, "division", unit, 10) or usual


def _quantity(row: Row, key: str, dimension: Dimension) -> float | None:
    """A quantity in the unit `read_quantity` documents; None where the field is missing or empty."""
    typed = str(row.get(key) or "")
    if not typed.strip():
        return None
    try:
        return read_quantity(typed, dimension)
    except Refused as refusal:
        raise _of(row, key, refusal) from refusal


def _of(row: Row, key: str, refusal: Refused) -> Refused:
    said = (
        f"The {key} of {_named(row)} cannot be used: {refusal.said[:1].lower()}{refusal.said[1:]}"
    )
    return Refused(said, refusal.like)


# Tapes and rules: their divisions, their classes, and the error a class allows
# ------------------------------------------------------------------------------------------------


Class = Literal["I", "II", "III"]
End = Literal["hook", "mark", "burned"]

_ERRORS: dict[Class, tuple[float, float, float]] = {
    "I": (0.1, 0.1, 0.1),
    "II": (0.3, 0.2, 0.2),
    "III": (0.6, 0.4, 0.3),
}
"""a, b, c in mm, b per meter. Directive 2014/32/EU, Annex X (MI-008), chapter I."""


class Tape(NamedTuple):
    """A tape measure."""

    class_: Class
    """Accuracy class printed on the blade; a tape without one counts as III, the coarsest."""
    division: Fraction
    """Smallest division, mm, exact."""
    end: End
    """Where readings start: the hook, a zero mark on the blade, or a later mark taken off
    ("burned").
    """

    @property
    def from_end(self) -> bool:
        """True where the hook's own error comes in."""
        return self.end == "hook"


class Rule(NamedTuple):
    """A steel rule, square-ended."""

    class_: Class
    """As for a tape; II where the row does not say."""
    division: Fraction
    """Smallest division, mm, exact."""


def read_tape(row: Row, unit: Unit) -> Tape:
    """A tape from its row: class, division, end. Raises Refused."""
    end = _choice(row, "end", ("hook", "mark", "burned"), "hook")
    return Tape(_class(row, "III"), _division(row, unit), cast(End, end))


def read_rule(row: Row, unit: Unit) -> Rule:
    """A rule from its row: class, division. Raises Refused."""
    return Rule(_class(row, "II"), _division(row, unit))


def _class(row: Row, default: Class) -> Class:
    return cast(Class, _choice(row, "class", ("I", "II", "III"), default))


def max_permissible_error(class_: Class, length_mm: Fraction | float, from_end: bool) -> float:
    """Largest error, mm, that the class allows: a + b L, L in meters rounded up; + c from the end.

    References: Directive 2014/32/EU, Annex X (MI-008), chapter I.

    >>> round(max_permissible_error("II", 2500, from_end=False), 3)
    0.9
    """
    a, b, c = _ERRORS[class_]
    # A nanometer's worth of float noise on 2000 mm must not make it a third meter.
    meters = math.ceil(abs(float(length_mm)) / 1000 - 1e-9)
    return a + b * meters + (c if from_end else 0.0)


def tape_standard_u(class_: Class, length_mm: Fraction | float, from_end: bool) -> float:
    """Standard uncertainty, mm, of the tape's own error: rectangular within the class's limits,
    mpe/√3.

    It is shared by every reading of the same tape.
    """
    return max_permissible_error(class_, length_mm, from_end) / math.sqrt(3)


# The string line: what it weighs and how hard it is pulled, on which its own dip depends
# ------------------------------------------------------------------------------------------------


class StringLine(NamedTuple):
    """A taut string on two blocks."""

    mass: float | None
    """kg per meter; None where nobody knows it."""
    pull: float | None
    """N; None where nobody knows it."""
    steady: bool
    """True when doubling the weight that pulls it moved nothing."""


def read_string(row: Row) -> StringLine:
    """A string from its row: mass ("0.5 g/m"), pull ("30 N"), steady ("yes"). Raises Refused."""
    return StringLine(
        _quantity(row, "mass", "line_mass"),
        _quantity(row, "pull", "force"),
        _yes(row, "steady"),
    )


# Levels and angle gauges, and the slope that a bubble on one of them means
# ------------------------------------------------------------------------------------------------


class Level(NamedTuple):
    """A spirit level or an angle gauge; what is not known of it is None, but something is known."""

    sensitivity: float | None
    """mm per meter of slope for one division of the vial."""
    length: Fraction | None
    """mm between the two contacts, exact; what a shim's thickness is divided by."""
    resolution: float | None
    """Degrees, the last digit of an angle gauge."""

    def slope(self, bubble: Bubble) -> float:
        """Slope across the car, a ratio (0.001 is 1 mm in 1 m), positive when the left side is
        higher.

        The shim went under the low end, so the slope is its thickness over the length, to the high
        side.

        Raises Refused where the level's own figure for that kind of reading is missing.

        >>> Level(0.5, None, None).slope(Bubble("divisions", Fraction(2)))
        0.001
        """
        if bubble.kind == "degrees":
            return math.tan(math.radians(bubble.value))
        if not bubble.value:
            return 0.0
        if bubble.kind == "shim":
            if self.length is None:
                raise Refused(
                    "A shim needs the level's length between its contacts", 'length = "24 in"'
                )
            return float(bubble.value / self.length)
        if self.sensitivity is None:
            raise Refused("Divisions need the level's sensitivity", 'sensitivity = "0.5 mm/m"')
        return float(bubble.value) * self.sensitivity / 1000


def read_level(row: Row, unit: Unit) -> Level:
    """A level from its row: sensitivity ("0.5 mm/m"), length ("24 in"), resolution ("0.1 deg").

    Raises Refused for a field that cannot be used, and where none is given.
    """
    sensitivity = _quantity(row, "sensitivity", "slope")
    resolution = _quantity(row, "resolution", "angle")
    level = Level(sensitivity, _length(row, "length", unit, 3000), resolution)
    if level == Level(None, None, None):
        raise Refused(
            f"Nothing is said of {_named(row)}: give its sensitivity, its length or its resolution",
            'sensitivity = "0.5 mm/m"',
        )
    return level


# Gauges that show how far a face leans from plumb or from level
# ------------------------------------------------------------------------------------------------


class Gauge(NamedTuple):
    """An angle gauge held to a face, digital or with a hanging pointer."""

    resolution: float
    """Degrees, its last digit or its finest mark."""


def read_gauge(row: Row, unit: Unit) -> Gauge:
    """A gauge from its row: resolution ("0.1 deg"). Raises Refused."""
    resolution = _quantity(row, "resolution", "angle")
    if not resolution or resolution < 0:
        raise Refused(f"The finest mark of {_named(row)} is missing", 'resolution = "0.1 deg"')
    return Gauge(resolution)


# The home-made bar with two equal square pointers
# ------------------------------------------------------------------------------------------------


class Bar(NamedTuple):
    """A bar set on one diagonal and carried to the other."""

    pointer: Fraction
    """Length of its pointers, mm, exact: a long pointer that leans reads wrong."""


def read_bar(row: Row, unit: Unit) -> Bar:
    """A bar from its row: pointer ("4 in"). Raises Refused."""
    pointer = _length(row, "pointer", unit, 1000)
    if pointer is None:
        raise Refused(f"The length of the pointers of {_named(row)} is missing", 'pointer = "4 in"')
    return Bar(pointer)


# A tool of a row
# ------------------------------------------------------------------------------------------------


Instrument = Tape | Rule | StringLine | Level | Gauge | Bar


def instrument(row: Row, unit: Unit = "mm") -> Instrument:
    """The tool of a row, by its `kind`: tape, rule, caliper, string, level, gauge or bar.

    `unit` is the survey's: what a bare number in the row means. Raises Refused, naming tool and
    field.

    >>> instrument({"kind": "tape", "class": "II", "division": "1/16 in"})
    Tape(class_='II', division=Fraction(127, 80), end='hook')
    >>> instrument({"kind": "laser"})
    Traceback (most recent call last):
    wizard.readings.refused.Refused: A tool is a tape, ruler, caliper, string, level, gauge or bar, not “laser”, ... "tape".
    """
    kind = str(row.get("kind", ""))
    read = READ.get(kind)
    if read is not None:
        return read(row, unit)
    raise Refused(
        f"A tool is a tape, ruler, caliper, string, level, gauge or bar, not {shown(kind)}",
        'kind = "tape"',
    )


READ: Mapping[str, Callable[[Row, Unit], Instrument]] = {
    "string": lambda row, unit: read_string(row),
    "tape": read_tape,
    "ruler": read_rule,
    "caliper": read_rule,
    "level": read_level,
    "gauge": read_gauge,
    "bar": read_bar,
}
"""How the row of a tool is read, by its kind."""
