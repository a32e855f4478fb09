"""The survey's file: read whole or not at all, written so that a kill at any instant leaves an old
or a new file.

The order of a save is: a short-named temporary file in the same folder, write, keep the mode, flush
to disk, close, replace, flush the folder. A flush that fails is never tried again and called a
success: the save has failed.
"""

from __future__ import annotations

import contextlib
import errno
import io
import os
import re
import stat
import sys
import time
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import replace
from itertools import chain
from pathlib import Path
from typing import Any

from wizard.library import quick
from wizard.readings.plain import clean_line
from wizard.survey.record import Survey
from wizard.survey.rows import TABLES, Row
from wizard.survey.toml import Unreadable, from_toml, plain, to_toml

TOO_LARGE = 4_000_000
"""Bytes above which a file is refused unread."""
SUFFIX = ".ct-tmp"
_WIDE = 101
"""An indent so wide that the writer never folds short rows into one line: every row gets its own
[[table]].
"""
_NO_FOLDER_SYNC = (errno.EINVAL, errno.ENOTSUP)
"""Network folders that cannot be flushed say so with these; the file itself was flushed."""
_BUSY = (5, 32)
"""Windows: access denied and sharing violation, which pass in a moment when a sync or a scanner
holds the file.
"""


class NotSaved(OSError):
    """A save that failed; the message is one sentence and the old file is whole."""


def why(error: BaseException) -> str:
    """The system's own words for a fault, also for one that led to another."""
    while error.__cause__ is not None:
        error = error.__cause__
    return getattr(error, "strerror", None) or type(error).__name__


def load(path: Path) -> Survey:
    """The survey in a file, to go on with.

    Raises Unreadable with one sentence; nothing is ever written here.
    """
    return _loaded(path, to_write=True)[0]


def load_with_bytes(path: Path) -> tuple[Survey, bytes]:
    """As `load`, with the file's bytes as they were read, to know later whether it is still the
    same.
    """
    return _loaded(path, to_write=True)


def read(path: Path) -> Survey:
    """The survey in a file, to look at only: what could not be written back does not matter.

    Raises as `load` does.
    """
    return _loaded(path, to_write=False)[0]


def _loaded(path: Path, to_write: bool) -> tuple[Survey, bytes]:
    name = clean_line(path.name or str(path), 80)
    try:
        data = _small_file(path, name)
        return _survey_in(data, to_write), data
    except FileNotFoundError:
        raise Unreadable(f"There is no file {name}.") from None
    except OSError as error:
        raise Unreadable(f"{name} cannot be read: {error.strerror}.") from None
    except UnicodeDecodeError:
        raise Unreadable(f"{name} is not plain text (UTF-8), so it is not a survey.") from None
    except Unreadable as error:
        raise Unreadable(str(error) if name in str(error) else f"{name}: {error}") from None
    except (ValueError, RecursionError) as error:
        line = (
            "nested too deep" if isinstance(error, RecursionError) else clean_line(str(error), 80)
        )
        raise Unreadable(
            f"{name} cannot be read as a survey ({line}), so it was left as it is."
        ) from None


def _small_file(path: Path, name: str) -> bytes:
    """The bytes of a file that may be a survey: an ordinary one, and no larger than a survey is."""
    if not stat.S_ISREG(path.stat().st_mode):
        raise Unreadable(f"{name} is not a file.")
    data = b"" if path.stat().st_size > TOO_LARGE else _bytes(path)
    if len(data) > TOO_LARGE or path.stat().st_size > TOO_LARGE:
        raise Unreadable(f"{name} is over 4 MB, too large for a survey, so it was left unread.")
    return data


def _survey_in(data: bytes, to_write: bool) -> Survey:
    """The survey that a file's bytes hold, with line ends of every system."""
    text = io.TextIOWrapper(io.BytesIO(data), encoding="utf-8-sig").read()
    plain = quick.parse(text)
    survey = from_toml(tomllib.loads(text) if plain is None else plain)
    # What could not be written back must not be answered into; what is plain always can.
    if to_write and plain is None:
        written(survey)
    return survey


def _bytes(path: Path) -> bytes:
    """The whole file, and no more than is allowed of one that grows while it is read."""
    with path.open("rb") as file:
        return file.read(TOO_LARGE + 1)


class Texts:
    """The text of a survey's file, save after save: a row that stands as it stood is not written
    out anew.
    """

    def __init__(self) -> None:
        self._made: dict[str, tuple[tuple[Row, ...], tuple[str, ...]]] = {}
        """Of each table the rows last written, and the text of each."""

    def of(self, survey: Survey) -> str:
        """The whole text."""
        if survey.extra:  # what another program added may stand anywhere: the writer knows where
            return _dumps(to_toml(survey))
        head = _dumps(to_toml(replace(survey, rows={})))
        return "\n".join([head, *chain.from_iterable(self._table(survey, n) for n in TABLES)])

    def _table(self, survey: Survey, name: str) -> tuple[str, ...]:
        rows = survey.rows.get(name, ())
        old, known = self._made.get(name, ((), ()))
        if rows is old:
            return known
        if rows[: len(old)] != old:
            still = dict(zip(map(id, old), known, strict=True))
            known = tuple([still.get(id(row)) or _text(name, row) for row in rows])
        else:  # rows were added, if any
            known += tuple([_text(name, row) for row in rows[len(old) :]])
        self._made[name] = rows, known
        return known


def _text(name: str, row: Row) -> str:
    return _dumps({name: [plain(row)]})


def _dumps(tables: Mapping[str, Any]) -> str:
    import tomli_w  # what only tells writes none

    text = tomli_w.dumps(tables, indent=_WIDE)
    # No string of the file holds a raw line end, so a line that begins with such an indent is an
    # array's.
    return re.sub(rf"\n((?: {{{_WIDE}}})+)", lambda m: "\n" + "    " * (len(m[1]) // _WIDE), text)


def written(survey: Survey) -> str:
    """The text of the survey's file."""
    return Texts().of(survey)


def _replace(temp: str, target: str) -> None:
    """os.replace, with a bounded patience for Windows."""
    for attempt in range(20):
        try:
            os.replace(temp, target)
            return
        except PermissionError as error:
            if getattr(error, "winerror", None) not in _BUSY or attempt == 19:
                raise
            time.sleep(0.05)


def _sync_folder(folder: str) -> None:
    """Flush the folder's entry, where the system lets a folder be opened."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno not in _NO_FOLDER_SYNC:
            raise
    finally:
        os.close(handle)


def _out_of_the_drive(handle: int) -> None:
    """On macOS a flush ends in the drive's own memory, and this goes on from there (man 2 fsync).

    A folder over a network may not know it: then the flush was all that there is.
    """
    if sys.platform == "darwin":
        import fcntl

        with contextlib.suppress(OSError):
            fcntl.fcntl(handle, fcntl.F_FULLFSYNC)


def _write(path: str, data: bytes, mode: int | None) -> None:
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
    with os.fdopen(handle, "wb") as out:
        out.write(data)
        out.flush()
        if mode is not None and hasattr(os, "fchmod"):
            os.fchmod(out.fileno(), mode)
        os.fsync(out.fileno())
        _out_of_the_drive(out.fileno())


def write_atomic(path: Path, data: bytes, check: Callable[[], None] | None = None) -> None:
    """Put `data` in `path` in one step. Raises NotSaved with one sentence; then the old file is
    untouched.

    check: called last before the old file is replaced; what it raises stops the save. When only the
    flush of the folder fails the new file stands there whole, but a power cut could take it back.
    """
    target = os.path.realpath(path)
    folder = os.path.dirname(target)
    temp = os.path.join(folder, f".{os.getpid()}{SUFFIX}")
    try:
        mode = stat.S_IMODE(os.stat(target).st_mode) if os.path.exists(target) else None
        with contextlib.suppress(FileNotFoundError):
            os.unlink(temp)
        _write(temp, data, mode)
        if check is not None:
            check()
        _replace(temp, target)
        _sync_folder(folder)
    except OSError as error:
        with contextlib.suppress(OSError):
            os.unlink(temp)
        if isinstance(error, NotSaved):
            raise
        name = clean_line(path.name, 80)
        raise NotSaved(f"Not saved: {name} could not be written ({error.strerror}).") from error


def make_folder(path: Path) -> None:
    """The folder, and those above it that are lacking, each flushed into the one that holds it.

    Raises OSError.
    """
    lacking = [p for p in (path, *path.parents) if not p.exists()]
    path.mkdir(parents=True, exist_ok=True)
    for made in lacking:
        _sync_folder(str(made.parent))


def data_of(survey: Survey, texts: Texts | None = None) -> bytes:
    """The bytes of the survey's file. Raises NotSaved for more than can be read again.

    texts: what was written of it before.
    """
    data = (texts or Texts()).of(survey).encode("utf-8")
    if len(data) > TOO_LARGE:
        raise NotSaved("Not saved: the survey would be over 4 MB, too large to be opened again.")
    return data


def save(path: Path, survey: Survey) -> None:
    """Write the survey. Raises NotSaved with one sentence."""
    write_atomic(path, data_of(survey))


def sweep(folder: Path) -> None:
    """Remove temporary files that a killed program left; those of a running program are young and
    stay.
    """
    with contextlib.suppress(OSError):
        for path in folder.glob(f".*{SUFFIX}"):
            with contextlib.suppress(OSError):
                if time.time() - path.stat().st_mtime > 3600:
                    path.unlink()
