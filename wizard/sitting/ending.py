"""The end of a sitting: what is true of the file just then.

Only this says `saved`, and only of a file it has seen.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from wizard.readings.plain import clean_line
from wizard.sitting.aside import keep_view
from wizard.sitting.naming import shown_path
from wizard.sitting.sitting import Sitting
from wizard.survey.file import load
from wizard.survey.kept import CHANGED, SAME, KeptFile
from wizard.survey.rows import Row
from wizard.survey.toml import Unreadable


@dataclass(frozen=True, slots=True)
class Ending:
    """What is said last."""

    says: str
    """One or two sentences."""
    trouble: bool = False
    """Whether the file was not what this sitting had left, so that it must be said in any case."""
    saved: bool = False
    """Whether something of this sitting is in the file."""


def ending(sitting: Sitting) -> Ending:
    """See to the file and say how it stands: what is in memory is written again where the file is
    gone or empty.

    Where another program has written there, what it left out goes into a copy. May be asked more
    than once.
    """
    kept = sitting.kept
    if kept is None:
        return Ending("You wrote nothing down yet.")
    if sitting.busy:
        return Ending(f"Nothing was saved from here: {sitting.busy}")
    keep_view(kept.path, sitting.aside.mentor)  # it may have had no file yet when it was turned on
    try:
        state = kept.stands()
    except OSError as error:
        why = error.strerror or "no reason given"
        return Ending(
            f"{shown_path(kept.path)} cannot be read ({why}). Open it once to see that it is whole.",
            trouble=True,
        )
    if state == SAME:
        return _as_left(sitting, kept)
    return _changed(sitting, kept) if state == CHANGED else _written_again(sitting, kept)


def _as_left(sitting: Sitting, kept: KeptFile) -> Ending:
    name = shown_path(kept.path)
    if sitting.wrote:
        return Ending(f"Saved in {name}.", saved=True)
    return Ending(f"You wrote down nothing new. {name} is as it was.")


def _written_again(sitting: Sitting, kept: KeptFile) -> Ending:
    """The file is gone, or there is nothing in it."""
    failed = sitting.change(sitting.survey)
    if failed is None:
        news, sitting.news = sitting.news, ""
        return Ending(f"{news} Saved in {shown_path(kept.path)}.".strip(), trouble=True, saved=True)
    return _in_copy(
        sitting, f"{clean_line(kept.path.name, 80)} is gone and could not be written again."
    )


def _changed(sitting: Sitting, kept: KeptFile) -> Ending:
    """Another program has written the file: it is left as it is, and what it lacks is kept beside
    it.
    """
    said = f"Another program has changed {shown_path(kept.path)}, so it is left as it is."
    try:
        theirs = {row.id: row for row in load(kept.path).all_rows()}
    except Unreadable:
        return _in_copy(sitting, said)
    if not sitting.wrote or _holds(theirs.values(), sitting.survey.all_rows()):
        return Ending(said, trouble=True)
    return _in_copy(sitting, said)


def _holds(theirs: Iterable[Row], ours: Iterable[Row]) -> bool:
    """Whether every row of ours is among theirs."""
    known = {(type(row), row.id) for row in theirs}
    return all((type(row), row.id) in known for row in ours)


def _in_copy(sitting: Sitting, said: str) -> Ending:
    if sitting.go_on_in_copy() is None and sitting.path:
        return Ending(
            f"{said} What you wrote is saved in {shown_path(sitting.path)}.",
            trouble=True,
            saved=True,
        )
    return Ending(f"{said} What you wrote could NOT be saved anywhere.", trouble=True)
