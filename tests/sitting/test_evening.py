"""A short survey ends in an answer, and one key goes on with the whole one; parts of a page have names."""

from __future__ import annotations

import re
import shutil
import tempfile
from functools import cache
from pathlib import Path

import pytest

from tests.sitting.driving import Driver, likely, walk
from wizard.judgment.half_hour import short_of
from wizard.judgment.sight import verdict_of
from wizard.sitting.commands import handle
from wizard.sitting.modes import PageMode
from wizard.survey.guide import course_name

TOGETHER = {
    "about-the-car/car": "Bramble",
    "about-the-car/unit": "i",
    "about-the-car/layout": "s",
    "about-the-car/course": "s",
    "state/engine": "i",
    "state/body": "t",
    "state/found": "w",
    "state/panels": "y",
    "set-supports/supports": "a",
    "string-set-up/block": "2!",
    "string-set-up/span": "85 7/8!",
    "lift-engine/engine": "w",
    "lower-engine/engine": "b",
}


@cache
def _typed(*skipped: str) -> Path:
    """A short survey typed to its end; the pages that are named are skipped."""
    driver = Driver(Path(tempfile.mkdtemp()))
    while (prompt := driver.sitting.prompt) is not None:
        if prompt.step in skipped and not prompt.kind.acknowledges:
            driver.run("/skip page no time")
            continue
        gap = prompt.step.startswith("sag") and prompt.kind.measures
        line = TOGETHER.get(prompt.id, "2!" if gap else likely(prompt))
        reply = driver.say(line)
        if reply.kind == "doubted":
            reply = driver.say("")
        assert reply.kind in ("taken", "ended"), (prompt.id, line, reply.says)
    assert driver.sitting.path is not None
    return driver.sitting.path


def at_its_end(folder: Path, *skipped: str) -> Driver:
    """A sitting at the end of a short survey, on a copy of its own."""
    folder.mkdir(exist_ok=True)
    return Driver(folder, path=Path(shutil.copy(_typed(*skipped), folder)))


def answer(driver: Driver) -> str:
    return " ".join(handle(driver.sitting, "/verdict").says.split())


def test_sag_is_on_paper_and_the_engine_may_leave(tmp_path: Path) -> None:
    driver = at_its_end(tmp_path)
    assert driver.at == "end"
    said = answer(driver)
    assert said.startswith("Sag is on paper; the engine may leave. ")
    assert "Another day What can be seen, square or not, twist, the horns and the axles: " in said
    assert "In order " in said
    assert "Not covered" not in said
    assert "to drive" not in said


def test_without_the_string_it_does_not(tmp_path: Path) -> None:
    said = answer(at_its_end(tmp_path, "sag-loaded"))
    assert said.startswith("Sag is not on paper yet. Read the string first, then let the engine")
    assert "may leave" not in said


def test_what_leaves_with_the_engine_is_named(tmp_path: Path) -> None:
    said = answer(at_its_end(tmp_path, "pulley-hint"))
    assert "the engine may leave. What was not read leaves with it: the pulley's place." in said


def test_a_crack_outranks_it_and_nothing_is_said_of_leaving(tmp_path: Path) -> None:
    driver = at_its_end(tmp_path)
    driver.run("/whole", "/go rail-tops")
    from tests.checks.surveys import library
    from wizard.survey.rows import Look

    survey = driver.survey.with_row(
        Look(id=driver.survey.new_id(Look), prompt="rail-tops/left", seen="bare", answer="crack")
    )
    short = survey.with_row(_how_much(survey, "short"))
    from wizard.telling.answer_words import answer_words
    from wizard.telling.text import lines_of

    said = " ".join(" ".join(lines_of(answer_words(short, library(), driver.clock()))).split())
    assert "crack" in said.partition(".")[0].lower()
    assert "may leave" not in said


def _how_much(survey, word):  # type: ignore[no-untyped-def]
    from wizard.library import marks
    from wizard.survey.rows import Answer

    id = survey.new_id(Answer)
    return Answer(id=id, prompt=marks.CALLED[marks.HOW_MUCH], answer=word)


def test_one_key_goes_on_with_the_whole_survey(tmp_path: Path) -> None:
    driver = at_its_end(tmp_path)
    before = {r.id for r in driver.survey.all_rows()}
    assert "g go on with the whole survey" in answer(driver)
    reply = PageMode(driver.sitting).line("g")
    assert (reply.kind, reply.says) == (
        "taken",
        "You go on with the whole survey. What you did already is kept.",
    )
    assert driver.at != "end"
    assert course_name(driver.survey) == "whole"
    assert before <= {r.id for r in driver.survey.all_rows()}


def test_the_key_is_no_letter_of_a_whole_survey(tmp_path: Path) -> None:
    driver = Driver(tmp_path)
    walk(driver, {"about-the-car/course": "w"})
    assert "go on with the whole survey" not in answer(driver)
    assert driver.say("g").kind == "refused"


def test_only_a_short_survey_is_told_so(tmp_path: Path) -> None:
    driver = at_its_end(tmp_path)
    library, now = driver.sitting.library, driver.clock()
    assert short_of(driver.survey, library, verdict_of(driver.survey, library, now))
    driver.run("g")
    assert short_of(driver.survey, library, verdict_of(driver.survey, library, now)) is None


# Parts of a page, and what is left out ------------------------------------------------------------


@pytest.mark.parametrize("course", ["w", "s"])
def test_no_two_pages_of_the_trail_are_called_alike(course: str, tmp_path: Path) -> None:
    driver = Driver(tmp_path)
    for line in ("Bramble", "i", "s", course):
        driver.run(line)
    titles = [page.title for page in driver.sitting.walk()]
    assert sorted(titles) == sorted(set(titles))
    text = driver.say("/trail").says
    assert len(re.findall(r"^.. *\d+ \[", text, re.MULTILINE)) == len(titles)


def test_the_trail_says_where_it_is_good_to_stop(tmp_path: Path) -> None:
    driver = Driver(tmp_path).run("Bramble")
    lines = driver.say("/trail").says.splitlines()
    ends = [n for n, line in enumerate(lines) if "-- good to stop: " in line]
    assert len(ends) == 4
    assert all(" more) --" in lines[n] for n in ends)
