"""Lines of text with a role for each piece: what the pages are made of before the screen gives
roles their looks.

A role is a name such as "title" or "dim"; crosstape.tcss says how it looks. Nothing here is ever
read as markup, and every piece is cleaned of what could drive a terminal.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Sequence

from rich.cells import cell_len, set_cell_size

from wizard.readings.plain import clean
from wizard.telling.canvas import Charset, Drawing
from wizard.telling.document import Block, Heading, Item, Items, Paragraph, Sketch
from wizard.telling.text import CLOSE, Look

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
    """A document as a page: a headline over its whole width, then headings with their lists and
    drawings.
    """
    lines: list[Line] = []
    for block in blocks:
        if isinstance(block, Heading):
            lines += [BLANK] if lines else []
            lines.append(line(block.text, "strong"))
        elif isinstance(block, Items):
            said = [part for item in block.items for part in _item(item, width, charset, look)]
            lines += said[:-1] if said[-1:] == [BLANK] else said
        elif isinstance(block, Paragraph):
            lines += _headline(block.text, width)
        elif isinstance(block, Sketch):
            picture = drawn(block.draw(min(width - 8, MOST), charset), INDENT)
            lines += [BLANK, *picture] if picture else []
    return lines


def _headline(text: str, width: int) -> list[Line]:
    edge = line(" " * width, "headline")
    rows = as_text(wrap(text, width - 4)).splitlines()
    return [edge, *(line(pad(f"  {row}", width), "headline") for row in rows), edge]


def _item(item: Item, width: int, charset: Charset, look: Look) -> list[Line]:
    first, rest = look.indents(item)
    lines = wrap(item.text, width, "dim" if item.inset else "", first=first, rest=rest)
    picture = drawn(item.draw(min(width - 8, MOST), charset), INDENT) if item.draw else []
    return [*lines, *picture, BLANK] if picture else lines


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
