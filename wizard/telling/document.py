"""What is told, before a screen, a text, HTML or Markdown shows it. No display text in it is a key.

A renderer escapes every text; nothing in a document is markup, but for the lines of a figure.
"""

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, NamedTuple, Protocol, TypeVar

from wizard.library.places import Source

if TYPE_CHECKING:  # the first frame is shown sooner without what draws on paper, and what judges
    from wizard.judgment.claims import Claim
    from wizard.telling.canvas import Charset, Drawing
    from wizard.telling.svg import Figure

T_co = TypeVar("T_co", covariant=True)
T = TypeVar("T")
Draw = Callable[[int, "Charset"], "Drawing"]
"""A drawing in typed marks, for a width."""


class Heading(NamedTuple):
    """A heading; no level is left out on the way down."""

    id: str
    """By which code finds what stands under it."""
    text: str
    level: int = 2
    """2 for a part, 3 for a part of a part; the document's own title is the only 1."""
    new_page: bool = False
    """Whether print begins a new page with it."""
    new_part: bool = False
    """Whether a form that has no sheets begins a part with it, and names the paper at its end."""
    small: bool = False
    """Whether all from here on is in small print: what is looked up, and not read through."""

    def shown(self, face: "Face[T]") -> T:
        """As a face shows it."""
        return face.heading(self)


class Paragraph(NamedTuple):
    """A paragraph of plain text."""

    text: str
    strong: bool = False
    apart: bool = False
    """Whether a text that is set close leaves a line free after it."""

    def shown(self, face: "Face[T]") -> T:
        """As a face shows it."""
        return face.paragraph(self)


class Item(NamedTuple):
    """A sentence or two in a list."""

    text: str
    sources: tuple[Source, ...] = ()
    """What it rests on: ids of findings, looks and answers as they stand; others begin with what
    they are: `limit:`, `step:`, `sign:`, `rule:`, `state:`. A line of the verdict that rests on
    nothing has no place there; wizard/telling/sources.py puts them into words.
    """
    names: tuple[str, ...] = ()
    """What it speaks of, where no more than that has room; empty where nothing shorter will do."""
    inset: int = 0
    """Columns by which it stands in, as what belongs to the item above it."""
    hang: int = 0
    """Columns by which its further lines stand in behind the first."""
    draw: Draw | None = None
    """A drawing of it, for a screen."""
    claims: "tuple[Claim, ...]" = ()
    """What it says of the frame, the readings or what to do, as data."""


class Items(NamedTuple):
    """A list."""

    items: tuple[Item, ...]

    def shown(self, face: "Face[T]") -> T:
        """As a face shows it."""
        return face.items(self)


class Terms(NamedTuple):
    """Lines, each behind a word or two that says what it is about."""

    rows: tuple[tuple[str, Item], ...]

    @property
    def margin(self) -> int:
        """Columns that the longest of the words takes up."""
        return max(len(label) for label, _ in self.rows)

    def shown(self, face: "Face[T]") -> T:
        """As a face shows it."""
        return face.terms(self)


class Table(NamedTuple):
    """Rows of plain texts under their heads."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[int, ...]
    """Share of the page for each column, in percent."""
    instead: "tuple[Block, ...]" = ()
    """The same in sentences, for a screen too narrow for its columns."""
    narrow: bool = False
    """Whether half the width of a page is enough for it. A row with nothing behind its first cell
    says what the rows below it share.
    """

    def shown(self, face: "Face[T]") -> T:
        """As a face shows it."""
        return face.table(self)


BESIDE = 62
"""Percent of the page's width up to which the words of a drawing stand beside it."""


class Picture(NamedTuple):
    """A drawing, with the same in typed marks for where no lines can be drawn."""

    figure: "Figure"
    typed: tuple[str, ...] = ()
    draw: Draw | None = None
    """The same for a screen of any width."""
    told: str = ""
    """What is said of it where it stands in typed marks or not at all; empty where the figure's own
    words are true of those too.
    """
    share: int = 100
    """How much of the page's width it takes, in percent."""

    @property
    def beside(self) -> bool:
        """Whether its words stand beside it on a sheet, and not under it: it leaves them the room."""
        return self.share <= BESIDE

    @property
    def typed_words(self) -> str:
        """Its title and what is said of it where no lines can be drawn."""
        return f"{self.figure.title}. {self.told or self.figure.words}"

    def shown(self, face: "Face[T]") -> T:
        """As a face shows it."""
        return face.picture(self)


class Photo(NamedTuple):
    """A photo, ready to be set."""

    title: str
    """The place that it shows."""
    caption: str
    shows: str
    """What is to be seen in it, for whoever does not see it."""
    kind: str
    """image/jpeg or image/png"""
    data: bytes
    width: int
    """Dots across and down, as it is looked at."""
    height: int

    def shown(self, face: "Face[T]") -> T:
        """As a face shows it."""
        return face.photo(self)


class Sketch(NamedTuple):
    """A drawing that only a screen has room for."""

    draw: Draw

    def shown(self, face: "Face[T]") -> T:
        """As a face shows it."""
        return face.sketch(self)


class Quote(NamedTuple):
    """Lines that stand as they were set: a typed table, or what a file keeps as it was shown."""

    lines: tuple[str, ...]
    table: Table | None = None
    """The same for a face that fits a table to its width."""

    def shown(self, face: "Face[T]") -> T:
        """As a face shows it."""
        return face.quote(self)


class Face(Protocol[T_co]):
    """One way to show a document: what becomes of each kind of block."""

    def heading(self, block: Heading) -> T_co:
        """A heading."""

    def paragraph(self, block: Paragraph) -> T_co:
        """A paragraph."""

    def items(self, block: Items) -> T_co:
        """A list."""

    def terms(self, block: Terms) -> T_co:
        """Lines behind their words."""

    def table(self, block: Table) -> T_co:
        """A table."""

    def picture(self, block: Picture) -> T_co:
        """A drawing for paper."""

    def photo(self, block: Photo) -> T_co:
        """A photo."""

    def sketch(self, block: Sketch) -> T_co:
        """A drawing for a screen."""

    def quote(self, block: Quote) -> T_co:
        """Lines as they stand."""


Block = Heading | Paragraph | Items | Terms | Table | Picture | Photo | Sketch | Quote


class Document(NamedTuple):
    """A whole paper or page."""

    title: str
    blocks: tuple[Block, ...]
    foot: str = ""
    """What is said at the foot of every sheet, by which a loose one is known; empty for none."""

    @property
    def in_parts(self) -> tuple[Block, ...]:
        """The blocks for a form that has no sheets: the foot stands at the end of every part, and
        which of them it is.
        """
        if not self.foot:
            return self.blocks
        parts: list[list[Block]] = [[]]
        for block in self.blocks:
            if isinstance(block, Heading) and block.new_part:
                parts.append([])
            parts[-1].append(block)
        feet = (f"{self.foot} Part {n} of {len(parts)}." for n in range(1, len(parts) + 1))
        ended = ((*part, Paragraph(foot)) for part, foot in zip(parts, feet, strict=True))
        return tuple(block for part in ended for block in part)


class Section(NamedTuple):
    """A heading with its list, from which documents are put together."""

    id: str
    heading: str
    items: tuple[Item, ...]

    @property
    def lines(self) -> tuple[str, ...]:
        """The texts of its items."""
        return tuple(item.text for item in self.items)

    def blocks(self, level: int = 2) -> tuple[Block, ...]:
        """It as a piece of a document."""
        return Heading(self.id, self.heading, level), Items(self.items)


def section(id: str, heading: str, said: Iterable[Item | str]) -> Section:
    """A section of items, or of texts that rest on nothing."""
    return Section(id, heading, items(said).items)


def items(said: Iterable[Item | str]) -> Items:
    """A list of items, or of texts that rest on nothing."""
    return Items(tuple(one if isinstance(one, Item) else Item(one) for one in said))


def told(sections: Iterable[Section]) -> tuple[Section, ...]:
    """Those that have something to say."""
    return tuple(one for one in sections if one.items)


def set_out(sections: Iterable[Section], level: int = 2) -> tuple[Block, ...]:
    """Sections one after another, those with nothing to say left out."""
    return tuple(block for one in told(sections) for block in one.blocks(level))


# In the words for a kind of frame -----------------------------------------------------------------

Word = Callable[[str], str]


def in_words(blocks: "Iterable[Block]", word: Word) -> "tuple[Block, ...]":
    """The same in the words for a kind of frame; a drawing, a photo and a quote stay as they are,
    and only what is said of a drawing is changed.
    """
    return tuple(_in_words(block, word) for block in blocks)


def _in_words(block: Block, word: Word) -> Block:
    if isinstance(block, Heading | Paragraph):
        return block._replace(text=word(block.text))
    if isinstance(block, Items):
        return Items(tuple(_item(item, word) for item in block.items))
    if isinstance(block, Terms):
        return Terms(tuple((word(label), _item(item, word)) for label, item in block.rows))
    if isinstance(block, Table):
        return _table(block, word)
    if isinstance(block, Picture):
        typed = tuple(map(word, block.typed))
        return block._replace(
            figure=_figure(block.figure, word), typed=typed, told=word(block.told)
        )
    return block


def _figure(figure: "Figure", word: Word) -> "Figure":
    """Its title and what is said of it, which its markup says too."""
    from dataclasses import replace  # few documents have a picture
    from html import escape

    svg = figure.svg
    for text in (figure.title, figure.words):
        svg = svg.replace(escape(text), escape(word(text)))
    return replace(figure, title=word(figure.title), words=word(figure.words), svg=svg)


def section_in_words(part: Section, word: Word) -> Section:
    """A heading with its list, likewise."""
    items = tuple(_item(item, word) for item in part.items)
    return part._replace(heading=word(part.heading), items=items)


def _item(item: Item, word: Word) -> Item:
    return item._replace(text=word(item.text), names=tuple(map(word, item.names)))


def _table(table: Table, word: Word) -> Table:
    rows = tuple(tuple(map(word, row)) for row in table.rows)
    head, caption = tuple(map(word, table.head)), word(table.caption)
    return table._replace(
        caption=caption, head=head, rows=rows, instead=in_words(table.instead, word)
    )
