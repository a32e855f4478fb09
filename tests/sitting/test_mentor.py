"""The mentor looks on: raw readings, a guess before the result, a signed opinion beside the
verdict.
"""

from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, READ, Driver
from tests.telling.saying import tells
from tests.told import says
from wizard.library import load_library
from wizard.sitting.aside import SETTINGS, keep_view, looks_on
from wizard.sitting.ending import ending
from wizard.sitting.mentor import _begins_alike, mentor_text
from wizard.sitting.paging import WAITING, page_of, results_shown
from wizard.sitting.words import first_words
from wizard.survey.rows import SECOND, Guess, Opinion, OwnLimit, Reading, Verdict
from wizard.telling.tell import tell_text, verdict_page

DIAGONALS = ("/go long-diagonals", READ, "91 1/8", "91", "91 1/16")
FIRST = "long-diagonals/whole/front-left--rear-right"


@pytest.fixture
def taping(driver: Driver) -> Driver:
    return driver.run(*BEGUN, *DIAGONALS)


def _live(driver: Driver) -> tuple[str, ...]:
    page = page_of(driver.sitting)
    assert page is not None
    return page.live


def test_without_the_mentor_the_result_shows_at_once(taping: Driver) -> None:
    assert _live(taping)[0].startswith("Whole frame: ")
    assert results_shown(taping.sitting)


def test_with_the_mentor_the_result_waits_for_a_guess(taping: Driver) -> None:
    taping.run("/mentor")
    assert _live(taping) == (WAITING,)
    assert results_shown(taping.sitting) == ()
    reply = taping.say("/guess right rail back 1/16")
    assert reply.says.startswith("Your guess: right rail back 1/16. Whole frame: ")
    assert _live(taping)[0].startswith("Whole frame: ")
    (row,) = taping.saved.table(Guess)
    assert (row.text, row.prompt.split("/")[0]) == ("right rail back 1/16", "long-diagonals")


def test_show_shows_it_without_a_guess_and_off_ends_it(taping: Driver) -> None:
    taping.run("/mentor")
    assert taping.say("/show").says.startswith("Shown without a guess. Whole frame: ")
    assert _live(taping) != (WAITING,)
    assert taping.say("/show").kind == "refused"
    taping.run("/mentor off")
    assert not taping.sitting.aside.mentor


def test_a_step_that_ends_asks_for_the_guess_of_its_own_result(taping: Driver) -> None:
    taping.run("/mentor")
    reply = taping.say("91")
    assert taping.at.split("/")[0] != "long-diagonals"
    assert reply.says.startswith("The long diagonals: what do you expect?")
    taping.run("/guess nothing")
    assert taping.saved.table(Guess)[0].prompt == "long-diagonals"


def test_a_step_that_ends_says_what_it_came_to(taping: Driver) -> None:
    assert taping.say("91").says.startswith("The long diagonals: Whole frame: ")


def test_a_guess_wants_words_and_can_be_undone(taping: Driver) -> None:
    assert taping.say("/guess").kind == "refused"
    taping.run("/mentor", "/guess nothing", "/undo")
    assert taping.saved.standing(Guess) == ()
    assert _live(taping) == (WAITING,)


def test_the_page_holds_nothing_computed_while_it_waits(taping: Driver) -> None:
    taping.run("/mentor")
    told = mentor_text(taping.sitting)
    assert "One diagonal is 6 mm (1/4 in) longer." in told
    assert "left front to right rear: 91 1/8; 91 1/16 (spread 1/16 in)" in told
    for word in ("Whole frame", "degrees of freedom", "±"):
        assert word not in told


def test_the_page_has_readings_doubts_limits_and_causes(taping: Driver) -> None:
    taping.run(
        "/strike !", "91", "/go long-diagonals", "/remark rivet worn oval", "/mentor", "/show"
    )
    told = mentor_text(taping.sitting)
    for words in (
        "right front to left rear: 91, struck out",
        "degrees of freedom",
        "hand and scale",
        "): take it to a specialist.",
        "this project's own figure",
        "rivet worn oval (owner)",
        "An earlier repair: not known",
        "; between them",
        "/second",
    ):
        assert words in " ".join(told.split()), words


def test_a_changed_limit_says_so_with_what_the_table_had(taping: Driver) -> None:
    taping.run("/limit rail-shift leave 1 mm shop manual", "/mentor", "/show")
    told = mentor_text(taping.sitting)
    assert says(
        told, "up to 1/32 in (1 mm): leave it; from 1/32 in (1 mm) up to … beyond … specialist"
    )
    assert says(told, "1/32 in (1 mm): changed … owner's figure: shop manual … the table says")
    taping.run("/undo")
    assert "changed for this survey" not in mentor_text(taping.sitting)


def test_an_opinion_stands_beside_the_verdict_and_never_in_its_place(taping: Driver) -> None:
    before = taping.say("/verdict").says
    assert taping.say("/opinion").kind == "refused"
    assert taping.say("/opinion A. Mentor: leave the sag").says.startswith(
        "Signed A. Mentor: leave the sag."
    )
    taping.run("/opinion hold: the doors fit it")
    after = taping.say("/verdict").says
    headline = before.partition("\n  ")[0]
    assert after.startswith(f"{headline}\n  Signed beside it")
    assert "leave the sag (signed by A. Mentor, 2026-04-11)" in " ".join(after.split())
    assert [(o.by, o.text) for o in taping.saved.table(Opinion)] == [
        ("A. Mentor", "leave the sag"),
        ("owner", "hold: the doors fit it"),
    ]


def test_the_verdict_kept_in_the_file_is_the_programs_own(taping: Driver) -> None:
    taping.run("/opinion A. Mentor: leave it")
    while taping.at != "end":
        taping.run("understood" if "/caution/" in taping.at else "/skip step no time")
    taping.run("/back", "/skip no time")
    kept = [v.text for v in taping.saved.table(Verdict)]
    assert all("A. Mentor" not in text for text in kept)
    assert "A. Mentor" not in verdict_page(taping.survey, taping.sitting.library, taping.clock())


def test_nothing_of_the_mentors_view_is_saved_in_the_survey(taping: Driver) -> None:
    before = taping.sitting.path.read_bytes()  # type: ignore[union-attr]
    taping.run("/mentor")
    assert taping.sitting.path.read_bytes() == before  # type: ignore[union-attr]


def test_who_comes_back_finds_the_mentors_view_as_it_was_left(taping: Driver) -> None:
    taping.run("/mentor")
    back = taping.again()
    assert back.sitting.aside.mentor
    said = first_words(back.sitting)
    tells(said, "You stopped", "The mentor's view is on, as it was left", "/mentor off, ends it")
    assert back.say("/mentor off").says == "The mentor's view is off."
    left = back.again()
    assert not left.sitting.aside.mentor
    assert "mentor" not in first_words(left.sitting)


def test_a_view_that_was_left_on_signs_for_no_mentor(taping: Driver) -> None:
    """Whoever comes back alone would put a mentor's name under his own opinion."""
    taping.run("/mentor")
    assert taping.sitting.signs == "mentor"
    back = taping.again()
    assert back.sitting.aside.mentor
    assert back.sitting.signs == back.sitting.by != "mentor"
    back.run("/opinion leave it")
    assert back.saved.standing(Opinion)[-1].by != "mentor"
    back.run("/mentor")
    assert back.sitting.signs == "mentor"


def test_the_view_is_kept_for_the_survey_that_it_was_left_at(taping: Driver) -> None:
    taping.run("/mentor")
    path = taping.sitting.path
    assert path is not None
    other = path.with_name("another.toml")
    other.write_bytes(path.read_bytes())
    assert not Driver(path.parent, path=other).sitting.aside.mentor
    assert looks_on(path)
    keep_view(other, True)
    keep_view(path, False)
    assert (looks_on(path), looks_on(other)) == (False, True)


def test_who_turns_it_on_before_the_survey_has_a_name_finds_it_again_too(tmp_path: Path) -> None:
    driver = Driver(tmp_path).run("/mentor", "Bramble")
    assert ending(driver.sitting).saved
    assert driver.again().sitting.aside.mentor


@pytest.mark.parametrize("text", ["mentor = [", "x" * 65_000, "mentor = 3", 'mentor = ["a", 4]'])
def test_settings_that_cannot_be_read_turn_nothing_on(taping: Driver, text: str) -> None:
    path = taping.sitting.path
    assert path is not None
    settings = path.parent / SETTINGS
    settings.write_text(text, encoding="utf-8")
    assert not looks_on(path)
    taping.run("/mentor")
    if text.startswith("mentor = ") and not text.endswith("["):
        assert looks_on(path)  # a table of another kind is filled in
    else:
        assert settings.read_text(encoding="utf-8") == text, "what is not ours is left as it is"


def test_where_nothing_can_be_written_the_view_holds_for_this_sitting(
    taping: Driver, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("wizard.survey.file._write", full)
    assert taping.say("/mentor").kind == "told"
    assert taping.sitting.aside.mentor


def test_the_guess_that_a_finished_page_waits_for_opens_its_table(taping: Driver) -> None:
    taping.run("/mentor")
    while taping.at.startswith("long-diagonals"):
        reply = taping.say("91!")
    assert "what do you expect?" in reply.says
    told = taping.say("/guess nothing has moved")
    assert told.title == "The long diagonals: what it came to"
    assert told.says.startswith("Your guess: nothing has moved. Whole frame: ")
    assert "The result, and where its doubt comes from" in told.says
    assert "Its limits, and where they come from" in told.says
    assert "parts of u in mm, the greatest first:" in told.says


def test_a_guess_is_the_newcomer_s_also_where_the_mentor_holds_the_tape(taping: Driver) -> None:
    taping.run("/mentor", "/guess right rail back 1/16")
    assert taping.saved.table(Guess)[-1].by == "owner"
    taping.sitting.stand_before("about-the-car/by")
    taping.run("m", "/guess nothing")
    assert taping.saved.table(Guess)[-1].by == "newcomer"
    text = mentor_text(taping.sitting)
    assert "Guessed by mentor" not in text


def test_the_drill_s_readings_are_hidden_in_the_mentor_s_view_until_all_are_in(
    driver: Driver,
) -> None:
    driver.run(*BEGUN, "/go your-hand", READ, "/mentor")
    for n, typed in enumerate(("25 7/8", "25 15/16"), start=1):
        driver.run(f"{typed}!")
        text = mentor_text(driver.sitting)
        assert typed not in text
        assert f"{n} of 5 taken" in text


# What a walk with a mentor found ------------------------------------------------------------------


def test_a_guess_stands_beside_what_its_page_came_to(driver: Driver) -> None:
    driver.run(*BEGUN, "/go own-sides", READ, "/guess both the same", *["90"] * 6)
    for said in (driver.say("/readings").says, _told(driver, mentor=True)):
        assert says(said, "guessed by owner: both the same. It came to: Whole frame: both rails")


def _told(driver: Driver, *, mentor: bool) -> str:
    survey, library = driver.saved, load_library()
    return tell_text(survey, library, driver.sitting.now(), mentor=mentor)


def test_what_a_mentor_sets_is_filed_as_his_while_his_view_is_on(driver: Driver) -> None:
    driver.run(*BEGUN, "/mentor", "/limit twist watch 3 mm forty frames")
    assert driver.saved.standing(OwnLimit)[-1].source == "mentor's figure: forty frames"


def test_a_band_that_another_takes_up_is_said_to_have_nothing_left(driver: Driver) -> None:
    driver.run(*BEGUN)
    said = driver.say("/limit rail-shift leave 1/4 in forty frames").says
    assert "from 1/4 in (6.3 mm) up to 1/4 in" not in said
    assert says(said, "keep an eye on it: nothing is left for that")


def test_who_goes_back_is_told_the_answer_that_stands_there(driver: Driver) -> None:
    driver.run(*BEGUN, "/go state", "i")
    assert says(
        driver.say("/back").says, "You went back. Here stands: in, its weight on the mounts."
    )


@pytest.mark.parametrize(
    ("title", "said", "alike"),
    [
        ("The front box, with a bar", "Front box, by the bar: it measures square.", True),
        ("The long diagonals", "Whole frame: it measures square.", False),
    ],
)
def test_a_page_is_not_named_twice(title: str, said: str, alike: bool) -> None:
    assert _begins_alike(title, said) is alike


def test_each_reading_of_the_second_reader_is_marked(driver: Driver) -> None:
    driver.run(*BEGUN, "/go widths", READ, "26", "/go widths", "/second", READ, "26 1/16")
    rows = [r for r in driver.saved.standing(Reading) if r.by == SECOND]
    assert f"{rows[-1].id} by the second reader" in driver.say("/readings").says
