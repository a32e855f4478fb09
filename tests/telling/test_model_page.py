"""The model's page in words."""

from __future__ import annotations

from functools import cache

import pytest

from tests.telling.saying import tells
from wizard.judgment.blind import Bench
from wizard.judgment.game import Board, Game
from wizard.library import load_library
from wizard.model.bent import Bent, Sag
from wizard.survey.record import Unit
from wizard.telling.game_words import asked_line, named_words, possible_words
from wizard.telling.model_page import (
    caster_words,
    heard_text,
    model_page,
    pulley_words,
    readings_text,
    why_text,
)


@cache
def bench() -> Bench:
    library = load_library()
    return Bench(library.layouts["straight-ladder"], library)


def test_equal_diagonals_under_pure_twist_are_explained() -> None:
    page = model_page(bench(), Bent(twist=8.0), "mm", "twist")
    rows = {r.name: (r.mark, r.says) for r in page.rows}
    assert rows["long diagonals"] == ("-", "blind")
    assert rows["level, rails"] == ("+", "left high 8 mm")
    notes = dict(page.notes)
    assert "Equal diagonals do not rule out a twist" in notes["- long diagonals"]
    assert "8 mm higher on the left at the rear crossmember" in notes["+ level, rails"]
    assert notes["What a driver would feel"].endswith("(Common practice, no published source.)")


def test_a_check_that_would_name_it_wrongly_is_said_to() -> None:
    notes = dict(model_page(bench(), Bent(diamond=6.0), "in", "diamond").notes)
    assert "The horns are straight" in notes["+ horns' crosses"]
    assert "1/4 in further back" in notes["+ long diagonals"]


def test_the_straight_frame_has_nothing_to_say() -> None:
    page = model_page(bench(), Bent(), "mm")
    assert page.title == "Straight"
    assert page.bent == ()
    assert {r.kind for r in page.rows} == {"blind"}


def test_several_faults_at_once_have_no_name_and_every_slider_is_listed() -> None:
    page = model_page(bench(), bench().bend(["diamond 6", "twist 8", "sag left 5"]), "mm")
    assert page.title == "Bent"
    assert page.bent == (
        "right rail back 6 mm (a diamond)",
        "sag left 5 mm low at engine-mount",
        "twist 8 mm left",
    )
    assert "What a driver would feel" not in dict(page.notes)


def test_pulley_against_crossmember() -> None:
    assert "over the middle" in pulley_words(bench(), Bent(), "mm")
    assert "5.5 mm to the right" in pulley_words(bench(), Bent(diamond=6.0), "mm")
    assert "to the left" in pulley_words(bench(), Bent(sway_front=8.0), "mm")
    assert all("hint only" in pulley_words(bench(), b, "mm") for b in (Bent(), Bent(pulley=9.0)))


@pytest.mark.parametrize(
    ("depth", "said"),
    [
        (0.0, "the caster has not changed"),
        (5.0, "6 mm lower: 0.4 degrees more caster. That is too little"),
        (24.0, "From one or two degrees on, the wheels can start to shake."),
        (-5.0, "higher: 0.4 degrees less caster. With too little"),
    ],
)
def test_caster_and_what_it_does(depth: float, said: str) -> None:
    """16 mm a degree on a 0.9 m rod: 6 mm is 0.4 degrees (geometry). The ball hangs on the gearbox, so
    5 mm at the mount is 6 mm there.
    """
    sag = (Sag(depth, 640.0),) if depth else ()
    assert said in caster_words(bench(), Bent(left=sag, right=sag), "mm")


def test_a_frame_without_such_a_rod_says_nothing_of_caster() -> None:
    library = load_library()
    other = Bench(library.layouts["a-frame"], library)
    assert caster_words(other, Bent(), "mm") == ""


def test_readings_of_a_step_stand_beside_the_straight_frames() -> None:
    text = readings_text(bench(), Bent(diamond=6.0), "long-diagonals", "mm")
    assert text.splitlines() == [
        "left front to right rear: 2327   (straight: 2321)",
        "right front to left rear: 2315   (straight: 2321)",
    ]
    assert readings_text(bench(), Bent(), "history", "mm") == ""


def test_for_the_ear_it_is_three_sentences() -> None:
    text = heard_text(model_page(bench(), Bent(left=(Sag(8.0, 640.0),)), "mm", "sag-left"))
    assert [line.split(":")[0] for line in text.splitlines()] == [
        "These checks see it",
        "These hardly see it",
        "These are blind to it",
    ]
    assert "string (left low 8 mm)" in text


def test_nothing_on_any_page_calls_a_car_safe_or_says_how_to_pull() -> None:
    for fault in bench().library.model.faults.values():
        text = why_text(model_page(bench(), bench().bend(fault.bend), "mm", fault.id)).lower()
        for word in ("safe", "pull it", "heat it", "weld it"):
            assert word not in text, fault.id


# The game -----------------------------------------------------------------------------------------
# ----------------


def _game(fault: str) -> Game:
    return Game(Board(bench()), fault, bench().bend(bench().faults[fault].bend))


def test_a_reading_is_said_with_the_straight_frames_beside_it() -> None:
    game = _game("diamond")
    ask = game.board.ask("long-diagonals/whole/front-left--rear-right")
    assert asked_line(game, ask, "mm") == (
        "left front to right rear: 2327 mm   (more; straight 2321 mm)"
    )
    level = game.board.ask("level/rear/as-set bare on three points")
    told = asked_line(game, level, "mm")
    tells(told, "rear crossmember", "as set", "bare, on three points", ": 0", "as it should be")


def test_what_is_left_is_named_once_it_is_little() -> None:
    game = _game("twist")
    guessed = sum(not fault.not_guessed for fault in bench().faults.values())
    assert possible_words(game) == f"{guessed} faults still fit."
    game = game.ask("level/rear/as-set").ask("horns/horns/tip-left--front-right")
    assert possible_words(game) == "3 faults still fit: right rail sagged, twist, weak spring."


def test_a_name_is_answered() -> None:
    game = _game("twist")
    assert "a lucky guess" in named_words(game.name("twist"))
    while hint := game.hint():
        game = game.ask(hint)
    said = named_words(game.name("twist"))
    assert said.startswith("Right: twist")
    assert (
        f"{len(game.asked)} readings. With the hint each time you would need"
        f" {len(game.asked)} readings." in said
    )
    assert "would be different" in named_words(game.name("diamond"))


@pytest.mark.parametrize(
    ("bends", "unit", "says", "tapes"),
    [
        ("diamond 6 mm", "mm", "right back 6 mm", "2327 and 2315, 11.5 mm apart"),
        ("left rail back 6 mm (a diamond)", "mm", "left back 6 mm", "2315 and 2327, 11.5 mm apart"),
        ("diamond 6 mm", "in", "right back 1/4 in", "91 5/8 and 91 3/16, 7/16 in apart"),
    ],
)
def test_what_the_lengths_read_stands_beside_the_shift_and_says_which_rail(
    bends: str, unit: Unit, says: str, tapes: str
) -> None:
    """By hand: of a rail 6 mm back the one diagonal grows by 6 * 2203 / 2321, the other shrinks so."""
    page = model_page(bench(), bench().bend([bends]), unit)
    row = next(r for r in page.rows if r.name == "long diagonals")
    assert (row.says, row.tapes) == (says, tapes)
    assert f"long diagonals ({tapes}: {says})" in heard_text(page)


def test_only_a_check_of_two_twins_tells_lengths() -> None:
    rows = model_page(bench(), bench().bend(["diamond 6 mm"]), "mm").rows
    assert {r.name for r in rows if r.tapes} == {
        "long diagonals",
        "box diagonals",
        "horns' crosses",
    }
    sag = model_page(bench(), bench().bend(["sag left 8 mm at engine-mount"]), "mm").rows
    assert next(r.says for r in sag if r.name == "string") == "left low 8 mm"
    assert not any(r.tapes for r in sag if r.kind == "sees")
