"""What moved between two surveys: one movement is told once, and what was worked on is no alarm."""

from __future__ import annotations

from dataclasses import replace

from tests.bench.frames import Bend
from tests.checks.surveys import library
from tests.judgment.pairs import AGED, again, first, only, said
from wizard.judgment.since import KINDS, TOGETHER, since_of
from wizard.telling.change_words import compare_text
from wizard.telling.moved_words import MOVES, change_sentence
from wizard.telling.quantity_names import cap, name_of

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


def test_what_a_dropped_rail_does_to_the_level_is_no_twist_and_no_other_movement() -> None:
    old, layout = first(), library().layouts["straight-ladder"]
    for seed in (9, 10):
        found = since_of(old, again(old, first(DROPPED, seed=seed)), library())
        assert found is not None
        assert "twist/center" in {c.new.id for c in found.comparison.of("changed")}, (
            "or none is seen"
        )
        assert "twist" not in {m.kind for m in found.moved}
        assert {str(c.new.id) for c in found.moved[0].explains} == {
            "twist/center",
            "horn-height/horns",
        }
        assert "horn" not in change_sentence(found, layout, "in")
        assert "crossmember rose" not in change_sentence(found, layout, "in")
        told = " ".join(compare_text(found.comparison, library()).split())
        assert "That is what the rail that moved does to the level there" in told


def test_a_twist_beside_a_dropped_rail_is_told_by_what_is_left_of_it() -> None:
    old = first()
    both = first(replace(DROPPED, twist=8.0), seed=9)
    found = since_of(old, again(old, both), library())
    alone = since_of(old, again(old, first(replace(AGED, twist=8.0), seed=9)), library())
    assert found is not None
    assert alone is not None
    (twist,) = [m for m in found.moved if m.kind == "twist"]
    (bare,) = [m for m in alone.moved if m.kind == "twist"]
    assert twist.finding.id == bare.finding.id
    assert abs(twist.number.value - bare.number.value) < 2.0 * twist.number.u
    assert "rail" in {m.kind for m in found.moved}


def test_a_station_beside_what_dropped_that_would_not_be_sure_alone_is_part_of_it() -> None:
    old = first()
    found = since_of(old, again(old, first(DROPPED, seed=9)), library())
    assert found is not None
    (rail,) = [m for m in found.moved if m.kind == "rail"]
    assert rail.along
    assert {c.new.id for c in rail.along}.isdisjoint({c.new.id for c in found.untold})
    told = " ".join(compare_text(found.comparison, library()).split())
    name = cap(name_of(rail.along[0].new, library().layouts["straight-ladder"]))
    assert told.count(name) == 1
    assert "the same rail moved the same way right beside it, so it is part of that" in told
    assert "among so many figures one such is to be expected" not in told
