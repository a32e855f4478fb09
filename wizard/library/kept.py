"""The content as it was read and checked last, kept beside the compiled code until any of it changes.

Sixty files would have to be taken apart and checked against each other at each start. What is kept
is plain data and the names of the shapes that it fills, and goes by the rules that Python has for
compiled code: it lies in the same folder, is written only where compiled code is, and is trusted as
far as that. It is the content's own only while every file of the content, and every file of the code
that reads it, has the place, size, times and number on the disk that it had then. A file that is
rewritten changes at least one of them, whatever date it is given; one that changed within the last
seconds might change again within the same tick of the clock, so nothing is kept of it yet. Whatever
else is wrong with what was kept, the content is read.
"""

from __future__ import annotations

import contextlib
import functools
import marshal
import os
import sys
import time
import zlib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import fields, is_dataclass
from enum import Enum
from itertools import chain
from pathlib import Path
from typing import Any

import wizard
from wizard.library import paths, places, shapes, shapes_model, shapes_quantity, shapes_signs
from wizard.library.fields import ContentError
from wizard.library.kinds import AUTHORED, PLACE, Kind
from wizard.library.shapes import Library

Stamp = tuple[object, ...]
"""What the content was read from; equal only where all of it still is the same."""
HEAD = b"crosstape content 1\n"
SETTLED_NS = 4_000_000_000
"""How long a file must have lain still before its stamp says that it is the same: the coarsest clock
of a disk in use counts in steps of two seconds."""
CODE = tuple(paths.PACKAGE / name for name in ("", "library", "readings"))
"""Where the code lies on which it hangs what becomes of the content."""
KINDS = {kind.id: kind for kind in (*AUTHORED.values(), PLACE)}
PLAIN = frozenset((str, int, float, bool, type(None)))
HOLDERS = frozenset((tuple, frozenset, dict))
SHAPES: dict[str, type[Any]] = {
    name: kind
    for module in (places, shapes, shapes_model, shapes_quantity, shapes_signs)
    for name, kind in vars(module).items()
    if isinstance(kind, type) and kind.__module__ == module.__name__
}
"""What may be filled with what was kept: nothing else is ever made of it."""


@functools.cache
def load_library(layout: str = "") -> Library:
    """The program's own content. Raises ContentError with every fault.

    layout: of one survey that is only told of, its kind of frame; where the content must be read
    and cannot be kept, the prompts of the others are not looked at.
    """
    return library_of(paths.content_dir(), place_of_kept(), layout)


def place_of_kept() -> Path | None:
    """The file beside this module's compiled code; None where Python has no place for that."""
    compiled = __spec__.cached
    return Path(compiled).with_suffix(".content") if compiled else None


def library_of(folder: Path, place: Path | None, layout: str = "") -> Library:
    """The content of a folder: as kept, where that still is what would be read."""
    stamp = stamp_of(folder)
    library = _kept(place, stamp)
    if library is not None:
        return library
    from wizard.library.load import read_content

    keeps = _may_keep(place)
    library, faults = read_content(folder, "" if keeps else layout)
    if faults:
        raise ContentError(faults)
    if place and keeps and stamp and stamp == stamp_of(folder) and _settled(stamp):
        _keep(place, stamp, library)
    return library


def _may_keep(place: Path | None) -> bool:
    """Whether anything can be written there, and code that was compiled would be."""
    if place is None or sys.dont_write_bytecode:
        return False
    with contextlib.suppress(OSError):
        place.parent.mkdir(parents=True, exist_ok=True)
    return os.access(place.parent, os.W_OK)


# Whether it still is the same
# ------------------------------------------------------------------------------------------------


def stamp_of(folder: Path) -> Stamp | None:
    """Of everything in the folder and of the code that reads it; None where one cannot be looked at."""
    try:
        files = (*_files(str(folder)), *(f for code in CODE for f in _files(str(code), deep=False)))
    except OSError:
        return None
    return (wizard.__version__, sys.version, str(folder), *files)


def _files(folder: str, deep: bool = True) -> Iterator[tuple[str, int, int, int, int]]:
    """Name, size, number, and the times of the last change to what each file holds and to itself."""
    with os.scandir(folder) as found:
        entries = sorted(found, key=lambda entry: entry.name)
    for entry in entries:
        if entry.is_dir():
            if deep:
                yield from _files(entry.path)
            continue
        at = os.stat(entry.path)
        yield entry.path, at.st_size, at.st_ino, at.st_mtime_ns, at.st_ctime_ns


def _settled(stamp: Stamp) -> bool:
    """Whether every file has lain still for so long that no change could hide in its times."""
    latest: int = max(max(file[3:]) for file in stamp if isinstance(file, tuple))
    return latest < time.time_ns() - SETTLED_NS


# The file
# ------------------------------------------------------------------------------------------------


def _kept(place: Path | None, stamp: Stamp | None) -> Library | None:
    """None where nothing is kept, or not of this, or not whole."""
    if place is None or stamp is None:
        return None
    try:
        data = place.read_bytes()
        checked, body = data[: len(HEAD) + 4], memoryview(data)[len(HEAD) + 4 :]
        if checked != HEAD + zlib.crc32(body).to_bytes(4, "big"):
            return None
        of, said = marshal.loads(body)
        library = _made(said) if of == stamp else None
    except Exception:  # what cannot be used is not there
        return None
    return library if isinstance(library, Library) else None


def _keep(place: Path, stamp: Stamp, library: Library) -> None:
    """Whole or not at all; where it cannot be, it is read again the next time."""
    said = _said(library)
    if _made(said) != library:
        return
    body = marshal.dumps([stamp, said])
    new = place.with_suffix(f".{os.getpid()}")
    try:
        new.write_bytes(HEAD + zlib.crc32(body).to_bytes(4, "big") + body)
        os.replace(new, place)
    except OSError:
        with contextlib.suppress(OSError):
            new.unlink()


# Plain data, and what it fills. A list is a shape, with what it is filled with behind its name
# ------------------------------------------------------------------------------------------------


def _said(value: Any) -> Any:
    """As plain data. Raises KeyError for what has no shape here."""
    kind = type(value)
    if kind in PLAIN:
        return value
    name, parts = _parts(value, kind)
    said = list(map(_said, parts))
    return value if kind in HOLDERS and list not in map(type, said) else [name, *said]


def _parts(value: Any, kind: type[Any]) -> tuple[str, Iterable[Any]]:
    """The name of the shape, and what it is filled with."""
    if isinstance(value, Kind):
        return "kind", (value.id,)
    if isinstance(value, Enum):
        return kind.__name__, (value.value,)
    if kind in HOLDERS:
        return kind.__name__, chain.from_iterable(value.items()) if kind is dict else value
    assert SHAPES[kind.__name__] is kind
    return kind.__name__, (getattr(value, name) for name in _asked(kind))


def _asked(kind: type[Any]) -> tuple[str, ...]:
    """What a shape is filled with, in order."""
    if is_dataclass(kind):
        return tuple(f.name for f in fields(kind) if f.init)
    names: tuple[str, ...] = kind._fields
    return names


def _made(said: Any) -> Any:
    """What plain data says."""
    if type(said) is not list:
        return said
    name, *parts = said
    return MAKERS[name](*(_made(part) if type(part) is list else part for part in parts))


MAKERS: dict[str, Callable[..., Any]] = {
    **SHAPES,
    "kind": KINDS.__getitem__,
    "tuple": lambda *parts: parts,
    "frozenset": lambda *parts: frozenset(parts),
    "dict": lambda *parts: dict(zip(parts[::2], parts[1::2], strict=True)),
}
