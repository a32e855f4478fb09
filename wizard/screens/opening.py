"""The opening page: what there is to start or go on with, and which of it was chosen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from wizard.library.shapes import Library
from wizard.screens.paper import BLANK, Line, fit, line, pad, wrap
from wizard.screens.words import ABOUT
from wizard.sitting.shelf import Listed, shelf_of

SAMPLE_LETTERS = "abcdefghijklop"
"""Letters for the samples; m, n and q mean something else."""


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to choose."""

    name: str
    """What is typed to choose it."""
    kind: str
    """new, survey, sample, model, quit"""
    words: str
    path: Path | None = None
    listed: Listed | None = None

    @property
    def copy(self) -> bool:
        """Whether a copy of it is opened."""
        return self.kind == "sample"


class Opening:
    """The list and the mark in it."""

    def __init__(self, folder: Path, library: Library, today: datetime, samples: Path | None = None) -> None:
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
            Item("m", "model", "bend a model frame, and see which check finds what"),
            Item("q", "quit", "quit"),
        )
        self.marked = 1 if good else 0
        self._rows: list[str] = []

    def move(self, way: int) -> None:
        """Move the mark, around the ends too."""
        self.marked = (self.marked + way) % len(self.items)

    def row(self) -> int:
        """Line of the marked item on the page as it was last drawn."""
        return next((n for n, name in enumerate(self._rows) if name == self.items[self.marked].name), 0)

    def jump(self, way: int) -> None:
        """Move the mark to the first or the last item."""
        self.marked = 0 if way < 0 else len(self.items) - 1

    def pick(self, text: str) -> Item | None:
        """The item of that name, the marked one for an empty line; None when there is none."""
        name = text.strip().lower().removeprefix("/")
        if not name:
            return self.items[self.marked]
        return next(
            (i for i in self.items if name in (i.name, i.kind if i.kind in ("new", "model", "quit") else "")), None
        )

    def remedy(self) -> str:
        """What would do, after something that did not."""
        names = [i.name for i in self.items]
        return f"That is not in the list; type one of {', '.join(names[:-1])} or {names[-1]}, then Enter."

    def at_row(self, row: int) -> str:
        """Name of the item on a line of the page as it was last drawn; empty when there is none."""
        return self._rows[row] if 0 <= row < len(self._rows) else ""

    def lines(self, width: int) -> list[Line]:
        """The page."""
        drawn = list(self._parts(width))
        self._rows = [name for name, _ in drawn]
        return [pieces for _, pieces in drawn]

    def _parts(self, width: int) -> Iterator[tuple[str, Line]]:
        yield from (("", part) for part in wrap(ABOUT, width))
        yield "", BLANK
        yield self._item(self.items[0], width)
        surveys = [i for i in self.items if i.kind == "survey"]
        if surveys or self.damaged:
            yield from self._headed("Go on with a survey")
        yield from (self._item(i, width) for i in surveys)
        yield from (("", _damaged(s, width)) for s in self.damaged)
        if self.more:
            yield (
                "",
                line(fit(f"     and {self.more} older in {self.folder}; crosstape open FILE opens one", width), "dim"),
            )
        samples = [i for i in self.items if i.kind == "sample"]
        if samples:
            yield from self._headed("Learn from a sample (a copy of it is opened)")
        yield from (self._item(i, width) for i in samples)
        yield "", BLANK
        yield self._item(self.items[-2], width)
        yield self._item(self.items[-1], width)

    def _headed(self, words: str) -> Iterator[tuple[str, Line]]:
        yield "", BLANK
        yield "", line(words, "strong")

    def _item(self, item: Item, width: int) -> tuple[str, Line]:
        here = item is self.items[self.marked]
        mark, role = ("> ", "here") if here else ("  ", "")
        pieces: Line = ((mark, role), (pad(item.name, 3), "key"), (fit(item.words, width - 6), role))
        if item.listed:
            far = "" if item.copy else _how_far(item.listed)
            name = pad(item.words, min(36, max(width - 5 - len(far) - 2, 10)))
            pieces = ((mark, role), (pad(item.name, 3), "key"), (name, role), ("  ", ""), (far, "dim"))
        return item.name, pieces


def _how_far(listed: Listed) -> str:
    return f"{listed.worked:%Y-%m-%d}  {listed.done} of {listed.steps} steps"


def _damaged(listed: Listed, width: int) -> Line:
    return (("  ", ""), ("-  ", "dim"), (fit(f"cannot be read, left alone: {listed.fault}", width - 5), "dim"))
