"""`/strike` and `/undo`: what was written down is taken out, and stays in the file as struck out."""

from __future__ import annotations

from dataclasses import replace

from wizard.readings.plain import clean_line
from wizard.sitting.adding import leave_gone
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.answer import FIXED
from wizard.survey.record import Survey, number_of
from wizard.survey.rows import (
    SECOND,
    Answer,
    Guess,
    Look,
    Opinion,
    OwnLimit,
    OwnPlace,
    PointNote,
    Reading,
    Remark,
    Row,
    Size,
    Skip,
    Tool,
)
from wizard.survey.sizes import words
from wizard.survey.state import settle, without_tool

WRITTEN: tuple[type[Row], ...] = (
    *(Reading, Look, Answer, Skip, Remark),
    *(Size, OwnLimit, Guess, Opinion, PointNote, OwnPlace),
)
"""What `/undo` may take back."""


BACK = (Reading, Skip, OwnPlace, Size, OwnLimit, Tool, Remark, Guess, Opinion, PointNote)
"""What `/undo` puts back right after it was struck: nothing else hangs on it."""


def strike(sitting: Sitting, why: str) -> Reply:
    """Take out the last standing answer to the prompt in front, or of the one answered last.

    `/strike z12 slip` takes out the row of that number, as `/readings` and `tell` show it.
    """
    number, _, rest = why.partition(" ")
    named = next((r for r in _standing(sitting.survey, (*WRITTEN, Tool)) if r.id == number), None)
    if named is not None:
        return _strike(sitting, named, rest)
    rows = _rows_of(sitting.survey, sitting.ask.prompt.id) if sitting.ask else []
    rows = [r for r in rows if r.by != SECOND] or rows  # the first reader's slip is not the second's
    if not rows:
        return _take_back(sitting, why or "struck", "Struck")
    return _strike(sitting, rows[-1], why)


def _strike(sitting: Sitting, row: Row, why: str) -> Reply:
    reply = _take_out(sitting, row, why or "struck", "Struck")
    if reply.kind == "taken" and isinstance(row, BACK):
        sitting.struck_now = row.id
    return reply


def _put_back(sitting: Sitting) -> Reply | None:
    """The reading struck last stands again; None where it is no longer the last thing that was done."""
    row = next((r for r in sitting.survey.all_rows() if r.id == sitting.struck_now and r.struck), None)
    sitting.struck_now = ""
    if row is None or not isinstance(row, BACK):
        return None
    failed = sitting.change(sitting.survey.with_replaced(replace(row, struck="")))
    if failed:
        return failed
    if isinstance(row, OwnPlace):
        return Reply("taken", f"Undone: {row.name} is asked for again.")
    if isinstance(row, Reading | Skip):
        sitting.stand_before(row.prompt)
    return Reply("taken", f"Undone: {_said(sitting, row)} stands again.")


def _standing(survey: Survey, kinds: tuple[type[Row], ...]) -> list[Row]:
    return [r for kind in kinds for r in survey.standing(kind)]


def _tools_set(survey: Survey) -> list[Row]:
    """Tools whose figure was set by `/tool`: no answer brought them, and another of the kind stood before."""
    answers = {number_of(a.id) for a in survey.table(Answer)}
    kinds: set[str] = set()
    found: list[Row] = []
    for tool in survey.table(Tool):
        if tool.kind in kinds and not tool.struck and number_of(tool.id) - 1 not in answers:
            found.append(tool)
        kinds.add(tool.kind)
    return found


def _rows_of(survey: Survey, prompt: str) -> list[Row]:
    kinds: tuple[type[Reading] | type[Look] | type[Answer] | type[Skip], ...] = (Reading, Look, Answer, Skip)
    rows = [r for kind in kinds for r in survey.standing(kind) if r.prompt == prompt]
    return sorted(rows, key=lambda r: number_of(r.id))


def undo(sitting: Sitting, _: str) -> Reply:
    """Take back the last thing written down; right after a strike, put back what was struck."""
    if sitting.struck_now and (back := _put_back(sitting)):
        return back
    return _take_back(sitting, "undone", "Undone")


def _take_back(sitting: Sitting, why: str, says: str) -> Reply:
    survey = sitting.survey
    rows = [*_standing(survey, WRITTEN), *_tools_set(survey)]
    if not rows:
        return Reply("refused", "There is nothing to take out yet.")
    return _take_out(sitting, max(rows, key=lambda r: number_of(r.id)), why, says)


def _take_out(sitting: Sitting, row: Row, why: str, says: str) -> Reply:
    """Strike a row and what hangs on it, and stand before its prompt again."""
    survey = _without(sitting, row, why[:200])
    if any(survey.table(Reading) and f(survey) != f(sitting.survey) for f in FIXED.values()):
        return Reply("refused", "Readings are written down already, so this stays as it was answered.")
    failed = sitting.change(survey)
    if failed:
        return failed
    sitting.stand_before(str(getattr(row, "prompt", "")))
    leave_gone(sitting)
    return Reply("taken", f"{says}: {_said(sitting, row)}. It stays in the file as struck out.")


def _said(sitting: Sitting, row: Row) -> str:
    """What a row says, in a few words."""
    if isinstance(row, Size):
        return f"{words(row.name)} {row.typed}"
    return clean_line(
        _as_said(sitting, row)
        or getattr(row, "typed", "")
        or getattr(row, "answer", "")
        or getattr(row, "why", "")
        or getattr(row, "name", "")
        or getattr(row, "point", "")
        or row.id,
        200,
    )


def _as_said(sitting: Sitting, row: Row) -> str:
    """The words of a choice, not its inner name; empty for what was typed freely."""
    token = row.answer if isinstance(row, Answer | Look) else ""
    prompts = (p for page in sitting.pages() for p in page.prompts if p.id == getattr(row, "prompt", ""))
    return next((c.words for p in prompts for c in p.choices if token and c.token == token), "")


def _without(sitting: Sitting, row: Row, why: str) -> Survey:
    """The survey with the row struck out, and with what the row had brought about taken back."""
    survey, at, by = sitting.survey.with_struck(row.id, why), sitting.at, sitting.by
    if isinstance(row, Look):  # one line may have set down several things seen: they are taken back together
        for look in survey.looks_at(row.prompt):
            survey = survey.with_struck(look.id, why) if look.at == row.at else survey
    if isinstance(row, Answer) and row.keeps.startswith("tool."):
        return without_tool(survey, row, sitting.library.tools, why, at, by)
    if isinstance(row, Answer) and row.keeps:
        return settle(survey, row.keeps, at, by)
    return survey
