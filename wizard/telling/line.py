"""One line of the verdict with what it rests on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Line:
    """A sentence or two, and the ids that it can be opened to."""

    text: str
    sources: tuple[str, ...]
    """Ids of findings, looks and answers as they stand; others begin with what they are: `limit:`,
    `step:`, `sign:`, `rule:`, `state:`. Never empty: a line that rests on nothing has no place in a
    verdict.
    """


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and its lines, each a sentence or two."""

    heading: str
    lines: tuple[str, ...]
    sources: tuple[tuple[str, ...], ...] = ()
    """For each line, what it rests on; wizard/telling/opened.py puts that into words."""


def section(heading: str, lines: Iterable[Line]) -> Section:
    """A section of lines that know what they rest on."""
    lines = tuple(lines)
    return Section(heading, tuple(one.text for one in lines), tuple(one.sources for one in lines))
