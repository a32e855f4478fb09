"""What is said of a twist that may be the supports': it follows the car as it stands now, and only
a bare frame goes on three points.
"""

from __future__ import annotations

from itertools import product

import pytest

from tests.checks.surveys import BARE, DAY, level_on, library, survey_of
from wizard.survey.record import Survey
from wizard.survey.rows import State
from wizard.telling.tell import verdict_page

ENGINES = ("in", "weight-off", "out", "")
BODIES = ("bolted", "loosened", "off", "")
SUPPORTS = ("wheels", "stands-under-axles", "stands-under-frame", "three-points", "")
STATES = [dict(zip(BARE, (s, e, b), strict=True)) for s, e, b in product(SUPPORTS, ENGINES, BODIES)]
TWISTED = {"front-crossmember": "0", "center": "1/2 left", "rear": "1 1/4 left"}
"""A twist that would be a specialist's, if it could be believed."""

SET_BARE = "Set the bare frame on three points and read the level again."
ON_FOUR = "four stands"
NOTHING_ROCKS = "until nothing rocks."
ALIKE = "Make tires and springs the same on the left and the right, and read the level again."
STAYS_OPEN = (
    "only the bare frame on three points can show whether the frame is twisted or the supports and"
    " springs lean it."
)
CAN_TIP = "what stands there now can tip: keep out from under it."
LEANS = "you know that it leans, and not whether the frame itself is twisted."


def twisted(**state: str) -> Survey:
    """The level read in this state, and nothing else."""
    readings = {
        f"level/{p}/{way}": [typed] for p, typed in TWISTED.items() for way in ("as-set", "turned")
    }
    return level_on(survey_of(readings), **state)


def page(survey: Survey) -> str:
    return " ".join(verdict_page(survey, library(), DAY).split())


def is_bare(state: dict[str, str]) -> bool:
    return (state["engine"], state["body"]) == ("out", "off")


@pytest.mark.parametrize("state", STATES, ids=lambda s: "-".join(s.values()))
def test_the_advice_follows_what_stands_there(state: dict[str, str]) -> None:
    said = page(twisted(**state))
    if state == BARE:
        assert LEANS not in said
        assert "Take it to a specialist" in said
        assert ON_FOUR not in said
        return
    assert LEANS in said
    assert (SET_BARE in said) is is_bare(state)
    for words in (ON_FOUR, NOTHING_ROCKS, ALIKE, STAYS_OPEN):
        assert (words in said) is not is_bare(state), words
    assert said.count(STAYS_OPEN) == (not is_bare(state))
    assert (CAN_TIP in said) is (state["supports"] == "three-points")


@pytest.mark.parametrize("state", STATES, ids=lambda s: "-".join(s.values()))
def test_a_car_on_three_points_is_told_to_come_off_them_whatever_was_read(
    state: dict[str, str],
) -> None:
    made = survey_of({})
    said = page(made.with_row(State(id=made.new_id(State), at=DAY, **state)))
    warned = said.find(f"{CAN_TIP} Set it on four stands before anything else.")
    assert (warned >= 0) is (state["supports"] == "three-points" and not is_bare(state))
    assert warned < said.find("Missing for a whole picture")


@pytest.mark.parametrize(
    "then", [BARE | {"supports": s} for s in SUPPORTS if s != "three-points"], ids=str
)
@pytest.mark.parametrize("now", STATES, ids=lambda s: "-".join(s.values()))
def test_it_follows_the_car_now_and_not_the_car_as_it_was_read(
    now: dict[str, str], then: dict[str, str]
) -> None:
    survey = twisted(**then)
    said = page(survey.with_row(State(id=survey.new_id(State), at=DAY, **now)))
    assert LEANS in said
    assert ("on three points now: read the level again." in said) is (now == BARE)
    assert (SET_BARE in said) is (is_bare(now) and now != BARE)
    assert (ALIKE in said) is (STAYS_OPEN in said) is not is_bare(now)
    assert (CAN_TIP in said) is (now["supports"] == "three-points" and not is_bare(now))


def test_who_stands_on_four_stands_is_not_told_to_set_it_on_four_stands() -> None:
    for supports in ("stands-under-axles", "stands-under-frame"):
        said = page(twisted(supports=supports, engine="in", body="loosened"))
        assert "Shim under the four stands until nothing rocks." in said
        assert "et it on four stands" not in said
    assert "et it on four stands" in page(twisted(supports="wheels", engine="in", body="loosened"))
