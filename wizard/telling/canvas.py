"""A picture in terminal cells: dots finer than a cell, straight lines, words laid over them.

Callers think in cells (columns to the right, rows downward, parts of a cell allowed) and never see
how many dots a cell of the charset holds: 2 x 2 quadrant blocks, 2 x 4 braille dots, or 1 x 2 typed
marks.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Literal, NamedTuple

Charset = Literal["blocks", "braille", "ascii"]

_GRID = {"blocks": (2, 2), "braille": (2, 4), "ascii": (1, 2)}
_QUADRANTS = " ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█"
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
    thick: bool = False
    """Two dots thick in braille, where a single row of dots would pass for a tape."""
    yields: bool = False
    """Leaves the cells of a rail alone: where a dash runs into one, both would turn to rubble."""


SOLID = {"blocks": "▐█▌", "braille": "▐█▌", "ascii": "(@)"}
"""The mark of a point asked for, three cells wide; every other point is an "o"."""

RAIL = Pen("===", thick=True)
MEMBER = Pen("|||")
BRACE = Pen("'.:", yields=True)
TAPE = Pen("'.:", on=1, off=1, yields=True)
DROP = Pen(":::", on=1, off=1, yields=True)
FAINT = Pen("'.:", on=0.5, off=3.5, yields=True)


def grid_line(x0: int, y0: int, x1: int, y1: int) -> Iterator[tuple[int, int]]:
    """The dots of a straight line, both ends included (Bresenham's line algorithm).

    >>> list(grid_line(0, 0, 3, 1))
    [(0, 0), (1, 0), (2, 1), (3, 1)]
    """
    dx, dy = abs(x1 - x0), -abs(y1 - y0)
    step_x, step_y = (1 if x1 >= x0 else -1), (1 if y1 >= y0 else -1)
    error = dx + dy
    while True:
        yield x0, y0
        if (x0, y0) == (x1, y1):
            return
        twice = 2 * error
        if twice >= dy:
            error += dy
            x0 += step_x
        if twice <= dx:
            error += dx
            y0 += step_y


class Canvas:
    """Cells being drawn on. Whatever falls outside is left out, so that a caller need not clip."""

    def __init__(self, width: int, height: int, charset: Charset) -> None:
        """Width and height in cells."""
        self.width, self.height, self.charset = width, height, charset
        self._across, self._down = _GRID[charset]
        self._bits = _BITS[charset]
        self._dots: dict[tuple[int, int], int] = {}
        self._pens: dict[tuple[int, int], Pen] = {}
        self._words: dict[tuple[int, int], str] = {}
        self._lit: set[tuple[int, int]] = set()

    def line(
        self, col0: float, row0: float, col1: float, row1: float, pen: Pen, lit: bool = False
    ) -> None:
        """A straight line between two places given in cells."""
        start, end = self._dot_at(col0, row0), self._dot_at(col1, row1)
        steep = 2 * abs(row1 - row0) > abs(col1 - col0)
        dots = list(grid_line(*start, *end))
        if pen.off:
            dots = self._dashed(dots, steep, pen)
        if pen.thick and self.charset == "braille":
            dots += [(x, y + 1 if y % 4 < 3 else y - 1) for x, y in dots]
        self.dots(dots, pen, lit)

    def dots(self, dots: Iterable[tuple[int, int]], pen: Pen, lit: bool = False) -> None:
        """Dots, counted in dots from the upper left."""
        for x, y in dots:
            row, col = y // self._down, x // self._across
            if not (0 <= row < self.height and 0 <= col < self.width):
                continue
            under = self._pens.get((row, col), pen)
            if pen.yields and under is RAIL:
                continue
            if self.charset == "ascii" and under.typed != pen.typed:
                self._dots[row, col] = 0
            bit = self._bits[y % self._down][x % self._across]
            self._dots[row, col] = self._dots.get((row, col), 0) | bit
            self._pens[row, col] = pen
            if lit:
                self._lit.add((row, col))

    def text(self, row: int, col: int, words: str, lit: bool = False) -> None:
        """Words laid over the dots."""
        for i, letter in enumerate(words):
            if 0 <= row < self.height and 0 <= col + i < self.width:
                self._words[row, col + i] = letter
                self._lit.discard((row, col + i))
                if lit:
                    self._lit.add((row, col + i))

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
        rows = [[" "] * self.width for _ in range(self.height)]
        for row, col in self._dots.keys() | self._words.keys():
            if 0 <= row < self.height and 0 <= col < self.width:
                rows[row][col] = self._words.get((row, col)) or self._cell(row, col)
        lines = tuple("".join(row).rstrip() for row in rows)
        lit = (span for r in range(self.height) for span in self._spans(r))
        return Drawing(lines, tuple(lit), words)

    def _dot_at(self, col: float, row: float) -> tuple[int, int]:
        return int(col * self._across // 1), int(row * self._down // 1)

    def _dashed(
        self, dots: Iterable[tuple[int, int]], steep: bool, pen: Pen
    ) -> list[tuple[int, int]]:
        # Counted from the edge of the page, so that dashes fill whole cells. A cell is about twice
        # as high as it is wide: a dash downward takes half as many.
        each = pen.on + pen.off
        if steep:
            return [(x, y) for x, y in dots if 2 * y / self._down % each < pen.on]
        return [(x, y) for x, y in dots if x / self._across % each < pen.on]

    def _cell(self, row: int, col: int) -> str:
        bits = self._dots.get((row, col), 0)
        if not bits:
            return " "
        if self.charset == "ascii":
            return self._pens[row, col].typed[bits - 1]
        return _QUADRANTS[bits] if self.charset == "blocks" else chr(0x2800 + bits)

    def _spans(self, row: int) -> Iterator[tuple[int, int, int]]:
        cols = sorted(c for r, c in self._lit if r == row)
        first = 0
        for i, col in enumerate(cols):
            if i + 1 == len(cols) or cols[i + 1] != col + 1:
                yield row, cols[first], col + 1
                first = i + 1
