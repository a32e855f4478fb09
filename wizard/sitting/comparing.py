"""Several survey files held against each other: read, put in order, compared.

A broken one is named and left alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from wizard.judgment.change import compare
from wizard.judgment.series import in_order, same_frame, series
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.sitting.reply import Reply
from wizard.survey.file import read
from wizard.survey.own_frame import same_kind
from wizard.survey.record import Survey
from wizard.survey.toml import Unreadable
from wizard.telling.change_words import compare_text
from wizard.telling.document import Block, Paragraph
from wizard.telling.json_out import series_json, two_json
from wizard.telling.trend_words import series_text
from wizard.telling.two_frames import two_frames


@dataclass(frozen=True, slots=True)
class Compared:
    """What came of it."""

    text: str
    """Words or JSON; empty where fewer than two files could be read."""
    blocks: tuple[Block, ...] = ()
    """The same as the report has it, with tables and pictures, where that was asked for; empty for
    two frames.
    """
    faults: tuple[str, ...] = ()
    """One sentence for each file that was refused or left out."""


def compare_files(
    paths: Sequence[Path],
    library: Library,
    today: datetime,
    *,
    as_json: bool = False,
    drawn: bool = False,
) -> Compared:
    """The surveys in the files compared: two of one frame, three or more as a row with its trend,
    or two frames.

    drawn: as the report has it too.
    """
    read_in, faults = _read(paths)
    text = ""
    blocks: tuple[Block, ...] = ()
    if len(read_in) == 2 and not same_frame(*read_in):
        a, b = read_in
        text = two_json(a, b, library, faults) if as_json else two_frames(a, b, library, today)
    elif len(read_in) > 1:
        surveys, left_out = _one_frame(in_order(read_in), library)
        faults += left_out
        text = _as_row(surveys, library, faults, as_json)
        if text and drawn:
            blocks = over_time(surveys, library)
    return Compared(text, blocks, tuple(why for _, why in faults))


def compared(paths: Sequence[Path], library: Library, now: datetime) -> Reply:
    """The surveys held against each other, as a page of text.

    Raises Refused where fewer than two can be.
    """
    found = compare_files(paths, library, now, drawn=True)
    if not found.text:
        raise Refused(" ".join(found.faults) or "You need two surveys to compare.")
    text = "\n\n".join([found.text, *found.faults])
    faults = (Paragraph(why) for why in found.faults)
    blocks = (*found.blocks, *faults) if found.blocks else ()
    return Reply("told", text, "Compared", blocks=blocks)


def since_last(earlier: Survey, survey: Survey, library: Library) -> Reply:
    """What has changed since the survey that this one follows."""
    text = compare_text(compare(earlier, survey, library), library)
    return Reply("told", text, "Since last time", blocks=over_time((earlier, survey), library))


def over_time(surveys: Sequence[Survey], library: Library) -> tuple[Block, ...]:
    """The surveys of one frame, the oldest first, as the report of the last one tells of them."""
    from wizard.telling.report_trend import Earlier, trend_part  # what draws on paper comes with it

    *earlier, last = surveys
    _, *blocks = trend_part(last, library, Earlier(tuple(earlier)))
    return tuple(blocks)


def _as_row(
    surveys: tuple[Survey, ...], library: Library, faults: list[tuple[str, str]], as_json: bool
) -> str:
    """The surveys of one frame as a row with its trend; empty where there is but one."""
    if len(surveys) < 2:
        return ""
    found = series(surveys, library)
    return series_json(found, library, faults) if as_json else series_text(found, library)


def _read(paths: Sequence[Path]) -> tuple[list[Survey], list[tuple[str, str]]]:
    found: list[Survey] = []
    faults: list[tuple[str, str]] = []
    for path in paths:
        try:
            survey = read(path)
        except Unreadable as error:
            faults.append((path.name, str(error)))
            continue
        found.append(replace(survey, id=survey.id or path.stem))
    return found, faults


def _one_frame(
    surveys: tuple[Survey, ...], library: Library
) -> tuple[tuple[Survey, ...], list[tuple[str, str]]]:
    """Those of the frame and kind of frame of the last one; the others are named."""
    last = surveys[-1]
    kept, out = [], []
    for survey in surveys:
        if not same_kind(survey, last, library):
            why = "is of another kind of frame, so its figures are from other places"
        elif not same_frame(survey, last) and not any(
            same_frame(survey, s) for s in surveys if s is not survey
        ):
            why = "is of another frame, and only two different frames can be put side by side"
        else:
            kept.append(survey)
            continue
        name = clean_line(survey.id, 60)
        out.append((name, f"{name} {why}; it was left out."))
    return tuple(kept), out
