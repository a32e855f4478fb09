"""The report as HTML: strict, self-contained, whole without styles and pictures; hostile text stays
text everywhere.
"""

from __future__ import annotations

from dataclasses import fields, replace
from pathlib import Path

import html5lib
import pytest

from tests.checks.surveys import DAY, bent, library, survey_of
from tests.hostile import HOSTILE
from tests.telling.pages import check, pictures, strict, tags, words
from wizard.library.paths import samples_dir
from wizard.survey.file import load
from wizard.survey.record import Survey
from wizard.survey.rows import NEVER, TABLES, Look, Opinion, Reading, Remark, Row, Skip
from wizard.telling.papers import report_as
from wizard.telling.report import Source

SOURCE = Source("a.toml", "0f" * 32)
BAD = (
    "</title></style><script>alert(1)</script><img src=x"
    " onerror=alert(2)>\"'&amp;\u202e\x1b[31m&#60;b&#62;"
)
SEEN = (
    "</title></style><script>alert(1)</script><img src=x onerror=alert(2)>\"'&amp;[31m&#60;b&#62;"
)
"""The same as text, without what drives a terminal or turns the line round."""


def page(survey: Survey) -> str:
    return report_as(survey, library(), DAY, SOURCE, ".html")


def hostile(survey: Survey) -> Survey:
    """The survey with a row of every table, and markup in every field of text of each."""
    for kind in TABLES.values():
        texts = {
            f.name: BAD for f in fields(kind) if f.type == "str" and f.name not in ("id", "struck")
        }
        survey = survey.with_row(kind(id=survey.new_id(kind), **texts))  # type: ignore[arg-type]
        struck = replace(kind(id=survey.new_id(kind), **texts), struck=BAD)  # type: ignore[arg-type]
        survey = survey.with_row(struck)
    return replace(survey, car=BAD, id=BAD, follows=BAD, program=BAD)


@pytest.mark.parametrize("path", sorted(samples_dir().glob("*.toml")), ids=lambda p: p.stem)
def test_samples_are_strict_and_self_contained(path: Path) -> None:
    check(page(load(path)))


@pytest.mark.parametrize(
    "survey", [survey_of({}), bent(), hostile(survey_of({})), hostile(bent())], ids=lambda _: ""
)
def test_any_survey_is_strict_and_self_contained(survey: Survey) -> None:
    check(page(survey))


def test_markup_in_any_field_stays_text() -> None:
    plain, attacked = page(bent()), page(hostile(bent()))
    assert set(tags(attacked)) == set(tags(plain))
    assert "\x1b" not in attacked
    assert "\u202e" not in attacked
    assert words(attacked).count(SEEN) > 20


def test_a_field_left_unescaped_would_be_found() -> None:
    """The twin that must fail: the same text put in raw brings elements of its own, and the strict
    parser objects.
    """
    raw = page(bent()).replace("<h1>", f"<h1>{BAD}", 1)
    assert "script" in tags(raw)
    with pytest.raises(html5lib.html5parser.ParseError):
        strict(raw)


def test_a_file_full_of_what_no_prompt_would_take(tmp_path: Path) -> None:
    for layout in ("straight-ladder", "never-heard-of"):
        path = tmp_path / f"{layout}.toml"
        path.write_text(HOSTILE.replace("LAYOUT", layout))
        check(page(load(path)))


def test_very_long_words_neither_break_nor_hide_anything() -> None:
    survey = survey_of({}).with_row(Remark(id="m1", text="x" * 500, by="o" * 300))
    assert "x" * 500 in words(page(survey))


def test_every_figure_is_there_with_its_scale_said() -> None:
    text = page(bent())
    keys = {p.get("aria-labelledby", "").split("-title")[0] for p in pictures(text)}
    assert {
        "plan",
        "string-left",
        "string-right",
        "twist",
        "value-twist",
        "value-sag-unloaded",
    } <= keys
    said = words(text)
    assert "times too large" in said
    assert "sag drawn" in said


def test_a_thin_plan_is_not_drawn_but_says_what_would_do_it() -> None:
    survey = survey_of({"long-diagonals/whole/front-left--rear-right": ["91 1/8"]})
    text = page(survey)
    assert 'id="plan-title"' not in text
    assert "too few to draw the frame" in words(text)


def test_rows_without_a_time_have_none() -> None:
    rows: list[Row] = [
        Reading(id="r1", at=NEVER),
        Look(id="k2", at=NEVER),
        Skip(id="p3"),
        Opinion(id="o4"),
    ]
    survey = survey_of({})
    for row in rows:
        survey = survey.with_row(row)
    assert "0001-01-01" not in page(survey)
