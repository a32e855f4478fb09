"""The same as tomllib for plainly written files, several times as fast; for any other it says so.

A thousand surveys are compared in one go, and every command reads sixty files of content first:
taking apart their text would be the greater part of the work. Known here are headers, `key = value`
on lines of their own, texts, whole and decimal numbers, true and false, times, lists and tables in
braces. Whatever else stands in a file, or stands there twice, is left to tomllib, and so is every
text with an escape in it or with more than one line.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

DEEPEST = 8
"""Names in a header, and brackets in brackets; nothing that is plain goes deeper, and a writer can
follow.
"""
_PLAIN = r'[^"\\\x00-\x1f\x7f]'
_REMARK = r"#[^\x00-\x08\x0a-\x1f\x7f]*+"
_GAP = rf"[ \t\n]*+(?:{_REMARK}\n[ \t\n]*+)*+"
_TOKEN = re.compile(
    rf'{_GAP}(?:(?P<key>[A-Za-z0-9_-]+|"{_PLAIN}+") = )?'
    rf'(?:"(?P<text>{_PLAIN}*)"(?!")'
    r"|(?P<time>\d{4}-\d\d-\d\d[T ]\d\d:\d\d:\d\d)"
    r"|(?P<decimal>-?(?:0|[1-9]\d{0,15})\.\d{1,17})"
    r"|(?P<whole>0|-?[1-9]\d{0,15})"
    r"|(?P<flag>true|false)"
    rf'|(?P<other>"""(?:[^"\\]++|\\[\s\S]|"(?!""))*+"""(?!")|"(?:{_PLAIN}++|\\.)++")'
    r"|(?P<open>[\[{])|(?P<close>[\]}]))",
    re.ASCII,  # only these figures are figures in TOML
)
"""What a line or an entry begins with: its key, if it has one, and its value or a bracket. What may
follow is looked at behind it, so that the first figures of an odd number are not taken for a
number.
"""
_PAIR = rf'([A-Za-z0-9_-]++) = (?:"({_PLAIN}*+)"|(\d{{4}}-\d\d-\d\d[T ]\d\d:\d\d:\d\d))\n'
_PAIRS = re.compile(f"(?:{_PAIR})+", re.ASCII)
_EACH = re.compile(_PAIR, re.ASCII)
"""Lines that are a key with a text or a time and no more, which a survey nearly is: they are taken
together.
"""
_ROW = re.compile(rf"\n*+\[\[([A-Za-z0-9_-]++)\]\]\n((?:{_PAIR})+)", re.ASCII)
"""A row that is nothing but such lines."""
_TEXTS = re.compile(rf'(?:[ \t\n]*+"{_PLAIN}*+"[ \t\n]*+(?:,|(?=\])))*+[ \t\n]*+\]')
"""The rest of a list of nothing but texts, of which authored content is full."""
_HEAD = re.compile(
    rf"\[(?P<row>\[)?(?P<name>[A-Za-z0-9_-]++(?:\.[A-Za-z0-9_-]++){{0,{DEEPEST - 1}}})\](?(row)\])"
)
_ENDED = re.compile(rf"[ \t]*(?:{_REMARK})?(?:\n|\Z)")
_REST = re.compile(rf"{_GAP}(?:{_REMARK})?")
_NEXT = re.compile(rf"{_GAP}(?:,|(?=\]))")
_AFTER = re.compile(r"[ \t]*(?:,|(?=\}))")


class _NotPlain(ValueError):
    """Something that is left to tomllib."""


def parse(text: str) -> dict[str, Any] | None:
    """What tomllib.loads gives for the text, or None where it is not so plain that this reader is sure of it.

    >>> parse('format = 1\\n\\n[[reading]]\\nid = "r1"\\n')
    {'format': 1, 'reading': [{'id': 'r1'}]}
    >>> parse("format = 0x1") is None
    True
    """
    try:
        return _parsed(text)
    except ValueError:  # also a time or an escape that there is not
        return None


def _parsed(text: str) -> dict[str, Any]:
    out: dict[str, Any] = {}
    table, at, made = out, 0, {id(out)}
    while True:
        while row := _ROW.match(text, at):
            table = _new(out, row[1], True, made)
            at = _fill(table, text, row.start(2), row.end())
        match = _TOKEN.match(text, at)
        if match is None:
            break
        key = match["key"]
        if key is None:
            head = _must(_HEAD, text, match.end() - 1)
            table, at = _under(out, head, made), head.end()
            if text.startswith("\n", at) and (pairs := _PAIRS.match(text, at + 1)):
                at = _fill(table, text, at + 1, pairs.end())
                continue
        else:
            at = _put(table, key, match, text)
        at = at + 1 if text.startswith("\n", at) else _must(_ENDED, text, at).end()
    if not _REST.fullmatch(text, at):
        raise _NotPlain
    return out


def _fill(table: dict[str, Any], text: str, at: int, end: int) -> int:
    """Put whole lines into a new table; gives where they end. Raises ValueError."""
    pairs = _EACH.findall(text, at, end)
    for key, said, time in pairs:
        table[key] = datetime.fromisoformat(time) if time else said
    if len(table) < len(pairs):
        raise _NotPlain
    return end


def _must(pattern: re.Pattern[str], text: str, at: int) -> re.Match[str]:
    match = pattern.match(text, at)
    if match is None:
        raise _NotPlain
    return match


def _put(
    table: dict[str, Any], key: str | None, match: re.Match[str], text: str, deep: int = 0
) -> int:
    """Put the value behind a key in its table; gives where the value ends."""
    key = key.strip('"') if key else ""
    if not key or key in table:
        raise _NotPlain
    table[key], at = _value(match, text, deep)
    return at


def _under(out: dict[str, Any], head: re.Match[str], made: set[int]) -> dict[str, Any]:
    """The new table of a header. made: tables and lists of rows that headers made; none but these
    may be added to.
    """
    *above, name = head["name"].split(".")
    table: Any = out
    for one in above:
        table = _into(table.get(one), made)
    return _new(table, name, bool(head["row"]), made)


def _new(table: dict[str, Any], name: str, is_row: bool, made: set[int]) -> dict[str, Any]:
    """A new table of that name, or one more in a list of them."""
    new: dict[str, Any] = {}
    rows = table.get(name)
    if rows is None:
        table[name] = [new] if is_row else new
        made.add(id(table[name]))
    elif is_row and isinstance(rows, list) and id(rows) in made:
        rows.append(new)
    else:
        raise _NotPlain
    made.add(id(new))
    return new


def _into(table: Any, made: set[int]) -> dict[str, Any]:
    """A table that a header goes through: the last row, where it is a list of rows."""
    if isinstance(table, list) and id(table) in made:
        table = table[-1]
    if not isinstance(table, dict) or id(table) not in made:
        raise _NotPlain
    return table


def _value(match: re.Match[str], text: str, deep: int = 0) -> tuple[Any, int]:
    """The value of a token and where it ends.

    Raises ValueError for a time or an escape that there is not.
    """
    kind, at = match.lastgroup or "", match.end()
    if kind == "text":
        return match["text"], at
    if kind == "open" and deep < DEEPEST:
        if text[at - 1] == "[" and (texts := _TEXTS.match(text, at)):
            return texts[0].split('"')[1::2], texts.end()
        return (_list if text[at - 1] == "[" else _braces)(text, at, deep + 1)
    read = _READ.get(kind)
    if read is None:
        raise _NotPlain
    return read(match[kind]), at


_ESCAPES = (("\\n", "\n"), ('\\"', '"'), ("\\t", "\t"), ("\\r", "\r"))


def _escaped(typed: str) -> str:
    """A text with escapes or of several lines. tomllib goes through it letter by letter, which for
    the usual escapes of one line can be spared.
    """
    parts = typed[1:-1].split("\\\\")  # a pair stands for one, and what follows it is no escape
    for said, meant in _ESCAPES:
        parts = [part.replace(said, meant) for part in parts]
    if typed.startswith('"""') or any("\\" in part for part in parts):
        return str(tomllib.loads(f"x = {typed}")["x"])
    return "\\".join(parts)


_READ: Mapping[str, Callable[[str], Any]] = {
    "whole": int,
    "decimal": float,
    "flag": lambda typed: typed == "true",
    "time": datetime.fromisoformat,
    "other": _escaped,
}
"""What reads a value on one line, by the name of its group."""


def _list(text: str, at: int, deep: int) -> tuple[list[Any], int]:
    found: list[Any] = []
    while True:
        match = _must(_TOKEN, text, at)
        if match["key"]:
            raise _NotPlain
        if match["close"] == "]":
            return found, match.end()
        value, at = _value(match, text, deep)
        found.append(value)
        at = at + 1 if text.startswith(",", at) else _must(_NEXT, text, at).end()


def _braces(text: str, at: int, deep: int) -> tuple[dict[str, Any], int]:
    found: dict[str, Any] = {}
    while True:
        match = _must(_TOKEN, text, at)
        if "\n" in match[0]:  # only a list may go over several lines
            raise _NotPlain
        if match["close"] == "}" and not found:
            return found, match.end()
        at = _put(found, match["key"], match, text, deep)
        at = _must(_AFTER, text, at).end()
        if text[at - 1] != ",":
            return found, at + 1
