"""The same as tomllib for the plain files that the program writes, several times as fast; for any other it says so.

A thousand surveys are compared in one go, and taking apart their text is the greater part of the work. Only lines of
`[survey]`, `[[table]]` and `key = "text"`, a time or a whole number are known here; whatever else stands in a file, or
stands there twice, is left to tomllib.
"""

from __future__ import annotations

import re
import tomllib
from datetime import datetime
from typing import Any

_LINE = re.compile(
    r"(?P<key>[A-Za-z0-9_-]+) = "
    r'(?:"(?P<text>[^"\\\x00-\x1f\x7f]*)"'
    r"|(?P<time>\d{4}-\d\d-\d\d[T ]\d\d:\d\d:\d\d)"
    r"|(?P<whole>0|-?[1-9]\d{0,15})"
    r'|(?P<escaped>"(?:[^"\\\x00-\x1f\x7f]|\\.)*"))'
)
_ROW = re.compile(r"\[\[([A-Za-z0-9_-]+)\]\]")
_TABLE = re.compile(r"\[([A-Za-z0-9_-]+)\]")


def parse(text: str) -> dict[str, Any] | None:
    """What tomllib.loads gives for the text, or None where it is not as plain as the program writes it.

    >>> parse('format = 1\\n\\n[[reading]]\\nid = "r1"\\n')
    {'format': 1, 'reading': [{'id': 'r1'}]}
    >>> parse("format = 0x1") is None
    True
    """
    out: dict[str, Any] = {}
    table = out
    rows: set[str] = set()
    for line in text.split("\n"):
        if not line:
            continue
        match = _LINE.fullmatch(line)
        if match is not None:
            key = match["key"]
            if key in table:
                return None
            try:
                table[key] = _value(match)
            except ValueError:
                return None
            continue
        head = _ROW.fullmatch(line)
        if head is not None:
            if head[1] in out and head[1] not in rows:
                return None
            rows.add(head[1])
            table = {}
            out.setdefault(head[1], []).append(table)
            continue
        head = _TABLE.fullmatch(line)
        if head is None or head[1] in out:
            return None
        table = out[head[1]] = {}
    return out


def _value(match: re.Match[str]) -> Any:
    """The value of a line. Raises ValueError for a time or an escape that there is not."""
    text = match["text"]
    if text is not None:
        return text
    if match["time"]:
        return datetime.fromisoformat(match["time"])
    if match["whole"]:
        return int(match["whole"])
    return tomllib.loads(f"x = {match['escaped']}")["x"]
