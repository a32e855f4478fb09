"""Drawings by hand: escaped everywhere, never broken by a number that is none."""

from __future__ import annotations

import math
from xml.etree import ElementTree

import pytest

from wizard.telling.svg import Scale, arrow, element, number, picture, text

HOSTILE = "</text><script>alert(1)</script>\"'&\x1b[31m\u202e"


def test_hostile_text_stays_text_in_every_place() -> None:
    figure = picture(
        "k", HOSTILE, HOSTILE, 10, text(1, 2, HOSTILE), element("g", data_name=HOSTILE)
    )
    root = ElementTree.fromstring(figure.svg.replace("\x1b", ""))
    tags = [e.tag.rsplit("}", 1)[-1] for e in root.iter()]
    assert "script" not in tags
    shown = next(e.text for e in root.iter() if e.tag.endswith("text"))
    assert shown == "</text><script>alert(1)</script>\"'&[31m"


@pytest.mark.parametrize(
    ("value", "written"),
    [(1.0, "1"), (2.5, "2.5"), (100.0, "100"), (-0.004, "-0"), (math.nan, "0"), (math.inf, "0")],
)
def test_numbers_are_short_and_finite(value: float, written: str) -> None:
    assert number(value) == written


def test_a_scale_of_no_length_puts_everything_in_the_middle() -> None:
    assert Scale(3, 3, 0, 100)(3) == 50
    assert Scale(0, 10, 100, 0)(2.5) == 75


def test_an_arrow_too_short_to_see_is_left_out() -> None:
    assert arrow(0, 0, 0.2, 0.2) == ""
    assert "polygon" in arrow(0, 0, 30, 0)
