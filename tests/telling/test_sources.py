"""Every sentence of the verdict opens to its findings, looks and limits."""

from __future__ import annotations

import re

import pytest

from tests.checks.surveys import DAY, bent, library, with_looks
from tests.judgment.stories import stories, survey, verdict
from tests.telling.saying import tells
from wizard.judgment.sight import verdict_of
from wizard.library.shapes_signs import CAUSES
from wizard.survey.rows import Look
from wizard.telling.sources import RULES, opened
from wizard.telling.tell import tell_text
from wizard.telling.to_do import LACKING, WHAT_TO_DO
from wizard.telling.verdict_words import sections


@pytest.mark.parametrize("name", stories())
def test_every_line_of_every_story_rests_on_something_that_opens(name: str) -> None:
    found, made = verdict(stories()[name]), survey(stories()[name])
    for part in sections(found, made, library()):
        for item in part.items:
            assert item.sources, item.text
            for id in item.sources:
                assert opened([id], found, made, library()), (item.text, id)


def test_every_line_over_real_readings_opens_too() -> None:
    made = with_looks(bent())
    found = verdict_of(made, library(), DAY)
    for part in sections(found, made, library()):
        for item in part.items:
            assert item.sources, item.text
            words = opened(item.sources, found, made, library())
            assert len(words) == len(dict.fromkeys(item.sources)), item


def test_what_is_opened_names_the_reading_the_look_and_the_limit() -> None:
    story = stories()["front-box-out-and-wrinkled"]
    found, made = verdict(story), survey(story)
    words = " ".join(
        opened(
            ["rail-shift/front-box", "limit:rail-shift", "sign:wrinkle-lower"],
            found,
            made,
            library(),
        )
    )
    assert "Finding: Front box: it measures as if the right rail sat" in words
    assert "leave it up to 1/8 in (3 mm) (this project's own figure" in words
    tells(words, "leans to collision medium", "could also be a jack or a chain")


def test_an_id_that_stands_for_nothing_opens_to_nothing() -> None:
    story = stories()["quiet-frame"]
    ids = [
        "",
        "x9",
        "rule:none",
        "limit:none",
        "sign:none",
        "step:none",
        "answer:none/none",
        "no:such",
    ]
    assert opened(ids, verdict(story), survey(story), library()) == ()


def test_every_action_and_cause_and_lack_has_its_rule() -> None:
    assert set(RULES) >= {*WHAT_TO_DO, *CAUSES, *(f"lacking-{name}" for name in LACKING)}


def test_the_mentor_sees_what_each_line_rests_on_and_the_newcomer_does_not() -> None:
    made = with_looks(bent())
    mentor, plain = (tell_text(made, library(), DAY, mentor=m) for m in (True, False))
    rests = mentor.partition("What the lines rest on")[2]
    numbers = {int(n) for n in re.findall(r"\[(\d+)\]", mentor)}
    assert re.search(r"\n      rests on \[\d+\] \[\d+\]", mentor)
    assert all(f"  - [{n}] " in rests for n in numbers)
    assert "limit:" not in plain
    assert max(map(len, mentor.splitlines())) <= 80


def test_no_id_of_the_program_is_told_to_the_mentor() -> None:
    made = with_looks(bent())
    found = verdict_of(made, library(), DAY)
    told = tell_text(made, library(), DAY, mentor=True)
    lines = told.partition("Every finding")[0]
    every = [
        id for part in sections(found, made, library()) for i in part.items for id in i.sources
    ]
    for id in {*map(str, every), *(k.id for k in made.table(Look))}:
        assert not re.search(rf"(?<![\w/]){re.escape(id)}(?![\w/])", lines), id
