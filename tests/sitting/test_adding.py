"""`/add`: places of the owner's own, said, refused, taken back and taken out."""

import pytest

from tests.sitting.driving import BEGUN, Driver
from wizard.survey.guide import layout_of
from wizard.survey.rows import OwnPlace


@pytest.fixture
def taping(driver: Driver) -> Driver:
    return driver.run(*BEGUN, "/go widths")


def test_a_pair_is_added_and_told_where_it_will_be_asked_for(taping: Driver) -> None:
    says = taping.say("/add tape Cowl bracket, hole, 62 1/2").says
    assert "62 1/2 in behind the front points" in says
    assert "The widths, Along each rail, Box by box" in says
    (row,) = taping.saved.table(OwnPlace)
    assert (row.use, row.place, row.name, row.kind) == ("tape", "own-cowl-bracket", "Cowl bracket", "hole")
    assert (row.behind, row.across) == ("62 1/2 in", "")


@pytest.mark.parametrize(
    ("said", "kind", "behind", "across"),
    [
        ("tape cowl, rivet, 1500 mm, 820 mm", "rivet", "1500 mm", "820 mm"),
        ("TAPE cowl; 5' 2\"; BOLT", "bolt", "5' 2\"", ""),
        ("tape cowl, 150,5 cm, edge", "edge", "150,5 cm", ""),
        ("string cowl, 50", "", "50 in", ""),
    ],
)
def test_in_any_order_and_any_unit(taping: Driver, said: str, kind: str, behind: str, across: str) -> None:
    taping.run(f"/add {said}")
    (row,) = taping.saved.table(OwnPlace)
    assert (row.kind, row.behind, row.across) == (kind, behind, across)


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("moon cowl, 50", "/add tape"),
        ("tape", "/add tape"),
        ("tape cowl", "too little"),
        ("tape cowl, hole", "too little"),
        ("tape cowl, 62", "What is it: rivet, hole, bolt or edge?"),
        ("tape cowl, hole, 62, 30, 20", "too much"),
        ("tape [/], hole, 62", "short name"),
        ("tape cowl, hole, 25 9/8", ""),
        ("tape cowl, hole, 900", "on this frame"),
        ("tape cowl, hole, 39 3/8", "“centre” is measured already"),
        ("tape " + "x" * 40 + ", hole, 62", "too much"),
        ("string cowl, 84", "string does not reach"),
        ("level cowl, 62", "add the pair first"),
        ("level cowl, 39 3/8", "“centre crossmember”"),
        ("drop cowl", "no place of your own"),
    ],
)
def test_what_makes_no_sense_is_refused_and_nothing_is_written(taping: Driver, said: str, why: str) -> None:
    reply = taping.say(f"/add {said}")
    assert reply.kind == "refused"
    assert why in reply.says
    assert not taping.survey.table(OwnPlace)


def test_a_name_is_taken_once(taping: Driver) -> None:
    taping.run("/add tape cowl, hole, 62")
    assert "“cowl” is measured already" in taping.say("/add tape Cowl, rivet, 70").says


def test_undo_takes_it_back(taping: Driver) -> None:
    taping.run("/add tape cowl, hole, 62", "/undo")
    assert taping.saved.standing(OwnPlace) == ()
    assert layout_of(taping.survey, taping.sitting.library) is taping.sitting.library.layouts["straight-ladder"]


def test_dropped_its_readings_stay_in_the_file_and_the_prompt_in_front_is_another(taping: Driver) -> None:
    taping.run("/add tape cowl, hole, 62", "/go left cowl to right cowl")
    assert taping.at == "widths/own-cowl/own-cowl-left--own-cowl-right"
    taping.run("31 1/4", "/go left centre to left cowl")
    assert taping.say("/add drop COWL").says == "cowl is asked for no more. What was read there stays in the file: 1."
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
    assert "as many as a survey takes" in taping.say("/add string one more, 30 in").says


def test_a_mark_on_it_is_said_by_its_name(taping: Driver) -> None:
    taping.run("/add tape cowl, hole, 62")
    assert taping.say("/point cowl-left punch dot").says == "Left cowl: punch dot."
