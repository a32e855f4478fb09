"""content/limits.toml, tools.toml, glossary.toml and paper.toml."""

from __future__ import annotations

import math

from wizard.library.fields import Table
from wizard.library.marks import ASKED_FOR, DEEP, VOICES
from wizard.library.places import QuantityId, StepId
from wizard.library.shapes import (
    Bound,
    Clause,
    Limit,
    OfCar,
    Paper,
    PhotoAsked,
    Scatter,
    ShopBrief,
    ToolKind,
    Word,
    Work,
)
from wizard.readings.figures import Unit, read_length
from wizard.readings.instruments import instrument
from wizard.readings.refused import Refused

MARKS = ("P", "C", "M", "X", "O")
BANDS = ("leave", "watch", "put-right")
TOLD = ("whole", "box", "rail")
"""Of what a limit is said to be kept."""


def figure(text: str) -> float:
    """A limit as authored: a length ("1/8 in", "6 mm") in mm, a share ("10 %") in percent, or an
    angle ("0.5 deg") in degrees.

    Raises Refused for what is no length, ValueError for what is no share or angle.
    """
    unit = unit_of(text)
    if unit == "mm":
        return float(read_length(text, "mm"))
    size = float(text.removesuffix(unit))
    if not math.isfinite(size):
        raise ValueError(f"{text} is not a figure")
    return size


def unit_of(text: str) -> str:
    """The unit in which a limit's figure is kept.

    >>> unit_of("10 %"), unit_of("0.5 deg"), unit_of("1/8 in")
    ('%', 'deg', 'mm')
    """
    return next((unit for unit in ("%", "deg") if text.endswith(unit)), "mm")


def _bound(t: Table) -> Bound:
    text, upto = t.text("upto"), 0.0
    try:
        upto = figure(text)
    except (Refused, ValueError):
        upto = math.nan
    if not 0 < upto < math.inf:
        t.fault(
            "upto",
            f"'{text}' is not a figure",
            'write it like "1/8 in", "6 mm", "10 %" or "0.5 deg"',
        )
    bound = Bound(t.word("band", BANDS), upto, t.text("source"), t.word("mark", MARKS))
    t.done()
    return bound


def _bounds(t: Table, key: str) -> tuple[Bound, ...]:
    bounds = tuple(_bound(b) for b in t.tables(key))
    if [b.upto_mm for b in bounds] != sorted({b.upto_mm for b in bounds}):
        t.fault(key, "the bounds do not rise", "order them from the smallest to the largest")
    return bounds


def _unit(t: Table) -> str:
    """The one unit of all of a limit's figures."""
    rows = [
        row for key in ("above", "below") for row in t.data.get(key) or () if isinstance(row, dict)
    ]
    units = {unit_of(upto) for row in rows if isinstance(upto := row.get("upto"), str)}
    if len(units) > 1:
        t.fault(
            "above", f"its figures are in {' and '.join(sorted(units))}", "give all in one unit"
        )
    return min(units, default="mm")


def read_limits(t: Table) -> dict[str, Limit]:
    """Limits by id."""
    t.format()
    limits: dict[str, Limit] = {}
    for row in t.tables("limit"):
        above = _bounds(row, "above")
        below = above if row.flag("both") else _bounds(row, "below")
        limit = Limit(
            id=row.text("id"),
            name=row.text("name"),
            above=above,
            below=below,
            beyond=row.word("beyond", ("specialist", "axle-first"), "specialist"),
            note=row.text("note", ""),
            unit=_unit(row),
            sound=row.text("sound"),
            well=row.text("well", ""),
            told=row.word("told", TOLD, "whole"),
            local=row.text("local", ""),
        )
        row.taken.add("below")
        row.done()
        row.once(limit.id, limits)
        limits[limit.id] = limit
    t.done()
    return limits


def _usable(t: Table, tool: ToolKind) -> None:
    """A tool must be one in either unit, or every reading taken with it would fall back to an
    ordinary one.
    """
    units: tuple[Unit, ...] = ("in", "mm")
    for unit in units:
        try:
            instrument({**tool.in_unit(unit), "kind": tool.kind, "name": tool.name}, unit)
        except Refused as refused:
            t.fault("values", f"make no {tool.kind}", str(refused).rstrip("."))
            return


def read_tools(t: Table) -> tuple[dict[str, ToolKind], tuple[Scatter, ...], dict[str, float]]:
    """Tools to hand, priors of hand scatter, doubt of each kind of point (mm)."""
    t.format()
    tools: dict[str, ToolKind] = {}
    scatters: list[Scatter] = []
    points: dict[str, float] = {}
    for row in t.tables("tool"):
        values = {k: str(v) for k, v in row.mapping("values").items()}
        tool = ToolKind(row.text("id"), row.text("kind"), row.text("name"), values)
        _usable(row, tool)
        row.done()
        row.once(tool.id, tools)
        tools[tool.id] = tool
    for row in t.tables("scatter"):
        scatters.append(
            Scatter(
                row.text("tool"),
                row.text("point", ""),
                row.number("s"),
                row.number("dof"),
                row.text("source"),
                row.flag("rounding"),
            )
        )
        row.done()
    for row in t.tables("point_kind"):
        id = row.text("id")
        row.once(id, points)
        points[id] = row.number("u_mm")
        row.text("source", "")
        row.text("name", "")
        row.done()
    t.done()
    return tools, tuple(scatters), points


def read_words(t: Table) -> dict[str, Word]:
    """Glossary by word."""
    t.format()
    words: dict[str, Word] = {}
    for row in t.tables("word"):
        word = Word(row.text("word"), row.text("meaning"), row.flag("everyday"), row.flag("kinds"))
        row.done()
        row.once(word.word, words)
        words[word.word] = word
    t.done()
    return words


def read_clauses(t: Table) -> tuple[Clause, ...]:
    """What a laboratory's report has to hold. Each says where it stands, or why it is not here."""
    t.format()
    clauses: dict[str, Clause] = {}
    for row in t.tables("clause"):
        one = Clause(
            row.text("clause"),
            row.text("asks"),
            row.texts("at"),
            row.text("stands", ""),
            row.text("why", ""),
        )
        if bool(one.at and one.stands) is bool(one.why):
            row.fault(
                "at", "does not say where it stands, or why not", "write at and stands, or why"
            )
        row.done()
        row.once(one.clause, clauses)
        clauses[one.clause] = one
    t.done()
    return tuple(clauses.values())


POINTS_TO = ("stop", "loose", DEEP, *VOICES)
"""What was seen that can point to a work."""


def read_paper(t: Table) -> Paper:
    """The photos of the record, and the brief."""
    t.format()
    photos: dict[str, PhotoAsked] = {}
    for row in t.tables("photo"):
        photo = PhotoAsked(
            row.text("id"), row.text("name"), StepId(row.text("at")), row.text("how")
        )
        row.done()
        row.once(photo.id, photos)
        photos[photo.id] = photo
    of_car: dict[str, OfCar] = {}
    for row in t.tables("car"):
        one = OfCar(
            id=row.text("id"),
            name=row.text("name"),
            how=row.text("how"),
            like=row.text("like"),
            stays=row.flag("stays"),
        )
        row.done()
        row.once(one.id, of_car)
        of_car[one.id] = one
    said = Table(t.mapping("brief"), t.file, t.faults, "brief.")
    brief = ShopBrief(
        said.texts("opening", needed=True),
        said.text("standing"),
        said.texts("keep", needed=True),
        said.texts("questions", needed=True),
        _works(t),
    )
    said.done()
    t.done()
    return Paper(photos, brief, of_car)


def _works(t: Table) -> tuple[Work, ...]:
    found: dict[str, Work] = {}
    for row in t.tables("work"):
        of = tuple(map(QuantityId, row.texts("of")))
        work = Work(
            row.text("id"),
            row.text("name"),
            row.text("words"),
            of,
            row.words("seen", POINTS_TO),
            row.words("only", ASKED_FOR),
            row.words("always", ASKED_FOR),
            otherwise=row.flag("otherwise"),
            turn=row.whole("turn", 0),
            who=row.text("who"),
            leaves=row.text("leaves"),
            again=row.text("again", default=""),
            frame=row.flag("frame"),
            ours=row.flag("ours"),
        )
        row.done()
        row.once(work.id, found)
        found[work.id] = work
    return tuple(found.values())
