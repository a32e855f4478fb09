"""What every mode shows on the screen: its own top line, question, page and keys, as lines."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from wizard.screens.paper import BLANK, Line, as_text, document_lines, fit, line, page_text, wrap
from wizard.sitting.modes import Mode
from wizard.sitting.reply import CLOSED, NOTHING, Reply
from wizard.telling.canvas import Charset
from wizard.telling.document import Heading

MARKS = {
    "taken": ("+ ", "good"),
    "refused": ("! Not taken. ", "bad"),
    "doubted": ("? In doubt. ", "doubt"),
}
"""A mark and a word for each kind of message, so that color is never needed to tell them apart."""


class Space(NamedTuple):
    """What a page may take up."""

    width: int
    room: int
    """Lines; a longer page is scrolled."""
    charset: Charset


@dataclass(slots=True, eq=False, repr=False, match_args=False)
class Window:
    """The part of a page that shows."""

    top: int = 0
    """First line that shows of a page longer than the screen."""
    room: int = 1
    """Lines that the page had room for when it was last drawn."""
    length: int = 0
    """Lines of the page when it was last drawn."""

    @property
    def overflows(self) -> bool:
        """Whether the page is longer than its room."""
        return self.length > self.room

    @property
    def goes_on(self) -> bool:
        """Whether there is more below."""
        return self.top + self.room < self.length

    def further(self) -> str:
        """Which key shows more of a page that is longer than its room; empty for any other."""
        if not self.overflows:
            return ""
        return "PgDn: more" if self.goes_on else "PgUp: back up"

    def scroll(self, lines: int) -> None:
        """So many lines down, no further than the page goes."""
        self.top = min(max(self.top + lines, 0), max(self.length - self.room, 0))

    def show(self, lines: list[Line], room: int) -> tuple[Line, ...]:
        """The lines that show."""
        self.room, self.length = room, len(lines)
        top = min(self.top, max(len(lines) - room, 0))
        return tuple(lines[top : top + room])

    def keep_in_view(self, row: int) -> None:
        """Scroll no further than needed for a line of the page to show."""
        self.top = min(max(self.top, row + 2 - self.room, 0), max(row - 1, 0))


class View(Mode):
    """A mode with its looks on the screen."""

    beside = False
    """Whether something stands beside the page where the screen is wide."""

    def __init__(self) -> None:
        self.window = Window()

    # Keys -----------------------------------------------------------------------------------------
    # --------------

    def key(self, name: str) -> Reply:
        """A key that types nothing: those that do the same everywhere, else a word of the mode's."""
        if name == "f9":
            return Reply("turn")
        if (by := self.steps().get(name)) is not None:
            self.window.scroll(by)
            return NOTHING
        return super().key(name)

    def steps(self) -> dict[str, int]:
        """Lines that each key scrolls."""
        page = max(self.window.room - 1, 1)
        return {"up": -1, "down": 1, "pageup": -page, "pagedown": page}

    def roll(self, lines: int) -> None:
        """The mouse wheel was turned."""
        self.window.scroll(lines)

    def panel(self, reply: Reply, key: str) -> View | None:
        """What a reply lays over the mode; key: the one that asked for it, empty for a typed word."""
        return Panel(self, reply, key) if reply.title else None

    def click(self, row: int, col: int) -> Reply:
        """A press of the mouse on a line of the page."""
        return NOTHING

    # What shows -----------------------------------------------------------------------------------
    # --------------

    def seen(self) -> None:
        """It was drawn."""

    def top(self, width: int) -> Line:
        """The first line of the screen."""
        raise NotImplementedError

    def ask(self, width: int, height: int) -> list[Line]:
        """The question, and what it may be answered with."""
        raise NotImplementedError

    def asked_next(self, width: int, height: int) -> list[Line]:
        """The same while something lies over the page."""
        return self.ask(width, height)

    def hint(self) -> str:
        """What would do, beside the entry line."""
        return ""

    def lines(self, space: Space) -> list[Line]:
        """The whole page; what has no room is scrolled to."""
        raise NotImplementedError

    def side(self, room: int) -> list[Line]:
        """What stands beside the page."""
        return []

    def keys(self, width: int) -> list[Line]:
        """The line of keys."""
        raise NotImplementedError

    def message(self, said: Reply, lost: str, width: int) -> list[Line]:
        """The message; lost: what was set aside of a burst, one sentence."""
        return message(said, lost, width)

    def foot(self, said: list[Line], width: int) -> list[Line]:
        """The message once the page is drawn: a line that it leaves tells that the page goes on."""
        if not self.window.overflows or said[-1:] != [BLANK]:
            return said
        words = "Press PgDn for more." if self.window.goes_on else "Press PgUp to go back up."
        return [*said[:-1], line(fit(words, width), "dim")]


class Panel(View):
    """A text that lies over a mode until it is closed; a key that it does not know goes there."""

    def __init__(self, over: View, reply: Reply, key: str = "") -> None:
        """key: the function key that asked for it and closes it again, empty when it was typed."""
        super().__init__()
        self.over, self.title, self.text, self.own_key = over, reply.title, reply.says, key
        self.blocks = reply.blocks
        self.beside = over.beside
        self._fresh = True
        """Not drawn yet, so that its first line is still to be chosen."""

    def line(self, text: str) -> Reply:
        """An empty line closes it; any other is for the mode below."""
        return self.over.line(text) if text.strip() else CLOSED

    def key(self, name: str) -> Reply:
        """Its own keys; any other is for the mode below."""
        if name in self.steps():
            return super().key(name)
        if name == "escape" or name == self.own_key:
            return CLOSED
        return self.over.key(name)

    def top(self, width: int) -> Line:
        """The top line of the mode below."""
        return self.over.top(width)

    def ask(self, width: int, height: int) -> list[Line]:
        """What is asked next."""
        return self.over.asked_next(width, height)

    def side(self, room: int) -> list[Line]:
        """As the mode below."""
        return self.over.side(room)

    def keys(self, width: int) -> list[Line]:
        """As the mode below."""
        return self.over.keys(width)

    def message(self, said: Reply, lost: str, width: int) -> list[Line]:
        """How it is closed, in place of the message."""
        more = " PgDn shows more." if self.window.goes_on else ""
        return message(Reply("told", f"Press Enter to close this.{more}"), "", width)

    def foot(self, said: list[Line], width: int) -> list[Line]:
        """The same, now that it is known whether the text goes on."""
        return self.message(NOTHING, "", width)

    def lines(self, space: Space) -> list[Line]:
        """The text; a list that marks where one is opens there."""
        if self.blocks:
            return self._document(space)
        lines = [line(self.title, "title"), BLANK, *page_text(self.text, space.width)]
        if self._fresh:
            here = next((n for n, part in enumerate(lines) if as_text([part]).startswith(">")), 0)
            last = max(len(lines) - space.room, 0)
            self.window.top = min(max(here - space.room // 2, 0), last)
            self._fresh = False
        return lines

    def _document(self, space: Space) -> list[Line]:
        """Its own headings, and the title where they do not begin with it."""
        first = self.blocks[0]
        titled = isinstance(first, Heading) and first.text == self.title
        told = document_lines(self.blocks, space.width, space.charset)
        return told if titled else [line(self.title, "title"), BLANK, *told]


MOST_LINES = 5
"""Of a message: the page needs the others."""
_ENDS = re.compile(r"(?<=[.!?:;]) ")
_SENTENCES = re.compile(r"(?<=[.!?]) ")
_BRACKETS = re.compile(r" \([^()]*\)")
MORE = "/verdict tells more."
"""In the place of what a page came to, where there is no room for all of it."""


def message(said: Reply, lost: str, width: int, most: int = MOST_LINES) -> list[Line]:
    """So many lines at most; none for no message. What to do stands at its end, so a longer one is
    shortened before that.
    """
    mark, role = MARKS.get(said.kind, ("", ""))
    text = f"{mark}{said.says} {lost}".strip() if said.says or lost else ""
    lines = wrap(text, width, role) if text else []
    if len(lines) <= most:
        return lines
    if said.kind in ("taken", "ended") and (fewer := _fewer(text, mark, width, role, most)):
        return fewer
    return _shortened(_ENDS.split(text), width, role) or [
        *lines[: MOST_LINES - 1],
        line(fit(as_text(lines[MOST_LINES - 1 : MOST_LINES]) + " …", width), role),
    ]


def _fewer(text: str, mark: str, width: int, role: str, most: int) -> list[Line]:
    """The sentences of a message that there is room for, the first and the last of them, each
    whole; what lies between them the verdict tells. Where it is enough to leave out what stands in
    brackets, that alone. Nothing where not even the last one has room.
    """
    if len(lines := wrap(_BRACKETS.sub("", text), width, role)) <= most:
        return lines
    *before, end = _SENTENCES.split(text.removeprefix(mark))
    while before and len(wrap(f"{before[-1]} {end}", width)) <= most // 2 + 1:
        end = f"{before.pop()} {end}"
    for count in range(len(before), -1, -1):
        said = [*before[:count], MORE, end] if count else [end, MORE]
        lines = wrap(f"{mark}{' '.join(said)}", width, role)
        if len(lines) <= most:
            return lines
    return []


def _shortened(sentences: Sequence[str], width: int, role: str) -> list[Line]:
    """As many sentences of the beginning as there is room for beside the end, of the first one at
    least a part; nothing where the last sentence alone has none. The end is the last sentence, with
    those before it as long as both take less than half.
    """
    *before, end = sentences
    while before and len(wrap(f"{before[-1]} {end}", width)) <= MOST_LINES // 2:
        end = f"{before.pop()} {end}"
    words = before[0].split() if before else []
    whole = (" ".join(before[:n]) for n in range(len(before), 0, -1))
    cut = (" ".join(words[:n]) for n in range(len(words) - 1, 0, -1))
    shorter = (wrap(f"{said} … {end}", width, role) for said in itertools.chain(whole, cut))
    return next((lines for lines in shorter if len(lines) <= MOST_LINES), [])
