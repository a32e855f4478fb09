"""What a compared figure is called, and how much it is, with the way it goes."""

from __future__ import annotations

from fractions import Fraction

from wizard.checks.finding import Finding
from wizard.library.places import asked_of, point_of, where_of
from wizard.library.shapes import Box, Layout, LevelPlace, Place
from wizard.readings.written import write_fraction_about, write_length
from wizard.survey.record import Unit
from wizard.telling.amounts import about, at

NAMES = {
    "rail-shift": "{where}: one rail along the other",
    "own-sides": "{where}: left rail against right",
    "sway": "{where}: off the middle line, from above",
    "nose-off": "the {where} off the middle line, from above",
    "horn": "horns, sideways",
    "horn-out": "{where} horn, outward",
    "horn-back": "horns, fore and aft",
    "horn-height": "{where}: one higher than the other",
    "twist": "{where}: twist against the front",
    "wheelbase": "wheelbase, left against right",
    "thickness": "{where} rail: thickness lost",
}
WAYS = {
    "rail-shift": ("right rail back", "left rail back"),
    "own-sides": ("right shorter", "left shorter"),
    "sway": ("to the right", "to the left"),
    "nose-off": ("to the right", "to the left"),
    "horn": ("left further out", "right further out"),
    "horn-out": ("out", "in"),
    "horn-back": ("right further back", "left further back"),
    "horn-height": ("left high", "right high"),
    "twist": ("left high", "right high"),
    "wheelbase": ("right shorter", "left shorter"),
    "sag-loaded": ("low", "high"),
    "sag-unloaded": ("low", "high"),
}
"""Words for plus and for minus."""
WEIGHT = {"sag-loaded": "engine on", "sag-unloaded": "engine off"}


def name_of(finding: Finding, layout: Layout) -> str:
    """What the figure is: `left rail at the rear engine mount, engine on`."""
    if finding.quantity == "length":
        return tape_name(finding.where, layout)
    if finding.quantity in WEIGHT:
        where = where_of(finding.where)
        station, side = where.place, where.side
        name = next((s.name for s in layout.stations if s.id == station), station)
        return f"{side} rail {at(name)}, {WEIGHT[finding.quantity]}"
    return NAMES.get(finding.quantity, f"{finding.quantity} {{where}}").format(
        where=_where(finding.where, layout)
    )


def _where(id: str, layout: Layout) -> str:
    rows: tuple[Box | LevelPlace | Place, ...] = (*layout.boxes, *layout.levels, *layout.places)
    known = {"front-box-bar": "front box, by the bar"}
    return known.get(id) or next((r.name for r in rows if r.id == id), id)


def tape_name(prompt: str, layout: Layout) -> str:
    """A taped distance: `left front to right rear`."""
    tape = asked_of(prompt).tape
    return " to ".join(point_name(end, layout) for end in tape.ends) if tape else prompt


def point_name(point: str, layout: Layout) -> str:
    """A point in words: `left front`."""
    found = point_of(point)
    name = next((p.name for p in layout.places if p.id in (found.place, point)), found.place)
    return f"{found.side} {name}" if found.side else name


def amount(finding: Finding, unit: Unit) -> str:
    """How much it is and which way: `3/16 in low`, `91 1/8 in`, `0`."""
    if finding.quantity == "length":
        return f"{write_length(finding.value, unit, finest(unit))} {unit}"
    size = about(finding.value, finding.unit, unit)
    if float(Fraction(size.split()[0])) == 0.0:
        return size
    plus, minus = WAYS.get(finding.quantity, ("", ""))
    return f"{size} {plus if finding.value > 0 else minus}".rstrip()


def finest(unit: Unit) -> Fraction:
    """The finest step that is worth writing, mm."""
    return Fraction(127, 160) if unit == "in" else Fraction(1, 2)


KM_IN_A_MILE = 1.609344


def distance(km: float, unit: Unit) -> str:
    """A distance driven: `900 miles`, `1448 km`."""
    return f"{km / KM_IN_A_MILE:.0f} miles" if unit == "in" else f"{km:.0f} km"


def size(value: float, finding_unit: str, unit: Unit) -> str:
    """A size of doubt or change that is never said as zero: it is rounded up to the finest step."""
    if finding_unit != "mm":
        return about(value, finding_unit, unit)
    return write_fraction_about(max(abs(value), float(finest(unit))), unit)
