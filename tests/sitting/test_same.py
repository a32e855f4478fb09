"""In a re-check an empty line, or `=`, keeps what was answered last time; a look keeps it only with how
well it is seen today, and a reading never.
"""

from __future__ import annotations

import shutil
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from tests.sitting.driving import READ, Clock, Driver
from tests.told import says
from wizard.judgment.since import since_of
from wizard.library import load_library
from wizard.library.paths import samples_dir
from wizard.library.places import PromptId
from wizard.sitting.modes import PageMode
from wizard.sitting.paging import page_of, recalled
from wizard.sitting.recheck import start
from wizard.survey.file import load, save
from wizard.survey.guide import guide_of, wanting
from wizard.survey.rows import Look
from wizard.survey.same import says_same
from wizard.telling.enough_words import needless

NOW = datetime(2026, 10, 10, 9, 30)
OPENED = ("", "", "900 miles", "n", "n", "a", "s")
"""What is said up to how the car stands."""


def driven(folder: Path, name: str = "bramble-2026-04-11") -> Driver:
    earlier = Path(shutil.copy(samples_dir() / f"{name}.toml", folder))
    clock = Clock()
    clock.at = NOW
    return Driver(folder, path=start(earlier, load_library(), NOW), clock=clock)


@pytest.fixture
def driver(tmp_path: Path) -> Driver:
    return driven(tmp_path)


def hint(driver: Driver) -> str:
    page = page_of(driver.sitting)
    assert page is not None
    return page.hint


def test_an_empty_line_writes_down_last_time_s_words_and_the_page_says_so(driver: Driver) -> None:
    assert (driver.at, hint(driver)) == (
        "about-the-car/unit",
        "Enter: as last time; one letter",
    )
    assert recalled(driver.sitting) == ("Last time: inches, such as 25 7/8. Today?",)
    driver.run(*OPENED)
    assert driver.at == "state/engine"
    assert driver.say("").says.startswith("As last time: in, its weight on the mounts.")
    assert driver.say("").kind == "refused", "whether its bolts are slack is looked at on the day"
    driver.run("l")
    assert (driver.survey.state().engine, driver.survey.state().body) == ("in", "loosened")


@pytest.mark.parametrize(
    "text", ["=", "same", "As last time.", "the same as last time", "unchanged"]
)
def test_the_words_for_it_stand_for_last_time_s_words(driver: Driver, text: str) -> None:
    driver.run("/go set-supports", READ)
    driver.sitting.stand_before("set-supports/stood")
    driver.run(text)
    assert driver.sitting.earlier is not None
    assert driver.survey.state().stood == driver.sitting.earlier.state().stood
    assert "front 24 in apart" in driver.survey.state().stood


@pytest.mark.parametrize("text", ["same sort of stands", "as", "not the same as last time"])
def test_other_words_are_other_words(text: str) -> None:
    assert not says_same(text)


@pytest.mark.parametrize(
    "prompt",
    [
        "since-last-time/happened",
        "state/body",
        "state/temperature",
        "jack-places/seen",
        "set-supports/push",
        "long-diagonals/whole/front-left--rear-right",
        "next-time/when",
    ],
)
def test_what_is_of_the_day_is_never_kept(driver: Driver, prompt: str) -> None:
    driver.run(*OPENED)
    driver.run(f"/go {prompt.partition('/')[0]}", READ)
    if driver.sitting.survey.state().supports == "":
        driver.run("/go set-supports", READ)
        driver.run(f"/go {prompt.partition('/')[0]}", READ)
    driver.sitting.stand_before(prompt)
    driver.run(READ)
    assert driver.at == prompt
    assert not driver.sitting.keeps(driver.sitting.prompt)
    assert "as last time" not in hint(driver)
    rows = driver.survey.last_number()
    driver.say("")
    driver.say("=")
    assert driver.survey.last_number() == rows or driver.sitting.pending is not None


def test_one_line_keeps_the_rest_of_a_page_and_lists_it_first(driver: Driver) -> None:
    driver.run(*OPENED)
    listed = driver.say("/same")
    assert listed.kind == "told"
    assert says(
        listed.says,
        "As last time on this page: engine: in, its weight on the mounts; hood and fenders: no, off; "
        "fuel tank: empty, or no tank",
    )
    assert driver.survey.state().engine == "", "it is said before it is written"
    driver.run("")
    state = driver.survey.state()
    assert (state.engine, state.body, state.panels, state.fuel) == ("in", "", "off", "empty")
    assert driver.at == "state/body", "what is of the day is asked all the same"


def test_nothing_to_keep_is_refused(driver: Driver) -> None:
    driver.run(*OPENED[:2])
    assert driver.say("/same").kind == "refused"


# A look, and a place ------------------------------------------------------------------------------


def looked(driver: Driver, prompt: str) -> list[tuple[str, str]]:
    return [(k.seen, k.answer) for k in driver.survey.looks_at(prompt)]


def test_a_look_is_kept_only_with_how_well_it_is_seen_today(driver: Driver) -> None:
    driver.run("/go paint-cracks", READ)
    asked = driver.say("")
    assert (asked.kind, driver.at) == ("told", "paint-cracks/left")
    assert says(asked.says, "Look first, then say how well you see it today")
    assert looked(driver, "paint-cracks/left") == []
    driver.run("b")
    assert looked(driver, "paint-cracks/left") == [("bare", "nothing-found")]
    driver.run("d =")
    assert looked(driver, "paint-cracks/right") == [("dirty", "nothing-found")]


def test_a_letter_alone_keeps_nothing_where_no_empty_line_went_before(driver: Driver) -> None:
    driver.run("/go paint-cracks", READ, "")
    driver.say("/why")
    driver.say("/back")
    driver.run("/go paint-cracks")
    driver.say("")
    driver.say("/words")
    assert driver.say("b o").kind == "taken"


@pytest.mark.parametrize("line", ["=", "n ="])
def test_as_last_time_without_a_look_today_is_refused(driver: Driver, line: str) -> None:
    driver.run("/go paint-cracks", READ)
    assert driver.say(line).kind == "refused"
    assert looked(driver, "paint-cracks/left") == []


def at_place(driver: Driver, place: str) -> list[str]:
    """In front of a place; the looks that are taken there."""
    driver.run("/whole", f"/go {place}", READ)
    assert driver.at == f"{place}/seen"
    assert driver.sitting.prompt is not None
    return [str(part.look.id) for part in driver.sitting.prompt.parts]


def then(driver: Driver, look: str) -> list[str]:
    assert driver.sitting.earlier is not None
    return [k.answer for k in driver.sitting.earlier.looks_at(look)]


@pytest.mark.parametrize("place", ["left-rail", "right-rail", "left-front", "right-rear"])
def test_one_entry_keeps_a_place_with_a_row_for_each_look(driver: Driver, place: str) -> None:
    looks = at_place(driver, place)
    driver.run("p =")
    for look in looks:
        was = then(driver, look)
        assert [a for _, a in looked(driver, look)] == [a for a in was if a], look
        assert {seen for seen, _ in looked(driver, look)} <= {"painted"}
        for prompt in guide_of(driver.survey, driver.sitting.library).questions.by_id.values():
            hangs = any(n.prompt == look for n in prompt.needs)
            if hangs and driver.sitting.earlier and driver.sitting.earlier.answer_to(prompt.id):
                kept = driver.survey.answer_to(prompt.id)
                assert kept == driver.sitting.earlier.answer_to(prompt.id)
    assert not any(driver.at.startswith(step) for step in {x.rpartition("/")[0] for x in looks})


def test_one_entry_keeps_every_look_that_is_left_after_it_was_listed(driver: Driver) -> None:
    at_place(driver, "left-front")
    before = len(driver.survey.table(Look))
    assert driver.say("/same all").kind == "refused"  # how well it is seen today is never guessed
    assert driver.say("/same all n").kind == "refused"
    listed = driver.say("/same all p")
    assert listed.kind == "told"
    assert "Right rear, from below: " in listed.says
    # More stands before the rails than before the ends: nobody has read that yet.
    assert "Left rail, from below: " not in listed.says
    assert "Left front, from below: horn, ahead of the crossmember" in listed.says
    assert len(driver.survey.table(Look)) == before  # it is on the page before it is given
    driver.run("")
    assert driver.sitting.earlier is not None
    rows = driver.survey.standing(Look)[before:]
    assert len(rows) > 20
    assert {row.seen for row in rows} == {"painted"}
    for row in rows:
        assert row.answer in then(driver, str(row.prompt)), row.prompt
    # What nobody saw last time stays open, and so does the metal where jack and stands go.
    assert {row.prompt for row in rows} & set(driver.sitting.library.places) == set()
    unseen = [p for p in seen_then(driver) if not any(then(driver, p))]
    assert [p for p in unseen if looked(driver, p)] == []


def seen_then(driver: Driver) -> list[str]:
    """The looks of last time, seen or not."""
    assert driver.sitting.earlier is not None
    return list(dict.fromkeys(str(k.prompt) for k in driver.sitting.earlier.standing(Look)))


def test_every_look_that_is_left_is_none_behind_a_caution_that_is_still_to_be_read(
    driver: Driver,
) -> None:
    """Nobody has looked where he may not be yet: at the start nobody has pushed the car."""
    driver.run("/whole", "/go left-front")
    assert driver.sitting.prompt is not None
    assert driver.sitting.prompt.kind.acknowledges
    assert driver.say("/same all b").kind == "refused"
    assert driver.survey.table(Look) == ()


def found_at_a_place(folder: Path) -> tuple[Driver, str, str]:
    """Before a place at which something was found last time: the driver, that look and its letter."""
    driver = driven(folder)
    for place in ("left-rail", "right-rail", "left-front", "right-front", "left-beside"):
        at_place(driver, place)
        assert driver.sitting.prompt is not None
        for part in driver.sitting.prompt.parts:
            if set(then(driver, str(part.look.id))) - {"", "nothing-found"}:
                return driver, str(part.look.id), part.letter
    raise LookupError("nothing was found on that car")


def test_nothing_found_where_something_was_is_asked_about(tmp_path: Path) -> None:
    driver, look, _ = found_at_a_place(tmp_path)
    reply = driver.say("b")
    assert reply.kind == "doubted"
    assert says(reply.says, "Last time: … You say it is gone; where it is as it was, type b =.")
    assert looked(driver, look) == []
    driver.run("b =")
    assert [a for _, a in looked(driver, look)] == then(driver, look)


def test_what_is_gone_all_the_same_is_taken(tmp_path: Path) -> None:
    driver, look, _ = found_at_a_place(tmp_path)
    driver.say("b")
    driver.run("")
    assert looked(driver, look) == [("bare", "nothing-found")]


def test_what_has_changed_is_named_and_told_by_itself(tmp_path: Path) -> None:
    driver, look, letter = found_at_a_place(tmp_path)
    driver.run(f"b = {letter}")
    assert driver.at == look
    assert looked(driver, look) == []


def test_what_nobody_saw_last_time_is_looked_at_and_told(tmp_path: Path) -> None:
    """`As last time` never stands for a look that was not made then."""
    name = "bramble-2026-04-11"
    old = load(samples_dir() / f"{name}.toml")
    driver = driven(tmp_path)
    looks = at_place(driver, "left-rail")
    unseen = looks[0]
    rows = tuple(
        replace(k, seen="not-reached", answer="") if k.prompt == unseen else k
        for k in old.table(Look)
    )
    save(tmp_path / f"{name}.toml", replace(old, rows={**old.rows, "look": rows}))
    driver = driver.again()
    at_place(driver, "left-rail")
    reply = driver.say("b =")
    assert says(reply.says, "To tell about: … .")
    assert looked(driver, unseen) == []
    assert driver.at == unseen


def test_a_second_reader_is_never_offered_it(driver: Driver) -> None:
    driver.sitting.aside.second = ("state/engine",)
    assert not driver.sitting.keeps(driver.sitting.prompt)


@pytest.mark.parametrize("how", ["b", "b ="])
def test_a_look_kept_as_last_time_is_said_back_as_it_was_written_down(
    tmp_path: Path, how: str
) -> None:
    driver, look, letter = found_at_a_place(tmp_path)
    driver.run(f"b = {letter}")
    assert driver.at == look
    page = PageMode(driver.sitting)
    page.line("")
    reply = page.line(how)
    assert looked(driver, look) == [("bare", a) for a in then(driver, look)], "it is kept"
    assert reply.kind == "taken"
    assert reply.says.endswith(" (bare).")


# The car stands another way than last time -------------------------------------------------------


def test_as_soon_as_it_stands_another_way_it_is_said_what_cannot_be_compared(
    driver: Driver,
) -> None:
    driver.run(*OPENED, "")
    assert driver.at == "state/body"
    assert says(
        driver.say("t").says,
        "Bolted tight; last time it was: on, every bolt slack. As it is now, sag with the engine on and"
        " twist cannot be compared with last time, so you are not asked for them. To compare them, have"
        " it as it was",
    )
    assert "cannot be held" not in driver.run("/back").say("l").says
    assert driver.at == "state/found"
    assert "cannot be held" not in driver.say("w").says, "it is set up later"


APART = ("string-set-up", "sag-loaded", "level")
"""Pages of which nothing can be compared with a body that was slack then and is tight now."""


def asked_now(driver: Driver) -> set[str]:
    """The pages on which anything is still asked."""
    pages = (page for page in driver.sitting.pages() if not page.gone)
    return {page.step.id for page in pages if any(wanting(driver.survey, p) for p in page.prompts)}


def test_what_cannot_be_compared_as_it_stands_is_not_asked_and_is_named_as_not_read(
    driver: Driver,
) -> None:
    driver.run(*OPENED, "")
    before = asked_now(driver)
    assert set(APART) <= before
    driver.run("t")
    left = asked_now(driver)
    assert left.isdisjoint(APART)
    assert "diagonals-below" in left, "a tape between points of the frame is compared all the same"
    (fold,) = driver.survey.folds()
    told = next(words for f, words in needless(driver.survey, load_library()) if f.id == fold.id)
    assert says(told, "Twist: not needed, because it cannot be compared with last time (bolted")
    since = since_of(driver.sitting.earlier, driver.survey, load_library())
    assert since is not None
    assert {"sag-loaded", "twist"} <= {a.finding.quantity for a in since.apart}


def test_it_is_read_all_the_same_by_whoever_wants_it_as_a_new_base(driver: Driver) -> None:
    driver.run(*OPENED, "", "t", "+")
    assert set(APART) <= asked_now(driver)
    assert not driver.survey.folds()


def test_it_is_asked_again_once_it_stands_as_it_did(driver: Driver) -> None:
    driver.run(*OPENED, "", "t", "/back", "l")
    assert set(APART) <= asked_now(driver)
    driver.run("/back", "t")
    assert asked_now(driver).isdisjoint(APART)


def test_what_stands_as_it_did_is_not_spoken_of(driver: Driver) -> None:
    driver.run(*OPENED)
    assert "cannot be held" not in driver.say("").says
    assert "cannot be held" not in driver.say("l").says


def test_what_one_entry_left_open_is_asked_first_when_he_comes_back(driver: Driver) -> None:
    driver.run(*OPENED, "/same", "", "l")
    assert driver.at == "state/found"
    again = driver.again()
    assert again.at == "state/found", "behind what was kept lies another question of the day"
    again.run("w")
    assert again.at == "state/tires"


def test_an_answer_with_the_word_same_in_it_is_no_answer_of_last_time(driver: Driver) -> None:
    driver.run(*OPENED[:-2])
    assert driver.at == "since-last-time/marks"
    assert "As last time" not in driver.say("the same rivets").says
    assert driver.survey.answer_to(PromptId("since-last-time/marks")) == "never-marked"


def test_a_question_of_the_day_says_that_enter_does_not_keep_last_time_s_answer(
    driver: Driver,
) -> None:
    driver.run(*OPENED, "")
    assert recalled(driver.sitting) == (
        "Last time: on, every bolt slack. Type what it is today: Enter does not keep this one.",
    )
