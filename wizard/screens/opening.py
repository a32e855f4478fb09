"""The opening page: what there is to start or go on with, which of it was chosen, and what else is
done with the list: `r 1` measure again, `v 1 2` compare, `s 1` print a sheet.

What reads a survey, and the math, are loaded when they are wanted: this page must be up at once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from itertools import chain, zip_longest
from pathlib import Path
from typing import TYPE_CHECKING

from wizard.frozen import Frozen
from wizard.readings.refused import Refused
from wizard.screens.key_line import key_lines
from wizard.screens.mode import Space, View, Window
from wizard.screens.paper import BLANK, TEXT, Line, as_text, cells, fit, line, pad, spread, wrap
from wizard.screens.words import ABOUT
from wizard.sitting.reply import NOTHING, Reply
from wizard.sitting.shelf import Listed, Shelf, copy_sample, listed, names_of, shelf_of

if TYPE_CHECKING:
    from wizard.library.shapes import Library

SAMPLE_LETTERS = "abcdefghijklop"
"""Letters for the samples; m, n, q, r, s and v mean something else."""
ACROSS = 25
"""Cells that an action wants at least, with its letter."""
Row = tuple[tuple[str, ...], Line]
"""A line of the page with the names of the items on it: none, one, or two side by side."""


class Item(Frozen):
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


class Task(Frozen):
    """Something done with the list beside opening one of it."""

    letter: str
    words: str
    least: int
    """Surveys and samples from which on it is offered."""
    asks: str
    """What is asked for after the letter alone."""
    ask: Callable[[Opening, Task], Reply]
    """Asks for it."""
    do: Callable[[Opening, Task, str], Reply]
    """Does it, on what was typed behind the letter. Raises Refused, Unreadable, OSError."""


class Opening(View):
    """The list, the mark in it, and what is done with it."""

    def __init__(
        self,
        folder: Path,
        library: Library | None,
        now: Callable[[], datetime],
        samples: Path | None = None,
        later: bool = False,
    ) -> None:
        """later: only the names of the surveys are read here; `take` fills in the rest."""
        super().__init__()
        self._library, self.now, self.folder = library, now, folder
        if later:
            self._show(names_of(folder, now(), samples))
        else:
            self._show(shelf_of(folder, library, now(), samples))
        self.marked = self._first()
        self._asked = ""
        """Letter of the task that was typed last, alone, so that its rest was asked for."""
        self._rows: list[tuple[str, ...]] = []
        """Names of the items on each line as it was last drawn."""
        self._column = 1
        """Cells of each item on a line of several."""
        self._list = Window()
        """The part of the list that shows; what can be done with it always does."""

    @property
    def library(self) -> Library:
        """The content, loaded when it is needed. Raises ContentError where it is faulty."""
        from wizard.library import load_library

        return self._library or load_library()

    # What is filled in
    # ---------------------------------------------------------------------------------------------

    @property
    def unread(self) -> tuple[Path, ...]:
        """Surveys of which no more than the name is known yet."""
        return self._shelf.unread

    def take(self, one: Listed) -> None:
        """One survey was read. The mark stays where it is; numbers come when all are read, for only
        then is their order known.
        """
        marked = self.items[self.marked]
        self._show(self._shelf.with_read(one))
        same = (
            n for n, i in enumerate(self.items) if (i.path, i.kind) == (marked.path, marked.kind)
        )
        self.marked = next(same, 0)

    def _first(self) -> int:
        """What an empty line chooses at first: what goes on, wherever it stands; else the first
        survey, else a new one.
        """
        surveys = [n for n, i in enumerate(self.items) if i.kind == "survey"]
        goes_on = (n for n in surveys if not _is_finished(self.items[n]))
        new = next(n for n, i in enumerate(self.items) if i.kind == "new")
        return next(goes_on, surveys[0] if surveys else new)

    def _take_rest(self) -> None:
        """Whoever types a number before it shows gets what it will stand for."""
        for path in self.unread:
            self.take(listed(path, self.library, self.now()))

    def _show(self, shelf: Shelf) -> None:
        self._shelf, self.more = shelf, shelf.more
        self.damaged = tuple(s for s in shelf.surveys if s.fault)
        good = [s for s in shelf.surveys if not s.fault]
        # The order of several is known once all are read; one alone is the first in any case.
        known = len(good) == 1 or not shelf.unread
        numbers = (str(n) if known else "" for n in range(1, len(good) + 1))
        self.items = (
            *(Item(n, "survey", s.name, s.path, s) for n, s in zip(numbers, good, strict=True)),
            *(
                Item(letter, "sample", s.name, s.path, s)
                for letter, s in zip(SAMPLE_LETTERS, shelf.samples, strict=False)
            ),
            Item("n", "new", "start a new survey"),
            *(
                Item(task.letter, kind, task.words)
                for kind, task in TASKS.items()
                if len(good) + len(shelf.samples) >= task.least
            ),
            Item("m", "model", "bend a model frame"),
            Item("q", "quit", "quit"),
        )

    # Lines and keys
    # ---------------------------------------------------------------------------------------------

    def line(self, text: str) -> Reply:
        """What was chosen; the marked one by an empty line."""
        from wizard.survey.toml import Unreadable

        asked, self._asked = self._asked, ""
        if any(map(str.isdigit, text)):
            self._take_rest()
        doing = self.task(text)
        try:
            if doing is None:
                return self._chosen(self.pick(text))
            return self._do(*doing, again=bool(text.strip()) and asked == doing[0].name)
        except (Unreadable, OSError) as error:
            return Reply("refused", str(error))

    def key(self, name: str) -> Reply:
        """The arrows move the mark."""
        moves = {"up": self.move, "down": self.move, "pageup": self.jump, "pagedown": self.jump}
        if name in moves:
            moves[name](-1 if name in ("up", "pageup") else 1)
            return NOTHING
        return Reply("quit") if name in ("f10", "ctrl+c") else super().key(name)

    def click(self, row: int, col: int) -> Reply:
        """The item on a line of the page."""
        name = self.at_row(row, col)
        return self.line(name) if name else NOTHING

    def _chosen(self, picked: Item | None) -> Reply:
        if picked is None:
            return Reply("refused", self.remedy())
        if picked.kind == "quit":
            return Reply("quit")
        if picked.kind == "model":
            return Reply("model")
        if picked.copy and picked.path:
            return Reply(
                "open", file=copy_sample(picked.path, self.folder, self.library, self.now())
            )
        return Reply("open", file=picked.path)

    def _do(self, item: Item, rest: str, again: bool) -> Reply:
        """A task, on what was typed behind its letter; the letter alone asks for more, once more
        lets it be.
        """
        task = TASKS[item.kind]
        try:
            if rest:
                return task.do(self, task, rest)
        except Refused as error:
            return Reply("refused", str(error))
        if again:
            return Reply("told")
        self._asked = item.name
        return task.ask(self, task)

    def files(self, said: str, task: Task) -> list[Path]:
        """The files behind numbers and letters of the list. Raises Refused."""
        names = dict.fromkeys(said.lower().replace(",", " ").split())
        known = {item.name: item.path for item in self.items if item.path}
        found = [known[name] for name in names if name in known]
        if not found or len(found) != len(names):
            raise Refused(f"That is not in the list. {task.asks}")
        return found

    # The list
    # ---------------------------------------------------------------------------------------------

    def move(self, way: int) -> None:
        """Move the mark, around the ends too."""
        self.marked = (self.marked + way) % len(self.items)

    def jump(self, way: int) -> None:
        """Move the mark to the first or the last item."""
        self.marked = 0 if way < 0 else len(self.items) - 1

    def pick(self, text: str) -> Item | None:
        """The item of that name, the marked one for an empty line; None when there is none."""
        name = text.strip().lower().removeprefix("/")
        if not name:
            return self.items[self.marked]
        worded = (*TASKS, "new", "model", "quit")
        named = (i for i in self.items if i.name)
        return next(
            (i for i in named if name in (i.name, i.kind if i.kind in worded else "")), None
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
        names = [i.name for i in self.items if i.name]
        return (
            f"That is not in the list. Type {', '.join(names[:-1])} or {names[-1]}, then press"
            " Enter."
        )

    def at_row(self, row: int, col: int = 0) -> str:
        """Name of the item on a line of the page as it was last drawn; empty when there is none."""
        names = self._rows[row] if 0 <= row < len(self._rows) else ()
        return names[min(col // self._column, len(names) - 1)] if names else ""

    # What shows -----------------------------------------------------------------------------------
    # --------------

    def top(self, width: int) -> Line:
        """Where the surveys are."""
        return spread(("Crosstape", "title"), (f"surveys in {self.folder}", "dim"), width)

    def ask(self, width: int, height: int) -> list[Line]:
        """How one chooses."""
        how = "What do you want to do? Type the number or letter before it, then press Enter."
        return wrap(how, width, "strong")

    def keys(self, width: int) -> list[Line]:
        """Those of the start."""
        return key_lines(False, width)

    def roll(self, lines: int) -> None:
        """The list is what scrolls."""
        self._list.scroll(lines)

    def lines(self, space: Space) -> list[Line]:
        """The list with the mark in view, and always below it what there is to do."""
        foot = [((), BLANK), *self._actions(space.width)]
        room = max(space.room - len(foot), 3)
        listed = list(self._parts(space.width))
        about = [((), part) for part in wrap(ABOUT, space.width)]
        if len(about) + len(listed) <= room:
            listed = [*about, *listed]
        shown = [*self._shown(listed, room), *foot]
        self._rows = [names for names, _ in shown]
        return [pieces for _, pieces in shown]

    def _shown(self, listed: list[Row], room: int) -> list[Row]:
        """So many lines of the list, those at its ends saying how much they hide."""
        window = self._list
        window.room, window.length = room, len(listed)
        name = self.items[self.marked].name
        marked = (n for n, (names, _) in enumerate(listed) if name in names)
        window.keep_in_view(next(marked, max(window.top + 1, 2)))
        window.scroll(0)
        first, last = window.top, window.top + room
        shown = listed[first:last]
        if first:
            shown[0] = _hidden(listed[: first + 1], "above")
        if last < len(listed):
            shown[-1] = _hidden(listed[last - 1 :], "below")
        return shown

    def _parts(self, width: int) -> Iterator[Row]:
        goes_on = UNREAD if self.unread else GOES_ON
        yield from _headed(goes_on, self._surveys(width, goes_on=True))
        yield from _headed("Finished", self._surveys(width, goes_on=False))
        yield from _headed(
            "Learn from a sample (a copy of it is opened)", self._all("sample", width)
        )

    @property
    def _named(self) -> int:
        """Cells of the longest name of a survey, as far as there is room for it."""
        names = (cells(_called(i)) for i in self.items if i.listed and not i.copy)
        return min(max(names, default=0), NAMED)

    def _all(self, kind: str, width: int) -> list[Row]:
        return [self._item(item, width) for item in self.items if item.kind == kind]

    def _surveys(self, width: int, *, goes_on: bool) -> list[Row]:
        """Those that go on, with those that cannot be opened; or those that are finished. How many
        are not listed stands behind the last of them.
        """
        listed = [(i, i.listed) for i in self.items if i.kind == "survey" and i.listed]
        here = (self._survey(i, width) for i, one in listed if _stands_at(one, goes_on))
        rows = list(chain.from_iterable(here))
        if goes_on:
            rows += chain.from_iterable(_damaged(s, width) for s in self.damaged)
        are_finished = any(_stands_at(one, False) for _, one in listed)
        return rows if goes_on is are_finished else [*rows, *self._older(width)]

    def _older(self, width: int) -> list[Row]:
        """How many surveys are not listed."""
        more = f"and {self.more} older in {self.folder}; crosstape open FILE opens one"
        return [((), part) for part in wrap(more, width, "dim", "     ")] if self.more else []

    def _actions(self, width: int) -> Iterator[Row]:
        """What there is to do, two or three on a line."""
        items = [i for i in self.items if i.path is None]
        across = min(width // ACROSS, 3)
        self._column = column = min(width, TEXT) // across
        for first in range(0, len(items), across):
            names: tuple[str, ...] = ()
            pieces: Line = ()
            for item in items[first : first + across]:
                gap = column * len(names) - cells(as_text([pieces]))
                more, others = self._item(item, column)
                names, pieces = (*names, *more), (*pieces, (" " * gap, ""), *others)
            yield names, pieces

    def _item(self, item: Item, width: int) -> Row:
        role, name = self._marked(item)
        return (item.name,), (*name, (fit(item.words, width - 5), role))

    def _survey(self, item: Item, width: int) -> list[Row]:
        """Its name, and in a column beside it how far it is or its answer; on as many lines as that
        takes, for half an answer is none.
        """
        assert item.listed is not None
        role, name = self._marked(item)
        column = min(self._named, max(width - 5 - 30, 10))
        called, far = _called(item), _how_far(item.listed)
        indent = called[: len(called) - len(called.lstrip())]
        words = wrap(called.lstrip(), column, role, indent, f"{indent}  ")
        beside = wrap(far, width - 5 - column - 2, "dim", rest=" " * DATED)
        rows: list[Row] = []
        for said, told in zip_longest(words, beside, fillvalue=BLANK):
            gap = " " * (column - cells(as_text([said])) + 2)
            first: Line = (("     ", ""),) if rows else name
            rows.append(((item.name,), (*first, *said, (gap if told else "", ""), *told)))
        return rows

    def _marked(self, item: Item) -> tuple[str, Line]:
        """The role of its words, and the mark and the name before them."""
        here = item is self.items[self.marked]
        mark, role = ("> ", "here") if here else ("  ", "")
        return role, ((mark, role), (pad(item.name, 3), "key"))


def _called(item: Item) -> str:
    """The car; of what measures it again that it does, under the survey that it follows."""
    return f"  again: {item.words}" if item.listed and item.listed.under else item.words


def _headed(words: str, rows: list[Row]) -> Iterator[Row]:
    """Nothing where there are none."""
    if rows:
        yield (), BLANK
        yield (), line(words, "strong")
        yield from rows


NAMED = 34
"""Cells of a survey's name on a line at most."""
DATED = 12
"""Cells of a day and what keeps it apart."""
GOES_ON = "Go on with a survey"
UNREAD = "Your surveys"
"""What stands over them until it is known which of them are finished."""


def _hidden(rows: list[Row], where: str) -> Row:
    """How much of the list a line stands for."""
    count = len({name for names, _ in rows for name in names})
    words = f"     {count} more {where}; the arrows go there" if count else ""
    return (), line(words, "dim")


def _stands_at(listed: Listed, goes_on: bool) -> bool:
    """Whether it is listed among those that go on, or those that do not. What is not read yet is
    taken to go on, and stays there until all are read: nothing is to jump about twice.
    """
    return (listed.goes_on or not listed.is_read) is goes_on


def _is_finished(item: Item) -> bool:
    return item.listed is not None and item.listed.is_finished


def _how_far(listed: Listed) -> str:
    """The day and the answer of a finished survey; of any other how far it is, and where it stands
    under one that is finished that it goes on.
    """
    if not listed.is_read:
        return f"{listed.worked:%Y-%m-%d}  being read"
    if listed.is_finished and listed.brief:
        return f"{listed.started or listed.worked:%Y-%m-%d}  {listed.brief}"
    open_ = "" if listed.goes_on else "go on: "
    return f"{listed.worked:%Y-%m-%d}  {open_}{listed.done} of {listed.steps} pages"


def _damaged(listed: Listed, width: int) -> list[Row]:
    said = wrap(f"cannot be opened: {listed.fault}", width, "dim", "  -  ")
    return [((), part) for part in said]


# Its tasks ----------------------------------------------------------------------------------------
# ------------------


def _ask(opening: Opening, task: Task) -> Reply:
    return Reply("told", task.asks, entry=f"{task.letter} ")


def _ask_kind(opening: Opening, task: Task) -> Reply:
    """The kinds of frame that there is a sheet for, over the page."""
    from wizard.sitting.papers import kinds

    listed = "\n".join(
        f"s {number}  {name}" for number, _, name in kinds(opening.library, opening.folder)
    )
    text = f"{listed}\n\n{task.asks}"
    return Reply("told", text, "Kinds of frame", below=task.asks, entry=f"{task.letter} ")


def _again(opening: Opening, task: Task, rest: str) -> Reply:
    from wizard.sitting.recheck import measure_again

    found = opening.files(rest, task)
    if len(found) > 1:
        raise Refused(f"That is not in the list. {task.asks}")
    path, words = measure_again(found[0], opening.folder, opening.library, opening.now())
    return Reply("open", words, "Measured again", file=path)


def _compare(opening: Opening, task: Task, rest: str) -> Reply:
    from wizard.sitting.comparing import compared

    found = opening.files(rest, task)
    if len(found) < 2:
        raise Refused(f"You need two to compare. {task.asks}")
    return compared(found, opening.library, opening.now())


def _sheet(opening: Opening, task: Task, rest: str) -> Reply:
    from wizard.sitting.papers import print_sheet

    path = print_sheet(rest, opening.folder, opening.library)
    return Reply("told", f"The sheet is in {path}. Open it and print it.")


TASKS = {
    "again": Task(
        "r",
        "measure again: r 1",
        1,
        "Type the number of the survey to measure again, like r 1.",
        _ask,
        _again,
    ),
    "compare": Task(
        "v",
        "compare: v 1 2",
        2,
        "Type the numbers of the surveys to compare, like v 1 2. A sample has a letter, like v a b.",
        _ask,
        _compare,
    ),
    "sheet": Task(
        "s",
        "print a sheet",
        0,
        "Type the number of your kind of frame, like s 1. For plain text, type s 1 txt.",
        _ask_kind,
        _sheet,
    ),
}
"""What is done with the list."""
