"""The report over time with an earlier survey lost, hostile, without its day, corrected: it says so
and goes on.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.checks.surveys import library
from tests.hostile import HOSTILE
from tests.judgment.pairs import again, said
from tests.telling.pages import check, tags, words
from tests.telling.saying import tells
from tests.telling.test_report import SOURCE, flat, unmarked
from tests.telling.test_report_html import BAD, hostile
from tests.telling.test_report_trend import NOW, paper, part, row, tables
from wizard.survey.file import load
from wizard.survey.rows import NEVER, Trip
from wizard.telling.document import Paragraph
from wizard.telling.papers import report_as
from wizard.telling.report import report_of
from wizard.telling.report_trend import TITLE, Earlier

LOST = "The earlier survey bramble-2026-10-10 is not in this survey's folder."
FACES = (".html", ".md", ".txt")


def test_what_is_missing_is_said_and_the_rest_goes_on() -> None:
    last = row(3)[2]
    page_ = report_as(last, library(), NOW, SOURCE, ".html", Earlier((), (LOST,)))
    check(page_)
    assert f"{TITLE} {LOST} Every finding and its doubt" in words(page_)
    for suffix in (".md", ".txt"):
        assert LOST in flat(
            unmarked(report_as(last, library(), NOW, SOURCE, suffix, Earlier((), (LOST,))))
        )


def test_without_the_one_between_the_first_is_compared_and_no_distance_is_made_up() -> None:
    """What was driven is said since the survey before: 1400 miles are not what lies between the
    first and the third.
    """
    one, _, three = row(3)
    found = part(report_of(three, library(), NOW, SOURCE, Earlier((one,), (LOST,))).blocks)
    assert found[0] == Paragraph(LOST)
    tells(tables(found)[0].caption, "Bramble", "2026-04-11 against 2027-05-08", "(392 days)")
    four = replace(
        again(three, three),
        id="four",
        rows={**three.rows, "trip": (Trip(id="t1", distance="500 miles"),)},
    )
    whole = report_as(four, library(), NOW, SOURCE, ".txt", Earlier(row(3)))
    assert "2800 miles" in flat(whole)
    gap = flat(report_as(four, library(), NOW, SOURCE, ".txt", Earlier((one, three), (LOST,))))
    assert "The trend over 3 surveys" in gap
    assert "1900 miles" not in gap


def test_after_a_correction_the_trend_begins_anew() -> None:
    one, two, three = row(3)
    mended = said(two, "since-last-time/corrected", "straightened")
    text = flat(report_as(three, library(), NOW, SOURCE, ".txt", Earlier((one, mended))))
    assert "The trend begins with the first survey after the frame was put right." in text
    assert "For a trend, three surveys are needed." in text
    mended = said(three, "since-last-time/corrected", "straightened")
    text = flat(report_as(mended, library(), NOW, SOURCE, ".txt", Earlier((one, two))))
    assert "What the work between did" in text
    assert "new since the work" in text or "further out than before" in text


@pytest.mark.parametrize("suffix", FACES)
def test_hostile_text_of_an_earlier_survey_stays_text(suffix: str) -> None:
    one, two, three = row(3)
    bad = [replace(hostile(s), id=f"{BAD}{n}") for n, s in enumerate((one, two))]
    last = replace(three, car="")
    text = report_as(
        last, library(), NOW, SOURCE, suffix, Earlier(tuple(bad), (f"{BAD} is gone.",))
    )
    assert "\x1b" not in text
    assert "\u202e" not in text
    if suffix == ".html":
        check(text)
        assert set(tags(text)) <= set(tags(paper(3, ".html")))
        assert "<script>alert(1)</script>" in words(text)
    elif suffix == ".md":
        assert "<script" not in text


def test_markup_of_the_other_kinds_stays_text() -> None:
    one, two, three = row(3)
    odd = "[/bold] `x` | # [a](http://b) <b>"
    text = report_as(
        replace(three, car=""), library(), NOW, SOURCE, ".md", Earlier((one, replace(two, car=odd)))
    )
    assert (
        r"\[/bold\] \`x\` \| \# \[a\]\(http\://b\) &lt;b&gt;\: 2026\-10\-10 against 2027\-05\-08"
        in text
    )
    typed = report_as(
        replace(three, car=""),
        library(),
        NOW,
        SOURCE,
        ".txt",
        Earlier((one, replace(two, car=odd))),
    )
    assert f"{odd}: 2026-10-10 against 2027-05-08" in flat(typed)


@pytest.mark.parametrize(
    "started",
    [NEVER, datetime(2026, 10, 10, tzinfo=UTC), datetime(2027, 5, 8, 10), datetime(1, 1, 2)],
)
@pytest.mark.parametrize("which", [0, 1])
def test_an_odd_date_stops_nothing(started: datetime, which: int) -> None:
    found = list(row(3))
    found[which] = replace(found[which], started=started)
    check(report_as(found[2], library(), NOW, SOURCE, ".html", Earlier(tuple(found[:2]))))


def test_a_file_full_of_what_no_prompt_would_take(tmp_path: Path) -> None:
    one, two, three = row(3)
    path = tmp_path / "odd.toml"
    path.write_text(HOSTILE.replace("LAYOUT", three.layout))
    odd = replace(load(path), id="odd")
    for before in ((odd,), (one, odd), (odd, two), (one, odd, two)):
        check(report_as(three, library(), NOW, SOURCE, ".html", Earlier(before)))
    check(report_as(odd, library(), NOW, SOURCE, ".html", Earlier((one, two))))
    check(report_as(replace(three, rows={}), library(), NOW, SOURCE, ".html", Earlier((one, two))))
