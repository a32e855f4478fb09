"""The record's first page: nothing that the record holds of places not reached, of what decides, of
what changed and of what somebody signed is lost on it; and what a laboratory's report has to hold
stands where content says.
"""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import datetime
from functools import cache
from itertools import pairwise

import pytest

from tests.checks.surveys import library, survey_of
from tests.telling.test_report import SAMPLES, SOURCE, all_words, each_sample, first_page
from tests.telling.test_report import sample as loaded
from wizard.judgment.answer import answer_of
from wizard.judgment.sight import verdict_of
from wizard.judgment.since import since_of
from wizard.library.places import step_of, where_of
from wizard.survey.guide import guide_of, layout_of
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Look, Opinion, Reading
from wizard.telling.document import Block, Heading, Table
from wizard.telling.front_page import ROOMS, SHEET, _Page, front_page
from wizard.telling.moved_words import moved_words
from wizard.telling.papers import report_as
from wizard.telling.print_height import height
from wizard.telling.quantity_names import name_of
from wizard.telling.report import report_of
from wizard.telling.report_trend import Earlier

NOW = datetime(2027, 6, 1)
SEEN = ("bare", "painted", "dirty", "not-reached")


@cache
def look_prompts() -> tuple[Prompt, ...]:
    asked = guide_of(survey_of({}), library()).questions.by_id.values()
    return tuple(p for p in asked if p.kind.looks)


def generated(seed: int) -> Survey:
    """A survey of looks as chance has them, with opinions."""
    chance = random.Random(seed)
    survey = replace(survey_of({}), id=f"generated-{seed}", car="Bramble")
    share = chance.random()
    for prompt in look_prompts():
        if chance.random() > share:
            continue
        seen = chance.choice(SEEN)
        answer = "" if seen == "not-reached" else chance.choice(prompt.choices).token
        row = Look(
            id=survey.new_id(Look), at=NOW, by="owner", prompt=prompt.id, seen=seen, answer=answer
        )
        survey = survey.with_row(row)
    for n in range(chance.choice((0, 1, 3, 40))):
        text = " ".join(["I would not drive it"] * chance.randint(1, 12))
        row_ = Opinion(id=survey.new_id(Opinion), at=NOW, by=f"mentor {n % 5}", text=text)
        survey = survey.with_row(row_)
    return survey


def changed(seed: int) -> tuple[Survey, Survey]:
    """A re-check of which chance has altered some readings, and the survey that it follows."""
    chance = random.Random(seed)
    then, now = (loaded(p) for p in SAMPLES[:2])
    for row in now.standing(Reading):
        if chance.random() < 0.3 and row.typed.replace(" ", "").replace("/", "").isdigit():
            now = now.with_replaced(replace(row, typed=f"{row.typed.split()[0]} 15/16"))
    return then, now


def page_of(survey: Survey, earlier: Survey | None = None) -> list[Block]:
    before = Earlier((earlier,)) if earlier else Earlier()
    return first_page(report_of(survey, library(), NOW, SOURCE, before))


def lost(survey: Survey, page: list[Block], earlier: Survey | None = None) -> list[str]:
    """What the record holds and the page neither says nor counts by name."""
    text = " ".join(all_words(page)).lower()
    verdict = verdict_of(survey, library(), NOW)
    missing = [f"{gap.what}" for gap in verdict.not_seen if gap.what.lower() not in text]
    for look in survey.standing(Look):
        title = library().steps[step_of(look.prompt)].title
        if look.seen == "not-reached" and title.lower() not in text:
            missing.append(f"not reached: {title}")
    for stop in verdict.stops:
        assert stop.choice
        if (
            f"{stop.title}, {stop.side}: {stop.choice.words}".replace(", :", ":").lower()
            not in text
        ):
            missing.append(f"stop: {stop.title}")
    for seen in (*verdict.loose, *(s for voice in verdict.voices for s in voice.seen)):
        if seen.title.lower() not in text:
            missing.append(f"seen: {seen.title}")
    for opinion in survey.standing(Opinion):
        if opinion.text.lower() not in text and f"{opinion.by} (" not in text:
            missing.append(f"opinion: {opinion.by}")
    since = since_of(earlier, survey, library())
    if since is not None:
        layout = layout_of(survey, library())
        moved = {c.new.id for m in since.moved for c in m.changes}
        told = [moved_words(m, layout, survey.unit) for m in since.moved]
        rest = [c for c in since.comparison.of("changed") if c.new.id not in moved]
        told += [name_of(c.new, layout) for c in (*rest, *since.untold)]
        missing += [words for words in told if words.lower() not in text]
    return missing


@pytest.mark.parametrize("seed", range(24))
def test_nothing_that_was_seen_missed_or_signed_is_lost(seed: int) -> None:
    survey = generated(seed)
    assert lost(survey, page_of(survey)) == []


@pytest.mark.parametrize("seed", range(8))
def test_nothing_that_changed_is_lost(seed: int) -> None:
    then, now = changed(seed)
    assert lost(now, page_of(now, then), then) == []


@each_sample
def test_nothing_of_a_sample_is_lost(path) -> None:  # type: ignore[no-untyped-def]
    survey = loaded(path)
    assert lost(survey, page_of(survey)) == []


def test_what_is_left_out_would_be_found() -> None:
    """The twin that must fail: the page without one of its parts."""
    survey = generated(3)
    page = page_of(survey)
    assert len(survey.standing(Opinion)) > 0
    for id in ("unseen", "opinions", "decides"):
        start = next((n for n, b in enumerate(page) if isinstance(b, Heading) and b.id == id), None)
        if start is None:
            continue
        rest = (n for n, b in enumerate(page) if n > start and isinstance(b, Heading))
        assert lost(survey, [*page[:start], *page[next(rest) :]]), id


def test_a_page_that_would_run_over_gives_up_its_reasons_before_its_names() -> None:
    survey = generated(3)
    for n in range(60):
        text = f"opinion number {n} of a very long row of words " * 6
        row = Opinion(id=survey.new_id(Opinion), at=NOW, by=f"mentor {n}", text=text)
        survey = survey.with_row(row)
    page = page_of(survey)
    assert lost(survey, page) == []
    assert any("whose words stand behind this page" in words for words in all_words(page))
    whole = " ".join(all_words(list(report_of(survey, library(), NOW, SOURCE).blocks)))
    assert "opinion number 59 of a very long row" in whole


def test_rooms_grow_smaller_one_thing_after_another() -> None:
    assert all(a.rows >= b.rows and a.share >= b.share for a, b in pairwise(ROOMS))
    assert [r.reasons for r in ROOMS] == sorted((r.reasons for r in ROOMS), reverse=True)
    assert [r.opinions for r in ROOMS] == sorted((r.opinions for r in ROOMS), reverse=True)


@each_sample
def test_a_page_set_anew_is_what_it_would_be_at_first(path) -> None:  # type: ignore[no-untyped-def]
    """And what its table leaves out is named under it."""
    survey = loaded(path)
    answer = answer_of(survey, library(), NOW)
    page = _Page(answer, survey, library())
    fronts = [page.front(room, "foot") for room in ROOMS]
    for n in range(0, len(ROOMS), 3):
        assert fronts[n] == _Page(answer, survey, library()).front(ROOMS[n], "foot"), n
    judged = {
        (j.finding.quantity, where_of(j.finding.where).side)
        for j in answer.verdict.judged
        if j.bands
    }
    for room, front in zip(ROOMS, fronts, strict=True):
        table = next(b for b in front.blocks if isinstance(b, Table))
        named = [w for w in all_words(list(front.blocks)) if " more, behind this page: " in w]
        left = int(named[0].split()[0]) if named else 0
        assert len(table.rows) == min(room.rows, len(judged))
        assert len(table.rows) + left == len(judged)


def test_a_page_with_room_keeps_the_reasons() -> None:
    survey = survey_of({})
    front = front_page(answer_of(survey, library(), NOW), survey, library(), "foot")
    assert front.behind == ()
    assert height(front.blocks) <= SHEET


# What a laboratory's report has to hold ----------------------------------------------------------

LETTERS = "abcdefghijklmnop"
"""Of 7.8.2.1."""


def test_every_item_of_the_standard_is_there_once_and_in_order() -> None:
    wanted = [f"7.8.2.1 {letter}" for letter in LETTERS]
    wanted += ["7.8.6.1", *(f"7.8.6.2 {letter}" for letter in "abc")]
    assert [clause.clause for clause in library().clauses] == wanted


@each_sample
def test_each_item_stands_where_it_is_said_to_stand(path) -> None:  # type: ignore[no-untyped-def]
    blocks = report_of(loaded(path), library(), NOW, SOURCE).blocks
    ids = {b.id for b in blocks if isinstance(b, Heading)} | {"page-one"}
    for clause in library().clauses:
        assert set(clause.at) <= ids, clause.clause
        assert bool(clause.at) is not bool(clause.why), clause.clause
    rows = next(b for b in blocks if isinstance(b, Table) and "17025" in b.caption).rows
    assert [row[0] for row in rows] == [clause.clause for clause in library().clauses]
    assert all(row[2] for row in rows)


@each_sample
@pytest.mark.parametrize("suffix", [".html", ".md", ".txt"])
def test_it_calls_itself_a_record_and_nothing_higher(path, suffix: str) -> None:  # type: ignore[no-untyped-def]
    text = report_as(loaded(path), library(), NOW, SOURCE, suffix).lower()
    assert "a record of what was found" in text
    assert "certif" not in text
