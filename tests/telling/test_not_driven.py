"""With every stop, loose joint, moving crack and lost brake pull the car must not be driven; that
comes first.
"""

from __future__ import annotations

import json

import pytest

from tests.checks.surveys import DAY, library, survey_of, with_looks
from tests.judgment.stories import stories
from tests.judgment.stories import survey as survey_of_story
from tests.judgment.stories import verdict as verdict_of_story
from wizard.judgment.sight import verdict_of
from wizard.library.marks import MOVES
from wizard.survey.guide import layout_of
from wizard.survey.prompts import expand
from wizard.survey.record import Survey
from wizard.survey.rows import Look
from wizard.telling.answer_words import headline_of
from wizard.telling.consequences_words import FORETOLD, consequence_lines
from wizard.telling.html import said as in_html
from wizard.telling.json_out import as_json
from wizard.telling.markdown import marked
from wizard.telling.not_driven import NO_SURVEY
from wizard.telling.papers import report_as
from wizard.telling.report import Source, report_of
from wizard.telling.tell import tell_text, verdict_page
from wizard.telling.text import PAPER, text_of
from wizard.telling.work_order import order_lines

LAW = "Do not drive it; somebody who knows frames must look at it first."
SOURCE = Source("test.toml", "0" * 64)


def _seen() -> list[tuple[str, str]]:
    """Every look that may stop, name a loose joint or a crack that moves, by prompt and answer."""
    layout = layout_of(survey_of({}), library())
    prompts = [p for s in library().steps.values() for p in expand(s, layout) if p.kind.looks]
    found = []
    for p in prompts:
        grave = (c for c in p.choices if c.stop or c.loose or c.speaks == MOVES)
        found += [(p.id, c.token) for c in grave]
    return found


SEEN = _seen()


def with_look(prompt: str, answer: str) -> Survey:
    """Nothing else was found anywhere."""
    survey = with_looks(survey_of({}))
    for row in survey.looks_at(prompt):
        survey = survey.with_struck(row.id, "another answer")
    return survey.with_row(Look(id=survey.new_id(Look), prompt=prompt, seen="bare", answer=answer))


def one_line(text: str) -> str:
    return " ".join(text.split())


def test_there_are_stops_loose_joints_and_moving_cracks_among_them() -> None:
    tokens = {token for _, token in SEEN}
    assert {
        "crack",
        "kink",
        "torn-weld",
        "loose-rivets",
        "fresh-paint-crack",
        "rust-bleeding",
    } <= tokens
    assert len(SEEN) > 40


@pytest.mark.parametrize(("prompt", "answer"), SEEN)
def test_whatever_may_give_way_is_not_driven_and_that_comes_first(prompt: str, answer: str) -> None:
    survey = with_look(prompt, answer)
    assert headline_of(verdict_of(survey, library(), DAY), survey, library()).endswith(LAW)
    for page in (verdict_page(survey, library(), DAY), tell_text(survey, library(), DAY)):
        assert LAW in one_line(page.partition("What to do")[0])
    assert json.loads(as_json(survey, library(), DAY))["verdict"]["headline"].endswith(LAW)


@pytest.mark.parametrize(("prompt", "answer"), SEEN[::12])
def test_the_first_page_of_the_report_says_it_in_every_form(prompt: str, answer: str) -> None:
    survey = with_look(prompt, answer)
    for suffix, form in ((".txt", str), (".md", marked), (".html", in_html)):
        text = one_line(report_as(survey, library(), DAY, SOURCE, suffix))
        assert 0 <= text.find(one_line(form(LAW))) < text.find("The frame drawn")


def test_where_nothing_may_give_way_it_is_not_said() -> None:
    assert LAW not in one_line(verdict_page(with_looks(survey_of({})), library(), DAY))
    assert LAW not in one_line(verdict_page(survey_of({}), library(), DAY))


def test_lost_brake_pull_says_it_and_the_brakes_never_wait() -> None:
    rods = [text for (what, _), text in FORETOLD.items() if what == "brake-rods"]
    assert len(rods) == 3
    for text in rods:
        assert LAW in text
        assert text.endswith("Rod brakes are put right before the car moves again.")


@pytest.mark.parametrize("step", ["consequences", "paint-cracks"])
def test_the_page_that_asks_for_it_says_it_before_anything_is_answered(step: str) -> None:
    assert LAW[1:] in " ".join(library().steps[step].how)


@pytest.mark.parametrize("name", stories())
def test_no_story_puts_the_brakes_last(name: str) -> None:
    found, survey = verdict_of_story(stories()[name]), survey_of_story(stories()[name])
    layout = layout_of(survey, library())
    lines = [
        *order_lines(found, survey, layout),
        *consequence_lines(found, layout, survey.unit, survey),
    ]
    for line in lines:
        assert not ("brake" in line.text.lower() and "last" in line.text.lower()), line.text


END = "This is the end of the record."


@pytest.mark.parametrize(
    "survey", [survey_of({}), with_look("rail-tops/left", "crack")], ids=["empty", "crack"]
)
def test_every_report_ends_with_what_no_survey_can(survey: Survey) -> None:
    words = NO_SURVEY.lower()
    for what in ("may be driven", "every crack", "licensed professional", "local rules"):
        assert what in words
    text = text_of(report_of(survey, library(), DAY, SOURCE), PAPER)
    assert one_line(text).partition(f" {END}")[0].endswith(NO_SURVEY)
    assert report_as(survey, library(), DAY, SOURCE, ".txt") == text
    marks = report_as(survey, library(), DAY, SOURCE, ".md").partition(marked(END))[0]
    assert marks.rstrip().endswith(f"**{marked(NO_SURVEY)}**")
    html = report_as(survey, library(), DAY, SOURCE, ".html").partition(END)[0]
    assert html.rpartition("</p>")[0].rpartition(">")[2] == in_html(NO_SURVEY)
