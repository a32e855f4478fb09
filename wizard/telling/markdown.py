"""A document as Markdown in which no text of the survey is taken for marks."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from wizard.readings.plain import clean, clean_line
from wizard.telling.document import (
    Document,
    Heading,
    Items,
    Paragraph,
    Photo,
    Picture,
    Quote,
    Sketch,
    Table,
    Terms,
)

_MARKS = re.compile(r"([\\`*_{}\[\]()#+\-.!|~=:$^])")
"""Everything that begins or ends some mark in the common dialects of Markdown; `&`, `<` and `>`
become entities.
"""


def markdown_of(document: Document) -> str:
    """The whole document."""
    blocks = (b.shown(Markdown()) for b in document.in_parts if not isinstance(b, Sketch))
    whole = [[f"# {marked(document.title)}"], *blocks]
    return "\n\n".join("\n".join(lines) for lines in whole) + "\n"


def marked(text: str) -> str:
    """Text in Markdown as text and nothing else."""
    plain = clean_line(text, 4000).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return _MARKS.sub(r"\\\1", plain)


class Markdown:
    """The face that writes a document in marks."""

    def heading(self, block: Heading) -> list[str]:
        """As many marks as its level."""
        return [f"{'#' * block.level} {marked(block.text)}"]

    def paragraph(self, block: Paragraph) -> list[str]:
        """One line, bold where it is strong."""
        return [f"**{marked(block.text)}**" if block.strong else marked(block.text)]

    def items(self, block: Items) -> list[str]:
        """A line each."""
        return [f"- {marked(item.text)}" for item in block.items]

    def terms(self, block: Terms) -> list[str]:
        """A line each, the word before it bold."""
        return [f"- **{marked(label)}** {marked(item.text)}" for label, item in block.rows]

    def table(self, block: Table) -> list[str]:
        """Its caption, then a grid."""
        head, *rows = (_row(cells) for cells in (block.head, *block.rows))
        return [marked(block.caption), "", head, "|" + " --- |" * len(block.head), *rows]

    def picture(self, block: Picture) -> list[str]:
        """In typed marks, then in words."""
        drawn = [*_fenced(block.typed), ""] if block.typed else []
        said = marked(block.told or block.figure.words)
        return [*drawn, f"**{marked(block.figure.title)}\\.** {said}"]

    def photo(self, block: Photo) -> list[str]:
        """In words: the file is named there."""
        return [f"**{marked(block.title)}\\.** {marked(block.caption)}"]

    def sketch(self, block: Sketch) -> list[str]:
        """Nothing: it is for a screen."""
        return []

    def quote(self, block: Quote) -> list[str]:
        """Fenced. No line that stands in by four can end the fence, whatever it holds."""
        return _fenced(f"    {line}" for line in block.lines)


def _row(cells: Sequence[str]) -> str:
    return "| " + " | ".join(marked(cell) or " " for cell in cells) + " |"


def _fenced(lines: Iterable[str]) -> list[str]:
    return ["```text", *(clean(line).rstrip() for line in lines), "```"]
