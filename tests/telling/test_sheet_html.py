"""The worksheet as HTML: strict, whole without styles and pictures, with every box of the sheet in
its order.
"""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from tests.checks.surveys import library
from tests.telling.pages import check, words
from wizard.survey.record import Survey
from wizard.telling.form import Columns, Together
from wizard.telling.sheet import Sheet, SheetStep, sheet_of
from wizard.telling.sheet_form import DRAWINGS, drawing_of, form_of
from wizard.telling.sheet_html import form_html, sheet_html
from wizard.telling.sheet_text import form_text, sheet_text

every_layout = pytest.mark.parametrize("layout", sorted(library().layouts))


@every_layout
def test_the_page_is_strict_html_with_its_drawing_told(layout: str) -> None:
    check(sheet_html(sheet_of(library(), layout)))


@every_layout
def test_with_styles_and_pictures_off_every_box_is_there_in_order(layout: str) -> None:
    sheet = sheet_of(library(), layout)
    text, at = words(sheet_html(sheet)), 0
    for step in sheet.steps:
        at = text.index(f"{step.number}. {step.title}", at)
        for box in step.boxes:
            at = text.index(box.label, at) + len(box.label)
            rest = text[at : at + 200]
            assert ("___" in rest) or (box.preset and f" {box.preset} " in rest), box.label


def test_every_number_stands_on_the_drawing() -> None:
    sheet = sheet_of(library(), "straight-ladder")
    page = sheet_html(sheet)
    for n in sheet.points.values():
        assert page.count(f">{n}</text>") == 1


def test_nothing_fixes_the_size_of_the_paper() -> None:
    """A4 or Letter is the printer's to choose."""
    assert "size:" not in sheet_html(sheet_of(library(), "straight-ladder")).replace(
        "font-size:", ""
    ).replace("box-sizing:", "")


def test_each_sheet_of_paper_says_of_which_form_it_is_and_which_of_how_many() -> None:
    page = sheet_html(car_s())
    style = page[: page.index("</style>")]
    assert '"Page " counter(page) " of " counter(pages)' in style
    assert 'content: "Crosstape worksheet' in style
    assert "Bramble" in style[style.index("@bottom-left") :]
    assert "<b>" not in style


def test_a_long_step_may_be_parted_and_a_short_one_is_not() -> None:
    """By its boxes, those of both rails too, by the letters under them and by what is read before:
    else half a sheet stays blank.
    """
    page = sheet_html(sheet_of(library(), "straight-ladder"))
    long = set(re.findall(r'class="step long"><h2>(\d+)\.', page))
    titles = dict(re.findall(r"<h2>(\d+)\. ([^<]+)</h2>", page))
    assert {"Left rear, from below", "Sag with the engine&#x27;s weight on"} <= {
        titles[n] for n in long
    }
    assert not {"The widths", "Twist", "Your tape"} & {titles[n] for n in long}


def test_a_sheet_says_how_to_fill_in_the_boxes_that_it_has() -> None:
    from tests.telling.test_report import SAMPLES, sample

    whole = sheet_text(sheet_of(library(), "straight-ladder"))
    assert "A place takes one entry" in whole
    again = sheet_of(library(), "straight-ladder", survey=sample(SAMPLES[0]), again=True)
    assert "A place takes one entry" in sheet_text(again), "where jack and stands go"
    placeless = replace(again, steps=tuple(s for s in again.steps if not _gathers(s)))
    assert "A place takes one entry" not in sheet_text(placeless)
    assert "Where you look, write two letters" in sheet_text(placeless), "it has looks"


def _gathers(step: SheetStep) -> bool:
    return any(box.kind.gathers for box in step.boxes)


def car_s(layout: str = "straight-ladder") -> Sheet:
    """The sheet for a car with a name that no page may take for markup."""
    return sheet_of(library(), layout, survey=Survey(layout=layout, car="Bramble <b>&"))


def test_the_car_s_name_is_filled_in() -> None:
    page, text = sheet_html(car_s()), sheet_text(car_s())
    assert "<h1>Worksheet: Bramble &lt;b&gt;&amp;</h1>" in page
    assert "<b>Car</b> <i>Bramble &lt;b&gt;&amp;</i>" in page
    assert re.search(r"^Car Bramble <b>& _+  Date _+$", text, re.MULTILINE)
    assert "Crosstape worksheet: Bramble <b>&" in text.split("\n")[0]


@every_layout
def test_what_is_read_rail_by_rail_has_a_column_for_each_rail(layout: str) -> None:
    form = form_of(sheet_of(library(), layout))
    pairs = [
        block
        for part in form.parts
        if isinstance(part, Together)
        for block in part.blocks
        if isinstance(block, Columns)
    ]
    assert len(pairs) >= 3
    for both in pairs:
        left, right = ([b.label for b in side.blanks] for side in (both.left, both.right))
        assert left != right
        assert list(map(sideless, left)) == list(map(sideless, right))
        assert len(left) > 1


def sideless(label: str) -> str:
    return re.sub("left|right", "one", label)


@every_layout
def test_there_is_room_for_the_number_of_each_photo_that_every_record_needs(layout: str) -> None:
    sheet = sheet_of(library(), layout)
    page, text = words(sheet_html(sheet)), sheet_text(sheet)
    for photo in library().paper.photos.values():
        name = library().layouts[layout].worded(photo.name[:1].upper() + photo.name[1:])
        assert re.search(rf"{name} +___", page), name
        assert re.search(rf"{name} _", text), name


@pytest.mark.parametrize("paper", DRAWINGS)
@every_layout
def test_the_drawing_alone_has_a_box_to_write_in_for_each_point(layout: str, paper: str) -> None:
    sheet = sheet_of(library(), layout)
    form = drawing_of(sheet, paper)
    page = form_html(form)
    check(page)
    assert len(form.parts) - 1 == DRAWINGS[paper].sheets == page.count("<svg")
    assert f"size: {DRAWINGS[paper].size}" in page
    for number in sheet.points.values():
        assert page.count(f">{number}: mark, photo</text>") == 1
    assert "(1)" in form_text(form)
