"""Signed opinions: they stand beside the program's verdict, never in its place."""

from __future__ import annotations

from wizard.readings.plain import clean_line
from wizard.survey.record import Survey
from wizard.survey.rows import NEVER, Opinion

HEADING = "Signed opinions, beside the program's verdict"


def opinion_lines(survey: Survey) -> tuple[str, ...]:
    """Each opinion with who signed it and when, the latest last."""
    return tuple(_line(row) for row in survey.standing(Opinion))


def _line(row: Opinion) -> str:
    when = f", {row.at:%Y-%m-%d}" if row.at != NEVER else ""
    return f"{clean_line(row.text, 500)} (signed {clean_line(row.by, 60) or 'by nobody'}{when})"
