"""One pure function from a survey and a typed text to the next survey, a refusal or a doubt."""

from dataclasses import replace
from datetime import datetime

import pytest

from tests.survey.asking import (
    ACK,
    ALL,
    AT,
    BUBBLE,
    CHOICE,
    GAP,
    LOOK,
    NOTE,
    TAPED,
    one_sentence,
    prompt_of,
    refused,
    reply,
    taken,
)
from wizard.library.kinds import ACK_WORD, pick
from wizard.library.shapes import Library
from wizard.survey.answer import Doubted, Refusal, answer, example
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Ack, Answer, Doubt, Look, Reading, Skip

pytestmark = pytest.mark.quick

HOSTILE = [
    "25 9/8",
    "25 7/0",
    "nan",
    "1e9",
    "3 m 2 in",
    "",
    "   ",
    "x" * 10_000,
    "9" * 10_000,
    "\x1b[2J",
    "\u202e7/0",
    "!",
]


# Refusals -----------------------------------------------------------------------------------------
# ------------


@pytest.mark.parametrize("prompt", [p for p in ALL if not p.kind.tells], ids=lambda p: p.kind.id)
@pytest.mark.parametrize("text", HOSTILE, ids=lambda t: repr(t[:12]))
def test_what_cannot_be_taken_gives_one_clear_sentence(prompt: Prompt, text: str) -> None:
    says = refused(Survey(), prompt, text)
    assert one_sentence(says), says


@pytest.mark.parametrize("text", ["", "   ", "\x00\x1b", "x" * 501, "x" * 30_000])
def test_a_note_refuses_only_nothing_and_too_much(text: str) -> None:
    assert one_sentence(refused(Survey(), NOTE, text))


def test_every_prompt_of_the_content_refuses_in_one_clear_sentence(library: Library) -> None:
    for step in library.steps.values():
        for id in {p.id for p in _expanded(library, step.id)}:
            prompt = prompt_of(library, id)
            for text in ("", "\x1b]0;x\x07", "zz zz"):
                for unit in ("in", "mm"):
                    result = reply(replace(Survey(), unit=unit), prompt, text)  # type: ignore[arg-type]
                    if not prompt.kind.tells:
                        assert isinstance(result, Refusal)
                    if isinstance(result, Refusal):
                        assert one_sentence(result.says), (id, result.says)


def _expanded(library: Library, step: str) -> tuple[Prompt, ...]:
    from wizard.survey.prompts import expand

    return expand(library.steps[step], library.layouts["straight-ladder"], library.tools)


@pytest.mark.parametrize(
    ("prompt", "like", "unit"),
    [
        (TAPED, "25 7/8", "in"),
        (TAPED, "657 mm", "in"),
        (TAPED, "657", "mm"),
        (TAPED, "25 7/8 in", "mm"),
        (GAP, "1/8 past", "in"),
        (GAP, "3 short", "mm"),
        (GAP, "0", "in"),
        (BUBBLE, "1/2 left", "in"),
        (BUBBLE, "2 right", "mm"),
        (BUBBLE, "0", "in"),
        (LOOK, "b o", "in"),
        (ACK, ACK_WORD, "in"),
        (CHOICE, "i", "in"),
        (NOTE, "-", "in"),
    ],
)
def test_the_example_that_is_given_would_be_taken(prompt: Prompt, like: str, unit: str) -> None:
    survey = replace(Survey(), unit=unit)  # type: ignore[arg-type]
    assert like.split()[0] in example(prompt, survey.unit)
    assert isinstance(reply(survey, prompt, like), Survey)


# Purity -------------------------------------------------------------------------------------------
# ------------


@pytest.mark.parametrize("prompt", ALL, ids=lambda p: p.kind.id)
@pytest.mark.parametrize("text", ["91 1/8", "b o", "in", ACK_WORD, "-", "1/8 past", "2 left"])
def test_the_same_answer_to_the_same_survey_gives_the_same_and_changes_nothing(
    prompt: Prompt, text: str
) -> None:
    survey = taken(taken(Survey(), CHOICE, "in"), TAPED, "91")
    copy = replace(survey, rows=dict(survey.rows))
    first, second = reply(survey, prompt, text), reply(survey, prompt, text)
    assert first == second
    assert survey == copy


def test_a_row_says_who_when_and_in_what_state() -> None:
    at = datetime(2026, 4, 11, 9, 3, 7, 123456)
    survey = taken(Survey(), CHOICE, "in")
    result = answer(survey, TAPED, "91 1/8", at=at, by="mentor", tool="tape-9")
    assert isinstance(result, Survey)
    row = result.standing(Reading)[0]
    assert (row.at, row.by, row.tool) == (datetime(2026, 4, 11, 9, 3, 7), "mentor", "tape-9")
    assert result.state_of(row.state).engine == "in"


@pytest.mark.parametrize("text", ["25 7/8", "25⅞", "25-7/8 in", "6' 2\"", "657,5 mm"])
def test_a_reading_is_kept_as_typed(text: str) -> None:
    assert taken(Survey(), TAPED, f"  {text} ").standing(Reading)[0].typed == text


# Doubts -------------------------------------------------------------------------------------------
# ------------


def _doubting(survey: Survey, prompt: Prompt, typed: str) -> str:
    return "That is 1 in off its twin: did the tape start at its 1 in mark?"


def test_a_doubt_keeps_nothing_until_it_is_kept() -> None:
    result = reply(Survey(), TAPED, "92", foretell=_doubting)
    assert isinstance(result, Doubted)
    assert [d.kept for d in result.kept.standing(Doubt)] == ["asked"]
    assert result.kept.standing(Doubt)[0].reading == result.kept.standing(Reading)[0].id


@pytest.mark.parametrize("text", ["92!", "92 !", "92!!", "92 in !"])
def test_a_mark_behind_the_value_keeps_it_in_advance(text: str) -> None:
    result = reply(Survey(), TAPED, text, foretell=_doubting)
    assert isinstance(result, Survey)
    assert [d.kept for d in result.standing(Doubt)] == ["in-advance"]
    assert "!" not in result.standing(Reading)[0].typed


def test_a_mark_where_nothing_is_doubted_leaves_no_doubt() -> None:
    result = reply(Survey(), TAPED, "92!", foretell=lambda *_: "")
    assert isinstance(result, Survey)
    assert result.table(Doubt) == ()


def test_a_mark_does_not_make_an_unreadable_value_readable() -> None:
    assert isinstance(reply(Survey(), TAPED, "ninety!", foretell=_doubting), Refusal)


# Choices and notes
# --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("text", ["w", "W", "weight-off", "Weight off"])
def test_a_choice_by_letter_token_or_words(text: str) -> None:
    assert taken(Survey(), CHOICE, text).answer_to(CHOICE.id) == "weight-off"


@pytest.mark.parametrize("text", ["x", "iw", "-", "weight", "i w"])
def test_a_choice_that_is_not_offered(text: str) -> None:
    assert "is not an answer here" in refused(Survey(), CHOICE, text)


def test_the_last_choice_is_the_current_one() -> None:
    survey = taken(Survey(), CHOICE, "i", "o")
    assert survey.answer_to(CHOICE.id) == "out"
    assert [a.answer for a in survey.standing(Answer)] == ["in", "out"]


@pytest.mark.parametrize("text", ["...", "-", "!?"])
def test_a_car_without_a_letter_has_no_name(library: Library, text: str) -> None:
    refused(Survey(), prompt_of(library, "about-the-car/car"), text)


@pytest.mark.parametrize("text", ["-", "n", "No.", "none", "NOTHING"])
def test_nothing_to_remark_is_no_remark(library: Library, text: str) -> None:
    remark = prompt_of(library, "finish/remark")
    assert taken(Survey(), remark, text).answer_to(remark.id) == "-"


def test_one_letter_is_a_slip_of_the_next_question(library: Library) -> None:
    remark = prompt_of(library, "finish/remark")
    assert "One letter says too little" in refused(Survey(), remark, "g")
    assert taken(Survey(), remark, "nut gone").answer_to(remark.id) == "nut gone"


def test_a_note_loses_what_could_drive_a_terminal() -> None:
    note = taken(Survey(), NOTE, "left\x1b[31m rivet\u202e \x07worn").answer_to(NOTE.id)
    assert note == "left[31m rivet worn"


def test_a_car_may_have_any_letters(library: Library) -> None:
    assert taken(Survey(), prompt_of(library, "about-the-car/car"), "Été 1934").car == "Été 1934"


@pytest.mark.parametrize(
    ("id", "text", "token"),
    [
        ("about-the-car/unit", "Inches", "in"),
        ("about-the-car/by", "me", "owner"),
        ("state/body", "bolted", "bolted"),
        ("state/engine", "no", "out"),
        ("state/tires", "same", "equal"),
        ("state/tires", "no tires", "off"),
        ("state/engine", "Yes.", "in"),
        ("state/engine", "y", "in"),
        ("state/engine", "nope", "out"),
        ("state/panels", "no", "off"),
        ("about-the-car/unit", "in.", "in"),
        ("about-the-car/by", "friend", "helper"),
        ("about-the-car/course", "whole survey", "whole"),
        ("tools/level", "none", "-"),
        ("tools/tape", "a good one", "fine-tape"),
        ("history/knocked", "don't know", "not-known"),
        ("history/knocked", "?", "not-known"),
    ],
)
def test_the_words_that_people_type_are_taken(
    library: Library, id: str, text: str, token: str
) -> None:
    assert taken(Survey(), prompt_of(library, id), text).answer_to(id) == token


def test_a_word_that_may_mean_two_answers_is_asked_about(library: Library) -> None:
    corner = prompt_of(library, "history/where")
    said = refused(Survey(), corner, "left")
    assert "more than one answer" in said
    assert "l “left front”" in said
    assert "e “left rear”" in said


@pytest.mark.parametrize("text", ["moved", "it moved", "set again", "no"])
def test_an_answer_on_which_the_standing_hangs_is_never_guessed_from_a_part_of_it(
    library: Library, text: str
) -> None:
    push = next(
        p
        for step in library.steps.values()
        for p in step.prompts
        if any(c.stands == "rocks" for c in p.choices)
    )
    assert pick(push.choices, text, loosely=True) is None


def test_every_answer_of_every_page_is_named_by_its_letter_its_id_and_its_words(
    library: Library,
) -> None:
    for step in library.steps.values():
        for prompt in step.prompts:
            for choice in prompt.choices:
                for said in (choice.letter, choice.token, choice.words, *choice.also):
                    assert pick(prompt.choices, said, loosely=True) is choice, (step.id, said)


def test_none_of_these_and_not_sure_are_two_answers(library: Library) -> None:
    where = prompt_of(library, "rail-tops/left/where")
    given = [taken(Survey(), where, text) for text in ("-", "u", "not sure")]
    assert [s.answer_to(where.id) for s in given] == ["-", "not-sure", "not-sure"]
    assert [where.kind.said(where, [s.answer_to(where.id)]) for s in given[:2]] == [
        "none of these",
        "not sure",
    ]


def test_of_a_tool_one_knows_whether_one_has_it(library: Library) -> None:
    level = prompt_of(library, "tools/level")
    assert taken(Survey(), level, "-").answer_to(level.id) == "-"
    assert "is not an answer here" in refused(Survey(), level, "u")


# Looks --------------------------------------------------------------------------------------------
# ------------


@pytest.mark.parametrize(
    ("text", "seen", "found"),
    [
        ("bo", "bare", ["nothing-found"]),
        ("o b", "bare", ["nothing-found"]),
        ("B L", "bare", ["light-pitting"]),
        ("plc", "painted", ["light-pitting", "crack"]),
        ("l c p", "painted", ["light-pitting", "crack"]),
        ("d lck", "dirty", ["light-pitting", "crack", "kink"]),
        ("bare crack", "bare", ["crack"]),
        ("kink b", "bare", ["kink"]),
        ("b kink", "bare", ["kink"]),
        ("bare metal, a crack", "bare", ["crack"]),
        ("paint: light pits and a kink", "painted", ["light-pitting", "kink"]),
        ("bare nothing found", "bare", ["nothing-found"]),
        ("b ok", "bare", ["nothing-found"]),
        ("bare, not sure", "bare", ["not-sure"]),
        ("can't reach it", "not-reached", [""]),
        ("b knock", "bare", ["kink"]),  # Each of its letters says something else by itself.
        ("b u", "bare", ["not-sure"]),
        ("n", "not-reached", [""]),
        ("not-reached", "not-reached", [""]),
    ],
)
def test_a_look_in_letters_or_words(text: str, seen: str, found: list[str]) -> None:
    looks = taken(Survey(), LOOK, text).standing(Look)
    assert {k.seen for k in looks} == {seen}
    assert [k.answer for k in looks] == found


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("b", "what you saw"),
        ("bare", "what you saw"),
        ("c", "how well you saw it"),
        ("kink", "how well you saw it"),
        ("nc", "did not reach"),
        ("bp c", "not an answer"),
        ("bcc", "twice"),
        ("bol", "no other answer"),
        ("buc", "no other answer"),
        ("bx", "not an answer"),
        ("-", "not an answer"),
    ],
)
def test_a_look_that_says_too_little_or_too_much(text: str, why: str) -> None:
    assert why in refused(Survey(), LOOK, text)


# Cautions and skips
# -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("text", ["understood", "Understood", "UNDERSTOOD.", "understood!"])
def test_a_caution_is_acknowledged_by_the_word(text: str) -> None:
    assert [a.caution for a in taken(Survey(), ACK, text).standing(Ack)] == ["going-under"]


@pytest.mark.parametrize("text", ["y", "ok", "yes", "u", "understand", "not understood"])
def test_a_caution_is_not_acknowledged_by_another_word(text: str) -> None:
    refused(Survey(), ACK, text)


def test_nothing_to_say_at_an_optional_reading_skips_it() -> None:
    prompt = replace(GAP, optional=True)
    assert taken(Survey(), prompt, "-").skipped(prompt.id)
    refused(Survey(), GAP, "-")


@pytest.mark.parametrize(
    ("prompt", "text"), [(TAPED, "91"), (LOOK, "bo"), (CHOICE, "i"), (NOTE, "-")]
)
def test_a_prompt_answered_after_all_is_no_longer_skipped(prompt: Prompt, text: str) -> None:
    survey = Survey().with_row(Skip(id="p1", at=AT, prompt=prompt.id, why="tank in the way"))
    assert survey.skipped(prompt.id)
    after = taken(survey, prompt, text)
    assert not after.skipped(prompt.id)
    assert [s.struck for s in after.table(Skip)] == ["answered after all"]


def test_a_refused_answer_leaves_the_skip() -> None:
    survey = Survey().with_row(Skip(id="p1", prompt=TAPED.id, why="tank"))
    refused(survey, TAPED, "ninety")
    assert survey.skipped(TAPED.id) == "tank"


# A choice's own words ------------------------------------------------------------------------------
# -----------


def test_at_a_look_the_words_of_each_answer_are_taken_as_they_stand_on_the_page(
    library: Library,
) -> None:
    met = 0
    for step in library.steps.values():
        for prompt in _expanded(library, step.id):
            for choice in prompt.choices if prompt.kind.looks else ():
                after = taken(Survey(), prompt, f"dirty, {choice.words}")
                (look,) = after.standing(Look)
                assert (look.seen, look.answer) == ("dirty", choice.token), prompt.id
                met += 1
    assert met > 50


def test_and_between_two_things_seen_says_nothing_and_alone_it_is_no_answer() -> None:
    two = [c for c in LOOK.choices if not c.nothing][:2]
    after = taken(Survey(), LOOK, f"bare, {two[0].letter} and {two[1].letter}")
    assert [k.answer for k in after.standing(Look)] == [c.token for c in two]
    assert "is not an answer here" in refused(Survey(), LOOK, "and")


@pytest.mark.parametrize("prompt", [TAPED, GAP, BUBBLE], ids=lambda p: p.kind.id)
@pytest.mark.parametrize("text", ["n", "N", "can't reach it", "not reached"])
def test_at_a_figure_what_says_not_reached_is_answered_with_the_way_to_skip(
    prompt: Prompt, text: str
) -> None:
    assert refused(Survey(), prompt, text) == "Cannot reach it? Type /skip and why."


# How warm it is -----------------------------------------------------------------------------------

WARM = replace(NOTE, keep="state.temperature", optional=True)


@pytest.mark.parametrize(
    ("unit", "typed", "kept"),
    [
        ("in", "52", "52 F"),
        ("mm", "18", "18 C"),
        ("in", "18 C", "18 C"),
        ("mm", "64°F", "64°F"),
        ("in", "about 60", "about 60 F"),
        ("in", "-4", "-4 F"),
        ("in", "warm", "warm"),
    ],
)
def test_a_bare_temperature_is_in_the_survey_s_unit_and_kept_with_it(
    unit: Unit, typed: str, kept: str
) -> None:
    survey = answer(Survey(unit=unit), WARM, typed, at=AT, by="owner")
    survey = survey.kept if isinstance(survey, Doubted) else survey
    assert isinstance(survey, Survey)
    assert survey.state().temperature == kept


@pytest.mark.parametrize(
    ("unit", "typed", "asked"),
    [("mm", "52", "52 C is very hot"), ("in", "-20", "-20 F is very cold"), ("in", "60 C", "hot")],
)
def test_a_temperature_that_no_garage_has_is_asked_about(
    unit: Unit, typed: str, asked: str
) -> None:
    doubted = answer(Survey(unit=unit), WARM, typed, at=AT, by="owner")
    assert isinstance(doubted, Doubted)
    assert asked in doubted.says
    assert isinstance(answer(Survey(unit=unit), WARM, "52 F", at=AT, by="owner"), Survey)
