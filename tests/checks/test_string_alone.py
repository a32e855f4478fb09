"""The bench that judges what is told of the string: it runs, it can find fault, and what it judges
is what the program tells.
"""

from __future__ import annotations

import numpy as np
import pytest

from tests.bench import string_alone
from tests.bench.rates import Count, Table
from tests.bench.string_alone import (
    CROWN_MM,
    HANDS,
    KINDS,
    LIMIT_MM,
    LINES,
    RULES,
    Read,
    Truth,
    counted,
    crowns,
    kinked,
    kinks,
    main,
    over,
    surveys,
)
from tests.checks.surveys import library, survey_of
from wizard.checks.notes import Bend, Crown
from wizard.judgment.bands import Judged
from wizard.judgment.sight import sight_of
from wizard.math.shape import threshold_for

CELL = LINES[0], "1/32 in", 0.5
STATIONS = ("front-crossmember", "mid-engine", "engine-mount", "center", "behind")


@pytest.fixture(autouse=True)
def _hard(monkeypatch: pytest.MonkeyPatch) -> None:
    """A string that hangs as a hard mason's line does: the bench's own is any."""
    monkeypatch.setattr(string_alone, "DIP_MM", 0.03)


def typed(read: Read, n: int) -> dict[str, list[str]]:
    """What one survey of the straight ladder read, under a string on blocks of half a meter."""
    x = np.array(read.line.xs) - read.line.ends[0]
    dip = 1000 * 0.0005 * 9.80665 * x / 1000 * (2.18 - x / 1000) / (2 * 30)
    found = {"string-set-up/block": ["500 mm"], "string-set-up/span": ["2180 mm"]}
    for (rail, state), sags in read.sags.items():
        step = {"L": "sag-loaded", "U": "sag-unloaded"}[state]
        gaps = (500 + of[n] - dip for of in (read.first[rail, state], sags))
        for at, first, mean, times in zip(STATIONS, *gaps, read.counts, strict=True):
            again = [first] if times == 1 else [first, 2 * mean - first]
            found[f"{step}/{at}/{('left', 'right')[rail]}"] = [f"{mm:.4f} mm" for mm in again]
    return found


def judged(read: Read, n: int) -> tuple[Judged, ...]:
    survey = survey_of(typed(read, n), answers={"string-set-up/where": "above"})
    return sight_of(survey, library()).judged


def drawn(truth: Truth, states: str = "LU") -> Read:
    line, rule, hand = CELL
    return surveys(np.random.default_rng(9), 24, line, RULES[rule], hand, states, "one", truth)


def test_a_kink_is_told_where_the_bench_tells_it() -> None:
    """But where what then is left fits no kink either."""
    read = drawn(Truth(kink=14.0))
    bench = kinked(read)
    in_room = kinks(read) >= threshold_for(5, read.known, in_room=True)
    assert not np.any(in_room & ~bench)
    bends = [[note for j in judged(read, n) if (note := j.finding.note(Bend))] for n in range(24)]
    told = np.array([[note.kind == "kink" for note in rails] for rails in bends])
    assert not np.any(told & ~bench.T)
    assert np.sum(bench.T & ~told) <= 2
    assert 8 <= np.sum(told[:, 0]) < 24


def test_a_crown_is_told_where_the_bench_tells_it() -> None:
    read = drawn(Truth(deepest=-CROWN_MM - 1.4, state="L"))
    bench, free = crowns(read, "L"), string_alone.white(read, read.counts)
    told = np.zeros_like(bench)
    for n in range(24):
        for j in judged(read, n):
            note = j.finding.note(Crown)
            if note is None:
                continue
            told[("left", "right").index(j.finding.where), n] = True
            at = np.array([STATIONS.index(note.near)])
            dof = string_alone._curve_dof(read, free, np.array([n]), at)
            assert j.finding.number.dof == pytest.approx(dof[0], rel=0.15)
    # The bench asks of the highest what it asks of so many apart; the program knows that points of one
    # curve go together, and is sure a little sooner.
    assert not np.any(bench & ~told)
    assert np.sum(told & ~bench) <= 4
    assert 4 < np.sum(bench) < 44


def test_a_station_is_over_where_the_bench_calls_it_so() -> None:
    read = drawn(Truth(deepest=LIMIT_MM + 1.2, state="U"))
    bench = over(read, "U")
    told = np.array(
        [
            any(
                j.finding.quantity == "sag-unloaded" and j.established not in ("", "leave")
                for j in judged(read, n)
            )
            for n in range(24)
        ]
    )
    assert np.array_equal(told, bench)
    assert 4 < np.sum(told) < 24


@pytest.mark.parametrize("kind", KINDS)
def test_every_claim_of_a_cell_is_counted_and_lies_where_it_may(kind: str) -> None:
    found = counted(kind, CELL, 300, 15)
    assert all(count.of == 300 for count in found.values())
    assert found["a kink"].told <= 12
    assert 40 < found["seen: a kink of 12 mm"].told < 300
    assert 0 < found["missed: sag of a station"].told < 40
    assert found["seen: a slip of 1/2 in or 1 cm, named"].told > 270
    assert found["at limit: a station over"].told < 30


@pytest.mark.parametrize("name", ["leaf-ladder-light", "leaf-ladder-large", "tube-ladder"])
def test_a_sag_behind_the_middle_of_the_car_is_no_kink_however_well_the_hand_is_known(
    name: str,
) -> None:
    """Told as one in 5 to 6 of 100 where every station was read twice."""
    line = next(one for one in LINES if one.name == name)
    cell = line, RULES["1/32 in"], 0.25, "LU", "all", Truth(behind=string_alone.BEHIND_MM)
    read = surveys(np.random.default_rng(5), 1000, *cell)
    assert np.sum(kinked(read).any(axis=0)) <= 18  # one in a hundred, by 99 % of chance


def test_a_cell_is_the_same_whichever_others_are_drawn(
    capsys: pytest.CaptureFixture[str],
) -> None:
    asked = ["--surveys", "40", "--kind", "U-one", "--layout", "a-frame", "--hand", "0.8"]
    main([*asked, "--rule", "mm"])
    alone = capsys.readouterr().out
    main([*asked, "--rule", "mm", "--rule", "1/16 in"])
    both = capsys.readouterr().out
    assert "seed 15" in alone
    assert "of 40" in alone
    assert "of 80" in both
    line = next(one for one in LINES if one.name == "a-frame")
    cell = line, "mm", HANDS[-1]
    assert counted("U-one", cell, 40, 15) == counted("U-one", cell, 40, 15)
    assert counted("U-one", cell, 40, 15) != counted("U-one", cell, 40, 16)


def test_a_rule_that_tells_too_much_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """A kink from half of the improvement on: the bench must not let it pass."""
    monkeypatch.setattr(
        string_alone, "threshold_for", lambda n, dof, **kind: threshold_for(n, dof, **kind) / 3
    )
    table = Table()
    table.add("a kink", "0.8 mm", "ladder", counted("LU-one", (*CELL[:2], 0.8), 600, 15)["a kink"])
    table.add("a kink", "0.8 mm", "none", Count(0, 600))
    assert "refused 1 of 2: ladder" in next(table.lines())
