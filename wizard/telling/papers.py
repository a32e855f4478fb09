"""Writing a worksheet, a brief or a report as the kind of file that its name asks for; a survey is never
written over.
"""

from __future__ import annotations

import hashlib
import os
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.survey.file import load, write_atomic
from wizard.survey.record import Survey
from wizard.survey.toml import Unreadable
from wizard.telling.form import Form
from wizard.telling.html import html_of
from wizard.telling.markdown import markdown_of
from wizard.telling.photos import NO_PHOTOS, Photos
from wizard.telling.report_csv import report_csv
from wizard.telling.report_trend import NOTHING, Earlier
from wizard.telling.sheet import Sheet
from wizard.telling.sheet_form import form_of
from wizard.telling.sheet_html import form_html
from wizard.telling.sheet_text import form_text
from wizard.telling.text import PAPER, text_of

if TYPE_CHECKING:
    from wizard.telling.report import Source

HTML = (".html", ".htm")
REPORTS = (*HTML, ".md", ".txt", ".csv")
SHEETS = (*HTML, ".txt")


class NotWritten(ValueError):
    """A paper that would not be written; the message is one sentence."""


def report_as(
    survey: Survey,
    library: Library,
    today: datetime,
    source: Source,
    suffix: str,
    earlier: Earlier = NOTHING,
    photos: Photos = NO_PHOTOS,
) -> str:
    """The report in one of REPORTS; earlier: the surveys that this one follows."""
    if suffix == ".csv":
        return report_csv(survey, library)
    from wizard.telling.report import report_of  # a sheet needs none of it

    report = report_of(survey, library, today, source, earlier, photos)
    if suffix in HTML:
        return html_of(report)
    return markdown_of(report) if suffix == ".md" else text_of(report, PAPER)


def source_of(path: Path) -> Source:
    """Name and checksum of a survey's file, whose bytes do not hang on how a line is ended where it
    lies. Raises Unreadable.
    """
    from wizard.telling.report import Source

    try:
        whole = path.read_bytes().replace(b"\r\n", b"\n")
        return Source(clean_line(path.name, 120), hashlib.sha256(whole).hexdigest())
    except OSError as error:
        raise Unreadable(f"{clean_line(path.name, 80)} cannot be read: {error.strerror}.") from None


def write_report(
    path: Path,
    out: Path,
    library: Library,
    today: datetime,
    earlier: Earlier = NOTHING,
    photos: Photos = NO_PHOTOS,
) -> None:
    """The report of the survey in `path`, written to `out`. Raises Unreadable, NotWritten,
    NotSaved.

    earlier: the surveys that this one follows.
    """
    suffix = checked(out, REPORTS)
    survey = load(path)
    text = report_as(survey, library, today, source_of(path), suffix, earlier, photos)
    # A table for a spreadsheet says that it is UTF-8, or an old one would take it for something
    # else.
    write_atomic(out, text.encode("utf-8-sig" if suffix == ".csv" else "utf-8"))


def write_sheet(sheet: Sheet, out: Path) -> None:
    """The worksheet, written to `out`. Raises NotWritten, NotSaved."""
    write_form(form_of(sheet), out)


def write_form(form: Form, out: Path) -> None:
    """A paper to fill in, written to `out`. Raises NotWritten, NotSaved."""
    write_atomic(out, form_as(form, checked(out, SHEETS)).encode("utf-8"))


def form_as(form: Form, suffix: str = ".txt") -> str:
    """A paper to fill in as one of SHEETS."""
    return form_html(form) if suffix in HTML else form_text(form)


def checked(out: Path, known: tuple[str, ...]) -> str:
    """The kind of file, in small letters.

    Raises NotWritten for another kind, or where a survey stands already.
    """
    name = clean_line(out.name, 80) or "That"
    suffix = out.suffix.lower()
    if suffix not in known:
        kinds = ", ".join(s for s in known if s != ".htm")
        raise NotWritten(
            f"{name} is not a kind of file that can be written here; end its name in one of"
            f" {kinds}."
        )
    if os.path.lexists(out) and _is_survey(out):
        raise NotWritten(
            f"{name} holds a survey, which is never written over; choose another name."
        )
    return suffix


def _is_survey(path: Path) -> bool:
    """Whatever its name: a link to a survey, or one that was renamed."""
    if Path(os.path.realpath(path)).suffix.lower() == ".toml":
        return True
    try:
        return bool(load(path).last_number() or load(path).id)
    except Unreadable:
        return False
