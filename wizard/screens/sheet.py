"""A widget that shows lines; it knows nothing else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget

from wizard.screens.looks import look_of
from wizard.screens.paper import ROLES, Line, as_text, cells


class Sheet(Widget):
    """Lines of text in their roles. Never focused, so that the entry line keeps the keys."""

    COMPONENT_CLASSES = {f"sheet--{role}" for role in ROLES}  # noqa: RUF012
    can_focus = False

    @dataclass
    class Clicked(Message):
        """A press of the mouse on a line."""

        sheet: Sheet
        row: int
        col: int

        @property
        def control(self) -> Sheet:
            """The sheet that was clicked."""
            return self.sheet

    @dataclass
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
                Content(text).stylize(look_of(self, f"sheet--{role}")) if role else Content(text)
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
