"""What a report is made of, before it is HTML, Markdown or plain text."""

from __future__ import annotations

from dataclasses import dataclass

from wizard.telling.svg import Figure


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; no level is left out on the way down."""

    level: int
    """2 for a part, 3 for a part of a part; the report's own title is the only 1."""
    text: str
    new_page: bool = False
    """Whether print begins a new page with it."""


@dataclass(frozen=True, slots=True)
class Para:
    """A paragraph of plain text."""

    text: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Items:
    """A list of plain texts."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of plain texts under their heads."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[int, ...]
    """Share of the page for each column, in percent."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing, with the same in typed marks for where no lines can be drawn."""

    figure: Figure
    typed: tuple[str, ...] = ()


Block = Heading | Para | Items | Table | Picture


@dataclass(frozen=True, slots=True)
class Report:
    """A whole report as plain texts and drawings."""

    title: str
    blocks: tuple[Block, ...]
