"""The same frame, a season later: a new survey that follows an earlier one, beside a backup copy of
that one.

The earlier file is read and never written.
"""

from __future__ import annotations

import itertools
import os
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from wizard.judgment.change import Comparison, compare
from wizard.judgment.short_list import steps_worth
from wizard.judgment.since import Moved, moved_of
from wizard.library.places import PromptId, step_of
from wizard.library.shapes import Library, Step
from wizard.readings.plain import clean_line
from wizard.sitting.naming import free_id
from wizard.sitting.sitting import Sitting
from wizard.survey.again import asked_again, asking_again
from wizard.survey.file import NotSaved, load, make_folder, save, why, write_atomic
from wizard.survey.follow import following
from wizard.survey.guide import layout_of
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Reading
from wizard.survey.toml import Unreadable
from wizard.telling.quantity_names import name_of
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


# What does not read as last time -----------------------------------------------------------------

MOST_AGAIN = 2
"""Parts of the frame that are read again at the end of one page, those that moved furthest."""


def read_again(sitting: Sitting, step: Step) -> str:
    """Asks at once for what a page that was just finished does not read as last time; a sentence, or
    empty where nothing moved that was not meant to.

    No figure is in it: whoever reads again must not know what he is to find.
    """
    from wizard.judgment.correction import was_corrected  # numpy once there is something to compute

    survey, earlier, library = sitting.survey, sitting.earlier, sitting.library
    if earlier is None or sitting.aside.second or not step.check or was_corrected(survey, library):
        return ""
    found = _moved_on(step, compare(earlier, survey, library), library, asked_again(survey))
    prompts = [id for moved in found for id in moved.again]
    if not prompts:
        return ""
    row = Answer(id="", at=sitting.at, by=sitting.by)
    if sitting.change(asking_again(survey, prompts, row)) is not None:
        return ""
    sitting.stand_before(prompts[0])
    layout = layout_of(survey, library)
    names = "; ".join(name_of(m.finding, layout) for m in found)
    return f"Not as last time: {names}. Read that again now, before you move anything."


def _moved_on(
    step: Step, comparison: Comparison, library: Library, asked: Mapping[PromptId, int]
) -> list[Moved]:
    """What moved by the readings of one page, and was not read again yet."""
    moved = (m for m in moved_of(comparison, library) if not m.is_read_again and m.again)
    here = [m for m in moved if all(step_of(id) == step.id and id not in asked for id in m.again)]
    return here[:MOST_AGAIN]
