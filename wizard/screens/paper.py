"""Lines of text with a role for each piece: what the pages are made of before the screen gives
roles their looks.

A role is a name such as "title" or "dim"; crosstape.tcss says how it looks. Nothing here is ever
read as markup, and every piece is cleaned of what could drive a terminal.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rich.cells import cell_len, set_cell_size

from wizard.readings.plain import clean
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.document import (
    Block,
    Draw,
    Heading,
    Item,
    Items,
    Paragraph,
    Picture,
    Quote,
    Sketch,
    Table,
    Terms,
)
from wizard.telling.text import CLOSE, Look, Text

Piece = tuple[str, str]
"""Text and role; the empty role is plain text."""
Line = tuple[Piece, ...]

ROLES = ("title", "headline", "strong", "dim", "here", "lit", "good", "bad", "doubt", "key")
BLANK: Line = ()
_LISTED = re.compile(r"(?:-|\d{1,2}\.) ")


def line(text: str, role: str = "") -> Line:
    """A line of one piece."""
    return ((clean(text), role),)


def cells(text: str) -> int:
    """Width of a text in terminal cells."""
    return cell_len(text)


def fit(text: str, width: int) -> str:
    """The text, cut to a width in cells with an ellipsis where it is longer."""
    text = clean(text)
    if cell_len(text) <= width:
        return text
    return set_cell_size(text, max(width - 1, 0)).rstrip() + "…"


def pad(text: str, width: int) -> str:
    """The text at exactly a width in cells."""
    return set_cell_size(fit(text, width), width)


def wrap(
    text: str, width: int, role: str = "", first: str = "", rest: str | None = None
) -> list[Line]:
    """Lines of at most `width` cells, with a hanging indent; one blank line for no text."""
    rest = " " * len(first) if rest is None else rest
    lines = textwrap.wrap(clean(text), max(width, 10), initial_indent=first, subsequent_indent=rest)
    return [line(fit(part, width), role) for part in lines] or [BLANK]


def page_text(text: str, width: int) -> list[Line]:
    """A text of several lines, each wrapped behind its own indent."""
    lines: list[Line] = []
    for part in text.splitlines():
        bare = part.lstrip()
        indent = part[: len(part) - len(bare)]
        mark = _LISTED.match(bare)
        hang = indent + " " * (mark.end() if mark else 0)
        lines += wrap(bare, width, first=indent, rest=hang) if bare else [BLANK]
    return lines


MOST = 72
"""Cells of a drawing among texts at most."""
INDENT = "    "


def document_lines(
    blocks: Iterable[Block], width: int, charset: Charset, look: Look = CLOSE
) -> list[Line]:
    """A document as a page, its headings apart."""
    lines: list[Line] = []
    face = Page(width, charset, look)
    for block in blocks:
        free = bool(lines) and isinstance(block, Heading)
        lines += [*([BLANK] if free else ()), *block.shown(face)]
    return lines


@dataclass(frozen=True, slots=True)
class Page:
    """The face that shows a document in cells."""

    width: int
    charset: Charset
    look: Look

    def heading(self, block: Heading) -> list[Line]:
        """In one line."""
        return [line(block.text, "strong")]

    def paragraph(self, block: Paragraph) -> list[Line]:
        """A strong one is a headline over the whole width."""
        if not block.strong:
            return wrap(block.text, self.width)
        edge = line(" " * self.width, "headline")
        rows = (as_text([row]) for row in wrap(block.text, self.width - 4))
        return [edge, *(line(pad(f"  {row}", self.width), "headline") for row in rows), edge]

    def items(self, block: Items) -> list[Line]:
        """Each behind its bullet, with its drawing where it has one."""
        lines = [part for item in block.items for part in self._item(item)]
        return lines[:-1] if lines[-1:] == [BLANK] else lines

    def _item(self, item: Item) -> list[Line]:
        first, rest = self.look.indents(item)
        lines = wrap(item.text, self.width, "dim" if item.inset else "", first=first, rest=rest)
        picture = self._drawn(item.draw) if item.draw else []
        return [*lines, *picture, BLANK] if picture else lines

    def _drawn(self, draw: Draw) -> list[Line]:
        return drawn(draw(min(self.width - 8, MOST), self.charset), INDENT)

    def terms(self, block: Terms) -> list[Line]:
        """The words in a column of their own, the lines beside them."""
        lines: list[Line] = []
        rest = " " * (block.margin + 4)
        for label, item in block.rows:
            first, *more = wrap(item.text, self.width, first=rest)
            said = as_text([first])[len(rest) :]
            lines += [((f"  {label:<{block.margin}}  ", "strong"), (said, "")), *more]
        return lines

    def table(self, block: Table) -> list[Line]:
        """As a text has it."""
        rows = Text(self.look, self.width).table(block)
        return [line(fit(row, self.width)) for row in rows]

    def picture(self, block: Picture) -> list[Line]:
        """In typed marks."""
        return [line(fit(row, self.width)) for row in block.typed]

    def sketch(self, block: Sketch) -> list[Line]:
        """A drawing below a free line."""
        picture = self._drawn(block.draw)
        return [BLANK, *picture] if picture else []

    def quote(self, block: Quote) -> list[Line]:
        """Lines as they stand, cut where they are too long."""
        return [line(fit(row, self.width)) for row in block.lines]


def spread(left: Piece, right: Piece, width: int) -> Line:
    """One piece at each end of a line; the left one is cut first."""
    end = fit(right[0], width)
    start = fit(left[0], max(width - cells(end) - 2, 0))
    return (
        (start, left[1]),
        (" " * max(width - cells(start) - cells(end), 1), ""),
        (end, right[1]),
    )


def drawn(drawing: Drawing, indent: str = "") -> list[Line]:
    """A drawing's rows, what is lit in its own role."""
    rows: list[Line] = []
    for row, text in enumerate(drawing.lines):
        pieces: list[Piece] = [(indent, "")] if indent else []
        at = 0
        for first, last in sorted((a, b) for r, a, b in drawing.lit if r == row):
            pieces += [(text[at:first], ""), (text[first:last], "lit")]
            at = last
        rows.append(tuple(p for p in (*pieces, (text[at:], "")) if p[0]))
    return rows


def as_text(lines: Sequence[Line]) -> str:
    """The bare text of some lines."""
    return "\n".join("".join(text for text, _ in pieces) for pieces in lines)
