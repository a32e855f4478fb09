"""What an evening is told beside its pages: what comes next, where it is good to stop, what is open."""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import cache
from pathlib import Path
from shutil import copy
from tempfile import mkdtemp

import pytest

from tests.checks.surveys import DAY, library
from tests.judgment.remeasured import faulty, sound
from tests.places import entry
from tests.sitting.driving import Driver, likely
from wizard.judgment.half_hour import HalfHour, half_hour
from wizard.library import marks
from wizard.library.paths import samples_dir
from wizard.sitting.commands import handle
from wizard.sitting.recheck import start
from wizard.survey.guide import guide_of
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Look, Reading, Skip
from wizard.survey.topics import matters
from wizard.telling.document import Table
from wizard.telling.evening_words import next_line, open_blocks, open_text, rest_lines

TOGETHER = {
    "state/engine": "i",
    "state/body": "t",
    "state/found": "w",
    "state/panels": "y",
    "set-supports/supports": "a",
    "lift-engine/engine": "w",
    "lower-engine/engine": "b",
    "about-the-car/layout": "s",
}


@cache
def walked(course: str = "w", engine: str = "i") -> tuple[tuple[str, str, str], ...]:
    """A whole survey typed by anybody: of each page left, its id, what was said, and what was next."""
    driver = Driver(Path(mkdtemp()))
    said = {**TOGETHER, "about-the-car/course": course, "state/engine": engine}
    met = []
    while (prompt := driver.sitting.prompt) is not None:
        driver.clock.at += timedelta(seconds=20)
        left = driver.sitting.page()
        assert left is not None
        line = said.get(prompt.id, likely(prompt))
        if prompt.kind.gathers:
            line = entry(driver.survey, prompt, lambda id: "b o")
        reply = driver.say(line)
        if reply.kind == "doubted":
            reply = driver.say("")
        here = driver.sitting.page()
        line = next_line(driver.survey, driver.sitting.library, driver.sitting.walk(), here)
        if here is None or here.step is not left.step:
            met.append((str(left.step.id), reply.says, line))
    return tuple(met)


def test_it_is_good_to_stop_where_nothing_is_half_read() -> None:
    ends = [step for step, said, _ in walked() if "Good to stop here." in said]
    assert ends == ["right-rear", "box-diagonals", "level", "lower-engine"]


def test_it_says_what_is_done_what_stays_and_what_must_be_read_first() -> None:
    said = {step: said for step, said, _ in walked()}
    assert said["right-rear"].endswith(
        "Good to stop here. All that can be seen is written down. Leave the car standing as it is."
        " Before the engine leaves, read sag with the engine on and the pulley's place."
    )
    assert said["level"].endswith(
        "Before the engine leaves, read sag with the engine on and the pulley's place."
    )
    assert said["lower-engine"].endswith("Before the engine leaves, read the pulley's place.")


def test_no_engine_can_leave_that_is_out() -> None:
    assert not [said for _, said, _ in walked(engine="o") if "engine leaves" in said]
    ends = [step for step, said, _ in walked(engine="o") if "Good to stop here." in said]
    assert ends == ["right-rear", "box-diagonals", "level", "sag-unloaded"]


def test_a_line_says_what_comes_next_and_how_long_it_takes() -> None:
    line = {step: line for step, _, line in walked()}
    assert line["about-the-car"].startswith("Known next: gaps while together, in about ")
    assert line["right-rear"].startswith("Known next: square or not, in about ")
    assert line["horns"].startswith("Known next: the axles, in about ")
    assert line["finish"] == ""


def test_the_engine_leaves_and_hangs_only_today() -> None:
    short = {step: line for step, _, line in walked("s")}
    assert short["set-supports"].endswith(", and only today.")
    whole = {step: line for step, _, line in walked()}
    assert not whole["set-supports"].endswith("today.")
    assert whole["lift-engine"].startswith("Known next: sag with its weight off")
    assert whole["lift-engine"].endswith(", and only today.")


def test_the_trail_shows_the_evenings() -> None:
    survey = without(sound("straight-ladder"), "widths")
    walk = guide_of(survey, library()).walk(DAY)
    ends = {walk[n].step.id: words for n, words in rest_lines(survey, library(), walk).items()}
    assert list(ends) == ["pitting", "box-diagonals", "level", "lower-engine"]
    assert ends["box-diagonals"].startswith("-- good to stop: the frame is taped (about ")


def rechecked(folder: Path) -> Driver:
    """A re-check just begun, of a car whose engine need not be lifted."""
    earlier = Path(copy(samples_dir() / "bramble-2026-04-11.toml", folder))
    return Driver(folder, path=start(earlier, library(), datetime(2026, 10, 10, 9, 30)))


def test_a_recheck_says_only_of_what_it_asks_that_it_is_done(tmp_path: Path) -> None:
    driver = rechecked(tmp_path)
    walk = driver.sitting.walk()
    ends = {
        walk[n].step.id: words for n, words in rest_lines(driver.survey, library(), walk).items()
    }
    assert "lift-engine" not in {p.step.id for p in walk}, (
        "or it says nothing of a string half read"
    )
    assert "string-set-up" not in ends, "not one gap is read there yet"
    assert ends["sag-loaded"].startswith("-- good to stop: the string of this re-check is read")
    assert not [w for w in ends.values() if "this re-check" not in w]


def test_what_only_prepares_for_a_reading_makes_nothing_known(tmp_path: Path) -> None:
    driver = rechecked(tmp_path)
    walk, survey = driver.sitting.walk(), driver.survey
    assert "set" not in {m.topic.id for m in matters(survey, library(), walk)}


def test_where_something_was_skipped_nobody_says_that_it_is_done() -> None:
    survey = sound("straight-ladder")
    row = next(r for r in survey.standing(Reading) if str(r.prompt).startswith("own-sides"))
    skipped = without(survey, "own-sides").with_row(Skip(id="k1", prompt=row.prompt, why="no time"))
    walk = guide_of(skipped, library()).walk(DAY)
    ends = {walk[n].step.id: words for n, words in rest_lines(skipped, library(), walk).items()}
    assert ends["box-diagonals"].startswith("-- good to stop (about ")
    assert ends["level"].startswith("-- good to stop: the level is read")


# What is known and what is open -------------------------------------------------------------------


def far(survey: Survey) -> HalfHour:
    return half_hour(survey, library(), DAY)


def without(survey: Survey, *steps: str) -> Survey:
    for row in survey.standing(Reading):
        if str(row.prompt).startswith(steps):
            survey = survey.with_struck(row.id, "a test")
    return survey


def test_without_it_no_answer_is_possible() -> None:
    told = {o.topic.id: o for o in far(without(sound("straight-ladder"), "level", "horns")).open}
    assert told["twist"].changes == "yes"
    assert told["horns"].changes == "perhaps"
    assert "square" not in told


def test_a_stop_sign_is_changed_by_nothing() -> None:
    survey = without(sound("straight-ladder"), "level", "horns")
    row = Look(id=survey.new_id(Look), prompt="rail-tops/left", seen="bare", answer="crack")
    assert {o.changes for o in far(survey.with_row(row)).open} == {"no"}


def test_what_is_read_is_known_and_nothing_of_what_came_of_it_is_said() -> None:
    survey = faulty("straight-ladder", next(iter(library().model.faults)))
    text = open_text(open_blocks(survey, library(), DAY))
    assert "Known so far: " in text
    for word in ("leave it", "put right", "specialist", "keep an eye", "straight", "bent"):
        assert word not in text.lower()


def test_each_thing_that_is_open_has_what_settles_it_minutes_and_a_chance() -> None:
    blocks = open_blocks(without(sound("straight-ladder"), "level"), library(), DAY)
    (table,) = (b for b in blocks if isinstance(b, Table))
    rows = {row[0]: row for row in table.rows}
    assert rows["twist"][1::2] == ("Twist", "yes")
    assert 1 <= int(rows["twist"][2]) <= 15
    assert [len(row) for row in table.rows] == [4] * len(table.rows)


def test_the_word_tells_the_same_in_every_face(tmp_path: Path) -> None:
    driver = Driver(tmp_path).run("Bramble")
    reply = handle(driver.sitting, "/open")
    assert reply.title == "What the next half hour would tell"
    assert "Nothing is known yet." in reply.says
    assert "; about 15 min. Changes what to do: yes." in reply.says
    assert reply.blocks


def test_a_second_reader_is_told_nothing_of_it(tmp_path: Path) -> None:
    driver = Driver(tmp_path).run("Bramble")
    driver.sitting.aside.second = ("x",)  # type: ignore[assignment]
    assert driver.say("/open").kind == "refused"


@pytest.mark.parametrize("layout", list(library().layouts))
def test_every_kind_of_frame_has_its_topics_and_places_to_stop(layout: str) -> None:
    survey = Survey(layout=layout).with_row(
        Answer(id="a1", prompt=marks.CALLED[marks.HOW_MUCH], answer=marks.WHOLE)
    )
    walk = guide_of(survey, library()).walk(DAY)
    assert {"square", "twist", "seen", "sag"} <= {o.topic.id for o in far(survey).open}
    assert len(rest_lines(survey, library(), walk)) == 4
