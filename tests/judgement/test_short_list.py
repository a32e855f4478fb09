"""Which steps a re-check takes again."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from tests.bench.frames import Bend, Horn, Truth
from tests.checks.surveys import library
from tests.judgement.pairs import AGED, first, only, stood
from wizard.judgement.short_list import steps_worth, worst
from wizard.judgement.verdict import verdict_of
from wizard.library.paths import samples_dir
from wizard.survey.file import load
from wizard.survey.record import Survey
from wizard.survey.rows import Look

DAY = datetime(2027, 1, 1)
TRUE = Truth()


def chosen(survey: Survey) -> tuple[str, ...]:
    return steps_worth(survey, library(), DAY)


def test_a_sound_frame_gets_one_diagonal_pair_sag_at_the_mount_and_twist() -> None:
    assert set(chosen(first(TRUE))) == {
        "tools",
        "set-supports",
        "long-diagonals",
        "string-set-up",
        "sag-loaded",
        "level",
        "paint-cracks",
    }


def test_the_steps_come_in_the_order_of_the_course() -> None:
    course = library().courses["recheck"]
    found = chosen(first(replace(AGED, horn_left=Horn(14.0), diamond=8.0)))
    assert list(found) == sorted(found, key=course.index)


def test_what_was_bad_last_time_is_taken_again() -> None:
    assert "horns" in chosen(first(replace(TRUE, horn_left=Horn(14.0))))
    assert "horns" not in chosen(first(TRUE))
    assert "wheelbase" in chosen(first(replace(TRUE, axle_yaw=(0.012, 0.0))))
    assert {"own-sides", "box-diagonals"} <= set(chosen(first(replace(TRUE, diamond=9.0))))


def test_the_engine_is_lifted_again_only_for_a_sag_that_may_want_putting_right() -> None:
    bad = chosen(first(replace(TRUE, left=(Bend(9.0, 640.0, 280.0),))))
    assert {"lift-engine", "sag-unloaded", "lower-engine"} <= set(bad)
    assert "lift-engine" not in chosen(first(AGED))


@pytest.mark.parametrize(
    ("read", "wanted"),
    [("wheelbase", "long-diagonals"), ("box-diagonals", "box-diagonals"), ("long-diagonals", "long-diagonals")],
)
def test_the_diagonals_are_those_of_last_time(read: str, wanted: str) -> None:
    assert wanted in chosen(only(first(TRUE), read, "level"))


def test_without_the_engine_the_sag_is_that_without_it() -> None:
    out = stood(only(first(TRUE), "sag-unloaded", "string-set-up", "level"), engine="out")
    assert "sag-unloaded" in chosen(out)
    assert "sag-loaded" not in chosen(out)


def test_a_place_that_said_stop_is_looked_at_again() -> None:
    cracked = first(TRUE).with_row(Look(id="k1", prompt="engine-mounts/left", seen="bare", answer="crack"))
    assert "engine-mounts" in chosen(cracked)
    assert "engine-mounts" not in chosen(first(TRUE))


def test_the_worst_comes_first() -> None:
    found = worst(verdict_of(load(samples_dir() / "marigold-2026-05-02.toml"), library(), DAY))
    assert found[0].finding.quantity == "rail-shift"
    assert found[-1].worst == "leave"
