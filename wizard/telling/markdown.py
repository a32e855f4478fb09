"""A document as Markdown in which no text of the survey is taken for marks."""

from __future__ import annotations

import re
from collections.abc import Iterable

from wizard.readings.plain import clean, clean_line
from wizard.telling.document import (
    Block,
    Document,
    Heading,
    Items,
    Paragraph,
    Picture,
    Quote,
    Sketch,
    Table,
)

_MARKS = re.compile(r"([\\`*_{}\[\]()#+\-.!|~=:$^])")
"""Everything that begins or ends some mark in the common dialects of Markdown; `&`, `<` and `>`
become entities.
"""


def markdown_of(document: Document) -> str:
    """The whole document."""
    blocks = (_block(b) for b in document.blocks if not isinstance(b, Sketch))
    whole = [[f"# {marked(document.title)}"], *blocks]
    return "\n\n".join("\n".join(lines) for lines in whole) + "\n"


def marked(text: str) -> str:
    """Text in Markdown as text and nothing else."""
    plain = clean_line(text, 4000).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return _MARKS.sub(r"\\\1", plain)


def _block(block: Block) -> list[str]:
    if isinstance(block, Heading):
        return [f"{'#' * block.level} {marked(block.text)}"]
    if isinstance(block, Paragraph):
        return [f"**{marked(block.text)}**" if block.strong else marked(block.text)]
    if isinstance(block, Items):
        return [f"- {marked(item.text)}" for item in block.items]
    if isinstance(block, Table):
        return _grid(block)
    if isinstance(block, Picture):
        drawn = [*_fenced(block.typed), ""] if block.typed else []
        return [*drawn, f"**{marked(block.figure.title)}\\.** {marked(block.figure.words)}"]
    # No line that stands in by four can end the fence, whatever it holds.
    return _fenced(f"    {line}" for line in block.lines) if isinstance(block, Quote) else []


def _fenced(lines: Iterable[str]) -> list[str]:
    return ["```text", *(clean(line).rstrip() for line in lines), "```"]


def _grid(table: Table) -> list[str]:
    rows = [
        "| " + " | ".join(marked(c) or " " for c in r) + " |" for r in (table.head, *table.rows)
    ]
    rule = "|" + " --- |" * len(table.head)
    return [marked(table.caption), "", rows[0], rule, *rows[1:]]
