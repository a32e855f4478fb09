"""A thickness that no rail has, as when millimeters are typed where inches are set, is told and
reckons no section.
"""

from __future__ import annotations

import pytest

from tests.checks.surveys import findings, survey_of


@pytest.mark.parametrize(
    ("clean", "sections"),
    [("3 mm", True), ("3 in", False), ("43 mm", True), ("44 mm", False), ("50 mm", False)],
)
def test_a_rail_thicker_than_its_flange_gives_no_section(clean: str, sections: bool) -> None:
    survey = survey_of(
        {"pitting/left/clean": [clean], "pitting/left/pitted": ["2 mm"]},
        answers={"pitting/left/face": "top"},
    )
    found = findings(survey)
    assert "thickness/left" in found
    assert ("stiffness-left/left" in found) is sections
