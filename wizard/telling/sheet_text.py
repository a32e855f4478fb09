"""A form for any printer: pages of 66 lines by 80 columns, plain ASCII, a form feed between them."""

from __future__ import annotations

import textwrap
import unicodedata
from collections.abc import Sequence
from dataclasses import replace
from itertools import chain

from wizard.telling.document import Heading, Items, Paragraph
from wizard.telling.form import (
    Blank,
    Blanks,
    Codes,
    Columns,
    Field,
    Fields,
    Form,
    Move,
    Notice,
    Numbered,
    Ruled,
    Together,
)
from wizard.telling.sheet import Sheet
from wizard.telling.sheet_form import form_of
from wizard.telling.text import PAPER, Text, wrap

WIDTH, HEIGHT = 79, 66
"""Columns (one of the 80 stays free: some printers wrap at the last) and lines of a page."""
ROOM = HEIGHT - 3
"""Lines between the head of a page and its foot."""
INSET = " " * 3
"""Before what stands under the heading of a step."""
_PLAIN = str.maketrans(
    {"“": '"', "”": '"', "‘": "'", "’": "'", "–": "-", "—": "-", "…": "...", "·": "-", "±": "+/-"}
)


def sheet_text(sheet: Sheet) -> str:
    """The whole worksheet."""
    return form_text(form_of(sheet))


def form_text(form: Form) -> str:
    """The whole form."""
    face = FormText(PAPER, WIDTH)
    pages = _pages([part.shown(face) for part in form.parts])
    whole = []
    for n, page in enumerate(pages, start=1):
        number = f"page {n} of {len(pages)}"
        head = [f"{form.title}{number:>{WIDTH - len(form.title)}}", "=" * WIDTH]
        whole.append("\n".join([*head, *page]).rstrip() + "\n")
    return _ascii("\f".join(whole))


def _ascii(text: str) -> str:
    """Marks that an old printer has; what it lacks becomes a question mark."""
    flat = unicodedata.normalize("NFKD", text.translate(_PLAIN))
    kept = "".join(c for c in flat if not unicodedata.combining(c))
    return kept.encode("ascii", "replace").decode("ascii")


def _pages(parts: Sequence[Sequence[str]]) -> list[list[str]]:
    """Parts set on pages, none of them broken unless it is longer than a page."""
    pages: list[list[str]] = [[]]
    for part in parts:
        for first in range(0, len(part), ROOM):
            piece = list(part[first : first + ROOM])
            if pages[-1] and len(pages[-1]) + 1 + len(piece) > ROOM:
                pages.append([])
            pages[-1] += ["", *piece] if pages[-1] else piece
    return pages


class FormText(Text):
    """The face that sets a form as lines of plain text."""

    inset: str = ""
    """What every line begins with."""

    def _wrap(self, text: str, first: str = "", rest: str | None = None) -> list[str]:
        """Lines behind the inset; none for no text."""
        behind = self.inset + (first if rest is None else rest)
        return wrap(text, self.width, self.inset + first, behind) if text else []

    def heading(self, block: Heading) -> list[str]:
        """Of a step in capitals; that of the whole form as it is."""
        return self._wrap(block.text) if block.level == 1 else [block.text.upper()]

    def paragraph(self, block: Paragraph) -> list[str]:
        """Wrapped."""
        return self._wrap(block.text)

    def items(self, block: Items) -> list[str]:
        """Each behind its bullet, below a free line."""
        lines = (self._wrap(item.text, self.look.bullet, "  ") for item in block.items)
        return ["", *chain.from_iterable(lines)]

    def fields(self, block: Fields) -> list[str]:
        """A free line above each row: somebody writes there by hand."""
        return [line for row in block.rows for line in ("", self._row(row))]

    def _row(self, row: Sequence[Field]) -> str:
        even = (self.width - 2 * (len(row) - 1)) // len(row)
        rooms = (field.columns or even for field in row)
        named = (f"{field.name} {field.value}".rstrip() + " " for field in row)
        return "  ".join(
            name[:room].ljust(room, "_") for name, room in zip(named, rooms, strict=True)
        )

    def notice(self, block: Notice) -> list[str]:
        """A list, line by line as it is set."""
        lines = [f"{self.inset}CAUTION: {block.title}"]
        for first, *more in block.sentences:
            lines += self._wrap(first, "- ", "  ")
            lines += chain.from_iterable(self._wrap(line, "  ") for line in more)
        return lines

    def move(self, block: Move) -> list[str]:
        """In one paragraph."""
        return self._wrap(f"{block.when} {block.how}".strip())

    def codes(self, block: Codes) -> list[str]:
        """Behind a wave."""
        return self._wrap(block.line, "~ ", "  ")

    def blanks(self, block: Blanks) -> list[str]:
        """One below the other."""
        return [line for blank in block.blanks for line in self._blank(blank)]

    def _blank(self, blank: Blank) -> list[str]:
        """Its words, then dots up to the box at the right; a note has a line of its own."""
        if blank.kind.tells:
            return [*self._wrap(_label(blank)), self.inset + "_" * (self.width - len(self.inset))]
        box = "[" + (blank.preset or "").center(blank.kind.blank, "_") + "]"
        *before, last = textwrap.wrap(_label(blank), self.width - len(self.inset) - 2 - len(box))
        dots = self.width - len(self.inset) - 1 - len(last)
        rows = [self.inset + words for words in before]
        rows.append(f"{self.inset}{last} {box:.>{dots}}")
        inner = replace(self, inset=self.inset + "  ")
        return rows + (inner.codes(blank.codes) if blank.codes.letters else [])

    def columns(self, block: Columns) -> list[str]:
        """One after the other: the boxes name their rails."""
        return [*block.left.shown(self), *block.right.shown(self)]

    def ruled(self, block: Ruled) -> list[str]:
        """A row in a sentence, what it is before what was found; below it room to write."""
        lines = self._wrap(block.caption)
        for row in block.rows:
            names = (*("" for _ in row[: block.plain]), *block.head[block.plain :])
            cells = (f"{name} {cell}".strip() for name, cell in zip(names, row, strict=True))
            said = "; ".join(cells)
            room = (self.width - len(self.inset) - 2) // max(len(block.free), 1) - 2
            free = "  ".join(f"{name} ".ljust(room, "_") for name in block.free)
            lines += [*self._wrap(said, "", "  "), f"{self.inset}  {free}"]
        return lines

    def numbered(self, block: Numbered) -> list[str]:
        """In typed marks, then the points with their numbers."""
        points = "Points: " + ";  ".join(block.points) + "." if block.points else ""
        return [*block.picture.typed, *self._wrap(points, "", "  "), *self._wrap(block.view)]

    def together(self, block: Together) -> list[str]:
        """What stands under a heading is set in."""
        if block.heading is None:
            return [line for inner in block.blocks for line in inner.shown(self)]
        below = replace(self, inset=INSET)
        lines = (line for inner in block.blocks for line in inner.shown(below))
        return [*block.heading.shown(self), *lines]


def _label(blank: Blank) -> str:
    points = f" ({blank.points})" if blank.points else ""
    return f"{blank.label}{points}" + (f" [{blank.only_if}]" if blank.only_if else "")
