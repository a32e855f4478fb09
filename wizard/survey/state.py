"""Answers that change something beyond themselves: the car's name, the unit, the state, the tools."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, replace
from datetime import datetime

from wizard.library.shapes import ToolKind
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Look, Reading, Row, State, Tool

STATE_FIELDS = tuple(f.name for f in fields(State) if f.name not in {f.name for f in fields(Row)})


def settle(survey: Survey, keeps: str, at: datetime, by: str) -> Survey:
    """Carry the latest standing answer that keeps `keeps` to where it is kept; unchanged for a plain answer.

    Works after an answer was struck as well: the field goes back to what the answers before it said.
    """
    answer = next((a.answer for a in reversed(survey.standing(Answer)) if a.keeps == keeps), "")
    if keeps == "survey.car":
        return replace(survey, car=answer)
    if keeps == "survey.unit":
        return replace(survey, unit="mm" if answer == "mm" else "in")
    if keeps == "survey.layout":
        return replace(survey, layout=answer or survey.layout)
    if keeps.startswith("state."):
        return _with_state(survey, keeps.removeprefix("state."), answer, at, by)
    return survey


def _referred(survey: Survey, state: str) -> bool:
    """Whether any row, struck or not, names the state: then it must stay as it was."""
    return any(r.state == state for r in survey.table(Reading)) or any(k.state == state for k in survey.table(Look))


def _with_state(survey: Survey, field: str, value: str, at: datetime, by: str) -> Survey:
    now = survey.state()
    if field not in STATE_FIELDS or getattr(now, field) == value:
        return survey
    changed = {f: value if f == field else str(getattr(now, f)) for f in STATE_FIELDS}
    if now.id and not _referred(survey, now.id):
        return survey.with_replaced(_state(now.id, now.at, now.by, changed))
    return survey.with_row(_state(survey.new_id(State), at, by, changed))


def _state(id: str, at: datetime, by: str, values: Mapping[str, str]) -> State:
    return replace(State(id=id, at=at, by=by), **values)  # type: ignore[arg-type]


def with_tool_start(survey: Survey, start: str, at: datetime, by: str) -> Survey:
    """The same survey with the tape started at `mark`, `taken-off` (the person subtracts) or `hook`.

    Readings name the tool they were taken with, so another start is another row once the old one is in use.
    """
    tape = survey.tool("tape")
    if tape is None:
        return survey
    values = {**tape.extra, "start": start, "end": "hook" if start == "hook" else "mark"}
    if any(r.tool == tape.id for r in survey.table(Reading)):
        row = Tool(id=survey.new_id(Tool), at=at, by=by, kind="tape", name=tape.name, extra=values)
        return survey.with_row(row)
    return survey.with_replaced(replace(tape, extra=values))


def with_tool(survey: Survey, tool: ToolKind, at: datetime, by: str) -> Survey:
    """The same survey with a tool to hand; readings from now on name it.

    A figure authored for both units (`division_in`, `division_mm`) is taken in the survey's unit.
    """
    other = "_mm" if survey.unit == "in" else "_in"
    values = {k.removesuffix(f"_{survey.unit}"): v for k, v in tool.values.items() if not k.endswith(other)}
    row = Tool(id=survey.new_id(Tool), at=at, by=by, kind=tool.kind, name=tool.name, extra=values)
    return survey.with_row(row)
