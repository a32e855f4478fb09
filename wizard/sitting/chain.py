"""The surveys of one folder and which follows which: names at once, from the head of each file."""

from __future__ import annotations

import os
import re
import stat
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from wizard.frozen import Frozen
from wizard.library.paths import samples_dir
from wizard.readings.plain import clean_line

if TYPE_CHECKING:
    from wizard.survey.record import Survey
    from wizard.survey.toml import Unreadable

HEAD = 2048
"""Bytes read for a name: the program writes [survey] within the first few hundred."""
LONGEST = 200
"""Bytes of an id that may be a file's name; no system takes many more."""
_TABLE = re.compile(rb"^\[survey\][^\S\n]*\r?$(.*?)(?=^\[|\Z)", re.MULTILINE | re.DOTALL)
_KEY = re.compile(rb"^(id|car|started|follows)[^\S\n]*=[^\S\n]*(.*?)[^\S\n]*\r?$", re.MULTILINE)
_PLAIN = re.compile(rb'"([^"\\]*)"|(\d{4}-\d\d-\d\d[T ]?[\d:]*)')


class Head(Frozen):
    """What the head of a survey's file says."""

    path: Path
    id: str
    """The survey's id; the file's name where its head has none."""
    car: str = ""
    started: str = ""
    """As the file has it: sorts by time."""
    follows: str = ""
    sure: bool = True
    """False where the head could not be made out and the file's name stands in; the whole file may
    still be read.
    """

    @property
    def name(self) -> str:
        """What to call it in a list."""
        return clean_line(self.car, 60) or clean_line(self.id, 60)


def heads(folder: Path) -> tuple[Head, ...]:
    """The names of every survey of a folder, the newest first by their own date.

    Nothing is read but the heads.
    """
    try:
        with os.scandir(folder) as entries:
            names = [
                e.path for e in entries if e.name.endswith(".toml") and not e.name.startswith(".")
            ]
    except OSError:
        return ()
    return tuple(sorted(map(head_of, names), key=lambda h: (h.started, h.id), reverse=True))


def head_of(name: str) -> Head:
    """One file's head; never refuses."""
    path = Path(name)
    try:
        # A pipe of that name would be waited for for ever.
        with open(
            os.open(name, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0)), "rb", buffering=0
        ) as file:
            plain = stat.S_ISREG(os.fstat(file.fileno()).st_mode)
            table = _TABLE.search(file.read(HEAD)) if plain else None
    except OSError:
        table = None
    if table is None:
        return Head(path, path.stem, sure=False)
    values = {key.decode(): _value(text) for key, text in _KEY.findall(table[1])}
    started = values.get("started", "").replace("T", " ")
    return Head(
        path,
        values.get("id") or path.stem,
        values.get("car", ""),
        started,
        values.get("follows", ""),
    )


def _value(text: bytes) -> str:
    """A TOML string or time as text; empty for what is neither."""
    plain = _PLAIN.fullmatch(text)
    if plain is not None:
        return (plain[1] if plain[1] is not None else plain[2]).decode("utf-8", "replace")
    import tomllib  # for names that are not plainly written

    try:
        return str(tomllib.loads(f"x = {text.decode('utf-8')}")["x"])
    except (ValueError, RecursionError):
        return ""


def chain_of(found: Sequence[Head], id: str) -> tuple[Head, ...]:
    """Every survey of one frame that hangs together with this one by `follows`, the oldest first.

    found: heads of one folder. Empty where the folder has none of that id. Where a file was copied,
    the one whose name is its id counts.
    """
    by_id = _by_id(found)
    later: dict[str, list[str]] = {}
    for head in by_id.values():
        later.setdefault(head.follows, []).append(head.id)
    here, seen = id, set()
    while here in by_id and here not in seen:  # back to the first; a ring of files is walked once
        seen.add(here)
        here = by_id[here].follows
    reached: set[str] = set()
    wanted = list(seen)
    while wanted:
        one = wanted.pop()
        if one and one in by_id and one not in reached:
            reached.add(one)
            wanted += later.get(one, [])
    return tuple(sorted((by_id[i] for i in reached), key=lambda h: (h.started, h.id)))


def _by_id(found: Sequence[Head]) -> dict[str, Head]:
    """The head of each survey; of a copied file the one whose name is its id."""
    by_id: dict[str, Head] = {}
    for head in found:
        if head.id not in by_id or head.path.stem == head.id:
            by_id[head.id] = head
    return by_id


def whole(found: Sequence[Head]) -> Iterator[tuple[Head, Survey | Unreadable]]:
    """Each survey as it is read, or why it cannot be: one broken file stops nothing."""
    from wizard.survey.file import read
    from wizard.survey.toml import Unreadable

    for head in found:
        try:
            yield head, read(head.path)
        except Unreadable as error:
            yield head, error


def find(folder: Path, id: str) -> Survey | None:
    """The survey of an id in a folder, None where it is not there or cannot be read; by its file's
    name first.
    """
    from wizard.survey.file import read
    from wizard.survey.toml import Unreadable

    if not id:
        return None
    named = folder / f"{id}.toml"
    if (
        len(id.encode("utf-8", "replace")) <= LONGEST
        and id == Path(id).name
        and named.is_file()
        and head_of(str(named)).id == id
    ):
        paths = [named]
    else:
        paths = [h.path for h in heads(folder) if h.id == id]
    for path in paths:
        try:
            return read(path)
        except Unreadable:
            continue
    return None


def earlier_of(survey: Survey, folder: Path) -> Survey | None:
    """The survey that this one follows: in its folder, else among the samples; None where it is
    gone.
    """
    if not survey.follows:
        return None
    try:
        return find(folder, survey.follows) or find(samples_dir(), survey.follows)
    except FileNotFoundError:
        return None
