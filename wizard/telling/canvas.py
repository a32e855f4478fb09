"""A picture in terminal cells: dots finer than a cell, straight lines, words laid over them.

Callers think in cells (columns to the right, rows downward, parts of a cell allowed) and never see
how many dots a cell of the charset holds: 2 x 2 quadrant blocks, 2 x 4 braille dots, or 1 x 2 typed
marks.
"""

import math
from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import Literal, NamedTuple

Charset = Literal["blocks", "braille", "ascii"]

_GRID = {"blocks": (2, 2), "braille": (2, 4), "ascii": (1, 2)}
_QUADRANTS = " ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█"
_BRAILLE = "".join(map(chr, range(0x2800, 0x2900)))
_BITS = {
    "blocks": ((1, 2), (4, 8)),
    "braille": ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80)),
    "ascii": ((1,), (2,)),
}
"""Bits of the dots of a cell, row by row; those of braille: Unicode, block Braille Patterns."""


class Drawing(NamedTuple):
    """A finished picture, and the same thing said."""

    lines: tuple[str, ...]
    """Rows of text without trailing blanks; none at all when the room was too small to draw in."""
    lit: tuple[tuple[int, int, int], ...]
    """(row, first column, column after the last) of what the screen should emphasize: by bold or
    color, since reverse colors would turn the dashes of the tape into their own negative.
    """
    words: str
    """What the picture shows in one or two sentences, for a screen reader."""


class Pen(NamedTuple):
    """How a line is drawn."""

    typed: str
    """Three characters for ascii: dot in the upper half, in the lower half, in both."""
    on: float = 1
    """Length of a dash, in widths of a cell."""
    off: float = 0
    """Length of the blank after it; 0 for an unbroken line."""
    wide: int = 1
    """Dots across in braille, where a single row of dots would pass for a tape; half as many in
    blocks.
    """
    yields: bool = False
    """Leaves the color of a rail alone, and where marks are typed its cells too: two letters cannot
    stand in one.
    """


RAIL = Pen("===", wide=2)
LOOKED = Pen("###", wide=3)
MEMBER = Pen("|||")
BRACE = Pen("'.:", yields=True)
TAPE = Pen("'.:", on=1, off=1, yields=True)
DROP = Pen(":::", on=1, off=1, yields=True)
FAINT = Pen("'.:", on=0.5, off=2.5, yields=True)

BEAD = Pen("ooo")
STRING, BLOCK = Pen("---"), Pen("###")
METAL = (RAIL, LOOKED)
BEADS = {
    "point": ("o", (4, 4), (2, 3)),
    "asked": ("(@)", (6, 4), (4, 3)),
    "stand": ("#", (6, 4), (5, 2)),
}
"""A point, one that is asked for, a stand: typed, and in dots of braille and of blocks, across and down."""


def nearest_dots(x0: float, y0: float, x1: float, y1: float) -> list[tuple[int, int]]:
    """The dots of a straight line between two places counted in dots, a dot being from one whole
    number to the next: in each column, or row where it is steep, the dot that it passes through.

    None of them is more than half a dot off the line.

    >>> nearest_dots(0.0, 0.5, 4.0, 1.5)
    [(0, 0), (1, 0), (2, 1), (3, 1)]
    """
    if abs(y1 - y0) > abs(x1 - x0):
        return [(x, y) for y, x in nearest_dots(y0, x0, y1, x1)]
    if x0 > x1:
        return nearest_dots(x1, y1, x0, y0)[::-1]
    slope = (y1 - y0) / (x1 - x0) if x1 > x0 else 0.0
    columns = range(math.floor(x0), max(math.ceil(x1), math.floor(x0) + 1))
    return [(x, math.floor(y0 + slope * (x + 0.5 - x0))) for x in columns]


class Canvas:
    """Cells being drawn on. Whatever falls outside is left out, so that a caller need not clip."""

    def __init__(self, width: int, height: int, charset: Charset) -> None:
        """Width and height in cells."""
        self.width, self.height, self.charset = width, height, charset
        self._across, self._down = _GRID[charset]
        self._bits = _BITS[charset]
        self._shown = _QUADRANTS if charset == "blocks" else _BRAILLE
        self._dots: dict[tuple[int, int], int] = {}
        self._pens: dict[tuple[int, int], Pen] = {}
        self._words: dict[tuple[int, int], str] = {}
        self._lit: set[tuple[int, int]] = set()

    def line(
        self, col0: float, row0: float, col1: float, row1: float, pen: Pen, lit: bool = False
    ) -> None:
        """A straight line between two places given in cells; a dashed one begins and ends with a
        dash.
        """
        x0, x1 = col0 * self._across, col1 * self._across
        y0, y1 = row0 * self._down, row1 * self._down
        steep = abs(y1 - y0) > abs(x1 - x0)
        for aside in self._strands(pen):
            by_x, by_y = (aside, 0.0) if steep else (0.0, aside)
            dots = nearest_dots(x0 + by_x, y0 + by_y, x1 + by_x, y1 + by_y)
            self.dots(self._dashed(dots, steep, pen) if pen.off else dots, pen, lit)

    def _strands(self, pen: Pen) -> list[float]:
        """How many dots each thin line of a wide one lies off its middle."""
        wide = pen.wide if self.charset == "braille" else (pen.wide + 1) // 2
        wide = 1 if self.charset == "ascii" else wide
        return [n - (wide - 1) / 2 for n in range(wide)]

    def dots(self, dots: Iterable[tuple[int, int]], pen: Pen, lit: bool = False) -> None:
        """Dots, counted in dots from the upper left."""
        cells: dict[tuple[int, int], int] = {}
        across, down, bits = self._across, self._down, self._bits
        right, bottom = self.width * across, self.height * down
        for x, y in dots:
            if 0 <= y < bottom and 0 <= x < right:
                cell = y // down, x // across
                cells[cell] = cells.get(cell, 0) | bits[y % down][x % across]
        for cell, inked in cells.items():
            self._ink(cell, inked, pen, lit)

    def _ink(self, cell: tuple[int, int], bits: int, pen: Pen, lit: bool) -> None:
        """Dots in a cell; what yields leaves a rail its color, and a typed rail its cell."""
        under = self._pens.get(cell, pen)
        on_metal = pen.yields and under in METAL
        typed = self.charset == "ascii"
        if typed and on_metal:
            return
        beneath = 0 if typed and under.typed != pen.typed else self._dots.get(cell, 0)
        self._dots[cell] = beneath | bits
        self._pens[cell] = under if on_metal else pen
        if lit and not on_metal:
            self._lit.add(cell)

    def bead(self, col: float, row: float, kind: str, lit: bool = False) -> None:
        """A point at its very place: a bead of dots, a letter where marks are typed."""
        typed, braille, blocks = BEADS[kind]
        if self.charset == "ascii":
            return self.text(int(row), int(col) - len(typed) // 2, typed, lit)
        across, down = braille if self.charset == "braille" else blocks
        x = math.floor(col * self._across - across / 2 + 0.5)
        y = math.floor(row * self._down - down / 2 + 0.5)
        corners = {(x, y), (x + across - 1, y), (x, y + down - 1), (x + across - 1, y + down - 1)}
        dots = [(x + i, y + j) for i in range(across) for j in range(down)]
        # Round, so that a bead on a rail is no thicker rail.
        self.dots([d for d in dots if d not in corners or down < 4], BEAD, lit)
        return None

    def text(self, row: int, col: int, words: str, lit: bool = False) -> None:
        """Words laid over the dots."""
        for i, letter in enumerate(words):
            if 0 <= row < self.height and 0 <= col + i < self.width:
                self._words[row, col + i] = letter
                self._lit.discard((row, col + i))
                if lit:
                    self._lit.add((row, col + i))

    @property
    def deepest(self) -> int:
        """The last row in which anything stands; -1 for none."""
        return max((row for row, _ in self._dots.keys() | self._words.keys()), default=-1)

    def has_word(self, row: int, col: int) -> bool:
        """Whether a letter of a word stands in this cell."""
        return (row, col) in self._words

    def free(self, row: int, col: int, length: int, apart: int = 1) -> bool:
        """True when nothing stands in these cells nor so near beside them, and all lie on the
        canvas.
        """
        inside = 0 <= row < self.height and col >= 0 and col + length <= self.width
        near = ((row, c) for c in range(col - apart, col + length + apart))
        return inside and not any(cell in self._words or self._dots.get(cell) for cell in near)

    def label(
        self,
        rows: Sequence[int],
        col: int,
        words: str,
        lit: bool = False,
        reach: int = 12,
        apart: int = 1,
    ) -> None:
        """Words as near to a column as there is room, in the first row that has it; else they are
        left out.

        apart: blanks at least to whatever stands beside them.
        """
        first = col - len(words) // 2
        for row in rows:
            for shift in sorted(range(-reach, reach + 1), key=abs):
                if self.free(row, first + shift, len(words), apart):
                    return self.text(row, first + shift, words, lit)
        return None

    def drop(self, row0: float, row1: float, col: float, pen: Pen, lit: bool = False) -> None:
        """An upright line a whole cell wide: a dash one dot wide would be lost beside a
        crossmember.
        """
        self.line(col // 1, row0, col // 1, row1, pen, lit)
        self.line(col // 1 + 0.5, row0, col // 1 + 0.5, row1, pen, lit)

    def drawing(self, words: str) -> Drawing:
        """The picture so far."""
        signs = self._typed() if self.charset == "ascii" else self._drawn()
        rows = [[" "] * self.width for _ in range(self.height)]
        for (row, col), sign in (signs | self._words).items():
            if 0 <= row < self.height and 0 <= col < self.width and sign:
                rows[row][col] = sign
        lines = tuple("".join(row).rstrip() for row in rows)
        lit = (span for r in range(self.height) for span in self._spans(r))
        return Drawing(lines, tuple(lit), words)

    def _typed(self) -> dict[tuple[int, int], str]:
        """The letter of each cell that has dots."""
        return {at: self._pens[at].typed[bits - 1] for at, bits in self._dots.items() if bits}

    def _drawn(self) -> dict[tuple[int, int], str]:
        """The sign of each cell that has dots."""
        return {at: self._shown[bits] for at, bits in self._dots.items() if bits}

    def _dashed(
        self, dots: Collection[tuple[int, int]], steep: bool, pen: Pen
    ) -> list[tuple[int, int]]:
        # As many dashes as there is room for, stretched so that the last one ends where the line
        # does: a tape reaches both of its dots. A cell is about twice as high as it is wide: a dash
        # downward takes half as many of them.
        each = self._down / 2 if steep else self._across
        on, off = max(pen.on * each, 1.0), pen.off * each
        dashes = max(round((len(dots) + off) / (on + off)), 1)
        stretch = (dashes * (on + off) - off) / max(len(dots), 1)
        return [dot for n, dot in enumerate(dots) if (n + 0.5) * stretch % (on + off) < on]

    def _spans(self, row: int) -> Iterator[tuple[int, int, int]]:
        cols = sorted(c for r, c in self._lit if r == row)
        first = 0
        for i, col in enumerate(cols):
            if i + 1 == len(cols) or cols[i + 1] != col + 1:
                yield row, cols[first], col + 1
                first = i + 1
