"""Guess what I bent: hints that split best, and what they save over asking at random."""

from __future__ import annotations

import math
import random
from functools import cache, lru_cache

import pytest

from wizard.judgment.blind import Bench
from wizard.judgment.game import Board, Game
from wizard.library import load_library
from wizard.model.bent import Bent

GAMES = 1000


@cache
def board() -> Board:
    library = load_library()
    return Board(Bench(library.layouts["straight-ladder"], library))


def _all() -> frozenset[int]:
    return frozenset(range(len(board().cases)))


def _game(fault: str, size: float = 1.0, mirror: bool = False) -> Game:
    found = board().bench.library.model.faults[fault]
    return Game(
        board(), fault, board().bench.bend(found.mirror if mirror else found.bend).scaled(size)
    )


@lru_cache(maxsize=100_000)
def _hint(left: frozenset[int], asked: frozenset[str]) -> str:
    return board().hint(left, asked)


def _play(case: int, choose) -> int:  # type: ignore[no-untyped-def]
    """Readings until one fault is left."""
    left, asked = _all(), []
    while len(board().faults(left)) > 1:
        ask = choose(left, asked)
        asked.append(ask)
        left = board().after(left, ask, board().table[ask][case])
    return len(asked)


def test_the_hint_wins_in_fewer_readings_than_chance_over_a_thousand_games() -> None:
    rng, ids = random.Random(7), [a.id for a in board().asks]
    hinted = asked = 0
    worst = 0
    for _ in range(GAMES):
        case = rng.randrange(len(board().cases))
        taken = _play(case, lambda left, had: _hint(left, frozenset(had)))
        hinted += taken
        worst = max(worst, taken)
        asked += _play(case, lambda left, had: rng.choice([a for a in ids if a not in had]))
    assert hinted / GAMES < 5.0
    assert hinted / GAMES < 0.5 * asked / GAMES
    assert worst <= 7


def test_every_case_can_be_told_from_every_other_fault() -> None:
    for n, case in enumerate(board().cases):
        left = _all()
        for ask in board().asks:
            left = board().after(left, ask.id, board().table[ask.id][n])
        assert board().faults(left) == (case.fault,)


def test_entropy_of_equals_is_the_logarithm_of_their_number() -> None:
    """Identity: log2 n for n faults alike likely, zero for one."""
    count = len(board().faults(_all()))
    assert board().entropy(_all()) == pytest.approx(math.log2(count))
    assert board().entropy([0]) == 0.0


def test_the_hint_has_the_largest_expected_fall() -> None:
    falls = {a.id: board().fall(_all(), a.id) for a in board().asks}
    assert falls[board().hint(_all())] == pytest.approx(max(falls.values()))
    assert 0.0 <= min(falls.values()) < max(falls.values()) <= math.log2(3) + 1e-9


def test_a_reading_that_tells_nothing_more_is_never_hinted() -> None:
    game = _game("diamond")
    while len(game.possible) > 1:
        hint = game.hint()
        assert hint not in game.asked
        assert board().fall(game.left, hint) > 0
        game = game.ask(hint)
    assert game.hint() == ""


@pytest.mark.parametrize(
    "fault", ["diamond", "twist", "horns-both", "spring", "axle-front", "sag-both"]
)
@pytest.mark.parametrize("size", [0.75, 1.5])
def test_following_the_hints_leaves_the_secret(fault: str, size: float) -> None:
    game = _game(fault, size)
    while hint := game.hint():
        game = game.ask(hint)
    assert game.possible == (fault,)
    assert len(game.asked) == board().fewest(game.secret)
    assert game.name(fault).won


def test_a_wrong_name_is_answered_with_the_reading_that_speaks_against_it() -> None:
    ask = "long-diagonals/whole/front-left--rear-right"
    game = _game("twist").ask(ask)
    assert "diamond" not in game.possible
    assert not game.name("diamond").won
    assert game.against("diamond") == ask
    assert game.against("horn-left") == ""


def test_the_same_reading_asked_twice_counts_once() -> None:
    ask = board().asks[0].id
    assert _game("twist").ask(ask).ask(ask).asked == (ask,)


def test_a_spring_and_a_twist_part_on_three_points_alone() -> None:
    apart = []
    for ask in board().asks:
        spring = {
            board().table[ask.id][n] for n, c in enumerate(board().cases) if c.fault == "spring"
        }
        twist = {
            board().table[ask.id][n] for n, c in enumerate(board().cases) if c.fault == "twist"
        }
        apart += [ask] if not spring & twist else []
    # A spring that is weak at the rear leans its shackles too, which no twist does.
    frame = [a for a in apart if not a.id.startswith("spring-perches/")]
    assert frame
    assert all(a.three for a in frame)


def test_readings_are_found_by_id_by_words_and_by_a_tail_that_is_no_others() -> None:
    wanted = "long-diagonals/whole/front-left--rear-right"
    for words in (wanted, wanted.upper(), "left front to right rear", "front-left--rear-right"):
        found = board().find(words)
        assert found is not None
        assert found.id == wanted
    assert board().find("left") is None
    three = board().find("level/rear/as-set bare on three points")
    assert three is not None
    assert three.three


@pytest.mark.parametrize(
    "layout",
    [
        *("a-frame", "double-drop", "boxed-perimeter", "x-braced", "leaf-ladder-light"),
        *("torque-boxes", "tube-ladder"),
    ],
)
def test_the_game_can_be_won_on_every_kind_of_frame_unless_two_faults_read_alike(
    layout: str,
) -> None:
    library = load_library()
    other = Board(Bench(library.layouts[layout], library))
    won = 0
    for n in range(len(other.cases)):
        left = frozenset(range(len(other.cases)))
        for ask in other.asks:
            left = other.after(left, ask.id, other.table[ask.id][n])
        won += len(other.faults(left)) == 1
    assert won > 0.8 * len(other.cases)


def test_a_straight_frame_reads_the_same_everywhere() -> None:
    assert {board().says(Bent(), a) for a in board().asks} == {0}
