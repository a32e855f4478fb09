"""The charts on paper: a rail under its string, the twist, values against their limit, and one
quantity over the surveys.

The front is at the left. The string's profile is drawn with the engine's weight and without it,
each with its band of doubt; the twist is how much higher the left side stands at each place than
where the level was laid first. A value is a mark with its doubt as a bar, over the bands as fields;
a quantity over the surveys has its line where one holds, and the limits in view.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from wizard.checks.notes import Against
from wizard.judgment.bands import Edge, Judged
from wizard.judgment.fact import gravest
from wizard.judgment.trend import Trend
from wizard.library.marks import HORN_HEIGHT, SAG_LOADED, SAG_UNLOADED, TWIST
from wizard.library.places import NO_PLACE, PlaceId, QuantityId, where_id
from wizard.library.shapes import Layout, Library, Station
from wizard.survey.record import Survey, Unit
from wizard.telling.amounts import about, bands_words, doubt, is_zero
from wizard.telling.judged_picture import value_of
from wizard.telling.numbering import level_name, station_name, station_numbers
from wizard.telling.quantity_names import cap
from wizard.telling.scene import drawn_words, straightest
from wizard.telling.scene_trend import Mark, Plot, are_finite, bound_words, plot_of
from wizard.telling.scene_value import Value, finite
from wizard.telling.svg import (
    LEADING,
    LETTER,
    WIDTH,
    Figure,
    Scale,
    along,
    area,
    bar,
    dot,
    element,
    line,
    number,
    path,
    picture,
    text,
    touch,
    upright,
)

# Under the string
# --------------------------------------------------------------------------------------

STRING_LEFT, STRING_RIGHT, STRING_TOP = 110.0, WIDTH - 20.0, 34.0
NAMES = {SAG_LOADED: "with the engine's weight", SAG_UNLOADED: "without it"}

Profile = Sequence[tuple[Station, Judged]]
"""Each station with the judged sag there, front to rear."""


def profile(judged: Sequence[Judged], layout: Layout, quantity: QuantityId, side: str) -> Profile:
    """The sags of one rail in one state, by station."""
    found = {j.finding.where: j for j in judged if j.finding.quantity == quantity}
    stations = sorted(layout.stations, key=lambda s: s.x)
    return [(s, found[at]) for s in stations if (at := where_id(s.id, side)) in found]


def reach_of(profiles: Sequence[Profile]) -> tuple[float, float]:
    """Highest and lowest that the bands go, mm of sag: the same for both rails, so that they can be
    compared.
    """
    ends = [j.finding.value + s * j.told_half for p in profiles for _, j in p for s in (-1.0, 1.0)]
    low, high = min([*ends, -0.5]), max([*ends, 2.0])
    return low - 0.1 * (high - low), high + 0.1 * (high - low)


def string_figure(
    side: str,
    profiles: dict[QuantityId, Profile],
    layout: Layout,
    unit: Unit,
    reach: tuple[float, float],
    times: int,
) -> Figure:
    """Both profiles of one rail; low is drawn low, so many times too large."""
    x = Scale(layout.string[0], layout.string[1], STRING_LEFT, STRING_RIGHT)
    per_mm = times * (x.end - x.start) / (x.high - x.low)
    bottom = STRING_TOP + per_mm * (reach[1] - reach[0])
    y = Scale(reach[0], reach[1], STRING_TOP, bottom)
    parts = [upright(y, STRING_LEFT, STRING_RIGHT, unit, ("high", "low"))]
    for quantity, points in profiles.items():
        parts.append(_string_band(points, x, y, quantity == SAG_LOADED))
    for quantity, points in profiles.items():
        parts.append(_string_curve(points, x, y, quantity == SAG_LOADED))
    read = {s.id: s.x for points in profiles.values() for s, _ in points}
    parts.append(along(_stations(read, x, layout), bottom + 22))
    parts.append(_string_key(list(profiles)))
    words = _string_words(side, profiles, layout, unit, times)
    title = f"The {side} rail under its string"
    return picture(f"string-{side}", title, words, bottom + 42, *parts)


def _stations(read: Mapping[PlaceId, float], x: Scale, layout: Layout) -> list[tuple[float, str]]:
    """Where each station's name goes under the string; its number alone where two would touch."""
    names = sorted((x(at), station_name(id, layout)) for id, at in read.items())
    # Every other one stands in the same line.
    if not any(touch(names[n::2]) for n in range(2)):
        return names
    numbers = station_numbers(layout)
    return [(x(at), numbers[id]) for id, at in read.items()]


def _string_band(points: Profile, x: Scale, y: Scale, loaded: bool) -> str:
    upper = [(x(s.x), y(j.finding.value - j.told_half)) for s, j in points]
    lower = [(x(s.x), y(j.finding.value + j.told_half)) for s, j in points]
    if len(points) < 2:
        return "".join(line(*a, *b, 1.0) for a, b in zip(upper, lower, strict=True))
    if loaded:
        return area([*upper, *reversed(lower)], "#ddd")
    return path(upper, 0.7, "2 2") + path(lower, 0.7, "2 2")


def _string_curve(points: Profile, x: Scale, y: Scale, loaded: bool) -> str:
    """Solid with round marks for the weight on, dashed with open squares for off: told apart
    without color. The line is as straight as every give or take allows.
    """
    at = [(x(s.x), y(j.finding.value)) for s, j in points]
    marks = (dot(*spot) if loaded else _square(*spot) for spot in at)
    read = [(s.x, j.finding.value, j.told_half) for s, j in points]
    course = straightest([(x.low, 0.0, 0.0), *read, (x.high, 0.0, 0.0)])
    line_of = [(x(a), y(b)) for a, b in course]
    return path(line_of, 2.0, "" if loaded else "7 4") + "".join(marks)


def _square(x: float, y: float) -> str:
    return element(
        "rect", x=x - 4.5, y=y - 4.5, width=9.0, height=9.0, fill="#fff", stroke="#000",
        stroke_width=1.5,
    )  # fmt: skip


def _string_key(quantities: Sequence[QuantityId]) -> str:
    parts, x = [], STRING_LEFT
    for quantity in quantities:
        loaded = quantity == SAG_LOADED
        parts.append(line(x, 14, x + 34, 14, 2.0, "" if loaded else "7 4"))
        told = f"{NAMES[quantity]}, {'gray' if loaded else 'dotted'}: give or take"
        parts.append(text(x + 40, 18, told))
        x += 310
    return "".join(parts)


def _string_words(
    side: str, profiles: dict[QuantityId, Profile], layout: Layout, unit: Unit, times: int
) -> str:
    said = []
    for quantity, points in profiles.items():
        each = ", ".join(f"{station_name(s.id, layout)} {_amount(j, unit)}" for s, j in points)
        said.append(f"{NAMES[quantity]}: {each}")
    drawn = f"Front at the left; sag {drawn_words(times)}; a line bends only where its doubt ends."
    return (
        f"The {side} rail's gap to a straight line between the string's blocks, "
        + "; ".join(said)
        + f". {drawn}"
    )


def _amount(judged: Judged, unit: Unit) -> str:
    value = judged.finding.value
    size = about(value, "mm", unit)
    return size if size.startswith("0 ") else f"{size} {'low' if value > 0 else 'high'}"


# Across the rails
# --------------------------------------------------------------------------------------

ACROSS_LEFT, ACROSS_RIGHT, ACROSS_TOP, ACROSS_BOTTOM = 140.0, WIDTH - 40.0, 20.0, 170.0
ACROSS_INSET = 40.0
"""Units between the plot's edge and its first and last place."""


@dataclass(frozen=True, slots=True)
class Lean:
    """A place across which the level was laid."""

    x: float
    """mm rearward."""
    id: PlaceId
    name: str
    judged: Judged | None
    """How it leans; None where the others are held against it."""

    @property
    def value(self) -> float:
        """How much higher its left side stands, mm."""
        return self.judged.finding.value if self.judged else 0.0

    @property
    def half(self) -> float:
        """The give or take."""
        return self.judged.told_half if self.judged else 0.0


def leans_of(judged: Sequence[Judged], layout: Layout) -> list[Lean]:
    """The places that lean, and the one that they are held against, front to rear."""
    found = {j.finding.where: j for j in judged if j.finding.quantity in (TWIST, HORN_HEIGHT)}
    held = (j.finding.note(Against) for j in found.values())
    against = next((note.place for note in held if note), NO_PLACE)
    laid = (v for v in layout.levels if v.id in {*found, against})
    leans = [
        Lean(layout.place(v.place).x, v.id, level_name(v.id, layout), found.get(v.id)) for v in laid
    ]
    return sorted(leans, key=lambda lean: (lean.x, lean.id, lean.name)) if found else []


def twist_figure(judged: Sequence[Judged], layout: Layout, unit: Unit) -> Figure | None:
    """The places with their give or take; None where no level was laid at two of them."""
    leans = leans_of(judged, layout)
    if not leans:
        return None
    most = 1.1 * max([1.0, *(abs(lean.value) + lean.half for lean in leans)])
    last = leans[-1].x if len(leans) > 1 else leans[0].x + 1
    x = Scale(leans[0].x, last, ACROSS_LEFT + ACROSS_INSET, ACROSS_RIGHT - ACROSS_INSET)
    y = Scale(-most, most, ACROSS_BOTTOM, ACROSS_TOP)
    parts = [
        upright(y, ACROSS_LEFT, ACROSS_RIGHT, unit, ("right up", "left up")),
        path([(x(a), y(b)) for a, b in straightest([_read(lean) for lean in leans])], 1.5, "6 4"),
        *(_lean(lean, x, y) for lean in leans),
        along(((x(lean.x), lean.name) for lean in leans), ACROSS_BOTTOM + 22),
    ]
    words = _twist_words(leans, unit)
    return picture("twist", "Twist along the frame", words, ACROSS_BOTTOM + 42, *parts)


def _read(lean: Lean) -> tuple[float, float, float]:
    return lean.x, lean.value, lean.half


def _lean(lean: Lean, x: Scale, y: Scale) -> str:
    """Its give or take and a full ring; an open ring alone where the others are held against it."""
    at, fill = x(lean.x), "#000" if lean.judged else "#fff"
    ring = element(
        "circle", cx=at, cy=y(lean.value), r=4.5, fill=fill, stroke="#000", stroke_width=1.5
    )
    return bar(at, y, lean.value, lean.half, 1.2) + ring if lean.judged else ring


def _twist_words(leans: Sequence[Lean], unit: Unit) -> str:
    open_rings = (lean.name for lean in leans if not lean.judged)
    reference = next(open_rings, "the first place")
    said = [f"{lean.name} {_higher(lean.judged, unit)}" for lean in leans if lean.judged]
    return (
        f"Height across the rails, compared with the {reference} (open ring), front at the left: "
        + "; ".join(said)
        + "."
    )


def twist_words(judged: Sequence[Judged], layout: Layout, unit: Unit) -> str:
    """The same where nothing is drawn."""
    leans = leans_of(judged, layout)
    against = next((lean.name for lean in leans if not lean.judged), "the first place")
    said = [f"{lean.name} {_higher(lean.judged, unit)}" for lean in leans if lean.judged]
    return f"Height across the rails, compared with the {against}: {'; '.join(said)}."


def _higher(judged: Judged, unit: Unit) -> str:
    value = judged.finding.value
    side = "left" if value > 0 else "right"
    high = f"{about(value, 'mm', unit)} higher on the {side}"
    high = "as high on both sides" if is_zero(value, "mm", unit) else high
    return f"{high}, {doubt(judged, unit)}"


# Values against their limit
# --------------------------------------------------------------------------------------
VALUE_LEFT, VALUE_RIGHT, VALUE_ROW, VALUE_TOP = 230.0, WIDTH - 20.0, 15.0, 4.0
GRAYS = ("#fff", "#e4e4e4", "#c4c4c4", "#9c9c9c", "#777")
"""Fields from the mildest band to the gravest; each is named as well, so no gray must be told from
another.
"""
BEYOND = 1.35
"""Part of the last bound that the axis reaches at most: a value beyond gets an arrow."""


def value_figure(
    what: str, judged: Sequence[Judged], library: Library, unit: Unit, name: Callable[[Judged], str]
) -> Figure:
    """The findings of one quantity on one axis; all have the same limit. `what` says what is drawn,
    `name` where each is.
    """
    values = [value_of(j, library, unit) for j in judged]
    x = _axis(values)
    bands, lines = _bands(values[0])
    top = VALUE_TOP + LEADING * lines
    bottom = top + VALUE_ROW * len(judged)
    ends = judged[0].finding.of.ends
    rows = enumerate(zip(values, judged, strict=True))
    parts = [
        *bands,
        *_fields(x, values[0], (top, bottom)),
        *(_row(value, x, top + VALUE_ROW * (n + 0.5), name(j)) for n, (value, j) in rows),
        line(x(0), top - 2, x(0), bottom + 3, 1.5),
        text(x(0), bottom + 15, "0", "middle", font_size=11),
        text(VALUE_LEFT, bottom + 15, f"< {ends[0]}", font_size=11),
        text(VALUE_RIGHT, bottom + 15, f"{ends[1]} >", "end", font_size=11),
    ]
    key, title = f"value-{judged[0].finding.quantity}", f"{cap(what)}, against the limit"
    return picture(key, title, _values_words(judged, unit, name), bottom + 19, *parts)


def _values_words(judged: Sequence[Judged], unit: Unit, name: Callable[[Judged], str]) -> str:
    """What is not to be left, one by one under what follows of it, the gravest first; the others
    counted, with the largest of them.
    """
    out: dict[str, list[str]] = {}
    for one in sorted(judged, key=gravest, reverse=True):
        if one.bands != ("leave",):
            out.setdefault(bands_words(one), []).append(f"{name(one)} {_said(one, unit)}")
    said = [cap(": ".join(filter(None, (band, "; ".join(all))))) for band, all in out.items()]
    left = [j for j in judged if j.bands == ("leave",)]
    if left:
        most = max(left, key=lambda j: abs(j.finding.value))
        which = _of(len(left), bool(out))
        said.append(f"{cap(bands_words(most))}: {which}{name(most)} {_said(most, unit)}")
    return f"{'. '.join(said)}."


def _of(count: int, more: bool) -> str:
    """Of how many the one behind it is the largest. more: others are told before them."""
    if count < 2:
        return ""
    many = f"{count} more" if more else "both" if count == 2 else f"all {count}"
    return f"{many}, the {'larger' if count == 2 else 'largest'} "


def _bands(value: Value) -> tuple[list[str], int]:
    """Each band in words with its figure, behind its gray, over the axis; and how many lines."""
    parts: list[str] = []
    at, row = 0.0, 0
    for n, said in enumerate(value.every()):
        room = 26 + LETTER * len(said)
        other_side = n == len(value.bounds)
        if at and (other_side or at + room > WIDTH):
            at, row = 0.0, row + 1
        y = 4 + LEADING * row
        patch = [(at, y), (at + 16, y), (at + 16, y + 10), (at, y + 10)]
        parts.append(area(patch, GRAYS[min(n % len(value.bounds), 4)], 0.5))
        parts.append(text(at + 21, y + 9, said, font_size=11))
        at += room
    return parts, row + 1


def _axis(values: Sequence[Value]) -> Scale:
    """Some way beyond the last bound on either side that is judged."""
    up, down = finite(values[0].bounds), finite(values[0].below)
    high = BEYOND * up[-1] if up else max(1.0, *(v.value for v in values))
    low = -BEYOND * down[-1] if down else -0.3 * high
    return Scale(low, high, VALUE_LEFT, VALUE_RIGHT)


def _fields(x: Scale, value: Value, rows: tuple[float, float]) -> Iterator[str]:
    """The bands as fields; a negative side without bands is not judged."""
    top, bottom = rows
    for side, bounds in ((1.0, finite(value.bounds)), (-1.0, finite(value.below))):
        limit = x.high if side > 0 else -x.low
        for n, (a, b) in enumerate(pairwise([0.0, *bounds, limit] if bounds else [])):
            x0, x1 = sorted((x(side * a), x(side * b)))
            field = [(x0, top), (x1, top), (x1, bottom), (x0, bottom)]
            yield area(field, GRAYS[min(n, 4)], 0.5)


def _row(scene: Value, x: Scale, y: float, name: str) -> str:
    value = scene.value
    low, high = (min(max(v, x.low), x.high) for v in (scene.low, scene.high))
    parts = [
        text(VALUE_LEFT - 8, y + 4, name, "end", font_size=11),
        line(x(low), y, x(high), y, 4.0),
    ]
    if x.low <= value <= x.high:
        ring = [(x(value), y - 6), (x(value) + 5, y), (x(value), y + 6), (x(value) - 5, y)]
        return "".join(parts) + area(ring, "#fff", 1.8)
    end, tip = (x(x.high), 1) if value > x.high else (x(x.low), -1)
    return "".join(parts) + area(
        [(end, y), (end - 12 * tip, y - 6), (end - 12 * tip, y + 6)], "#000", 1.0
    )


def _said(judged: Judged, unit: Unit) -> str:
    f = judged.finding
    way = "" if is_zero(f.value, f.unit, unit) else f.of.end(f.value)
    return f"{about(f.value, f.unit, unit)} {way}".rstrip() + f", {doubt(judged, unit)}"


# One quantity over the surveys
# --------------------------------------------------------------------------------------
TREND_LEFT, TREND_RIGHT, TREND_TOP, TREND_BOTTOM = 110.0, WIDTH - 200.0, 30.0, 148.0
TREND_INSET = 36.0
"""Units between the frame of the plot and its first and last point."""
NAMES_APART = 66.0
"""Units that a date takes along."""
DOTS = line(0, 14, 28, 14, 1.0, "1.5 4")
DASHES = line(0, 14, 28, 14, 1.6, "9 4")


def trend_figure(
    key: str,
    title: str,
    trend: Trend,
    by: str,
    surveys: Sequence[Survey],
    edges: Sequence[Edge],
    words: str,
) -> Figure | None:
    """The figure of one trend; None where a value or a doubt is no finite number.

    by: days or km. surveys: those that the trend is taken from, `trend.at` counts them. edges: the
    limit of the last value; empty where it has none. words: the trend in a sentence; how it is
    drawn is said after it.
    """
    f, unit = trend.findings[-1], surveys[-1].unit
    plot = plot_of(trend, by, surveys)
    if not are_finite((*plot.marks, *plot.band)):
        return None
    low, high = plot.limits(*plot.band)
    spare = 0.06 * (high - low)
    # Low is drawn low, as under the string.
    ends = (TREND_TOP, TREND_BOTTOM) if f.of.downward else (TREND_BOTTOM, TREND_TOP)
    x = Scale(trend.xs[0], trend.xs[-1], TREND_LEFT + TREND_INSET, TREND_RIGHT - TREND_INSET)
    y = Scale(low - spare, high + spare, *ends)
    limits = in_view(edges, y, f.value)
    dates, rows = _dates(plot.marks, x)
    parts = [
        _trend_band(plot.band, x, y),
        # Short strokes: lines all across would hide the limits.
        upright(y, TREND_LEFT, TREND_LEFT + 8, unit, (f.of.minus, f.of.plus), f.unit),
        path(
            [(TREND_LEFT, TREND_TOP), (TREND_LEFT, TREND_BOTTOM), (TREND_RIGHT, TREND_BOTTOM)], 1.0
        ),
        line(TREND_LEFT, y(0.0), TREND_RIGHT, y(0.0), 0.6) if y.low <= 0.0 <= y.high else "",
        *_trend_limits(limits, y, f.unit, unit),
        _trend_course(trend, plot, x, y),
        *(bar(x(m.x), y, m.y, m.half, 1.4) + dot(x(m.x), y(m.y)) for m in plot.marks),
        *dates,
        _trend_key(bool(plot.band), bool(limits)),
    ]
    told = f"{words} {_trend_scale(by, limits, f.unit, unit)}"
    return picture(key, title, told, TREND_BOTTOM + 12 + 14 * rows, *parts)


def in_view(edges: Sequence[Edge], y: Scale, value: float) -> list[tuple[str, float]]:
    """(band, where it ends) of the limits that lie within the plot, those nearest to the value
    first.
    """
    bounds = [
        (e.band, b)
        for e in edges
        for b in (e.high, e.low)
        if b is not None and y.low <= b <= y.high
    ]
    return sorted(bounds, key=lambda found: abs(found[1] - value))


def _trend_limits(
    limits: Sequence[tuple[str, float]], y: Scale, kind: str, unit: Unit
) -> Iterator[str]:
    """A dashed line at each with its band and its figure in one line, moved off its neighbor's where
    the two would touch.
    """
    words_at = -LEADING
    for at, (band, bound) in sorted((y(bound), (band, bound)) for band, bound in limits):
        words_at = max(at, words_at + LEADING)
        told = bound_words(band, bound, kind, unit)
        yield line(TREND_LEFT, at, TREND_RIGHT, at, 1.6, "9 4")
        yield line(TREND_RIGHT, at, TREND_RIGHT + 6, words_at, 0.6)
        yield text(TREND_RIGHT + 9, words_at + 4, told, font_size=10.5)


def _trend_band(band: Sequence[Mark], x: Scale, y: Scale) -> str:
    upper = [(x(m.x), y(m.y + m.half)) for m in band]
    lower = [(x(m.x), y(m.y - m.half)) for m in band]
    return area([*upper, *reversed(lower)], "#ddd") if band else ""


def _trend_course(trend: Trend, plot: Plot, x: Scale, y: Scale) -> str:
    """The fitted line where it holds; a jump as a step; else the points joined by dots, which
    foretell nothing.
    """
    steady = bool(plot.band) and not trend.step
    line_of = plot.course if steady or trend.step else [(m.x, m.y) for m in plot.marks]
    spots = [(x(a), y(b)) for a, b in line_of]
    return path(spots, 2.0) if steady else path(spots, 1.0, "1.5 4")


def _dates(marks: Sequence[Mark], x: Scale) -> tuple[list[str], int]:
    """A stroke and the date under each point, on one line or two; how many lines were used.

    The last date always, others where there is room: every one stands in the table under the
    figure.
    """
    parts: list[str] = []
    taken: dict[int, list[float]] = {0: [], 1: []}
    for mark in (marks[-1], *marks[:-1]):
        at = x(mark.x)
        parts.append(line(at, TREND_BOTTOM, at, TREND_BOTTOM + 5, 1.0))
        row = next(
            (r for r, used in taken.items() if all(abs(at - t) >= NAMES_APART for t in used)), None
        )
        if row is not None:
            taken[row].append(at)
            parts.append(text(at, TREND_BOTTOM + 18 + 14 * row, mark.name, "middle", font_size=11))
    return parts, 2 if taken[1] else 1


def _trend_key(band: bool, limits: bool) -> str:
    """What the strokes mean, over the plot."""
    bar = line(14, 7, 14, 21, 1.4) + line(8, 7, 20, 7, 1.4) + line(8, 21, 20, 21, 1.4)
    gray = area([(0, 7), (28, 7), (28, 21), (0, 21)], "#ddd") + line(0, 14, 28, 14, 2.0)
    course = (
        (gray, "the line, and its give or take", 216.0) if band else (DOTS, "no steady line", 140.0)
    )
    found = [(bar, "give or take", 120.0), course, *([(DASHES, "limit", 0.0)] if limits else [])]
    parts, at = [], TREND_LEFT
    for drawn, told, room in found:
        parts.append(
            element(
                "g",
                drawn + text(34, 18, told, font_size=11),
                transform=f"translate({number(at)} 0)",
            )
        )
        at += room
    return "".join(parts)


def _trend_scale(by: str, limits: Sequence[tuple[str, float]], kind: str, unit: Unit) -> str:
    """What it is drawn against, and the limits in view: true of the typed plot as well."""
    along = (
        "the distance driven since the first survey" if by == "km" else "the date, days to scale"
    )
    said = f"Drawn over {along}; the upright bars are the give or take, 19 times in 20."
    near = sorted(limits, key=lambda found: abs(found[1]))
    ends = dict.fromkeys(bound_words(name, b, kind, unit) for name, b in near)
    return f"{said} Limits in view: {', '.join(ends)}." if ends else said
