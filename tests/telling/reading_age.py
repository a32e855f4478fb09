"""The Automated Readability Index, and which lines of a verdict it is taken over.

Source: Smith and Senter, Automated Readability Index (AMRL-TR-66-220, 1967), formula from memory:
4.71 characters per word + 0.5 words per sentence - 21.43; 7 is about the age of twelve to thirteen.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

FIGURES = ("The strongest reasons", "What cannot be told yet", "Do the readings agree?")
"""Sections that say numbers with their doubt and their limit; lists of page titles are no prose
either.
"""
LISTS = ("What was not seen or not measured",)


def ari(text: str) -> float:
    """The index of a text."""
    words = re.findall(r"[\w'’-]+", text)
    letters = sum(len(re.sub(r"\W", "", w)) for w in words)
    sentences = max(1, len(re.findall(r"[.!?](?=\s|$)", text)))
    return 4.71 * letters / len(words) + 0.5 * len(words) / sentences - 21.43


def prose(headed: Iterable[tuple[str, Iterable[str]]]) -> str:
    """The lines that are prose: no lists, no lines of figures."""
    lines = [
        line for heading, lines in headed if heading not in (*FIGURES, *LISTS) for line in lines
    ]
    return " ".join(line for line in lines if not re.search(r"\d", line))
