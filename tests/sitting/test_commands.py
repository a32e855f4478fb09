"""The words after a slash: what they take out, pass over, and move to."""

from pathlib import Path

import pytest

from tests.sitting import driving
from tests.sitting.driving import BEGUN, READ, Driver, finished, likely, step_of
from tests.told import says
from wizard.survey.rows import Answer, Look, OwnLimit, Reading, Remark, Row, Size, Skip, Tool

STRING = ("/go sag-loaded", READ)
LOOKS = ("/go rail-tops", READ)


@pytest.fixture
def begun(driver: Driver) -> Driver:
    return driver.run(*BEGUN, "i", "l", *STRING)


def _struck(driver: Driver, kind: type[Row]) -> list[str]:
    return [r.struck for r in driver.saved.table(kind)]


# Skip ---------------------------------------------------------------------------------------------
# ------------


def test_a_skip_keeps_its_reason(begun: Driver) -> None:
    reply = begun.say("/skip bracket\x1b[2J in the way")
    assert reply.kind == "taken"
    assert says(reply.says, "Skipped: bracket[2J in the way. … the rest of this page … /skip page")
    assert begun.saved.skipped("sag-loaded/front-crossmember/left") == "bracket[2J in the way"
    assert begun.at == "sag-loaded/mid-engine/left"


@pytest.mark.parametrize("line", ["/skip", "/skip   ", "/skip step", "/skip page  ", "/SKIP"])
def test_a_skip_without_a_reason_is_refused(begun: Driver, line: str) -> None:
    assert begun.say(line).kind == "refused"
    assert begun.saved.table(Skip) == ()
    assert begun.at == "sag-loaded/front-crossmember/left"


def test_a_caution_is_not_skipped_but_the_page_that_it_guards_may_be(begun: Driver) -> None:
    begun.run("/go lift-engine")
    assert begun.at.startswith("lift-engine/caution/")
    reply = begun.say("/skip no")
    assert reply.kind == "refused"
    assert "/skip page" in reply.says
    assert begun.say("/skip page").kind == "refused"
    assert begun.saved.table(Skip) == ()
    begun.run("/skip page nothing is lifted today")
    assert step_of(begun.at) != "lift-engine"
    assert {step_of(s.prompt) for s in begun.saved.table(Skip)} == {"lift-engine"}


def test_a_reason_may_begin_like_the_word_step(begun: Driver) -> None:
    begun.run("/skip stepladder in the way")
    assert [s.why for s in begun.saved.table(Skip)] == ["stepladder in the way"]


def test_the_rest_of_a_step_is_skipped_and_what_was_read_stays(begun: Driver) -> None:
    begun.run("1/2", "/skip step the string broke")
    assert begun.at == "lift-engine/caution/fuel"  # the others were read on the way here
    assert [r.typed for r in begun.saved.table(Reading)] == ["1/2"]
    assert not begun.saved.skipped("sag-loaded/front-crossmember/left")
    assert len(begun.saved.table(Skip)) == 9


def test_the_repeats_of_a_step_are_skipped_with_it(begun: Driver) -> None:
    begun.run("/go long-diagonals", READ, "91", "/skip step rain")
    assert begun.at.split("/")[0] != "long-diagonals"
    assert len(begun.saved.readings_of("long-diagonals/whole/front-left--rear-right")) == 1


def test_a_caution_is_not_skipped(driver: Driver) -> None:
    driver.run(*BEGUN, "/go level", READ, "/go sag-loaded")
    for line in ("/skip no time", "/skip caution"):
        assert driver.say(line).kind == "refused"
    assert driver.at == "sag-loaded/caution/string"
    assert driver.saved.table(Skip) == ()


def test_what_holds_the_car_is_not_skipped_either(driver: Driver) -> None:
    driver.run(*BEGUN, "/go sag-loaded")
    for line in ("/skip no time", "1/2"):
        assert driver.say(line).kind == "refused"
    assert driver.at == "sag-loaded/caution/hold-unpushed"


def test_the_push_test_passed_over_drops_the_page_that_waited_for_it(driver: Driver) -> None:
    driver.run(*BEGUN, "/go sag-loaded")
    while driver.at != "set-supports/push":
        assert driver.sitting.prompt is not None
        driver.run(likely(driver.sitting.prompt))
    driver.run("/skip alone today")
    assert driver.at.split("/")[0] != "sag-loaded"
    reply = driver.say("/go sag-loaded")
    assert (reply.kind, reply.says.split(". ")[0]) == ("refused", "Nobody knows whether it stands")
    driver.run(
        "/go You pushed it from each side: did anything move?",
        READ,
        "s",
        "/go sag-loaded",
        READ,
        "1/2",
    )
    assert [r.typed for r in driver.saved.table(Reading)] == ["1/2"]


def test_at_a_caution_why_speaks_of_the_caution_and_not_of_the_page_behind_it(
    driver: Driver,
) -> None:
    driver.run(*BEGUN, "/go level", READ, "/go sag-loaded")
    why, spoils = driver.say("/why"), driver.say("/spoils")
    assert why.title == "Why this caution"
    assert "Sag with the engine's weight on" in why.says
    assert "before the engine leaves" not in why.says
    assert spoils.says.startswith("- You type understood at “Where a string")
    driver.run("understood")
    while "/caution/" in driver.at:
        driver.run("understood")
    assert driver.say("/why").title == "Why this matters"


def test_a_skipped_question_can_be_answered_after_all(begun: Driver) -> None:
    begun.run("/skip lamp broke", "/back")
    assert begun.at == "sag-loaded/front-crossmember/left"
    begun.run("1/2")
    assert begun.saved.skipped("sag-loaded/front-crossmember/left") == ""
    assert _struck(begun, Skip) == ["answered after all"]


# Back and next
# ------------------------------------------------------------------------------------------------


def test_back_and_next_change_nothing(begun: Driver) -> None:
    begun.run("1/2", "5/8")
    before = begun.survey
    begun.run("/back", "/back")
    assert begun.at == "sag-loaded/front-crossmember/left"
    begun.run("/next")
    assert begun.at == "sag-loaded/engine-mount/left"
    assert begun.survey is before


def test_back_stops_at_the_first_question(driver: Driver) -> None:
    assert driver.say("/back").kind == "refused"
    driver.run("Bramble", "/back")
    assert driver.at == "about-the-car/car"
    assert driver.say("/back").says == "This is the first question."


def test_back_from_the_end(tmp_path: Path) -> None:
    driver = finished(tmp_path)
    driver.run("/back")
    assert driver.at == "finish/anything-else"


def test_next_at_the_only_question_left(tmp_path: Path) -> None:
    driver = finished(tmp_path)
    driver.run("/go about-the-car", "/strike !")
    assert driver.at == "about-the-car/car"
    reply = driver.say("/next")
    assert (reply.kind, driver.at) == ("refused", "about-the-car/car")


def test_an_answer_typed_after_going_back_is_added(begun: Driver) -> None:
    begun.run("1/2", "/back", "9/16")
    assert [r.typed for r in begun.saved.readings_of("sag-loaded/front-crossmember/left")] == [
        "1/2",
        "9/16",
    ]


def test_enter_after_going_back_keeps_what_stands_and_goes_on_by_one(begun: Driver) -> None:
    begun.run("1/2", "5/8", "/back", "/back")
    here, rows = begun.at, len(list(begun.saved.all_rows()))
    assert "Press Enter to keep" in begun.run("").say("/back").says
    assert begun.at == here
    assert begun.say("").kind == "taken"
    assert begun.at != here
    assert len(list(begun.saved.all_rows())) == rows


def test_enter_at_an_open_question_takes_nothing(begun: Driver) -> None:
    here = begun.at
    assert (begun.say("").kind, begun.at) == ("refused", here)


def test_the_second_reader_keeps_nothing_of_the_first_by_enter(begun: Driver) -> None:
    begun.run("1/2", "/back", "/second")
    here = begun.at
    assert (begun.say("").kind, begun.at) == ("refused", here)


# Strike and undo
# ----------------------------------------------------------------------------------------------


def test_strike_takes_the_last_reading_out_and_asks_again(begun: Driver) -> None:
    reply = begun.run("1/2", "/back").say("/strike leaned on the frame!")
    assert reply.says == "Struck: 1/2. It stays in the file as struck out."
    assert _struck(begun, Reading) == ["leaned on the frame"]
    assert begun.at == "sag-loaded/front-crossmember/left"
    begun.run("5/8")
    assert len({r.id for r in begun.saved.all_rows()}) == len(list(begun.saved.all_rows()))


def test_strike_says_which_before_it_does(begun: Driver) -> None:
    asked = begun.run("1/2", "/back").say("/strike leaned on the frame")
    assert asked.kind == "doubted"
    assert begun.sitting.prompt is not None
    assert "1/2" in asked.says
    assert begun.sitting.prompt.ask in asked.says
    assert _struck(begun, Reading) == [""]
    assert begun.say("").says == "Struck: 1/2. It stays in the file as struck out."
    assert _struck(begun, Reading) == ["leaned on the frame"]


@pytest.mark.parametrize("other", ["5/8", "/why", "/next", "/strike z999"])
def test_anything_but_enter_leaves_what_was_about_to_be_struck(begun: Driver, other: str) -> None:
    begun.run("1/2", "/back")
    for line in ("/strike", other, ""):
        begun.say(line)
    assert "struck" not in _struck(begun, Reading)


def test_undo_right_after_a_strike_puts_the_reading_back(begun: Driver) -> None:
    begun.run("1/2", "5/8", "/back", "/strike !")
    assert _struck(begun, Reading) == ["", "struck"]
    assert begun.say("/undo").says == "Undone: 5/8 stands again."
    assert _struck(begun, Reading) == ["", ""]
    assert begun.say("/undo").says == "Undone: 5/8. It stays in the file as struck out."


def test_undo_after_something_else_does_not_put_the_struck_one_back(begun: Driver) -> None:
    begun.run("1/2", "/back", "/strike !", "3/4")
    assert begun.say("/undo").says == "Undone: 3/4. It stays in the file as struck out."


def test_strike_at_a_fresh_question_takes_the_one_before(begun: Driver) -> None:
    begun.run("1/2", "/strike !")
    assert _struck(begun, Reading) == ["struck"]
    assert begun.at == "sag-loaded/front-crossmember/left"


@pytest.mark.parametrize("named", ["{id}", "left front to right rear"])
def test_what_was_struck_elsewhere_is_typed_again_there_and_then_he_is_back(
    begun: Driver, named: str
) -> None:
    begun.run("/go long-diagonals", READ, "91; 91; 92; 92", "/go sag-loaded", READ)
    here = begun.at
    (first, *_) = begun.saved.standing(Reading)
    said = begun.say(f"/strike {named.format(id=first.id)} leaned on it!").says
    assert "Type it again here; then you are back at" in said
    assert _struck(begun, Reading).count("leaned on it") == 1
    begun.run(READ)
    assert begun.at == first.prompt
    assert "Left out" not in begun.run(READ).say("91 1/16").says
    assert begun.at == here


def test_undo_of_a_strike_elsewhere_leaves_him_where_he_was(begun: Driver) -> None:
    begun.run("/go long-diagonals", READ, "91; 91; 92; 92", "/go sag-loaded", READ)
    here = begun.at
    begun.say("/strike left front to right rear!")
    assert "stands again" in begun.say("/undo").says
    assert begun.at == here


def test_two_undone_are_asked_again_in_their_order(begun: Driver) -> None:
    begun.run("1/2", "5/8")
    here = begun.at
    begun.run("/undo", "/undo")
    first = begun.at
    begun.run("1/2")
    assert begun.at not in (first, here)
    begun.run("5/8")
    assert begun.at == here


def test_the_word_of_a_reason_is_no_question(begun: Driver) -> None:
    begun.run("1/2", "/back", "/strike left rail was dirty!")
    assert _struck(begun, Reading) == ["left rail was dirty"]


def test_a_reading_is_gone_to_by_its_number(begun: Driver) -> None:
    begun.run("/go long-diagonals", READ, "91; 91; 92; 92", "/go sag-loaded", READ)
    (first, *_) = begun.saved.standing(Reading)
    begun.run(f"/go {first.id}", READ)
    assert begun.at == first.prompt
    assert f"/go {begun.saved.standing(Reading)[-1].id}" in " ".join(
        begun.say("/readings").says.split()
    )


def test_strike_takes_the_second_of_a_pair_first(begun: Driver) -> None:
    begun.run("/go long-diagonals", READ, "91; 92; 93; 94", "/back", "/back", "/strike !")
    assert [(r.typed, bool(r.struck)) for r in begun.saved.table(Reading)] == [
        ("91", False),
        ("92", False),
        ("93", True),
        ("94", False),
    ]
    assert (begun.at, begun.nth) == ("long-diagonals/whole/front-left--rear-right", 2)


def test_undo_goes_back_one_by_one_to_nothing(driver: Driver) -> None:
    driver.run(*BEGUN, "i", "l")
    ids = [a.id for a in driver.survey.table(Answer)]
    for _ in ids:
        driver.run("/undo")
    assert driver.say("/undo").kind == "refused"
    assert (driver.at, driver.survey.car, driver.survey.state().engine) == (
        "about-the-car/car",
        "",
        "",
    )
    assert [a.id for a in driver.saved.table(Answer)] == ids
    driver.run("Clover")
    assert driver.saved.table(Answer)[-1].id not in ids
    assert driver.saved.car == "Clover"


def test_undo_of_a_state_goes_back_to_the_state_before(begun: Driver) -> None:
    begun.run("/skip step x", READ, "w")
    assert begun.survey.state().engine == "weight-off"
    begun.run("/undo")
    assert begun.survey.state().engine == "in"
    assert begun.at == "lift-engine/caution/hold-changed"  # nobody knows whether somebody had tried
    begun.run(READ)
    assert begun.at == "lift-engine/engine"


def test_undo_of_a_look_takes_back_all_that_was_seen_in_one_line(begun: Driver) -> None:
    begun.run(*LOOKS, "b t", "b lc", "/undo")
    assert _struck(begun, Look)[-2:] == ["undone", "undone"]
    assert not any(_struck(begun, Look)[:-2])
    assert begun.at == "rail-tops/left"
    assert begun.sitting.waits()


def test_undo_of_a_skip_asks_again(begun: Driver) -> None:
    begun.run("/skip lamp broke", "/undo")
    assert begun.at == "sag-loaded/front-crossmember/left"
    assert begun.sitting.waits()


@pytest.mark.parametrize(
    ("line", "kind"),
    [
        ("/remark rusty", Remark),
        ("/size track 1400 mm", Size),
        ("/limit twist watch 3 mm shop manual", OwnLimit),
    ],
)
def test_undo_takes_back_what_a_word_set_down(begun: Driver, line: str, kind: type[Row]) -> None:
    begun.run("1/2", line, "/undo")
    assert _struck(begun, kind) == ["undone"]
    assert _struck(begun, Reading) == [""]
    assert begun.at == "sag-loaded/mid-engine/left"


def test_undo_of_a_tool_goes_back_to_the_tool_before(driver: Driver) -> None:
    driver.run(*BEGUN, "/go Which tape?", "o", "m", "/back", "/back", "f", "/undo")
    tape = driver.survey.tool("tape")
    assert tape is not None
    assert (tape.extra["class"], tape.extra["start"]) == ("II", "mark")
    assert [bool(t.struck) for t in driver.saved.table(Tool)] == [False, True]


def test_a_unit_in_mm_stays_once_a_reading_is_down(driver: Driver) -> None:
    driver.run(*driving.begun(unit="m"), *STRING, "12")
    driver.sitting.stand_before("about-the-car/unit")
    reply = driver.say("/strike !")
    assert (reply.kind, driver.survey.unit) == ("refused", "mm")
    assert "written readings down already" in reply.says
    assert _struck(driver, Answer)[1] == ""


# Going --------------------------------------------------------------------------------------------
# ------------


@pytest.mark.parametrize("to", ["level", "LEVEL", " level "])
def test_go_to_a_step_by_name(begun: Driver, to: str) -> None:
    begun.run(f"/go {to}")
    assert begun.at == "level/horns/as-set"


def test_go_to_a_step_by_the_number_of_the_trail(begun: Driver) -> None:
    ids = [p.step.id for p in begun.sitting.walk()]
    begun.run(f"/go {ids.index('level') + 1}")
    assert begun.at == "level/horns/as-set"
    trail = begun.say("/trail").says
    assert f"{ids.index('level') + 1} [ ] Twist  (level)" in trail


@pytest.mark.parametrize("to", ["nowhere", "0", "999", "²", "-1", "9" * 1990, "1.5", "x" * 5000])
def test_go_to_no_step(begun: Driver, to: str) -> None:
    reply = begun.say(f"/go {to}")
    assert (reply.kind, begun.at) == ("refused", "sag-loaded/front-crossmember/left")


def test_go_to_a_step_that_does_not_apply_says_what_stands_in(begun: Driver) -> None:
    reply = begun.say("/go sag-unloaded")
    assert reply.kind == "refused"
    assert says(reply.says, "engine's weight … still on")


def test_go_alone_shows_the_trail(begun: Driver) -> None:
    assert begun.say("/go").title == "Where you are"


def test_go_to_a_step_that_is_done_stands_at_its_first_question(begun: Driver) -> None:
    begun.run("/go about-the-car")
    assert begun.at == "about-the-car/car"
    assert not begun.sitting.waits()


def test_a_page_that_is_not_for_this_car_is_named_when_it_is_passed_over(tmp_path: Path) -> None:
    driver = Driver(tmp_path).run(*BEGUN, "/go state", "i", "l", "w")
    heard = [driver.say(answer).says for answer in "nemq"]
    assert driver.sitting.target is not None
    assert driver.sitting.target.prompt.id == "set-supports/supports", heard
    assert says(heard[-1], "Left out for this car … The hood's gaps … /trail … why")
    assert not any("Left out for this car" in said for said in heard[:-1])


@pytest.mark.parametrize(
    ("typed", "title"),
    [("help", "What you can type"), ("?", "What you can type"), ("Why", "Why this matters")],
)
def test_a_command_without_its_slash_is_taken_where_it_is_no_answer(
    begun: Driver, typed: str, title: str
) -> None:
    assert begun.say(typed).title == title


def test_a_skip_without_its_slash_keeps_its_reason(begun: Driver) -> None:
    assert says(begun.say("skip bracket in the way").says, "Skipped: bracket in the way.")


@pytest.mark.parametrize("typed", ["why not", "strike", "model"])
def test_what_is_no_answer_and_no_such_command_is_refused(begun: Driver, typed: str) -> None:
    assert begun.say(typed).kind == "refused"
    assert begun.at == "sag-loaded/front-crossmember/left"


def test_words_that_are_an_answer_are_never_a_command(driver: Driver) -> None:
    driver.say("help")
    assert driver.survey.car == "help"


@pytest.mark.parametrize("typed", ["/go 3", "/go page 3", "/go step 3", "/go 3."])
def test_a_page_is_gone_to_by_its_number(begun: Driver, typed: str) -> None:
    begun.say(typed)
    assert begun.sitting.step is begun.sitting.walk()[2].step


@pytest.mark.parametrize("name", ["left front", "left front, from below", "long diagonals"])
def test_a_page_is_gone_to_by_the_beginning_of_its_title(begun: Driver, name: str) -> None:
    begun.run(f"/go {name}", READ)
    assert begun.at.startswith(("left-front", "long-diagonals"))


def test_a_beginning_that_several_titles_have_names_no_page(begun: Driver) -> None:
    assert begun.say("/go left").kind == "refused"
