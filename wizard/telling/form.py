"""What is filled in by hand: the blocks of a document, and those with room to write.

A renderer escapes every text, as it does in a document; no display text in a form is a key.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol, TypeVar

from wizard.library.kinds import Kind
from wizard.telling.document import Face, Heading, Items, Paragraph, Picture

T_co = TypeVar("T_co", covariant=True)
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Field:
    """A name with a line to write on."""

    name: str
    columns: int = 0
    """Columns that it takes in typed letters; 0 shares its row evenly."""
    value: str = ""
    """What is printed there already; empty for nothing."""


@dataclass(frozen=True, slots=True)
class Fields:
    """Rows of fields."""

    rows: tuple[tuple[Field, ...], ...]

    def shown(self, face: FormFace[T]) -> T:
        """As a face shows it."""
        return face.fields(self)


@dataclass(frozen=True, slots=True)
class Notice:
    """What must be read first, in a frame of its own."""

    title: str
    sentences: tuple[tuple[str, ...], ...]
    """Each by the lines on which it is set."""

    def shown(self, face: FormFace[T]) -> T:
        """As a face shows it."""
        return face.notice(self)


@dataclass(frozen=True, slots=True)
class Move:
    """What to do, and when it is wanted at all."""

    when: str
    """Empty for always."""
    how: str

    def shown(self, face: FormFace[T]) -> T:
        """As a face shows it."""
        return face.move(self)


@dataclass(frozen=True, slots=True)
class Codes:
    """What the letters of a set of choices mean."""

    about: str
    """What they are about; empty where a page has one set."""
    letters: tuple[tuple[str, str], ...]
    """(letter, words)"""

    @property
    def line(self) -> str:
        """All in one line: `o nothing found; l light pits`."""
        words = "; ".join(f"{letter} {words}" for letter, words in self.letters)
        return f"{self.about}: {words}" if self.about else words

    def shown(self, face: FormFace[T]) -> T:
        """As a face shows it."""
        return face.codes(self)


@dataclass(frozen=True, slots=True)
class Blank:
    """One thing to write down."""

    kind: Kind
    """What is written there: how much room it wants."""
    label: str
    points: str
    """Numbers on the drawing of the two points of a tape, `3 to 8`, or of a station, `S3`; empty
    otherwise.
    """
    only_if: str
    """When it is asked at all; empty for always."""
    codes: Codes
    """What the letters mean, where this box alone on its page uses them; none otherwise."""
    preset: str
    """What is printed in the box already; empty for nothing."""


@dataclass(frozen=True, slots=True)
class Blanks:
    """Boxes to fill in, in their order."""

    blanks: tuple[Blank, ...]

    def shown(self, face: FormFace[T]) -> T:
        """As a face shows it."""
        return face.blanks(self)


@dataclass(frozen=True, slots=True)
class Columns:
    """Boxes of both rails, a column for each: the left one is filled in first."""

    heads: tuple[str, str]
    left: Blanks
    right: Blanks

    def shown(self, face: FormFace[T]) -> T:
        """As a face shows it."""
        return face.columns(self)


@dataclass(frozen=True, slots=True)
class Ruled:
    """A table with columns at its right to write in."""

    caption: str
    """Empty for none."""
    head: tuple[str, ...]
    """Of the columns that are printed."""
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[int, ...]
    """Share of the page for each printed column, in percent; the free ones share the rest."""
    free: tuple[str, ...]
    """Heads of the columns to write in."""
    plain: int = 1
    """How many of the first columns need no head where each row is a sentence."""

    def shown(self, face: FormFace[T]) -> T:
        """As a face shows it."""
        return face.ruled(self)


@dataclass(frozen=True, slots=True)
class Numbered:
    """A drawing whose points are numbered."""

    picture: Picture
    view: str
    """From where it is seen: all that needs to be said of the one in typed marks."""
    points: tuple[str, ...]
    """`3 left front (rivet)`, in the order of the numbers."""

    def shown(self, face: FormFace[T]) -> T:
        """As a face shows it."""
        return face.numbered(self)


@dataclass(frozen=True, slots=True)
class Together:
    """Blocks that stay on one page; under a heading they are one step."""

    blocks: tuple[FormBlock, ...]
    heading: Heading | None = None

    def shown(self, face: FormFace[T]) -> T:
        """As a face shows it."""
        return face.together(self)


class FormFace(Face[T_co], Protocol[T_co]):
    """One way to show a form: a document's blocks, and those to fill in."""

    def fields(self, block: Fields) -> T_co:
        """Rows of fields."""

    def notice(self, block: Notice) -> T_co:
        """What must be read first."""

    def move(self, block: Move) -> T_co:
        """What to do."""

    def codes(self, block: Codes) -> T_co:
        """What letters mean."""

    def blanks(self, block: Blanks) -> T_co:
        """Boxes to fill in."""

    def columns(self, block: Columns) -> T_co:
        """Boxes of both rails."""

    def ruled(self, block: Ruled) -> T_co:
        """A table to fill in."""

    def numbered(self, block: Numbered) -> T_co:
        """A drawing with numbered points."""

    def together(self, block: Together) -> T_co:
        """What stays on one page."""


FormBlock = Heading | Paragraph | Items | Fields | Notice | Move | Codes | Blanks | Columns | Ruled


@dataclass(frozen=True, slots=True)
class PaperSize:
    """A paper on which drawings are printed alone."""

    size: str
    """How it lies, as a style sheet names it: `A3 landscape`."""
    sheets: int
    """On how many sheets the frame is drawn."""
    tall: int
    """Millimeters that a drawing may take in height."""


@dataclass(frozen=True, slots=True)
class Form:
    """A whole paper to fill in."""

    title: str
    parts: tuple[Together | Numbered, ...]
    paper: PaperSize | None = None
    """The paper that it is made for; None leaves that to the printer."""
    close: bool = False
    """Whether it is set in small type, notes beside one another: it is read at a desk."""
    of: str = ""
    """The survey of which it is, as the foot of each sheet says; empty for none."""
