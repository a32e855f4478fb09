"""What to measure next: the same again only where the hand's scatter carries enough of the doubt."""

from __future__ import annotations

import pytest

from tests.checks.surveys import DAY, found, library, survey_of
from wizard.judgment.bands import judge
from wizard.judgment.next import Advice, advise
from wizard.math.uncertain import Part, Uncertain

pytestmark = pytest.mark.quick

GAP = "sag-unloaded/engine-mount/left"


def advised(hands_share: float, rest: str = "blocks") -> Advice:
    """The advice for a sag that may be left or watched, the hand's share of its doubt given."""
    parts = (Part(f"hand:{GAP}", hands_share**0.5), Part(rest, (1.0 - hands_share) ** 0.5))
    number = Uncertain(4.0, parts)
    survey = survey_of({}, unit="mm")
    sag = found("sag-unloaded", "engine-mount/left", number, limit="sag-unloaded")
    given = advise(judge(sag, survey, library()), survey, library(), DAY)
    assert given is not None
    return given


@pytest.mark.parametrize(
    ("share", "kind"), [(0.9, "repeat"), (0.3, "repeat"), (0.2, "tool"), (0.0, "tool")]
)
def test_the_same_again_is_asked_where_a_quarter_of_the_variance_is_the_hands(
    share: float, kind: str
) -> None:
    assert advised(share).kind == kind


def test_repeats_bring_down_the_hands_share_alone() -> None:
    again = advised(0.75)
    assert (again.prompt, again.u_now) == (GAP, pytest.approx(1.0))
    assert again.u_then**2 == pytest.approx(0.25 + 0.75 / (1 + again.times))


def test_where_the_point_carries_the_doubt_others_are_asked_for_and_no_finer_tool() -> None:
    assert advised(0.2, "point:front/left:x").kind == "points"


def test_a_finer_tool_takes_out_the_largest_part() -> None:
    finer = advised(0.2)
    assert (finer.times, finer.u_then**2) == (0, pytest.approx(0.2))
