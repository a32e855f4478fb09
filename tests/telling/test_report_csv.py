"""Raw readings for a spreadsheet: every one, exact, and never a formula."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from tests.checks.surveys import bent, library, survey_of
from tests.telling.test_report_html import hostile
from wizard.checks.case import Case
from wizard.library.paths import samples_dir
from wizard.survey.file import load
from wizard.survey.record import Survey
from wizard.survey.rows import Reading
from wizard.telling.report_csv import HEAD, cell, report_csv

pytestmark = pytest.mark.quick


def table(survey: Survey) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(report_csv(survey, library()), newline="")))


@pytest.mark.parametrize("path", sorted(samples_dir().glob("*.toml")), ids=lambda p: p.stem)
def test_every_reading_is_a_row_with_its_exact_value(path: Path) -> None:
    survey = load(path)
    rows = table(survey)
    assert [r["id"] for r in rows] == [r.id for r in survey.table(Reading)]
    assert tuple(rows[0]) == HEAD
    case = Case(survey, library())
    for row, reading in zip(rows, survey.table(Reading), strict=True):
        assert float(row["value"]) == case.value(reading)
        assert row["typed"] == reading.typed


def test_a_known_reading_by_hand() -> None:
    """25 7/8 in is 657.225 mm (identity: 25.4 mm to the inch)."""
    row = table(survey_of({"widths/front/front-left--front-right": ["25 7/8"]}))[0]
    assert (row["typed"], row["value"], row["unit"]) == ("25 7/8", "657.225", "mm")


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t=", "\r=", " =", "\n+", "|", "%"])
def test_what_a_spreadsheet_takes_for_a_formula_is_text(start: str) -> None:
    assert cell(f"{start}cmd()").startswith("'")
    assert cell("25 7/8") == "25 7/8"


def test_hostile_fields_begin_no_formula() -> None:
    bad = '=HYPERLINK("http://x","y")'
    survey = survey_of({}).with_row(
        Reading(id="r900", prompt=bad, typed=bad, by="@x", tool="+1", state="-2")
    )
    for row in table(survey):
        assert not any(v.startswith(("=", "+", "-", "@")) for v in row.values())
    assert table(hostile(bent()))


def test_a_gap_below_zero_stays_a_number() -> None:
    row = table(survey_of({"front-box-bar/front-right--center-left": ["2 mm short"]}))[0]
    assert float(row["value"]) == -2.0
