"""Two surveys held against each other, in the report: one table of every figure, then what
`compare` says beside it.
"""

from __future__ import annotations

from wizard.judgment.change import Change, Comparison
from wizard.library.shapes import Layout, Library
from wizard.survey.guide import layout_of
from wizard.survey.record import Unit
from wizard.telling.amounts import about
from wizard.telling.blocks import Block, Heading, Items, Para, Table
from wizard.telling.change_words import headline, sections, title
from wizard.telling.quantity_names import amount, name_of, size

HEAD = ("Figure", "Then", "Now", "Difference", "Give or take", "What it says")
WIDTHS = (29, 14, 14, 11, 11, 21)
IN_TABLE = ("What has changed", "What cannot be told", "What has not changed")
"""Headings of `compare` whose lines are the rows of the table."""

Rows = tuple[tuple[str, ...], ...]


def last_part(comparison: Comparison, library: Library) -> list[Block]:
    """The survey against the one before it, whole."""
    rows = _rows(comparison, library, ("changed", "cannot tell", "not changed"))
    blocks = _part("Since last time", title(comparison), comparison, rows)
    for section in sections(comparison, library):
        if section.heading not in IN_TABLE:
            blocks += [Heading(4, section.heading), Items(section.lines)]
    return blocks


def first_part(comparison: Comparison, km: float | None, library: Library) -> list[Block]:
    """The survey against the first of the row: only what has changed. km: driven in all, where that
    is known.
    """
    rows = _rows(comparison, library, ("changed",))
    return _part("Since the first time", title(comparison, km), comparison, rows)


def _part(heading: str, said: str, comparison: Comparison, rows: Rows) -> list[Block]:
    """Heading, answer, and which surveys they are: over the table where there is one."""
    what: Block = Table(said, HEAD, rows, WIDTHS) if rows else Para(f"{said}.")
    return [Heading(3, heading), Para(headline(comparison), strong=True), what]


def _rows(comparison: Comparison, library: Library, wanted: tuple[str, ...]) -> Rows:
    """One for each figure; taped distances that have not changed are one together, for they are
    many.
    """
    now = comparison.now.survey
    layout, unit = layout_of(now, library), now.unit
    found = [c for says in wanted for c in comparison.of(says)]
    tapes = [c for c in found if c.says == "not changed" and c.new.quantity == "length"]
    rows = [_row(c, layout, unit) for c in found if c not in tapes]
    return (*rows, *([_tapes(tapes, unit)] if tapes else []))


def _row(change: Change, layout: Layout, unit: Unit) -> tuple[str, ...]:
    f, name = change.new, name_of(change.new, layout)
    # What is established is never said as zero; what is not may well be.
    say = size if change.says == "changed" else about
    return (
        name[:1].upper() + name[1:],
        amount(change.old, unit),
        amount(f, unit),
        say(change.number.value, f.unit, unit),
        size(change.half_width, f.unit, unit),
        _says(change, unit),
    )


def _says(change: Change, unit: Unit) -> str:
    kind = change.new.unit
    if change.says == "not changed":
        return f"not changed; {size(change.visible, kind, unit)} would have shown"
    if change.why == "one-of-many":
        return "cannot tell: among so many figures one such is to be expected; read again"
    if change.says == "cannot tell":
        most = size(abs(change.number.value) + change.half_width, kind, unit)
        return f"cannot tell: it may have moved by as much as {most}"
    return "changed"


def _tapes(tapes: list[Change], unit: Unit) -> tuple[str, ...]:
    low, high = (size(f(c.visible for c in tapes), "mm", unit) for f in (min, max))
    reach = high if low == high else f"{low} to {high}"
    name = "One taped distance" if len(tapes) == 1 else f"{len(tapes)} taped distances"
    return (name, "", "", "", "", f"not changed; {reach} would have shown")
