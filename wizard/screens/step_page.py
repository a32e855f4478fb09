"""The step page, fitted to the room: what matters most is granted its lines first, so that nothing
has to scroll.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from wizard.library.shapes import Caution
from wizard.screens.paper import BLANK, Line, cells, drawn, line, spread, wrap
from wizard.screens.readings import row_lines
from wizard.telling.big_letters import big
from wizard.telling.canvas import Drawing
from wizard.telling.page import PageView

Draw = Callable[[int, int], Drawing]
"""A drawing for a width and height in cells."""
LEAST = 7
"""Lines that must be left for a small drawing to be shown at all."""
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


def step_page(view: PageView, pictures: Pictures, width: int, height: int) -> list[Line]:
    """The page in front in at most `height` lines, or a little more where even the least does not
    fit.
    """
    why = wrap(view.why, width)
    moves = [wrap(text, width, first=f"{n}. ") for n, text in enumerate(view.how, start=1)]
    frame, left = _frame(pictures, width, height - 1 - len(why), _lines(moves))
    rows = row_lines(view.rows, width)
    live = [wrap(text, width, "strong") for text in view.live]
    begun = any(row.values for row in view.rows)

    live_n = 1 if live and len(live[0]) < left else 0
    rows_n = (
        min(len(rows), 3) if begun else 0
    )  # before the first answer, what there is to do says more
    left -= rows_n + _lines(live[:live_n])
    shown = _moves(moves, view.move - 1, left)
    left -= _lines(moves[shown])
    good = wrap(f"Good is: {view.good}", width, "dim")
    good = good if _lines(moves[shown]) == _lines(moves) and len(good) <= left else []
    left -= len(good)
    spare = min(left, SPARE) if left >= SPARE else 0
    more = min(len(rows) - rows_n, max(left - spare, 0))
    rows_n, left = rows_n + more, left - more
    more = _whole(live[live_n:], left - spare)
    left -= _lines(live[live_n : live_n + more])
    live_n += more
    value = (
        drawn(pictures.value(min(width, 76), max(left, 0))) if live_n and left >= 2 + spare else []
    )
    value = value if len(value) <= left - spare else []
    left -= len(value)
    title, told = _told(view, moves, shown, width)
    blocks = [
        why,
        told + good,
        frame,
        _window(rows, rows_n),
        _joined(live[:live_n]) + value,
    ]
    return [title, *_apart(blocks, left)]


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
