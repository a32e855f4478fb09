"""Text from a person or a file, made safe before it is kept or shown."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache


@cache
def pattern(text: str) -> re.Pattern[str]:
    """What `re.compile` makes of it, made when it is first asked for: compiling what few surveys need
    would take a twentieth of the time in which one is told.
    """
    return re.compile(text)


# A tab or a line end parts two words: it becomes a space, so that they do not run together.
_PARTING = "\r\n|[\t-\r\x85\u2028\u2029]"

# What can drive a terminal or hide text: C0, DEL, C1, bidi controls, zero-width marks, interlinear
# and tag
# characters. Lone surrogates go too, since they cannot be saved as UTF-8.
_UNSAFE = (
    "[\x00-\x1f\x7f-\x9f\u061c\u200b-\u200f\u202a-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb"
    "\ud800-\udfff\U000e0000-\U000e007f]"
)


def clean(text: str) -> str:
    """The text without controls, bidi marks and invisible characters; tabs and line ends become a space.

    >>> clean("rail\\x1b[31m red")
    'rail[31m red'
    """
    if text.isascii() and text.isprintable():
        return text
    return pattern(_UNSAFE).sub("", pattern(_PARTING).sub(" ", text))


def clean_line(text: str, limit: int = 500) -> str:
    """One line of at most `limit` characters, white space folded; a cut line ends in an ellipsis.

    >>> clean_line("  left\\n  horn ")
    'left horn'
    >>> clean_line("a long remark", limit=7)
    'a long…'
    """
    line = " ".join(clean(text).split())
    return line if len(line) <= limit else line[: limit - 1].rstrip() + "…"


def and_(words: Sequence[str]) -> str:
    """`front, center and rear`."""
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))
