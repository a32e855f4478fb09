"""The file of a survey in hand: locked, and remembered as it was last read or written.

A lock holds back a second wizard, but no editor and no sync folder: so before each save the file must still be, byte
for byte, what this program read or wrote. Times and sizes are not trusted, for both can be kept by a copy.
"""

from __future__ import annotations

import contextlib
from pathlib import Path

from wizard.readings.plain import clean_line
from wizard.survey.file import NotSaved, load_with_bytes, write_atomic, written
from wizard.survey.lock import Held, Lock, take
from wizard.survey.record import Survey
from wizard.survey.toml import Unreadable


class Elsewhere(NotSaved):
    """Nothing was written, because the file is somebody else's now; the message is one sentence with what to do."""


class KeptFile:
    """Writes one survey's file and never over what another has written."""

    def __init__(self, path: Path, known: bytes | None = None) -> None:
        """known: what the file holds; None when there is no file yet."""
        self.path, self._known = path, known
        self._lock: Lock | None = None
        self.gone = False
        """Whether the last save found no file where there had been one, and put it there again."""

    def hold(self) -> None:
        """Take the lock unless it is held already. Raises Held; where there are no locks nothing happens."""
        if self._lock is None:
            self._lock = take(self.path)

    def save(self, survey: Survey) -> None:
        """Write the survey. Raises Elsewhere or NotSaved; either way the file is as it was."""
        try:
            self.hold()
        except Held:
            raise Elsewhere(busy_words(self.path)) from None
        data = written(survey).encode("utf-8")
        try:
            write_atomic(self.path, data, self._check)
        except NotSaved:
            with contextlib.suppress(OSError):  # in place, but the folder's flush failed: still no work of another's
                if self.path.read_bytes() == data:
                    self._known = data
            raise
        self._known = data

    def _check(self) -> None:
        """Raise Elsewhere when the file is not what it was."""
        self.gone = False
        try:
            size = self.path.stat().st_size
            same = self._known is not None and size == len(self._known) and self.path.read_bytes() == self._known
        except FileNotFoundError:
            self.gone = self._known is not None
            return
        if not same:
            raise Elsewhere(changed_words(self.path))

    def release(self) -> None:
        """Let another wizard have it."""
        if self._lock is not None:
            self._lock.release()
            self._lock = None


def opened(path: Path) -> tuple[KeptFile, Survey, bool]:
    """The file, its survey, and whether another wizard has it open. Raises Unreadable with one sentence."""
    kept, busy = KeptFile(path), False
    try:
        kept.hold()  # before reading: what is read after that, no other wizard changes
    except Held:
        busy = True
    try:
        survey, kept._known = load_with_bytes(path)
    except Unreadable:
        kept.release()
        raise
    return kept, survey, busy


def busy_words(path: Path) -> str:
    """What a second wizard is told."""
    name = clean_line(path.name, 80)
    return f"{name} is open in another wizard, so from here it is only read; /copy goes on in a new file."


def changed_words(path: Path) -> str:
    """What is told when an editor, a sync folder or another wizard has written the file meanwhile."""
    name = clean_line(path.name, 80)
    return (
        f"Not saved: {name} was changed by another program since it was opened here; /copy goes on in a new file, "
        "or /quit and open it again to go on from the changed one."
    )


def gone_words(path: Path) -> str:
    """What is told when the file had been moved or deleted: it may stand somewhere else under another name."""
    return f"{clean_line(path.name, 80)} was gone from its folder, so it was written again whole."
