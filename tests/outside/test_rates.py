"""Bounds of a rate and Holm's step-down, as the benches that judge one statistic alone have them.

Holm: a textbook's example, as on the GeeksforGeeks page "Holm-Bonferroni Method" (read): 0.01, 0.04,
0.03 and 0.005 at 5 %; the fourth and the first are rejected. Bounds: identities, and the rule of three.
"""

import pytest

from tests.bench.rates import Count, Table, holm, promised, refused


@pytest.mark.parametrize(
    ("chances", "out"),
    [
        ([0.01, 0.04, 0.03, 0.005], [True, False, False, True]),
        # Against 0.05/3, 0.05/2 and 0.05: the second fails, and the third is not asked any more.
        ([0.016, 0.026, 0.03], [True, False, False]),
        ([0.016, 0.024, 0.049], [True, True, True]),
        ([0.017, 0.001, 0.6], [True, True, False]),
        ([0.02, 0.02, 0.02], [False, False, False]),
        ([], []),
    ],
)
def test_holm_goes_on_as_long_as_each_is_small_enough(
    chances: list[float], out: list[bool]
) -> None:
    assert holm(chances) == out


def test_the_bound_of_a_rate_is_the_rate_at_which_so_few_come_about_once_in_twenty() -> None:
    assert Count(0, 400).bound == pytest.approx(100 * (1 - 0.05 ** (1 / 400)))
    assert Count(0, 3000).bound == pytest.approx(100 * 3 / 3000, rel=2e-3)
    assert Count(5, 5).bound == 100.0
    assert Count(7, 100).bound > Count(7, 100).percent == 7.0


def test_the_chance_of_a_count_is_that_of_so_many_or_more() -> None:
    assert Count(0, 50).chance(0.01) == 1.0
    assert Count(1, 50).chance(0.01) == pytest.approx(1 - 0.99**50)
    assert Count(50, 50).chance(0.05) == pytest.approx(0.05**50)


def test_a_cell_that_breaks_the_promise_is_named_and_one_that_keeps_it_is_not() -> None:
    table = Table()
    for claim in ("a kink", "at limit: over", "seen: a kink"):
        table.add(claim, "0.5 mm", "ladder, mm", Count(20, 1000))
        table.add(claim, "0.5 mm", "ladder, mm", Count(20, 1000))
        table.add(claim, "0.5 mm", "a-frame, mm", Count(22, 2000))
    kink, limit, seen = table.lines()
    assert "refused 1 of 2: ladder, mm" in kink
    assert "1.550 (" in kink
    assert "refused" not in limit
    assert "refused" not in seen


def test_a_claim_is_promised_at_one_percent_an_interval_and_a_limit_at_five() -> None:
    names = ("a kink", "missed: sag", "at limit: over", "seen: a kink")
    assert [promised(name) for name in names] == [0.01, 0.05, 0.05, None]
    assert refused({"a": Count(60, 1000), "b": Count(70, 1000)}, 0.05) == ["b"]
