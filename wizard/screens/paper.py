"""Lines of text with a role for each piece: what the pages are made of before the screen gives
roles their looks.

A role is a name such as "title" or "dim"; crosstape.tcss says how it looks. Nothing here is ever
read as markup, and every piece is cleaned of what could drive a terminal.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Sequence
from itertools import zip_longest

from rich.cells import cell_len, set_cell_size

from wizard.frozen import Frozen
from wizard.readings.plain import clean
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.document import (
    Block,
    Draw,
    Heading,
    Item,
    Items,
    Paragraph,
    Photo,
    Picture,
    Quote,
    Sketch,
    Table,
    Terms,
)
from wizard.telling.text import CLOSE, Look

Piece = tuple[str, str]
"""Text and role; the empty role is plain text."""
Line = tuple[Piece, ...]

TEXT = 90
"""Letters of a line of text at most: the eye loses its way back from a longer one."""
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
    """Lines of at most `width` cells and TEXT letters, with a hanging indent; one blank line for no
    text.
    """
    rest = " " * len(first) if rest is None else rest
    width = min(width, TEXT)
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
APART = 3
"""Cells between two columns."""
SPACIOUS = TEXT + APART + 45
"""Cells from which drawings stand beside their text."""


def document_lines(
    blocks: Iterable[Block], width: int, charset: Charset, look: Look = CLOSE
) -> list[Line]:
    """A document as a page, its headings apart; where there is room, its drawings beside the text."""
    lines: list[Line] = []
    face, part = Page(width, charset, look), 0
    for block in blocks:
        if isinstance(block, Heading):
            lines += [BLANK] if lines else []
            part = len(lines)
        if isinstance(block, Sketch) and width >= SPACIOUS:  # beside the whole of its part
            lines[part:] = beside(lines[part:], face.drawing(block.draw), TEXT)
        else:
            lines += block.shown(face)
    return lines


def beside(left: Sequence[Line], right: Sequence[Line], width: int) -> list[Line]:
    """Two columns, the left one filled up to its width."""
    rows = []
    for a, b in zip_longest(left, right, fillvalue=BLANK):
        gap = " " * max(width + APART - cells(as_text([a])), 0)
        rows.append((*a, (gap, ""), *b) if b else a)
    return rows


class Page(Frozen):
    """The face that shows a document in cells."""

    width: int
    charset: Charset
    look: Look

    def heading(self, block: Heading) -> list[Line]:
        """In one line; a part of a part less loud."""
        return [line(fit(block.text, self.width), "title" if block.level < 4 else "strong")]

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
        picture = self.drawing(item.draw) if item.draw else []
        if not picture:
            return lines
        both = beside(lines, picture, TEXT) if self.width >= SPACIOUS else [*lines, *picture]
        return [*both, BLANK]

    def drawing(self, draw: Draw) -> list[Line]:
        """Below the text and somewhat in, or as wide as the column beside it."""
        if self.width >= SPACIOUS:
            return drawn(draw(min(self.width - TEXT - APART, MOST), self.charset))
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
        """In columns where the words of each have room; else in sentences, or each row under its
        first cell.
        """
        caption = wrap(block.caption, self.width) if block.caption else []
        if columns := self._columns(block):
            return [*caption, *columns]
        if block.instead:
            return document_lines(block.instead, self.width, self.charset, self.look)
        return [*caption, *(part for row in block.rows for part in self._told(block.head, row))]

    def _columns(self, block: Table) -> list[Line]:
        """The head, its rule and the rows; empty where a row would grow too tall."""
        widths = column_widths((block.head, *block.rows), self.width - 2)
        rows = [_row(row, widths) for row in block.rows] if widths else []
        if max(map(len, rows), default=TALLEST + 1) > TALLEST:
            return []
        ruled = line("  " + (" " * BETWEEN).join("-" * width for width in widths), "dim")
        return [*_row(block.head, widths, "strong"), ruled, *(part for row in rows for part in row)]

    def _told(self, head: Sequence[str], row: Sequence[str]) -> list[Line]:
        """A row of a table as a paragraph, each cell behind what stands over it."""
        named = zip(head[1:], row[1:], strict=False)
        cells = "; ".join(f"{over[:1].lower()}{over[1:]}: {cell}" for over, cell in named if cell)
        first = wrap(row[0], self.width, "strong", first=self.look.bullet)
        return [*first, *(wrap(cells, self.width, first="    ") if cells else [])]

    def picture(self, block: Picture) -> list[Line]:
        """Below its title, drawn for the width where that can be; else in typed marks."""
        if block.draw:
            picture = drawn(block.draw(min(self.width, TEXT), self.charset))
        else:
            picture = [line(fit(row, self.width)) for row in block.typed]
        return [BLANK, *wrap(block.figure.title, self.width, "strong"), *picture]

    def photo(self, block: Photo) -> list[Line]:
        """In words: a terminal shows no photo."""
        return wrap(f"{block.title}. {block.caption}", self.width, first=self.look.bullet)

    def sketch(self, block: Sketch) -> list[Line]:
        """A drawing below a free line."""
        picture = self.drawing(block.draw)
        return [BLANK, *picture] if picture else []

    def quote(self, block: Quote) -> list[Line]:
        """Lines as they stand, cut where they are too long; as a table where they are one."""
        if block.table and (rows := self.table(block.table)):
            return rows
        return [line(fit(row, self.width)) for row in block.lines]


TALLEST = 3
"""Lines of a row of a table at most."""
BETWEEN = 2
"""Cells between two columns of a table."""


def column_widths(rows: Sequence[Sequence[str]], width: int) -> list[int]:
    """What each column of a table gets: what its longest cell takes, the widest giving way first.

    Empty where not even the longest word of each has room.

    >>> column_widths([("Figure", "Then"), ("the left rail", "3 mm")], 30)
    [13, 4]
    >>> column_widths([("Figure", "Then"), ("the left rail", "3 mm")], 12)
    [6, 4]
    >>> column_widths([("Figure", "Then"), ("the left rail", "3 mm")], 9)
    []
    """
    columns = list(zip_longest(*rows, fillvalue=""))
    widths = [max(map(cells, column)) for column in columns]
    least = [max((cells(w) for c in column for w in c.split()), default=0) for column in columns]
    room = width - BETWEEN * (len(widths) - 1)
    if sum(least) > room:
        return []
    while sum(widths) > room:
        give = [w if w > n else 0 for w, n in zip(widths, least, strict=True)]
        widths[give.index(max(give))] -= 1
    return widths


def _row(row: Sequence[str], widths: Sequence[int], role: str = "") -> list[Line]:
    """A row of a table, its cells wrapped."""
    filled = (*row, *[""] * (len(widths) - len(row)))
    texts = [
        textwrap.wrap(clean(cell), width) or [""]
        for cell, width in zip(filled, widths, strict=True)
    ]
    return [
        line("  " + (" " * BETWEEN).join(map(pad, across, widths)).rstrip(), role)
        for across in zip_longest(*texts, fillvalue="")
    ]


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
