"""What moved between two surveys: one movement is told once, and what was worked on is no alarm."""

from __future__ import annotations

from dataclasses import replace

from tests.bench.frames import Bend
from tests.checks.surveys import library
from tests.judgment.pairs import AGED, again, first, only, said
from wizard.judgment.since import KINDS, TOGETHER, since_of
from wizard.telling.moved_words import MOVES, change_sentence

DROPPED = replace(AGED, left=(*AGED.left, Bend(7.0)))
BOTH = replace(DROPPED, right=(*AGED.right, Bend(7.0)))


def test_a_survey_that_follows_none_has_no_since() -> None:
    assert since_of(None, first(), library()) is None


def test_a_still_frame_has_not_moved_and_says_how_much_would_have_been_seen() -> None:
    old = first()
    found = since_of(old, again(old, old), library())
    assert found is not None
    assert found.compared
    assert found.moved == ()
    assert any(one.mm for one in found.least)


def test_the_stations_of_one_rail_are_one_movement_of_that_rail() -> None:
    old = first()
    found = since_of(old, again(old, first(DROPPED, seed=9)), library())
    assert found is not None
    (rail,) = [m for m in found.moved if m.kind == "rail"]
    assert [str(side) for side in rail.sides] == ["left"]
    assert rail.number.value > 0
    assert len(rail.changes) > 1
    assert abs(rail.number.value) == max(abs(c.number.value) for c in rail.changes)


def test_what_hangs_beside_a_place_that_dropped_is_told_with_it() -> None:
    """`Nothing else has moved` is then true: the stations beside it are no other movement."""
    old, layout = first(), library().layouts["straight-ladder"]
    found = since_of(old, again(old, first(DROPPED, seed=9)), library())
    assert found is not None
    (rail,) = [m for m in found.moved if m.kind == "rail"]
    assert rail.spreads
    assert " and beside it since " in change_sentence(found, layout, "in")
    one = found._replace(moved=(rail._replace(changes=rail.changes[:1]),))
    assert "beside it" not in change_sentence(one, layout, "in")


def test_two_rails_that_dropped_are_one_movement_of_both() -> None:
    old = first()
    found = since_of(old, again(old, first(BOTH, seed=9)), library())
    assert found is not None
    (rail,) = [m for m in found.moved if m.kind == "rail"]
    assert sorted(map(str, rail.sides)) == ["left", "right"]
    layout = library().layouts["straight-ladder"]
    assert "oth rails dropped" in change_sentence(found, layout, "in")


def test_what_came_back_in_the_work_is_no_alarm_and_what_did_not_is() -> None:
    bent = first(replace(AGED, diamond=12.0))
    new = again(bent, first(replace(AGED, diamond=0.5), seed=9))
    alarmed = since_of(bent, new, library())
    worked = since_of(bent, said(new, "since-last-time/corrected", "straightened"), library())
    assert alarmed is not None
    assert worked is not None
    assert [m.outcome for m in alarmed.moved if m.kind == "along"] == [""]
    assert alarmed.alarming == alarmed.moved
    (along,) = [m for m in worked.moved if m.kind == "along"]
    assert along.is_wanted


def test_where_nothing_was_read_both_times_nothing_is_compared() -> None:
    old = first()
    found = since_of(only(old, "level"), again(old, only(old, "wheelbase")), library())
    assert found is not None
    assert not found.compared


def test_every_quantity_that_can_move_has_its_words() -> None:
    assert set(KINDS) == set(MOVES) == {q for _, some in TOGETHER for q in some}
