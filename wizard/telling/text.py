"""A document as plain text: set close, as a terminal tells it, or as a page of paper."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import field

from wizard.frozen import Frozen
from wizard.readings.plain import clean, clean_line
from wizard.telling.document import (
    Block,
    Document,
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

WIDTH = 76


def wrap(text: str, width: int = WIDTH, first: str = "", rest: str | None = None) -> list[str]:
    """Lines of at most `width`, with a hanging indent."""
    return textwrap.wrap(
        text, width, initial_indent=first, subsequent_indent=first if rest is None else rest
    ) or [""]


class Look(Frozen):
    """How a text is set."""

    bullet: str
    """What stands before an item; its further lines begin below its words."""
    paper: bool = False
    """Whether headings are ruled and every block stands free, as on a page of its own."""
    numbers: Mapping[str, int] = field(default_factory=dict)
    """By their ids the numbers of what items rest on, which then follow each; empty for none."""
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
PAPER = Look("- ", paper=True)
"""As a report is printed."""
RULES = {1: "=", 2: "-", 3: ".", 4: "."}
"""What a heading of each level is ruled with on paper."""


def text_of(document: Document, look: Look = CLOSE, width: int = WIDTH) -> str:
    """The document with its title; on paper with a line end after the last line."""
    title = clean_line(document.title, 300)
    rule = [RULES[1] * min(len(title), width)] if look.paper else []
    lines = [*wrap(title, width), *rule, "", *lines_of(document.in_parts, look, width)]
    return "\n".join(lines) + ("\n" if look.paper else "")


def lines_of(blocks: Sequence[Block], look: Look = CLOSE, width: int = WIDTH) -> list[str]:
    """The blocks without a title. A text set close begins every heading but the first with a free
    line, one on paper ends every block but the last with one.
    """
    lines: list[str] = []
    face = Text(look, width)
    for block in (b for b in blocks if not isinstance(b, Sketch)):
        free = bool(lines) and (look.paper or isinstance(block, Heading))
        lines += [*([""] if free else ()), *block.shown(face)]
    return lines


class Text(Frozen):
    """The face that sets a document as lines of plain text."""

    look: Look
    width: int

    def heading(self, block: Heading) -> list[str]:
        """Ruled on paper."""
        words = clean_line(block.text, 300)
        return [words, RULES[block.level] * len(words)] if self.look.paper else [words]

    def paragraph(self, block: Paragraph) -> list[str]:
        """Wrapped."""
        lines = wrap(self.look.clean(block.text), self.width)
        return [*lines, ""] if block.apart and not self.look.paper else lines

    def items(self, block: Items) -> list[str]:
        """Each behind its bullet, with what it rests on where that is wanted."""
        return [line for item in block.items for line in self._item(item)]

    def _item(self, item: Item) -> list[str]:
        first, rest = self.look.indents(item)
        lines = wrap(self.look.clean(item.text), self.width, first, rest)
        numbers = self.look.numbers
        rests = [f"[{numbers[str(id)]}]" for id in item.sources if str(id) in numbers]
        if rests:
            lines += wrap(f"rests on {' '.join(rests)}", self.width, " " * 6, " " * 11)
        return lines

    def terms(self, block: Terms) -> list[str]:
        """The words in a column of their own, the lines beside them."""
        rest = " " * (block.margin + 4)
        lines = []
        for label, item in block.rows:
            first = f"  {label:<{block.margin}}  "
            lines += wrap(self.look.clean(item.text), self.width, first, rest)
        return [*lines, ""] if self.look.paper else lines

    def table(self, block: Table) -> list[str]:
        """Each row as a short paragraph: no table of that width stays readable in 76 columns."""
        heads = "; ".join(block.head) if block.rows else "none"
        lines = wrap(f"{block.caption.rstrip('.')}: {heads}", self.width)
        for row in block.rows:
            cells = (clean_line(cell, 4000) for cell in row)
            lines += wrap("; ".join(cell for cell in cells if cell), self.width, "  ", " " * 6)
        return lines

    def picture(self, block: Picture) -> list[str]:
        """In typed marks, then in words."""
        words = clean_line(block.typed_words, 4000)
        return [*block.typed, *([""] if block.typed else []), *wrap(words, self.width)]

    def photo(self, block: Photo) -> list[str]:
        """In words: the file is named there."""
        return wrap(
            self.look.clean(f"{block.title}. {block.caption}"), self.width, "[photo] ", " " * 8
        )

    def sketch(self, block: Sketch) -> list[str]:
        """Nothing: it is for a screen."""
        return []

    def quote(self, block: Quote) -> list[str]:
        """As the lines stand."""
        return [clean(line) for line in block.lines]
