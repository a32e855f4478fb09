"""The worksheet for any printer: pages of 66 lines by 80 columns, plain ASCII, a form feed between
them.
"""

from __future__ import annotations

import textwrap
import unicodedata
from collections.abc import Sequence
from itertools import chain

from wizard.library.shapes import Caution
from wizard.telling.sheet import Box, Sheet, SheetStep
from wizard.telling.sheet_drawing import VIEW, point_lines, sheet_plan
from wizard.telling.sheet_words import ENTER_LINES, FILL_LINES, HEAD_FIELDS, title_of

WIDTH, HEIGHT = 79, 66
"""Columns (one of the 80 stays free: some printers wrap at the last) and lines of a page."""
ROOM = HEIGHT - 3
"""Lines between the head of a page and its foot."""
_PLAIN = str.maketrans(
    {"“": '"', "”": '"', "‘": "'", "’": "'", "–": "-", "—": "-", "…": "...", "·": "-", "±": "+/-"}
)


def sheet_text(sheet: Sheet) -> str:
    """The whole sheet."""
    pages = _pages([_head(sheet), _drawing(sheet), *(_step(s) for s in sheet.steps), _end(sheet)])
    whole = []
    for n, page in enumerate(pages, start=1):
        top = f"Crosstape worksheet: {sheet.layout.name}"
        head = [f"{top}{f'page {n} of {len(pages)}':>{WIDTH - len(top)}}", "=" * WIDTH]
        whole.append("\n".join([*head, *page]).rstrip() + "\n")
    return _ascii("\f".join(whole))


def _ascii(text: str) -> str:
    """Marks that an old printer has; what it lacks becomes a question mark."""
    flat = unicodedata.normalize("NFKD", text.translate(_PLAIN))
    kept = "".join(c for c in flat if not unicodedata.combining(c))
    return kept.encode("ascii", "replace").decode("ascii")


def _pages(blocks: Sequence[Sequence[str]]) -> list[list[str]]:
    """Blocks set on pages, none of them broken unless it is longer than a page."""
    pages: list[list[str]] = [[]]
    for block in blocks:
        for first in range(0, len(block), ROOM):
            piece = list(block[first : first + ROOM])
            if pages[-1] and len(pages[-1]) + 1 + len(piece) > ROOM:
                pages.append([])
            pages[-1] += ["", *piece] if pages[-1] else piece
    return pages


def _wrap(text: str, first: str = "", rest: str = "") -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=first, subsequent_indent=rest or first)


def _head(sheet: Sheet) -> list[str]:
    lines = _wrap(title_of(sheet.layout, sheet.state))
    for row in HEAD_FIELDS:
        room = (WIDTH - 2 * (len(row) - 1)) // len(row)
        lines += ["", "  ".join(f"{name} ".ljust(room, "_") for name in row)]
    lines.append("")
    for words in (*FILL_LINES, *ENTER_LINES):
        lines += _wrap(words, "- ", "  ")
    return lines


def _caution(caution: Caution) -> list[str]:
    lines = [row for text in caution.lines for row in _wrap(text, "   | ", "   | ")]
    return [f"   CAUTION: {caution.title}", *lines]


def _drawing(sheet: Sheet) -> list[str]:
    points = _wrap("Points: " + ";  ".join(point_lines(sheet)) + ".", "", "  ")
    return [
        *sheet_plan(sheet).lines,
        *points,
        *_wrap(VIEW),
    ]


def _step(step: SheetStep) -> list[str]:
    read = [box for box in step.boxes if box.kind.acknowledges]
    filled = [box for box in step.boxes if not box.kind.acknowledges]
    return [
        f"{step.number}. {step.title.upper()}",
        *chain.from_iterable(_caution(caution) for caution in step.cautions),
        *chain.from_iterable(_rows(box) for box in read),
        *_wrap(f"{step.only_when} {step.how}".strip(), "   "),
        *chain.from_iterable(_wrap(codes.line, "   ~ ", "     ") for codes in step.codes),
        *chain.from_iterable(_rows(box) for box in filled),
    ]


def _label(box: Box) -> str:
    points = f" ({box.points})" if box.points else ""
    return f"{box.label}{points}" + (f" [{box.only_if}]" if box.only_if else "")


def _blank(box: Box) -> str:
    return "[" + (box.preset or "").center(box.kind.blank, "_") + "]"


def _rows(box: Box) -> list[str]:
    if box.kind.tells:
        return [*_wrap(box.label, "   "), "   " + "_" * (WIDTH - 3)]
    blank = _blank(box)
    words = textwrap.wrap(_label(box), WIDTH - 5 - len(blank))
    last = words[-1]
    rows = [f"   {w}" for w in words[:-1]]
    rows.append(f"   {last} {blank:.>{WIDTH - 4 - len(last)}}")
    return rows + (_wrap(box.codes.line, "     ~ ", "       ") if box.codes.letters else [])


def _end(sheet: Sheet) -> list[str]:
    lines = []
    for number, title, why in sheet.left_out:
        lines += _wrap(f"Left out: {number}. {title}. {why}")
    return [*lines, "", "Signed ".ljust(48, "_") + "  Date ".ljust(28, "_")]
