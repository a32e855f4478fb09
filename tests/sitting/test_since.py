"""A re-check says on each page, and first of all at its end, whether anything moved."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from tests.sitting.driving import READ, Clock, Driver
from tests.telling.saying import tells
from tests.told import says
from wizard.judgment.answer import answer_of
from wizard.judgment.change import compare
from wizard.library import load_library
from wizard.library.paths import samples_dir
from wizard.sitting.commands import handle
from wizard.sitting.paging import page_of, recalled, since_line
from wizard.sitting.sitting import Sitting
from wizard.survey.file import load
from wizard.survey.rows import Reading, State
from wizard.telling.answer_words import brief, told_of
from wizard.telling.change_words import compare_text

NOW = datetime(2027, 6, 1, 10, 0)
DIAGONALS = load_library().steps["diagonals-below"]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for path in samples_dir().glob("bramble-*.toml"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    return tmp_path


def _open(folder: Path, name: str) -> Sitting:
    return Sitting(load_library(), path=folder / f"{name}.toml", now=lambda: NOW)


def test_the_end_of_a_recheck_says_first_whether_anything_moved(folder: Path) -> None:
    still = " ".join(handle(_open(folder, "bramble-2026-10-10"), "/verdict").says.split())
    assert still.startswith("Nothing has moved since 2026-04-11 ")
    tells(still, "a rail shifted ", "a rail dropped ", "would have been seen")
    moved = " ".join(handle(_open(folder, "bramble-2027-05-08"), "/verdict").says.split())
    tells(moved.partition(".")[0], "rail moved", " in ", "since 2026-10-10")
    tells(moved, "left rail dropped", " in at the rear engine mount")
    tells(moved, "A second reading says the same", "bare", "Treat it as still moving")
    tells(moved, "Do not drive it")


def test_a_first_survey_follows_nothing(folder: Path) -> None:
    assert "since" not in handle(_open(folder, "bramble-2026-04-11"), "/verdict").says
    assert since_line(_open(folder, "bramble-2026-04-11"), DIAGONALS) == ""


def test_a_page_tells_what_last_time_s_figure_says_once_nothing_more_is_read_there(
    folder: Path,
) -> None:
    still, moved = _open(folder, "bramble-2026-10-10"), _open(folder, "bramble-2027-05-08")
    assert says(since_line(still, DIAGONALS), "No change … last time: 1/32 in right rail back.")
    changed = since_line(moved, DIAGONALS)
    assert says(changed, "Whole frame: … has changed since last time: then … , now ")
    assert moved.kept is not None
    moved.kept.release()
    again = Driver(folder, path=folder / "bramble-2027-05-08.toml", clock=Clock())
    shown = page_of(again.run("/go diagonals-below", READ).sitting)
    assert shown is not None
    assert shown.live[0] == changed, "the alarm stands before what asks for nothing"
    page = moved.library.steps["sag-loaded"]
    assert says(since_line(moved, page), "eft rail … has changed since last time: then … low, now")
    assert still.kept is not None
    still.kept.release()
    clock = Clock()
    clock.at = NOW
    driver = Driver(folder, path=folder / "bramble-2026-10-10.toml", clock=clock).run(
        "/go diagonals-below"
    )
    page = page_of(driver.sitting)
    assert page is not None
    assert page.live == (), "before a caution nothing is told"
    driver.run(READ)
    page = page_of(driver.sitting)
    assert page is not None
    assert page.live[1] == since_line(still, DIAGONALS)


def test_before_the_last_reading_of_the_page_nothing_of_last_time_is_said(folder: Path) -> None:
    still = _open(folder, "bramble-2026-10-10")
    last = next(
        r
        for r in reversed(still.survey.standing(Reading))
        if r.prompt.startswith("diagonals-below")
    )
    still.survey = still.survey.with_struck(last.id, "to be read again")
    assert since_line(still, DIAGONALS) == ""
    assert load(folder / "bramble-2026-10-10.toml").standing(Reading)  # the file was not touched


def test_the_driver_hears_it_with_the_last_answer_of_the_page(folder: Path) -> None:
    driver = Driver(folder, path=folder / "bramble-2026-10-10.toml")
    prompt = "diagonals-below/whole/front-right--rear-left"
    typed = driver.survey.readings_of(prompt)[-1].typed
    driver.run("/go diagonals-below", READ)
    driver.sitting.stand_before(prompt)
    driver.run("/strike !")
    assert "last time" in driver.say(f"{typed}!").says


def test_a_short_list_leaves_the_causes_to_the_survey_that_looked(folder: Path) -> None:
    said = handle(_open(folder, "bramble-2026-10-10"), "/verdict c").says
    comes = said.partition("What it comes from\n")[2].partition("\n\n")[0]
    flat = " ".join(comes.split())
    assert says(
        flat, "Not looked at again, so as it was found on 2026-04-11: Age and use; A collision; "
    )
    assert flat.count("- ") == 1
    assert flat.endswith("An earlier repair; From the maker.")
    hit = handle(_open(folder, "bramble-2027-05-08"), "/verdict c").says
    assert "A collision: probably." in hit  # what today's readings do tell is told


@pytest.mark.parametrize(
    ("name", "late"), [("bramble-2026-10-10", True), ("bramble-2027-05-08", False)]
)
def test_half_a_year_is_offered_only_where_nothing_moved(
    folder: Path, name: str, late: bool
) -> None:
    sitting = _open(folder, name)
    sitting.stand_before("next-time/when")
    page = page_of(sitting)
    assert page is not None
    words = " ".join(page.choices)
    tells(words, "in a month", "as soon as it is put right")
    assert ("half a year" in words, "two years" in words) == (late, late)
    assert any("do not wait" in said for said in recalled(sitting)) is not late
    for letter in "sytn":  # what the page does not offer is not taken either
        reply = handle(sitting, letter)
        assert (reply.kind == "refused") is not late, letter
        if late:
            sitting.stand_before("next-time/when")
        else:
            tells(reply.says, "do not wait", "m “in a month” or p “as soon as it is put right”")
    handle(sitting, "m")
    said = handle(sitting, "/change").says.partition("The next time")[2]
    assert ("about 20" if late else "by 2027-06-08 and no later") in " ".join(said.split())
    sitting.stand_before("next-time/when")
    handle(sitting, "p")
    assert "as soon as it is put right" in handle(sitting, "/change").says


def test_a_headline_never_says_that_nothing_moved_of_what_was_not_compared(folder: Path) -> None:
    sitting = _open(folder, "bramble-2026-10-10")
    rows = sitting.survey.rows
    bolted = tuple(replace(s, body="bolted") for s in sitting.survey.table(State))
    sitting.survey = replace(sitting.survey, rows={**rows, "state": bolted})
    said = " ".join(handle(sitting, "/verdict").says.split())
    tells(
        said,
        "Of what can be compared nothing is shown to have moved since 2026-04-11",
        "Not compared with last time: sag with the engine on",
        "twist: the body: then on, every bolt slack, now bolted tight",
        "To compare them, have it as it was then and read them again.",
    )
    assert not said.startswith("Nothing")
    survey = sitting.survey
    assert sitting.earlier is not None
    told = told_of(
        answer_of(survey, sitting.library, NOW, sitting.earlier), survey, sitting.library
    )
    assert brief(told) != "nothing has moved"
    compared = compare_text(compare(sitting.earlier, survey, sitting.library), sitting.library)
    tells(" ".join(compared.split()), "Not compared with last time: sag with the engine on")


def _opened(sitting: Sitting, letter: str) -> str:
    return " ".join(handle(sitting, f"/verdict {letter}").says.split())


def test_every_part_behind_the_answer_begins_with_what_moved(folder: Path) -> None:
    moved = _open(folder, "bramble-2027-05-08")
    order = _opened(moved, "o").partition("In what order")
    tells(order[0], "since 2026-10-10", "clean", "to bare metal now", "Do not drive it")
    assert order[2].strip().startswith("- First: what moved since 2026-10-10. Look at")
    assert "Nothing has to be put right now" not in order[0]
    why = _opened(moved, "w")
    assert why.startswith("What has moved - ")
    tells(why, "then", "now", "it moved by", "give or take", "Treat it as still moving")
    done = _opened(moved, "d")
    tells(done, "Nothing there before it is known why it moved since 2026-10-10", "Do not drive it")
    assert "left rail" not in done.lower(), (
        "no choice is offered for what moved and is not known why"
    )
    tells(
        _opened(moved, "s"), "What made it move since 2026-10-10? Please look at", "still be moving"
    )


def test_where_nothing_moved_no_part_speaks_of_it(folder: Path) -> None:
    still = _open(folder, "bramble-2026-10-10")
    for letter in "wdos":
        assert "moved since" not in _opened(still, letter)


def test_a_comparison_says_what_to_do_now_and_not_to_drive(folder: Path) -> None:
    moved = _open(folder, "bramble-2027-05-08")
    for said in (handle(moved, "/change").says, _compared(moved)):
        flat = " ".join(said.split())
        tells(
            flat, "since 2026-10-10", "A second reading says the same: clean", "to bare metal now"
        )
        tells(flat, "Treat it as still moving. Do not drive it")
        tells(flat, "Something has moved: measure the same points again by 2027-06-08 and no later")
        assert "or the way it was measured did" not in flat, "it was read again"
    assert "Do not drive" not in handle(_open(folder, "bramble-2026-10-10"), "/change").says


def _compared(sitting: Sitting) -> str:
    assert sitting.earlier is not None
    return compare_text(compare(sitting.earlier, sitting.survey, sitting.library), sitting.library)


@pytest.mark.parametrize(
    ("letter", "when"), [("m", "in a month"), ("y", "in a year"), ("n", "after the next knock")]
)
def test_the_answer_says_the_next_time_that_was_chosen(
    folder: Path, letter: str, when: str
) -> None:
    sitting = _open(folder, "bramble-2026-10-10")
    assert "Measure the same points again in half a year." in _flat(sitting)
    sitting.stand_before("next-time/when")
    handle(sitting, letter)
    assert f"Measure the same points again {when}." in _flat(sitting)


def _flat(sitting: Sitting) -> str:
    return " ".join(handle(sitting, "/verdict").says.split())


def test_what_the_list_of_a_recheck_left_out_was_not_missed(folder: Path) -> None:
    still = _open(folder, "bramble-2026-10-10")
    said = _flat(still)
    assert "not enough was looked at" not in said
    tells(said, "What this re-check left out stands as found on 2026-04-11.")
    assert "sides of both rails bare" not in _opened(still, "o")
    assert "sides of both rails bare" not in _opened(_open(folder, "bramble-2027-05-08"), "o")
