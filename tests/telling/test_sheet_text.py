"""The worksheet on any printer: pages of 66 lines by 80 columns in plain ASCII, with every box on
them.
"""

from __future__ import annotations

import re

import pytest

from tests.checks.surveys import library
from wizard.telling.sheet import sheet_of
from wizard.telling.sheet_text import sheet_text

every_layout = pytest.mark.parametrize("layout", sorted(library().layouts))


@every_layout
@pytest.mark.parametrize("short", [False, True])
def test_pages_fit_a_printer(layout: str, short: bool) -> None:
    text = sheet_text(sheet_of(library(), layout, short=short))
    text.encode("ascii")
    for page in text.split("\f"):
        rows = page.rstrip("\n").split("\n")
        assert len(rows) <= 66
        assert max(map(len, rows)) < 80


@every_layout
def test_every_box_is_printed_in_order(layout: str) -> None:
    sheet = sheet_of(library(), layout)
    text = sheet_text(sheet)
    flat = re.sub(r"\s+", " ", text)
    at = 0
    for step in sheet.steps:
        at = flat.index(f"{step.number}. {step.title.upper()}", at)
        for box in step.boxes:
            at = flat.index(box.label, at) + 1
    framed = sum(1 for s in sheet.steps for b in s.boxes if not b.kind.tells)
    assert len(re.findall(r"\[_[_a-z]*_\]", text)) == framed


def test_numbers_of_the_points_stand_on_the_drawing() -> None:
    sheet = sheet_of(library(), "straight-ladder")
    page = next(p for p in sheet_text(sheet).split("\f") if "Points: " in p)
    for n in sheet.points.values():
        assert page.count(f"({n})") == 1, n


def test_room_for_names_date_supports_and_tools() -> None:
    first = sheet_text(sheet_of(library(), "straight-ladder")).split("\f")[0]
    for field in (
        "Car",
        "Date",
        "Measured by",
        "Written by",
        "Supports",
        "Tape",
        "Ruler",
        "Level",
        "String",
        "Bar",
    ):
        assert re.search(rf"{field}[^\n]* _", first), field


def test_a_caution_stands_in_full_between_the_title_of_its_page_and_the_first_box() -> None:
    sheet = sheet_of(library(), "straight-ladder")
    text = sheet_text(sheet)
    at, met = 0, 0
    for step in sheet.steps:
        at = text.index(f"{step.number}. {step.title.upper()}", at)
        box = text.index("[__", at)
        for caution in step.cautions:
            for line in (f"CAUTION: {caution.title}", *caution.lines):
                here = text.index(line, at)
                assert at < here < box, (step.id, line)
                at, met = here, met + 1
    assert met > 60
    listed = [line for s in sheet.steps for c in s.cautions for line in c.sentences]
    assert all(f"- {first}" in text for first, *_ in listed)
    assert text.count("CAUTION: ") == sum(len(s.cautions) for s in sheet.steps)
