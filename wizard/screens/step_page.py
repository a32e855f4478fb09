"""The step page, fitted to the room: what matters most is granted its lines first, so that nothing
has to scroll.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from wizard.library.shapes import Caution
from wizard.screens.paper import BLANK, Line, cells, drawn, fit, line, pad, spread, wrap
from wizard.telling.big_letters import big
from wizard.telling.canvas import Drawing
from wizard.telling.page import PageView, Row

Draw = Callable[[int, int], Drawing]
"""A drawing for a width and height in cells."""
LEAST = 7
"""Lines that must be left for a small drawing to be shown at all."""
GAP = 3
"""Cells between two columns of readings."""
SPARE = 3
"""Blank lines between the blocks that come before the last of many readings."""


@dataclass(frozen=True, slots=True)
class Pictures:
    """What can be drawn on the page, when there is room."""

    frame: Draw
    """The frame with the tape, string or level that is asked for."""
    value: Draw
    """The gravest result so far against its limits."""
    small: bool = False
    """A frame that shows where to look and no more: what there is to do comes before it."""


def caution_page(caution: Caution, before: str, width: int, ink: str = "#") -> list[Line]:
    """A caution alone on the page; one that holds everything begins with the largest words there
    are.

    before: title of the page that waits for it.
    """
    lines = [line(row, "bad") for row in big(caution.big, ink)] if caution.big else []
    lines += [BLANK] if lines else []
    title, waits = f"Caution: {caution.title}", f"before: {before}"
    if cells(title) + cells(waits) + 2 <= width:
        lines += [spread((title, "title"), (waits, "dim"), width)]
    else:
        lines += [line(title, "title"), line(waits, "dim")]
    for text in caution.lines:
        lines += wrap(text, width)
    for source in caution.sources:
        lines += wrap(source, width, "dim", first="Source: ")
    return lines


@dataclass(slots=True)
class Left:
    """Lines of a page that are left, granted to one block after another."""

    lines: int

    def take(self, lines: int) -> int:
        """So many, whether they are there or not."""
        self.lines -= lines
        return lines

    def whole(self, parts: Sequence[list[Line]], keep: int = 0) -> list[list[Line]]:
        """As many of the parts as fit whole; keep: lines that are left for others."""
        granted = list(parts[: _whole(parts, self.lines - keep)])
        self.take(_lines(granted))
        return granted

    def block(self, lines: list[Line], keep: int = 0) -> list[Line]:
        """All of it or nothing."""
        return _joined(self.whole([lines], keep))


def step_page(view: PageView, pictures: Pictures, width: int, height: int) -> list[Line]:
    """The page in front in at most `height` lines, or a little more where even the least does not
    fit.
    """
    why = wrap(view.why, width)
    moves = [wrap(text, width, first=f"{n}. ") for n, text in enumerate(view.how, start=1)]
    frame, lines = _frame(pictures, width, height - 1 - len(why), _lines(moves))
    left = Left(lines)
    rows = row_lines(view.rows, width)
    live = [wrap(text, width, "strong") for text in view.live]
    begun = any(row.values for row in view.rows)

    said = left.whole(live[:1], keep=1)
    # Before the first answer, what there is to do says more than the empty places of readings.
    rows_n = left.take(min(len(rows), 3) if begun else 0)
    shown = _moves(moves, view.move - 1, left.lines)
    left.take(_lines(moves[shown]))
    all_told = shown == slice(0, len(moves))
    good = left.block(wrap(f"Good is: {view.good}", width, "dim")) if all_told else []
    spare = SPARE if left.lines >= SPARE else 0
    rows_n += left.take(min(len(rows) - rows_n, max(left.lines - spare, 0)))
    said += left.whole(live[len(said) :], keep=spare)
    value: list[Line] = []
    if said and left.lines >= 2 + spare:
        value = left.block(drawn(pictures.value(min(width, 76), left.lines)), keep=spare)
    title, told = _told(view, moves, shown, width)
    blocks = [why, told + good, frame, _window(rows, rows_n), _joined(said) + value]
    return [title, *_apart(blocks, left.lines)]


def _joined(parts: Sequence[list[Line]]) -> list[Line]:
    return [piece for part in parts for piece in part]


def _lines(parts: Sequence[list[Line]]) -> int:
    return sum(len(part) for part in parts)


def _moves(moves: Sequence[list[Line]], wanted: int, left: int) -> slice:
    """Those that fit whole: from the first on where the wanted one is among them, else from that
    one on.
    """
    count = _whole(moves, left)
    if count > wanted:
        return slice(0, count)
    end = wanted + _whole(moves[wanted:], left)
    before = _whole(moves[:wanted][::-1], left - _lines(moves[wanted:end]))
    return slice(wanted - before, end)


def _told(
    view: PageView, moves: Sequence[list[Line]], shown: slice, width: int
) -> tuple[Line, list[Line]]:
    """Title and moves; where some have no room, the end of the last line, else of the title, says
    where they are.
    """
    title, lines = line(view.title, "title"), _joined(moves[shown])
    if shown == slice(0, len(moves)):
        return title, lines
    more = (f"F1: all {len(moves)} moves", "strong")
    last = "".join(text for text, _ in lines[-1]) if lines else ""
    if not lines or cells(last) + cells(more[0]) + 2 > width:
        return spread((view.title, "title"), more, width), lines
    return title, [*lines[:-1], spread((last, ""), more, width)]


def _frame(pictures: Pictures, width: int, left: int, moves: int) -> tuple[list[Line], int]:
    """The drawing, and the lines that are left; no drawing where it would crowd out what must be
    there.

    moves: lines of what there is to do; a small drawing that points to no place gives way to them.
    """
    draw = pictures.frame
    if pictures.small:
        small = draw(width, 2)
        room = left >= (LEAST if small.lit else moves + LEAST - 1)
        lines = drawn(small) if room else []
        return lines, left - len(lines)
    height = 7 if left < 18 else 8 if left < 32 else 10 if left < 45 else 16
    if left < 11:
        return [], left
    lines = drawn(draw(width, height))
    while lines and not lines[-1]:
        lines.pop()
    return lines, left - len(lines)


def _whole(parts: Sequence[list[Line]], left: int) -> int:
    """How many of the parts fit whole: half a sentence would be worse than none."""
    count = 0
    for part in parts:
        left -= len(part)
        if left < 0:
            break
        count += 1
    return count


def _window(rows: Sequence[tuple[bool, Line]], count: int) -> list[Line]:
    """So many of the lines, the one in front among them."""
    here = next((n for n, (is_here, _) in enumerate(rows) if is_here), 0)
    first = min(max(here - count // 2, 0), max(len(rows) - count, 0))
    return [pieces for _, pieces in rows[first : first + count]]


def _apart(blocks: Sequence[list[Line]], left: int) -> list[Line]:
    """The blocks one under the other, with a blank line between them as long as there are lines to
    spare.
    """
    lines: list[Line] = []
    for block in filter(None, blocks):
        if lines and left > 0:
            lines.append(BLANK)
            left -= 1
        lines += block
    return lines


# The readings -------------------------------------------------------------------------------------
# ------------------


def row_lines(rows: Sequence[Row], width: int) -> list[tuple[bool, Line]]:
    """Lines of readings, each with whether the one in front is on it; in columns when they fit."""
    if not rows:
        return []
    label = max(cells(r.label) for r in rows)
    values = max(6, *(cells(r.values) for r in rows))
    columns = _columns(len(rows), 2 + label + 2 + values, width)
    if columns == 1:
        return _one_column(rows, label, values, width)
    grid = [rows[first : first + columns] for first in range(0, len(rows), columns)]
    return [(any(r.here for r in across), _across(across, label, values)) for across in grid]


def _columns(count: int, cell: int, width: int) -> int:
    """How many fit: left and right stand side by side, in the order of asking."""
    columns = max(1, min((width + GAP) // (cell + GAP), 3, count))
    return columns - columns % 2 if columns > 2 else columns


def _one_column(
    rows: Sequence[Row], label: int, values: int, width: int
) -> list[tuple[bool, Line]]:
    """One under the other, what is too long in its short form."""
    label = min(label, max(width - 4 - min(values, width // 3), width // 2))
    room = width - label - 4
    short = [replace(r, values=r.brief) if r.brief and cells(r.values) > room else r for r in rows]
    return [(r.here, _cell(r, label, room)) for r in short]


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
