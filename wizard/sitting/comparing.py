"""Several survey files held against each other: read, put in order, compared.

A broken one is named and left alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from wizard.judgment.answer import answer_of
from wizard.judgment.change import compare
from wizard.judgment.series import Series, in_order, same_frame, series
from wizard.judgment.sister import with_sister, without_sister
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.sitting.naming import NotNamed, survey_file
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.file import read
from wizard.survey.own_frame import same_kind
from wizard.survey.record import Survey
from wizard.survey.rows import Sister
from wizard.survey.toml import Unreadable
from wizard.telling.answer_words import brief, told_of
from wizard.telling.change_words import compare_text
from wizard.telling.document import Block, Paragraph, section, set_out, told
from wizard.telling.json_out import series_json, two_json
from wizard.telling.sister_words import HEADING, sister_section, sister_then_and_now
from wizard.telling.text import lines_of
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
    comparison = compare(earlier, survey, library)
    part = section("sister", HEADING, sister_then_and_now(comparison, library))
    text = "\n".join([compare_text(comparison, library), *lines_of(set_out(told([part])))])
    return Reply("told", text, "Since last time", blocks=over_time((earlier, survey), library))


# A sister frame ----------------------------------------------------------------------------------


def with_sister_of(
    survey: Survey, path: Path, library: Library, now: datetime, by: str = ""
) -> Survey:
    """The survey with the sister frame of a file, all that is needed of it.

    Raises Refused, in one sentence, for a file that cannot be read or is of no sister.
    """
    try:
        sister = read(path)
    except Unreadable as error:
        raise Refused(str(error).rstrip(".")) from error
    sister = replace(sister, id=sister.id or path.stem)
    answer = answer_of(sister, library, now)
    at = now.replace(microsecond=0)
    return with_sister(survey, sister, library, at, (by, brief(told_of(answer, sister, library))))


def sister(sitting: Sitting, typed: str) -> Reply:
    """`/sister larch` keeps that frame's figures beside these, `/sister drop` leaves them out
    again, `/sister` tells the comparison.
    """
    said = typed.strip()
    if not said:
        return _sister_told(sitting)
    if said.lower() == "drop":
        if not sitting.survey.standing(Sister):
            return Reply("refused", NO_SISTER)
        failed = sitting.change(without_sister(sitting.survey))
        return failed or Reply("told", "The sister frame is left out from now on.")
    try:
        path = survey_file(said, str(sitting.folder))
        after = with_sister_of(sitting.survey, path, sitting.library, sitting.now(), sitting.by)
    except (Refused, NotNamed) as refused:
        return Reply("refused", str(refused))
    return sitting.change(after) or _sister_told(sitting)


NO_SISTER = (
    "No sister frame is kept. To compare with another frame of the same make, type /sister and the"
    " name of its survey."
)


def _sister_told(sitting: Sitting) -> Reply:
    found = sister_section(sitting.survey, sitting.library)
    if not found.items:
        return Reply("refused", NO_SISTER)
    text = "\n".join(lines_of(set_out([found])))
    return Reply("told", text, "Beside the sister frame", blocks=set_out([found]))


def _beside_sister(found: Series, library: Library) -> str:
    """How far the frame was from its sister then, and is now; empty where no sister is kept."""
    lines = sister_then_and_now(found.comparisons[0], library)
    part = section("sister", HEADING, lines)
    return "\n".join(["", *lines_of(set_out([part]))]) if part.items else ""


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
    if as_json:
        return series_json(found, library, faults)
    return series_text(found, library) + _beside_sister(found, library)


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
