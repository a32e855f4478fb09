"""The verdict in plain words, section by section; what would settle what is open."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import (
    DAY,
    add,
    bent,
    level_on,
    library,
    survey_of,
    with_limit,
    with_looks,
)
from tests.telling.saying import tells
from wizard.judgment.next import Advice
from wizard.judgment.sight import verdict_of
from wizard.survey.record import Survey
from wizard.survey.rows import Look, Reading, Skip
from wizard.telling.answer_words import headline_of
from wizard.telling.tell import verdict_page
from wizard.telling.text import wrap
from wizard.telling.to_do import LACKING, WHAT_TO_DO
from wizard.telling.verdict_words import advice_words, sections

ACTIONS = {"stop", "specialist", "put-right", "axle-first", "watch", "leave", "open", "not-enough"}


def told(survey: Survey) -> dict[str, tuple[str, ...]]:
    verdict = verdict_of(survey, library(), DAY)
    return {s.heading: s.lines for s in sections(verdict, survey, library())}


def flat(survey: Survey, heading: str) -> str:
    return " ".join(told(survey).get(heading, ()))


def test_every_action_says_what_to_do() -> None:
    assert set(WHAT_TO_DO) == ACTIONS
    assert all(text.endswith(".") for text in WHAT_TO_DO.values())


def test_no_instruction_for_pulling_heating_or_welding() -> None:
    for action, text in WHAT_TO_DO.items():
        if action != "put-right":
            assert not any(word in text for word in ("pull", "heat", "weld"))
    assert "gives no instruction for pulling, heating or welding" in WHAT_TO_DO["put-right"]


def test_an_empty_survey_says_what_is_missing_for_a_whole_picture() -> None:
    lines = flat(survey_of({}), "What to do")
    assert all(words in lines for words in LACKING.values())
    assert "The strongest reasons" not in told(survey_of({}))


@pytest.mark.parametrize(
    ("prompt", "where"),
    [
        ("rail-tops/left", "The tops of the rails, left"),
        ("horn-welds/right", "The metal of the horns, right"),
    ],
)
def test_what_stops_names_the_place_the_side_and_how_well_it_was_seen(
    prompt: str, where: str
) -> None:
    survey = survey_of({}).with_row(Look(id="k1", prompt=prompt, seen="painted", answer="crack"))
    (line,) = told(survey)["What was seen that decides"]
    assert line.startswith(f"{where}: a crack")
    assert line.endswith("(the place was painted).")
    tells(
        verdict_page(survey, library(), DAY).partition(".")[0],
        "Crack in the ",
        prompt.split("/")[1],
    )


def test_reasons_name_their_limit_and_its_source_once_stopped() -> None:
    survey = with_limit(bent(), "sag-unloaded", "put-right", "1/2", "The maker's sheet, page 4.")
    assert "(Limit: The maker's sheet, page 4.)" in flat(survey, "The strongest reasons")
    assert ".." not in flat(survey, "The strongest reasons")


def test_what_is_open_says_between_what_and_how_to_go_on() -> None:
    lines = told(bent())["What cannot be told yet"]
    assert all("not known yet" in line.lower() for line in lines)
    bases = {"wheelbase/left": ["2615 mm"], "wheelbase/right": ["2620 mm"]}
    assert "Next, " in flat(survey_of(bases), "What cannot be told yet")


def test_a_frame_that_moved_while_it_was_read_is_said() -> None:
    moved = bent()
    for row in moved.standing(Reading):
        if row.prompt.startswith("level/horns/again-"):
            moved = moved.with_replaced(replace(row, typed="0"))
    assert "the frame moved. Read again." not in flat(bent(), "Do the readings agree?")
    assert "the frame moved. Read again." in flat(moved, "Do the readings agree?")


def test_a_closure_that_is_out_is_said_and_one_that_is_not_is_not() -> None:
    survey = bent()
    assert "the six measurements disagree" not in flat(survey, "Do the readings agree?")
    row = next(
        r for r in survey.rows["reading"] if r.prompt == "own-sides/whole/front-left--rear-left"
    )  # type: ignore[attr-defined]
    wrong = survey.with_replaced(replace(row, typed="2310 mm"))  # type: ignore[call-arg]
    assert "Whole frame: the six measurements disagree" in flat(wrong, "Do the readings agree?")


def test_what_it_moves_elsewhere_is_worth_a_look() -> None:
    lines = flat(bent(), "Worth a look because of it")
    for words in ("hood first", "caster", "bumper irons"):
        assert words in lines


@pytest.mark.parametrize(
    ("state", "there"),
    [
        ({}, False),
        ({"engine": "in"}, True),
        ({"body": "bolted"}, True),
        ({"supports": "stands-under-axles"}, True),
        ({"supports": "wheels"}, True),
    ],
)
def test_a_twist_is_not_to_be_believed_but_of_the_bare_frame_on_three_points(
    state: dict[str, str], there: bool
) -> None:
    said = "Do not believe that twist yet:" in flat(
        level_on(bent(), **state), "Worth a look because of it"
    )
    assert said is there


DIAGONALS = {
    "long-diagonals/whole/front-left--rear-right": ["91 3/8", "91 3/8"],
    "long-diagonals/whole/front-right--rear-left": ["91", "91"],
}


def test_the_axles_are_not_asked_for_once_they_were_taped() -> None:
    """A rail moved along its twin leaves the wheelbases equal (content/model.toml): each axle to
    its own rail tells.
    """
    asked = "Tape each axle against a rivet of its own rail."
    assert asked in flat(survey_of(DIAGONALS), "Worth a look because of it")
    taped = DIAGONALS | {"wheelbase/front-axle-left": ["8"], "wheelbase/front-axle-right": ["8"]}
    assert asked not in flat(survey_of(taped), "Worth a look because of it")
    assert asked not in flat(bent(), "Worth a look because of it")


CROSSES = ("horns/horns/tip-left--front-right", "horns/horns/tip-right--front-left")
SQUARE = {
    "front-box-bar/front-right--center-left": ["0", "0", "0"],
    "own-sides/front-box/front-left--center-left": ["40", "40"],
    "own-sides/front-box/front-right--center-right": ["40", "40"],
}
"""The box behind the horns: square by the bar, its rails equally long."""


@pytest.mark.parametrize(("longer", "said"), [("40 1/16", False), ("43", True)])
def test_a_horn_that_may_be_left_alone_knocks_nothing_on(longer: str, said: bool) -> None:
    survey = survey_of({CROSSES[0]: [longer, longer], CROSSES[1]: ["40", "40"]} | SQUARE)
    verdict = verdict_of(survey, library(), DAY)
    horn = next(j for j in verdict.judged if j.finding.quantity == "horn")
    assert (horn.established != "leave") is said
    assert horn.worst != "leave"
    assert ("bumper irons" in flat(survey, "Worth a look because of it")) is said


SAG = {"string-set-up/block": ["2"], "string-set-up/span": ["85 7/8"]}


@pytest.mark.parametrize(
    ("gap", "times", "leave"),
    [("2 1/8", 1, True), ("2 3/16", 6, True), ("2 5/16", 6, False), ("2 3/4", 1, False)],
)
def test_an_old_sag_is_left_only_while_it_is_small(gap: str, times: int, leave: bool) -> None:
    survey = survey_of(SAG | {"sag-unloaded/engine-mount/left": [gap] * times})
    assert ("leave it" in flat(survey, "Worth a look because of it")) is leave


def test_one_small_sag_does_not_hide_a_large_one() -> None:
    survey = survey_of(
        SAG
        | {
            "sag-unloaded/engine-mount/left": ["2 3/4"],
            "sag-unloaded/engine-mount/right": ["2 1/8"],
        }
    )
    assert "leave it" not in flat(survey, "Worth a look because of it")
    assert "hood first" in flat(survey, "Worth a look because of it")


def test_a_true_frame_has_nothing_to_look_at_because_of_it() -> None:
    survey = add(survey_of(SAG), "sag-unloaded/center/left", "2")
    assert "Worth a look because of it" not in told(survey)


def test_what_was_not_seen_is_listed_with_the_persons_own_reason() -> None:
    survey = with_looks(survey_of({}), share=0)
    for side in ("left", "right"):
        survey = survey.with_row(
            Skip(id=survey.new_id(Skip), prompt=f"rail-tops/{side}", why="webbing glued down.")
        )
    assert (
        "The tops of the rails: webbing glued down."
        in told(survey)["What was not seen or not measured"]
    )


def test_every_verdict_ends_by_saying_what_it_does_not_say() -> None:
    for survey in (survey_of({}), bent()):
        assert list(told(survey))[-1] == "What this does not say"


def test_the_headline_of_leave_says_that_nothing_is_to_be_put_right() -> None:
    from tests.judgment.test_verdict import sound

    survey = sound()
    said = headline_of(verdict_of(survey, library(), DAY), survey, library())
    tells(said, "Nothing to put right", "again in half a year")


def test_wrapping_keeps_a_hanging_indent_and_never_loses_a_line() -> None:
    assert wrap("", 20) == [""]
    lines = wrap("one two three four five six", 12, "- ", "  ")
    assert lines[0].startswith("- ")
    assert all(line.startswith("  ") for line in lines[1:])
    assert max(map(len, lines)) <= 12


def advised(
    kind: str, times: int = 1, now: float = 1.0, then: float = 0.5, settles: bool = True
) -> str:
    return advice_words(
        Advice("f", kind, "p", "left front to right rear", times, now, then, settles), "mm", "in"
    )


READ_ON = ("read left front to right rear", "what it is compared with")


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        (advised("at-limit"), ("right at the limit", "more readings will hardly")),
        (advised("measure"), ("tape this one too", "left front to right rear", "from 3/32 in to 1/32 in", "probably enough to tell")),
        (advised("repeat", settles=False), (*READ_ON, "once more", "from 3/32 in to 1/32 in")),
        (advised("repeat", 8, now=0.4, then=0.39), (*READ_ON, "8 times more", "enough to tell")),
        (advised("repeat", 2, now=0.4, then=0.39, settles=False), (*READ_ON, "twice more", "help a little")),
        (advised("tool"), ("More repeats will not help", "left front to right rear", "finer tool")),
        (advised("points"), ("More repeats will not help", "left front to right rear", "second set of holes")),
    ],
)  # fmt: skip
def test_the_advice(text: str, parts: tuple[str, ...]) -> None:
    tells(text, *parts)


def test_only_what_would_settle_it_is_said_to_be_enough() -> None:
    assert "enough" not in advised("repeat", settles=False)
    assert "doubt would go" not in advised("repeat", 2, now=0.4, then=0.39, settles=False)
