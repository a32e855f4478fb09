"""Answers that change something beyond themselves: the car's name, the unit, the state, the tools."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, replace
from datetime import datetime
from typing import Any

from wizard.library.places import kept_of, tool_kind
from wizard.library.shapes import ToolKind
from wizard.survey.record import Survey, number_of
from wizard.survey.rows import Answer, Look, Reading, Row, State, Tool, Trip

TAPE_START = "tool.tape.start"
"""Keeps where the tape in hand is started, not another tool."""
STATE_FIELDS = tuple(f.name for f in fields(State) if f.name not in {f.name for f in fields(Row)})


def said_last(survey: Survey, keeps: str) -> str:
    """The latest standing answer that keeps `keeps`, empty when there is none."""
    answer = next((a.answer for a in reversed(survey.standing(Answer)) if a.keeps == keeps), "")
    return "" if answer == "-" else answer


def settle(survey: Survey, keeps: str, at: datetime, by: str) -> Survey:
    """Carry the latest standing answer that keeps `keeps` to where it is kept; unchanged for a
    plain answer.

    Works after an answer was struck as well: the field goes back to what the answers before it
    said.
    """
    answer = said_last(survey, keeps)
    if keeps == "survey.car":
        return replace(survey, car=answer)
    if keeps == "survey.unit":
        return replace(survey, unit="mm" if answer == "mm" else "in")
    if keeps == "survey.layout":
        return replace(survey, layout=answer or survey.layout)
    kept = kept_of(keeps)
    if kept.table == "state":
        return _with_state(survey, kept.field, answer, at, by)
    if kept.table == "trip":
        return _with_trip(survey, kept.field, answer, at, by)
    return survey


def _with_trip(survey: Survey, field: str, value: str, at: datetime, by: str) -> Survey:
    """The one row of what the car went through since the earlier survey, with a field of it set."""
    trips = [t for t in survey.standing(Trip) if "then" not in t.extra]
    trip = trips[-1] if trips else Trip(id=survey.new_id(Trip), at=at, by=by)
    changed = replace(trip, **{field: value})  # type: ignore[arg-type]
    return survey.with_replaced(changed) if trips else survey.with_row(changed)


def _referred(survey: Survey, state: str) -> bool:
    """Whether any row, struck or not, names the state: then it must stay as it was."""
    return any(r.state == state for r in survey.table(Reading)) or any(
        k.state == state for k in survey.table(Look)
    )


def _with_state(survey: Survey, field: str, value: str, at: datetime, by: str) -> Survey:
    now = survey.state()
    if field not in STATE_FIELDS or getattr(now, field) == value:
        return survey
    if now.id and not _referred(survey, now.id):
        return survey.with_replaced(replace(now, **{field: value}))  # type: ignore[arg-type]
    changed = {f: value if f == field else str(getattr(now, f)) for f in STATE_FIELDS}
    return survey.with_row(replace(State(id=survey.new_id(State), at=at, by=by), **changed))  # type: ignore[arg-type]


def with_tool_start(survey: Survey, start: str, at: datetime, by: str) -> Survey:
    """The same survey with the tape started at `mark`, `taken-off` (the person subtracts) or
    `hook`.

    Readings name the tool they were taken with, so another start is another row once the old one is
    in use.
    """
    tape = survey.tool("tape")
    if tape is None:
        return survey
    return _with_values(survey, tape, _started(tape.extra, start), at, by)


def _started(values: Mapping[str, Any], start: str) -> dict[str, Any]:
    return {**values, "start": start, "end": "hook" if start == "hook" else "mark"}


def _with_values(
    survey: Survey, tool: Tool, values: Mapping[str, Any], at: datetime, by: str
) -> Survey:
    """The tool with other figures: the same row while no reading names it, else a new one."""
    if any(r.tool == tool.id for r in survey.table(Reading)):
        row = Tool(
            id=survey.new_id(Tool), at=at, by=by, kind=tool.kind, name=tool.name, extra=values
        )
        return survey.with_row(row)
    return survey.with_replaced(replace(tool, extra=values))


def without_tool(
    survey: Survey, answer: Answer, tools: Mapping[str, ToolKind], why: str, at: datetime, by: str
) -> Survey:
    """The same survey once an answer about a tool was struck: the tool's row goes with it, or its
    start goes back.
    """
    start_only = answer.keeps == TAPE_START
    # An answer and the row it brought are written in one go, so their numbers follow one another.
    kind, number = "tape" if start_only else tool_kind(answer.keeps), number_of(answer.id) + 1
    mine = (t for t in survey.standing(Tool) if t.kind == kind)
    brought = next((t for t in mine if number_of(t.id) == number), None)
    if brought is not None:
        return survey.with_struck(brought.id, why)
    tape = survey.tool("tape")
    return _start_again(survey, tape, tools, at, by) if start_only and tape else survey


def _start_again(
    survey: Survey, tape: Tool, tools: Mapping[str, ToolKind], at: datetime, by: str
) -> Survey:
    """The tape started as the answers that still stand say; as it was made, where none does."""
    chosen, start = tools.get(said_last(survey, "tool.tape")), said_last(survey, TAPE_START)
    as_found = {k: v for k, v in tape.extra.items() if k != "start"}
    values = chosen.in_unit(survey.unit) if chosen else as_found
    return _with_values(survey, tape, _started(values, start) if start else values, at, by)


def with_tool(survey: Survey, tool: ToolKind, at: datetime, by: str) -> Survey:
    """The same survey with a tool to hand; readings from now on name it.

    A figure authored for both units (`division_in`, `division_mm`) is taken in the survey's unit.
    Where the tape starts was said of the hand that holds it, so another tape is started the same
    way until that is said anew.
    """
    values, start = tool.in_unit(survey.unit), said_last(survey, TAPE_START)
    if tool.kind == "tape" and start:
        values = _started(values, start)
    row = Tool(id=survey.new_id(Tool), at=at, by=by, kind=tool.kind, name=tool.name, extra=values)
    return survey.with_row(row)
