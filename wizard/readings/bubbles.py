"""A level's bubble as a person reads it: how much, and which side is high."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from wizard.readings.figures import FIGURE, Wanted, read_figure, shown, tidy
from wizard.readings.lengths import Unit, read_length
from wizard.readings.refused import Refused

Kind = Literal["divisions", "degrees", "shim"]

_MOST: dict[Kind, tuple[int, str]] = {
    "divisions": (20, "20 divisions"),
    "degrees": (45, "45 degrees"),
    "shim": (100, "100 mm of shim"),
}
"""Beyond these the figure is a slip, or the level tells nothing; the project's own bounds."""

_SIDES = {"left": 1, "l": 1, "right": -1, "r": -1}
_UNITS: dict[str, Kind] = {
    **dict.fromkeys(("", "div", "divs", "division", "divisions"), "divisions"),
    **dict.fromkeys(("°", "deg", "degs", "degree", "degrees"), "degrees"),
}
_LEVEL = {"level", "center", "centered"}

# Parts of a division are judged by eye, so thirds and fifths are as good as quarters.
_BY_EYE = (2, 3, 4, 5, 8, 10)

_SIDE = re.compile(r"(?<![^\W\d_])(left|right|l|r)\.?(?: high)?$")
_AMOUNT = re.compile(rf"(?P<figure>{FIGURE})\s*(?P<unit>\D*)")


@dataclass(frozen=True, slots=True)
class Bubble:
    """One reading of a level."""

    kind: Kind
    """Divisions of the vial, degrees of an angle gauge, or the shim that brings the bubble to the
    middle.
    """
    value: Fraction
    """Positive when the left side is higher: divisions, degrees, or mm of shim."""


def read_bubble(text: str, unit: Unit) -> Bubble:
    """A bubble; the word left or right names the HIGH side, a bare number counts divisions of the
    vial.

    `unit` is the survey's, and only serves the examples. Raises Refused with one sentence.

    >>> read_bubble("1 1/2 right", "in")
    Bubble(kind='divisions', value=Fraction(-3, 2))
    >>> read_bubble("2", "in")
    Traceback (most recent call last):
    wizard.readings.refused.Refused: Say which side is high, for example 2 left or 2 right.
    """
    wanted = Wanted("the bubble and its high side", "2 left", _BY_EYE)
    line = tidy(text, wanted)
    if line in _LEVEL:
        return Bubble("divisions", Fraction(0))
    if line[0] in "+-":
        raise Refused("Name the high side instead of a sign", "2 left or 2 right")
    side = _SIDE.search(line)
    amount = line[: side.start()].strip() if side else line
    kind, size = _read_amount(amount, unit, wanted)
    most, words = _MOST[kind]
    if size > most:
        raise Refused(f"That is over {words}: look again", wanted.like)
    if size and not side:
        raise Refused(
            "Say which side is high", f"{shown_amount(amount)} left or {shown_amount(amount)} right"
        )
    return Bubble(kind, size * (_SIDES[side[1]] if side else 1))


def shown_amount(amount: str) -> str:
    """The typed amount, as it is put into an example."""
    return shown(amount).strip("“”")


def _read_amount(amount: str, unit: Unit, wanted: Wanted) -> tuple[Kind, Fraction]:
    match = _AMOUNT.fullmatch(amount)
    if match and (kind := _UNITS.get(match["unit"].strip().rstrip("."))):
        return kind, read_figure(match["figure"], wanted)
    if not any(c in "0123456789" for c in amount):
        raise Refused(
            f"There is no figure in {shown(amount) if amount else 'that'}: give {wanted.what}",
            wanted.like,
        )
    try:
        return "shim", read_length(amount, unit)
    except Refused as refusal:
        shim = "1/16 in left" if unit == "in" else "1.5 mm left"
        raise Refused(refusal.said, f"2 left, 0.3° left or {shim}") from refusal
