"""The photos of a record: which are named in it and which every record needs, found in a folder by
number or name, and set beside what was found at the place that they show.

One file is read at a time, and only those that the record names. What cannot be used is left out by
name; what is missing is named too.
"""

from __future__ import annotations

import os
import re
import stat
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

from wizard.judgment.sight import sight_of
from wizard.library.places import NO_STEP, PromptId, StepId, asked_of, step_of
from wizard.library.shapes import Library, PhotoAsked
from wizard.readings.plain import clean_line
from wizard.survey.record import Survey
from wizard.survey.rows import PointNote, Remark
from wizard.telling.document import Block, Heading, Paragraph, Photo, items
from wizard.telling.photo_data import (
    LARGEST,
    LARGEST_TO_SHRINK,
    NotAPhoto,
    Photograph,
    can_shrink,
    kind_of,
    megabytes,
    photograph,
    too_large,
)
from wizard.telling.quantity_names import cap, point_name

MOST = 60
"""Photos in one report at most."""
ALL = 24_000_000
"""Bytes of all photos of one report at most."""
FEW = 8
"""Photos that stand before the appendix of a report; more stand in it."""
NAMES = 5_000
"""Names of the folder that are looked at, at most."""
ENDINGS = (".jpg", ".jpeg", ".png")
"""Where two files have the number, one that is named as a picture goes before another."""
TAKEN_OUT = (
    "The days are those of the cameras' own clocks. Where a photo was taken, and whatever else a"
    " camera writes into it, has been taken out."
)


class NoFolder(ValueError):
    """A folder that cannot be looked into; the message is one sentence."""


class Named(NamedTuple):
    """A photo that a record names or needs."""

    key: str
    """Its number or name, as it was typed."""
    step: StepId
    """The page whose place it shows; none where it shows no place of a page."""
    says: str
    """What it shows, and what was found or said there."""
    asked: str = ""
    """Id of the photo that every record needs which it is; empty for none."""
    noted: bool = True
    """Whether the record names it; else it is looked for by the name of what it shows."""


class Shot(NamedTuple):
    """A photo that was found."""

    named: Named
    photo: Photo


class Photos(NamedTuple):
    """What came of looking for the photos of a record."""

    shots: tuple[Shot, ...] = ()
    """In the order of the pages."""
    left_out: tuple[str, ...] = ()
    """One sentence for each that was found and not used."""
    missing: tuple[str, ...] = ()
    """One sentence for each that was not found."""


NEEDED = "Every record needs these photos:"
HOW_NOTED = (
    "Type the number and the name, like /photo 112 left front corner. A file that has that name"
    " needs no number. The report finds them: /report photos FOLDER"
)
POINTS = "The points"
"""What those show that show no place of a page."""
NO_PHOTOS = Photos()
"""Nobody asked for any."""


# Which photos -------------------------------------------------------------------------------------


def named_in(survey: Survey, library: Library) -> tuple[Named, ...]:
    """Every photo that the record names, then those that it needs and does not name; in the order
    of the pages.
    """
    noted = [_of_remark(row, survey, library) for row in survey.standing(Remark) if row.photo]
    noted += [_of_point(row, survey, library) for row in survey.standing(PointNote) if row.photo]
    there = {one.asked for one in noted}
    needed = [
        Named(photo.name, photo.at, cap(photo.name), photo.id, noted=False)
        for photo in library.paper.photos.values()
        if photo.id not in there
    ]
    order = list(library.courses["whole"])
    stops = [stop.step for stop in library.walks.get("whole", ())]
    turn = {step: n for n, step in reversed([*enumerate([*stops, *order])])}
    return tuple(
        sorted([*needed, *noted], key=lambda one: (turn.get(one.step, len(turn)), not one.asked))
    )


def _of_remark(row: Remark, survey: Survey, library: Library) -> Named:
    asked = library.paper.photos.get(row.shows)
    said = clean_line(row.text, 300).rstrip(". ")
    if asked is not None:
        return Named(row.photo, asked.at, _joined(cap(asked.name), said), asked.id)
    found = cap(_found_at(row.prompt, survey, library))
    return Named(row.photo, _place_of(row.prompt, library), _joined(found, said))


def _place_of(prompt: PromptId, library: Library) -> StepId:
    """The page at which it is asked: of a look that is taken at a place, the place."""
    if not prompt:
        return NO_STEP
    looks = (str(prompt), str(asked_of(prompt).page))
    for stop in library.walks.get("whole", ()):
        gathered = library.steps[stop.step].gathers if stop.step in library.steps else ()
        if any(str(g.look) in looks for g in gathered):
            return stop.step
    return step_of(prompt)


def _joined(*parts: str) -> str:
    return ". ".join(part for part in parts if part)


def _found_at(prompt: PromptId, survey: Survey, library: Library) -> str:
    """What the prompt asks, and what was seen there."""
    seen = next((s for s in sight_of(survey, library).seen if s.look.prompt == prompt), None)
    if seen is not None:
        side = f", {seen.side}" if seen.side else ""
        return f"{seen.title}{side}: {seen.choice.words if seen.choice else 'not known'}"
    asked = sight_of(survey, library).case.prompts.get(prompt)
    return asked.ask if asked is not None else ""


def _of_point(row: PointNote, survey: Survey, library: Library) -> Named:
    name = point_name(row.point, sight_of(survey, library).layout)
    return Named(row.photo, NO_STEP, _joined(f"Point {name}", clean_line(row.mark, 120)))


def needed(survey: Survey, library: Library) -> tuple[tuple[PhotoAsked, str], ...]:
    """The photos that every record needs, each with its number as it was noted; empty for none yet."""
    noted = {row.shows: row.photo for row in survey.standing(Remark) if row.photo}
    return tuple((photo, noted.get(photo.id, "")) for photo in library.paper.photos.values())


def needed_text(survey: Survey, library: Library) -> str:
    """Those photos as a list: what must be in each, and which number was noted."""
    lines = []
    for photo, number in needed(survey, library):
        noted = f"Noted: {clean_line(number, 60)}." if number else "Not noted yet."
        lines.append(f"- {cap(photo.name)}: {photo.how}. {noted}")
    return "\n".join([NEEDED, "", *lines, "", HOW_NOTED])


def asked_by(words: str, library: Library) -> tuple[str, str]:
    """Which of the photos that every record needs is meant, and the number that stands beside it;
    empty for none.

    `left front corner 112`, `112 left-front`: either order, by its name or its id.
    """
    said = plain(words)
    calls = [(plain(name), p.id) for p in library.paper.photos.values() for name in (p.name, p.id)]
    for name, id in sorted(calls, reverse=True, key=lambda call: len(call[0])):
        if said == name:
            return id, ""
        if said.startswith(f"{name}-"):
            return id, words.split()[-1] if said.count("-") > name.count("-") else ""
        if said.endswith(f"-{name}"):
            return id, words.split()[0]
    return "", ""


# Found in a folder --------------------------------------------------------------------------------


def plain(name: str) -> str:
    """A name by its letters and figures alone: `Left Front (2)` as `left-front-2`."""
    folded = unicodedata.normalize("NFKD", name).casefold()
    return re.sub(r"[^0-9a-z]+", "-", folded).strip("-")


def _number(stem: str) -> int | None:
    """The last number of a file's name; None for none."""
    found = re.findall(r"[0-9]+", stem[-60:])
    return int(found[-1]) if found else None


class Folder(NamedTuple):
    """The names in a folder, by what they can be found by."""

    path: Path
    by_name: Mapping[str, tuple[str, ...]]
    by_number: Mapping[int, tuple[str, ...]]
    left: int
    """Names that were not looked at."""

    def files(self, key: str) -> tuple[str, ...]:
        """The files that a number or a name may mean; a whole name goes before a number in it."""
        whole = self.by_name.get(plain(key)) or self.by_name.get(plain(Path(key).stem))
        if whole or not key.strip().isdecimal():
            return whole or ()
        return self.by_number.get(int(key), ()) if key.strip().isascii() else ()


def folder_of(path: Path) -> Folder:
    """What lies in a folder; folders below it are not looked into. Raises NoFolder."""
    names: list[str] = []
    left = 0
    try:
        with os.scandir(path) as found:
            for entry in found:
                left += len(names) >= NAMES
                names += [entry.name] if len(names) < NAMES else []
    except OSError as error:
        name = clean_line(str(path), 120)
        raise NoFolder(f"{name} cannot be looked into for photos ({error.strerror}).") from None
    by_name: dict[str, tuple[str, ...]] = {}
    by_number: dict[int, tuple[str, ...]] = {}
    for name in sorted(names):
        stem = Path(name).stem
        by_name[plain(stem)] = (*by_name.get(plain(stem), ()), name)
        number = _number(stem)
        if number is not None:
            by_number[number] = (*by_number.get(number, ()), name)
    return Folder(path, by_name, by_number, left)


def _opened(path: Path) -> tuple[int, int]:
    """A file's descriptor and size; no link is followed, and no pipe waited for. Raises NotAPhoto."""
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    try:
        if path.is_symlink():
            raise NotAPhoto("is a link, and links are not followed")
        file = os.open(path, flags | getattr(os, "O_BINARY", 0))
    except OSError as error:
        raise NotAPhoto(f"cannot be read ({error.strerror})") from None
    found = os.fstat(file)
    if not stat.S_ISREG(found.st_mode):
        os.close(file)
        raise NotAPhoto("is no file")
    return file, found.st_size


def _head(path: Path) -> str:
    """The kind of picture that a file begins like; empty for any other."""
    try:
        file, _ = _opened(path)
    except NotAPhoto:
        return ""
    with os.fdopen(file, "rb") as opened:
        try:
            return kind_of(opened.read(16))
        except OSError:
            return ""


def _bytes(path: Path) -> bytes:
    """The whole file, where it is no larger than is taken. Raises NotAPhoto."""
    most = LARGEST_TO_SHRINK if can_shrink() else 2 * LARGEST
    file, size = _opened(path)
    with os.fdopen(file, "rb") as opened:
        if size > most:
            raise NotAPhoto(too_large(size))
        try:
            data = opened.read(most + 1)
        except OSError as error:
            raise NotAPhoto(f"cannot be read ({error.strerror})") from None
    if len(data) > most:
        raise NotAPhoto(too_large(len(data)))
    return data


def _chosen(folder: Folder, key: str) -> str:
    """The file that is meant; empty where there is none. Raises NotAPhoto where several are."""
    files = folder.files(key)
    if len(files) < 2:
        return files[0] if files else ""
    pictures = [name for name in files if _head(folder.path / name)] or list(files)
    if len(pictures) > 1:
        several = " or ".join(clean_line(name, 60) for name in pictures[:3])
        raise NotAPhoto(f"could be {several}; note it by the file's whole name")
    return pictures[0]


def found_in(path: Path, survey: Survey, library: Library) -> Photos:
    """The photos of a record that lie in a folder. Raises NoFolder."""
    folder = folder_of(path)
    shots: list[Shot] = []
    left_out, missing = list[str](), list[str]()
    room = ALL
    for one in named_in(survey, library):
        name = ""
        try:
            name = _chosen(folder, one.key)
            if not name:
                missing.append(_missing(one))
                continue
            photo = _photo(folder.path / name, room if len(shots) < MOST else 0)
        except NotAPhoto as error:
            called = clean_line(name, 80) or f"Photo {clean_line(one.key, 60)}"
            left_out.append(f"{called} {error}.")
            continue
        room -= len(photo.data)
        title = library.steps[one.step].title if one.step in library.steps else POINTS
        caption = _caption(one, name, photo)
        shots.append(Shot(one, Photo(title, caption, one.says, *photo[:4])))
    if folder.left:
        left_out.append(
            f"The folder holds more than {NAMES} names; {folder.left} were not looked at."
        )
    return Photos(tuple(shots), tuple(left_out), tuple(missing))


def _photo(path: Path, room: int) -> Photograph:
    """A file's photo; room: bytes that it may take. Raises NotAPhoto."""
    if room:
        photo = photograph(_bytes(path))
        if len(photo.data) <= room:
            return photo
    raise NotAPhoto(f"would be more than {MOST} photos or {megabytes(ALL)} in one report")


def _caption(one: Named, name: str, photo: Photograph) -> str:
    """What it shows and says, which it is, and its day."""
    file = f"file {clean_line(name, 80)}"
    called = f"Photo {clean_line(one.key, 60)}, {file}" if one.noted else cap(file)
    day = f"taken {photo.day}" if photo.day else "with no day in it"
    return f"{one.says.rstrip('.?')}. {called}, {day}.".removeprefix(". ")


def _missing(one: Named) -> str:
    if one.noted:
        return f"Photo {clean_line(one.key, 60)} is not in the folder: {one.says or 'no words'}."
    return f"There is no photo of the {one.key}, and its number was not noted."


# In a report --------------------------------------------------------------------------------------


def photos_part(photos: Photos, survey: Survey, library: Library) -> list[Block]:
    """The photos with what they show, and what is not among them; where no folder was named, or they
    are many, the numbers that the record names.
    """
    few = photos != NO_PHOTOS and len(photos.shots) <= FEW
    shown = _shown(photos) if few else _by_number(survey, library)
    return [Heading("photos", "Photos"), *shown]


def more_photos(photos: Photos) -> list[Block]:
    """The photos where they are many, for the appendix; nothing else."""
    if len(photos.shots) <= FEW:
        return []
    return [Heading("photos-all", "The photos themselves"), *_shown(photos)]


def _shown(photos: Photos) -> Iterator[Block]:
    if photos.shots:
        yield Paragraph(TAKEN_OUT)
    yield from (shot.photo for shot in photos.shots)
    yield from _list("photos-out", "Left out", photos.left_out)
    yield from _list("photos-missing", "Not there", photos.missing)


def _by_number(survey: Survey, library: Library) -> Iterator[Block]:
    """Each photo's number with what it shows, and which of those that every record needs has none."""
    named = named_in(survey, library)
    noted = [one for one in named if one.noted]
    if noted:
        lines = (f"Photo {clean_line(one.key, 60)}: {one.says}".rstrip(": ") for one in noted)
        yield items(f"{line.rstrip('.?')}." for line in lines)
    else:
        yield Paragraph("No photo's number was written down.")
    wanting = "; ".join(one.key for one in named if not one.noted)
    if wanting:
        yield Paragraph(f"Every record needs these too, and no number was noted: {wanting}.")


def _list(id: str, heading: str, lines: Sequence[str]) -> Iterator[Block]:
    if lines:
        yield Heading(id, heading, 3)
        yield items(lines)
