"""A second reader on the same prompt, blind to the first."""

import re

import pytest

from tests.sitting.driving import BEGUN, READ, Driver
from tests.told import says
from wizard.checks.foretell import foretelling
from wizard.library import load_library
from wizard.sitting.aside import LOOK_AGAIN, SECOND
from wizard.sitting.drawing import drawing_words
from wizard.sitting.foretold import foretell_with
from wizard.sitting.mentor import parts_of
from wizard.sitting.paging import HIDDEN, may_see, page_of
from wizard.survey.rows import Ack, Look

FIRST = "long-diagonals/whole/front-left--rear-right"
OTHER = "long-diagonals/whole/front-right--rear-left"


@pytest.fixture
def taping(driver: Driver) -> Driver:
    return driver.run(*BEGUN, "/go long-diagonals", READ, "91 1/8", "91", "91 1/16")


def _rows(driver: Driver) -> dict[str, str]:
    page = page_of(driver.sitting)
    assert page is not None
    return {r.label: r.values for r in page.rows}


def test_the_first_readings_are_hidden_until_both_are_in(taping: Driver) -> None:
    assert taping.say("/second").kind == "taken"
    taping.run(READ)
    assert taping.at == OTHER
    assert _rows(taping)["right front to left rear"] == HIDDEN
    assert may_see(taping.sitting).readings_of(OTHER) == ()
    page = page_of(taping.sitting)
    assert page is not None
    assert page.live == ()
    assert "91" not in " ".join(drawing_words(taping.sitting))
    reply = taping.say("90 15/16")
    assert says(
        reply.says, "right front to left rear: the first … 91, the second 90 15/16. The first … on"
    )
    taping.run("/go long-diagonals")
    assert _rows(taping)["right front to left rear"] == "91   90 15/16"


def test_the_mentor_s_view_hides_them_too_and_can_be_left(taping: Driver) -> None:
    taping.run("/mentor", "/second", READ)
    said = " ".join(line for part in parts_of(taping.sitting) for line in part.lines)
    assert "right front to left rear: hidden until both are in" in said
    assert "struck" not in said
    assert "right front to left rear: 91" not in said
    assert taping.say("/mentor off").kind == "told"
    assert taping.sitting.aside.reader == SECOND


def test_the_rows_carry_who_read_them_and_nothing_of_the_first_is_struck(taping: Driver) -> None:
    taping.run("/second", READ, "90 15/16")
    rows = taping.saved.readings_of(OTHER)
    assert [(r.typed, r.by, r.struck) for r in rows] == [
        ("91", "owner", ""),
        ("90 15/16", SECOND, ""),
    ]


def test_all_of_a_step_is_read_in_turn_and_the_first_goes_on_where_he_stood(taping: Driver) -> None:
    taping.run("/second step", READ)
    assert taping.at == FIRST
    taping.run("91 1/8")
    assert (taping.at, taping.sitting.aside.reader) == (OTHER, SECOND)
    taping.run("91")
    assert taping.sitting.aside.reader == ""
    # The second's readings stand beside the first's and save him none of his own.
    assert taping.at.split("/")[0] == "long-diagonals"
    taping.run("91")
    assert taping.at.split("/")[0] != "long-diagonals"
    assert len(taping.survey.readings_of(FIRST)) == 3


@pytest.mark.parametrize("word", ["/verdict", "/mentor", "/undo", "/strike", "/report", "/second"])
def test_what_would_show_the_first_reading_waits(taping: Driver, word: str) -> None:
    taping.run("/second", READ)
    assert taping.say(word).kind == "refused"
    assert taping.at == OTHER
    taping.run("/second stop")
    assert taping.sitting.aside.reader == ""


def test_a_doubt_of_the_second_does_not_tell_what_the_first_read(tmp_path) -> None:
    driver = Driver(tmp_path, foretell=foretelling(load_library()))
    driver.run(*BEGUN, "/go long-diagonals", READ, "91 1/8")
    assert driver.say("95").kind == "doubted"
    driver.run("/go long-diagonals", "91", "/back", "/second", READ)
    assert "91 1/8" not in driver.say("95").says


CAUTIONS = ["under-on-wheels", "sharp-points"]
"""What is read before the long diagonals of a car on its wheels."""


def test_a_second_reader_far_off_on_the_hand_s_own_page_is_asked_again(tmp_path) -> None:
    """Only the distance itself foretells it, and a slip there would widen every result."""
    driver = Driver(tmp_path, foretell=foretelling(load_library()))
    driver.run(*BEGUN, "/go your-hand", READ, "26 1/4", "26 5/16", "26 5/16", "/second", READ)
    said = driver.say("26 1/2")
    assert (said.kind, said.says.startswith(LOOK_AGAIN)) == ("doubted", True)
    assert "26" not in said.says
    assert driver.say("26 5/16").kind != "doubted"


def test_a_second_reader_reads_the_cautions_himself(taping: Driver) -> None:
    """The first has read them; that says nothing of the second."""
    read = [a.caution for a in taping.survey.standing(Ack) if a.caution in CAUTIONS]
    assert read == CAUTIONS
    taping.run("/second")
    for caution in CAUTIONS:
        assert taping.at == f"long-diagonals/caution/{caution}"
        for line in ("90 15/16", "/undo", "/strike", "/skip no time"):
            assert taping.say(line).kind == "refused"
        assert taping.sitting.aside.reader == SECOND
        taping.run("understood")
    assert taping.at == OTHER
    taping.run("90 15/16")
    assert [(a.caution, a.by) for a in taping.saved.standing(Ack)[-2:]] == [
        (c, SECOND) for c in CAUTIONS
    ]
    assert (taping.sitting.aside.reader, taping.at) == ("", OTHER)


def test_what_the_second_has_read_says_nothing_of_the_first(taping: Driver) -> None:
    taping.run("/go sag-loaded", READ, "1/2", "/second", READ, "5/8")
    assert taping.sitting.aside.reader == ""
    taping.sitting.survey = taping.survey.with_struck(
        next(
            a.id for a in taping.survey.standing(Ack) if a.caution == "string" and a.by == "owner"
        ),
        "never read",
    )
    assert [a.by for a in taping.survey.standing(Ack) if a.caution == "string"] == [SECOND]
    assert taping.at == "sag-loaded/caution/string"


def test_the_second_reads_them_once_for_all_that_he_reads(taping: Driver) -> None:
    taping.run("/second step", READ, "91 1/8")
    assert (taping.at, taping.sitting.aside.reader) == (OTHER, SECOND)


def test_on_another_day_the_car_is_pushed_again_before_the_second_reads(taping: Driver) -> None:
    taping.clock.next_day()
    taping.run("/second")
    assert taping.at == "long-diagonals/caution/hold-stale"
    taping.run("understood")
    assert taping.at.startswith("set-supports/")
    taping.run(READ)
    assert (taping.at, taping.sitting.aside.reader) == (OTHER, SECOND)


def test_walking_away_ends_the_turn(taping: Driver) -> None:
    taping.run("/second", READ, "/go level", "/trail")
    assert taping.sitting.aside.reader == ""
    assert _rows(taping)


def test_there_must_be_a_first_reader(driver: Driver) -> None:
    driver.run(*BEGUN)
    assert driver.say("/second").kind == "refused"
    assert driver.say("/second stop").kind == "refused"


def test_at_a_place_there_is_nothing_to_read_a_second_time(driver: Driver) -> None:
    driver.run("Bramble", "i", "s", "w", "o", "/go left-front", READ)
    for line in ("/second", "/second step"):
        assert "nothing is measured on this page" in driver.say(line).says
    driver.run("b h")
    looks = driver.survey.standing(Look)
    assert "with /remark" in driver.say("/second").says
    assert driver.sitting.aside.reader == ""
    assert driver.survey.standing(Look) == looks
    driver.run("b g")
    assert [k.by for k in driver.saved.standing(Look)] == ["owner"] * 7


def test_several_on_one_line_are_refused_while_one_reads_blind(taping: Driver) -> None:
    taping.run("/second", READ)
    before = taping.survey
    assert taping.say("91; 91").kind == "refused"
    assert taping.survey is before


def test_a_slip_of_the_first_is_struck_and_not_the_second_s_good_reading(taping: Driver) -> None:
    taping.run("/second", READ, "90 15/16", "/go long-diagonals")
    taping.sitting.stand_before(OTHER)
    taping.run("/strike !")
    assert [(r.typed, r.by) for r in taping.survey.readings_of(OTHER)] == [("90 15/16", SECOND)]


FIGURES = ("91 7/16", "91 5/16", "91 3/8", "91 11/32")
"""What the first reads of both diagonals, twice each."""


def _seen(driver: Driver) -> str:
    """All that a second reader can bring before his eyes."""
    page = page_of(driver.sitting)
    assert page is not None
    said = [page.label, page.nth, page.hint, *page.live, *drawing_words(driver.sitting)]
    said += [f"{row.label} {row.values} {row.brief}" for row in page.rows]
    said += [line for part in parts_of(driver.sitting) for line in part.lines]
    asides = ("/why", "/spoils", "/words", "/trail", "/drawing", "/guess right rail back", "/help")
    return "\n".join([*said, *(driver.say(word).says for word in asides)])


def _holds(text: str, figure: str) -> bool:
    return re.search(rf"(?<![\d/ ]) ?{re.escape(figure)}(?![ ]?\d|/|\.\d)", text) is not None


def test_while_he_reads_no_figure_of_the_first_is_shown_or_said_to_him(tmp_path) -> None:
    """Neither on the page, in its twin's row, in the mentor's view, in a doubt, nor between his own
    readings.
    """
    driver = Driver(tmp_path, foretell=foretelling(load_library()))
    driver.run(*BEGUN, "/go long-diagonals", READ, *FIGURES)
    driver.run("/go long-diagonals", "/remark the left one reads 91 7/16", "/guess 91 3/8 both")
    driver.run("/mentor", "/second step", READ)
    before = _seen(driver)
    taken = driver.say("90 15/16")
    between, doubted = _seen(driver), driver.say("91 15/16")
    assert doubted.kind == "doubted"
    told = "\n".join([before, taken.says, between, doubted.says, _seen(driver)])
    assert not [figure for figure in FIGURES if _holds(told, figure)]
    assert _holds(told, "90 15/16")
    after = driver.say("91 15/16!").says
    for figure in FIGURES:
        assert _holds(after, figure), figure
    assert says(after, "the first reader … the second 90 15/16 … the second 91 15/16 … first … on")


def test_a_slip_of_the_second_is_doubted_by_the_twin_without_its_figure(tmp_path) -> None:
    driver = Driver(tmp_path, foretell=foretelling(load_library()))
    driver.run(*BEGUN, "/go long-diagonals", READ, *FIGURES, "/go long-diagonals", "/second", READ)
    reply = driver.say("92 3/8")
    assert reply.kind == "doubted"
    assert not [figure for figure in FIGURES if _holds(reply.says, figure)]
    assert says(reply.says, "Look at the tape once more")


def test_what_both_have_read_of_a_whole_step_is_a_page_of_its_own(driver: Driver) -> None:
    driver.run(*BEGUN, "/go widths", READ)
    first = iter(["25 7/8", "25 13/16", "25 3/4", "25 11/16", "25 5/8", "25 9/16"])
    while driver.at.startswith("widths"):
        driver.say(f"{next(first)}!")
    driver.run("/go widths", "/second step", READ)
    reply = driver.say("26")
    while driver.sitting.aside.reader:
        assert "first reader 2" not in reply.says
        reply = driver.say("26")
    assert reply.title == "What both have read"
    assert reply.says.count("the second 26") == len(reply.says.splitlines()) > 2
    assert reply.below == "The first reader goes on."


@pytest.mark.parametrize("typed", ["9 1/8", "2310", "101 1/16"])
def test_a_doubt_of_the_second_reader_names_no_figure_but_his_own(tmp_path, typed: str) -> None:
    library = load_library()
    driver = Driver(tmp_path, foretell=foretell_with(library))
    driver.run(*BEGUN, "/go long-diagonals", READ, "91 1/8", "91", "91 1/16", "/second", READ)
    reply = driver.say(typed)
    assert reply.kind == "doubted"
    assert says(reply.says, "That does not go with the rest. Look at the tape once more.")
    assert not re.search(r"\d", reply.says)
