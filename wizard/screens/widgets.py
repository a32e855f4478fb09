"""The two widgets: the sheet, which shows lines, and the one entry line, which takes every key, in
order, and never gives up the focus.

Keys of a burst wait in the entry line's own queue. Were a line handed on by a message, the keys
behind its Enter would be put into the line before the answer to it is known; so the line is handed
on by a plain call that returns first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget

from wizard.screens.looks import look_of
from wizard.screens.paper import ROLES, Line, as_text, cells
from wizard.screens.typed import BURST_GAP_S, Burst, Typed
from wizard.sitting.reply import NOTHING, Reply

LOOKS = {f"sheet--{role}" for role in ROLES}
"""Of every role of a line, by its name in crosstape.tcss."""


class Sheet(Widget):
    """Lines of text in their roles. Never focused, so that the entry line keeps the keys.

    The app has the looks of the roles (`LOOKS`), once for all sheets: the library works out anew
    what each widget has of its own, ten roles seven times over, whenever it looks at its styles.
    """

    can_focus = False

    @dataclass(eq=False, repr=False, match_args=False)
    class Clicked(Message):
        """A press of the mouse on a line."""

        sheet: Sheet
        row: int
        col: int

        @property
        def control(self) -> Sheet:
            """The sheet that was clicked."""
            return self.sheet

    @dataclass(eq=False, repr=False, match_args=False)
    class Rolled(Message):
        """A turn of the mouse wheel over the sheet."""

        lines: int

    def __init__(self, id: str) -> None:
        super().__init__(id=id)
        self.lines: tuple[Line, ...] = ()

    def show(self, lines: Sequence[Line]) -> None:
        """Put up other lines."""
        if tuple(lines) != self.lines:
            self.lines = tuple(lines)
            self.refresh(layout=True)

    def render(self) -> Content:
        """The lines as content: never markup."""
        parts: list[Content] = []
        for pieces in self.lines:
            styled = [
                Content(text).stylize(look_of(self.app, f"sheet--{role}"))
                if role
                else Content(text)
                for text, role in pieces
            ]
            parts.append(Content("").join(styled) if styled else Content(""))
        return Content("\n").join(parts)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many rows as lines: they are wrapped before they come here."""
        return len(self.lines)

    def get_content_width(self, container: Size, viewport: Size) -> int:
        """The longest line."""
        return max((cells(as_text([pieces])) for pieces in self.lines), default=0)

    def on_click(self, event: events.Click) -> None:
        self.post_message(self.Clicked(self, event.y, event.x))

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        event.stop()
        self.post_message(self.Rolled(3))

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        event.stop()
        self.post_message(self.Rolled(-3))


# The entry line -----------------------------------------------------------------------------------


class Taker(Protocol):
    """What stands behind the entry line."""

    def line(self, text: str) -> Reply:
        """A line was ended with Enter."""

    def key(self, name: str) -> Reply:
        """A key that types nothing was pressed."""

    def typed(self) -> bool:
        """The text in the line has changed; True when the page must be drawn again."""

    def aside(self, count: int, what: str) -> None:
        """So many characters (or lines) of a burst were set aside."""


class Done(Protocol):
    """Who draws the page again."""

    def __call__(self, reply: Reply, later: bool = False) -> None:
        """A key or a line was dealt with; later: more of the same is coming, draw when it pauses."""


class Entry(Widget):
    """One line of typing with its own cursor."""

    COMPONENT_CLASSES = {"entry--cursor"}  # noqa: RUF012
    can_focus = True

    def __init__(self, taker: Taker, done: Done, id: str) -> None:
        """done: told of each reply, so that the page can be drawn again."""
        super().__init__(id=id)
        self.content = Typed()
        self._taker, self._done = taker, done
        self._burst = Burst()
        self._line_end = -1.0
        self.over = False
        """True once the program is leaving: keys that still wait are for nobody."""

    def render(self) -> Content:
        """The part of the line around the cursor."""
        before, under, behind = self.content.window(max(self.size.width, 2))
        cursor = look_of(self, "entry--cursor")
        return Content("").join([Content(before), Content(under).stylize(cursor), Content(behind)])

    def put(self, content: Typed) -> None:
        """Change what stands in the line."""
        if content != self.content:
            self.content = content
            self.refresh()

    async def _on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        self.strike(event)

    def strike(self, event: events.Key) -> None:
        """Deal with one key."""
        if self.over:
            return
        if self._burst.swallows(event.time):
            self._taker.aside(self._burst.count, "character")
            self._done(NOTHING, later=True)
        elif event.key in ("enter", "ctrl+j"):
            self._end_line(event)
        elif event.is_printable and event.character:
            self._type(event.character)
        elif event.key == "tab":
            self._type(" ")
        else:
            self.press(event.key, event.time)

    def _end_line(self, event: events.Key) -> None:
        # A line that was typed elsewhere may end in both carriage return and line feed: that is one
        # line end.
        second = (
            event.key == "ctrl+j"
            and event.time - self._line_end <= BURST_GAP_S
            and not self.content.text
        )
        self._line_end = event.time if event.key == "enter" else -1.0
        if not second:
            self._commit(event.time)

    def _commit(self, at: float) -> Reply:
        text = self.content.text
        self.put(Typed())
        reply = self._taker.line(text)
        if reply.stops_burst:
            self._burst.stop(at)
        self._finish(reply)
        return reply

    def _type(self, text: str) -> None:
        self.put(self.content.insert(text))
        if self._taker.typed():
            self._done(NOTHING)

    def press(self, key: str, at: float = 0.0) -> None:
        """A key that types nothing, struck at a time, s, or clicked with the mouse."""
        self._line_end = -1.0
        if key == "enter":
            self._commit(at)
            return
        changed = self.content.press(key)
        if changed != self.content:
            self.put(changed)
            return
        reply = self._taker.key(key)
        if reply.stops_burst:
            self._burst.stop(at)
        self._finish(reply)

    def _finish(self, reply: Reply) -> None:
        if reply.entry is not None:
            self.put(Typed(reply.entry, len(reply.entry)))
        self.over = reply.quits
        self._done(reply)

    def _on_paste(self, event: events.Paste) -> None:
        event.stop()
        event.prevent_default()
        if self.over:
            return
        if self._burst.swallows(event.time):
            self._taker.aside(len(event.text), "character")
            self._done(NOTHING)
            return
        # Blank lines of a paste are no answers: an empty line would keep a doubt that nobody has
        # read.
        lines = [part for part in event.text.splitlines() if part.strip()]
        if len(lines) < 2 and not event.text.endswith(("\n", "\r")):
            self._type(event.text)
            return
        self._pour(lines, event.time)

    def _pour(self, lines: Sequence[str], at: float) -> None:
        """Line after line, until one is refused: the rest is set aside."""
        for left, part in zip(range(len(lines) - 1, -1, -1), lines, strict=True):
            self.put(self.content.insert(part))
            reply = self._commit(at)
            if reply.stops_burst and left:
                self._taker.aside(left, "line")
                self._done(NOTHING)
            if reply.quits or reply.stops_burst:
                return
