"""A rail from end to end with the strength that its thin places leave, drawn and in typed marks."""

from __future__ import annotations

from collections.abc import Sequence

from wizard.checks.case import Case, case_of
from wizard.checks.section_left import Mapped, mapped_of, stretches_of
from wizard.library.places import SIDES
from wizard.library.shapes import Layout, Library
from wizard.math.rail_left import Left, weakest
from wizard.survey.record import Survey, Unit
from wizard.telling.amounts import about
from wizard.telling.canvas import Drawing
from wizard.telling.document import Draw, Picture
from wizard.telling.svg import Figure, Scale, along, area, path, picture, upright
from wizard.telling.text import wrap

LEFT, RIGHT, TOP, BOTTOM = 80.0, 680.0, 30.0, 150.0
"""Edges of the drawing on the page, in its own units."""
COLUMNS, LEVELS = 64, 5
"""Cells along the rail and up to the sound rail's strength."""
STEP = 5.0
"""The scale ends at a round figure, percent."""


def thin_pictures(case: Case) -> list[Picture]:
    """A picture of each rail whose thin places are all known."""
    found = ((side, mapped_of(case, side)) for side in SIDES)
    return [_of(side, mapped, case) for side, mapped in found if mapped]


def thin_sketches(survey: Survey, library: Library) -> list[Draw]:
    """The same for a screen of any width, each under its title."""
    return [_draw(picture) for picture in thin_pictures(case_of(survey, library))]


def _draw(made: Picture) -> Draw:
    lines = (made.figure.title, *made.typed, *wrap(made.told, COLUMNS + 9))
    return lambda width, charset: Drawing(lines, (), made.told)


def _of(side: str, mapped: Mapped, case: Case) -> Picture:
    stretches, unit = stretches_of(mapped), case.survey.unit
    words = _words(stretches, unit)
    figure = _figure(side, stretches, case.layout, words, unit)
    return Picture(figure, _typed(stretches), told=words)


def _words(stretches: Sequence[Left], unit: Unit) -> str:
    """What the picture shows, for whoever has none."""
    low = weakest(stretches)
    middle, long = (low.start + low.end) / 2, low.end - low.start
    where = f"{about(abs(middle), 'mm', unit)} {'behind' if middle >= 0 else 'ahead of'}"
    return (
        f"The front is at the left. The least strength is left {where} the front points:"
        f" {about(100 * low.strength, '%', unit)}, over {about(long, 'mm', unit)} of the rail."
    )


def _floor(stretches: Sequence[Left]) -> float:
    """Where the scale ends, percent: below the weakest place, and at 90 or less."""
    least = 100 * weakest(stretches).strength
    return max(0.0, min(90.0, least // STEP * STEP - STEP))


def _figure(side: str, stretches: Sequence[Left], layout: Layout, words: str, unit: Unit) -> Figure:
    x = Scale(stretches[0].start, stretches[-1].end, LEFT, RIGHT)
    y = Scale(_floor(stretches), 100.0, BOTTOM, TOP)
    edge = [(x(at), y(100 * one.strength)) for one in stretches for at in (one.start, one.end)]
    names = ((x(place.x), place.name) for place in layout.places)
    parts = [
        area([(LEFT, BOTTOM), *edge, (RIGHT, BOTTOM)], "#ddd"),
        upright(y, LEFT, RIGHT, unit, ("", ""), "%"),
        path(edge, 2.0),
        along(names, BOTTOM + 20),
    ]
    title = f"Strength left along the {side} rail"
    return picture(f"thin-{side}", title, words, BOTTOM + 42, *parts)


def _typed(stretches: Sequence[Left]) -> tuple[str, ...]:
    """A column for each piece of the rail, as high as the least strength left in it."""
    low, columns = _floor(stretches), _columns(stretches)
    rows = []
    for nth in range(LEVELS, 0, -1):
        level = low + (100.0 - low) * nth / LEVELS
        bars = "".join("#" if left >= level - 1e-9 else " " for left in columns)
        rows.append(f"{level:>5.0f} % |{bars}".rstrip())
    rows.append(f"{low:>5.0f} % +{'-' * COLUMNS}")
    return (*rows, f"{'front':>13}{'rear':>{COLUMNS - 5}}")


def _columns(stretches: Sequence[Left]) -> list[float]:
    """The least strength left in each piece of the rail, percent."""
    first, last = stretches[0].start, stretches[-1].end
    wide = (last - first) / COLUMNS
    return [
        100 * min(s.strength for s in _within(stretches, first + n * wide, wide))
        for n in range(COLUMNS)
    ]


def _within(stretches: Sequence[Left], start: float, wide: float) -> list[Left]:
    """Those that reach into a piece of the rail; the last has the rail's end."""
    there = [s for s in stretches if s.start < start + wide and s.end > start]
    return there or [stretches[-1]]
