"""The owner's own sizes in place of a layout's round figures, and which of them can be no frame's.

A file may hold anything: a size that cannot be, alone or beside the others, is left out, and the
round figure stays.
"""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import NamedTuple

from wizard.library import marks
from wizard.library.places import figure_words, is_mass, is_place
from wizard.library.shapes import Layout
from wizard.readings.figures import read_length, read_quantity
from wizard.readings.refused import Refused
from wizard.readings.written import write_fraction_about
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Size

WAYS = ("rearward", "forward")
DOUBTED = 2.0
"""A size so many times the round figure, or so small a part of it, is asked about once more (this
project's own).
"""
ABSURD = 10.0
"""Beyond this factor it is a slip of the unit or the decimal point, and no frame's (this project's
own).
"""
DOUBTED_PLACE, ABSURD_PLACE = 0.25, 1.0
"""The same for a place along the frame: how far off its round figure, in parts of the wheelbase."""
A_WHEELBASE = 2600.0
"""mm; where a kind of frame has no round figure of its own."""
LOOK = "look at the figure and its unit"


class Sizes(NamedTuple):
    """What the sizes of a survey come to."""

    figures: Mapping[str, float]
    """The layout's figures, with each size that counts in its place."""
    given: frozenset[str] = frozenset()
    """Names of those that are the owner's own."""
    left_out: tuple[tuple[Size, str], ...] = ()
    """Rows that count for nothing, each with the reason in one sentence."""


def size_of(name: str, typed: str, unit: Unit) -> float:
    """A size as typed: mm, or kg where the name ends so; a bare number is in `unit`.

    Raises Refused.
    """
    if is_mass(name):
        return read_quantity(f"{typed} kg" if re.fullmatch(r"[0-9.]+", typed) else typed, "mass")
    return float(read_length(typed, unit, WAYS))


def with_unit(name: str, typed: str, unit: Unit) -> str:
    """A bare number with its unit behind it: it must mean the same where the survey's unit is
    another one later.
    """
    match = re.fullmatch(rf"([^a-z\"']*?)\s*({'|'.join(WAYS)})?", typed, re.IGNORECASE)
    if match is None or is_mass(name):
        return typed
    return " ".join(part for part in (match[1], unit, match[2]) if part)


def sizes_of(layout: Layout, survey: Survey) -> Sizes:
    """The figures that count: of each name the last size that can be one, as far as they make a
    frame together.
    """
    rows = survey.standing(Size)
    if not rows:
        return Sizes(layout.figures)
    read = {row.id: _read(layout, row, survey.unit) for row in rows}
    last = {row.name: row for row in rows if isinstance(read[row.id], float)}
    left_out = [(row, why) for row in rows if isinstance(why := read[row.id], str)]
    figures, given = dict(layout.figures), set()
    for row in last.values():
        value = read[row.id]
        assert isinstance(value, float)
        if why := misfit({**figures, row.name: value}, survey.unit):
            left_out.append((row, why))
            continue
        figures[row.name] = value
        given.add(row.name)
    return Sizes(figures, frozenset(given), tuple(left_out))


def _read(layout: Layout, row: Size, unit: Unit) -> float | str:
    """The size, or why it can be none."""
    if row.name not in layout.figures:
        return "This kind of frame has no such size."
    try:
        value = size_of(row.name, row.typed, unit)
    except Refused as refused:
        return str(refused)
    return impossible(row.name, value, layout, unit) or value


def words(name: str) -> str:
    """A size's name in words.

    >>> words("rail_depth"), words("engine_mass_kg"), words("front_axle_x")
    ('rail depth', 'engine mass', 'front axle')
    """
    return figure_words(name)


def amount(name: str, value: float, unit: Unit) -> str:
    """A size as it is said: `4 in`, `180 kg`, `127 mm forward`."""
    if is_mass(name):
        return f"{value:.4g} kg"
    way = f" {WAYS[value < 0]}" if is_place(name) and value else ""
    return f"{write_fraction_about(abs(value) if way else value, unit)}{way}"


def impossible(name: str, value: float, layout: Layout, unit: Unit) -> str:
    """Why no frame of this kind has such a size, in one sentence; empty where one may have it."""
    said = amount(name, value, unit)
    if not is_place(name) and value <= 0:
        return f"A {words(name)} of {said} cannot be: type one above zero."
    if _off(name, value, layout) > (ABSURD_PLACE if is_place(name) else ABSURD):
        return f"A {words(name)} {_where(name, said)} {_apart(name, value, layout, unit)}: {LOOK}."
    return ""


def doubtful(name: str, value: float, layout: Layout, unit: Unit) -> str:
    """One sentence for a size that can be, but is far from the round figure; empty for any other."""
    if _off(name, value, layout) <= (DOUBTED_PLACE if is_place(name) else DOUBTED):
        return ""
    return (
        f"A {words(name)} {_where(name, amount(name, value, unit))}"
        f" {_apart(name, value, layout, unit)}."
    )


def _off(name: str, value: float, layout: Layout) -> float:
    """How far a size is from the round figure: a factor of 1 or more, or for a place a part of the
    wheelbase.
    """
    usual = layout.figures[name]
    if is_place(name):
        return abs(value - usual) / layout.figures.get(marks.BASE, A_WHEELBASE)
    return max(value / usual, usual / value) if usual > 0 else 1.0


def _where(name: str, said: str) -> str:
    return f"at {said} of the front points" if is_place(name) else f"of {said}"


def _apart(name: str, value: float, layout: Layout, unit: Unit) -> str:
    """How a size lies beside the round figure: `is 28 times as small as the usual 2620 mm`."""
    usual = layout.figures[name]
    said = amount(name, usual, unit)
    if is_place(name):
        return f"is {write_fraction_about(abs(value - usual), unit)} from the usual place, {said}"
    way = "large" if value > usual else "small"
    return f"is {_off(name, value, layout):.2g} times as {way} as the usual {said}"


def misfit(figures: Mapping[str, float], unit: Unit) -> str:
    """Why these sizes make no frame together, in one sentence; empty where they do."""
    return _no_channel(figures, unit) or _out_of_order(figures)


def _no_channel(f: Mapping[str, float], unit: Unit) -> str:
    if not {"rail_depth", "rail_flange", "rail_thickness"} <= f.keys():
        return ""
    depth, flange, thick = f["rail_depth"], f["rail_flange"], f["rail_thickness"]
    if 2 * thick < depth and thick < flange:
        return ""
    said = {
        name: amount(name, f[name], unit)
        for name in ("rail_depth", "rail_flange", "rail_thickness")
    }
    deep, wide, sheet = said.values()
    return f"A rail {deep} deep with flanges of {wide} cannot be {sheet} thick: {LOOK}."


ORDER = (
    ("front_axle_x", "rear_axle_x", "The front axle cannot be behind the rear axle"),
    (
        "engine_front_x",
        "engine_mount_x",
        "The engine's front support cannot be behind its rear mount",
    ),
)
"""Places of which the first lies ahead of the second on any frame, and what is said where it does
not.
"""


def _out_of_order(f: Mapping[str, float]) -> str:
    for ahead, behind, said in ORDER:
        if ahead in f and behind in f and f[ahead] >= f[behind]:
            return f"{said}: {LOOK}."
    return ""


def own_layout(layout: Layout, survey: Survey) -> Layout:
    """The layout with every size that the survey gives; one that cannot be leaves the round figure
    in place.
    """
    figures = sizes_of(layout, survey).figures
    return layout if figures == layout.figures else replace(layout, figures=figures)
