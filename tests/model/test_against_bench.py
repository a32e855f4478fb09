"""The model and the simulation's frames share nothing, and agree: one checks the other.

Sizes come from the layout file on one side and stand in tests/bench/frames.py on the other.
"""

from __future__ import annotations

import ast
import math
import random
from dataclasses import replace
from pathlib import Path

import pytest

import wizard
from tests.bench import frames
from tests.bench.frame_beam import STEEL_N_PER_MM2
from tests.bench.frame_tools import DEGREE, Tools
from tests.bench.frame_truths import expected
from wizard.checks.run import findings_of
from wizard.judgment.blind import Bench
from wizard.math.beam import STEEL_MPA
from wizard.model.bent import Bent, Horn, Sag
from wizard.model.frame import Frame
from wizard.model.kit import Kit
from wizard.model.rail import GRAVITY
from wizard.model.readings import readings

NEWTON = 500.0
"""The bench's engine on one rail; its steel is the softer by a little, so the model's engine is
made the heavier.
"""
KIT = Kit(block=50.8)


def _pair(rng: random.Random) -> tuple[Bent, frames.Truth]:
    """One frame in both tongues, everything bent at once."""

    def mm(most: float) -> float:
        return rng.uniform(-most, most)

    bow, kink = Sag(mm(9.0), 640.0, 600.0), Sag(mm(4.0), 1000.0, 60.0)
    horn = Horn(mm(8.0), mm(6.0), mm(5.0))
    d, ml, sf, sr, t, lean, ax = mm(9.0), mm(6.0), mm(8.0), mm(8.0), mm(6.0), mm(0.003), mm(9.0)
    bent = Bent(
        diamond=d, mash_left=ml, sway_front=sf, sway_rear=sr, twist=t, lean=lean, horn_left=horn,
        left=(bow, kink), right=(bow,), axle_front=ax, body_left=4.0, body_right=-2.5,
    )  # fmt: skip
    truth = frames.Truth(
        diamond=d, mash_left=ml, sway_front=sf, sway_rear=sr, twist=t, lean=lean,
        horn_left=frames.Horn(horn.inward, horn.back, horn.up),
        left=(frames.Bend(bow.depth, bow.x, bow.spread), frames.Bend(kink.depth, kink.x, kink.spread)),
        right=(frames.Bend(bow.depth, bow.x, bow.spread),),
        axle_yaw=(math.asin(ax / 1420.0), 0.0), engine_newton=NEWTON, body=(4.0, -2.5),
    )  # fmt: skip
    return bent, truth


def _frame(bench: Bench, bent: Bent) -> Frame:
    mass = NEWTON * 4 / GRAVITY * STEEL_MPA / STEEL_N_PER_MM2
    return Frame(
        replace(bench.layout, figures={**bench.layout.figures, "engine_mass_kg": mass}), bent
    )


@pytest.mark.parametrize("seed", range(6))
def test_points_agree_to_a_hundredth(bench: Bench, seed: int) -> None:
    bent, truth = _pair(random.Random(seed))
    frame = _frame(bench, bent)
    for place in ("tip", "front", "center", "rear"):
        for side in ("left", "right"):
            theirs = frames.point(truth, f"{place}-{side}")
            assert frame.point(f"{place}-{side}") == pytest.approx(theirs, abs=0.01), (place, side)


@pytest.mark.parametrize("seed", range(6))
def test_sags_slopes_and_axles_agree_to_a_hundredth(bench: Bench, seed: int) -> None:
    bent, truth = _pair(random.Random(seed))
    frame = _frame(bench, bent)
    found = readings(frame, bench.prompts.values(), KIT)
    for station in bench.layout.stations:
        for side in ("left", "right"):
            for loaded in (True, False):
                ours = frame.sag(side, station.x, loaded=loaded)
                assert ours == pytest.approx(
                    frames.sag(truth, side, station.x, loaded=loaded), abs=0.01
                )
    for level, place in (
        ("horns", "tip"),
        ("front-crossmember", "front"),
        ("center", "center"),
        ("rear", "rear"),
    ):
        theirs = frames.slope_across(truth, place)
        assert found[f"level/{level}/as-set"] * 860 == pytest.approx(theirs * 860, abs=0.01)
    for what in ("left", "right", "front-axle-left", "rear-axle-right"):
        assert found[f"wheelbase/{what}"] == pytest.approx(
            frames._axle_distance(truth, what), abs=0.01
        )


def test_the_noiseless_reading_of_every_prompt_agrees(bench: Bench) -> None:
    """The bench types off a scale; on a scale of a thousandth with a hand that never errs it types
    the model's figure.

    The pulley is left out: the bench sets an engine anywhere, the model hangs it on its mounts. So is
    what is called for beside the frame: tests/model/test_axle_set.py holds it.
    """
    from fractions import Fraction

    from wizard.readings.figures import read_bubble, read_length

    bent, truth = _pair(random.Random(99))
    hand = Tools(
        unit="mm", tape_step=Fraction(1, 1000), rule_step=Fraction(1, 1000), tape_s=0.0, rule_s=0.0, bar_s=0.0,
        level_s=0.0, level_unit="deg", level_step=DEGREE, caliper_s=0.0,
    )  # fmt: skip
    found = readings(_frame(bench, bent), bench.prompts.values(), KIT)
    compared = 0
    for id, value in found.items():
        prompt = bench.prompts[id]
        if prompt.step == "pulley-hint" or bench.library.steps[prompt.step].called:
            continue
        typed = frames.reading(truth, id, random.Random(1), hand)
        if prompt.kind.tilts:
            said = float(read_bubble(typed, "mm").value) * DEGREE
            assert value == pytest.approx(said, abs=DEGREE / 19), id  # it says degrees in tenths
        else:
            said = float(read_length(typed, "mm", prompt.signs[:2] if prompt.signs else ()))  # type: ignore[arg-type]
            assert value == pytest.approx(said, abs=0.01), id
        compared += 1
    assert compared > 60


def test_the_checks_find_on_the_model_what_the_bench_calls_true(bench: Bench) -> None:
    """Every finding on the model's readings against the bench's own vectors: a third way to each
    figure.
    """
    bent = Bent(diamond=5.0, mash_left=3.0, sway_front=4.0)
    truth = frames.Truth(diamond=5.0, mash_left=3.0, sway_front=4.0, engine_newton=NEWTON)
    seen = 0
    for finding in findings_of(bench.survey(bent), bench.known):
        true = expected(truth, Tools(), finding.id)
        if (
            finding.quantity in ("rail-shift", "mash", "sway", "own-sides", "horn-back")
            and true is not None
        ):
            if finding.where == "front-box-bar":
                continue  # a bar gives one number for a box that is both short and shifted
            assert finding.value == pytest.approx(true, abs=0.01), finding.id
            seen += 1
    assert seen >= 10


def test_a_frame_bent_on_one_side_only_would_be_noticed(bench: Bench) -> None:
    """The twin that must fail."""
    bent, truth = _pair(random.Random(1))
    ours = _frame(bench, replace(bent, diamond=bent.diamond + 0.1)).point("front-right")
    assert ours != pytest.approx(frames.point(truth, "front-right"), abs=0.01)


def test_neither_imports_the_other() -> None:
    house = Path(wizard.__file__).parent
    for path in sorted((house / "model").glob("*.py")):
        assert "tests" not in path.read_text(encoding="utf-8"), path.name
    for path in Path(frames.__file__).parent.glob("frame*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        named = [n.module or "" for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)]
        named += [a.name for n in ast.walk(tree) if isinstance(n, ast.Import) for a in n.names]
        assert not [m for m in named if m.startswith(("wizard.model", "wizard.math"))], path.name
