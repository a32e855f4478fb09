"""The file of a survey in hand: locked, and remembered as it was last read or written.

A lock holds back a second wizard, but no editor and no sync folder: so before each save the file
must still be, byte for byte, what this program read or wrote. Times and sizes are not trusted, for
both can be kept by a copy.
"""

from __future__ import annotations

import contextlib
import stat
from pathlib import Path

from wizard.readings.plain import clean_line
from wizard.survey.file import NotSaved, Texts, data_of, load_with_bytes, write_atomic
from wizard.survey.lock import Held, Lock, take
from wizard.survey.record import Survey
from wizard.survey.toml import Unreadable

SAME, GONE, EMPTIED, CHANGED = "same", "gone", "emptied", "changed"
"""What may have become of a file."""


class Elsewhere(NotSaved):
    """Nothing was written, because the file is somebody else's now; the message is one sentence
    with what to do.
    """


class KeptFile:
    """Writes one survey's file and never over what another has written."""

    def __init__(self, path: Path, known: bytes | None = None) -> None:
        """known: what the file holds; None when there is no file yet."""
        self.path, self._known = path, known
        self._texts = Texts()
        self._lock: Lock | None = None
        self.gone = ""
        """`gone` or `emptied` where the last save found no file, or nothing in it, and put it there
        again.
        """

    def hold(self) -> None:
        """Take the lock unless it is held already.

        Raises Held; where there are no locks nothing happens.
        """
        if self._lock is None:
            self._lock = take(self.path)

    def save(self, survey: Survey) -> None:
        """Write the survey. Raises Elsewhere or NotSaved; either way the file is as it was."""
        try:
            self.hold()
        except Held:
            raise Elsewhere(busy_words(self.path)) from None
        data = data_of(survey, self._texts)
        try:
            write_atomic(self.path, data, self._check)
        except NotSaved:
            with contextlib.suppress(
                OSError
            ):  # in place, but the folder's flush failed: still no work of another's
                if self.path.is_file() and self.path.read_bytes() == data:
                    self._known = data
            raise
        self._known = data

    def stands(self) -> str:
        """What has become of the file since it was read or written here: same, gone, emptied or
        changed.

        Raises OSError where it cannot be looked at.
        """
        try:
            found = self.path.stat()
            if not stat.S_ISREG(found.st_mode):  # a pipe would be waited for
                return CHANGED
            if found.st_size == 0:
                return EMPTIED
            same = self._known is not None and found.st_size == len(self._known)
            return SAME if same and self.path.read_bytes() == self._known else CHANGED
        except FileNotFoundError:
            return GONE

    def _check(self) -> None:
        """Raise Elsewhere when the file is not what it was."""
        self.gone, state = "", self.stands()
        if state == CHANGED or (state == EMPTIED and self._known is None):
            raise Elsewhere(changed_words(self.path))
        if state in (GONE, EMPTIED) and self._known is not None:
            self.gone = state

    def release(self) -> None:
        """Let another wizard have it."""
        if self._lock is not None:
            self._lock.release()
            self._lock = None


def opened(path: Path) -> tuple[KeptFile, Survey, bool]:
    """The file, its survey, and whether another wizard has it open.

    Raises Unreadable with one sentence.
    """
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
    return (
        f"{name} is open in another window, so nothing can be saved here. To go on in a new file,"
        " type /copy."
    )


def changed_words(path: Path) -> str:
    """What is told when an editor, a sync folder or another wizard has written the file meanwhile."""
    name = clean_line(path.name, 80)
    return (
        f"Not saved: another program has changed {name}. To go on in a new file, type /copy; to go"
        " on with the changed one, type /quit and open it again."
    )


def gone_words(path: Path, how: str = GONE) -> str:
    """What is told when the file had been moved, deleted (it may stand elsewhere under another
    name) or emptied.
    """
    what = "was gone from its folder" if how == GONE else "had been emptied by another program"
    return f"{clean_line(path.name, 80)} {what}, so it was written again whole."
