"""Which steps a re-check takes again."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from tests.bench.frames import Bend, Horn, Truth
from tests.checks.surveys import library
from tests.judgment.pairs import AGED, first, only, stood
from tests.judgment.stories import finding
from wizard.judgment.short_list import steps_worth, worst
from wizard.judgment.sight import Sight, verdict_of
from wizard.library.paths import samples_dir
from wizard.survey.file import load
from wizard.survey.record import Survey
from wizard.survey.rows import Look, Reading

DAY = datetime(2027, 1, 1)
TRUE = Truth()


def chosen(survey: Survey) -> tuple[str, ...]:
    return steps_worth(survey, library(), DAY)


def steps(survey: Survey) -> set[str]:
    return {entry.split("/")[0] for entry in chosen(survey)}


def test_a_sound_frame_gets_one_diagonal_pair_sag_at_the_middle_and_twist_from_end_to_end() -> None:
    assert set(chosen(first(TRUE))) == {
        "tools",
        "set-supports",
        *("long-diagonals", "diagonals-below"),
        "string-set-up",
        *(f"sag-loaded/{station}" for station in ("mid-engine", "engine-mount", "center")),
        *(f"level/{place}" for place in ("front-crossmember", "rear", "horns")),
        "paint-cracks",
    }


def test_the_steps_come_in_the_order_of_the_course_and_parts_in_that_of_their_step() -> None:
    course = library().courses["recheck"]
    found = chosen(first(replace(AGED, horn_left=Horn(14.0), diamond=8.0)))
    assert list(found) == sorted(found, key=lambda entry: course.index(entry.split("/")[0]))
    sags = [entry for entry in found if entry.startswith("sag-loaded/")]
    assert sags == ["sag-loaded/mid-engine", "sag-loaded/engine-mount", "sag-loaded/center"]


def test_what_was_bad_last_time_is_taken_again() -> None:
    assert "horns" in chosen(first(replace(TRUE, horn_left=Horn(14.0))))
    assert "horns" not in chosen(first(TRUE))
    assert {"wheelbase/left", "wheelbase/right"} <= set(
        chosen(first(replace(TRUE, axle_yaw=(0.012, 0.0))))
    )
    out = set(chosen(first(replace(TRUE, diamond=9.0))))
    assert {"own-sides/front-box", "box-diagonals/front-box", "box-diagonals/rear-box"} <= out


def test_the_joint_in_question_is_leveled_again() -> None:
    assert "level/center" in chosen(first(replace(TRUE, twist=9.0)))
    assert "level/center" not in chosen(first(TRUE))


def test_the_engine_is_lifted_again_only_for_a_sag_that_is_more_than_left() -> None:
    bad = first(replace(TRUE, left=(Bend(9.0, 640.0, 280.0),)))
    assert {"lift-engine", "sag-unloaded/engine-mount", "lower-engine"} <= set(chosen(bad))
    assert not {"lift-engine", "sag-unloaded"} & steps(first(AGED))


@pytest.mark.parametrize(
    ("read", "wanted"),
    [
        ("wheelbase", "long-diagonals"),
        ("box-diagonals", "box-diagonals"),
        ("long-diagonals", "long-diagonals"),
    ],
)
def test_the_diagonals_are_those_of_last_time(read: str, wanted: str) -> None:
    assert wanted in chosen(only(first(TRUE), read, "level"))


def test_without_the_engine_the_sag_is_that_without_it() -> None:
    out = stood(only(first(TRUE), "sag-unloaded", "string-set-up", "level"), engine="out")
    assert "sag-unloaded" in steps(out)
    assert "sag-loaded" not in steps(out)


def test_a_level_that_was_never_laid_is_laid_everywhere() -> None:
    assert "level" in chosen(only(first(TRUE), "long-diagonals"))


def test_a_place_that_said_stop_is_looked_at_again() -> None:
    cracked = first(TRUE).with_row(
        Look(id="k1", prompt="engine-mounts/left", seen="bare", answer="crack")
    )
    assert "engine-mounts/left" in chosen(cracked)
    assert "engine-mounts" not in steps(first(TRUE))


def test_a_loose_rivet_is_looked_at_again_and_a_harmless_find_only_as_far_as_time_goes() -> None:
    loose = first(TRUE).with_row(
        Look(id="k1", prompt="bracket-rivets/left", seen="bare", answer="loose-rivets")
    )
    assert "bracket-rivets/left" in chosen(loose)
    found = first(TRUE)
    for n, step in enumerate(("rail-tops", "rail-sides", "inside-channel", "rear-crossmember")):
        for m, side in enumerate(("left", "right")):
            found = found.with_row(
                Look(id=f"k{n}{m}", prompt=f"{step}/{side}", seen="bare", answer="bolts")
            )
    assert len(steps(found) & {"rail-tops", "rail-sides", "inside-channel", "rear-crossmember"}) < 4


PLACES = ("engine-mounts/left", "engine-mounts/right")


def hidden(survey: Survey) -> Survey:
    for n, place in enumerate(PLACES):
        survey = survey.with_row(Look(id=f"k{n}", prompt=place, seen="not-reached"))
    return survey


def without(survey: Survey, *read: str) -> Survey:
    """The survey as if something had not been read."""
    rows = tuple(r for r in survey.table(Reading) if not r.prompt.startswith(read))
    return replace(survey, rows={**survey.rows, "reading": rows})


def test_a_place_never_seen_comes_last_and_only_where_there_is_time() -> None:
    """To read what stands before a page costs none of the time of a list; what was bad last time
    does.
    """
    assert set(PLACES) <= set(chosen(without(hidden(first(TRUE)), "level/horns")))
    bad = hidden(first(replace(TRUE, axle_yaw=(0.012, 0.0))))
    assert {"wheelbase/left", "wheelbase/right"} <= set(chosen(bad))
    assert not set(PLACES) & set(chosen(bad))
    assert set(PLACES) <= set(chosen(without(bad, "wheelbase", "level/horns")))


def test_the_worst_comes_first() -> None:
    found = worst(verdict_of(load(samples_dir() / "marigold-2026-05-02.toml"), library(), DAY))
    assert found[0].finding.quantity == "rail-shift"
    assert found[-1].worst == "leave"


def test_a_rail_that_is_just_straight_is_as_near_to_its_limit_as_one_that_just_sags() -> None:
    """A crown has narrower figures: nothing is a crown that is not above straight."""
    straight, sags = (
        finding("sag-loaded", f"engine-mount/{side}", value, 0.5)
        for side, value in (("left", 0.0), ("right", 1e-6))
    )
    verdict = Sight(first(TRUE), library(), (straight, sags)).verdict(DAY)
    assert [j.finding for j in worst(verdict)] == [sags, straight]
