"""The bench that judges the figures of tapes, bar and level: it runs, it can find fault, and what it
computes for many surveys at once is what the program computes for one.
"""

from __future__ import annotations

import random
from collections.abc import Mapping

import numpy as np
import pytest

from tests.bench import figures_alone, plan_alone
from tests.bench.figures_alone import (
    Drawn,
    Exact,
    counted,
    drawn,
    exact,
    figures,
    left_of,
    main,
    told,
)
from tests.bench.plan_alone import FRAMES, HANDS, RULES, Fault, library, square
from tests.bench.rates import Count, Table
from wizard.checks.case import Case, case_of
from wizard.checks.finding import Finding
from wizard.checks.plan import plan_of
from wizard.checks.run import findings_of
from wizard.math.network_outliers import fit

KIND, RULE, HAND = "straight-ladder", RULES["mm"], HANDS["reference"]


def hand_only(seed: int, kind: str, lower: Mapping[str, float] | None = None) -> Case:
    """A survey whose spots and tape are true, so that the hand alone is off, and where it is said so
    the height of a place, mm.
    """
    at = lower or {}
    sizes = {place: (x, w, z - at.get(place, 0.0)) for place, (x, w, z) in FRAMES[kind].items()}
    points = square(sizes)
    rng, asked = random.Random(seed), [(p, p.repeats) for p in plan_alone.prompts(kind, "all")]
    say = lambda p: plan_alone._typed(points, p, HAND, RULE, 0.0, rng)  # noqa: E731
    return case_of(plan_alone.survey_read(kind, RULE, asked, say), library())


def as_drawn(made: Exact, case: Case) -> Drawn:
    """That survey, as the bench would have drawn it."""
    pools, off, u, dof = [], [], [], {}
    for source in made.sources:
        true, taken = made.case.taken(source.prompt.id), case.taken(source.prompt.id)
        assert true
        assert taken
        part = next(p for p in taken.number.parts if p.name.startswith("hand:"))
        off.append(taken.number.value - true.number.value)
        u.append(part.size)
        dof[part.pool] = part.dof
        pools.append(part.pool)
    none = np.zeros((1, max(1, len(made.names))))
    return Drawn(np.array([off]), np.array([u]), none, dof, pools)


def by_id(case: Case) -> Mapping[str, Finding]:
    return {f.id: f for f in findings_of(case.survey, library())}


def told_apart(kind: str, seed: int) -> tuple[Exact, Drawn, Case]:
    made = exact(kind, "plan", RULE, HAND)
    made.names.update({name: n for n, name in enumerate(dict.fromkeys(made.shared()))})
    case = hand_only(seed, kind)
    return made, as_drawn(made, case), case


@pytest.mark.parametrize("kind", ["straight-ladder", "a-frame", "x-braced"])
def test_a_figure_is_off_and_doubted_as_the_program_has_it(kind: str) -> None:
    made, hands, case = told_apart(kind, 3)
    found = by_id(case)
    seen = figures(made, hands, [j.finding.number for j in made.judged])
    assert len(made.judged) > 8
    for n, j in enumerate(made.judged):
        one = found[j.finding.id]
        if one.disagrees:
            continue
        assert one.value - j.finding.value == pytest.approx(seen.off[0, n], abs=0.03)
        assert one.number.u == pytest.approx(seen.u[0, n], rel=0.02)
        assert one.number.dof == pytest.approx(seen.dof[0, n], rel=0.2)


@pytest.mark.parametrize("kind", ["straight-ladder", "a-frame", "x-braced"])
def test_a_plan_is_strained_as_the_program_has_it(kind: str) -> None:
    for seed in range(4):
        made, hands, case = told_apart(kind, seed)
        plan = plan_of(case)
        assert made.plan
        assert plan
        left = left_of(made, made.plan, hands)
        assert left.factor[0] == pytest.approx(fit(plan.adjustment).factor, rel=0.01)
        sizes = np.abs(plan.adjustment.standardized)
        assert left.size[0] == pytest.approx(sizes, abs=0.02)
        worst = int(left.size[0].argmax())
        assert left.alike(0) == pytest.approx(plan.adjustment.correlation[worst], abs=0.01)


@pytest.mark.parametrize("mm", [0.0, 10.0, 20.0, 30.0, 60.0, 90.0])
def test_tapes_contradict_where_the_program_says_so_and_not_for_the_sake_of_heights(
    mm: float,
) -> None:
    made, _, _ = told_apart("double-drop", 0)
    case = hand_only(0, "double-drop", {"front-kick": mm})
    hands = as_drawn(made, case)
    # The drop is in the readings already: what is off about them is not the hand's alone.
    told_ = figures_alone._of_plan(made, made.plan, hands) if made.plan else {}
    plan = plan_of(case)
    assert plan
    named = plan.suspects is not None and plan.suspects.named is not None
    assert bool(told_["tapes that contradict"][0]) is (plan.strain > 1.0)
    assert bool(told_["one tape named as off"][0]) is named


def test_the_scatter_is_learned_from_the_repeats_of_each_survey() -> None:
    """Half of them from a hand twice as wild as was expected: the prior weighs 8, repeats some 10."""
    made = exact(KIND, "plan", RULE, HANDS["hasty"])
    hands = drawn(np.random.default_rng(2), made, 400)
    s, dof = hands.s["tape/rivet"], hands.dof["tape/rivet"]
    repeats = sum(s.times - 1 for s in made.sources if s.pool == "tape/rivet")
    assert dof == 8 + repeats
    expected = ((8 + repeats * (1.5**2 + 1 / 12)) / dof) ** 0.5
    assert float(np.sqrt(np.mean(s**2))) == pytest.approx(expected, rel=0.03)
    assert float(np.std(s)) > 0.05


@pytest.mark.parametrize("group", figures_alone.GROUPS)
def test_every_claim_of_a_group_is_counted_and_lies_where_it_may(group: str) -> None:
    found = counted(KIND, group, RULE, HAND, 400, 15)
    assert all(count.of in (100, 400) for count in found.values())
    missed = {claim: count.percent for claim, count in found.items() if "missed" in claim}
    assert all(rate < 12 for rate in missed.values()), missed
    assert any(rate > 0 for rate in missed.values())
    limits = [count.percent for claim, count in found.items() if claim.startswith("at limit")]
    assert limits
    assert max(limits) < 15
    halves = [count.percent for claim, count in found.items() if "half" in claim]
    assert max(halves) < 3


def test_a_cell_is_the_same_whichever_others_are_drawn(
    capsys: pytest.CaptureFixture[str],
) -> None:
    asked = ["--surveys", "60", "--group", "wheelbase", "--hand", "hasty", "--seed", "4"]
    main([*asked, "--layout", "a-frame", "--rule", "mm"])
    said = capsys.readouterr().out
    assert "seed 4" in said
    assert "of 60" in said
    cell = "a-frame", "wheelbase", RULES["mm"], HANDS["hasty"]
    assert counted(*cell, 60, 4) == counted(*cell, 60, 4)
    assert counted(*cell, 60, 4) != counted(*cell, 60, 5)


def test_a_rule_that_tells_too_much_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Tapes said to contradict one another wherever they fit worse than in nine of ten."""
    monkeypatch.setattr(figures_alone, "STRAINED", 0.1)
    cell = counted(KIND, "plan", RULE, HAND, 2000, 15)
    table = Table()
    table.add("tapes that contradict", "reference", "ladder", cell["tapes that contradict"])
    table.add("tapes that contradict", "reference", "none", Count(0, 2000))
    assert "refused 1 of 2: ladder" in next(table.lines())


def test_several_chunks_make_as_many_surveys_as_are_asked_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(figures_alone, "CHUNK", 30)
    rng = np.random.default_rng(1)
    sizes = [
        len(part["missed: unlike wheelbases"])
        for part in told(rng, KIND, "wheelbase", RULE, HAND, 70)
    ]
    assert sizes == [30, 30, 10]


# The plan's claims, which go through the program --------------------------------------------------


def test_a_fault_is_told_as_it_is_and_no_other_is() -> None:
    found = plan_alone.counted((KIND, RULE, HAND), "all", Fault("diamond", 10.0), 6, 15)
    assert found["seen: diamond 10"] == Count(6, 6)
    assert found["anything false of diamond 10"] == found["whole-diamond"] == Count(0, 6)
    assert found["missed: a figure of the plan"].told < 3


def test_a_false_claim_is_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    """With the kinds taken for other kinds every word is false."""
    monkeypatch.setattr(plan_alone, "KINDS", {"whole-diamond": ("bow",), "box whole": ("bow",)})
    found = plan_alone.counted((KIND, RULE, HAND), "all", Fault("diamond", 10.0), 4, 15)
    assert found["whole-diamond"] == found["anything false of diamond 10"] == Count(4, 4)
    assert found["seen: diamond 10"] == Count(0, 4)


def test_an_interval_that_misses_is_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    """With the truth taken to be 30 mm off every interval misses."""
    true = plan_alone.truths

    def off(points: plan_alone.Points, kind: str) -> dict[str, float]:
        return {id: value + 30.0 for id, value in true(points, kind).items()}

    monkeypatch.setattr(plan_alone, "truths", off)
    found = plan_alone.counted((KIND, RULE, HAND), "all", Fault(), 3, 15)
    assert found["missed: a figure of the plan"] == Count(3, 3)


def test_a_table_of_faults_says_its_seed(capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["--surveys", "1", "--layout", "a-frame", "--rule", "mm", "--hand", "careful"]
    plan_alone.main([*asked, "--fault", "diamond 10"])
    said = capsys.readouterr().out
    assert "seed 15" in said
    assert "seen: diamond 10" in said
    assert "whole-diamond" in said
