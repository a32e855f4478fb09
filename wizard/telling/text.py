"""A document as plain text: set close, as a terminal tells it, or as a page of paper."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

from wizard.readings.plain import clean, clean_line
from wizard.telling.document import (
    Block,
    Document,
    Heading,
    Item,
    Items,
    Paragraph,
    Picture,
    Quote,
    Sketch,
    Table,
)

WIDTH = 76


def wrap(text: str, width: int = WIDTH, first: str = "", rest: str | None = None) -> list[str]:
    """Lines of at most `width`, with a hanging indent."""
    return textwrap.wrap(
        text, width, initial_indent=first, subsequent_indent=first if rest is None else rest
    ) or [""]


@dataclass(frozen=True, slots=True)
class Look:
    """How a text is set."""

    bullet: str
    """What stands before an item; its further lines begin below its words."""
    paper: bool = False
    """Whether headings are ruled and every block stands free, as on a page of its own."""
    sources: bool = False
    """Whether each item is followed by what it rests on."""
    margin: int = 0
    """Columns before what stands in below an item."""
    hang: int = 0
    """Columns by which an item's further lines stand in at least."""

    def clean(self, text: str) -> str:
        """A text without terminal control; on paper with its white space folded too."""
        return clean_line(text, 4000) if self.paper else clean(text)

    def indents(self, item: Item) -> tuple[str, str]:
        """What stands before an item's first line, and before its further ones."""
        first = " " * (self.margin + item.inset) if item.inset else self.bullet
        return first, " " * (len(first) + max(item.hang, self.hang))


CLOSE = Look("  - ")
"""As `tell` and the plain prompts say it."""
OPENED = Look("  - ", sources=True)
"""For the mentor: with what each line rests on."""
PAPER = Look("- ", paper=True)
"""As a report is printed."""
RULES = {1: "=", 2: "-", 3: ".", 4: "."}
"""What a heading of each level is ruled with on paper."""


def text_of(document: Document, look: Look = CLOSE, width: int = WIDTH) -> str:
    """The document with its title; on paper with a line end after the last line."""
    title = clean_line(document.title, 300)
    rule = [RULES[1] * min(len(title), width)] if look.paper else []
    lines = [*wrap(title, width), *rule, "", *lines_of(document.blocks, look, width)]
    return "\n".join(lines) + ("\n" if look.paper else "")


def lines_of(blocks: Sequence[Block], look: Look = CLOSE, width: int = WIDTH) -> list[str]:
    """The blocks without a title. A text set close begins every heading but the first with a free
    line, one on paper ends every block but the last with one.
    """
    lines: list[str] = []
    for block in (b for b in blocks if not isinstance(b, Sketch)):
        free = bool(lines) and (look.paper or isinstance(block, Heading))
        lines += [*([""] if free else ()), *_block(block, look, width)]
    return lines


def _block(block: Block, look: Look, width: int) -> list[str]:
    if isinstance(block, Heading):
        words = clean_line(block.text, 300)
        return [words, RULES[block.level] * len(words)] if look.paper else [words]
    if isinstance(block, Paragraph):
        lines = wrap(look.clean(block.text), width)
        return [*lines, ""] if block.apart and not look.paper else lines
    if isinstance(block, Items):
        return [line for item in block.items for line in _item(item, look, width)]
    if isinstance(block, Table):
        return _records(block, width)
    if isinstance(block, Picture):
        said = wrap(clean_line(f"{block.figure.title}. {block.figure.words}", 4000), width)
        return [*block.typed, *([""] if block.typed else []), *said]
    return [clean(line) for line in block.lines] if isinstance(block, Quote) else []


def _item(item: Item, look: Look, width: int) -> list[str]:
    first, rest = look.indents(item)
    lines = wrap(look.clean(item.text), width, first, rest)
    if look.sources and item.sources:
        lines += wrap("from " + "; ".join(item.sources), width, " " * 6, " " * 11)
    return lines


def _records(table: Table, width: int) -> list[str]:
    """Each row as a short paragraph: no table of that width stays readable in 76 columns."""
    lines = wrap(f"{table.caption}: {'; '.join(table.head) if table.rows else 'none'}", width)
    for row in table.rows:
        cells = (clean_line(cell, 4000) for cell in row)
        lines += wrap("; ".join(cell for cell in cells if cell), width, "  ", " " * 6)
    return lines
