"""The raw readings as a table for a spreadsheet, one row each, in which no cell is ever taken for a
formula.
"""

from __future__ import annotations

import csv
import io

from wizard.checks.case import Case, case_of
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.survey.record import Survey
from wizard.survey.rows import Doubt, Reading, Tool

HEAD = (
    "survey",
    "id",
    "prompt",
    "asked",
    "typed",
    "value",
    "unit",
    "tool",
    "tool_name",
    "state",
    "engine",
    "body",
    "supports",
    "warmth",
    "by",
    "at",
    "struck",
    "doubt",
)
_STARTS = ("=", "+", "-", "@", "\t", "\r", "|", "%", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""What a spreadsheet may take for the beginning of a formula or a command; the last four are the
full-width signs.
"""


def cell(text: str) -> str:
    """Text that stays text: an apostrophe before what would begin a formula.

    >>> cell("=1+1"), cell("25 7/8")
    ("'=1+1", '25 7/8')
    """
    line = clean_line(text, 2000)
    return f"'{line}" if line.startswith(_STARTS) else line


def report_csv(survey: Survey, library: Library) -> str:
    """Every reading, the struck ones too. `value` is in mm, or the slope as a ratio for a level;
    empty where the text cannot be read.
    """
    case = case_of(survey, library)
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(HEAD)
    tools = {t.id: t for t in survey.table(Tool)}
    doubts = {d.reading: d.text for d in survey.standing(Doubt)}
    for row in survey.table(Reading):
        prompt, state, tool = (
            case.prompts.get(row.prompt),
            survey.state_of(row.state),
            tools.get(row.tool),
        )
        value, unit = _value(case, row)
        cells = [survey.id, row.id, str(row.prompt), prompt.ask if prompt else "", row.typed]
        rest = [
            row.tool,
            tool.name if tool else "",
            row.state,
            state.engine,
            state.body,
            state.supports,
            state.temperature,
            row.by,
        ]
        rest += [row.at.isoformat() if row.at.year > 1 else "", row.struck, doubts.get(row.id, "")]
        # The value is a number of our own making, so a minus before it is a minus.
        writer.writerow([*map(cell, cells), value, unit, *map(cell, rest)])
    return out.getvalue()


def _value(case: Case, row: Reading) -> tuple[str, str]:
    if row.prompt not in case.prompts:
        return "", ""
    try:
        value = case.value(row)
    except Refused:
        return "", ""
    return repr(value), case.prompts[row.prompt].kind.unit
