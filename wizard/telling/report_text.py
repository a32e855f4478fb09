"""The report as plain text, 76 columns, and as Markdown in which no text of the survey is taken for
marks.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from wizard.readings.plain import clean_line
from wizard.telling.blocks import Block, Heading, Items, Para, Report, Table
from wizard.telling.closing import WIDTH, wrap

_MARKS = re.compile(r"([\\`*_{}\[\]()#+\-.!|~=:$^])")
"""Everything that begins or ends some mark in the common dialects of Markdown; `&`, `<` and `>`
become entities.
"""


def report_text(report: Report) -> str:
    """Plain text."""
    title = clean_line(report.title, 300)
    return _joined([*wrap(title, WIDTH), "=" * min(len(title), WIDTH), ""], report.blocks, _text)


def report_markdown(report: Report) -> str:
    """Markdown."""
    return _joined([f"# {marked(report.title)}", ""], report.blocks, _markdown)


def _joined(head: list[str], blocks: Iterable[Block], say: Callable[[Block], list[str]]) -> str:
    lines = head
    for block in blocks:
        lines += [*say(block), ""]
    return "\n".join(lines).rstrip() + "\n"


def _text(block: Block) -> list[str]:
    if isinstance(block, Heading):
        words = clean_line(block.text, 300)
        return [words, ("-" if block.level == 2 else ".") * len(words)]
    if isinstance(block, Para):
        return wrap(clean_line(block.text, 4000), WIDTH)
    if isinstance(block, Items):
        return [
            row for item in block.lines for row in wrap(clean_line(item, 4000), WIDTH, "- ", "  ")
        ]
    if isinstance(block, Table):
        return _records(block)
    said = wrap(clean_line(f"{block.figure.title}. {block.figure.words}", 4000), WIDTH)
    return [*block.typed, *([""] if block.typed else []), *said]


def _records(table: Table) -> list[str]:
    """Each row as a short paragraph: no table of that width stays readable in 76 columns."""
    lines = wrap(f"{table.caption}: {'; '.join(table.head) if table.rows else 'none'}", WIDTH)
    for row in table.rows:
        cells = [clean_line(cell, 4000) for cell in row]
        lines += wrap("; ".join(cell for cell in cells if cell), WIDTH, "  ", "      ")
    return lines


def marked(text: str) -> str:
    """Text in Markdown as text and nothing else."""
    plain = clean_line(text, 4000).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return _MARKS.sub(r"\\\1", plain)


def _markdown(block: Block) -> list[str]:
    if isinstance(block, Heading):
        return [f"{'#' * block.level} {marked(block.text)}"]
    if isinstance(block, Para):
        return [f"**{marked(block.text)}**" if block.strong else marked(block.text)]
    if isinstance(block, Items):
        return [f"- {marked(line)}" for line in block.lines]
    if isinstance(block, Table):
        return _grid(block)
    drawn = (
        ["```text", *(clean_line(line, 200) and line for line in block.typed), "```", ""]
        if block.typed
        else []
    )
    return [*drawn, f"**{marked(block.figure.title)}\\.** {marked(block.figure.words)}"]


def _grid(table: Table) -> list[str]:
    lines = [marked(table.caption), ""]
    for n, row in enumerate((table.head, *table.rows)):
        lines.append("| " + " | ".join(marked(cell) or " " for cell in row) + " |")
        if n == 0:
            lines.append("|" + " --- |" * len(row))
    return lines
