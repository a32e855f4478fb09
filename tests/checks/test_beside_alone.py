"""The bench of what is told beside the frame: it runs, it can find fault, and its truth is the program's
where nothing is read wrongly.
"""

from __future__ import annotations

import random

import pytest

from tests.bench import beside_alone
from tests.bench.beside_alone import axle_sets, frame_has, survey_of, thin_rails
from tests.bench.rates import Table
from tests.bench.sentences import beside
from tests.bench.sentences.beside import AXLE_PROMPTS, BENT, Axle, Rail, Thin, bent, leaves
from tests.bench.sentences.hands import Hand
from tests.checks.surveys import library
from wizard.checks import axle_set
from wizard.checks.case import Case


class Perfect(beside.Gauge):
    """Reads what is there."""

    def angle(self, value: float, words: beside.WORDS, scatter: float | None = None) -> str:
        return f"{abs(value):.6f} {words[value < 0]}"

    def length(self, value: float, s: float, division: object) -> str:
        return f"{value:.6f} mm"


@pytest.mark.parametrize("what", BENT)
def test_a_perfect_hand_reads_the_truth_of_every_figure(what: str) -> None:
    axle = bent(what, 2.0)
    hand = Hand("perfect", "1 mm", 0.0, 0.0)
    made = vars(beside.gauge(hand, random.Random(2))) | {
        "rake": 0.0,
        "zero": 0.0,
        "forged": (0.0, 0.0),
    }
    g = Perfect(
        **made | {"half": 600.0, "mark": 600.0 / 1.7}
    )  # the ends lie 0.35 of the marks outside
    read = {p: [beside.of_axle(axle, g, p)] for p in AXLE_PROMPTS}
    book = {"axle-book/caster": "5", "axle-book/camber": "1", "axle-book/toe": "3 mm"}
    case = Case(survey_of(read, "1 mm", book, "straight-ladder"), library())
    for finding in axle_set.check(case):
        true = axle.figures[str(finding.id)]
        assert finding.value == pytest.approx(true, abs=0.02), finding.id
    assert {leaves()[what] for _ in "x"} == {library().limits[what].above[0].upto_mm}


def test_hasty_hands_are_told_with_a_doubt_that_holds() -> None:
    """Rails over their perches, by a rule: its expected scatter was 0.3 mm where a hand of 0.5 mm and a
    sixteenth make 0.7, and 10 of 100 missed with steady hands, 16 with hasty ones.
    """
    table = Table()
    for n in range(200):
        axle_sets(n, random.Random(f"hold {n}"), table)
    for hand, most in (("steady", 0.09), ("hasty", 0.12)):
        perch = table.counts["missed: 95 %", hand]["perch-apart"]
        assert perch.of > 80
        assert perch.told / perch.of <= most


def test_a_claim_on_what_is_not_there_is_counted_false(monkeypatch: pytest.MonkeyPatch) -> None:
    crooked = Axle(perch=(220.0, 180.0))
    monkeypatch.setattr(beside_alone, "bent", lambda *_: crooked)
    monkeypatch.setattr(Axle, "figures", property(lambda _: STRAIGHT))
    table = Table()
    axle_sets(0, random.Random(1), table)
    false = {
        claim for (claim, _), cells in table.counts.items() if any(c.told for c in cells.values())
    }
    assert "false: perch" in false


STRAIGHT = Axle().figures


def test_what_the_frame_has_to_do_with_it_is_judged_by_the_frames_own_truth() -> None:
    table = Table()
    for n in range(60):
        frame_has(n, random.Random(f"parts {n}"), table)
    assert sum(c.told for c in table.counts["seen: ball-still, said at all", "steady"].values()) > 0
    assert all(name.startswith(("false: ", "seen: ")) for name, _ in table.counts)


def test_a_rails_section_by_slices_is_that_of_the_books() -> None:
    """A channel of 100 x 44 x 3 with square corners: I = (44 x 100^3 - 41 x 94^3) / 12, any text; a
    pressed one has a little less.
    """
    moment, modulus = Rail(100.0, 44.0, 3.0, 2000.0).section(())
    square = (44 * 100**3 - 41 * 94**3) / 12
    assert square * 0.93 < moment < square
    assert modulus == pytest.approx(moment / 50.0, rel=1e-3)


def test_a_thin_place_over_the_whole_flange_costs_what_its_share_costs() -> None:
    """0.3 mm off one flange of a 100 x 44 x 3 channel: 6 of 100 of its strength (computed there)."""
    thin = Thin("top", False, 0.3, 60.0, 44.0, 700.0)
    stiffness, strength = Rail(100.0, 44.0, 3.0, 2650.0, (thin,)).left
    assert strength == pytest.approx(94.0, abs=1.0)
    assert 99.5 < stiffness < 100.0


def test_thin_rails_are_scored_by_what_they_have_lost() -> None:
    table = Table()
    for n in range(16):
        thin_rails(n, random.Random(f"thin {n}"), table)
    told = {
        claim for (claim, _), cells in table.counts.items() if any(c.told for c in cells.values())
    }
    assert "seen: thin" in told
    assert not {claim for claim in told if claim.startswith("false")}
