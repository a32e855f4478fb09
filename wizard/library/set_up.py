"""What an owner says of a frame of a kind that nobody has authored: the keys under which his
answers are kept, how each is read, and what cannot be, alone or beside the others.
"""

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Literal, NamedTuple

from wizard.library.marks import KICKS, PAIRS_SAID, WITH_HORNS
from wizard.readings.figures import read_length
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.readings.written import write_fraction_about

Unit = Literal["in", "mm"]
POINT_KINDS = ("rivet", "hole", "bolt", "edge")
"""What a pair's points may be: content/tools.toml gives each its doubt."""
LONGEST_NAME = 18
"""Characters: two of them stand in one line, with the reading between them."""
FEWEST, MOST = min(PAIRS_SAID.values()), max(PAIRS_SAID.values())
"""Pairs of points: three make two boxes; of more than six nobody tapes every box twice."""

PAIRS, HEIGHTS, RAILS, JOINTS, HORNS = (
    f"frame.{key}" for key in ("pairs", "heights", "rails", "joints", "horns")
)
"""Keys of what is chosen."""
NAME, BEHIND, ACROSS, UP = (f"frame.{key}" for key in ("name", "behind", "across", "up"))
"""Begin the keys of what is asked of each pair; its number stands behind."""
TIP_AHEAD, TIP_ACROSS, DEPTH, MOUNT = (
    f"frame.{key}" for key in ("tip-ahead", "tip-across", "depth", "mount")
)
FRONT_AXLE, REAR_AXLE, STRING_FROM, STRING_TO = (
    f"frame.{key}" for key in ("front-axle", "rear-axle", "string-from", "string-to")
)
"""Keys of lengths."""
NONE = "-"
"""Said where there is none, or nobody knows."""


def of_pair(key: str, number: int) -> str:
    """The key of what is said of a pair; the foremost is 1."""
    return f"{key}-{number}"


class Span(NamedTuple):
    """Between what a length lies on every frame that is surveyed here, mm (this project's own)."""

    low: float
    high: float
    signs: tuple[str, ...] = ()
    """Words for plus and minus, where it may be either."""
    what: str = ""


WAYS = ("behind", "ahead")
SPANS: Mapping[str, Span] = {
    **{of_pair(BEHIND, n): Span(250 * (n - 1), 6000, (), "a pair") for n in range(2, MOST + 1)},
    **{of_pair(ACROSS, n): Span(200, 2200, (), "a width") for n in range(1, MOST + 1)},
    **{of_pair(UP, n): Span(-600, 600, ("up", "down"), "a height") for n in range(2, MOST + 1)},
    TIP_AHEAD: Span(150, 1500, (), "a horn"),
    TIP_ACROSS: Span(200, 2200, (), "a width"),
    DEPTH: Span(30, 400, (), "a rail's depth"),
    MOUNT: Span(50, 3000, (), "an engine mount"),
    FRONT_AXLE: Span(-1500, 1500, WAYS, "a front axle"),
    REAR_AXLE: Span(800, 7000, (), "a rear axle"),
    STRING_FROM: Span(-1500, 4000, WAYS, "a straight stretch"),
    STRING_TO: Span(400, 7000, (), "a straight stretch"),
}
"""Of each length."""
NAMES = tuple(of_pair(NAME, n) for n in range(1, MOST + 1))
KEYS = frozenset((PAIRS, HEIGHTS, RAILS, JOINTS, HORNS, *NAMES, *SPANS))
"""All of them."""
APART, STRAIGHT, BASE = 250.0, 700.0, 1000.0
"""mm at least between two pairs, of the straight stretch, and between the axles: a shorter box
hardly fixes its angle, and on a shorter string a bend hardly shows (this project's own)."""
BEYOND = 1500.0
"""mm at most by which the straight stretch ends behind the last pair."""
EMPTY: Mapping[str, str] = {}


# Read ---------------------------------------------------------------------------------------------


@lru_cache(maxsize=1024)
def length_at(key: str, typed: str, unit: Unit = "mm") -> float:
    """A length in mm, with its sign. Raises Refused for what is none, or is on no frame."""
    span = SPANS[key]
    signs = (span.signs[0], span.signs[1]) if span.signs else ()
    value = float(read_length(typed, unit, signs))
    if span.low <= value <= span.high:
        return value
    low, high = (_about(abs(x), unit) for x in (span.low, span.high))
    said = write_fraction_about(abs(value), unit)
    if span.low < 0:
        raise Refused(f"Here {span.what} is at most {high} off, and {said} is more")
    raise Refused(f"Here {span.what} is between {low} and {high}, and {said} is not")


def with_unit(key: str, typed: str, unit: Unit) -> str:
    """A bare number with its unit behind it, before the word for the way: it must mean the same in
    a survey in the other unit.

    >>> with_unit(FRONT_AXLE, "5 ahead", "in"), with_unit(DEPTH, "100 mm", "in")
    ('5 in ahead', '100 mm')
    """
    words = "|".join(SPANS[key].signs) or "$^"
    match = re.fullmatch(rf"([^a-z\"']*?)\s*({words})?", typed.strip(), re.IGNORECASE)
    if match is None:
        return typed.strip()
    return " ".join(part for part in (match[1], unit, match[2]) if part)


def name_at(typed: str) -> tuple[str, str]:
    """Name of a pair and what its points are: `cowl bracket, hole`. Raises Refused."""
    words = re.sub(r"[{},;]", " ", clean_line(typed, 80)).split()
    kinds = [w.lower().rstrip("s.") for w in words if w.lower().rstrip("s.") in POINT_KINDS]
    if len(kinds) != 1:
        raise Refused(
            f"Say what it is and which it has, {', '.join(POINT_KINDS[:-1])} or {POINT_KINDS[-1]}",
            "cowl bracket, hole",
        )
    name = " ".join(w for w in words if w.lower().rstrip("s.") not in POINT_KINDS)
    if not any(c.isalpha() for c in name) or len(name) > LONGEST_NAME:
        raise Refused(
            f"A pair needs a short name, at most {LONGEST_NAME} characters", "cowl bracket, hole"
        )
    return name, kinds[0]


def taken(key: str, typed: str, unit: Unit) -> str:
    """An answer as it is kept. Raises Refused."""
    if key in NAMES:
        return ", ".join(name_at(typed))
    length_at(key, typed, unit)
    return with_unit(key, typed, unit)


# What cannot be beside the others -----------------------------------------------------------------


def pairs_in(said: Mapping[str, str]) -> int:
    """How many pairs there are; the fewest as long as nobody has said it."""
    return PAIRS_SAID.get(said.get(PAIRS, ""), FEWEST)


def lengths_in(said: Mapping[str, str]) -> dict[str, float]:
    """Every length that was said and can be one, mm."""
    found = {}
    for key, typed in said.items():
        if key in SPANS:
            try:
                found[key] = length_at(key, typed)
            except Refused:
                continue
    return found


class Order(NamedTuple):
    """Of two lengths the second is so much larger than the first, on any frame."""

    first: str
    second: str
    least: float
    says: str
    """With {least} for how much."""


def orders(pairs: int) -> Iterator[Order]:
    """What is larger than what. pairs: how many there are."""
    for behind in range(3, pairs + 1):
        for ahead in range(2, behind):
            yield Order(
                of_pair(BEHIND, ahead),
                of_pair(BEHIND, behind),
                APART * (behind - ahead),
                f"Pair {behind} must be at least {{least}} behind pair {ahead}",
            )
    last = of_pair(BEHIND, pairs)
    yield Order(STRING_FROM, STRING_TO, STRAIGHT, "A straight stretch must be {least} at least")
    yield Order(FRONT_AXLE, REAR_AXLE, BASE, "The rear axle must be {least} behind the front one")
    yield Order(MOUNT, last, 0.0, "The engine mount cannot be behind the last pair")
    yield Order(STRING_TO, last, -BEYOND, "The stretch ends too far behind the last pair")
    yield Order(STRING_FROM, last, STRAIGHT / 2, "The stretch begins too far behind")


def contradiction(said: Mapping[str, str], key: str, unit: Unit) -> str:
    """Why an answer cannot stand beside the others, as half a sentence; empty where it can.

    said: all answers by key, with the new one.
    """
    if key in NAMES:
        return _name_taken(said, key)
    found = lengths_in(said)
    for order in orders(pairs_in(said)):
        if key in order[:2] and not _holds(order, found):
            return order.says.format(least=_about(order.least, unit))
    return ""


def _about(mm: float, unit: Unit) -> str:
    """A limit of this project's own in whole inches or tens of millimeters.

    >>> _about(APART, "in"), _about(APART, "mm")
    ('10 in', '250 mm')
    """
    return f"{round(mm / 25.4)} in" if unit == "in" else f"{round(mm, -1):.0f} mm"


def _holds(order: Order, found: Mapping[str, float]) -> bool:
    if order.first not in found or order.second not in found:
        return True
    return found[order.second] - found[order.first] >= order.least


def _name_taken(said: Mapping[str, str], key: str) -> str:
    """Two pairs of one name could not be told apart in a list."""
    names = {}
    for other in NAMES[: pairs_in(said)]:
        if other in said:
            names[other] = said[other].partition(",")[0].lower()
    if key in names and list(names.values()).count(names[key]) > 1:
        return f"Another pair is called {names[key]} already: take another name"
    return ""


def agreeing(said: Mapping[str, str]) -> dict[str, str]:
    """The answers without those that cannot stand: a file may hold anything."""
    found = {PAIRS: said[PAIRS]} if said.get(PAIRS) in PAIRS_SAID else {}
    for key, typed in said.items():
        if key in NAMES or key in SPANS:
            try:
                kept = taken(key, typed, "mm") if typed != NONE else typed
            except Refused:
                continue
            if not contradiction({**found, key: kept}, key, "mm"):
                found[key] = kept
        elif key != PAIRS:
            found[key] = typed
    return found


def wanted(said: Mapping[str, str]) -> tuple[str, ...]:
    """Keys of all that must be said before the frame is set up, in the order of asking."""
    pairs = range(1, pairs_in(said) + 1)
    keys = [PAIRS]
    for n in pairs:
        keys += [of_pair(NAME, n), *([of_pair(BEHIND, n)] if n > 1 else []), of_pair(ACROSS, n)]
    keys.append(HEIGHTS)
    if said.get(HEIGHTS) == KICKS:
        keys += [of_pair(UP, n) for n in pairs if n > 1]
    keys += [RAILS, JOINTS, HORNS]
    if said.get(HORNS) == WITH_HORNS:
        keys += [TIP_AHEAD, TIP_ACROSS]
    return (*keys, DEPTH, MOUNT, FRONT_AXLE, REAR_AXLE, STRING_FROM, STRING_TO)
