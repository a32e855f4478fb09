"""The same frame, a season later: a new survey that follows an earlier one, beside a backup copy of
that one.

The earlier file is read and never written.
"""

from __future__ import annotations

import itertools
import os
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from wizard.checks.finding import Finding
from wizard.judgment.change import ONE_OF_MANY, Change, Comparison, compare
from wizard.judgment.short_list import steps_worth
from wizard.judgment.since import moved_of, read_at
from wizard.library import marks
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
    found = unlike_then(step, compare(earlier, survey, library), library)
    prompts = list(dict.fromkeys(id for _, ids in found for id in ids))
    if not prompts:
        return ""
    row = Answer(id="", at=sitting.at, by=sitting.by)
    if sitting.change(asking_again(survey, prompts, row)) is not None:
        return ""
    sitting.stand_before(prompts[0])
    layout = layout_of(survey, library)
    names = "; ".join(name_of(finding, layout) for finding, _ in found)
    return f"Not as last time: {names}. Read that again now, before you move anything."


def unlike_then(
    step: Step, comparison: Comparison, library: Library
) -> list[tuple[Finding, tuple[PromptId, ...]]]:
    """What does not read as last time by the readings of one page alone, and was not read again yet: of
    each part that moved the plainest such figure, and each distance that is further off than its own
    doubt, however many others are compared.
    """
    survey = comparison.now.survey
    asked = asked_again(survey)
    found = []
    for figures in _apart(comparison, library):
        reads = [(c.new, read_at(c.new, survey)) for c in figures]
        here = [(f, ids) for f, ids in reads if ids and all(step_of(id) == step.id for id in ids)]
        if here and not any(id in asked for _, ids in here for id in ids):
            found.append(here[0])
    return found[:MOST_AGAIN]


def _apart(comparison: Comparison, library: Library) -> Iterator[tuple[Change, ...]]:
    """Figures that moved, those of one part together; then each distance that alone would have."""
    yield from (m.changes for m in moved_of(comparison, library) if not m.is_read_again)
    for change in comparison.of("cannot tell"):
        if change.why == ONE_OF_MANY and change.new.quantity == marks.LENGTH:
            yield (change,)
