"""The survey as a value: ids that are never used again, rows struck and never lost."""

import random
from dataclasses import FrozenInstanceError, replace
from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.survey.asking import LOOK, TAPED, taken
from wizard.survey.record import Survey, number_of
from wizard.survey.rows import (
    PREFIX,
    SECOND,
    TABLES,
    Answer,
    Fold,
    Look,
    Reading,
    Remark,
    Row,
    Skip,
    State,
)

pytestmark = pytest.mark.quick


def _with(*ids: str) -> Survey:
    survey = Survey()
    for id in ids:
        survey = survey.with_row(Reading(id=id))
    return survey


@pytest.mark.parametrize(
    ("id", "number"),
    [
        ("r17", 17),
        ("tape-1", 1),
        ("r0", 0),
        ("s007", 7),
        ("17", 0),
        ("", 0),
        ("r", 0),
        ("r17b", 0),
        ("R17", 0),
    ],
)
def test_the_counting_part_of_an_id(id: str, number: int) -> None:
    assert number_of(id) == number


def test_every_table_has_a_letter_of_its_own() -> None:
    assert PREFIX.keys() == TABLES.keys()
    assert len(set(PREFIX.values())) == len(PREFIX)


def test_a_new_id_counts_over_all_tables() -> None:
    survey = _with("r17").with_row(Remark(id="m40"))
    assert survey.new_id(Reading) == "r41"
    assert survey.new_id(State) == "s41"


def test_the_id_of_a_struck_row_is_not_used_again() -> None:
    struck = taken(Survey(), TAPED, "91", "92").with_struck("r2", "slip")
    assert [r.id for r in struck.standing(Reading)] == ["r1"]
    assert struck.new_id(Reading) == "r3"


@pytest.mark.parametrize("last", ["r999999999", "r" + "9" * 18, "r" + "9" * 19, "r" + "9" * 400])
def test_an_edited_id_of_many_nines_cannot_make_two_rows_of_one_id(last: str) -> None:
    survey = _with(last)
    for _ in range(3):
        survey = survey.with_row(Reading(id=survey.new_id(Reading)))
    assert len({r.id for r in survey.all_rows()}) == 4


@given(st.lists(st.from_regex(r"[a-z-]{0,14}[0-9]{0,11}", fullmatch=True), max_size=8))
def test_a_new_id_is_new_whatever_the_file_held(ids: list[str]) -> None:
    survey = _with(*ids)
    for kind in TABLES.values():
        assert survey.new_id(kind) not in ids


def test_struck_rows_stay_with_their_reason() -> None:
    survey = taken(Survey(), TAPED, "91").with_struck("r1", "hook caught")
    assert [(r.typed, r.struck) for r in survey.table(Reading)] == [("91", "hook caught")]
    assert survey.readings_of(TAPED.id) == ()


def test_striking_twice_or_what_is_not_there_changes_nothing() -> None:
    once = taken(Survey(), TAPED, "91").with_struck("r1", "first reason")
    assert once.with_struck("r1", "second reason") == once
    assert once.with_struck("r99", "no such row") == once


def test_a_row_struck_without_a_reason_is_struck_all_the_same() -> None:
    assert taken(Survey(), TAPED, "91").with_struck("r1", "").standing(Reading) == ()


def test_nothing_in_a_survey_can_be_changed_in_place() -> None:
    before = taken(Survey(), TAPED, "91")
    row = before.table(Reading)[0]
    with pytest.raises(FrozenInstanceError):
        row.typed = "19"  # type: ignore[misc]
    with pytest.raises(FrozenInstanceError):
        before.unit = "mm"  # type: ignore[misc]
    after = before.with_row(replace(row, id="r2"))
    assert (len(before.table(Reading)), len(after.table(Reading))) == (1, 2)


def test_what_is_current_before_anything_is_set_down() -> None:
    empty = Survey()
    assert (empty.state().id, empty.state_of("s9").id, empty.tool("tape"), empty.last_number()) == (
        "",
        "",
        None,
        0,
    )
    assert (empty.answer_to("x"), empty.skipped("x")) == ("", "")


def test_a_look_gives_one_row_for_each_thing_seen() -> None:
    survey = taken(Survey(), LOOK, "b lc")
    assert [(k.seen, k.answer) for k in survey.looks_at(LOOK.id)] == [
        ("bare", "light-pitting"),
        ("bare", "crack"),
    ]


def _told(told: tuple[str, ...], row: Row) -> tuple[str, ...]:
    return (*told, f"{row.id} {row.struck}")


def _looked_up(survey: Survey) -> dict[str, object]:
    """All that a survey looks up among its rows and keeps."""
    prompts = ("a/x", "a/y", "b/z")
    return {
        "standing": {kind: survey.standing(kind) for kind in TABLES.values()},
        "readings": [survey.readings_of(p) for p in prompts],
        "read": list(survey.read().items()),
        "looks": [survey.looks_at(p) for p in prompts],
        "by prompt": survey.by_prompt(),
        "order": survey.in_order(),
        "last": survey.last_number(),
        "keeping": survey.numbers_keeping(("state.engine", "state.body")),
        "states": [survey.state_of(f"s{n}") for n in range(40)],
        "in turn": survey.in_turn((), _told),
        "not needed": [survey.folded(p) for p in prompts],
    }


def _another(draw: random.Random, survey: Survey, at: datetime) -> Row:
    """A row of any kind that an answer may bring, mostly with a new id."""
    kind = draw.choice([Reading, Reading, Look, Answer, Skip, State, Remark, Fold])
    prompt = draw.choice(["a/x", "a/y", "b/z"])
    id = survey.new_id(kind) if draw.random() < 0.9 else f"odd{draw.randint(0, 10**6)}"
    given = {
        Reading: {"prompt": prompt, "by": draw.choice(["", SECOND])},
        Look: {"prompt": prompt, "answer": "crack"},
        Answer: {"prompt": prompt, "answer": str(draw.random()), "keeps": draw.choice(KEEPS)},
        Skip: {"prompt": prompt, "why": "alone"},
        State: {"engine": draw.choice(["in", "out"])},
        Remark: {"prompt": prompt, "text": "rust"},
        Fold: {"prompts": prompt, "readings": _some(draw, survey), "why": "no more"},
    }[kind]
    struck = "a slip" if draw.random() < 0.1 else ""
    return kind(id=id, at=at, struck=struck, **given)


def _some(draw: random.Random, survey: Survey) -> str:
    read = [r.id for r in survey.table(Reading)]
    return " ".join(draw.sample(read, min(len(read), 2)))


KEEPS = ("", "state.engine", "state.fuel")


@pytest.mark.parametrize("seed", range(6))
def test_what_was_looked_up_before_a_row_came_is_what_would_be_found_behind_it(seed: int) -> None:
    draw, survey, at = random.Random(seed), Survey(), datetime(2026, 4, 11, 9)
    pauses = set()
    for _ in range(120):
        at += timedelta(minutes=draw.choice([0, 1, 1, 5, 119, 120, 300, -1]))
        _looked_up(survey)
        every = list(survey.all_rows())
        if every and draw.random() < 0.25:
            row = draw.choice(every)
            again = replace(row, struck=draw.choice(["", "misread"]))
            again = again if draw.random() < 0.8 else replace(again, at=at)
            survey = survey.with_replaced(again)
        else:
            survey = survey.with_row(_another(draw, survey, at))
        assert _looked_up(survey) == _looked_up(Survey(rows=survey.rows))
        pauses.add(survey.in_order().paused)
    assert len(pauses) > 5
