"""Amounts as a person says them, in the survey's unit."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from wizard.judgment.bands import Judged
from wizard.readings.written import write_fraction_about, write_with_doubt
from wizard.survey.record import Unit

BANDS = {
    "leave": "leave it",
    "watch": "keep an eye on it",
    "put-right": "put it right",
    "axle-first": "look at the axle first",
    "specialist": "take it to a specialist",
}
"""Bands in our words."""
MOST = 3
"""Readings named in one line; a longer row nobody reads."""


def few(labels: Sequence[str]) -> str:
    """The first of the readings, and how many more there are."""
    more = f"; and {len(labels) - MOST} more" if len(labels) > MOST else ""
    return "; ".join(labels[:MOST]) + more


def about(value: float, finding_unit: str, unit: Unit) -> str:
    """A size without its sign: `1/32 in`, `0.5 mm`, `0.4 degrees`."""
    if finding_unit == "deg":
        return f"{abs(value):.1f} degrees"
    if finding_unit == "%":
        return f"{abs(value):.0f} %"
    if finding_unit == "mm/m":
        if unit == "in":
            return f"{write_fraction_about(abs(value) * 0.9144, unit)} per yard"
        return f"{abs(value):.1f} mm per meter"
    return write_fraction_about(abs(value), unit)


def bound(upto: float, limit: str, unit: Unit) -> str:
    """The end of a band: as authored, and for an inch man in inches before it. thickness is in
    percent.
    """
    if limit == "thickness":
        return f"{upto:g} %"
    mm = f"{round(upto, 1):g} mm"
    inches = write_fraction_about(upto, unit)
    return f"{inches} ({mm})" if unit == "in" and inches.split()[0] != "0" else mm


def is_zero(value: float, finding_unit: str, unit: Unit) -> bool:
    """Whether a value would be said as zero, which is no amount to say."""
    return about(value, finding_unit, unit).split()[0] in ("0", "0.0")


def doubt(judged: Judged, unit: Unit) -> str:
    """Half the 95 % interval in words, never zero: `give or take 1/16 in`."""
    finding, half = judged.finding, judged.half_width
    said = about(half, finding.unit, unit)
    if float(Fraction(said.split()[0])) == 0:
        fine = 25.4 / 32 if unit == "in" else 0.5
        least = {"deg": 0.1, "mm/m": fine / 0.9144 if unit == "in" else 0.1, "%": 1.0}.get(
            finding.unit, fine
        )
        said = "less than " + about(least, finding.unit, unit)
    return f"give or take {said}"


def exact(judged: Judged, unit: Unit) -> str:
    """Value and standard uncertainty with as many decimals as they deserve, for the mentor."""
    f = judged.finding
    if f.unit in ("deg", "mm/m", "%"):
        return f"{f.value:.2f} ± {f.number.u:.2f} {f.unit}"
    return write_with_doubt(f.value, f.number.u, unit)


def at(place: str) -> str:
    """Where, in a sentence: `at the rear engine mount`, but `behind the center`."""
    return place if place.startswith(("behind ", "ahead of ", "between ")) else f"at the {place}"


def bands_words(judged: Judged) -> str:
    """What the bands that are left amount to, in our words; empty without a limit, or where another
    finding says it.
    """
    bands = judged.bands
    if not bands or judged.quiet:
        return ""
    if len(bands) == 1:
        return BANDS[bands[0]]
    first, last = BANDS[bands[0]], BANDS[bands[-1]]
    if bands == ("leave", "watch"):
        return f"{first} or {last}; nothing to put right"
    if len(bands) == 2:
        return f"cannot tell yet whether to {first} or to {last}"
    return f"cannot tell yet: anything from “{first}” to “{last}” would fit"
