"""The mentor's view as a page: the drawing, then part after part."""

from __future__ import annotations

from collections.abc import Sequence

from wizard.screens.paper import BLANK, Line, drawn, line, wrap
from wizard.screens.step_page import Draw

HEIGHT = 6
"""Rows of the drawing: the parts below it matter more here."""


def mentor_lines(
    title: str, parts: Sequence[tuple[str, tuple[str, ...]]], draw: Draw, width: int
) -> list[Line]:
    """The whole page; what does not fit is scrolled to."""
    lines = [line(f"{title}: the mentor's view", "title")]
    first, *rest = parts
    lines += _part(*first, width)
    lines += drawn(draw(width, HEIGHT))
    for heading, said in rest:
        lines += [BLANK, *_part(heading, said, width)]
    return lines


def _part(heading: str, said: tuple[str, ...], width: int) -> list[Line]:
    lines = [line(heading, "strong")]
    for text in said:
        bare = text.lstrip()
        indent = " " * (2 + len(text) - len(bare))
        lines += wrap(
            bare, width, "dim" if len(indent) > 2 else "", first=indent, rest=indent + "    "
        )
    return lines
