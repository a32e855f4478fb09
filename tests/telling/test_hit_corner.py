"""A frame hit at one corner, told to its owner: the corner, by how much, what is in order, and his
own notes.

The readings come from a plan of points in plane geometry: the left front corner 9.5 mm back with
its horn, the rear box as it was.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from tests.checks.surveys import DAY, LADDER, level_on, library, moved, survey_of, taped, with_looks
from tests.telling.saying import tells
from wizard.judgment.sight import verdict_of
from wizard.survey.guide import CARRIED
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Look, Remark
from wizard.telling.answer_words import headline_of
from wizard.telling.verdict_words import sections

HIT = moved(LADDER, front_left=(9.5, 0), tip_left=(9.5, 6.35))


@cache
def survey() -> Survey:
    history = {"history/knocked": "yes", "history/where": "left-front"}
    return with_looks(survey_of(taped(HIT), unit="mm", answers=history))


def told(of: Survey) -> dict[str, tuple[str, ...]]:
    verdict = verdict_of(of, library(), DAY)
    return {s.heading: s.lines for s in sections(verdict, of, library())}


def test_the_first_reason_is_the_corner_and_how_far_it_is_back() -> None:
    first = told(survey())["The strongest reasons"][0]
    tells(first, "Front box", "all the measurements", "left rail is 9.5 mm shorter than its twin")
    assert "Take it to a specialist." in first, "length that is gone is a fold or a slipped joint"


def test_it_lies_in_the_front_box_and_not_in_the_whole_frame() -> None:
    comes_from = " ".join(told(survey())["What it comes from"])
    assert "It is the front box that is out." in comes_from
    assert "The whole frame is out" not in comes_from
    assert "The signs gather at the left front." in comes_from


def test_with_the_engine_in_the_way_of_the_front_box_the_still_rear_box_says_the_same() -> None:
    """Its diagonals are not taped, so the box itself cannot be told; the rear one is still, so it
    is the front one.
    """
    hit = moved(LADDER, front_left=(8.6, 0), tip_left=(8.6, 0))
    readings = {
        p: v
        for p, v in taped(hit).items()
        if not p.startswith(("box-diagonals/front-box", "horns"))
    }
    comes_from = told(with_looks(survey_of(readings, unit="mm")))["What it comes from"]
    assert "It is the front box that is out." in comes_from
    assert "The whole frame is out, from front to rear." not in comes_from


def test_a_frame_racked_as_a_whole_is_still_called_one() -> None:
    right = dict.fromkeys(("tip_right", "front_right", "center_right", "rear_right"), (8.0, 0))
    of = with_looks(survey_of(taped(moved(LADDER, **right)), unit="mm"))
    assert "The whole frame is out, from front to rear." in told(of)["What it comes from"]


def _with_horn(of: Survey, side: str, answer: str, seen: str = "bare") -> Survey:
    """The survey with another look at one horn."""
    kept = [k for k in of.standing(Look) if k.prompt == f"horn-welds/{side}"]
    for look in kept:
        of = of.with_replaced(replace(look, answer=answer, seen=seen))
    return of


def test_neither_horn_is_named_where_only_the_tape_speaks() -> None:
    """A known blow at that corner does not bend a horn, and the tape has no third horn."""
    words = " ".join(told(survey())["The strongest reasons"])
    assert "The two horns differ by" in words
    assert "The left horn" not in words
    assert "The right horn" not in words


@pytest.mark.parametrize(
    ("side", "said"),
    [
        ("left", "The left horn, which was seen bent, stands 6 mm further in than the right one"),
        ("right", "The right horn, which was seen bent, stands 6 mm further out than the left"),
    ],
)
def test_the_horn_that_was_seen_bent_is_the_one_that_is_named(side: str, said: str) -> None:
    words = " ".join(told(_with_horn(survey(), side, "bent-round"))["The strongest reasons"])
    assert said in words


def test_a_twin_that_was_not_seen_bare_leaves_it_open_which_it_is() -> None:
    of = _with_horn(_with_horn(survey(), "left", "bent-round"), "right", "nothing-found", "painted")
    assert "The two horns differ by" in " ".join(told(of)["The strongest reasons"])
    both = _with_horn(_with_horn(survey(), "left", "bent-round"), "right", "ripple")
    assert "The two horns differ by" in " ".join(told(both)["The strongest reasons"])


def test_what_is_in_order_is_said_and_what_is_out_is_not_in_it() -> None:
    (line,) = told(survey())["What is in order"]
    assert "the rear box square" in line
    assert "front box" not in line
    assert "horns" not in line


def test_where_everything_is_out_or_nothing_was_measured_there_is_no_such_line() -> None:
    assert "What is in order" not in told(survey_of({}))


def test_words_and_wishes_of_the_last_page_stand_beside_the_verdict() -> None:
    of = survey()
    for n, (prompt, answer) in enumerate(
        [
            ("finish/remark", "left headlamp bracket [/b] bent\x1b[2J back"),
            ("finish/anything-else", "ask-mentor"),
        ]
    ):
        of = of.with_row(Answer(id=f"a90{n}", prompt=prompt, answer=answer))
    of = of.with_row(Remark(id="m910", prompt="rail-tops/left", text="photo beside a rule"))
    lines = told(of)["What you noted"]
    assert lines[0] == "left headlamp bracket [/b] bent[2J back."
    assert lines[1] == "You have a question for a mentor."
    assert lines[2] == "The tops of the rails: photo beside a rule."


def test_what_was_noted_last_time_is_not_noted_now() -> None:
    of = survey().with_row(
        Remark(id="m910", prompt="", text="the floor was wet", extra={CARRIED: "then"})
    )
    assert "What you noted" not in told(of)


def test_many_remarks_are_cut_and_counted() -> None:
    of = survey()
    for n in range(12):
        of = of.with_row(Remark(id=f"m9{n:02}", prompt="", text=f"note {n}"))
    lines = told(of)["What you noted"]
    assert len(lines) == 9
    assert lines[-1] == "And 4 more; the report has them all."


@pytest.mark.parametrize(("answer", "there"), [("-", False), (" - ", False), ("x", True)])
def test_nothing_noted_gives_no_heading(answer: str, there: bool) -> None:
    of = survey().with_row(Answer(id="a900", prompt="finish/remark", answer=answer))
    assert ("What you noted" in told(of)) is there


def whole(left_wheelbase: str) -> Survey:
    """Everything read on a straight frame, but for one wheelbase."""
    readings = taped(LADDER) | {"string-set-up/block": ["50 mm"], "string-set-up/span": ["2180 mm"]}
    for station in library().layouts["straight-ladder"].stations:
        for side in ("left", "right"):
            readings |= {f"sag-{e}/{station.id}/{side}": ["50 mm"] for e in ("loaded", "unloaded")}
    for level in library().layouts["straight-ladder"].levels:
        readings |= {f"level/{level.id}/{way}": ["0"] for way in ("as-set", "turned")}
    readings |= {"wheelbase/left": [left_wheelbase] * 2, "wheelbase/right": ["2620 mm"] * 2}
    return with_looks(survey_of(readings, unit="mm", answers={"string-set-up/where": "above"}))


@pytest.mark.parametrize(
    ("mm", "says"),
    [
        ("2620 mm", "Nothing to put right on what was seen and measured."),
        ("2614 mm", "Left wheelbase 6 mm shorter than the right. It is not known yet whether "),
    ],
)
def test_out_but_not_yet_told_how_far_is_said_so(mm: str, says: str) -> None:
    survey = whole(mm)
    verdict = verdict_of(survey, library(), DAY)
    said = headline_of(verdict, survey, library())
    assert said.startswith(says), (said, verdict.action, verdict.lacking)


def test_a_straight_rail_beside_a_hanging_one_is_named() -> None:
    readings = {"string-set-up/block": ["50 mm"], "string-set-up/span": ["2180 mm"]}
    for station in library().layouts["straight-ladder"].stations:
        low = 50 + 7 * 4 * (station.x + 80) * (2100 - station.x) / 2180**2
        readings |= {
            f"sag-loaded/{station.id}/left": [f"{low:.1f} mm"],
            f"sag-loaded/{station.id}/right": ["50 mm"],
        }
    of = with_looks(
        survey_of(taped(LADDER) | readings, unit="mm", answers={"string-set-up/where": "above"})
    )
    (line,) = told(of)["What is in order"]
    assert "the right rail true by the string with the engine's weight" in line


def test_a_box_by_its_tapes_is_no_comfort_where_the_bar_says_otherwise() -> None:
    bar = {
        "front-box-bar/front-right--center-left": ["8 mm past"] * 3,
        "front-box-bar/closing": ["0"],
    }
    of = with_looks(survey_of(taped(LADDER) | bar, unit="mm"))
    (line,) = told(of)["What is in order"]
    assert "front box (square)" not in line
    assert "all boxes (square)" not in line
    assert "rear box" in line


def _with(of: Survey, *rows: tuple[str, str]) -> Survey:
    for prompt, said in rows:
        of = of.with_row(Answer(id=of.new_id(Answer), prompt=prompt, answer=said))
    return of


def test_the_question_of_the_owner_s_own_is_the_first_for_the_specialist() -> None:
    asked = _with(
        survey(),
        ("finish/anything-else", "ask-specialist"),
        ("finish/question", "can the seam stay"),
    )
    lines = told(asked)["What to ask a specialist"]
    assert lines[0] == "Can the seam stay?"
    assert lines[1:] == told(survey())["What to ask a specialist"]
    assert (
        "You have a question for a specialist: Can the seam stay?" in told(asked)["What you noted"]
    )


def test_an_axle_that_stayed_is_told_so_and_not_sent_back_to_the_tape() -> None:
    """The wheelbases alike and the corner back by 9.5 mm: the axle's own two tapes, 110 and 119.5
    mm, settle it.
    """
    alike = {"wheelbase/left": ["2620 mm"] * 2, "wheelbase/right": ["2620 mm"] * 2}
    unknown = with_looks(survey_of({**taped(HIT), **alike}, unit="mm"))
    assert told(unknown)["What to do"][0].startswith(
        "Before anything else tape the front box again."
    )
    axle = {"wheelbase/front-axle-left": ["119.5 mm"], "wheelbase/front-axle-right": ["110 mm"]}
    known = with_looks(survey_of({**taped(HIT), **alike, **axle}, unit="mm"))
    assert not told(known)["What to do"][0].startswith("Before anything else")
    worth = " ".join(told(known)["Worth a look because of it"])
    tells(worth, "the axle's own readings", "the corner went back", "the axle stayed")


def test_a_twist_that_was_read_is_never_left_out_of_the_result() -> None:
    level = {}
    for place, typed in {"front-crossmember": "0", "center": "0", "rear": "1/4 left"}.items():
        level |= {f"level/{place}/as-set": [typed], f"level/{place}/turned": [typed]}
    base = {"wheelbase/left": ["2620 mm"] * 2, "wheelbase/right": ["2650 mm"] * 2}
    said = told(with_looks(survey_of({**taped(HIT), **level, **base}, unit="mm")))
    assert not any("rear crossmember" in line for line in said["The strongest reasons"])
    assert any(
        "The frame leans no more at the rear crossmember than" in line
        and "What it stood on is not known" in line
        and "only the bare frame on three points can show" in line
        for line in said["What cannot be told yet"]
    )


@pytest.mark.parametrize(
    ("prompt", "seen"),
    [("front-crossmember-cracks/left", "crack"), ("front-crossmember-rivets/left", "loose-rivets")],
)
def test_nothing_is_asked_of_the_tape_before_a_stop_or_a_loose_joint(
    prompt: str, seen: str
) -> None:
    alike = {"wheelbase/left": ["2620 mm"] * 2, "wheelbase/right": ["2620 mm"] * 2}
    of = with_looks(survey_of({**taped(HIT), **alike}, unit="mm"))
    of = of.with_row(Look(id="k900", prompt=prompt, seen="bare", answer=seen))
    assert not any("Before anything else" in line for line in told(of)["What to do"])


def test_a_twist_of_the_bare_frame_that_asks_for_nothing_is_no_open_question() -> None:
    level = {}
    for place, typed in {"front-crossmember": "0", "center": "0", "rear": "1/4 left"}.items():
        level |= {f"level/{place}/as-set": [typed], f"level/{place}/turned": [typed]}
    base = {"wheelbase/left": ["2620 mm"] * 2, "wheelbase/right": ["2650 mm"] * 2}
    of = with_looks(survey_of({**taped(HIT), **level, **base}, unit="mm"))
    said = told(level_on(of))
    assert any(
        "The frame leans no more at the rear crossmember than" in line
        for line in said["The strongest reasons"]
    )
    assert not any(
        "The rear crossmember" in line for line in said.get("What cannot be told yet", ())
    )
