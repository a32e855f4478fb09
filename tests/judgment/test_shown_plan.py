"""Which box is out: by its own figure, by the bar, or because the other one is still."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import found, library
from tests.judgment.stories import evidence_for
from wizard.checks.notes import Slip
from wizard.judgment.bands import Judged, judge
from wizard.judgment.corner import corner_of
from wizard.judgment.facts import Told
from wizard.judgment.shown import shown
from wizard.math.uncertain import Part, Uncertain
from wizard.survey.record import Survey

pytestmark = pytest.mark.quick


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


def test_tips_lifted_by_thrice_what_a_string_between_the_kicks_sees_bend_no_horn() -> None:
    hangs = [["sag-unloaded", f"engine-mount/{s}", mm, 0.5] for s, mm in SLIGHT]
    evidence = evidence_for({"id": "made-up", "findings": [HEIGHT, *hangs]})[1]
    assert "horn-out" not in {s.condition for s in shown(evidence)}


SLIGHT = (("left", 2.5), ("right", 0.0))


def test_no_rail_is_short_by_a_tape_that_has_probably_slipped() -> None:
    """One side of the front box reads an inch short, and that reading is named as a slip."""
    told = evidence_for({"id": "made-up", "findings": []})[1]
    short = number_of("own-sides", "front-box", 25.4, 1.0, "r7", "r8")
    slip = number_of("suspect", "r7", 25.4, 0.9, "r7", note=Slip(True, "1 in", ("left side",)))
    for accused, said in ((), {"rail-short"}), ((slip,), set()):
        facts = replace(told, judged=(short, *accused))
        assert {s.condition for s in shown(facts)} & {"rail-short"} == said
        assert _corner_of_short(facts, bool(said))


def _corner_of_short(facts: Told, named: bool) -> bool:
    """Whether the same holds of the corner that a short rail makes."""
    true = [number_of(f"{q}", "rear-box", 0.0, 0.4) for q in ("own-sides", "rail-shift")]
    square = number_of("rail-shift", "front-box", 12.7, 0.4)
    found = corner_of((*facts.judged, *true, square), facts.layout)
    return (found is not None) is named


def number_of(
    quantity: str, where: str, mm: float, u: float, *ids: str, note: Slip | None = None
) -> Judged:
    number = Uncertain(mm, (Part(f"made-up:{quantity}:{where}", u),))
    notes = [note] if note else []
    limit = quantity if quantity == "rail-shift" else ""
    made = found(quantity, where, number, *notes, readings=ids, limit=limit)
    return judge(made, Survey(id="s", car="Bramble", unit="in"), library())
