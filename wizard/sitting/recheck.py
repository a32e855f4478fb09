"""The same frame, a season later: a new survey that follows an earlier one, beside a backup copy of
that one.

The earlier file is read and never written.
"""

from __future__ import annotations

import itertools
import os
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from wizard.judgment.short_list import steps_worth
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.sitting.naming import free_id
from wizard.survey.file import NotSaved, load, make_folder, save, why, write_atomic
from wizard.survey.follow import following
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Reading
from wizard.survey.toml import Unreadable
from wizard.telling.then_words import recalled_words, then_line

BACKUP = "backup"
"""Folder beside the surveys for copies of what was followed."""


def start(earlier: Path, library: Library, now: datetime, folder: Path | None = None) -> Path:
    """A new survey that follows the one in `earlier`: its file, in the same folder or in `folder`.

    Raises Unreadable for a file that cannot be followed, NotSaved when nothing can be written; the
    earlier file is left as it is either way.
    """
    from wizard.sitting.shelf import load_known

    old = load_known(earlier, library)
    if not old.standing(Reading):
        name = clean_line(earlier.name, 80)
        raise Unreadable(
            f"{name} has no readings, so there is nothing to measure again. Go on with it instead."
        )
    old = replace(old, id=old.id or earlier.stem)
    into = folder or earlier.parent
    try:
        make_folder(into)
        backup(earlier, into)
    except NotSaved as error:
        name = f"{BACKUP}/{clean_line(earlier.name, 80)}"
        raise NotSaved(
            f"The new survey is not begun: the copy {name} could not be written ({why(error)})."
        ) from error
    except OSError as error:
        raise NotSaved(f"Not saved: the folder cannot be used ({error.strerror}).") from error
    new = following(old, library, now, steps_worth(old, library, now))
    id = free_id(new.car or earlier.stem, now, into)
    save(into / f"{id}.toml", replace(new, id=id))
    return into / f"{id}.toml"


def measure_again(earlier: Path, folder: Path, library: Library, now: datetime) -> tuple[Path, str]:
    """A new survey in the folder that follows an earlier one: its file, and what it is going to
    ask.

    Raises Unreadable, NotSaved.
    """
    path = start(earlier, library, now, folder)
    return path, recalled_words(load(path), library)


def backup(path: Path, folder: Path) -> Path:
    """A copy of a survey's file in the folder's `backup`, byte for byte; one that is there is not
    made again.
    """
    data = path.read_bytes()
    place = folder / BACKUP
    make_folder(place)
    for n in itertools.count(1):
        copy = place / (path.name if n == 1 else f"{path.stem}-{n}{path.suffix}")
        if not os.path.lexists(copy):
            write_atomic(copy, data)
            return copy
        if copy.is_file() and copy.read_bytes() == data:
            return copy
    raise AssertionError("there is always another number")


def recalled(prompt: Prompt | None, earlier: Survey | None) -> str:
    """What a page says of last time before the answer: state, look, photo; never a reading."""
    return then_line(prompt, earlier) if prompt is not None else ""
