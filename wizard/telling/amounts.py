"""Amounts, and the day of a survey, as a person says them; lengths in the survey's unit."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from fractions import Fraction

from wizard.judgment.bands import Judged
from wizard.library.shapes import Limit
from wizard.readings.plain import clean_line
from wizard.readings.written import write_fraction_about, write_with_doubt
from wizard.survey.record import Survey, Unit

BANDS = {
    "leave": "leave it",
    "watch": "keep an eye on it",
    "put-right": "put it right",
    "axle-first": "look at the axle first",
    "specialist": "take it to a specialist",
}
"""Bands in our words."""
SOURCE_KINDS = {
    "P": "published",
    "C": "common practice, no published source",
    "M": "from memory",
    "X": "computed",
    "O": "this project's own figure",
    "owner": "the owner's or mentor's own figure",
}
"""Where a figure comes from, by the mark of its source."""
OUT = "a slip, as the others prove; it does not count"
"""Said beside a reading that stays on record and out of the mean."""
MOST = 3
"""Readings named in one line; a longer row nobody reads."""


def few(labels: Sequence[str]) -> str:
    """The first of the readings, and how many more there are."""
    more = f"; and {len(labels) - MOST} more" if len(labels) > MOST else ""
    return "; ".join(labels[:MOST]) + more


BREATH = 3
"""So many things are said in one breath; more are parted by semicolons."""


def clauses(said: Sequence[str]) -> str:
    """Several things that are so, in one sentence; where one of them has an `and` or a comma of its
    own, a semicolon parts them.

    >>> clauses(["the frame is square", "the nose is in the middle"])
    'the frame is square and the nose is in the middle'
    >>> clauses(["a is so", "b and c are so", "d is so"])
    'a is so; b and c are so; and d is so'
    """
    if len(said) < BREATH and not any(" and " in one or "," in one for one in said):
        return " and ".join(said)
    return "; and ".join(filter(None, ("; ".join(said[:-1]), *said[-1:])))


def listed(words: Sequence[str], last: str = "and") -> str:
    """Things of several words each: `a rail down, a horn bent or a twist`."""
    stop = "; " if len(words) > BREATH else ", "
    ends = f"{stop if len(words) > BREATH else ' '}{last} "
    return ends.join(filter(None, (stop.join(words[:-1]), *words[-1:])))


FINEST: Mapping[Unit, Fraction] = {"in": Fraction(127, 160), "mm": Fraction(1, 2)}
"""The finest step of a length that is worth saying, mm."""


class Lengths:
    """Numbers in mm, said in the survey's own unit. All other units are said as they are."""

    symbol = "mm"

    def about(self, value: float, unit: Unit) -> str:
        """A size without its sign."""
        return write_fraction_about(abs(value), unit)

    def bound(self, upto: float, unit: Unit) -> str:
        """The end of a band: as authored, and for an inch man in inches before it."""
        mm = f"{round(upto, 1):g} mm"
        inches = write_fraction_about(upto, unit)
        return f"{inches} ({mm})" if unit == "in" and inches.split()[0] != "0" else mm

    def least(self, unit: Unit) -> float:
        """The finest step that is worth saying."""
        return float(FINEST[unit])

    def exact(self, value: float, u: float, unit: Unit) -> str:
        """Value and standard uncertainty, for the mentor."""
        return write_with_doubt(value, u, unit)


class Plain(Lengths):
    """A unit that is the same for everybody."""

    def __init__(self, symbol: str, word: str, places: int) -> None:
        self.symbol, self.word, self.places = symbol, word, places

    def about(self, value: float, unit: Unit) -> str:
        """A size without its sign."""
        return f"{abs(value):.{self.places}f} {self.word}"

    def bound(self, upto: float, unit: Unit) -> str:
        """The end of a band, as authored."""
        return f"{upto:g} {self.word}"

    def least(self, unit: Unit) -> float:
        """The last place that is said."""
        return float(10**-self.places)

    def exact(self, value: float, u: float, unit: Unit) -> str:
        """Value and standard uncertainty, for the mentor."""
        return f"{value:.2f} ± {u:.2f} {self.symbol}"


class Slopes(Plain):
    """Millimeters in a meter, which an inch man reads by the yard."""

    def about(self, value: float, unit: Unit) -> str:
        """A size without its sign."""
        if unit == "in":
            return f"{write_fraction_about(abs(value) * YARD, unit)} per yard"
        return super().about(value, unit)

    def least(self, unit: Unit) -> float:
        """The finest step that is worth saying."""
        return float(FINEST[unit]) / YARD if unit == "in" else super().least(unit)


YARD = 0.9144
UNITS: Mapping[str, Lengths] = {
    scale.symbol: scale
    for scale in (
        Lengths(),
        Plain("%", "%", 0),
        Plain("deg", "degrees", 1),
        Slopes("mm/m", "mm per meter", 1),
    )
}
"""How numbers of each unit of content/quantities.toml are said."""


def about(value: float, finding_unit: str, unit: Unit) -> str:
    """A size without its sign: `1/32 in`, `0.5 mm`, `0.4 degrees`."""
    return UNITS[finding_unit].about(value, unit)


def bound(upto: float, limit_unit: str, unit: Unit) -> str:
    """The end of a band in words."""
    return UNITS[limit_unit].bound(upto, unit)


def sides(limit: Limit, unit: Unit) -> str:
    """A limit from both sides of each of its figures: up to it, and beyond it."""
    said, below = [], ""
    for at in limit.above:
        here = bound(at.upto_mm, limit.unit, unit)
        if here == below:
            said.append(f"{BANDS[at.band]}: nothing is left for that")
            continue
        said.append(f"{f'from {below} ' if below else ''}up to {here}: {BANDS[at.band]}")
        below = here
    return "; ".join([*said, f"beyond {below}: {BANDS[limit.beyond]}"])


def is_zero(value: float, finding_unit: str, unit: Unit) -> bool:
    """Whether a value would be said as zero, which is no amount to say."""
    return about(value, finding_unit, unit).split()[0] in ("0", "0.0")


def doubt(judged: Judged, unit: Unit) -> str:
    """Half the 95 % interval in words, never zero: `give or take 1/16 in`."""
    scale, half = UNITS[judged.finding.unit], judged.told_half
    if is_zero(half, scale.symbol, unit):
        return f"give or take less than {scale.about(scale.least(unit), unit)}"
    return f"give or take {doubt_size(half, scale.symbol, unit)}"


TWENTIETH = 0.95
"""What is said of a doubt is at least that much of it."""


def whole_steps(half: float, finding_unit: str, unit: Unit) -> float:
    """A doubt in whole steps of what is said, in its unit: rounded up, for an interval that is
    said too narrow holds less often than it promises; never more than a twentieth too narrow.
    """
    step = UNITS[finding_unit].least(unit)
    return (
        max(1, math.ceil(abs(half) * TWENTIETH / step - 1e-6)) * step
        if math.isfinite(half)
        else half
    )


def doubt_size(half: float, finding_unit: str, unit: Unit) -> str:
    """A doubt as it is said: `1/16 in` for 0.040 in."""
    return about(whole_steps(half, finding_unit, unit), finding_unit, unit)


def is_inside(judged: Judged, unit: Unit) -> bool:
    """Whether a mild difference is no larger than its doubt, as both are said, nor by more than half
    a step of what is said as it is: it is told as none.
    """
    if judged.worst not in ("", "leave", "watch"):
        return False
    value, symbol = abs(judged.finding.value), judged.finding.unit
    step = UNITS[symbol].least(unit)
    said = round(value / step) * step <= whole_steps(judged.told_half, symbol, unit) + step / 100
    return said and value <= judged.told_half + step / 2


def size(value: float, finding_unit: str, unit: Unit) -> str:
    """A size of doubt or change that is never said as zero: it is rounded up to the finest step."""
    scale = UNITS[finding_unit]
    return scale.about(max(abs(value), scale.least(unit)), unit)


def at_most(value: float, finding_unit: str, unit: Unit) -> str:
    """A size rounded up to the next step that is said: what is promised of it stays true."""
    step = UNITS[finding_unit].least(unit)
    return size(math.ceil(abs(value) / step - 1e-6) * step, finding_unit, unit)


def none_seen(judged: Judged, unit: Unit) -> str:
    """In place of the doubt, where a difference lies inside it: how large a one would have been seen,
    which is neither a movement since last time nor what would be out of its limit.
    """
    seen = at_most(judged.would_show, judged.finding.unit, unit)
    return f"as far as these readings can show (a difference of {seen} would have been seen)"


NOT_KNOWN = "not known"
"""In the place of a figure that says nothing."""


def exact(judged: Judged, unit: Unit) -> str:
    """Value and standard uncertainty with as many decimals as they deserve, for the mentor."""
    f = judged.finding
    return NOT_KNOWN if f.is_unknown else UNITS[f.unit].exact(f.value, f.number.u, unit)


def at(place: str) -> str:
    """Where, in a sentence: `at the rear engine mount`, but `behind the center`."""
    return place if place.startswith(("behind ", "ahead of ", "between ")) else f"at the {place}"


FINE = frozenset({"leave", "watch"})
"""Bands that ask for nothing to be put right."""


def bands_words(judged: Judged) -> str:
    """What the bands that are left amount to, in our words; empty without a limit, or where another
    finding says it.
    """
    bands = judged.bands
    if not bands or judged.quiet:
        return ""
    if len(bands) == 1:
        return BANDS[bands[0]]
    *rest, last = (BANDS[band] for band in bands)
    if bands == ("leave", "watch"):
        return f"{rest[0]} or {last}; nothing to put right"
    if bands[0] == "put-right":  # it is out that far: only who is open
        return f"{rest[0]}; not known yet whether to {last}"
    return f"not known yet whether to {', to '.join(rest)} or to {last}"


def day(survey: Survey) -> str:
    """The survey's day, or its id where it has none."""
    return (
        f"{survey.started:%Y-%m-%d}"
        if survey.started.year > 1
        else clean_line(survey.id, 60) or "no date"
    )
