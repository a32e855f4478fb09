"""A sound light frame with ordinary age, from typed text to the verdict.

Figures of common practice, no published source: main diagonals of 80 in equal to the sixteenth,
3/16 in of sag at the engine mount with the engine's weight and 1/8 in without it, 1/8 in between
the diagonals of the two horns, the same bubble everywhere. At such a frame there is nothing to put
right.
"""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from tests.checks.surveys import DAY, findings, level_on, library, sit, survey_of, with_looks
from wizard.judgment.sight import verdict_of
from wizard.judgment.verdict import Verdict
from wizard.survey.file import load
from wizard.survey.record import Survey
from wizard.survey.rows import Look, State
from wizard.telling.json_out import as_json
from wizard.telling.sentences import sentence_and_band
from wizard.telling.tell import verdict_page

IN = 25.4
CHOICES = {
    "state/body": "o",
    "set-supports/supports": "a",
    "tools/start": "t",
    "string-set-up/steady": "n",
    "string-set-up/where": "a",
}
OPEN = "Leave it or keep an eye on it; nothing to put right."


def lengths(
    right_mount_unloaded: str = "2 1/8",
    second_diagonal: str = "80",
    rear_bubble: str = "1/2 left",
) -> dict[str, list[str]]:
    """What is typed at each prompt; blocks of 2 in, so a gap of 2 3/16 is 3/16 of sag."""
    typed = {
        "string-set-up/block": ["2"],
        "string-set-up/span": ["85 7/8"],
        "long-diagonals/whole/front-left--rear-right": ["80", "80"],
        "long-diagonals/whole/front-right--rear-left": [second_diagonal] * 2,
        "horns/horns/tip-left--front-right": ["25 3/4"] * 2,
        "horns/horns/tip-right--front-left": ["25 7/8"] * 2,
    }
    stations = {"front-crossmember": "2", "mid-engine": "2 1/16", "center": "2 1/16", "behind": "2"}
    for side in ("left", "right"):
        for station, gap in stations.items():
            typed |= {f"{step}/{station}/{side}": [gap] for step in ("sag-loaded", "sag-unloaded")}
        typed[f"sag-loaded/engine-mount/{side}"] = ["2 3/16"]
        typed[f"sag-unloaded/engine-mount/{side}"] = [
            "2 1/8" if side == "left" else right_mount_unloaded
        ]
    for place in ("horns", "front-crossmember", "center", "rear"):
        for way in ("as-set", "turned"):
            typed[f"level/{place}/{way}"] = [rear_bubble if place == "rear" else "1/2 left"]
    return typed | {f"level/horns/again-{way}": ["1/2 left"] for way in ("as-set", "turned")}


SIDES = {
    # 80² × 2 = 2 × 74.89² + 2 × 24 × 33: the square closes to the sixteenth.
    "own-sides/whole/front-left--rear-left": ["74 7/8"],
    "own-sides/whole/front-right--rear-right": ["74 7/8"],
    "widths/front/front-left--front-right": ["24"],
    "widths/rear/rear-left--rear-right": ["33"],
}


@pytest.fixture(scope="module", params=["the rest skipped", "own sides and widths taped"])
def survey(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Survey:
    more = SIDES if request.param.startswith("own") else {}
    return sit(tmp_path_factory.mktemp("garage"), lengths() | more, CHOICES).survey


def verdict(survey: Survey) -> Verdict:
    return verdict_of(survey, library(), DAY)


def said(survey: Survey, id: str) -> str:
    judged = next(j for j in verdict(survey).judged if j.finding.id == id)
    return sentence_and_band(judged, library().layouts[survey.layout], survey.unit)


def test_there_is_nothing_to_put_right(survey: Survey) -> None:
    assert verdict(survey).action == "leave"
    page = verdict_page(survey, library(), DAY)
    assert page.startswith("Nothing to put right on what was seen and measured.")
    assert (verdict(survey).stops, verdict(survey).open, verdict(survey).lacking) == ((), (), ())


def test_equal_diagonals_are_no_shift(survey: Survey) -> None:
    assert findings(survey)["rail-shift/whole"].value == pytest.approx(0.0, abs=0.01)
    assert "neither rail has moved along the other" in said(survey, "rail-shift/whole")


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_sag_at_its_limit_is_left_or_watched(survey: Survey, side: str) -> None:
    unloaded = said(survey, f"sag-unloaded/engine-mount/{side}")
    assert unloaded.startswith(
        f"The {side} rail hangs 1/8 in low at the rear engine mount without the weight"
    )
    assert unloaded.endswith(OPEN)
    loaded = said(survey, f"sag-loaded/engine-mount/{side}")
    assert loaded.startswith(
        f"The {side} rail hangs 3/16 in low at the rear engine mount with the engine's weight"
    )
    assert loaded.endswith(OPEN)


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_sixteenth_comes_back_when_the_weight_goes(survey: Survey, side: str) -> None:
    elastic = findings(survey)[f"elastic/engine-mount/{side}"]
    assert elastic.value == pytest.approx(IN / 16)
    assert "stays where it is at the rear engine mount" in said(
        survey, elastic.id
    )  # inside its doubt


def test_horns_that_differ_ahead_of_a_box_that_nobody_taped_are_not_judged(survey: Survey) -> None:
    """A front end out of square reads alike (geometry), so neither horn is named and none is open."""
    horn = said(survey, "horn/difference")
    assert horn.startswith("The two horns differ by 1/8 in")
    assert "It is not known yet whether that is a horn" in horn
    assert findings(survey)["horn/difference"].limit == ""


def test_the_same_bubble_everywhere_is_no_twist(survey: Survey) -> None:
    found = findings(survey)
    assert [found[f"twist/{p}"].value for p in ("center", "rear")] == [0.0, 0.0]
    assert said(survey, "twist/rear").endswith(": nothing to put right in that.")


def test_no_reading_was_doubted_though_the_frame_is_smaller_than_the_layouts(
    survey: Survey,
) -> None:
    assert not survey.rows.get("doubt")


def test_what_was_skipped_is_named(survey: Survey) -> None:
    assert "The diagonals of each box" in {g.what for g in verdict(survey).not_seen}
    assert "The tops of the rails" not in {g.what for g in verdict(survey).not_seen}


def test_the_file_tells_the_same_and_keeps_the_verdict_as_shown(tmp_path: Path) -> None:
    sitting = sit(tmp_path, lengths(), CHOICES)
    assert sitting.path is not None
    again = load(sitting.path)
    out = json.loads(as_json(again, library(), DAY))
    assert out["verdict"]["action"] == "leave"
    assert again.rows["verdict"][-1].text == out["verdict"]["text"]  # type: ignore[attr-defined]


# Each of these differs in one thing, and must not come out the same
# ------------------------------------------------


def hanging() -> dict[str, list[str]]:
    """The right rail hangs by half an inch, and its neighboring stations with it."""
    low = {"mid-engine": "2 5/16", "engine-mount": "2 1/2", "center": "2 5/16"}
    steps = ("sag-loaded", "sag-unloaded")
    return lengths() | {f"{step}/{s}/right": [gap] for step in steps for s, gap in low.items()}


def test_a_single_station_far_off_is_read_once_more_before_anybody_acts() -> None:
    """No rail hangs by 3/8 in at one station with its neighbors as they were: it is a slip, or a
    lump.
    """
    found = verdict(made(lengths(right_mount_unloaded="2 1/2")))
    assert found.action == "open"
    assert any(j.finding.quantity == "gap-slip" for j in found.judged)


@pytest.mark.parametrize(
    ("changed", "action"),
    [
        (hanging(), "specialist"),
        (lengths(right_mount_unloaded="2 5/16"), "put-right"),
        (lengths(second_diagonal="79 1/4"), "put-right"),
        (lengths(rear_bubble="1 1/2 left"), "open"),
    ],
)
def test_a_frame_past_its_limits_is_to_be_put_right(
    changed: dict[str, list[str]], action: str
) -> None:
    assert verdict(made(changed)).action == action


def test_only_on_three_points_is_a_twist_surely_the_frames_own() -> None:
    """Four stands can draw a twist that is not there, and nothing with weight on it goes on three
    points.
    """
    twisted, straight = lengths(rear_bubble="1 1/2 left"), lengths()
    on_stands = verdict(made(twisted))
    assert [j.finding.id for j in on_stands.open] == ["twist/rear"]
    assert verdict(made(twisted, BARE)).action == "specialist"
    assert verdict(made(straight, BARE)).action == "leave"


def test_the_survey_made_without_the_sitting_says_the_same() -> None:
    assert verdict(made(lengths())).action == "leave"


def test_a_crack_outranks_all_of_it() -> None:
    prompt = "rail-tops/left"
    survey = made(lengths())
    look = next(k for k in survey.standing(Look) if k.prompt == prompt)
    page = verdict_page(survey.with_replaced(replace(look, answer="crack")), library(), DAY)
    assert page.startswith("Crack in the top of the left rail. Do not drive it; somebody")
    assert "The tops of the rails, left: a crack (the place was bare)." in page


def test_without_the_looks_it_is_not_enough() -> None:
    result = verdict(
        with_looks(survey_of(lengths(), answers=ANSWERS), seen="not-reached", answer="")
    )
    assert (result.action, result.lacking) == ("not-enough", ("looks",))


def test_with_everything_skipped_it_is_never_fine(tmp_path: Path) -> None:
    survey = sit(tmp_path, {}, CHOICES, look="").survey
    result = verdict(survey)
    assert result.action == "not-enough"
    assert result.lacking == ("rail-shift", "sag", "twist", "looks")
    page = verdict_page(survey, library(), DAY)
    assert page.startswith("It is not known yet whether the frame is square, straight")
    assert "as it is" not in page


ANSWERS = {"string-set-up/where": "above", "string-set-up/steady": "steady"}


SET_UP = State(id="", engine="in", body="off", supports="stands-under-axles")
BARE = State(id="", engine="out", body="off", supports="three-points")


def made(typed: dict[str, list[str]], state: State = SET_UP) -> Survey:
    """The same readings, on four stands under the axles, and every look clean, set down without a
    sitting.
    """
    survey = with_looks(survey_of(typed, answers=ANSWERS))
    return level_on(survey, engine=state.engine, body=state.body, supports=state.supports)
