"""What is put on paper: the report of the survey in hand, written beside it with the earlier ones
that it follows, and the worksheet of a kind of frame.
"""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from wizard.library import load_library
from wizard.library.fields import Fault
from wizard.library.paths import samples_dir
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.sitting import own_frames
from wizard.sitting.chain import Head, chain_of, heads, whole
from wizard.sitting.naming import NotNamed, survey_folder
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.file import NotSaved, make_folder
from wizard.survey.own_frame import knows, same_kind
from wizard.survey.record import Survey
from wizard.survey.rows import NEVER
from wizard.survey.toml import Unreadable

if TYPE_CHECKING:
    from wizard.telling.report_trend import Earlier

KINDS = ("html", "md", "txt", "csv")
BRIEF = "brief"
"""Asks for the brief for a shop, and ends the name of its file."""


def report(sitting: Sitting, rest: str) -> Reply:
    """`/report` writes HTML, `/report md` another kind, `/report for-a-buyer.html` under a name of
    its own; `/report photos FOLDER` puts the photos of the record in it, `/report brief` is the brief
    for a shop.
    """
    if sitting.path is None:
        return Reply("refused", "You wrote nothing down yet, so there is nothing to report.")
    said, folder = _with_photos(rest)
    if said.lower() == BRIEF:
        return _brief(sitting, sitting.path) if not folder else Reply("refused", NO_PHOTO_IN_IT)
    try:
        out = _target(sitting.path, said or "html")
        photos = sitting.path.parent / Path(folder).expanduser() if folder else None
    except RuntimeError:  # `~name`, and there is no such user, or no home at all
        return Reply(
            "refused",
            f"{clean_line(rest, 60)} names no home folder: leave out the ~ at the beginning.",
        )
    return _written(sitting, sitting.path, out, photos)


NO_PHOTO_IN_IT = "A brief holds no photos: type /report brief alone."
_PHOTOS = re.compile(r"(?:^|\s)photos\s+(\S.*)$", re.IGNORECASE)


def _with_photos(rest: str) -> tuple[str, str]:
    """What is said of the report itself, and the folder of the photos; empty for none."""
    found = _PHOTOS.search(rest)
    said = rest[: found.start()] if found else rest
    return said.strip(), found.group(1).strip(" \"'") if found else ""


def _written(sitting: Sitting, path: Path, out: Path, folder: Path | None) -> Reply:
    """The report, with the photos in that folder."""
    from wizard.telling.papers import (
        NotWritten,
        write_report,
    )  # the figures need numpy: only when asked for
    from wizard.telling.photos import NO_PHOTOS, NoFolder, found_in

    # An edited file may have lost its id: its name stands in.
    earlier = earlier_for(replace(sitting.survey, id=sitting.survey.id or path.stem), path.parent)
    try:
        photos = found_in(folder, sitting.survey, sitting.library) if folder else NO_PHOTOS
        write_report(path, out, sitting.library, sitting.now(), earlier, photos)
    except (NotWritten, NotSaved, Unreadable, NoFolder) as error:
        return Reply("refused", str(error))
    says = f"The report is in {out}"
    if folder:
        count = len(photos.shots)
        with_photos = "1 photo is in it." if count == 1 else f"{count} photos are in it."
        says = "\n".join([f"{says}. {with_photos}", *photos.left_out, *photos.missing])
    return Reply("told", f"{says}{_by_hand(sitting)}", "The report is written")


def _brief(sitting: Sitting, path: Path) -> Reply:
    """The brief for whoever straightens the frame, beside the survey."""
    from wizard.telling.papers import NotWritten, source_of, write_form
    from wizard.telling.shop_brief import shop_brief

    out = path.with_name(f"{path.stem}-{BRIEF}.html")
    try:
        survey, checksum = sitting.survey, source_of(path).checksum
        told = shop_brief(survey, sitting.library, sitting.now(), sitting.earlier, checksum)
        write_form(told, out)
    except (NotWritten, NotSaved, Unreadable) as error:
        return Reply("refused", str(error))
    said = f"The brief for the shop is in {out}{_by_hand(sitting)}"
    return Reply("told", said, "The brief is written")


def _by_hand(sitting: Sitting) -> str:
    """What a paper has only a line for, since nobody noted it."""
    from wizard.telling.of_car import lacking

    names = lacking(sitting.survey, sitting.library)
    if not names:
        return ""
    return f"\n\nStill to be written on it by hand, or noted first with /car: {', '.join(names)}."


def _target(survey: Path, said: str) -> Path:
    """The survey's own name with that ending, or a name of its own, beside the survey unless it
    says where.
    """
    if said.lower().lstrip(".") in KINDS:
        return survey.with_suffix("." + said.lower().lstrip("."))
    return survey.parent / Path(said).expanduser()


def earlier_for(survey: Survey, folder: Path) -> Earlier:
    """The surveys that this one follows, one after another back to the first, and what could not be
    had of them.

    Only those: a copy or a second re-check of the same survey is a branch of its own and would
    count what it shares twice. They are looked for by their ids in the folder, then among the
    samples.
    """
    from wizard.telling.report_trend import Earlier  # the figures need numpy: only when asked for

    if not survey.follows:
        return Earlier()
    library = load_library()
    line, missing = _back(survey, folder)
    found: list[Survey] = []
    for head, one in whole(line):
        why = _why_not(one, survey, library) if isinstance(one, Survey) else ""
        if not isinstance(one, Survey):
            before = "" if head.sure else ", and any before it"
            missing.append(f"An earlier survey is left out{before}: {one}")
        elif why:
            missing.append(f"{_name(head.id)} {why}; it was left out.")
        else:
            found.append(replace(one, id=one.id or head.id))
    return Earlier(tuple(reversed(found)), tuple(missing))


def _back(survey: Survey, folder: Path) -> tuple[list[Head], list[str]]:
    """The heads from the survey before this one to the first, and a sentence where the line breaks
    off.
    """
    here = heads(folder)
    known = {h.id for h in here}
    everywhere = [*here, *(h for h in _samples() if h.id not in known)]
    by_id = {h.id: h for h in chain_of(everywhere, survey.follows)}
    line: list[Head] = []
    seen, wanted = {survey.id}, survey.follows
    while wanted and wanted not in seen:
        seen.add(wanted)
        if wanted not in by_id:
            lost = f"The earlier survey {_name(wanted)} is not in this survey's folder"
            return line, [f"{lost}, so what it and any before it would show is left out."]
        line.append(by_id[wanted])
        wanted = by_id[wanted].follows
    return line, []


def _samples() -> tuple[Head, ...]:
    try:
        return heads(samples_dir())
    except FileNotFoundError:
        return ()


def _why_not(earlier: Survey, survey: Survey, library: Library) -> str:
    """Why a survey that can be read says nothing of this one's past; empty where it does."""
    if not same_kind(earlier, survey, library):
        return "is of another kind of frame, so its figures are from other places"
    then, now = (s.started.replace(tzinfo=None) for s in (earlier, survey))
    return "is dated later than this survey" if NEVER not in (then, now) and then > now else ""


def _name(id: str) -> str:
    return clean_line(id, 60)


# The worksheet ------------------------------------------------------------------------------------


def kinds(library: Library, folder: Path) -> tuple[tuple[str, str, str], ...]:
    """Number, id and name of each kind of frame, as the opening page offers them."""
    every = enumerate(own_frames.kinds(library, folder), start=1)
    return tuple((str(n), id, name) for n, (id, name) in every)


def survey_of_kind(
    kind: str, library: Library, folder: str | None, survey: Survey | None = None
) -> Survey | str:
    """The survey, or for none an empty one of a kind of frame, also of one of the owner's own in
    his folder; one sentence where there is no such kind.
    """
    if survey is not None and knows(survey, library):
        return survey
    try:
        there = survey_folder(folder)
    except NotNamed:  # nobody knows a folder, so nothing of his own is offered
        there = Path()
    found = None if survey else own_frames.blank_of(kind, library, there)
    if found is not None:
        return found
    ids = ", ".join(id for id, _ in own_frames.kinds(library, there))
    return f"There is no such kind of frame: type one of {ids}."


def layout_checked(path: Path, library: Library) -> tuple[bool, str]:
    """Whether a layout file of an owner's own can be used, and what is said of it."""
    found = own_frames.read_in(path, library)
    if isinstance(found, Fault):
        return False, str(found)
    many = own_frames.pairs_in(found)
    return True, f"The layout is in order: {found.name}, {many} pairs of points."


def print_sheet(said: str, folder: Path, library: Library) -> Path:
    """The worksheet of a kind of frame, by number or id, as a page to print in the folder.

    Raises Refused.
    """
    from wizard.telling.papers import NotWritten, write_sheet
    from wizard.telling.sheet import sheet_of

    words = said.lower().split()
    wanted, ending = words[0], "txt" if "txt" in words[1:] else "html"
    there = kinds(library, folder)
    id = next((id for number, id, _ in there if wanted in (number, id)), "")
    blank = own_frames.blank_of(id, library, folder)
    if not blank:
        numbers = [number for number, _, _ in there]
        raise Refused(
            f"There is no such kind of frame. Type a number from {numbers[0]} to {numbers[-1]},"
            " like s 1."
        )
    out = folder / f"sheet-{id}.{ending}"
    try:
        make_folder(folder)
        write_sheet(sheet_of(library, id, {}, survey=blank), out)
    except (NotWritten, NotSaved) as error:
        raise Refused(str(error)) from error
    except OSError as error:
        raise Refused(
            f"The sheet is not written: the folder cannot be used ({error.strerror})"
        ) from error
    return out
