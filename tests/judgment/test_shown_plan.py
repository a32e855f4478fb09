"""Which box is out: by its own figure, by the bar, or because the other one is still."""

from __future__ import annotations

import pytest

from tests.judgment.stories import evidence_for
from wizard.judgment.shown import shown


def shapes(*findings: tuple[str, float, float]) -> set[str]:
    """The signs of the plan for rail shifts: box, mm, standard uncertainty."""
    rows = [["rail-shift", where, value, u] for where, value, u in findings]
    told = evidence_for({"id": "made-up", "findings": rows})[1]
    named = {s.condition for s in shown(told)}
    return {n for n in named if any(word in n for word in ("box", "diamond", "square"))}


@pytest.mark.parametrize(
    ("findings", "told"),
    [
        ([("whole", 8, 0.5), ("front-box", 8, 0.6), ("rear-box", 8, 0.6)], {"whole-diamond"}),
        (
            [("whole", 4.6, 0.5), ("front-box", 4.4, 0.9), ("rear-box", 0, 0.6)],
            {"out-of-square"},
        ),
        # A corner, or the end bent over sideways: no rail was taped, so nobody can say.
        ([("whole", 4.6, 0.5), ("rear-box", 0, 0.6)], {"out-of-square"}),
        ([("whole", 6, 0.7), ("front-box", 0.3, 0.7)], {"out-of-square"}),
        ([("whole", 6, 0.7), ("front-box", 0.3, 0.7), ("rear-box", 4, 1.0)], {"rear-box-out"}),
        ([("whole", 6, 0.5)], {"out-of-square"}),
        # Both still and the whole out: they contradict one another, and the whole is what was
        # measured.
        ([("whole", 4.5, 0.7), ("front-box", 2, 0.4), ("rear-box", 2, 0.4)], {"whole-diamond"}),
        # The tapes say true and the bar says out: one of them is wrong.
        ([("front-box", 0, 0.6), ("front-box-bar", -7.4, 0.5), ("rear-box", 0, 0.6)], set()),
        ([("front-box-bar", -7.4, 0.5), ("rear-box", 0, 0.6)], {"out-of-square"}),
        ([("whole", 0, 0.5), ("front-box", 0, 0.6), ("rear-box", 0, 0.6)], set()),
    ],
)
def test_the_box_that_is_out(findings: list[tuple[str, float, float]], told: set[str]) -> None:
    assert shapes(*findings) == told


HEIGHT = ["horn-height", "horns", 6.0, 0.4]
HANGS = [
    ["sag-unloaded", "engine-mount/left", 6.0, 0.5],
    ["sag-unloaded", "engine-mount/right", 0.0, 0.5],
]
ALIKE = [
    ["sag-unloaded", "engine-mount/left", 2.0, 0.5],
    ["sag-unloaded", "engine-mount/right", 1.5, 0.5],
]


@pytest.mark.parametrize(
    ("findings", "told"),
    [([HEIGHT], True), ([HEIGHT, *ALIKE], True), ([HEIGHT, *HANGS], False)],
)
def test_a_rail_that_hangs_lifts_its_tip_and_bends_no_horn(
    findings: list[list[object]], told: bool
) -> None:
    evidence = evidence_for({"id": "made-up", "findings": findings})[1]
    assert ("horn-out" in {s.condition for s in shown(evidence)}) is told
