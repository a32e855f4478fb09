"""How high the blocks of a report are set: by the widths of the letters, against figures from
outside, and by what stands beside what.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from itertools import combinations
from pathlib import Path

import pytest

from tests.checks.surveys import bent, library, survey_of
from tests.telling.test_report import SAMPLES, SOURCE, sample
from wizard.judgment.answer import answer_of
from wizard.telling.document import Heading, Items, Paragraph, Picture, Table, items
from wizard.telling.front_page import ROOMS, SHEET, front_page
from wizard.telling.html import html_of
from wizard.telling.print_height import ACROSS, POINT, height, lines, wide
from wizard.telling.report import report_of
from wizard.telling.report_figures import found_picture

NOW = datetime(2027, 6, 1)


@pytest.mark.parametrize(
    ("text", "thousandths"),
    [
        # Adobe's metrics of Helvetica (Core 14 AFM files, phvr8a.afm), added up by hand.
        ("Hello", 722 + 556 + 222 + 222 + 556),
        ("5/32 in low", 556 + 278 + 556 + 556 + 278 + 222 + 556 + 278 + 222 + 556 + 722),
        ("WAVE", 944 + 667 + 667 + 667),
    ],
)
def test_a_line_is_as_wide_as_its_letters(text: str, thousandths: int) -> None:
    assert wide(text, 10.0) == pytest.approx(thousandths / 1000 * 10 * 25.4 / 72)
    assert wide(text, 10.0, bold=True) > wide(text, 10.0)


def test_a_text_is_broken_between_words_and_a_long_word_within() -> None:
    word = wide("measured", 8.5)
    assert lines("measured measured", 2.2 * word, 8.5) == 1
    assert lines("measured measured", 1.9 * word, 8.5) == 2
    assert lines("measured" * 5, 2.6 * word, 8.5) == 2
    assert lines("", ACROSS, 8.5) == 1


def test_what_is_longer_is_higher() -> None:
    short, long = Paragraph("A word."), Paragraph("A word more. " * 60)
    assert height([short]) < height([long]) < height([long, short])
    assert height([items(["a"])]) < height([items(["a", "b"])])
    table = Table("t", ("a", "b"), (("1", "2"),), (50, 50))
    assert height([table]) < height([table._replace(rows=(("1", "word " * 60),))])


def test_a_small_drawing_has_its_words_beside_it_and_leaves_that_room() -> None:
    survey = bent()
    answer = answer_of(survey, library(), NOW)
    large, small = (found_picture(answer, survey, library(), share) for share in (82, 48))
    assert (small.beside, large.beside) == (True, False)
    assert height([small]) < 0.75 * height([large])
    under = small._replace(share=63)
    assert not under.beside
    assert height([small]) < height([under])


@pytest.mark.parametrize("share", [82, 60, 40])
def test_its_letters_are_as_large_in_print_however_small_it_is(share: int) -> None:
    survey = bent()
    picture = found_picture(answer_of(survey, library(), NOW), survey, library(), share)
    words = re.findall(r"<text[^>]*?font-size=\"([\d.]+)\"", picture.figure.svg)
    assert len(words) == picture.figure.svg.count("<text")
    least = min(map(float, words)) * share / 100
    assert least == pytest.approx(13 * 0.82, rel=0.01)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("share", [82, 60, 40])
def test_no_two_words_of_it_lie_over_one_another(path: Path, share: int) -> None:
    survey = sample(path)
    picture = found_picture(answer_of(survey, library(), NOW), survey, library(), share)
    boxes = []
    for words in re.findall(r"<text[^>]*>[^<]*", picture.figure.svg):
        x, y, size = (
            float(re.findall(rf' {of}="([-\d.]+)"', words)[0]) for of in ("x", "y", "font-size")
        )
        long = wide(words.split(">")[1], size) / POINT
        left = {"start": 0.0, "middle": 0.5, "end": 1.0}[re.findall(r'anchor="(\w+)"', words)[0]]
        boxes.append((x - left * long, y - 0.72 * size, x + (1 - left) * long, y))
    for (x0, y0, x1, y1), (u0, v0, u1, v1) in combinations(boxes, 2):
        assert x1 <= u0 or u1 <= x0 or y1 <= v0 or v1 <= y0, (path.stem, share)


def test_a_title_of_two_lines_takes_room_from_the_page() -> None:
    survey = bent()
    named = replace(survey, car="Bramble, two-seat tourer " * 7)
    fronts = [
        front_page(answer_of(s, library(), NOW), s, library(), "foot").blocks
        for s in (survey, named)
    ]
    assert height(fronts[1]) < SHEET - 2 * 6.4
    assert height(fronts[0]) < SHEET


def test_even_the_least_page_has_a_drawing_that_can_be_read() -> None:
    """Only what is in room for nothing else has none."""
    shares = [room.share for room in ROOMS]
    assert min(shares[:-1]) >= 40


def test_no_table_of_a_report_stands_empty() -> None:
    for survey in (survey_of({}), bent()):
        report = report_of(survey, library(), NOW, SOURCE)
        tables = [b for b in report.blocks if isinstance(b, Table)]
        assert tables
        assert [t.caption for t in tables if not t.rows] == []
        columns = [(t, n) for t in tables for n in range(len(t.head))]
        assert [t.head[n] for t, n in columns if not any(row[n] for row in t.rows)] in (
            [],
            ["By, on"],
        )
        ids = {b.id for b in report.blocks if isinstance(b, Heading)}
        assert {"findings", "limits", "looks", "typed"} <= ids
        assert all(i.text for b in report.blocks if isinstance(b, Items) for i in b.items)


def test_under_a_chart_each_consequence_is_said_once_the_gravest_first() -> None:
    report = report_of(bent(), library(), NOW, SOURCE)
    charts = [
        b for b in report.blocks if isinstance(b, Picture) and b.figure.key.startswith("value")
    ]
    assert len(charts) > 5
    for chart in charts:
        words = chart.figure.words
        said = [f"{one}: " for one in ("Put it right", "Leave it", "Take it to a specialist")]
        assert all(words.count(one) <= 1 for one in said), words
        assert words.count("nothing to put right") <= 1, words
        if "Put it right: " in words and "Leave it: " in words:
            assert words.index("Put it right: ") < words.index("Leave it: ")
    assert "Put it right: right, rear engine mount (S3) 7/16 in low" in html_of(report)
