"""The content as it was read and checked last, kept beside the compiled code until any of it changes.

Sixty files would have to be taken apart and checked against each other at each start. What is kept
is plain data and the names of the shapes that it fills (a pickle, which reads it with half the work
of a reader of our own and here makes nothing but those shapes), and goes by the rules that Python
has for compiled code: it lies in the same folder, is written only where compiled code is, and is trusted as
far as that. It is the content's own only while every file of the content, and every file of the code
that reads it, has the place, size, times and number on the disk that it had then. A file that is
rewritten changes at least one of them, whatever date it is given; one that changed within the last
seconds might change again within the same tick of the clock, so nothing is kept of it yet. Whatever
else is wrong with what was kept, the content is read.
"""

from __future__ import annotations

import contextlib
import copyreg
import functools
import io
import marshal
import os
import pickle
import sys
import time
import zlib
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from typing import Any

import wizard
from wizard.frozen import Frozen
from wizard.library import paths, places, shapes, shapes_model, shapes_quantity, shapes_signs
from wizard.library.fields import ContentError
from wizard.library.kinds import AUTHORED, PLACE, Kind
from wizard.library.shapes import Library

Stamp = tuple[object, ...]
"""What the content was read from; equal only where all of it still is the same."""
HEAD = b"crosstape content 2\n"
SETTLED_NS = 4_000_000_000
"""How long a file must have lain still before its stamp says that it is the same: the coarsest clock
of a disk in use counts in steps of two seconds."""
CODE = tuple(paths.PACKAGE / name for name in ("", "library", "readings"))
"""Where the code lies on which it hangs what becomes of the content."""
KINDS = {kind.id: kind for kind in (*AUTHORED.values(), PLACE)}
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


# Plain data, and what it fills
# ------------------------------------------------------------------------------------------------


class _Writer(pickle.Pickler):
    """Writes a shape as its name and its fields, and no more: nothing that it has worked out."""

    def persistent_id(self, value: object) -> str | None:
        return value.id if isinstance(value, Kind) else None

    def reducer_override(self, value: Any) -> Any:
        if not isinstance(value, Frozen):
            return NotImplemented
        kind: Any = type(value)
        said = {f.name: getattr(value, f.name) for f in fields(kind)}
        return copyreg.__newobj__, (kind,), said  # type: ignore[attr-defined]


class _Reader(pickle.Unpickler):
    """Makes nothing but shapes of content, whatever the data asks for."""

    def persistent_load(self, id: str) -> Kind:
        return KINDS[id]

    def find_class(self, module: str, name: str) -> type[Any]:
        kind = SHAPES[name]
        if kind.__module__ != module:
            raise pickle.UnpicklingError(f"{module}.{name} is no shape of content")
        return kind


def _said(library: Library) -> bytes:
    out = io.BytesIO()
    _Writer(out, pickle.HIGHEST_PROTOCOL).dump(library)
    return out.getvalue()


def _made(said: bytes) -> object:
    """What the data says. Raises what pickle does, of whatever kind, where it is not ours."""
    return _Reader(io.BytesIO(said)).load()
