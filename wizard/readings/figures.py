"""Figures as people type them, read to exact numbers: plain ones, lengths, bubbles, other quantities.

1 in = 25.4 mm exactly. The grammar is our own: general unit parsers read `25 7/8 in` and `203,2 cm`
wrongly.

Decisions of the project's own:
- an inch fraction has 2, 4, 8, 16, 32 or 64 below the line, as tapes and rules have; anything else is a slip;
- a metric fraction needs its unit and has 2, 4, 5 or 10 below the line (`1/2 mm`); a fraction without a unit
  where the survey is in mm is refused, because it was almost surely read off an inch scale;
- a comma with three digits after it (`1,234`) is refused, since it may be a decimal or a thousand;
  `203,2` and `0,125` are decimal commas.

Of a quantity pint only converts, and it is imported only when a unit that needs it is met, since
importing it takes longer than the first screen may.
"""

import math
import re
import unicodedata
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from wizard.readings.plain import clean_line, pattern
from wizard.readings.refused import Refused
from wizard.readings.units import DEFINITIONS, KINDS, UNITS, Dimension, Kind

if TYPE_CHECKING:
    from pint import UnitRegistry


# One unsigned figure
# ------------------------------------------------------------------------------------------------


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


class Wanted(NamedTuple):
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
        raise Refused(f"You typed nothing: type {wanted.what}", wanted.like)
    if len(line) > LONGEST or len(text) > 4 * LONGEST:
        raise Refused(
            f"That is too long for {wanted.what}: type just the number and its unit", wanted.like
        )
    line = "".join(_spread(line, i) for i in range(len(line)))
    line = " ".join(line.translate(_SAME).replace("''", '"').lower().split())
    if _NO_NUMBER.search(line):
        raise Refused(f"No tool shows {shown(text)}: type {wanted.what}", wanted.like)
    if _EXPONENT.search(line):
        raise Refused("A number with an e in it is not read: write it out", wanted.like)
    return spoken(line) or line


_HEDGE = (
    r"(?:it(?: is|'s| reads| says) )?"
    r"(?:(?:about|around|approximately|approx|roughly|circa|ca|c)\b\.? ?|[~≈] ?)?"
)
"""What stands before a number and changes nothing in it: every reading has its doubt already."""
_OR_SO = r" (?:or so|approximately|approx\.?|exactly)$"
_ORDINALS = {"half": 2, "quarter": 4, "eighth": 8, "sixteenth": 16}
_ORDINALS |= {"thirty-second": 32, "sixty-fourth": 64, "thirty second": 32, "sixty fourth": 64}
_NUMBERS = (
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"),
    *("eleven", "twelve", "thirteen", "fourteen", "fifteen"),
)
_IN_WORDS = {word: str(n) for n, word in enumerate(_NUMBERS)}
_PART_OF_ONE = (
    rf"(?:\b(?P<top>an?|[0-9]+|{'|'.join(_NUMBERS)})[ -])?"
    rf"\b(?P<part>{'|'.join(_ORDINALS)})s?\b(?: of)?(?: an?\b(?= [a-z]))?"
)
_A_WHOLE = rf"\b(?P<whole>{'|'.join(_NUMBERS)})\b(?! hundred)"
_AND = r"(?:,? and|,? &) (?=[0-9])"
_AS_SHOWN = re.compile(
    r"[-+]?[0-9 ./,-]*[0-9]"
    r"(?: ?(?:\"|mm|in|left|right|low|high|short|past|back|forward|n|g/m|mm/m))?"
)
"""Figures as most are typed, which need no second look."""
_SPLIT_INCHES = r"([0-9]+) ?(in|ins|inch|inches|\")\.? ([0-9]+ ?/ ?[0-9]+)"


def spoken(line: str) -> str:
    """A figure as people say it, in figures: `about 25 and seven eighths` is `25 7/8`.

    line: lower case, with plain marks and single spaces. What is no figure comes back as it was.

    >>> spoken("ca. 25 and a half inches"), spoken("6 feet and 2 inches"), spoken('25" 7/8')
    ('25 1/2 inches', '6 feet 2 inches', '25 7/8 "')
    """
    if _AS_SHOWN.fullmatch(line):
        return line
    line = pattern(_OR_SO).sub("", line[pattern(_HEDGE).match(line).end() :])  # type: ignore[union-attr]
    line = pattern(_PART_OF_ONE).sub(_part, line)
    line = pattern(_A_WHOLE).sub(lambda m: _IN_WORDS[m["whole"]], line)
    line = pattern(_AND).sub(" ", " ".join(line.split()))
    line = re.sub(r"(?<=[0-9]/[0-9])\.$|(?<=[0-9]/[0-9][0-9])\.$", "", line)
    split = pattern(_SPLIT_INCHES).fullmatch(line)
    return split.expand(r"\1 \3 \2") if split else line


def _part(said: re.Match[str]) -> str:
    """`seven eighths` as 7/8; a bare `half` is one of them."""
    top = said["top"] or "1"
    number = "1" if top in ("a", "an") else _IN_WORDS.get(top, top)
    return f" {number}/{_ORDINALS[said['part']]} "


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
    wizard.readings.refused.Refused: The fraction in “25 9/8” comes to 1 or more: ... example 25 7/8.
    """
    match = _FRACTION.fullmatch(text)
    if match is None:
        return _decimal(text, wanted)
    for part in match.groupdict().values():
        if part is not None and not part.isdigit():
            raise Refused(
                f"{shown(text)} mixes a fraction with a decimal: type one or the other", wanted.like
            )
    return int(match["whole"] or 0) + _fraction(
        text, int(match["top"]), int(match["bottom"]), wanted
    )


def _fraction(text: str, top: int, bottom: int, wanted: Wanted) -> Fraction:
    if bottom == 0:
        raise Refused(
            f"The fraction in {shown(text)} has a 0 at the bottom: look again", wanted.like
        )
    if top >= bottom:
        raise Refused(
            f"The fraction in {shown(text)} comes to 1 or more: type the whole number first",
            wanted.like,
        )
    if bottom not in wanted.denominators:
        *most, last = wanted.denominators
        known = f"{', '.join(map(str, most))} or {last}"
        raise Refused(f"The fraction in {shown(text)} needs {known} at the bottom", wanted.like)
    return Fraction(top, bottom)


def _decimal(text: str, wanted: Wanted) -> Fraction:
    """A whole or decimal figure; a comma is a decimal comma unless three digits after it leave that
    open.
    """
    if _THOUSANDS.fullmatch(text):
        either = f"{text.replace(',', '.')} or {text.replace(',', '')}"
        raise Refused(f"{shown(text)} can be read two ways: type the one that you mean", either)
    if text.count(",") > 1 or ("," in text and "." in text):
        raise Refused(f"Leave out the marks between the thousands of {shown(text)}", wanted.like)
    if not _DECIMAL.fullmatch(text):
        raise Refused(f"{shown(text)} is not a number: type {wanted.what}", wanted.like)
    return Fraction(text.replace(",", "."))


# Lengths
# ------------------------------------------------------------------------------------------------


Unit = Literal["in", "mm"]
Signs = tuple[str, str] | tuple[()]

LONGEST_MM = 100_000
"""A length over 100 m is a slip on any car."""

_SIZES = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000)}
_SIZES |= {"in": Fraction(127, 5), "ft": Fraction(1524, 5)}
_IMPERIAL = {"in", "ft"}
_NO_GAP = {"even", "flush", "exact", "no gap", "dead on", "spot on"}
"""What people say of a gap with a way where there is none."""
_METRIC_DENOMINATORS = (2, 4, 5, 10)

_SPELLINGS = {
    "mm": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    "cm": ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    "m": ("m", "metre", "metres", "meter", "meters"),
    "in": ("in", "inch", "inches", "ins", '"'),
    "ft": ("ft", "foot", "feet", "'"),
}
_LENGTH_UNITS = {spelling: unit for unit, spellings in _SPELLINGS.items() for spelling in spellings}

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
    wizard.readings.refused.Refused: “3 m 2 in” mixes metric with inches or feet: ... example 25 7/8 in.
    """
    wanted = _wanted(unit, signs)
    line = tidy(text, wanted)
    if signs and line in _NO_GAP:
        return Fraction(0)
    sign, body = _take_sign(line, signs, wanted)
    if not any(c in "0123456789" for c in body):
        raise Refused(f"There is no number in {shown(text)}: type a length", wanted.like)
    mm = _total(_pieces(body, wanted), body, unit, wanted)
    if mm > LONGEST_MM:
        raise Refused("That is over 100 m, longer than any car: check the unit", wanted.like)
    return sign * mm


def _wanted(unit: Unit, signs: Signs) -> Wanted:
    if signs:
        return Wanted("a length", f"1/16 {signs[0]}" if unit == "in" else f"1.5 {signs[0]}")
    return Wanted("a length", "25 7/8 in" if unit == "in" else "657 mm")


def _take_sign(line: str, signs: Signs, wanted: Wanted) -> tuple[int, str]:
    """+1 or -1, and the text without its sign or side word."""
    mark, body = (line[0], line[1:].strip()) if line[0] in "+-" else ("", line)
    if mark and not signs:
        raise Refused("A length takes no plus or minus: type the size alone", wanted.like)
    for word, sign in zip(signs, (1, -1), strict=False):
        rest = _without_word(word.lower(), body)
        if rest is not None and mark:
            raise Refused(f"Say which way only once: {' or '.join(signs)}, or a sign", wanted.like)
        if rest is not None:
            return sign, rest
    return (-1 if mark == "-" else 1), body


def _without_word(word: str, body: str) -> str | None:
    """A size without the word for its way, which stands behind it or before it; None where it has
    none.
    """
    if word not in body:
        return None
    way = rf"(?:too |to (?:the )?)?{re.escape(word)}"
    behind = re.search(rf"(?<![^\W\d_]){way}\.?$", body)
    if behind:
        return body[: behind.start()].strip()
    before = re.match(rf"{way}(?: by)?[ :]+(?=[0-9.])", body)
    return body[before.end() :] if before else None


def _pieces(body: str, wanted: Wanted) -> list[tuple[str, str]]:
    """Figure and unit, pair by pair, `6' 8 1/2"` as [("6", "ft"), ("8 1/2", "in")]; no unit is ""."""
    pieces: list[tuple[str, str]] = []
    at = 0
    while at < len(body):
        match = _PIECE.match(body, at)
        if match is None:
            raise _unread(body[at:], wanted)
        word = (match["unit"] or "").rstrip(".")
        if word and word not in _LENGTH_UNITS:
            raise _unread(word, wanted)
        pieces.append((match["figure"], _LENGTH_UNITS[word] if word else ""))
        at = match.end()
    return pieces


def _unread(rest: str, wanted: Wanted) -> Refused:
    if (word := re.match(r"[^\W\d_]+", rest)) and word[0].isalpha():
        units = "in, ft, mm, cm or m"
        return Refused(
            f"{shown(word[0])} is not a unit that is known here: use {units}", wanted.like
        )
    return Refused(f"{shown(rest)} is no part of a length: type the length alone", wanted.like)


def _total(pieces: list[tuple[str, str]], body: str, unit: Unit, wanted: Wanted) -> Fraction:
    """Millimeters of one figure, or of feet with inches."""
    units = [u for _, u in pieces]
    if len(pieces) == 1:
        return _single(*pieces[0], unit, wanted)
    if len(pieces) == 2 and units[0] == "ft" and units[1] in ("in", ""):
        return _feet_and_inches(pieces[0][0], pieces[1][0], wanted)
    if {u in _IMPERIAL for u in units if u} == {True, False}:
        raise Refused(f"{shown(body)} mixes metric with inches or feet: use one kind", wanted.like)
    raise Refused(
        f"{shown(body)} has more than one number: type one, with one unit after it", wanted.like
    )


def _single(figure: str, own: str, unit: Unit, wanted: Wanted) -> Fraction:
    if not own and unit == "mm" and "/" in figure:
        raise Refused(
            f"This survey is in mm: type the unit after {shown(figure)}", "7/8 in or 1/2 mm"
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
        raise Refused("Type whole feet before the inches", "6 ft 8 1/2 in")
    if rest >= 12:
        raise Refused("Type fewer than 12 inches after the feet", "6 ft 8 1/2 in")
    return whole * _SIZES["ft"] + rest * _SIZES["in"]


# Bubbles of a level
# ------------------------------------------------------------------------------------------------


Scale = Literal["divisions", "degrees", "shim"]

_MOST: dict[Scale, tuple[int, str]] = {
    "divisions": (20, "20 lines of the level"),
    "degrees": (45, "45 degrees"),
    "shim": (100, "100 mm of shim"),
}
"""Beyond these the figure is a slip, or the level tells nothing; the project's own bounds."""

_SIDES = {"left": 1, "l": 1, "right": -1, "r": -1}
_SCALES: dict[str, Scale] = {
    **dict.fromkeys(("", "div", "divs", "division", "divisions"), "divisions"),
    **dict.fromkeys(("line", "lines", "mark", "marks"), "divisions"),
    **dict.fromkeys(("°", "deg", "degs", "degree", "degrees"), "degrees"),
}
_LEVEL = {"level", "center", "centered", "dead level", "dead center", "in the middle", "middle"}

# Parts of a division are judged by eye, so thirds and fifths are as good as quarters.
_BY_EYE = (2, 3, 4, 5, 8, 10)

_WAY = (
    r"(?:high(?:er)? (?:side )?(?:is )?)?(?:(?:to|on) )?(?:the )?"
    r"(?P<side>left|right|l|r)\.?(?: side)?(?: is)?(?: high(?:er)?)?"
)
_SIDE_BEHIND = re.compile(rf"(?<![^\W\d_]){_WAY}$")
_SIDE_BEFORE = re.compile(rf"{_WAY}(?: by)?[ :,]+(?=[0-9.])")
_AMOUNT = re.compile(rf"(?P<figure>{FIGURE})\s*(?P<unit>\D*)")


class Bubble(NamedTuple):
    """One reading of a level."""

    kind: Scale
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
        raise Refused("Type the high side, not a plus or minus", "2 left or 2 right")
    side, amount = _take_side(line)
    kind, size = _read_amount(amount, unit, wanted)
    most, words = _MOST[kind]
    if size > most:
        raise Refused(f"That is over {words}: read it once more", wanted.like)
    if size and not side:
        raise Refused(
            "Say which side is high", f"{shown_amount(amount)} left or {shown_amount(amount)} right"
        )
    return Bubble(kind, size * (_SIDES[side] if side else 1))


def _take_side(line: str) -> tuple[str, str]:
    """The word for the high side, empty where none is named, and what stands beside it."""
    if side := _SIDE_BEHIND.search(line):
        return side["side"], line[: side.start()].strip(" ,:")
    if side := _SIDE_BEFORE.match(line):
        return side["side"], line[side.end() :]
    return "", line


def shown_amount(amount: str) -> str:
    """The typed amount, as it is put into an example."""
    return shown(amount).strip("“”")


def _read_amount(amount: str, unit: Unit, wanted: Wanted) -> tuple[Scale, Fraction]:
    match = _AMOUNT.fullmatch(amount)
    if match and (kind := _SCALES.get(match["unit"].strip().rstrip("."))):
        return kind, read_figure(match["figure"], wanted)
    if not any(c in "0123456789" for c in amount):
        raise Refused(
            f"There is no number in {shown(amount) if amount else 'that'}: type {wanted.what}",
            wanted.like,
        )
    try:
        return "shim", read_length(amount, unit)
    except Refused as refusal:
        shim = "1/16 in left" if unit == "in" else "1.5 mm left"
        raise Refused(refusal.said, f"2 left, 0.3° left or {shim}") from refusal


# Angles with a way, off a gauge that hangs or stands
# ------------------------------------------------------------------------------------------------


MOST_DEGREES = 60
"""Beyond it no axle, wheel or shackle stands; the project's own bound."""
_MINUTES = r"(?P<whole>[0-9]{1,2}) ?(?:°|deg(?:rees?)?\.?) ?(?P<minutes>[0-9]{1,2}) ?(?:'|min(?:utes?)?\.?)"


def read_angle(text: str, signs: Signs) -> Fraction:
    """Exact degrees of a typed angle, plus for the first of the two words; a bare number is
    degrees.

    signs: the words for its two ways, such as ("back", "forward"). Raises Refused with one sentence.

    >>> read_angle("2 1/2 back", ("back", "forward")), read_angle("0.3° forward", ("back", "forward"))
    (Fraction(5, 2), Fraction(-3, 10))
    >>> read_angle("7° 30' back", ("back", "forward"))
    Fraction(15, 2)
    >>> read_angle("5", ("back", "forward"))
    Traceback (most recent call last):
    wizard.readings.refused.Refused: Say which way it leans, for example 5 back or 5 forward.
    """
    wanted = Wanted("an angle and its way", f"1.5 {signs[0]}" if signs else "1.5", _BY_EYE)
    line = tidy(text, wanted)
    if line in _UPRIGHT:
        return Fraction(0)
    if line[0] in "+-":
        raise Refused("Type the way it leans, not a plus or minus", wanted.like)
    sign, body = _take_sign(line, signs, wanted)
    size = _degrees(body, wanted)
    if size > MOST_DEGREES:
        raise Refused(f"That is over {MOST_DEGREES} degrees: read it once more", wanted.like)
    if size and signs and body == line:
        said = shown_amount(body)
        raise Refused("Say which way it leans", f"{said} {signs[0]} or {said} {signs[1]}")
    return sign * size


_UPRIGHT = {"upright", "plumb", "level", "square", "none"}


def _degrees(body: str, wanted: Wanted) -> Fraction:
    """The size alone, in degrees; a book may give minutes of them."""
    if in_minutes := pattern(_MINUTES).fullmatch(body):
        return int(in_minutes["whole"]) + Fraction(int(in_minutes["minutes"]), 60)
    match = _AMOUNT.fullmatch(body)
    if match is None or _SCALES.get(match["unit"].strip().rstrip(".")) is None:
        raise Refused(f"{shown(body)} is no angle: type {wanted.what}", wanted.like)
    if match["unit"].strip() and _SCALES[match["unit"].strip().rstrip(".")] != "degrees":
        raise Refused(f"{shown(body)} is no angle: type {wanted.what}", wanted.like)
    return read_figure(match["figure"], wanted)


# Other quantities: pull, line mass, slope, angle, mass, temperature, distance driven
# ------------------------------------------------------------------------------------------------


_QUANTITY = rf"(?P<figure>{FIGURE})\s*(?P<unit>[^\d\s+-][^\d+-]*)?"


def read_quantity(text: str, dimension: Dimension) -> float:
    """The value in the dimension's own unit.

    force N, line_mass kg/m, slope mm/m, angle degrees, mass kg, temperature °C, distance km. A
    slope may be typed as an angle, and comes back as 1000 times its tangent. The unit must be
    typed.

    Raises Refused with one sentence: no unit, an unknown or unfitting one, NaN, infinities,
    exponents, a sign where there is none, an implausible size.

    >>> read_quantity("30 N", "force")
    30.0
    >>> read_quantity("3 kg", "force")
    Traceback (most recent call last):
    wizard.readings.refused.Refused: “kg” is not a unit of a pull: use one that is, ... 7 lbf.
    """
    kind = KINDS[dimension]
    wanted = Wanted(kind.what, kind.like)
    sign, body = _sign_of_quantity(tidy(text, wanted), kind, wanted)
    match = pattern(_QUANTITY).fullmatch(body)
    if match is None:
        raise Refused(f"{shown(text)} is not {kind.what}: type a number and its unit", kind.like)
    if match["unit"] is None:
        raise Refused(f"Type the unit after {shown(text)}", kind.like)
    value = sign * float(read_figure(match["figure"], wanted))
    result = _convert(value, match["unit"], kind)
    if not kind.low <= result <= kind.high or (kind.above and result == kind.low):
        raise Refused(
            f"{shown(text)} is not a likely size for {kind.what}: check the number and the unit",
            kind.like,
        )
    return result


def _sign_of_quantity(line: str, kind: Kind, wanted: Wanted) -> tuple[int, str]:
    if line[0] not in "+-":
        return 1, line
    if kind.low >= 0:
        raise Refused(
            f"Leave out the plus or minus of {kind.what}: type the size alone", wanted.like
        )
    return (-1 if line[0] == "-" else 1), line[1:].strip()


def _convert(value: float, typed: str, kind: Kind) -> float:
    unit = _unit(typed, kind)
    if unit in kind.plain:
        return value * kind.plain[unit]
    registry = _registry()
    # Built from value and unit, never by multiplying: pint refuses a product with an offset unit
    # such as °F.
    quantity = registry.Quantity(value, unit)
    if kind.own == "millimeter/meter" and quantity.check("[angle]"):
        radians = quantity.to("radian").magnitude
        return math.tan(radians) * 1000 if radians < math.pi / 4 else math.inf
    if not _fits(registry, unit, kind):
        raise Refused(f"{shown(typed)} is not a unit of {kind.what}: use one that is", kind.like)
    return float(quantity.to(kind.own).magnitude)


def _fits(registry: "UnitRegistry[Any]", unit: str, kind: Kind) -> bool:
    """True where above and below the slash agree with the own unit: kg/kg is a ratio, but no slope."""
    parts, own = unit.split("/"), kind.own.split("/")
    pairs = zip(parts, own, strict=False)
    return len(parts) == len(own) and all(registry.Unit(a).is_compatible_with(b) for a, b in pairs)


def _unit(typed: str, kind: Kind) -> str:
    """The unit as the definitions name it; one slash at most, nothing else is worked out."""
    parts = [
        part.strip().rstrip(".").replace("° ", "°")
        for part in typed.replace(" per ", "/").split("/")
    ]
    if len(parts) > 2 or any(part not in UNITS for part in parts):
        raise Refused(f"{shown(typed)} is not a known unit for {kind.what}: use another", kind.like)
    return "/".join(UNITS[part] for part in parts)


@cache
def _registry() -> "UnitRegistry[Any]":
    from pint import UnitRegistry

    return UnitRegistry(DEFINITIONS.strip().splitlines())
