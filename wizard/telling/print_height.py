"""How high blocks stand on a printed sheet, by the widths of the letters that they are set in.

The style sheet of `html.py` asks for Helvetica or Arial. Both, and the free faces that stand in for
them, have the widths of Adobe's font metrics of Helvetica (Core 14 AFM files), in thousandths of
the size of the type.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from wizard.telling.document import Block, Heading, Items, Paragraph, Picture, Table, Terms
from wizard.telling.svg import WIDTH

ACROSS = 186.0
"""Millimeters of A4 between its margins; Letter has six more, which nothing here counts on."""
POINT = 25.4 / 72
BOLD = 1.08
"""How much wider bold letters are, at most."""
MIDDLE = 556
"""Figures and most small letters, and what is not known here."""
WIDTHS: Mapping[str, int] = {
    letter: width
    for width, letters in (
        (191, "'’‘"),
        (222, "ijl"),
        (278, " !,./:;I[]\\ft"),
        (333, '()-r`“”"'),
        (389, "*^"),
        (500, "ckvsxyzJ"),
        (584, "+<=>~±×"),
        (611, "FTZ"),
        (667, "ABEKPSVXY&"),
        (722, "CDHNRUw"),
        (778, "GOQ"),
        (833, "mM"),
        (944, "W"),
        (1000, "@—…%"),
    )
    for letter in letters
}


def wide(text: str, points: float, bold: bool = False) -> float:
    """How many millimeters a text is wide in one line, in type of that size."""
    thousandths = sum(WIDTHS.get(letter, MIDDLE) for letter in text)
    return thousandths / 1000 * points * POINT * (BOLD if bold else 1.0)


def lines(text: str, room: float, points: float, bold: bool = False) -> int:
    """In how many lines of so many millimeters a text is set, broken between its words.

    >>> lines("one line", 186.0, 8.5), lines("word " * 60, 186.0, 8.5)
    (1, 3)
    """
    blank = wide(" ", points, bold)
    count, used = 1, 0.0
    for word in text.split():
        width = wide(word, points, bold)
        if used and used + blank + width > room:
            count, used = count + 1, 0.0
        used += (blank if used else 0.0) + width
        while used > room:  # A word longer than the line is broken.
            count, used = count + 1, used - room
    return count


@dataclass(frozen=True, slots=True)
class Type:
    """What the style sheet sets of a part of the report, in points and millimeters."""

    body: float
    """Size of the type."""
    strong: float
    caption: float
    leading: float
    """Height of a line, as a share of the size."""
    under: float
    """What stays free under a paragraph or an item, mm."""
    around: float
    """What stays free above a picture and under it together, mm."""

    def lines(self, text: str, points: float, room: float = ACROSS, bold: bool = False) -> float:
        """Millimeters that a text takes."""
        return lines(text, room, points, bold) * points * POINT * self.leading


FIRST = Type(8.5, 10.5, 8.0, 1.25, 0.3, 2.0)
"""The first page."""
BEHIND = Type(9.5, 12.0, 8.0, 1.3, 0.6, 4.0)
"""The pages behind it."""
HEAD, UNDER_LIST, INDENT = 6.1, 0.5, 6.0
"""Of the first page: a heading with its line, what stays free under a list, and its margin, mm."""
BETWEEN = 4.0
"""Millimeters between a drawing and its words beside it."""
TABLE = 8.0
"""Points of its table."""
CELL, RULED, ROW = 2.4, 0.68, 1.2
"""What a cell and a row lose to lines and padding, mm, and the height of a line by its size."""


def height(blocks: Sequence[Block]) -> float:
    """How many millimeters blocks of the first page take in print."""
    return sum(HEIGHTS[type(block)](block) for block in blocks if type(block) in HEIGHTS)


def picture_height(picture: Picture, set_in: Type) -> float:
    """How many millimeters a drawing takes with its caption."""
    drawn = picture.figure.height * ACROSS / WIDTH * picture.share / 100
    said = f"{picture.figure.title}. {picture.figure.words}"
    if picture.beside:
        room = ACROSS * (100 - picture.share) / 100 - BETWEEN
        return max(drawn, set_in.lines(said, set_in.caption, room)) + set_in.around
    return drawn + set_in.lines(said, set_in.caption) + set_in.around


def _of_paragraph(paragraph: Paragraph) -> float:
    points = FIRST.strong if paragraph.strong else FIRST.body
    return FIRST.lines(paragraph.text, points, bold=paragraph.strong) + FIRST.under + 0.15


def _of_items(block: Items) -> float:
    each = (FIRST.lines(i.text, FIRST.body, ACROSS - INDENT) + FIRST.under for i in block.items)
    return sum(each) + UNDER_LIST


def _of_terms(terms: Terms) -> float:
    margin = max(wide(label, FIRST.body, bold=True) for label, _ in terms.rows) + 3.0
    each = (FIRST.lines(item.text, FIRST.body, ACROSS - margin) for _, item in terms.rows)
    return sum(each) + UNDER_LIST


def _of_table(table: Table) -> float:
    rooms = [ACROSS * share / 100 - CELL for share in table.widths]

    def row(cells: Sequence[str], bold: bool = False) -> float:
        most = max(lines(c, room, TABLE, bold) for c, room in zip(cells, rooms, strict=True))
        return most * TABLE * POINT * ROW + RULED

    return TABLE * POINT * ROW + 0.5 + row(table.head, bold=True) + sum(map(row, table.rows))


HEIGHTS: Mapping[type, Callable[..., float]] = {
    Heading: lambda block: HEAD,
    Paragraph: _of_paragraph,
    Items: _of_items,
    Terms: _of_terms,
    Table: _of_table,
    Picture: lambda block: picture_height(block, FIRST),
}
"""How high each kind of block of the first page is."""
