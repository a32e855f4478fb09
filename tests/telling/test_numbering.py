"""A point and a station have one number each, the same in every drawing, table, brief and sheet."""

from __future__ import annotations

import re
from datetime import datetime

import pytest

from tests.checks.surveys import library
from wizard.checks.case import case_of
from wizard.judgment.answer import answer_of
from wizard.library.paths import samples_dir
from wizard.library.places import WhereId
from wizard.library.shapes import Layout
from wizard.survey.file import load
from wizard.survey.own_places import with_own_places
from wizard.survey.record import Survey
from wizard.survey.rows import OwnPlace
from wizard.telling.document import Picture, Table
from wizard.telling.numbering import (
    numbered_name,
    numbers_of,
    point_numbers,
    station_numbers,
)
from wizard.telling.report import Source, report_of
from wizard.telling.sheet import sheet_of
from wizard.telling.sheet_form import form_of
from wizard.telling.sheet_html import form_html
from wizard.telling.shop_brief import shop_brief

DAY = datetime(2027, 6, 1)
SOURCE = Source("x.toml", "0" * 64)
MARIGOLD = samples_dir() / "marigold-2026-05-02.toml"


def survey() -> Survey:
    return load(MARIGOLD)


def layout() -> Layout:
    return case_of(survey(), library()).layout


def drawn(html: str) -> dict[str, tuple[str, ...]]:
    """What is written in each drawing, by its title."""
    found = re.findall(r"<svg[^>]*>.*?<title[^>]*>(.*?)</title>(.*?)</svg>", html, re.S)
    return {title: tuple(re.findall(r"<text[^>]*>(.*?)</text>", body)) for title, body in found}


@pytest.mark.parametrize("name", sorted(library().layouts))
def test_they_go_front_to_rear_and_left_before_right(name: str) -> None:
    layout = library().layouts[name]
    at = {point: (p.x, n) for p in layout.places for n, point in enumerate(p.points)}
    order = list(point_numbers(layout))
    assert order == sorted(order, key=lambda id: at[id])
    along = [layout.station_by_id[id].x for id in station_numbers(layout)]
    assert along == sorted(along)


def test_an_added_place_moves_no_number() -> None:
    before = library().layouts["straight-ladder"]
    row = OwnPlace(
        id="w1", use="tape", place="own-x", name="x", kind="hole", behind="10 in", across=""
    )
    after = with_own_places(before, Survey(rows={"place": (row,)}))
    assert len(point_numbers(after)) == len(point_numbers(before)) + 2
    assert list(point_numbers(after).items())[: len(point_numbers(before))] == list(
        point_numbers(before).items()
    )


def test_each_point_and_station_stands_in_the_drawings_of_report_brief_and_sheet() -> None:
    points = {str(n) for n in point_numbers(layout()).values()}
    stations = station_numbers(layout())
    named = {f"{n} {layout().station_by_id[id].name}" for id, n in stations.items()}
    report = drawn(_html())
    assert points <= {*report["Where it was found"]}
    assert points | {*stations.values()} <= {*report["The frame from above"]}
    assert named <= {*report["The left rail under its string"]}
    brief = drawn(form_html(shop_brief(survey(), library(), DAY)))
    sheet = drawn(form_html(form_of(sheet_of(library(), layout().id, {}))))
    for page in (brief, sheet):
        assert points | named <= {*page["The points of the frame, from above"]}


def _html() -> str:
    from wizard.telling.html import html_of

    return html_of(report_of(survey(), library(), DAY, SOURCE))


def test_the_table_of_page_one_and_the_brief_name_the_same_numbers() -> None:
    answer = answer_of(survey(), library(), DAY)
    named = {str(j.finding.id): numbered_name(j.finding, layout()) for j in answer.verdict.judged}
    assert named["rail-shift/whole"].endswith("(3, 4, 7, 8)")
    sags = {id: name for id, name in named.items() if id.startswith("sag-") and "/left" in id}
    assert sags
    for id, name in sags.items():
        station = WhereId(id.split("/")[1])
        assert name.endswith(f"({station_numbers(layout())[station]})")
    blocks = report_of(survey(), library(), DAY, SOURCE).blocks
    table = next(b for b in blocks if isinstance(b, Table) and b.head[0] == "What, where")
    first = {row[0] for row in table.rows}
    assert first <= {name[:1].upper() + name[1:] for name in named.values()}
    brief = form_html(shop_brief(survey(), library(), DAY))
    assert "Whole frame: one rail along the other (3, 4, 7, 8)" in brief


def test_a_tape_and_a_gap_have_their_numbers_on_the_sheet() -> None:
    sheet = sheet_of(library(), "straight-ladder", {})
    boxes = [box for step in sheet.steps for box in step.boxes]
    stations = station_numbers(library().layouts["straight-ladder"])
    gaps = [b for b in boxes if b.ask.prompt.item in stations and b.ask.prompt.each == "station"]
    assert gaps
    assert all(b.points == stations[b.ask.prompt.item] for b in gaps)


def test_what_is_read_nowhere_has_none() -> None:
    answer = answer_of(survey(), library(), DAY)
    hand = [j.finding for j in answer.verdict.judged if str(j.finding.id).startswith("hand/")]
    assert hand
    assert [numbers_of(f, layout()) for f in hand] == [""] * len(hand)


def test_the_words_of_the_drawings_have_them_too() -> None:
    blocks = report_of(survey(), library(), DAY, SOURCE).blocks
    words = {b.figure.title: b.figure.words for b in blocks if isinstance(b, Picture)}
    assert "S3 rear engine mount" in words["The left rail under its string"]
    assert "3 left front" in words["The frame from above"]
    assert "3 left front" in words["Where it was found"]
