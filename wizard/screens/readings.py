"""The readings of a step, in as few lines as they fit in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wizard.screens.paper import Line, cells, fit, pad
from wizard.telling.page import Row

GAP = 3
"""Cells between two columns."""


def row_lines(rows: Sequence[Row], width: int) -> list[tuple[bool, Line]]:
    """Lines of readings, each with whether the one in front is on it; in columns when they fit."""
    if not rows:
        return []
    label = max(cells(r.label) for r in rows)
    values = max(max(cells(r.values) for r in rows), 6)
    cell = 2 + label + 2 + values
    columns = max(1, min((width + GAP) // (cell + GAP), 3, len(rows)))
    if columns == 1:
        label = min(label, max(width - 4 - min(values, width // 3), width // 2))
        room = width - label - 4
        short = [
            replace(r, values=r.brief) if r.brief and cells(r.values) > room else r for r in rows
        ]
        return [(r.here, _cell(r, label, room)) for r in short]
    columns -= (
        columns % 2 if columns > 2 else 0
    )  # left and right stand side by side, in the order of asking
    grid = [rows[first : first + columns] for first in range(0, len(rows), columns)]
    return [(any(r.here for r in across), _across(across, label, values)) for across in grid]


def _across(rows: Sequence[Row], label: int, values: int) -> Line:
    pieces: list[tuple[str, str]] = []
    for row in rows:
        pieces += [
            *((" " * GAP, ""),) * bool(pieces),
            *_cell(row, label, values, filled=row is not rows[-1]),
        ]
    return tuple(pieces)


def _cell(row: Row, label: int, values: int, filled: bool = False) -> Line:
    mark, role = ("> ", "here") if row.here else ("  ", "")
    value = pad(row.values, values) if filled else fit(row.values, values)
    return ((mark, role), (pad(row.label, label), role), ("  ", ""), (value, role or "strong"))
