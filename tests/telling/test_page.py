"""A step page as plain text."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import DAY, add, bent, library, survey_of
from tests.telling.saying import tells
from wizard.library.places import PromptId, step_of
from wizard.survey.answer import Refusal, answer
from wizard.survey.guide import Ask, asks_of, guide_of, pages
from wizard.survey.prompts import Prompt, caution_prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Look, Skip, State
from wizard.telling.page import (
    ONCE_MORE,
    PageView,
    choice_lines,
    hint,
    live,
    results_of_step,
    said,
    view,
)

pytestmark = pytest.mark.quick

D1 = "long-diagonals/whole/front-left--rear-right"


def prompt(id: str) -> Prompt:
    from wizard.checks.case import Case

    return Case(survey_of({}), library()).prompts[id]


def shown(survey: Survey, ask: Ask) -> PageView:
    return view(survey, library(), pages(survey, library(), DAY), ask)


def test_the_page_in_front() -> None:
    page = shown(survey_of({D1: ["80"]}), Ask(prompt(D1), 2))
    assert (page.car, page.title, page.nth) == ("Bramble", "The long diagonals", "(second time)")
    assert page.label == "left front to right rear"
    rows = {r.label: (r.values, r.here) for r in page.rows}
    assert rows == {
        "left front to right rear": ("80", True),
        "right front to left rear": ("", False),
    }
    assert page.caution is None
    assert page.choices == ()


@pytest.mark.parametrize(("nth", "says"), [(1, ""), (3, "(third time)"), (9, "(9th time)")])
def test_repeats_are_counted_in_words(nth: int, says: str) -> None:
    assert shown(survey_of({}), Ask(prompt(D1), nth)).nth == says


def test_a_caution_stands_alone_and_is_no_row_of_its_page() -> None:
    """Nothing that there is to do on the page behind it shows before it was read."""
    caution = library().cautions["string"]
    there = shown(survey_of({}), Ask(caution_prompt(caution.id, "string-set-up", caution.title)))
    step = library().steps["string-set-up"]
    assert there.caution == caution
    assert (there.title, there.label) == (step.title, caution.title)
    assert there.hint == "read it, then type understood"
    assert (there.why, there.how, there.good, there.alone) == ("", (), "", "")
    assert (there.rows, there.choices, there.live, there.nth) == ((), (), (), "")
    page = next(p for p in pages(survey_of({}), library(), DAY) if p.step.id == "string-set-up")
    behind = shown(survey_of({}), next(asks_of(page)))
    assert behind.caution is None
    assert (behind.why, behind.how) == (step.why, step.how)
    assert caution.title not in {r.label for r in behind.rows}


def test_a_survey_without_a_car_is_a_new_one() -> None:
    assert shown(Survey(), Ask(prompt("about-the-car/car"))).car == "A new survey"


@pytest.mark.parametrize(
    ("id", "unit", "says"),
    [
        (D1, "in", "like 25 7/8 or 657 mm"),
        (D1, "mm", "like 657 or 25 7/8 in"),
        ("front-box-bar/closing", "in", "like 1/8 past, 1/8 short, or 0"),
        ("front-box-bar/closing", "mm", "like 3 past, 3 short, or 0"),
        ("level/rear/as-set", "in", "lines off and the high side: 1/2 left, 2 right, or 0"),
        ("rail-tops/left", "in", "like b o, or b l h for two; n alone: not reached"),
        ("state/engine", "in", "one letter"),
        ("tools/level", "in", "one letter; - none of these"),
        ("rail-tops/left/where", "in", "one letter; u not sure; - none of these"),
        ("about-the-car/car", "in", "a few words"),
        ("finish/remark", "in", "a few words, or - for nothing"),
    ],
)
def test_an_example_stands_beside_the_entry_line(id: str, unit: str, says: str) -> None:
    assert hint(prompt(id), survey_of({}, unit=unit)) == says  # type: ignore[arg-type]


def test_a_look_offers_how_well_it_was_seen_first_and_not_sure_last() -> None:
    lines = choice_lines(prompt("rail-tops/left"), survey_of({}))
    assert lines[0] == "how seen:  b bare   p painted   d dirty   n not reached"
    assert lines[-1] == "u  not sure"
    assert (
        choice_lines(prompt("state/engine"), survey_of({}))[0] == "i  in, its weight on the mounts"
    )


@pytest.mark.parametrize(
    ("engine", "body", "offered"),
    [("in", "off", False), ("out", "loosened", False), ("", "", False), ("out", "off", True)],
)
def test_three_points_are_offered_to_a_bare_frame_alone(
    engine: str, body: str, offered: bool
) -> None:
    survey = survey_of({}).with_row(State(id="s90", engine=engine, body=body))
    lines = choice_lines(prompt("set-supports/supports"), survey)
    assert ("t  three points (a bare frame only)" in lines) == offered
    assert lines[0] == "w  its own wheels"
    for typed in ("x", ""):  # nor are they named to whoever mistypes
        said = answer(survey, prompt("set-supports/supports"), typed, at=DAY, by="owner")
        assert isinstance(said, Refusal)
        assert ("three points" in said.says) == offered


def test_looks_of_two_sides_are_told_apart_in_the_rows() -> None:
    page = shown(survey_of({}), Ask(prompt("die-marks/left")))
    labels = [r.label for r in page.rows]
    assert len(set(labels)) == len(labels)


def test_what_stands_at_a_prompt() -> None:
    survey = survey_of(
        {D1: ["80", "80 1/16"]},
        answers={"string-set-up/where": "below", "about-the-car/car": "Bramble"},
    )
    survey = survey.with_row(
        Look(id="k90", prompt="rail-tops/left", seen="bare", answer="light-pitting")
    )
    survey = survey.with_row(Look(id="k91", prompt="rail-tops/left", seen="bare", answer="crack"))
    survey = survey.with_row(Look(id="k92", prompt="rail-tops/right", seen="not-reached"))
    survey = survey.with_row(Skip(id="p93", prompt="wheelbase/left", why="on blocks"))
    assert said(survey, prompt(D1)) == "80   80 1/16"
    assert said(survey, prompt("string-set-up/where")) == "below the rail"
    assert said(survey, prompt("about-the-car/car")) == "Bramble"
    assert (
        said(survey, prompt("rail-tops/left"))
        == "light pits, a pin ticks over them, a crack (bare)"
    )
    assert said(survey, prompt("rail-tops/right")) == "not reached"
    assert said(survey, prompt("wheelbase/left")) == "skipped: on blocks"
    assert said(survey, prompt("wheelbase/right")) == ""


def test_live_says_what_the_steps_own_readings_give_the_gravest_first() -> None:
    survey = bent()
    # Beyond one limit and within the next, with what one reading a station leaves of doubt.
    for station, typed in (
        ("mid-engine", "53"),
        ("engine-mount", "56.5"),
        ("center", "58.2"),
        ("behind", "55"),
    ):
        row = survey.readings_of(f"sag-unloaded/{station}/right")[0]
        survey = survey.with_replaced(replace(row, typed=f"{typed} mm"))
    for side, typed in (("left", "53 mm"), ("right", "56.5 mm")):
        # The page itself asks for no other reading now.
        survey = add(survey, f"sag-unloaded/engine-mount/{side}", typed)
    *lines, caveat = live(survey, library(), library().steps["sag-unloaded"])
    assert len(lines) == 3
    assert caveat == library().steps["sag-unloaded"].caveat != ""
    tells(lines[0], "right rail hangs 5/16 in low", "center crossmember", "without the weight")
    assert lines[0].endswith("So far: put it right. " + ONCE_MORE)
    twice = add(
        survey,
        "sag-unloaded/center/right",
        survey.readings_of("sag-unloaded/center/right")[0].typed,
    )
    assert live(twice, library(), library().steps["sag-unloaded"])[0].endswith(
        "So far: put it right."
    )


def test_every_result_says_what_it_does_not_mean_and_nothing_before_there_is_one() -> None:
    for step in library().steps.values():
        assert bool(step.caveat) == bool(step.check), step.id
        assert live(survey_of({}), library(), step) == ()


@pytest.mark.parametrize(
    ("step", "own"),
    [
        ("own-sides", {"own-sides"}),
        ("horns", {"horn", "horn-back", "horn-out", "own-sides"}),
        ("front-box-bar", {"rail-shift"}),
        ("level", {"level-error", "twist", "twist-shape"}),
    ],
)
def test_each_step_shows_what_its_own_check_computes(step: str, own: set[str]) -> None:
    """Though its readings go into the plan of all tapes and the sag into the twist."""
    found = {j.finding.quantity for j in results_of_step(bent(), library(), library().steps[step])}
    assert found == own


def test_a_step_without_readings_or_without_a_check_says_nothing() -> None:
    assert live(survey_of({}), library(), library().steps["level"]) == ()
    survey = add(survey_of({}), "string-set-up/block", "2")
    assert live(survey, library(), library().steps["string-set-up"]) == ()


def test_an_answer_that_the_content_no_longer_offers_is_shown_as_it_is() -> None:
    survey = survey_of({}).with_row(Answer(id="a90", prompt="string-set-up/where", answer="beside"))
    assert said(survey, prompt("string-set-up/where")) == "beside"


@pytest.mark.parametrize(
    ("read", "wanted"),
    [
        ("long-diagonals/whole/front-left--rear-right", "right front to left rear"),
        ("box-diagonals/front-box/front-right--center-left", "left front to right center"),
        ("nose-diagonals/whole/nose--rear-left", "nose to right rear"),
    ],
)
def test_of_one_diagonal_nothing_is_told_but_what_would_tell_it(read: str, wanted: str) -> None:
    layout = "a-frame" if read.startswith("nose") else "straight-ladder"
    survey = replace(survey_of({}, unit="mm"), layout=layout)
    survey, step = add(survey, read, "2600"), library().steps[step_of(PromptId(read))]
    (said,) = live(survey, library(), step)
    tells(said, "one of its two diagonals alone tells nothing", f"Tape “{wanted}” too.")
    other = next(p.id for p in guide_of(survey, library()).questions.of(step) if p.ask == wanted)
    both = live(add(survey, str(other), "2601"), library(), step)
    assert not any("alone" in text for text in both)


def test_where_more_must_be_seen_since_another_place_was_read_the_page_says_why() -> None:
    """The size that would have been seen at the worst of several grows with their number."""
    pages = {box: [f"own-sides/{box}/{tape}" for tape in tapes] for box, tapes in SIDES.items()}
    survey, step = survey_of({}, unit="mm"), library().steps[step_of(PromptId(pages["whole"][0]))]
    for id in pages["whole"]:
        survey = add(survey, id, "2425")
    (alone, *_) = live(survey, library(), step)
    assert "one always differs most" not in alone
    survey = add(add(survey, pages["front-box"][0], "1240"), pages["front-box"][1], "1242")
    worst, other, *_ = live(survey, library(), step)
    tells(
        worst, "Front box", "Of 2 places one always differs most: there it takes more to be seen."
    )
    assert "one always differs most" not in other


SIDES = {
    "whole": ("front-left--rear-left", "front-right--rear-right"),
    "front-box": ("front-left--center-left", "front-right--center-right"),
}


def _how(id: str, survey: Survey) -> tuple[str, ...]:
    walk = guide_of(survey, library()).walk(DAY)
    asks = (ask for page in walk for ask in page.asks)
    ask = next(a for a in asks if str(a.prompt.id) == id)
    return view(survey, library(), walk, ask).how


@pytest.mark.parametrize(
    ("there", "here", "words"),
    [
        ("state/panels", "state/tires", "Look at the tires from the front"),
        ("history/knocked", "history/fitted", "Altered means"),
    ],
)
def test_a_page_shows_no_move_of_a_question_that_another_page_asks(
    there: str, here: str, words: str
) -> None:
    survey = survey_of({}).with_row(State(id="s1", supports="wheels", engine="in", body="bolted"))
    assert not any(words in move for move in _how(there, survey))
    assert any(words in move for move in _how(here, survey))
    assert len(_how(there, survey)) + 1 == len(_how(here, survey))


def test_what_a_difference_that_was_not_seen_asks_for_is_never_a_sentence_alone() -> None:
    """A message that is cut between sentences would say it of anything."""
    survey = bent()
    said = [s for step in library().steps.values() for s in live(survey, library(), step, most=99)]
    nothing = [s for s in said if "othing to put right in that" in s]
    assert nothing
    assert all(": nothing to put right in that." in s for s in nothing)
