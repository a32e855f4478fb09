"""Without the tool nobody is asked to read with it: the page goes, and why is said once."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, Driver, likely
from wizard.judgment.sight import sight_of
from wizard.survey.guide import pages
from wizard.telling.tell import tell_text

PAGES = {"level": "tools/level", "front-box-bar": "tools/bar"}
NONE = ("/skip none to hand", "-")


def without(folder: Path, step: str, line: str) -> Driver:
    """The sitting that was asked for the tool of a page and has none."""
    driver = Driver(folder)
    driver.run(*BEGUN)
    while driver.at != PAGES[step]:
        assert driver.sitting.prompt is not None
        driver.run(likely(driver.sitting.prompt))
    return driver.run(line)


def asked(driver: Driver) -> set[str]:
    """The pages of which something is asked still or was."""
    return {str(p.step) for stop in driver.sitting.walk() for p in stop.prompts}


@pytest.mark.parametrize("line", NONE)
@pytest.mark.parametrize("step", PAGES)
def test_the_page_of_a_tool_that_is_not_there_is_asked_no_more(
    step: str, line: str, tmp_path: Path
) -> None:
    driver = without(tmp_path, step, line)
    assert step not in asked(driver)
    there = pages(driver.survey, driver.sitting.library, driver.clock.at)
    assert next(p for p in there if p.step.id == step).gone.startswith("Without a ")


@pytest.mark.parametrize("line", NONE)
@pytest.mark.parametrize("step", PAGES)
def test_that_is_said_once(step: str, line: str, tmp_path: Path) -> None:
    driver = without(tmp_path, step, line)
    library = driver.sitting.library
    gaps = sight_of(driver.survey, library).verdict(driver.clock.at).not_seen
    title = library.steps[step].title
    assert len([g for g in gaps if g.what.startswith(title)]) == 1
    assert [g for g in gaps if g.step == "tools"] == []
    told = " ".join(tell_text(driver.survey, library, driver.clock.at).split())
    assert told.count("Without a level" if step == "level" else "Without a bar") <= 1


@pytest.mark.parametrize("step", PAGES)
def test_a_tool_that_is_found_after_all_brings_its_page_back(step: str, tmp_path: Path) -> None:
    driver = without(tmp_path, step, NONE[0])
    driver.run(f"/go {step}")
    assert driver.at == PAGES[step]
    assert driver.sitting.prompt is not None
    driver.run(driver.sitting.prompt.choices[0].letter)
    assert step in asked(driver)
