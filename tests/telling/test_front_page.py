"""The record's first page: nothing that the record holds of places not reached, of what decides, of
what changed and of what somebody signed is lost on it; and what a laboratory's report has to hold
stands where content says.
"""

from __future__ import annotations

import random
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from functools import cache
from itertools import pairwise

import pytest

from tests.checks.surveys import library, survey_of
from tests.telling.test_report import SAMPLES, SOURCE, all_words, each_sample, first_page
from tests.telling.test_report import sample as loaded
from wizard.judgment.answer import answer_of
from wizard.judgment.seen import Seen
from wizard.judgment.sight import verdict_of
from wizard.judgment.since import since_of
from wizard.library.places import step_of, where_of
from wizard.survey.guide import guide_of, layout_of
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Look, Opinion, Reading, Skip
from wizard.telling.document import Block, Heading, Items, Paragraph, Table
from wizard.telling.front_page import BY_PLACE, ROOMS, SHEET, Room, _Page, front_page
from wizard.telling.moved_words import moved_words
from wizard.telling.papers import report_as
from wizard.telling.print_height import height
from wizard.telling.quantity_names import name_of, of_bent_horn
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
    return signed(survey, chance)


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


def crowded(seed: int) -> tuple[Survey, Survey | None]:
    """A survey full of findings of which chance has altered readings and looks, left out pages and
    added opinions; and the one that it follows.
    """
    chance = random.Random(seed)
    path = SAMPLES[seed % len(SAMPLES)]
    survey = loaded(path)
    then = next((loaded(p) for p in SAMPLES if p.stem == survey.follows), None)
    choices = {p.id: p.choices for p in look_prompts()}
    for row in survey.standing(Reading):
        if survey.unit == "in" and chance.random() < 0.15 and row.typed[-1].isdigit():
            survey = survey.with_replaced(replace(row, typed=f"{row.typed.split()[0]} 15/16"))
    for look in survey.standing(Look):
        if look.prompt in choices and chance.random() < 0.4:
            seen = chance.choice(SEEN)
            answer = "" if seen == "not-reached" else chance.choice(choices[look.prompt]).token
            survey = survey.with_replaced(replace(look, seen=seen, answer=answer))
    pages = sorted({step_of(row.prompt) for row in survey.standing(Reading)})
    out = set(chance.sample(pages, chance.randint(0, 3)))
    for row in survey.standing(Reading):
        if step_of(row.prompt) in out:
            skip = Skip(id=survey.new_id(Skip), at=NOW, prompt=row.prompt, why="no time left")
            survey = survey.with_struck(row.id, "read anew").with_row(skip)
    return signed(survey, chance), then


def signed(survey: Survey, chance: random.Random) -> Survey:
    """With as many opinions as chance has it."""
    for n in range(chance.choice((0, 1, 3, 40))):
        text = f"{n} times " + " ".join(["I would not drive it"] * chance.randint(1, 12))
        row = Opinion(id=survey.new_id(Opinion), at=NOW, by=f"mentor {n % 5}", text=text)
        survey = survey.with_row(row)
    return survey


def part_of(page: list[Block], *ids: str) -> str:
    """What the parts of the page under these headings say, in small letters."""
    here, found = "", []
    for block in page:
        here = block.id if isinstance(block, Heading) else here
        found += all_words([block]) if here in ids and not isinstance(block, Heading) else []
    return " ".join(found).lower()


def lost(survey: Survey, page: list[Block], earlier: Survey | None = None) -> list[str]:
    """What the record holds and the page neither says nor counts by name in the part where it must
    stand.
    """
    verdict = verdict_of(survey, library(), NOW)
    unseen, seen_there = part_of(page, "unseen"), part_of(page, "answer", "decides")
    missing = [f"{gap.what}" for gap in verdict.not_seen if not is_named(gap.what, unseen)]
    for look in survey.standing(Look):
        title = library().steps[step_of(look.prompt)].title
        if look.seen == "not-reached" and not is_named(title, unseen):
            missing.append(f"not reached: {title}")
    for stop in verdict.stops:
        if not is_told(stop, part_of(page, "decides")):
            missing.append(f"stop: {stop.title}")
    for seen in (*verdict.loose, *(s for voice in verdict.voices for s in voice.seen)):
        if not is_told(seen, seen_there):
            missing.append(f"seen: {seen.title}")
    return [
        *missing,
        *opinions_lost(survey, page),
        *findings_lost(survey, page),
        *changes_lost(survey, page, earlier),
    ]


def is_named(name: str, there: str) -> bool:
    """Whether it stands there as a whole name, and not within another one."""
    return (
        re.search(rf"(?:^|[;:.] |: ){re.escape(name.lower())}(?=[;:.,]| \(|$)", there) is not None
    )


def is_told(seen: Seen, there: str) -> bool:
    """Whether a look stands there with its place and what was seen, or is counted by its place."""
    assert seen.choice
    within = (seen.side or "", seen.prompt.short)
    places = [f"{seen.title}, {one}" if one else seen.title for one in within]
    if "with what was seen there behind this page" in there:
        return any(is_named(p, there) for p in places)
    return any(f"{p}: {seen.choice.words}".lower() in there for p in places)


def opinions_lost(survey: Survey, page: list[Block]) -> list[str]:
    """Those that stand there neither in their words nor counted under who signed them."""
    signed_by = Counter(row.by for row in survey.standing(Opinion))
    there = part_of(page, "opinions")
    return [
        f"opinion: {row.by}"
        for row in survey.standing(Opinion)
        if row.text.lower() not in there
        and not re.search(rf"\b{re.escape(row.by.lower())} \({signed_by[row.by]}\)", there)
    ]


def findings_lost(survey: Survey, page: list[Block]) -> list[str]:
    """Of each quantity and side that a limit judges, that which stands there by no name."""
    layout, verdict = layout_of(survey, library()), verdict_of(survey, library(), NOW)
    names: dict[tuple[str, str], list[str]] = {}
    for judged in verdict.judged:
        found = judged.finding
        if judged.bands:
            horn = of_bent_horn(found, survey.unit, verdict.bent)
            key = str(found.quantity), str(where_of(found.where).side or "")
            names.setdefault(key, []).extend([name_of(found, layout), *(horn or ())[:1]])
    there = part_of(page, "measured")
    return [f"finding: {key}" for key, n in names.items() if not any(x.lower() in there for x in n)]


def changes_lost(survey: Survey, page: list[Block], earlier: Survey | None) -> list[str]:
    """Each part that moved must be told, and each figure that changed or is untold be named."""
    since = since_of(earlier, survey, library())
    if since is None:
        return []
    layout = layout_of(survey, library())
    there = part_of(page, "changed")
    told = f"{there} {part_of(page, 'answer')}"
    moved = [moved_words(m, layout, survey.unit) for m in since.moved]
    firsts = {m.first.new.id for m in since.moved}
    along = [c for m in since.moved for c in m.along]
    rest = [c for c in since.comparison.of("changed") if c.new.id not in firsts]
    named = [name_of(c.new, layout) for c in (*rest, *along)]
    untold = [name_of(c.new, layout) for c in since.untold]
    return [
        *(f"not known: {words}" for words in untold if words.lower() not in told),
        *(f"moved: {words}" for words in moved if words.lower() not in told),
        *(f"changed: {words}" for words in named if words.lower() not in there),
    ]


@pytest.mark.parametrize("seed", range(24))
def test_nothing_that_was_seen_missed_or_signed_is_lost(seed: int) -> None:
    survey = generated(seed)
    page = page_of(survey)
    assert lost(survey, page) == []
    assert height(page) <= SHEET


@pytest.mark.parametrize("seed", range(8))
def test_nothing_that_changed_is_lost(seed: int) -> None:
    then, now = changed(seed)
    assert lost(now, page_of(now, then), then) == []


@pytest.mark.parametrize("seed", range(15))
def test_nothing_of_a_full_record_is_lost_and_it_stands_on_one_sheet(seed: int) -> None:
    survey, then = crowded(seed)
    page = page_of(survey, then)
    assert lost(survey, page, then) == []
    assert height(page) <= SHEET


def test_what_changed_and_is_no_part_of_a_movement_is_named_too() -> None:
    then, now = (loaded(path) for path in SAMPLES[1:3])
    answer = answer_of(now, library(), NOW, then)
    assert answer.since is not None
    alone = answer._replace(since=answer.since._replace(moved=()))
    told = _Page(answer, now, library())._told
    there = part_of(list(_Page(alone, now, library())._changed(told)), "changed")
    layout = layout_of(now, library())
    changed = [name_of(c.new, layout) for c in answer.since.comparison.of("changed")]
    assert len(changed) > 3
    assert [name for name in changed if not is_named(name, there)] == []


def pieces(page: list[Block], id: str) -> Iterator[list[Block]]:
    """The page without one thing of a part, each in turn."""
    here = ""
    for n, block in enumerate(page):
        here = block.id if isinstance(block, Heading) else here
        if here == id and isinstance(block, Items):
            for one in block.items:
                rest = tuple(item for item in block.items if item is not one)
                yield [*page[:n], Items(rest), *page[n + 1 :]]
        elif here == id and isinstance(block, Paragraph):
            for name in re.split("; |: ", block.text.rstrip("."))[1:]:
                less = Paragraph(block.text.replace(name, "", 1))
                yield [*page[:n], less, *page[n + 1 :]]


@pytest.mark.parametrize("seed", [0, 2, 4, 7, 12])
def test_each_thing_that_the_page_would_drop_is_missed(seed: int) -> None:
    """The twin that must fail: the page without any one of what it names."""
    survey, then = crowded(seed)
    page = page_of(survey, then)
    count = 0
    for id in ("decides", "unseen", "opinions"):
        for less in pieces(page, id):
            assert lost(survey, less, then), id
            count += 1
    assert count > 3


def test_each_change_that_the_page_would_drop_is_missed() -> None:
    then, now = (loaded(path) for path in SAMPLES[1:3])
    page = page_of(now, then)
    (part,) = (b for b in page if isinstance(b, Paragraph) and b.text.startswith("Part of that"))
    names = part.text.partition(": ")[2].rstrip(".").split("; ")
    assert len(names) > 3
    for name in names:
        less = Paragraph(part.text.replace(name, ""))
        assert lost(now, [less if b is part else b for b in page], then), name


@each_sample
def test_nothing_of_a_sample_is_lost(path) -> None:  # type: ignore[no-untyped-def]
    survey = loaded(path)
    assert lost(survey, page_of(survey)) == []


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


@pytest.mark.parametrize("room", [ROOMS[0], ROOMS[-4], ROOMS[-1]])
def test_metal_that_a_caliper_found_thin_is_named_in_every_room(room: Room) -> None:
    pitted = survey_of({"pitting/left/clean": ["0.120"], "pitting/left/pitted": ["0.090"]})
    answer = answer_of(pitted, library(), NOW)
    (deep,) = answer.verdict.deep
    front = _Page(answer, pitted, library()).front(room, "foot")
    there = part_of(list(front.blocks), "decides")
    name = name_of(deep.finding, layout_of(pitted, library())).lower()
    assert (name if room.seen == BY_PLACE else "the left rail's worst pit") in there
    less = answer._replace(verdict=answer.verdict._replace(deep=()))
    page = _Page(less, pitted, library()).front(room, "foot")
    assert part_of(list(page.blocks), "decides") == "", "the twin"


def test_rooms_grow_smaller_one_thing_after_another() -> None:
    assert all(a.rows >= b.rows and a.share >= b.share for a, b in pairwise(ROOMS))
    assert [r.reasons for r in ROOMS] == sorted((r.reasons for r in ROOMS), reverse=True)
    assert [r.opinions for r in ROOMS] == sorted((r.opinions for r in ROOMS), reverse=True)
    assert [r.seen for r in ROOMS] == sorted((r.seen for r in ROOMS), reverse=True)


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
