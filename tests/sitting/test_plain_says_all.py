"""Whatever the screen shows of a page, the plain face says."""

from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, READ, Driver, finished
from tests.told import says
from wizard.sitting.paging import page_of
from wizard.sitting.plain import run

DIAGONALS = ("/go long-diagonals", READ, "91 1/8", "91", "91 1/16")
LEVEL = ("/go level", READ, "1/2 left", "0", "1 left", "1/2 left", "1 left")


def _told(driver: Driver, *lines: str) -> str:
    said: list[str] = []
    run(driver.sitting, [f"{line}\n" for line in lines], said.append, person=True)
    return " ".join("\n".join(said).split())


@pytest.mark.parametrize("lines", [DIAGONALS, LEVEL], ids=["tape", "level"])
def test_every_sentence_of_the_result_so_far(driver: Driver, lines: tuple[str, ...]) -> None:
    driver.run(*BEGUN, *lines)
    page = page_of(driver.sitting)
    assert page is not None
    assert page.live
    told = _told(driver, "/back", "/next")
    for sentence in (
        *page.live,
        page.why,
        page.trail,
        page.title,
        page.label,
        page.hint,
        page.good,
    ):
        assert " ".join(sentence.split()) in told


def test_what_was_read_here_before_is_told_when_one_comes_back(driver: Driver) -> None:
    told = _told(driver.run(*BEGUN, *DIAGONALS), "/go level", "/go long-diagonals")
    assert "Written down: left front to right rear: 91 1/8 91 1/16" in told


def test_what_was_taken_is_said_back(driver: Driver) -> None:
    assert "left front to right rear: 91 1/8 " in _told(
        driver.run(*BEGUN, "/go long-diagonals", READ), "91 1/8"
    )


def test_where_one_stopped(driver: Driver) -> None:
    driver.run(*BEGUN, *DIAGONALS)
    assert says(_told(driver.again()), "stopped at “The long diagonals” … 2026-04-11 … 3 readings")


def test_the_sources_of_a_caution(driver: Driver) -> None:
    caution = driver.sitting.library.cautions["rolling"]
    told = _told(driver.run(*BEGUN), "/go set-supports")
    assert f"Caution: {caution.title}" in told
    assert caution.sources
    assert all(f"Source: {source}" in told for source in caution.sources)


def test_the_marks_of_the_points_and_the_mentors_view(driver: Driver) -> None:
    driver.run(*BEGUN, *DIAGONALS, "/point front-right punch dot, photo 112")
    told = _told(driver, "/mentor", "/guess nothing", "/mentor")
    assert "Right front: punch dot, photo 112." in told
    assert "Before the result shows, ask him what he expects" in told
    assert "degrees of freedom" in told


@pytest.mark.parametrize("lines", [DIAGONALS, LEVEL], ids=["tape", "level"])
def test_the_drawing_in_words_when_asked(driver: Driver, lines: tuple[str, ...]) -> None:
    driver.run(*BEGUN, *lines)
    told = _told(driver, "/back", "/drawing")
    assert "/drawing says in words what is drawn." in told
    assert "What is drawn" in told
    assert any(word in told for word in ("seen from above", "From above", "Plan", "level", "tape"))


def test_a_page_without_a_drawing_says_so(driver: Driver) -> None:
    """A caution stands alone."""
    driver.run(*BEGUN, "/go level", READ, "/go long-diagonals")
    assert driver.at == "long-diagonals/caution/sharp-points"
    assert "Nothing is drawn here." in _told(driver, "/drawing")
    assert "Nothing is drawn here." not in _told(driver, "understood", "/drawing")


def test_the_pictures_of_the_verdict_in_words(tmp_path: Path) -> None:
    driver = finished(tmp_path)
    assert driver.sitting.ask is None
    assert driver.say("/drawing").says
