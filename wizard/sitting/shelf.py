"""The surveys that are to hand: those of a folder, and the samples, of which copies are opened."""

from __future__ import annotations

import contextlib
import heapq
import os
from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from wizard.frozen import Frozen
from wizard.library.paths import samples_dir
from wizard.readings.plain import clean_line
from wizard.sitting.chain import Head, head_of

if TYPE_CHECKING:
    from wizard.library.shapes import Library
    from wizard.survey.record import Survey

MOST = 9
"""Surveys read for a list: each takes a single digit to choose, and reading more would delay the
first page.
"""


class Listed(Frozen):
    """One survey in a list."""

    path: Path
    name: str
    """The car, or the file's name where it cannot be read."""
    worked: datetime
    """When the last thing was written down."""
    done: int = 0
    """Steps done or skipped."""
    steps: int = 0
    """Steps of its course."""
    fault: str = ""
    """Why it cannot be opened, one sentence; empty when it can."""
    id: str = ""
    """Of the survey."""
    follows: str = ""
    """Id of the survey that it measures again; empty for a first one."""
    started: datetime | None = None
    """The day of the survey; None where the file has none."""
    brief: str = ""
    """Its answer in a few words, as it was kept; empty as long as there is none."""
    under: bool = False
    """Whether it stands under the survey that it follows."""
    goes_on: bool = False
    """Whether it, or the survey under which it stands, is not finished."""
    is_read: bool = True
    """False as long as no more of it is known than its file's head and time."""

    @property
    def is_finished(self) -> bool:
        """Whether nothing is asked any more."""
        return self.done >= self.steps


class Shelf(Frozen):
    """The surveys of a folder, newest first, and the samples."""

    surveys: tuple[Listed, ...] = ()
    more: int = 0
    """Older files that were not read."""
    samples: tuple[Listed, ...] = ()

    @property
    def unread(self) -> tuple[Path, ...]:
        """Files of which no more than the head was read."""
        return tuple(s.path for s in self.surveys if not s.is_read)

    def with_read(self, one: Listed) -> Shelf:
        """With one of its surveys read; once all are, they stand in their order. What was read
        before, or is not of this shelf, changes nothing.
        """
        if one.path not in self.unread:
            return self
        surveys = tuple(one if s.path == one.path else s for s in self.surveys)
        shelf = replace(self, surveys=surveys)
        return shelf if shelf.unread else _in_order(shelf)


def names_of(folder: Path, today: datetime, samples: Path | None = None) -> Shelf:
    """What can be opened, of each survey the head of its file alone: so the first page waits for no
    survey, however slow the disk is. Else as `shelf_of`.
    """
    newest, there = _newest(folder)
    surveys = tuple(map(_unread, newest))
    return Shelf(surveys, there - len(newest), _samples(samples, today))


def _unread(path: Path) -> Listed:
    head = head_of(str(path))
    name = head.name if head.sure else clean_line(path.stem, 60)
    return Listed(path, name, datetime.fromtimestamp(_changed(path)), is_read=False)


def _samples(folder: Path | None, today: datetime) -> tuple[Listed, ...]:
    names = map(head_of, sorted(_files(folder or samples_dir())))
    return tuple(Listed(h.path, _named(h), today) for h in names if h.sure)


def _in_order(shelf: Shelf) -> Shelf:
    return replace(shelf, surveys=_told_apart(_under(shelf.surveys)))


def shelf_of(
    folder: Path, library: Library | None, today: datetime, samples: Path | None = None
) -> Shelf:
    """What can be opened. A folder that is not there yet is an empty one; nothing is made or
    changed here.

    library: loaded here when there is a survey to tell of and none is given; samples: folder of
    sample surveys, else the program's own. Of those only the names are read, so that the first page
    is up at once.
    """
    newest, there = _newest(folder)
    if newest and library is None:
        from wizard.library import load_library

        library = load_library()
    found = tuple(listed(path, library, today) for path in newest if library)
    return _in_order(Shelf(found, there - len(newest), _samples(samples, today)))


def _under(found: tuple[Listed, ...]) -> tuple[Listed, ...]:
    """Each re-check under the survey that it follows, where that is listed too; else as they came."""
    known = {s.id for s in found if s.id}
    first = (s for s in found if s.follows not in known or s.follows == s.id)
    frames = [[one, *_following(one, found, {one.id})] for one in first]
    rows = [_marked(frame) for frame in (*frames, *_alone(found, frames))]
    return tuple(s for frame in sorted(rows, key=_turn) for s in frame)


def _turn(frame: list[Listed]) -> int:
    """What goes on comes first; of what is finished, the frames that are being measured again."""
    return 0 if frame[0].goes_on else 1 if any(map(_is_open, frame)) else 2


def _alone(found: tuple[Listed, ...], frames: list[list[Listed]]) -> list[list[Listed]]:
    """What stands in no frame, as files that follow each other in a ring."""
    there = {s.path for frame in frames for s in frame}
    return [[s] for s in found if s.path not in there]


def _marked(frame: list[Listed]) -> list[Listed]:
    """The surveys of one frame, each with whether the first of them goes on: what is finished stays
    where finished ones are while it is measured again.
    """
    return [replace(s, goes_on=_is_open(frame[0])) for s in frame]


def _is_open(one: Listed) -> bool:
    return bool(not one.is_finished or one.fault)


def _following(one: Listed, found: tuple[Listed, ...], seen: set[str]) -> list[Listed]:
    """What measures it again, the oldest first, each with what follows on it."""
    rows: list[Listed] = []
    again = [s for s in found if one.id and s.follows == one.id and s.id not in seen]
    for later in sorted(again, key=lambda s: s.started or s.worked):
        seen.add(later.id)
        rows += [replace(later, under=True), *_following(later, found, seen)]
    return rows


def _told_apart(found: tuple[Listed, ...]) -> tuple[Listed, ...]:
    """Two surveys of one car and one day, as a copy is, carry the names of their files too."""
    lines = [(s.name, s.worked.date(), s.follows) for s in found]
    return tuple(
        replace(s, name=f"{s.name} ({clean_line(s.path.stem, 40)})") if lines.count(line) > 1 else s
        for s, line in zip(found, lines, strict=True)
    )


def _named(head: Head) -> str:
    """The car and the day: one car may have several samples, each a season later."""
    return f"{head.name}, {head.started[:10]}" if head.started else head.name


def _files(folder: Path) -> list[str]:
    """The names of its files that may be surveys, whole."""
    with contextlib.suppress(OSError), os.scandir(folder) as entries:
        return [e.path for e in entries if _may_be(e.name)]
    return []


def _may_be(name: str) -> bool:
    return name.endswith(".toml") and not name.startswith(".")


def _newest(folder: Path) -> tuple[list[Path], int]:
    """The files of a folder that were changed last, the newest first, and how many there are: of
    ten thousand nothing is asked but the time.
    """
    found: list[tuple[float, str]] = []
    with contextlib.suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            if _may_be(entry.name):
                found.append((_time_of(entry), entry.path))
    newest = heapq.nlargest(MOST, found, key=lambda one: one[0])
    return [Path(path) for _, path in newest], len(found)


def _time_of(entry: os.DirEntry[str]) -> float:
    try:
        return entry.stat().st_mtime
    except OSError:
        return 0.0


def _changed(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except OSError:
        return 0.0


def listed(path: Path, library: Library, today: datetime) -> Listed:
    """One survey's line; a file that cannot be read is listed with the reason."""
    from wizard.survey.file import read
    from wizard.survey.guide import guide_of
    from wizard.survey.toml import Unreadable
    from wizard.telling.asking import page_state

    try:
        survey = _known(path, read(path), library)
    except Unreadable as error:
        return Listed(
            path,
            clean_line(path.stem, 60),
            datetime.fromtimestamp(_changed(path)),
            fault=str(error),
        )
    course = guide_of(survey, library).walk(
        today
    )  # counted as the trail and the worksheet count them
    done = sum(page_state(survey, p) in ("done", "skipped", "enough", "gone") for p in course)
    name = clean_line(survey.car, 60) or clean_line(path.stem, 60)
    return Listed(
        path,
        name,
        last_worked(survey),
        done,
        len(course),
        id=survey.id,
        follows=survey.follows,
        started=survey.started if survey.started.year > 1 else None,
        brief=kept_brief(survey),
    )


def kept_brief(survey: Survey) -> str:
    """The answer in a few words, as it was kept; an older file kept only its headline."""
    from wizard.survey.rows import Verdict

    kept = survey.standing(Verdict)
    if not kept:
        return ""
    headline = kept[-1].text.split(". ")[0].split("\n\n")[0]
    return clean_line(kept[-1].brief or " ".join(headline.split()), 80).rstrip(".")


def last_worked(survey: Survey) -> datetime:
    """When the last row was written; the start of the survey when there is none."""
    from wizard.survey.rows import NEVER

    times: Iterable[datetime] = (r.at.replace(tzinfo=None) for r in survey.all_rows())
    return max(times, default=NEVER) if survey.last_number() else survey.started


def load_known(path: Path, library: Library) -> Survey:
    """The survey in a file, for a kind of frame that the library has.

    Raises Unreadable with one sentence.
    """
    from wizard.survey.file import load

    return _known(path, load(path), library)


def _known(path: Path, survey: Survey, library: Library) -> Survey:
    from wizard.survey.own_frame import knows
    from wizard.survey.toml import Unreadable

    if not knows(survey, library):
        kind = clean_line(survey.layout, 40)
        raise Unreadable(
            f"{path.name} is of a kind of frame, {kind}, that this program does not know."
        )
    return survey


def copy_sample(path: Path, folder: Path, library: Library, now: datetime) -> Path:
    """A copy of a sample in the folder, under a free id.

    Raises Unreadable, or OSError when it cannot be written.
    """
    from wizard.sitting.naming import free_id
    from wizard.survey.file import make_folder, save

    survey = load_known(path, library)
    make_folder(folder)
    id = free_id(survey.car or path.stem, now, folder)
    save(folder / f"{id}.toml", replace(survey, id=id))
    return folder / f"{id}.toml"
