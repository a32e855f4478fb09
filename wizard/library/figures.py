"""content/limits.toml, tools.toml, cautions.toml and glossary.toml."""

from __future__ import annotations

from wizard.library.fields import Table
from wizard.library.shapes import Bound, Caution, Limit, Scatter, ToolKind, Word
from wizard.readings.lengths import read_length
from wizard.readings.refused import Refused

MARKS = ("P", "C", "M", "X", "O")
BANDS = ("leave", "watch", "put-right")


def figure(text: str) -> float:
    """A limit as authored: a length ("1/8 in", "6 mm") in mm, or a share ("10 %") in percent. Raises Refused."""
    if text.endswith("%"):
        return float(text[:-1])
    return float(read_length(text, "mm"))


def _bound(t: Table) -> Bound:
    text, upto = t.text("upto"), 0.0
    try:
        upto = figure(text)
    except (Refused, ValueError):
        t.fault("upto", f"'{text}' is not a figure", 'write it like "1/8 in", "6 mm" or "10 %"')
    bound = Bound(t.word("band", BANDS), upto, t.text("source"), t.word("mark", MARKS))
    t.done()
    return bound


def _bounds(t: Table, key: str) -> tuple[Bound, ...]:
    bounds = tuple(_bound(b) for b in t.tables(key))
    if [b.upto_mm for b in bounds] != sorted({b.upto_mm for b in bounds}):
        t.fault(key, "the bounds do not rise", "order them from the smallest to the largest")
    return bounds


def read_limits(t: Table) -> dict[str, Limit]:
    """Limits by id."""
    t.whole("format")
    limits = {}
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
        )
        row.taken.add("below")
        row.done()
        limits[limit.id] = limit
    t.done()
    return limits


def read_tools(t: Table) -> tuple[dict[str, ToolKind], tuple[Scatter, ...], dict[str, float]]:
    """Tools to hand, priors of hand scatter, doubt of each kind of point (mm)."""
    t.whole("format")
    tools, scatters, points = {}, [], {}
    for row in t.tables("tool"):
        values = {k: str(v) for k, v in row.mapping("values").items()}
        tool = ToolKind(row.text("id"), row.text("kind"), row.text("name"), values)
        row.done()
        tools[tool.id] = tool
    for row in t.tables("scatter"):
        scatters.append(
            Scatter(row.text("tool"), row.text("point", ""), row.number("s"), row.number("dof"), row.text("source"))
        )
        row.done()
    for row in t.tables("point_kind"):
        points[row.text("id")] = row.number("u_mm")
        row.text("source", "")
        row.text("name", "")
        row.done()
    t.done()
    return tools, tuple(scatters), points


def read_cautions(t: Table) -> dict[str, Caution]:
    """Cautions by id."""
    t.whole("format")
    cautions = {}
    for row in t.tables("caution"):
        caution = Caution(row.text("id"), row.text("title"), row.texts("lines", needed=True), row.texts("sources"))
        row.done()
        cautions[caution.id] = caution
    t.done()
    return cautions


def read_words(t: Table) -> dict[str, Word]:
    """Glossary by word."""
    t.whole("format")
    words = {}
    for row in t.tables("word"):
        word = Word(row.text("word"), row.text("meaning"))
        row.done()
        words[word.word] = word
    t.done()
    return words
