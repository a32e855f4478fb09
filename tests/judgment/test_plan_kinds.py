"""Which kinds of damage the figures of a plan leave, against frames moved on purpose.

Points in plane geometry (identity), taped by a perfect tape whose doubt is an ordinary hand's.
"""

from __future__ import annotations

from datetime import datetime

import pytest

from tests.checks.surveys import LADDER, library, moved, survey_of, taped
from tests.checks.test_corners import taped as taped_frame
from wizard.judgment.corner import corner_of
from wizard.judgment.plan_kinds import kinds_left
from wizard.judgment.shown import shown
from wizard.judgment.sight import Sight, sight_of
from wizard.telling.verdict_words import sections

DAY = datetime(2026, 4, 11, 9, 0)
RIGHT = ("tip_right", "front_right", "center_right", "rear_right")
TIPS, FRONTS = ("tip_left", "tip_right"), ("front_left", "front_right")
DIAMOND = dict.fromkeys(RIGHT, (10.0, 0.0))
CORNER = dict.fromkeys(("tip_right", "front_right"), (8.0, 0.0))
BEHIND = {"rear_left": (-8.0, 0.0)}
# The horns run on in line with their rails.
BOW = dict.fromkeys(("center_left", "center_right"), (0.0, 6.0)) | dict.fromkeys(TIPS, (0.0, -2.7))
END = dict.fromkeys(FRONTS, (0.0, -11.0)) | dict.fromkeys(TIPS, (0.0, -15.95))
WHOLE = ("widths", "your-hand", "long-diagonals")
Moves = dict[str, tuple[float, float]]


def sight(moves: Moves, steps: tuple[str, ...] = ()) -> Sight:
    """A frame moved so, read by an ordinary hand that tapes these pages, or all of them."""
    tapes = taped(moved(LADDER, **moves), steps)
    again = {p: v * (5 if p.startswith("your-hand") else 2) for p, v in tapes.items()}
    return sight_of(survey_of(again, unit="mm"), library())


def kinds(moves: Moves, steps: tuple[str, ...] = ()) -> set[str]:
    seen = sight(moves, steps)
    return set(kinds_left(seen.judged, seen.layout))


def named(moves: Moves, steps: tuple[str, ...] = ()) -> set[str]:
    return {s.condition for s in shown(sight(moves, steps).facts)}


@pytest.mark.parametrize(
    ("moves", "kind"),
    [
        (DIAMOND, "diamond"),
        (CORNER, "front-corner"),
        (BEHIND, "rear-corner"),
        (BOW, "bow"),
        (END, "end-over"),
    ],
)
def test_with_all_its_tapes_each_kind_is_the_only_one_left(moves: Moves, kind: str) -> None:
    assert kinds(moves) == {kind}


@pytest.mark.parametrize(
    "layout",
    ["a-frame", "boxed-perimeter", "double-drop", "x-braced", "torque-boxes", "tube-ladder"],
)
def test_a_diamond_is_told_from_an_end_bent_over_on_every_kind_of_frame(layout: str) -> None:
    """On the double drop it was told in 1 of 6: an end that goes over by 19 mm made every box doubtful by
    0.6 mm, and no tape tied the kicks to the ends.
    """
    rights = (p.id.replace("-", "_") for p in library().layouts[layout].places)
    survey = taped_frame(layout, **{f"{place}_right": (8.0, 0.0) for place in rights})
    seen = sight_of(survey, library())
    assert set(kinds_left(seen.judged, seen.layout)) == {"diamond"}


@pytest.mark.parametrize("moves", [DIAMOND, CORNER, BEHIND, END])
def test_the_whole_frames_diagonals_alone_say_out_of_square_and_no_more(moves: Moves) -> None:
    assert {"diamond", "front-corner", "rear-corner", "end-over"} <= kinds(moves, WHOLE)
    assert "whole-diamond" not in named(moves, WHOLE)


def test_the_tapes_that_would_tell_are_asked_for() -> None:
    seen = sight(DIAMOND, WHOLE)
    lines = sections(seen.verdict(DAY), seen.survey, library())
    untold = " ".join(t for s in lines if s.heading == "What cannot be told yet" for t in s.lines)
    assert "out of square, but not why" in untold
    assert "Tape both rails, left and right" in untold


@pytest.mark.parametrize("moves", [BOW, END])
def test_a_bow_puts_no_box_out_however_unequal_its_diagonals(moves: Moves) -> None:
    """Rails that bend sideways keep their lengths: the crossmembers stay parallel, and the boxes
    lean though no rail slipped.
    """
    assert named(moves) == {"frame-bowed"}
    assert not sight(moves).causes.box


def test_a_rail_that_is_short_over_the_whole_puts_no_whole_frame_out() -> None:
    assert sight(CORNER).causes.box == "front-box"
    assert sight(BEHIND).causes.box == "rear-box"
    no_boxes = ("widths", "your-hand", "long-diagonals", "own-sides/whole")
    assert sight(CORNER, no_boxes).causes.box != "whole"


def test_a_corner_is_named_though_the_other_box_is_not_settled() -> None:
    """One reading each of the rear box leaves it open; nothing but the corner explains the rest."""
    seen = sight(CORNER)
    corner = corner_of(seen.judged, seen.layout)
    assert corner is not None
    assert (corner.side, corner.end) == ("right", "front")


@pytest.mark.parametrize(("end", "by"), [("front", 8.0), ("rear", -8.0)])
def test_a_corner_is_named_where_a_kick_on_the_way_lost_half(end: str, by: float) -> None:
    """The double drop has a box from each end to its kick: over that one alone the rail is short by half,
    and a rule that looked no further named no corner there in 7 of 7 (a rail pushed in evenly from
    the end to the center).
    """
    pushed = {f"{end}_right": (by, 0.0), f"{end}_kick_right": (0.58 * by, 0.0)}
    if end == "front":
        pushed["tip_right"] = (by, 0.0)
    seen = sight_of(taped_frame("double-drop", **pushed), library())
    corner = corner_of(seen.judged, seen.layout)
    assert corner is not None
    assert (corner.side, corner.end, corner.box) == ("right", end, f"{end}-box")
    assert abs(abs(corner.by.finding.value) - 8.0) < 1.0
    told = [j.finding.id for j in seen.judged if j.bands and not j.quiet and j.worst != "leave"]
    assert not [i for i in told if i.startswith("rail-shift")], "the corner over again, box by box"


def test_a_corner_is_not_named_from_diagonals_that_an_end_bent_over_makes_too() -> None:
    seen = sight(CORNER, ("widths", "your-hand", "long-diagonals", "box-diagonals"))
    left = kinds_left(seen.judged, seen.layout)
    assert corner_of(seen.judged, seen.layout) is None or left == {"front-corner"}


def test_horns_behind_tapes_that_disagree_are_not_known_and_never_read_off_a_square_front() -> None:
    """On a 10 mm diamond a square front end would make 14.5 mm of horn (2 L h / W)."""
    tapes = taped(moved(LADDER, **DIAMOND))
    slip = "box-diagonals/rear-box/center-left--rear-right"
    tapes[slip] = [f"{float(tapes[slip][0][:-3]) + 9.0} mm"]
    again = {p: v * (5 if p.startswith("your-hand") else 2) for p, v in tapes.items()}
    seen = sight_of(survey_of(again, unit="mm"), library())
    horn = next(j for j in seen.judged if j.finding.quantity == "horn")
    assert horn.finding.disagrees
    assert abs(horn.finding.value) < 5.0
    assert horn.established == "leave"
    assert horn.worst == "specialist"
    assert "horn-out" not in {s.condition for s in shown(seen.facts)}


def test_without_a_plan_the_shift_goes_out_of_the_horns_with_its_doubt() -> None:
    """Crosses and own sides of horns and front box alone: no plan, and yet the box says how it is
    shifted.
    """
    tapes = taped(moved(LADDER, **DIAMOND), ("horns", "own-sides", "box-diagonals", "widths"))
    kept = {
        p: v * 2
        for p, v in tapes.items()
        if p.startswith(("horns/horns/tip-left--front", "horns/horns/tip-right--front"))
        or "front-box" in p
    }
    seen = sight_of(survey_of(kept, unit="mm"), library())
    assert seen.plan is None or not seen.plan.places("tip-left")
    horn = next(j for j in seen.judged if j.finding.quantity == "horn")
    assert horn.finding.value == pytest.approx(0.0, abs=0.4)
    assert horn.bands
    names = {p.name for p in horn.finding.number.parts}
    assert "hand:box-diagonals/front-box/front-left--center-right" in names


def test_two_things_at_once_are_no_single_kind() -> None:
    both = {**CORNER, **dict.fromkeys(("center_left", "center_right"), (0.0, 9.0))}
    assert kinds(both) == set()
    assert not {"front-box-out", "front-box-out-rest-true", "rear-box-out"} & named(both)


def test_a_horn_is_called_local_only_where_the_box_behind_it_is_known_to_be_true() -> None:
    bent = {"tip_left": (0.0, -14.0)}
    assert sight(bent).causes.box == "horns"
    assert sight({**bent, **END, "tip_left": (0.0, -29.95)}).causes.box == ""
