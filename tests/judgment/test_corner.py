"""A corner that is out, and what it explains. Points in plane geometry (identity), taped by a
perfect tape.

Every case has a twin in which something is not as the corner would have it, and nothing may be
explained.
"""

from __future__ import annotations

from tests.checks.surveys import DAY, LADDER, library, moved, survey_of, taped
from wizard.checks.run import findings_of
from wizard.judgment.bands import Judged, judge
from wizard.judgment.corner import carried, corner_of, explained, settled
from wizard.judgment.next import advise, can_change

LAYOUT = library().layouts["straight-ladder"]


def judged(
    base: tuple[float, float] | None = None, **by: tuple[float, float]
) -> tuple[Judged, ...]:
    """The findings on the ladder with points moved; base: the two wheelbases, mm."""
    readings = taped(moved(LADDER, **by))
    if base:
        readings |= {
            f"wheelbase/{side}": [f"{mm} mm"] * 2
            for side, mm in zip(("left", "right"), base, strict=True)
        }
    survey = survey_of(readings, unit="mm")
    return tuple(judge(f, survey, library()) for f in findings_of(survey, library()))


def by_id(found: tuple[Judged, ...]) -> dict[str, Judged]:
    return {j.finding.id: j for j in found}


def test_each_corner_is_named_by_its_side_its_end_and_how_far_it_is_out() -> None:
    for side in ("left", "right"):
        for end, way in (("front", 9.5), ("rear", -9.5)):
            found = corner_of(judged(**{f"{end}_{side}": (way, 0.0)}), LAYOUT)
            assert found is not None, (side, end)
            assert (found.side, found.end) == (side, end)
            assert abs(abs(found.by.finding.value) - 9.5) < 0.1
            assert found.true == (("rear-box",) if end == "front" else ("front-box",))


def test_a_true_frame_a_diamond_and_two_corners_are_no_corner() -> None:
    right = dict.fromkeys(("tip_right", "front_right", "center_right", "rear_right"), (9.5, 0.0))
    assert corner_of(judged(), LAYOUT) is None
    assert corner_of(judged(**right), LAYOUT) is None
    assert corner_of(judged(front_left=(9.5, 0.0), rear_right=(-9.5, 0.0)), LAYOUT) is None
    assert corner_of(judged(front_left=(2.0, 0.0)), LAYOUT) is None, "less than a short rail"


def test_a_short_rail_beside_a_box_that_is_out_of_square_by_more_is_no_plain_corner() -> None:
    """Own sides differ by 9.5 but the box is square: that is another rivet, not a corner that went
    back.
    """
    found = list(judged(front_left=(9.5, 0.0)))
    straight = by_id(judged())["rail-shift/front-box"]
    swapped = tuple(straight if j.finding.id == "rail-shift/front-box" else j for j in found)
    assert corner_of(tuple(found), LAYOUT) is not None
    assert corner_of(swapped, LAYOUT) is None


def test_the_wheelbase_on_that_side_is_explained_and_no_other() -> None:
    hit = {"front_left": (9.5, 0.0)}
    assert explained(judged((2613.5, 2620.0), **hit), LAYOUT) is not None
    assert explained(judged((2620.0, 2613.5), **hit), LAYOUT) is None, "the other side is short"
    assert explained(judged((2600.0, 2620.0), **hit), LAYOUT) is None, (
        "shorter than the corner is back"
    )
    assert explained(judged((2613.5, 2620.0)), LAYOUT) is None, "a true frame explains nothing"
    assert explained(judged((2613.5, 2620.0), rear_left=(-9.5, 0.0)), LAYOUT) is not None, (
        "the rear corner forward"
    )


def test_a_box_out_of_square_beside_a_square_one_foretells_the_side_too() -> None:
    """Without the own sides a corner and a rail that slid look alike: both make that side's
    wheelbase the shorter.
    """
    readings = {
        p: v
        for p, v in taped(moved(LADDER, front_left=(16.0, 0.0))).items()
        if p.startswith("box-diag")
    }
    survey = survey_of(readings, unit="mm")
    found = tuple(judge(f, survey, library()) for f in findings_of(survey, library()))
    assert corner_of(found, LAYOUT) is None
    by = carried(found, LAYOUT)
    assert by is not None
    assert (by.side, by.end, by.corner) == ("left", "front", False)


def test_what_is_explained_decides_nothing_and_halves_keep_still() -> None:
    found = judged((2613.5, 2620.0), front_left=(9.5, 0.0))
    after = by_id(settled(found, LAYOUT))
    assert after["wheelbase/difference"].bands == ()
    assert after["rail-shift/front-box"].quiet
    assert after["mash/whole"].quiet
    assert not after["mash/front-box"].quiet
    assert after["mash/front-box"].worst == "specialist"
    assert after["rail-shift/front-box"].bands == by_id(found)["rail-shift/front-box"].bands, (
        "causes still rest on it"
    )
    assert settled(tuple(after.values()), LAYOUT) == tuple(after.values()), "twice is as once"


def test_where_nothing_is_explained_nothing_changes() -> None:
    found = judged((2611.0, 2620.0))
    assert settled(found, LAYOUT) == found
    assert by_id(found)["wheelbase/difference"].worst == "axle-first"


def test_a_reading_is_asked_for_only_where_it_can_make_the_verdict_graver() -> None:
    survey = survey_of({"wheelbase/left": ["2614 mm"], "wheelbase/right": ["2620 mm"]}, unit="mm")
    (base,) = (judge(f, survey, library()) for f in findings_of(survey, library()))
    assert base.bands == ("watch", "axle-first")
    wanted = {
        a: can_change(base, a)
        for a in ("stop", "specialist", "put-right", "axle-first", "watch", "open")
    }
    assert wanted == {
        "stop": False, "specialist": False, "put-right": False, "axle-first": False, "watch": True, "open": True,
    }  # fmt: skip


def test_advice_that_could_change_nothing_is_left_out() -> None:
    survey = survey_of({"wheelbase/left": ["2615 mm"], "wheelbase/right": ["2620 mm"]}, unit="mm")
    (base,) = (judge(f, survey, library()) for f in findings_of(survey, library()))
    asked = advise(base, survey, library(), DAY, "open")
    assert asked is not None
    assert asked.kind in ("repeat", "measure")
    assert advise(base, survey, library(), DAY, "specialist") is None


def bare_judged(**by: tuple[float, float]) -> tuple[Judged, ...]:
    """Own sides and box diagonals alone: too little for a plan."""
    readings = {
        p: v
        for p, v in taped(moved(LADDER, **by)).items()
        if p.startswith(("own-sides", "box-diagonals"))
    }
    survey = survey_of({p: v for p, v in readings.items() if "/horns/" not in p}, unit="mm")
    return tuple(judge(f, survey, library()) for f in findings_of(survey, library()))


def test_without_a_plan_the_short_rail_itself_is_held_against_its_limit_and_the_diagonals_may_be_quiet() -> (
    None
):
    found = by_id(settled(bare_judged(front_left=(13.0, 0.0)), LAYOUT))
    assert "mash/front-box" not in found
    short = found["own-sides/front-box"]
    assert short.finding.limit == "rail-length"
    assert short.established != "leave"
    assert not short.quiet


def test_an_axle_that_stands_askew_answers_for_the_wheelbase_itself() -> None:
    readings = taped(moved(LADDER, front_left=(12.0, 0.0)))
    readings |= {"wheelbase/left": ["2616 mm"] * 2, "wheelbase/right": ["2620 mm"] * 2}
    plain = survey_of(readings, unit="mm")
    for side, mm in (("left", "308"), ("right", "300")):
        readings |= {
            f"wheelbase/rear-axle-{side}": [f"{mm} mm"],
            f"wheelbase/front-axle-{side}": ["120 mm"],
        }
    askew = survey_of(readings, unit="mm")
    known = {
        name: tuple(judge(f, s, library()) for f in findings_of(s, library()))
        for name, s in (("plain", plain), ("askew", askew))
    }
    assert explained(known["askew"], LAYOUT) is None
    assert carried(known["plain"], LAYOUT) is not None


def test_a_bend_sideways_explains_no_wheelbase() -> None:
    front = dict.fromkeys(("front_left", "front_right", "tip_left", "tip_right"), (0.0, 20.0))
    assert carried(judged(base=(2608.0, 2620.0), **front), LAYOUT) is None
    assert explained(judged(base=(2608.0, 2620.0), **front), LAYOUT) is None
