"""The survey's file: read whole or not at all, written so that a kill at any instant leaves an old or a new file.

The order of a save is: a short-named temporary file in the same folder, write, keep the mode, flush to disk, close,
replace, flush the folder. A flush that fails is never tried again and called a success: the save has failed.
"""

from __future__ import annotations

import contextlib
import errno
import os
import re
import stat
import time
import tomllib
from pathlib import Path

import tomli_w

from wizard.readings.plain import clean_line
from wizard.survey.record import Survey
from wizard.survey.toml import Unreadable, from_toml, to_toml

TOO_LARGE = 4_000_000
"""Bytes above which a file is refused unread."""
SUFFIX = ".ct-tmp"
_WIDE = 101
"""An indent so wide that the writer never folds short rows into one line: every row gets its own [[table]]."""
_NO_FOLDER_SYNC = (errno.EINVAL, errno.ENOTSUP)
"""Network folders that cannot be flushed say so with these; the file itself was flushed."""
_BUSY = (5, 32)
"""Windows: access denied and sharing violation, which pass in a moment when a sync or a scanner holds the file."""


class NotSaved(OSError):
    """A save that failed; the message is one sentence and the old file is whole."""


def load(path: Path) -> Survey:
    """The survey in a file, to go on with. Raises Unreadable with one sentence; nothing is ever written here."""
    return _loaded(path, to_write=True)


def read(path: Path) -> Survey:
    """The survey in a file, to look at only: what could not be written back does not matter. Raises as `load` does."""
    return _loaded(path, to_write=False)


def _loaded(path: Path, to_write: bool) -> Survey:
    name = clean_line(path.name or str(path), 80)
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            raise Unreadable(f"{name} is not a file.")
        if path.stat().st_size > TOO_LARGE:
            raise Unreadable(f"{name} is over 4 MB, which no survey is; it was left unread.")
        survey = from_toml(tomllib.loads(path.read_text(encoding="utf-8-sig")))
        if to_write:
            written(survey)  # what could not be written back must not be answered into
        return survey
    except FileNotFoundError:
        raise Unreadable(f"There is no file {name}.") from None
    except OSError as error:
        raise Unreadable(f"{name} cannot be read: {error.strerror}.") from None
    except UnicodeDecodeError:
        raise Unreadable(f"{name} is not UTF-8 text, so it is not a survey.") from None
    except Unreadable as error:
        raise Unreadable(str(error) if name in str(error) else f"{name}: {error}") from None
    except (ValueError, RecursionError) as error:
        line = "nested too deep" if isinstance(error, RecursionError) else clean_line(str(error), 80)
        raise Unreadable(f"{name} is not a readable survey ({line}); it was left as it is.") from None


def written(survey: Survey) -> str:
    """The text of the survey's file."""
    text = tomli_w.dumps(to_toml(survey), indent=_WIDE)
    # No string of the file holds a raw line end, so a line that begins with such an indent is an array's.
    return re.sub(rf"\n((?: {{{_WIDE}}})+)", lambda m: "\n" + "    " * (len(m[1]) // _WIDE), text)


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


def _write(path: str, data: bytes, mode: int | None) -> None:
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
    with os.fdopen(handle, "wb") as out:
        out.write(data)
        out.flush()
        if mode is not None and hasattr(os, "fchmod"):
            os.fchmod(out.fileno(), mode)
        os.fsync(out.fileno())


def write_atomic(path: Path, data: bytes) -> None:
    """Put `data` in `path` in one step. Raises NotSaved with one sentence; then the old file is untouched.

    When only the flush of the folder fails the new file stands there whole, but a power cut could take it back.
    """
    target = os.path.realpath(path)
    folder = os.path.dirname(target)
    temp = os.path.join(folder, f".{os.getpid()}{SUFFIX}")
    try:
        mode = stat.S_IMODE(os.stat(target).st_mode) if os.path.exists(target) else None
        with contextlib.suppress(FileNotFoundError):
            os.unlink(temp)
        _write(temp, data, mode)
        _replace(temp, target)
        _sync_folder(folder)
    except OSError as error:
        with contextlib.suppress(OSError):
            os.unlink(temp)
        name = clean_line(path.name, 80)
        raise NotSaved(f"Not saved: {name} could not be written ({error.strerror}).") from error


def save(path: Path, survey: Survey) -> None:
    """Write the survey. Raises NotSaved with one sentence."""
    write_atomic(path, written(survey).encode("utf-8"))


def sweep(folder: Path) -> None:
    """Remove temporary files that a killed program left; those of a running program are young and stay."""
    with contextlib.suppress(OSError):
        for path in folder.glob(f".*{SUFFIX}"):
            with contextlib.suppress(OSError):
                if time.time() - path.stat().st_mtime > 3600:
                    path.unlink()
