"""Places where frames crack: what must have been seen before true numbers may call a frame sound."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import DAY, library
from tests.judgment.test_seen import gap
from tests.judgment.test_verdict import sound, verdict
from tests.judgment.test_voices import looked
from wizard.judgment.seen import looks_of
from wizard.judgment.unseen import unseen
from wizard.survey.guide import LENGTH_PROMPT, STEPS_PROMPT
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Look

BARE = ["front-crossmember-cracks", "front-crossmember-rivets"]
REACHED = [
    *("rear-springs", "rear-crossmember", "rail-sides"),
    *("engine-mounts", "steering-mount", "front-springs"),
]


@pytest.mark.parametrize("step", [*BARE, *REACHED])
@pytest.mark.parametrize(
    ("seen", "answer"), [("not-reached", ""), ("bare", "not-sure"), ("dirty", "nothing-found")]
)
@pytest.mark.parametrize("side", ["left", "right"])
def test_not_reached_or_not_sure_keeps_it_open(
    step: str, seen: str, answer: str, side: str
) -> None:
    result = verdict(looked(f"{step}/{side}", answer, seen))
    assert (result.action, result.held, result.lacking) == ("open", "unseen", ())
    assert [(u.step, u.sides, u.bare) for u in result.unseen] == [(step, (side,), step in BARE)]


@pytest.mark.parametrize(("steps", "action"), [(BARE, "open"), (REACHED, "leave")])
def test_paint_hides_a_crack_and_not_a_dent(steps: list[str], action: str) -> None:
    for step in steps:
        assert verdict(looked(f"{step}/right", "nothing-found", "painted")).action == action, step


@pytest.mark.parametrize("step", ["rail-tops", "extra-holes", "inside-channel", "horn-welds"])
def test_other_places_do_not_hold_it(step: str) -> None:
    assert verdict(looked(f"{step}/left", "", "not-reached")).action == "leave"


def test_a_place_never_asked_about_is_not_seen_either() -> None:
    survey = sound()
    row = next(k for k in survey.standing(Look) if k.prompt == "engine-mounts/left")
    assert [u.step for u in verdict(survey.with_struck(row.id, "wrong car")).unseen] == [
        "engine-mounts"
    ]


def test_graver_numbers_are_acted_on_all_the_same() -> None:
    survey = looked(
        "rail-sides/left", "", "not-reached", sound(sag_unloaded__engine_mount__left=["2 1/2"])
    )
    assert (verdict(survey).action, verdict(survey).held) == ("specialist", "")


def test_a_welded_frame_is_asked_for_its_welds_and_not_for_rivets() -> None:
    survey = replace(sound(), layout="boxed-perimeter")
    steps = [u.step for u in unseen(survey, (), library(), DAY)]
    assert steps == ["joint-welds", "front-crossmember-cracks", *REACHED]


def recheck(*entries: str) -> Survey:
    """Nothing seen, in a re-check that asks for these."""
    survey = replace(Survey(id="again", started=DAY), follows="first")
    for prompt, said in ((LENGTH_PROMPT, "recheck"), (STEPS_PROMPT, " ".join(entries))):
        survey = survey.with_row(Answer(id=survey.new_id(Answer), prompt=prompt, answer=said))
    return survey


def test_a_re_check_is_held_by_what_its_own_list_asks_and_by_nothing_else() -> None:
    def steps(survey: Survey) -> list[tuple[str, tuple[str, ...]]]:
        return [
            (u.step, u.sides) for u in unseen(survey, looks_of(survey, library()), library(), DAY)
        ]

    assert steps(recheck("level", "paint-cracks")) == []
    assert steps(recheck("level", "rail-sides")) == [("rail-sides", ("left", "right"))]
    assert steps(recheck("level", "front-crossmember-rivets/left")) == [
        ("front-crossmember-rivets", ("left",))
    ]
    # Twin: the same list in a survey that follows none is no re-check, and every place counts.
    assert len(steps(replace(recheck("level"), follows=""))) == len([*BARE, *REACHED])


@pytest.mark.parametrize(
    ("step", "seen", "answer", "why"),
    [
        ("front-crossmember-cracks", "painted", "nothing-found", "seen only under paint"),
        ("rail-sides", "painted", "nothing-found", "seen only under paint"),
        ("rail-sides", "painted", "ripple", None),
        ("rail-sides", "bare", "not-sure", "not sure"),
        ("front-crossmember-cracks", "bare", "not-sure", "not sure"),
        ("front-crossmember-cracks", "bare", "nothing-found", None),
    ],
)
def test_it_is_listed_among_what_was_not_seen(
    step: str, seen: str, answer: str, why: str | None
) -> None:
    both = looked(f"{step}/left", answer, seen, looked(f"{step}/right", answer, seen))
    found = gap(both, step)
    assert (found.why if found else None) == why


def test_a_look_that_the_short_list_asks_again_stays_open_until_somebody_looked() -> None:
    """It is on the list because of what was seen last time: silence about it is no all-clear."""
    asked = recheck("level", "inside-channel/left")
    assert [
        (u.step, u.sides) for u in unseen(asked, looks_of(asked, library()), library(), DAY)
    ] == [("inside-channel", ("left",))]
    seen = asked.with_row(
        Look(id="k1", prompt="inside-channel/left", seen="bare", answer="nothing-found")
    )
    assert unseen(seen, looks_of(seen, library()), library(), DAY) == ()
