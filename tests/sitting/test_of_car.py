"""The number on the frame, other marks and the place: noted with one command, said on every paper."""

from __future__ import annotations

import json
from datetime import datetime

import pytest

from tests.checks.surveys import library
from tests.sitting.driving import BEGUN, READ, Driver
from wizard.survey.follow import following
from wizard.survey.record import Survey
from wizard.survey.rows import CarNote
from wizard.telling.document import Paragraph, Terms
from wizard.telling.json_out import as_json
from wizard.telling.of_car import LONGEST, of_car
from wizard.telling.papers import report_as
from wizard.telling.report import Source, report_of
from wizard.telling.sheet import sheet_of
from wizard.telling.sheet_form import form_of
from wizard.telling.sheet_html import form_html
from wizard.telling.sheet_text import form_text
from wizard.telling.shop_brief import shop_brief

DAY = datetime(2027, 5, 8)
SOURCE = Source("bramble.toml", "0" * 64)
NUMBER, MARKS, PLACE = "<b>A&1</b> 4711", "plate, left rail", "my barn"


@pytest.fixture
def noted(driver: Driver) -> Driver:
    lines = (f"/car number {NUMBER}", f"/car marks {MARKS}", f"/car place {PLACE}")
    return driver.run(*BEGUN, "/go long-diagonals", READ, *lines)


def flat(text: str) -> str:
    return " ".join(text.split())


def first_rows(survey: Survey) -> dict[str, str]:
    """The lines of page one by what they are about."""
    (terms, *_) = report_of(survey, library(), DAY, SOURCE).blocks
    assert isinstance(terms, Terms)
    return {label: item.text for label, item in terms.rows}


def test_it_stands_on_page_one_as_it_was_typed(noted: Driver) -> None:
    rows = first_rows(noted.saved)
    assert (
        f"number on the frame, as typed: {NUMBER}; other marks, as typed: {MARKS}"
        in rows["The car"]
    )
    assert f"Place of the survey, as typed: {PLACE}." in rows["Measured by"]


def test_what_is_noted_is_not_asked_for_by_hand_and_what_is_not_is(noted: Driver) -> None:
    def lines(survey: Survey) -> str:
        blocks = report_of(survey, library(), DAY, SOURCE).blocks
        return " ".join(b.text for b in blocks if isinstance(b, Paragraph))

    assert "Number on the frame ____" not in lines(noted.saved)
    noted.run("/undo")
    assert "Place of the survey ____" in lines(noted.saved)


@pytest.mark.parametrize("suffix", [".html", ".md", ".txt"])
def test_every_form_has_it_and_none_takes_it_for_markup(noted: Driver, suffix: str) -> None:
    text = flat(report_as(noted.saved, library(), DAY, SOURCE, suffix))
    shown = {".html": "&lt;b&gt;A&amp;1&lt;/b&gt; 4711", ".txt": NUMBER}.get(suffix)
    assert shown is None or shown in text
    assert "4711" in text
    assert suffix == ".txt" or "<b>A" not in text


def test_the_brief_and_the_sheet_have_it(noted: Driver) -> None:
    survey = noted.saved
    brief = shop_brief(survey, library(), DAY)
    sheet = form_of(sheet_of(library(), survey.layout, {}, survey=survey))
    for form in (brief, sheet):
        assert f"Number on the frame, as typed: {NUMBER}" in flat(form_text(form))
        assert "&lt;b&gt;A&amp;1&lt;/b&gt; 4711" in form_html(form)
        assert "Number on the frame: ___" not in flat(form_text(form))


def test_a_blank_sheet_has_room_for_it() -> None:
    sheet = form_of(sheet_of(library(), "straight-ladder", {}))
    assert "Number on the frame" in form_text(sheet)


def test_it_is_data(noted: Driver) -> None:
    car = json.loads(as_json(noted.saved, library(), DAY))["car"]
    assert {one["about"]: one["text"] for one in car["noted"]} == {
        "number": NUMBER,
        "marks": MARKS,
        "place": PLACE,
    }


def test_a_re_check_keeps_it_and_says_of_the_place_that_it_is_last_time_s(noted: Driver) -> None:
    again = following(noted.saved, library(), DAY)
    assert [one.text for one in of_car(again, library())] == [
        NUMBER,
        MARKS,
        f"{PLACE} (noted last time)",
    ]
    row = CarNote(id=again.new_id(CarNote), at=DAY, about="place", text="the yard")
    assert [one.text for one in of_car(again.with_row(row), library())][2] == "the yard"


def test_said_anew_the_old_words_are_struck_and_undo_puts_them_back(noted: Driver) -> None:
    noted.run("/car number B 2")
    assert of_car(noted.saved, library())[0].text == "B 2"
    assert len(noted.saved.table(CarNote)) == 4
    noted.run("/undo")
    assert of_car(noted.saved, library())[0].text == NUMBER


@pytest.mark.parametrize(
    "line", ["/car numbr 4711", "/car number", "/car number " + "4" * (LONGEST + 1), "/car [/ x"]
)
def test_what_cannot_be_noted_is_refused_with_the_way_to_say_it(driver: Driver, line: str) -> None:
    driver.run(*BEGUN)
    reply = driver.say(line)
    assert reply.kind == "refused"
    assert "/car number" in reply.says or "say it shorter" in reply.says
    assert driver.saved.table(CarNote) == ()


def test_alone_it_lists_what_can_be_noted_and_what_was(noted: Driver) -> None:
    noted.run("/undo")
    said = noted.say("/car").says
    assert f"Noted: {NUMBER}." in said
    assert "place of the survey: where the car stood while you measured it. Not noted yet." in said


def test_who_writes_a_report_hears_what_it_has_only_a_line_for(noted: Driver) -> None:
    noted.run("/undo")
    assert noted.say("/report txt").says.endswith("noted first with /car: place of the survey.")
    noted.run(f"/car place {PLACE}")
    assert "/car" not in noted.say("/report brief").says
