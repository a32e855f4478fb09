"""Lengths as people type them, read to exact millimeters.

1 in = 25.4 mm exactly. The grammar is our own: general unit parsers read `25 7/8 in` and `203,2 cm`
wrongly.

Decisions of the project's own:
- an inch fraction has 2, 4, 8, 16, 32 or 64 below the line, as tapes and rules have; anything else is a slip;
- a metric fraction needs its unit and has 2, 4, 5 or 10 below the line (`1/2 mm`); a fraction without a unit
  where the survey is in mm is refused, because it was almost surely read off an inch scale;
- a comma with three digits after it (`1,234`) is refused, since it may be a decimal or a thousand;
  `203,2` and `0,125` are decimal commas.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Literal

from wizard.readings.figures import FIGURE, Wanted, read_figure, shown, tidy
from wizard.readings.refused import Refused
from wizard.readings.written import write_fraction_about, write_length, write_with_doubt

__all__ = [
    "Signs",
    "Unit",
    "read_length",
    "write_fraction_about",
    "write_length",
    "write_with_doubt",
]

Unit = Literal["in", "mm"]
Signs = tuple[str, str] | tuple[()]

LONGEST_MM = 100_000
"""A length over 100 m is a slip on any car."""

_SIZES = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000)}
_SIZES |= {"in": Fraction(127, 5), "ft": Fraction(1524, 5)}
_IMPERIAL = {"in", "ft"}
_METRIC_DENOMINATORS = (2, 4, 5, 10)

_SPELLINGS = {
    "mm": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    "cm": ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    "m": ("m", "metre", "metres", "meter", "meters"),
    "in": ("in", "inch", "inches", "ins", '"'),
    "ft": ("ft", "foot", "feet", "'"),
}
_UNITS = {spelling: unit for unit, spellings in _SPELLINGS.items() for spelling in spellings}

# A hyphen may part feet from inches (6'-8"), but only before a figure.
_PIECE = re.compile(rf"(?P<figure>{FIGURE})\s*(?P<unit>[^\W\d_]+\.?|[\"'])?(?:\s*-(?=[0-9])|\s+)?")


def read_length(text: str, unit: Unit, signs: Signs = ()) -> Fraction:
    """Exact millimeters of a typed length; a bare number is in `unit`.

    `signs` is (word for plus, word for minus), such as ("low", "high"); neither may be the name of
    a unit. Only with it may the value carry a sign or one of the words; with it, a size alone is
    plus.

    Raises Refused with one sentence.

    >>> read_length("25 7/8", "in")
    Fraction(26289, 40)
    >>> read_length("1/16 high", "in", ("low", "high"))
    Fraction(-127, 80)
    >>> read_length("3 m 2 in", "in")
    Traceback (most recent call last):
    wizard.readings.refused.Refused: The units in “3 m 2 in” disagree: use one kind, for example 25 7/8 in.
    """
    wanted = _wanted(unit, signs)
    line = tidy(text, wanted)
    sign, body = _take_sign(line, signs, wanted)
    if not any(c in "0123456789" for c in body):
        raise Refused(f"There is no figure in {shown(text)}: give a length", wanted.like)
    mm = _total(_pieces(body, wanted), body, unit, wanted)
    if mm > LONGEST_MM:
        raise Refused("That is over 100 m, longer than any car: look at the unit", wanted.like)
    return sign * mm


def _wanted(unit: Unit, signs: Signs) -> Wanted:
    if signs:
        return Wanted("a length", f"1/16 {signs[0]}" if unit == "in" else f"1.5 {signs[0]}")
    return Wanted("a length", "25 7/8 in" if unit == "in" else "657 mm")


def _take_sign(line: str, signs: Signs, wanted: Wanted) -> tuple[int, str]:
    """+1 or -1, and the text without its sign or side word."""
    mark, body = (line[0], line[1:].strip()) if line[0] in "+-" else ("", line)
    if mark and not signs:
        raise Refused("A plus or minus has no meaning here: give the size alone", wanted.like)
    for word, sign in zip(signs, (1, -1), strict=False):
        match = re.search(rf"(?<![^\W\d_]){re.escape(word.lower())}$", body)
        if match and mark:
            raise Refused(f"Say which way once, by {' or '.join(signs)} or by a sign", wanted.like)
        if match:
            return sign, body[: match.start()].strip()
    return (-1 if mark == "-" else 1), body


def _pieces(body: str, wanted: Wanted) -> list[tuple[str, str]]:
    """Figure and unit, pair by pair, `6' 8 1/2"` as [("6", "ft"), ("8 1/2", "in")]; no unit is ""."""
    pieces: list[tuple[str, str]] = []
    at = 0
    while at < len(body):
        match = _PIECE.match(body, at)
        if match is None:
            raise _unread(body[at:], wanted)
        word = (match["unit"] or "").rstrip(".")
        if word and word not in _UNITS:
            raise _unread(word, wanted)
        pieces.append((match["figure"], _UNITS[word] if word else ""))
        at = match.end()
    return pieces


def _unread(rest: str, wanted: Wanted) -> Refused:
    if (word := re.match(r"[^\W\d_]+", rest)) and word[0].isalpha():
        units = "in, ft, mm, cm or m"
        return Refused(
            f"{shown(word[0])} is not a unit this program knows: use {units}", wanted.like
        )
    return Refused(f"{shown(rest)} cannot be read as part of a length", wanted.like)


def _total(pieces: list[tuple[str, str]], body: str, unit: Unit, wanted: Wanted) -> Fraction:
    """Millimeters of one figure, or of feet with inches."""
    units = [u for _, u in pieces]
    if len(pieces) == 1:
        return _single(*pieces[0], unit, wanted)
    if len(pieces) == 2 and units[0] == "ft" and units[1] in ("in", ""):
        return _feet_and_inches(pieces[0][0], pieces[1][0], wanted)
    if {u in _IMPERIAL for u in units if u} == {True, False}:
        raise Refused(f"The units in {shown(body)} disagree: use one kind", wanted.like)
    raise Refused(
        f"{shown(body)} has more than one figure: give one, with one unit after it", wanted.like
    )


def _single(figure: str, own: str, unit: Unit, wanted: Wanted) -> Fraction:
    if not own and unit == "mm" and "/" in figure:
        raise Refused(
            f"{shown(figure)} needs its unit, since this survey is in mm", "7/8 in or 1/2 mm"
        )
    name = own or unit
    if name not in _IMPERIAL:
        wanted = Wanted(
            wanted.what, "1/2 mm" if "/" in figure else wanted.like, _METRIC_DENOMINATORS
        )
    return read_figure(figure, wanted) * _SIZES[name]


def _feet_and_inches(feet: str, inches: str, wanted: Wanted) -> Fraction:
    whole, rest = read_figure(feet, wanted), read_figure(inches, wanted)
    if whole.denominator != 1:
        raise Refused("Before inches the feet must be a whole number", "6 ft 8 1/2 in")
    if rest >= 12:
        raise Refused("After feet the inches must be under 12", "6 ft 8 1/2 in")
    return whole * _SIZES["ft"] + rest * _SIZES["in"]
