"""The worksheet as HTML: strict, whole without styles and pictures, with every box of the sheet in
its order.
"""

from __future__ import annotations

import pytest

from tests.checks.surveys import library
from tests.telling.pages import check, words
from wizard.telling.sheet import sheet_of
from wizard.telling.sheet_html import sheet_html

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
