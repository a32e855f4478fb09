"""The opening page: what there is to start or go on with, and which of it was chosen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import zip_longest
from pathlib import Path
from typing import TYPE_CHECKING

from wizard.screens.paper import BLANK, Line, as_text, cells, fit, line, pad, wrap
from wizard.screens.words import ABOUT
from wizard.sitting.shelf import Listed, shelf_of

if TYPE_CHECKING:
    from wizard.library.shapes import Library

SAMPLE_LETTERS = "abcdefghijklop"
"""Letters for the samples; m, n, q, r, s and v mean something else."""
TASKS = {
    "again": ("r", "measure a frame again, like r 1"),
    "compare": ("v", "compare surveys, like v 1 2"),
    "sheet": ("s", "print a sheet for the garage"),
}
"""What is done with the list: letter and words."""
LEAST = {"again": 1, "compare": 2, "sheet": 0}
"""Surveys and samples that each of them takes."""


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to choose."""

    name: str
    """What is typed to choose it."""
    kind: str
    """new, survey, sample, again, compare, sheet, model, quit"""
    words: str
    path: Path | None = None
    listed: Listed | None = None

    @property
    def copy(self) -> bool:
        """Whether a copy of it is opened."""
        return self.kind == "sample"


class Opening:
    """The list and the mark in it."""

    def __init__(
        self, folder: Path, library: Library | None, today: datetime, samples: Path | None = None
    ) -> None:
        shelf = shelf_of(folder, library, today, samples)
        self.folder, self.more = folder, shelf.more
        self.damaged = tuple(s for s in shelf.surveys if s.fault)
        good = [s for s in shelf.surveys if not s.fault]
        self.items = (
            Item("n", "new", "start a new survey"),
            *(Item(str(n), "survey", s.name, s.path, s) for n, s in enumerate(good, start=1)),
            *(
                Item(letter, "sample", s.name, s.path, s)
                for letter, s in zip(SAMPLE_LETTERS, shelf.samples, strict=False)
            ),
            *(
                Item(letter, kind, words)
                for kind, (letter, words) in TASKS.items()
                if len(good) + len(shelf.samples) >= LEAST[kind]
            ),
            Item("m", "model", "bend a model frame"),
            Item("q", "quit", "quit"),
        )
        self.marked = 1 if good else 0
        self._rows: list[tuple[str, ...]] = []
        """Names of the items on each line as it was last drawn: none, one, or two side by side."""
        self._half = 0

    def move(self, way: int) -> None:
        """Move the mark, around the ends too."""
        self.marked = (self.marked + way) % len(self.items)

    def row(self) -> int:
        """Line of the marked item on the page as it was last drawn."""
        return next(
            (n for n, names in enumerate(self._rows) if self.items[self.marked].name in names), 0
        )

    def jump(self, way: int) -> None:
        """Move the mark to the first or the last item."""
        self.marked = 0 if way < 0 else len(self.items) - 1

    def pick(self, text: str) -> Item | None:
        """The item of that name, the marked one for an empty line; None when there is none."""
        name = text.strip().lower().removeprefix("/")
        if not name:
            return self.items[self.marked]
        worded = (*TASKS, "new", "model", "quit")
        return next(
            (i for i in self.items if name in (i.name, i.kind if i.kind in worded else "")), None
        )

    def task(self, text: str) -> tuple[Item, str] | None:
        """A thing to do with the list, and what stands behind its letter: `v 1 2`; None for
        anything else.
        """
        name, _, rest = text.strip().removeprefix("/").partition(" ")
        picked = self.pick(name) if name or not text.strip() else None
        # The letter that was put in the line may have been typed once more, as the page says it: `s
        # s 1`.
        rest = rest.strip().removeprefix(f"{name} ") if rest.strip() != name else ""
        return (picked, rest.strip()) if picked and picked.kind in TASKS else None

    def remedy(self) -> str:
        """What would do, after something that did not."""
        names = [i.name for i in self.items]
        return (
            f"That is not in the list; type one of {', '.join(names[:-1])} or {names[-1]}, then"
            " Enter."
        )

    def at_row(self, row: int, col: int = 0) -> str:
        """Name of the item on a line of the page as it was last drawn; empty when there is none."""
        names = self._rows[row] if 0 <= row < len(self._rows) else ()
        return names[-1 if col >= self._half else 0] if names else ""

    def lines(self, width: int) -> list[Line]:
        """The page."""
        drawn = list(self._parts(width))
        self._rows, self._half = [names for names, _ in drawn], width // 2
        return [pieces for _, pieces in drawn]

    def _parts(self, width: int) -> Iterator[tuple[tuple[str, ...], Line]]:
        yield from (((), part) for part in wrap(ABOUT, width))
        yield self._item(self.items[0], width)
        surveys = [i for i in self.items if i.kind == "survey"]
        if surveys or self.damaged:
            yield from self._headed("Go on with a survey")
        yield from (self._item(i, width) for i in surveys)
        yield from (((), _damaged(s, width)) for s in self.damaged)
        if self.more:
            more = f"     and {self.more} older in {self.folder}; crosstape open FILE opens one"
            yield (), line(fit(more, width), "dim")
        samples = [i for i in self.items if i.kind == "sample"]
        if samples:
            yield from self._headed("Learn from a sample (a copy of it is opened)")
        yield from (self._item(i, width) for i in samples)
        yield (), BLANK
        yield from self._pairs(
            [i for i in self.items if i.kind in (*TASKS, "model", "quit")], width
        )

    def _pairs(self, items: list[Item], width: int) -> Iterator[tuple[tuple[str, ...], Line]]:
        """Two items on a line."""
        for left, right in zip_longest(items[::2], items[1::2]):
            names, pieces = self._item(left, width // 2 - 1)
            if right is not None:
                gap = width // 2 - cells(as_text([pieces]))
                more, others = self._item(right, width - width // 2)
                names, pieces = (*names, *more), (*pieces, (" " * gap, ""), *others)
            yield names, pieces

    def _headed(self, words: str) -> Iterator[tuple[tuple[str, ...], Line]]:
        yield (), BLANK
        yield (), line(words, "strong")

    def _item(self, item: Item, width: int) -> tuple[tuple[str, ...], Line]:
        here = item is self.items[self.marked]
        mark, role = ("> ", "here") if here else ("  ", "")
        pieces: Line = (
            (mark, role),
            (pad(item.name, 3), "key"),
            (fit(item.words, width - 6), role),
        )
        if item.listed:
            far = "" if item.copy else _how_far(item.listed)
            name = pad(item.words, min(36, max(width - 5 - len(far) - 2, 10)))
            pieces = (
                (mark, role),
                (pad(item.name, 3), "key"),
                (name, role),
                ("  ", ""),
                (far, "dim"),
            )
        return (item.name,), pieces


def _how_far(listed: Listed) -> str:
    return f"{listed.worked:%Y-%m-%d}  {listed.done} of {listed.steps} steps"


def _damaged(listed: Listed, width: int) -> Line:
    return (
        ("  ", ""),
        ("-  ", "dim"),
        (fit(f"cannot be read, left alone: {listed.fault}", width - 5), "dim"),
    )
