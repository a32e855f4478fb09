"""A page in other words where the frame is made otherwise: on the screen, in what is told behind F1 and
F2, for the mentor and on paper.
"""

import math
from pathlib import Path

import pytest

from tests.recipes.carried_out import flat, said
from tests.sitting.driving import Driver, likely
from wizard.library import load_library
from wizard.survey.guide import guide_of, layout_of
from wizard.telling.page import view

LIBRARY = load_library()
CREST, FLAT = "touches its crest", "Cut two blocks of equal height"


def begun(folder: Path, letter: str) -> Driver:
    driver = Driver(folder)
    while driver.sitting.prompt is not None and driver.at.startswith("about-the-car"):
        chooses = driver.sitting.prompt.keep == "survey.layout"
        driver.run(letter if chooses else likely(driver.sitting.prompt))
    return driver


@pytest.mark.parametrize(("letter", "here", "gone"), [("t", CREST, FLAT), ("s", FLAT, CREST)])
def test_the_string_of_a_tube_is_told_in_its_own_words(
    tmp_path: Path, letter: str, here: str, gone: str
) -> None:
    driver = begun(tmp_path, letter)
    survey = driver.sitting.survey
    asks = guide_of(survey, LIBRARY).asks(driver.sitting.now())[0]
    ask = next(a for a in asks if a.prompt.step == "string-set-up")
    shown = view(survey, LIBRARY, driver.sitting.walk(), ask)
    assert here in " ".join(shown.how)
    assert gone not in " ".join(shown.how)
    assert len(shown.how) == len(LIBRARY.steps["string-set-up"].how)


@pytest.mark.parametrize("layout", ["tube-ladder", "straight-ladder"])
def test_paper_has_the_same_words(layout: str) -> None:
    sheet = flat(said("sheet", "--layout", layout))
    assert ("Equal V blocks" in sheet) is (layout == "tube-ladder")
    assert ("Same rivet on both sides" in sheet) is (layout == "straight-ladder")


def test_why_and_what_spoils_it_are_worded_too(tmp_path: Path) -> None:
    driver = begun(tmp_path, "t")
    survey = driver.sitting.survey
    worded = LIBRARY.steps["closed-rails"].on(layout_of(survey, LIBRARY))
    assert worded.why.startswith("A tube rusts")
    # What is not worded stays as it is, and so does its place in the course.
    assert worded.prompts is LIBRARY.steps["closed-rails"].prompts
    assert worded.title == LIBRARY.steps["closed-rails"].title
    while driver.sitting.prompt and not driver.at.startswith("widths"):
        driver.run(likely(driver.sitting.prompt))
    assert "A hole that rust has made larger" in driver.say("/spoils").says
    assert "Why does a round hole" in driver.say("/why").says


def test_how_far_beside_the_crest_the_string_reads_more_is_geometry() -> None:
    """The page says 0.3 mm at 5 mm on a 3 in tube: a circle falls away by r - √(r² - s²)."""
    words = " ".join(LIBRARY.steps["string-set-up"].on(LIBRARY.layouts["tube-ladder"]).spoils)
    assert "5 mm off on a 3 in tube reads 0.3 mm more" in words
    radius = 3 * 25.4 / 2
    assert radius - math.sqrt(radius**2 - 5**2) == pytest.approx(0.33, abs=0.01)
