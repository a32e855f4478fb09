"""How warm it is where the car stands, and whether a side of it stands in the sun, as it is
typed.
"""

from __future__ import annotations

from wizard.readings.plain import pattern
from wizard.readings.refused import Refused

LEFT, RIGHT, BOTH = "left", "right", "both"
LIKE = "64 F, sun on the left"
_WARM = (
    r"(?i)(?:about |ca\.? ?|~ ?)?(-?\d{1,3}(?:[.,]\d+)?) ?(?:°|deg(?:rees?|\.)?)? ?"
    r"(c(?:elsius)?|f(?:ahrenheit)?)?(?![a-z0-9])"
)
_SUN = r"(?i)\b(?:sun|sunshine|sunlight)\b"
_NO_SUN = (
    r"(?i)\b(?:no|without|not in|never in|out of|kept off|behind)\b[^,;]{0,12}\bsun(?:shine|light)?\b"
    r"|\bsun(?:shine|light)? (?:kept )?off\b"
)
_SIDE = r"(left|right|both)\b(?: (?:hand )?(?:sides?|rails?))?"
_ON = (
    r"(?i)\bsun(?:shine|light)?\b(?: (?:is|was|stood|shines|shone|falls|fell|came|comes))?"
    rf"(?: in)?(?: on| at| from| to| over)?(?: the| its)? ?{_SIDE}"
)
_IN = (
    rf"(?i)\b{_SIDE}(?: (?:is|are|was|were|stands?|stood|lies|lay))?(?: partly| half)?"
    r"(?: in)?(?: the| full)? sun(?:shine|light)?\b"
)


def read_warmth(text: str, unit: str) -> tuple[str, float | None]:
    """How warm it is, as it is kept, and in °C where it is a number. A bare one is Fahrenheit
    beside inches, else Celsius. What is said of the sun behind it is kept as it was typed.

    >>> read_warmth("50", "in"), read_warmth("about 18 C", "in"), read_warmth("warm", "mm")
    (('50 F', 10.0), ('about 18 C', 18.0), ('warm', None))
    >>> read_warmth("18, sun on the left", "mm")
    ('18 C, sun on the left', 18.0)
    """
    text = text.strip(" .")
    match = pattern(_WARM).match(text.replace("\u2212", "-"))
    rest = text[match.end() :] if match else ""
    if match is None or (rest and not pattern(_SUN).search(rest)):
        return text, None
    value, named = float(match[1].replace(",", ".")), (match[2] or "")[:1].upper()
    scale = named or ("F" if unit == "in" else "C")
    kept = text if named else f"{text[: match.end()].strip()} {scale}{_parted(rest)}"
    return kept, (value - 32) / 1.8 if scale == "F" else value


def _parted(rest: str) -> str:
    """What is said behind the number, with a comma between."""
    return f", {rest.strip(' ,;')}" if rest.strip(" ,;") else ""


def read_sun(text: str) -> str:
    """The side that stands in the sun: left, right or both; empty where nothing is said of the sun,
    or that there is none. Raises Refused where the sun is named and no side.

    >>> read_sun("64 F, sun on the left"), read_sun("18 C, right rail in the sun"), read_sun("64 F")
    ('left', 'right', '')
    >>> read_sun("64 F, no sun"), read_sun("sun on both sides")
    ('', 'both')
    """
    if "sun" not in text.lower() or not pattern(_SUN).search(text) or pattern(_NO_SUN).search(text):
        return ""
    match = pattern(_ON).search(text) or pattern(_IN).search(text)
    if match is None:
        raise Refused("Say which side stands in the sun, left, right or both", LIKE)
    return match[1].lower()


def sun_in(text: str) -> str:
    """The same of what a file holds: empty where no side can be made out."""
    try:
        return read_sun(text)
    except Refused:
        return ""
