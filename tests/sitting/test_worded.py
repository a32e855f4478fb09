"""A page in other words where the frame is made otherwise: on the screen, in what is told behind F1 and
F2, for the mentor and on paper.
"""

import math
import re
from pathlib import Path

import pytest

from tests.recipes.carried_out import flat, said
from tests.sitting.driving import Driver, likely
from wizard.library import load_library
from wizard.sitting.model_desk import ModelDesk, handle
from wizard.survey.guide import guide_of, layout_of
from wizard.telling.drawing_model import views
from wizard.telling.glossary import words_text
from wizard.telling.model_page import heard_text, why_text
from wizard.telling.page import view
from wizard.telling.photos import named_in

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


RAIL = re.compile(r"\brails?\b", re.IGNORECASE)


@pytest.mark.parametrize("layout", ["cruciform", "backbone"])
def test_the_model_names_no_rail_where_there_is_none_and_takes_the_words_that_it_gives(
    layout: str,
) -> None:
    desk = ModelDesk(LIBRARY, layout=LIBRARY.layouts[layout])
    for line in (
        "help",
        "faults",
        "left side back 6 mm",
        "draw",
        "why",
        "read own-sides",
        "fault 1",
    ):
        reply = handle(desk, line)
        assert reply.kind != "refused", (line, reply.says)
        assert not RAIL.search(f"{reply.title} {reply.says}"), (line, reply.says)
    assert handle(desk, "left side back 6 mm").kind == "taken"
    assert desk.bent.diamond == -6.0
    for fault in desk.bench.faults.values():
        handle(desk, f"fault {fault.id}")
        page = desk.page()
        told = " ".join((page.title, *page.bent, heard_text(page), why_text(page)))
        assert not RAIL.search(told), told
    pictures = views(desk.frame(), 76, (9, 6, 6), "ascii")
    for drawing in (pictures.plan, pictures.side, pictures.end):
        assert not RAIL.search(" ".join((*drawing.lines, drawing.words)))


@pytest.mark.parametrize(("letter", "here"), [("c", "side"), ("s", "rail")])
def test_the_glossary_explains_what_the_page_says(tmp_path: Path, letter: str, here: str) -> None:
    driver = begun(tmp_path, letter)
    layout = layout_of(driver.sitting.survey, LIBRARY)
    step = LIBRARY.steps["rail-tops"].on(layout)
    told = words_text(LIBRARY, layout, step)
    assert ("rail: " in told) is (here == "rail")
    assert ("side: Of a frame that one box in the middle carries" in told) is (here == "side")
    sag = driver.say("/words sag").says
    assert f"The middle of a {here} hangs lower" in sag
    # What tells kinds of frames apart is the same on each of them.
    assert "Two rails joined by crossmembers" in driver.say("/words ladder frame").says


@pytest.mark.parametrize(("letter", "here"), [("c", "side"), ("s", "rail")])
def test_photos_are_called_as_the_pages_call_their_places(
    tmp_path: Path, letter: str, here: str
) -> None:
    driver = begun(tmp_path, letter)
    assert f"Left {here} at the engine mount" in driver.say("/photo").says
    assert (
        f"(left {here} at the engine mount)"
        in driver.say(f"/photo 112 left {here} at the engine mount").says
    )
    named = named_in(driver.sitting.survey, LIBRARY)
    (mount,) = (one for one in named if one.asked == "left-mount")
    assert (mount.key, mount.says) == ("112", f"Left {here} at the engine mount")
