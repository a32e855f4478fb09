"""A tool's row in the session file, made into the tool."""

from __future__ import annotations

from wizard.readings.bar import Bar, read_bar
from wizard.readings.figures import shown
from wizard.readings.lengths import Unit
from wizard.readings.level import Level, read_level
from wizard.readings.refused import Refused
from wizard.readings.rows import Row
from wizard.readings.string import StringLine, read_string
from wizard.readings.tape import (
    Rule,
    Tape,
    max_permissible_error,
    read_rule,
    read_tape,
    tape_standard_u,
)

__all__ = [
    "Bar",
    "Instrument",
    "Level",
    "Rule",
    "StringLine",
    "Tape",
    "instrument",
    "max_permissible_error",
    "tape_standard_u",
]

Instrument = Tape | Rule | StringLine | Level | Bar


def instrument(row: Row, unit: Unit = "mm") -> Instrument:
    """The tool of a row, by its `kind`: tape, rule, caliper, string, level or bar.

    `unit` is the survey's: what a bare number in the row means. Raises Refused, naming tool and
    field.

    >>> instrument({"kind": "tape", "class": "II", "division": "1/16 in"})
    Tape(class_='II', division=Fraction(127, 80), end='hook')
    >>> instrument({"kind": "laser"})
    Traceback (most recent call last):
    wizard.readings.refused.Refused: A tool is a tape, rule, caliper, string, level or bar, not “laser”, ... "tape".
    """
    kind = str(row.get("kind", ""))
    if kind == "string":
        return read_string(row)
    if kind == "tape":
        return read_tape(row, unit)
    if kind in ("ruler", "caliper"):
        return read_rule(row, unit)
    if kind == "level":
        return read_level(row, unit)
    if kind == "bar":
        return read_bar(row, unit)
    raise Refused(
        f"A tool is a tape, rule, caliper, string, level or bar, not {shown(kind)}", 'kind = "tape"'
    )
