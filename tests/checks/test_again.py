"""What of a survey is compared: the frame's own shapes and every taped distance, as `tell` and the
tape have them.
"""

from __future__ import annotations

import pytest

from tests.checks.surveys import findings, library
from wizard.checks.case import Case
from wizard.checks.run import comparable
from wizard.library.paths import samples_dir
from wizard.survey.file import load


@pytest.fixture(scope="module")
def case() -> Case:
    return Case(load(samples_dir() / "bramble-2026-04-11.toml"), library())


def test_shapes_are_the_findings_themselves(case: Case) -> None:
    told = findings(case.survey)
    shapes = [f for f in comparable(case) if f.quantity != "length"]
    assert {f.id for f in shapes} == {id for id, f in told.items() if f.of.compared}
    for f in shapes:
        same = told[f.id]
        assert (f.value, f.number.u) == pytest.approx((same.value, same.number.u), abs=1e-9)


def test_what_speaks_of_readings_or_follows_from_others_is_no_change_of_its_own(case: Case) -> None:
    found = {f.quantity for f in comparable(case)}
    assert not found & {
        "closure",
        "level-error",
        "suspect",
        "hint",
        "caster",
        "elastic",
        "bend",
        "hand",
    }
    assert {"closure", "level-error", "caster"} <= {
        f.quantity for f in findings(case.survey).values()
    }


def test_a_distance_is_as_the_tape_said_it(case: Case) -> None:
    lengths = {f.where: f for f in comparable(case) if f.quantity == "length"}
    prompt = "diagonals-below/whole/front-left--rear-right"
    taken = case.taken(prompt)
    assert taken is not None
    assert lengths[prompt].number == taken.number
    assert lengths[prompt].readings == taken.ids
    assert not [
        p
        for p in lengths
        if p.startswith(("sag-", "level/", "string-set-up", "wheelbase", "front-box-bar"))
    ]
