"""One Enter computes each part of a survey once; counted, not timed."""

from tests.bench.one_enter import FEW, MANY, MOST, MOST_MORE, behind, one_enter


def test_one_enter_computes_pages_and_findings_once_and_the_plan_twice_at_most() -> None:
    computed = one_enter().computed
    assert {part: computed[part] for part in MOST if computed[part] > MOST[part]} == {}


def test_one_enter_computes_each_of_them_at_all() -> None:
    """The twin: what is counted is what computes them, or the test above would hold of nothing."""
    computed = one_enter().computed
    assert all(computed[part] for part in MOST)


def test_an_enter_costs_the_same_behind_thousands_of_rows() -> None:
    behind(FEW)  # what only the first one of a program loads
    assert behind(MANY) <= MOST_MORE * behind(FEW)
