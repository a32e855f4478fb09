"""`/add`: places of the owner's own, said, refused, taken back and taken out."""

import pytest

from tests.sitting.driving import BEGUN, READ, Driver
from tests.told import says
from wizard.survey.guide import layout_of
from wizard.survey.rows import OwnPlace


@pytest.fixture
def taping(driver: Driver) -> Driver:
    return driver.run(*BEGUN, "/go widths", READ)


def test_a_pair_is_added_and_told_where_it_will_be_asked_for(taping: Driver) -> None:
    says = taping.say("/add tape Cowl bracket, hole, 62 1/2").says
    assert "62 1/2 in behind the front points" in says
    assert "The widths, The lengths of the rails, The diagonals of each box" in says
    (row,) = taping.saved.table(OwnPlace)
    assert (row.use, row.place, row.name, row.kind) == (
        "tape",
        "own-cowl-bracket",
        "Cowl bracket",
        "hole",
    )
    assert (row.behind, row.across) == ("62 1/2 in", "")


@pytest.mark.parametrize(
    ("said", "kind", "behind", "across"),
    [
        ("tape cowl, rivet, 1500 mm", "rivet", "1500 mm", ""),
        ("TAPE cowl; 5' 2\"; BOLT", "bolt", "5' 2\"", ""),
        ("tape cowl, 150,5 cm, edge", "edge", "150,5 cm", ""),
        ("string cowl, 50", "", "50 in", ""),
        ("tape cowl, hole, 62 behind", "hole", "62 in", ""),
        ("tape cowl, hole, 62 1/2 behind the front points", "hole", "62 1/2 in", ""),
    ],
)
def test_in_any_order_and_any_unit(
    taping: Driver, said: str, kind: str, behind: str, across: str
) -> None:
    taping.run(f"/add {said}")
    (row,) = taping.saved.table(OwnPlace)
    assert (row.kind, row.behind, row.across) == (kind, behind, across)


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("moon cowl, 50", "/add tape"),
        ("tape", "/add tape"),
        ("tape cowl", "one distance"),
        ("tape cowl, hole", "one distance"),
        ("tape cowl, 62", "Say what it is: rivet, hole, bolt or edge"),
        ("tape cowl, hole, 62, 30", "one distance"),
        ("tape [/], hole, 62", "short name"),
        ("tape cowl, hole, 25 9/8", "25 9/8"),
        ("tape front, hole, 62", "already has a place called"),
        ("tape é, hole, 62", "plain letters"),
        ("tape cowl, hole, 900", "on this frame"),
        ("tape cowl, hole, 39 3/8", "“center” is already measured"),
        ("tape " + "x" * 40 + ", hole, 62", "one distance"),
        ("string cowl, 84", "string does not reach"),
        ("level cowl, 62", "Add the pair first"),
        ("level cowl, 39 3/8", "“center crossmember”"),
        ("drop cowl", "no place of your own"),
    ],
)
def test_what_makes_no_sense_is_refused_and_nothing_is_written(
    taping: Driver, said: str, why: str
) -> None:
    reply = taping.say(f"/add {said}")
    assert reply.kind == "refused"
    assert why in reply.says
    assert not taping.survey.table(OwnPlace)


def test_a_name_is_taken_once(taping: Driver) -> None:
    taping.run("/add tape cowl, hole, 62")
    assert "already have a place called Cowl" in taping.say("/add tape Cowl, rivet, 70").says


def test_undo_takes_it_back(taping: Driver) -> None:
    taping.run("/add tape cowl, hole, 62", "/undo")
    assert taping.saved.standing(OwnPlace) == ()
    assert (
        layout_of(taping.survey, taping.sitting.library)
        is taping.sitting.library.layouts["straight-ladder"]
    )


def test_dropped_its_readings_stay_in_the_file_and_the_prompt_in_front_is_another(
    taping: Driver,
) -> None:
    taping.run("/add tape cowl, hole, 62", "/go left cowl to right cowl")
    assert taping.at == "widths/own-cowl/own-cowl-left--own-cowl-right"
    taping.run("31 1/4", "/go left center to left cowl")
    assert says(
        taping.say("/add drop COWL").says, "not be asked for cowl again … stay in the file: 1."
    )
    assert "own-cowl" not in taping.at
    assert [r.typed for r in taping.saved.rows["reading"]] == ["31 1/4"]  # type: ignore[attr-defined]
    assert "own-cowl" not in {p.id for page in taping.sitting.pages() for p in page.prompts}


def test_alone_it_lists_what_there_is_and_how(taping: Driver) -> None:
    assert "none yet" in taping.say("/add").says
    taping.run("/add tape cowl, hole, 62", "/add level by the cowl, 62")
    says = taping.say("/add").says
    assert "cowl: a pair of points, 62 in behind" in says
    assert "by the cowl: a place for the level" in says


def test_no_more_than_a_survey_takes(taping: Driver) -> None:
    for n in range(20):
        taping.run(f"/add string place {n}, {41 + n} in")
    assert "a survey takes no more" in taping.say("/add string one more, 30 in").says


def test_a_mark_on_it_is_said_by_its_name(taping: Driver) -> None:
    taping.run("/add tape cowl, hole, 62")
    assert taping.say("/point cowl-left punch dot").says == "Left cowl: punch dot."


def test_readings_of_a_place_that_was_elsewhere_are_not_taken_over(taping: Driver) -> None:
    taping.run(
        "/add tape cowl, hole, 62 1/2", "/go left cowl to right cowl", "31 1/4", "/add drop cowl"
    )
    taping.run("/add tape cowl, hole, 75")
    (row,) = taping.saved.standing(OwnPlace)
    assert row.place == "own-cowl-2"
    asked = {p.id for page in taping.sitting.pages() for p in page.prompts}
    assert not asked & {r.prompt for r in taping.saved.rows["reading"]}  # type: ignore[attr-defined]


def test_the_same_place_again_has_its_readings_again(taping: Driver) -> None:
    taping.run(
        "/add tape cowl, hole, 62 1/2", "/go left cowl to right cowl", "31 1/4", "/add drop cowl"
    )
    taping.run("/add tape cowl, hole, 62 1/2")
    assert taping.saved.standing(OwnPlace)[0].place == "own-cowl"


def test_undo_right_after_a_drop_puts_the_place_back(taping: Driver) -> None:
    taping.run("/add tape cowl, hole, 62 1/2", "/add drop cowl")
    assert taping.say("/undo").says == "Undone: you will be asked for cowl again."
    assert [r.place for r in taping.saved.standing(OwnPlace)] == ["own-cowl"]


def test_undo_of_a_place_leaves_nobody_before_its_prompt(taping: Driver) -> None:
    taping.run("/add tape cowl, hole, 62 1/2", "/go left cowl to right cowl", "/undo")
    assert taping.at.startswith("widths/")
    assert "own-cowl" not in taping.at
    taping.run("34 1/4")
    (row,) = taping.saved.rows["reading"]
    assert row.prompt.startswith("widths/front/")  # type: ignore[attr-defined]


def test_points_that_a_level_is_laid_on_stay_until_the_level_goes(taping: Driver) -> None:
    taping.run("/add tape cowl, hole, 62 1/2", "/add level cowl top, 62 1/2")
    assert "/add drop cowl top first" in taping.say("/add drop cowl").says
    taping.run("/add drop cowl top", "/add drop cowl")
    assert not taping.saved.standing(OwnPlace)


def test_a_tape_and_a_string_of_one_name_are_kept_apart(taping: Driver) -> None:
    taping.run("/add tape cowl, hole, 62 1/2")
    says = taping.say("/add string cowl, 50").says
    assert [r.place for r in taping.saved.standing(OwnPlace)] == ["own-cowl", "own-cowl-2"]
    assert "The widths" not in says


def test_a_mark_of_the_drawings_own_point_stays_that_points(taping: Driver) -> None:
    taping.run("/add tape front bracket, hole, 30", "/point front-left dot")
    assert taping.saved.rows["point"][0].point == "front-left"  # type: ignore[attr-defined]


def test_in_a_survey_in_mm_the_examples_are_and_a_bare_fraction_is_no_length(
    driver: Driver,
) -> None:
    driver.run("Rosie", "m", *BEGUN[2:], "/go widths")
    assert "/add tape cowl bracket, hole, 800" in driver.say("/add").says
    reply = driver.say("/add tape cowl, hole, 31 1/2")
    assert reply.kind == "refused"
    assert "type the unit after" in reply.says
    driver.run("/add tape cowl, hole, 1450")
    assert driver.saved.standing(OwnPlace)[0].behind == "1450 mm"


def test_the_horns_are_still_held_against_the_drawings_own_points(taping: Driver) -> None:
    before = {p.id for page in taping.sitting.pages() for p in page.prompts if p.step == "horns"}
    taping.run("/add tape cowl, hole, 20")
    assert {
        p.id for page in taping.sitting.pages() for p in page.prompts if p.step == "horns"
    } == before
