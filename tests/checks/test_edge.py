"""The edge under the string: straight by make, taken off by its depths, or not known."""

from __future__ import annotations

import pytest

from tests.checks.surveys import library, survey_of
from wizard.checks.case import Case, case_of
from wizard.checks.edge import MAKE_MM, is_straight, is_unknown, string_edge
from wizard.checks.finding import Finding
from wizard.checks.notes import EDGE_NOT_KNOWN, Bend
from wizard.checks.run import findings_of
from wizard.judgment.change import compare
from wizard.survey.record import Survey

pytestmark = pytest.mark.quick

STATIONS = {"front-crossmember": 0, "mid-engine": 330, "engine-mount": 640, "center": 1000}
FRONT, REAR = -80, 2100
"""The ends of the layout's string, mm."""
DEEPEST = 20.0


def bulge(x: float) -> float:
    """A rail that is deeper in the middle, by a parabola from block to block."""
    share = (x - FRONT) / (REAR - FRONT)
    return DEEPEST * 4 * share * (1 - share)


def read(
    low: float = 0.0,
    *,
    edges: str = "",
    where: str = "below",
    depths: bool = False,
    hump: bool = True,
) -> Survey:
    """The string read on rails whose left one is `low` mm low at the engine mount; deeper in the middle
    from the maker, on both sides, where there is a hump.
    """
    typed = {"string-set-up/block": ["50"], "string-set-up/span": ["2180"]}
    for page in ("sag-loaded", "sag-unloaded"):
        for station, x in STATIONS.items():
            for side in ("left", "right"):
                sag = low if (station, side) == ("engine-mount", "left") else 0.0
                sag += bulge(x) if hump else 0.0
                gap = 50 - sag if where == "below" else 50 + sag
                typed[f"{page}/{station}/{side}"] = [f"{gap:.4f}"] * 2
    if depths:
        typed |= {f"by-make/{s}/depth": [f"{100 + bulge(x):.4f}"] for s, x in STATIONS.items()}
        typed |= {f"by-make/{end}": ["100"] for end in ("front-block", "rear-block")}
    answers = {"string-set-up/where": where, "by-make/edges": edges}
    return survey_of(typed, unit="mm", answers={k: v for k, v in answers.items() if v})


def found(survey: Survey) -> dict[str, Finding]:
    return {str(f.id): f for f in findings_of(survey, library())}


@pytest.mark.parametrize(
    ("edges", "below", "straight"),
    [
        ("", True, True),
        ("", False, True),
        ("both-straight", True, True),
        ("top-straight", False, True),
        ("top-straight", True, False),
        ("none-straight", False, False),
        ("not-known", True, False),
    ],
)
def test_which_edge_is_taken_to_be_straight(edges: str, below: bool, straight: bool) -> None:
    assert is_straight(edges, below) is straight


def test_a_rail_deeper_in_the_middle_is_no_sag_once_its_depths_are_read() -> None:
    """What was put in is what the depths take out: an identity, to the tenth of a millimeter."""
    plain = found(read(edges="both-straight"))
    taken = found(read(edges="top-straight", depths=True))
    for station, x in STATIONS.items():
        id = f"sag-unloaded/{station}/left"
        assert plain[id].value - taken[id].value == pytest.approx(bulge(x), abs=1e-3)
        assert not is_unknown(taken[id].number)
        assert taken[id].number.u > plain[id].number.u, "the depths have their own doubt"


def test_a_depth_that_was_not_read_leaves_its_station_unknown() -> None:
    survey = read(edges="top-straight", depths=True)
    rows = [r for r in survey.rows["reading"] if r.prompt != "by-make/center/depth"]
    survey = Survey(**{**_fields(survey), "rows": {**survey.rows, "reading": tuple(rows)}})
    sags = found(survey)
    assert is_unknown(sags["sag-unloaded/center/left"].number)
    assert not is_unknown(sags["sag-unloaded/engine-mount/left"].number)


def _fields(survey: Survey) -> dict[str, object]:
    return {k: getattr(survey, k) for k in ("id", "car", "started", "unit", "layout")}


@pytest.mark.parametrize("edges", ["not-known", "none-straight", "top-straight"])
def test_of_an_edge_that_nobody_knows_no_sag_is_told(edges: str) -> None:
    sags = found(read(edges=edges))
    one = sags["sag-unloaded/center/left"]
    assert one.has(EDGE_NOT_KNOWN)
    assert one.number.u > MAKE_MM / 2, "an inch more or less by make is not out"
    assert abs(one.value) < 2 * one.number.u


def test_left_against_right_and_what_springs_back_are_known_as_well_as_ever() -> None:
    known, unknown = found(read(3.0, edges="both-straight")), found(read(3.0, edges="not-known"))
    for id in ("sag-difference/engine-mount", "elastic/engine-mount/left"):
        assert unknown[id].value == pytest.approx(known[id].value)
        assert unknown[id].number.u < 1.5 * known[id].number.u, id
    assert unknown["sag-difference/engine-mount"].value == pytest.approx(-3.0)


def test_what_changes_is_known_as_well_as_ever_whatever_was_known_then() -> None:
    for then in ("", "both-straight", "not-known"):
        found = compare(read(edges=then), read(4.0, edges="not-known"), library())
        moved = {str(c.new.id): c for c in found.of("changed")}
        assert moved["sag-unloaded/engine-mount/left"].number.value == pytest.approx(4.0)
        assert moved["sag-unloaded/engine-mount/left"].number.u < 1.0


def test_a_string_along_the_other_edge_is_not_compared_with_this_one() -> None:
    for other in (read(where="above"), read(edges="top-straight", depths=True)):
        found = compare(read(), other, library())
        apart = [a for a in found.apart if str(a.finding.id).startswith("sag-")]
        assert {a.why for a in apart} == {"edge"}
        assert not any(str(c.new.id).startswith("sag-") for c in found.changes)


def test_the_makers_shape_is_no_kink_and_no_slip_where_it_is_not_known() -> None:
    """A rail deeper from one place on reads like a hinge; nothing is said of it then."""
    typed = {"string-set-up/block": ["50"], "string-set-up/span": ["2180"]}
    for page in ("sag-loaded", "sag-unloaded"):
        for n, station in enumerate(("front-crossmember", "mid-engine", "engine-mount", "center")):
            for side in ("left", "right"):
                typed[f"{page}/{station}/{side}"] = [("50", "50", "12", "50")[n]] * 2
    for edges, silent in (("both-straight", False), ("not-known", True)):
        answers = {"string-set-up/where": "below", "by-make/edges": edges}
        told = found(survey_of(typed, unit="mm", answers=answers))
        kinds = [f.note(Bend).kind for id, f in told.items() if id.startswith("bend/")]
        slips = [id for id in told if id.startswith("gap-slip")]
        assert (not slips and "kink" not in kinds) is silent, (edges, kinds, slips)


def test_the_edge_is_said_the_same_for_the_same() -> None:
    def case(survey: Survey) -> Case:
        return case_of(survey, library())

    assert string_edge(case(read())) == string_edge(case(read(edges="not-known")))
    assert string_edge(case(read())) != string_edge(case(read(where="above")))


@pytest.mark.parametrize("edges", ["not-known", "none-straight"])
@pytest.mark.parametrize("low", [0.0, 3.1, 6.0])
def test_along_an_edge_that_nobody_knows_no_ball_gives_caster_or_takes_it(
    edges: str, low: float
) -> None:
    """It would be 6 degrees either way, which says nothing."""
    known, unknown = found(read(low, edges="both-straight")), found(read(low, edges=edges))
    assert "caster/ball" in known
    assert "caster/ball" not in unknown
