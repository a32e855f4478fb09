"""What is foretold at the prompt by both faces: the other readings first, then the model of a
straight frame.
"""

from __future__ import annotations

import random
import subprocess
import sys
from pathlib import Path

import pytest

from tests.bench.foretold_frames import Typed, aged, drawn_survey, sampled
from tests.checks.surveys import add, library, survey_of
from tests.sitting.driving import BEGUN, READ, Driver, typed_to
from tests.told import says
from wizard.checks.case import Case
from wizard.checks.foretell import foretelling
from wizard.library.places import PromptId
from wizard.sitting.foretold import foretell_with
from wizard.sitting.foretold_model import doubt_of
from wizard.survey.record import Survey
from wizard.survey.rows import Doubt, OwnPlace, Reading, Size

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = sorted((ROOT / "sample_sessions").glob("*.toml"))
FRONT, CENTER, REAR = (f"widths/{p}/{p}-left--{p}-right" for p in ("front", "center", "rear"))
D1, D2 = (
    "long-diagonals/whole/front-left--rear-right",
    "long-diagonals/whole/front-right--rear-left",
)
LEFT, RIGHT = "wheelbase/left", "wheelbase/right"
BLOCK, GAP = "string-set-up/block", "sag-loaded/center/left"
TAPED = {FRONT: ["24 3/8"], CENTER: ["28 3/4"], REAR: ["33 7/8"]}


def doubt(survey: Survey, prompt: str, typed: str) -> str:
    return foretell_with(library())(survey, Case(survey, library()).prompts[prompt], typed)


def others(survey: Survey, prompt: str, typed: str) -> str:
    return foretelling(library())(survey, Case(survey, library()).prompts[prompt], typed)


# Absurd readings that nothing else checks
# --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("prompt", "typed", "told"),
    [
        (
            FRONT,
            "15",
            "A frame of this kind … about 24 in … Measure it once more",
        ),
        (D1, "51 1/8", "about 91 in … Measure it once more"),
        (
            LEFT,
            "10 1/4",
            "10 1/4 in is 93 in less than expected … about 103 in … leave out a digit?",
        ),
        (LEFT, "1003", "a digit too many?"),
        (LEFT, "2620", "Is it in mm? … type mm after it"),
        ("string-set-up/span", "8 5/8", "leave out a digit?"),
        (BLOCK, "1/16", "about 2 in here"),
        (
            "pulley-hint/pulley",
            "8 right",
            "too much: at most about 6 in … Is it in mm? … type mm after it",
        ),
        ("front-box-bar/closing", "1 7/8 in past", "about 1 1/4 in … Measure it once more"),
    ],
)
def test_a_first_reading_that_no_frame_gives_is_doubted(prompt: str, typed: str, told: str) -> None:
    assert says(doubt(survey_of({}), prompt, typed), told)
    assert others(survey_of({}), prompt, typed) == ""


@pytest.mark.parametrize(
    ("prompt", "typed"),
    [(FRONT, "24 3/8"), (FRONT, "18 1/2"), (FRONT, "32"), (D1, "91 1/8"), (D1, "69"), (LEFT, "103"), (BLOCK, "1"),
     (BLOCK, "4"), ("pulley-hint/pulley", "3/8 right"), ("level/rear/as-set", "4 left"), (GAP, "2 3/8")],
)  # fmt: skip
def test_a_first_reading_of_a_small_or_a_large_car_is_not(prompt: str, typed: str) -> None:
    assert doubt(survey_of({}), prompt, typed) == ""


def test_widths_bound_a_horn_and_a_gap_hangs_on_the_blocks() -> None:
    survey = survey_of(TAPED | {BLOCK: ["2"]})
    assert "What you measured so far" in doubt(survey, LEFT, "60")
    assert "5 in is 3 in more than expected" in doubt(survey, GAP, "5")
    assert doubt(survey_of(TAPED | {BLOCK: ["4"]}), GAP, "5") == ""


def test_a_frame_a_quarter_smaller_is_learned_from_its_own_tapes() -> None:
    """Half of this car's diagonal, and the layout's own round figure, which is a third too long for
    it.
    """
    small = {
        p: [f"{float(mm) * 0.75:.0f} mm"] for p, mm in ((FRONT, 620), (CENTER, 730), (REAR, 860))
    }
    sides = {f"own-sides/whole/front-{s}--rear-{s}": ["1652 mm"] for s in ("left", "right")}
    survey = survey_of(small | sides)
    assert doubt(survey, "box-diagonals/front-box/front-left--center-right", "1065 mm") == ""
    assert "What you measured so far" in doubt(
        survey, "box-diagonals/front-box/front-left--center-right", "1435 mm"
    )


# When the model holds its tongue
# ------------------------------------------------------------------------------------


def test_the_other_readings_speak_first() -> None:
    assert "You read 103 before and 104 now, 1 in apart" in doubt(
        survey_of({LEFT: ["103"]}), LEFT, "104"
    )
    assert "its twin on the other side" in doubt(survey_of({LEFT: ["103"]}), RIGHT, "10")


def _kept(survey: Survey, *readings: tuple[str, str]) -> Survey:
    for prompt, typed in readings:
        survey = add(survey, prompt, typed)
        last = survey.table(Reading)[-1]
        survey = survey.with_row(
            Doubt(id=survey.new_id(Doubt), reading=last.id, text="far", kept="asked")
        )
    return survey


@pytest.mark.parametrize(
    ("kept", "prompt", "typed"),
    [(FRONT, FRONT, "15"), (LEFT, RIGHT, "50"), (GAP, "sag-loaded/behind/left", "5")],
)
def test_what_agrees_with_a_reading_that_was_kept_is_not_asked_about_again(
    kept: str, prompt: str, typed: str
) -> None:
    survey = survey_of({BLOCK: ["2"]})
    assert doubt(survey, prompt, typed) != ""
    assert doubt(_kept(survey, (kept, typed)), prompt, typed) == ""


def test_a_doubted_reading_that_was_kept_says_nothing_of_the_rest() -> None:
    """Kept without a doubt on record the same width would shift what is foretold of the next."""
    kept, taken = _kept(survey_of({}), (FRONT, "15")), survey_of({FRONT: ["15"]})
    assert doubt(kept, CENTER, "40") == doubt(survey_of({}), CENTER, "40") == ""
    assert "What you measured so far" in doubt(taken, CENTER, "40")


def test_on_a_frame_of_quite_another_kind_the_model_falls_silent() -> None:
    odd = [(FRONT, "40 in"), (CENTER, "45 in"), (REAR, "50 in")]
    assert doubt(_kept(survey_of({}), *odd[:2]), D1, "150") != ""
    assert doubt(_kept(survey_of({}), *odd), D1, "150") == ""


def test_the_owners_wheelbase_is_believed() -> None:
    owned = survey_of({}).with_row(Size(id="z90", name="wheelbase", typed="4400 mm"))
    assert doubt(owned, LEFT, "4395 mm") == ""
    assert doubt(survey_of({}), LEFT, "4395 mm") != ""


def test_an_own_pair_stands_where_the_owner_says_on_a_frame_of_any_size() -> None:
    """On a frame a quarter larger than the round figures the pair is no quarter further back than
    he said.
    """
    large = {p: [f"{mm * 1.25:.0f} mm"] for p, mm in ((FRONT, 620), (CENTER, 730), (REAR, 860))}
    sides = {f"own-sides/whole/front-{s}--rear-{s}": ["2754 mm"] for s in ("left", "right")}
    own = OwnPlace(
        id="p90",
        use="tape",
        place="own-cowl",
        name="cowl",
        kind="hole",
        behind="1600 mm",
        across="960 mm",
    )
    survey = survey_of(large | sides).with_row(own)
    side = next(
        p
        for p in Case(survey, library()).prompts
        if p.startswith("own-sides/own-cowl-box/") and "left" in p
    )
    assert side.endswith("front-left--own-cowl-left") or side.endswith("center-left--own-cowl-left")
    far = 1600.0 if "front" in side else 350.0
    assert doubt(survey, side, f"{far:.0f} mm") == ""
    assert "What you measured so far" in doubt(survey, side, f"{far + 500:.0f} mm")


def test_what_is_no_reading_or_cannot_be_read_is_not_doubted() -> None:
    survey = survey_of({})
    for prompt, typed in (
        ("engine-mounts/left", "b o"),
        (FRONT, "wide"),
        ("panel-gaps/left/top", "1/4"),
    ):
        found = Case(survey, library()).prompts[prompt]
        assert doubt_of(survey, library(), found, typed) == ""


# Both faces, the second reader
# ----------------------------------------------------------------------------------------


def test_a_second_reader_hears_nothing_of_what_the_first_read(tmp_path: Path) -> None:
    """Two sittings that differ in the hidden reading alone doubt in the same words."""
    told = []
    for first in ("91 1/8", "95"):
        driver = Driver(tmp_path / first.replace("/", "-"), foretell=foretell_with(library()))
        driver.run(*BEGUN, "/go long-diagonals", READ, f"{first}!", "/second", READ)
        assert driver.at == D1
        told.append(driver.say("50").says)
    assert told[0] == told[1]
    assert says(told[0], "does not go with the rest … once more")


def test_a_doubt_is_a_question_and_typing_it_again_keeps_it(tmp_path: Path) -> None:
    driver = Driver(tmp_path, foretell=foretell_with(library())).run(*BEGUN, "/go wheelbase", READ)
    reply = driver.say("10")
    assert reply.kind == "doubted"
    assert reply.says.endswith("leave out a digit? Press Enter to keep it, or type what it is.")
    assert driver.say("10").kind == "taken"
    assert [d.text for d in driver.saved.standing(Doubt)] == [
        reply.says.removesuffix(" Press Enter to keep it, or type what it is.")
    ]


def test_plain_prompts_ask_the_same(tmp_path: Path) -> None:
    lines = "\n".join((*typed_to(*BEGUN, "/go wheelbase", READ), "10"))
    run = subprocess.run(
        [sys.executable, "-m", "wizard", "--folder", str(tmp_path), "ask"],
        input=lines, capture_output=True, text=True, cwd=ROOT, check=False,
    )  # fmt: skip
    assert says(run.stdout, "10 in is 93 in less … about 103 in … leave out a digit?")


# Sound readings -----------------------------------------------------------------------------------
# --------------------


def doubted(survey_of: Typed) -> list[str]:
    found = [(p.id, t, doubt_of(s, library(), p, t)) for s, p, t in survey_of]
    assert len(found) > 10
    return [f"{id} {typed}: {said}" for id, typed, said in found if said]


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_the_model_doubts_no_reading_of_a_sample(path: Path) -> None:
    assert doubted(sampled(path)) == []


@pytest.mark.parametrize("seed", range(3))
def test_the_model_doubts_no_reading_of_a_sound_frame_of_any_size(seed: int) -> None:
    """tests/bench/foretold_bench.py does the same over hundreds of surveys."""
    assert doubted(aged(random.Random(seed))) == []
    for layout in library().layouts.values():
        assert doubted(drawn_survey(layout, random.Random(seed))) == [], layout.id


def test_what_this_test_looks_for_it_would_find() -> None:
    """The twin that must fail: the same readings, every tape of them halved."""
    halved = (
        (s, p, "12 9/32" if p.id.startswith("your-hand") else t) for s, p, t in sampled(SAMPLES[0])
    )
    assert any("your-hand" in said for said in doubted(halved))


@pytest.mark.parametrize(("unit", "typed", "other"), [("in", "2321", "mm"), ("mm", "91.4", "in")])
def test_the_other_unit_is_noticed_at_the_first_reading(unit: str, typed: str, other: str) -> None:
    says = doubt(survey_of({}, unit=unit), D1, typed)  # type: ignore[arg-type]
    assert f"type {other} after it" in says


# Two readings that contradict each other
# ------------------------------------------------------------------------------------


def _at_the_second(tmp_path: Path) -> Driver:
    """Before the second reading of a distance whose first was 80 in."""
    driver = Driver(tmp_path, foretell=foretell_with(library()))
    driver.run(*BEGUN, "/go long-diagonals", READ)
    assert driver.at == D1
    driver.run("80", "80")
    assert driver.at == D1
    return driver


@pytest.mark.parametrize("third", ["80 1/16", "81"])
def test_a_third_reading_stands_beside_the_two_that_contradict(tmp_path: Path, third: str) -> None:
    """Also where it is the second's figure once more: then the first was the slip."""
    driver = _at_the_second(tmp_path)
    reply = driver.say("81")
    assert reply.kind == "doubted"
    assert says(reply.says, "You read 80 before and 81 now … Either of the two … it decides")
    reply = driver.say(third)
    assert reply.kind == "taken"
    wrong = "80" if third == "81" else "81"
    assert f"Two of the three agree, so {wrong} does not count." in reply.says
    assert [r.typed for r in driver.saved.readings_of(D1)] == ["80", "81", third]
    case = Case(driver.saved, library())
    assert case.slips[D1].typed == ("80" if third == "81" else "81")
    taken = case.taken(D1)
    assert taken is not None
    assert len(taken.rows) == 2
    assert len(case.by_prompt[D1]) == 3


def test_an_empty_line_keeps_the_two_and_neither_is_left_out(tmp_path: Path) -> None:
    driver = _at_the_second(tmp_path)
    driver.say("81")
    assert driver.say("").kind == "taken"
    assert [r.typed for r in driver.saved.readings_of(D1)] == ["80", "81"]
    assert Case(driver.saved, library()).slips == {}


def test_a_third_that_cannot_be_read_is_refused_and_the_two_still_wait(tmp_path: Path) -> None:
    driver = _at_the_second(tmp_path)
    driver.say("81")
    assert driver.say("eighty").kind == "refused"
    assert [r.typed for r in driver.saved.readings_of(D1)] == ["80"]
    assert driver.say("80").kind == "taken"
    assert [r.typed for r in driver.saved.readings_of(D1)] == ["80", "81", "80"]


def test_three_that_only_scatter_all_count(tmp_path: Path) -> None:
    driver = _at_the_second(tmp_path)
    driver.say("80 1/4")
    assert "All three stay" in driver.say("80 1/8").says
    case = Case(driver.saved, library())
    assert case.slips == {}
    taken = case.taken(D1)
    assert taken is not None
    assert len(taken.rows) == 3


# Measured again, one after another ----------------------------------------------------------------

SIDES = ("own-sides/whole/front-left--rear-left", "own-sides/whole/front-right--rear-right")
WHOLE = {FRONT: ["24 3/8"], REAR: ["33 7/8"], **{side: ["86"] for side in SIDES}, D1: ["90 3/4"]}
"""Enough to contradict the other diagonal, and too little to say which of the six is wrong."""


def _at_the_other_diagonal(tmp_path: Path) -> Driver:
    driver = Driver(tmp_path, foretell=foretell_with(library()))
    driver.run(*BEGUN, "/go widths", READ)
    driver.sitting.survey = _kept(driver.survey, *((p, t) for p, (t,) in WHOLE.items()))
    driver.run("/go right front to left rear", READ)
    assert driver.at == D2
    return driver


def test_what_one_of_several_contradicts_is_asked_again_in_one_go(tmp_path: Path) -> None:
    driver = _at_the_other_diagonal(tmp_path)
    doubted = driver.say("91 3/4")
    assert says(doubted.says, "5 measurements before it disagree … /again … once more, Enter")
    assert says(driver.say("/again").says, "Each of 6 measurements … this one first … back")
    asked = [driver.sitting.target.prompt.id] if driver.sitting.target else []
    for typed in ("91 3/4", "90 3/4", "86", "86", "24 3/8", "33 7/8"):
        driver.run(READ, typed)
        asked += [driver.sitting.target.prompt.id] if driver.sitting.target else []
    assert set(asked[:6]) == {D2, *WHOLE}
    assert [r.typed for r in driver.survey.readings_of(D2)] == ["91 3/4", "91 3/4"]
    assert all(len(driver.survey.readings_of(prompt)) == 2 for prompt in WHOLE)


def test_what_the_answer_doubts_is_asked_again_and_then_he_is_back(tmp_path: Path) -> None:
    driver = _at_the_other_diagonal(tmp_path)
    driver.run("91 3/4!", "/go level", READ)
    here = driver.at
    driver.run("/again", READ)
    assert driver.at in {D2, *WHOLE}
    while driver.sitting.away:
        driver.run(READ, *(r.typed for r in driver.survey.readings_of(PromptId(driver.at))[:1]))
    assert driver.at == here


def test_where_nothing_is_in_doubt_nothing_is_asked_again(tmp_path: Path) -> None:
    driver = Driver(tmp_path, foretell=foretell_with(library())).run(*BEGUN)
    before = driver.at
    assert driver.say("/again").kind == "refused"
    assert driver.at == before


def test_seven_inches_of_hood_gap_are_doubted_at_once() -> None:
    told = others(survey_of({}), "panel-gaps/left/top", "7")
    assert says(told, "That is 7 in, but on any car it is at most … in here")
    assert not others(survey_of({}), "panel-gaps/left/top", "3/16")


def test_once_one_is_proven_wrong_the_others_are_not_asked(tmp_path: Path) -> None:
    driver = _at_the_other_diagonal(tmp_path)
    driver.say("91 3/4")
    driver.run("/again", READ)
    assert "Either of the two" in driver.say("90 3/4").says
    reply = driver.say("90 3/4")
    assert says(reply.says, "91 3/4 does not count. The others need not be measured again.")
    assert all(len(driver.survey.readings_of(prompt)) == 1 for prompt in WHOLE)
    assert driver.sitting.away == []


@pytest.mark.parametrize(
    ("typed", "told"),
    [("17 1/2 left", "Few levels have so many lines … cards"), ("8 left", ""), ("1.5 mm left", "")],
)
def test_more_lines_than_a_level_has_are_doubted(typed: str, told: str) -> None:
    said = others(survey_of({}), "level/rear/as-set", typed)
    assert says(said, told) if told else said == ""


LAID = {
    "level/horns/as-set": "1 1/2 left",
    "level/horns/turned": "1/2 right",
    "level/front-crossmember/as-set": "1 1/2 left",
    "level/front-crossmember/turned": "1/2 right",
}
"""A level that reads one line off, on a frame that leans half a line."""
WRONG, OTHER = "level/center/as-set", "level/center/turned"


def _turned_at_the_center(tmp_path: Path) -> Driver:
    """Before the level is turned at the third place, where it was read on the wrong side as set."""
    driver = Driver(tmp_path, foretell=foretell_with(library()))
    driver.run(*BEGUN, "/go level", READ)
    driver.sitting.survey = _kept(driver.survey, *LAID.items())
    driver.sitting.stand_before(PromptId(WRONG))
    driver.run(READ, "1 1/2 right")
    assert driver.at == OTHER
    return driver


@pytest.mark.parametrize("again", [["", "1 1/2 left"], ["/again", "1/2 right", "1 1/2 left"]])
def test_of_a_level_turned_around_the_other_reading_is_asked_again_once_this_one_is_kept(
    tmp_path: Path, again: list[str]
) -> None:
    """It was kept, and beside it stood the one that was read on the wrong side."""
    driver = _turned_at_the_center(tmp_path)
    doubted = driver.say("1/2 right")
    assert doubted.kind == "doubted"
    assert says(doubted.says, "Either of the two … Enter keeps it … the other one once more")
    for line in again:
        driver.run(line)
    assert [r.typed for r in driver.survey.readings_of(PromptId(WRONG))] == ["1 1/2 left"]
    assert [r.typed for r in driver.survey.readings_of(PromptId(OTHER))] == ["1/2 right"]
    assert driver.at not in (WRONG, OTHER)


def test_of_two_places_both_are_asked_again_for_the_first_may_be_the_wrong_one(
    tmp_path: Path,
) -> None:
    driver = Driver(tmp_path, foretell=foretell_with(library()))
    driver.run(*BEGUN, "/go level", READ)
    right = {id: "2 left" if id.endswith("as-set") else "1 right" for id in LAID}
    laid = {**right, "level/horns/turned": "1 left"}  # the wrong side
    del laid["level/front-crossmember/turned"]
    driver.sitting.survey = _kept(driver.survey, *laid.items())
    driver.sitting.stand_before(PromptId("level/front-crossmember/turned"))
    driver.run(READ)
    assert driver.say("1 right").kind == "doubted"
    assert says(driver.say("").says, "Now read the other 3 once more.")
    driver.run("2 left", "2 left", "1 right")
    read = {id: [r.typed for r in driver.survey.readings_of(PromptId(id))] for id in LAID}
    assert read == {id: [typed] for id, typed in right.items()}
    assert driver.at not in LAID
