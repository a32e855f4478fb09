"""A fault of the program itself: one sentence for the person, a few lines in a file for whoever
mends it.
"""

from __future__ import annotations

import os
import stat
import traceback
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from wizard import __version__
from wizard.readings.plain import clean_line
from wizard.sitting.naming import NotNamed, shown_path, survey_folder
from wizard.sitting.reply import Reply

if TYPE_CHECKING:
    from wizard.sitting.sitting import Sitting

LOG = "crosstape-faults.log"
"""Beside the surveys."""
FRAMES, WIDTH, LARGEST = 8, 200, 100_000
"""Places named of one fault, the last ones; characters of a line; bytes above which the file is
begun anew.
"""
_FLAGS = (
    os.O_WRONLY
    | os.O_CREAT
    | os.O_APPEND
    | getattr(os, "O_NOFOLLOW", 0)
    | getattr(os, "O_NONBLOCK", 0)
)


def mishap(error: BaseException, folder: Path | None, kept: Path | None = None) -> str:
    """What is said of a fault nobody foresaw. folder: of the surveys; kept: the file that holds the
    answers.
    """
    said = f"The program made a mistake ({type(error).__name__})."
    said += f" Your answers are kept in {shown_path(kept)}." if kept else ""
    log = _logged(error, folder)
    return f"{said} What happened is written in {shown_path(log)}." if log else said


def taken_all_the_same(error: BaseException, sitting: Sitting) -> Reply:
    """What is said where an answer stands and only what belongs behind it could not be said."""
    log = _logged(error, sitting.folder)
    said = "Your answer is kept. What belongs behind it could not be said: a fault of the program."
    return Reply("taken", f"{said} It is written in {shown_path(log)}." if log else said)


def _logged(error: BaseException, folder: Path | None) -> Path | None:
    """The file that tells of it; None where it cannot be written."""
    try:
        place = folder or survey_folder()
        if not place.is_dir():
            return None
        path = place / LOG
        if path.is_file() and path.stat().st_size > LARGEST:
            path.unlink()
        _append(path, _told(error))
    except (OSError, NotNamed):
        return None
    return path


def _append(path: Path, text: str) -> None:
    handle = os.open(path, _FLAGS, 0o666)
    try:
        if stat.S_ISREG(os.fstat(handle).st_mode):
            os.write(handle, text.encode("utf-8", "replace"))
    finally:
        os.close(handle)


def _told(error: BaseException) -> str:
    """The end of the traceback, without what the variables held: it may be a person's own words."""
    frames = traceback.extract_tb(error.__traceback__)[-FRAMES:]
    lines = [
        f"{datetime.now():%Y-%m-%d %H:%M:%S}  crosstape {__version__}  {type(error).__name__}:"
        f" {error}"
    ]
    lines += [f"    {Path(f.filename).name}:{f.lineno} {f.name}" for f in frames]
    return (
        "\n".join(clean_line(line, WIDTH) if not n else line for n, line in enumerate(lines)) + "\n"
    )
