"""One Enter computes each part of a survey once, and calls no more than was promised; counted, not
timed.
"""

from functools import lru_cache

from tests.bench.one_enter import FEW, MANY, MOST, MOST_CALLS, MOST_MORE, Enter, behind, one_enter


@lru_cache(maxsize=1)
def entered() -> Enter:
    """One Enter, counted; the first of a program is thrown away, for it loads what it needs."""
    one_enter()
    return one_enter()


def test_one_enter_computes_pages_and_findings_once_and_the_plan_twice_at_most() -> None:
    computed = entered().computed
    assert {part: computed[part] for part in MOST if computed[part] > MOST[part]} == {}


def test_one_enter_computes_each_of_them_at_all() -> None:
    """The twin: what is counted is what computes them, or the test above would hold of nothing."""
    computed = entered().computed
    assert all(computed[part] for part in MOST)


def test_one_enter_calls_no_more_than_was_promised() -> None:
    """A count and no time: the same on a busy machine as on an idle one."""
    assert entered().calls <= MOST_CALLS


def test_the_calls_of_one_enter_are_counted_wherever_they_are() -> None:
    """The twin: of every room that an Enter passes there are some, and they add up."""
    named = entered().by_function
    assert sum(named.values()) == entered().calls
    files = {name.split(":")[0] for name in named}
    assert {"case.py", "network.py", "bands.py", "guide.py", "sitting.py", "stage.py"} <= files


def test_an_enter_costs_the_same_behind_thousands_of_rows() -> None:
    behind(FEW)  # what only the first one of a program loads
    assert behind(MANY) <= MOST_MORE * behind(FEW)
