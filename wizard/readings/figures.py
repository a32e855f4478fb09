"""One unsigned figure as people type it: whole, decimal, fraction, or whole and fraction.

Exact, no units.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused

LONGEST = 60
"""Characters beyond which a text is no measurement."""

_BLOB = r"[0-9.,]+"
FIGURE = rf"(?:{_BLOB}(?:\s+|-))?{_BLOB}\s?/\s?{_BLOB}|{_BLOB}"
"""Pattern of anything that looks like one figure; `read_figure` says whether it is one."""

_FRACTION = re.compile(
    rf"(?:(?P<whole>{_BLOB})(?:\s+|-))?(?P<top>{_BLOB})\s?/\s?(?P<bottom>{_BLOB})"
)
_NO_NUMBER = re.compile(r"(?<![^\W\d_])(nan|inf|infinity)(?![^\W\d_])|∞")
_EXPONENT = re.compile(r"[0-9.,]\s*e\s*[+-]?[0-9]")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_DECIMAL = re.compile(r"[0-9]+|[0-9]*[.,][0-9]+")

_VULGAR = {
    char: unicodedata.normalize("NFKC", char)
    for char in map(chr, [*range(0xBC, 0xBF), *range(0x2150, 0x2160), 0x2189])
}
_SAME = str.maketrans(
    {"⁄": "/", "∕": "/", "″": '"', "“": '"', "”": '"', "˝": '"', "ʺ": '"', "º": "°", "˚": "°"}
    | dict.fromkeys("′’‘´`ʹ", "'")
    | dict.fromkeys("‐‑‒–—−﹣－", "-")
)


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a prompt asks for, so that every refusal can end in an example of it."""

    what: str
    """With its article: "a length"."""
    like: str
    """An answer that would be taken."""
    denominators: tuple[int, ...] = (2, 4, 8, 16, 32, 64)
    """What may stand below the line of a fraction."""


def shown(text: str) -> str:
    """A few characters of what was typed, in quotation marks, safe to repeat on a screen."""
    return f"“{clean_line(text, 20)}”"


def tidy(text: str, wanted: Wanted) -> str:
    """Lower case, plain marks, single spaces.

    Raises Refused for an empty or overlong text, for NaN and infinities, and for exponents.

    >>> tidy("6’ 8½”", Wanted("a length", "25 7/8 in"))
    '6\\' 8 1/2 "'
    """
    # Cut first: a pasted book must not be worked through before it is refused.
    line = clean_line(text[: 4 * LONGEST], 4 * LONGEST)
    if not line and len(text) <= 4 * LONGEST:
        raise Refused(f"Nothing was typed: give {wanted.what}", wanted.like)
    if len(line) > LONGEST or len(text) > 4 * LONGEST:
        raise Refused(
            f"That is too long to be {wanted.what}: type the figure and its unit", wanted.like
        )
    line = "".join(_spread(line, i) for i in range(len(line)))
    line = " ".join(line.translate(_SAME).replace("''", '"').lower().split())
    if _NO_NUMBER.search(line):
        raise Refused(
            f"{shown(text)} is not a figure that a tool can show: give {wanted.what}", wanted.like
        )
    if _EXPONENT.search(line):
        raise Refused("A figure with an exponent is not read: write it out", wanted.like)
    return line


def _spread(line: str, i: int) -> str:
    """A vulgar fraction as digits, kept apart from digits beside it: 25⅞ is 25 7/8, and 1⅓2 is not
    1 1/32.
    """
    if line[i] not in _VULGAR:
        return line[i]
    return (" " if i and line[i - 1].isdigit() else "") + _VULGAR[line[i]] + " "


def read_figure(text: str, wanted: Wanted) -> Fraction:
    """The exact value of one tidy figure.

    >>> read_figure("25 7/8", Wanted("a length", "25 7/8"))
    Fraction(207, 8)
    >>> read_figure("25 9/8", Wanted("a length", "25 7/8"))
    Traceback (most recent call last):
    wizard.readings.refused.Refused: The fraction in “25 9/8” is one or more: write ... example 25 7/8.
    """
    match = _FRACTION.fullmatch(text)
    if match is None:
        return _decimal(text, wanted)
    for part in match.groupdict().values():
        if part is not None and not part.isdigit():
            raise Refused(
                f"{shown(text)} mixes a fraction with a decimal: use one or the other", wanted.like
            )
    return int(match["whole"] or 0) + _fraction(
        text, int(match["top"]), int(match["bottom"]), wanted
    )


def _fraction(text: str, top: int, bottom: int, wanted: Wanted) -> Fraction:
    if bottom == 0:
        raise Refused(
            f"The fraction in {shown(text)} has 0 below the line: look again", wanted.like
        )
    if top >= bottom:
        raise Refused(
            f"The fraction in {shown(text)} is one or more: write whole and remainder", wanted.like
        )
    if bottom not in wanted.denominators:
        *most, last = wanted.denominators
        known = f"{', '.join(map(str, most))} or {last}"
        raise Refused(
            f"The fraction in {shown(text)} should have {known} below the line", wanted.like
        )
    return Fraction(top, bottom)


def _decimal(text: str, wanted: Wanted) -> Fraction:
    """A whole or decimal figure; a comma is a decimal comma unless three digits after it leave that
    open.
    """
    if _THOUSANDS.fullmatch(text):
        either = f"{text.replace(',', '.')} or {text.replace(',', '')}"
        raise Refused(
            f"{shown(text)} may be a decimal or a thousand: write the one that is meant", either
        )
    if text.count(",") > 1 or ("," in text and "." in text):
        raise Refused(f"{shown(text)} has marks between its thousands: leave them out", wanted.like)
    if not _DECIMAL.fullmatch(text):
        raise Refused(f"{shown(text)} is not one figure: give {wanted.what}", wanted.like)
    return Fraction(text.replace(",", "."))
