"""No prompt and no move of an exposed page before its gate: every page of every layout, however the
car stands.

What is expected is written down in tests/survey/exposures_by_hand.py from the pages, and here from
the rule itself; nothing of it is taken from what the content declares.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from functools import lru_cache

import pytest

from tests.survey.exposures_by_hand import BY_HAND, CAUTION, COVERS, NEAR, NONE
from wizard.library import load_library
from wizard.library.shapes import CALLED, Layout, Library, Step
from wizard.survey.guide import Ask, Person, asks_of, front, guide_of, pages
from wizard.survey.prompts import expand
from wizard.survey.record import Survey
from wizard.survey.rows import Ack, Answer, Look, Skip, State

AT = datetime(2026, 4, 11, 12, 0, 0)
PUSH = "set-supports/push"
SETS = ("set-supports", "jack-places")
"""The page of the supports, and the place at which the metal is looked at before anything is lifted."""
ENGINE = ("in", "weight-off", "out")
BODY = ("bolted", "loosened", "off")
SUPPORTS = ("wheels", "stands-under-axles", "stands-under-frame", "three-points", "")
SITUATIONS = (
    *(
        "fresh",
        "next-day",
        "pause",
        "finished",
        "lowered",
        "rocks",
        "skipped",
        "unpushed",
        "struck",
        "person",
    ),
    *("unseen", "bad"),
)
METAL = tuple(
    f"set-supports/{side}/{end}-metal" for side in ("left", "right") for end in ("front", "rear")
)
STALE = ("next-day", "pause", "lowered", "unpushed", "struck")
STATES = tuple(itertools.product(ENGINE, BODY, SUPPORTS))


def stands_as(engine: str, body: str, supports: str) -> str:
    """How it stands, by the rule: what nobody has said is taken for a lifted car."""
    if supports == "wheels":
        return "wheels"
    return "bare" if (engine, body) == ("out", "off") else "lifted"


def hand(step: str) -> frozenset[str]:
    return BY_HAND.get(step, frozenset())


def to_read(step: str, how: str) -> set[str]:
    """What must be read before the page.

    On the page of the supports the car is rolled in and let down as well.
    """
    ways = {how, "wheels"} if step in SETS else {how}
    wanted = {CAUTION[e, w] for w in ways for e in hand(step) if (e, w) in CAUTION}
    return wanted - {"beside", "beside-bare"} if wanted & COVERS else wanted


def waits(step: str, state: tuple[str, str, str], situation: str) -> bool:
    """Whether nobody may be near the car for it until the supports are seen to."""
    near, how = hand(step) & NEAR, stands_as(*state)
    if step in SETS or not near:
        return False
    tips = state[2] == "three-points" and how != "bare"
    if tips or situation == "rocks":
        return True
    ways = {how, "wheels"} if state[2] == "" else {how}
    unknown = situation in (*STALE, "skipped", "unseen", "bad") or state[2] == ""
    if situation in ("unseen", "bad") and state[2] == "wheels":  # nothing stands under it
        return False
    return unknown and any((e, w) in CAUTION for w in ways for e in near)


@lru_cache(maxsize=16)
def stood(state: tuple[str, str, str], situation: str, layout: str) -> Survey:
    """A survey in which everything was read and pushed, and then what the situation says happened.

    One for every page that is asked in it: it is a value, and keeps its guide.
    """
    engine, body, supports = state
    standing = f"{engine}/{body}/{supports}"
    then = {"next-day": AT - timedelta(days=1), "pause": AT - timedelta(hours=2)}.get(situation, AT)
    survey = Survey(layout=layout).with_row(
        State(id="s1", at=then, engine=engine, body=body, supports=supports)
    )
    for look in METAL if situation != "unseen" else ():
        seen = "rusted-there" if situation == "bad" and look == METAL[-1] else "nothing-found"
        row_id = survey.new_id(Look)
        survey = survey.with_row(Look(id=row_id, at=then, prompt=look, seen="bare", answer=seen))
    if situation not in ("skipped", "unpushed"):
        said = "rocks" if situation == "rocks" else "still"
        struck = "a slip" if situation == "struck" else ""
        row = Answer(
            id=survey.new_id(Answer),
            at=then,
            prompt=PUSH,
            answer=said,
            standing=standing,
            struck=struck,
        )
        survey = survey.with_row(row)
    if situation not in ("fresh", "rocks"):  # he has read everything there is, once
        by = "owner" if situation == "person" else "helper"
        for caution in load_library().cautions:
            row_id = survey.new_id(Ack)
            survey = survey.with_row(
                Ack(id=row_id, at=then, by=by, caution=caution, standing=standing)
            )
    if situation == "skipped":
        survey = survey.with_row(Skip(id=survey.new_id(Skip), at=AT, prompt=PUSH, why="alone"))
    if situation == "lowered":
        id = survey.new_id(Answer)
        survey = survey.with_row(
            Answer(id=id, at=AT, prompt="lower-engine/engine", answer=engine, keeps="state.engine")
        )
    return survey


def met(survey: Survey, library: Library, target: Ask) -> tuple[list[str], Ask]:
    """The cautions on the way to the target, each read, and what is asked behind them."""
    person, read = Person("helper", AT, target.prompt.step, survey.last_number()), []
    while True:
        here = front(survey, library, target, person)
        if not here.prompt.kind.acknowledges:
            return read, here
        read.append(here.prompt.caution)
        assert len(read) < 20, read
        survey = having_read(survey, read[-1])


_READ: dict[tuple[int, str], tuple[Survey, Survey]] = {}
"""By a survey and a caution, that survey and the one in which the helper has read it."""


def having_read(survey: Survey, caution: str) -> Survey:
    """The survey once the helper has read it: one value, whichever page he is on his way to."""
    if (id(survey), caution) not in _READ:
        state = survey.state()
        standing = f"{state.engine}/{state.body}/{state.supports}"
        row = Ack(id=survey.new_id(Ack), at=AT, by="helper", caution=caution, standing=standing)
        _READ[id(survey), caution] = survey, survey.with_row(row)
    return _READ[id(survey), caution][1]


def targets(library: Library) -> Iterator[tuple[str, Ask]]:
    """The first prompt of each page; of a page that several layouts have alike, once."""
    seen = set()
    for layout in library.layouts.values():
        for step in library.steps.values():
            prompts = expand(step, layout, library.tools)
            key = step.id, tuple(p.id for p in prompts)
            if prompts and key not in seen:
                seen.add(key)
                yield layout.id, Ask(prompts[0])


def check(
    library: Library, layout: str, target: Ask, state: tuple[str, str, str], situation: str
) -> None:
    """The gates of one page, as this car stands, in this situation."""
    survey, step = stood(state, situation, layout), target.prompt.step
    read, asked = met(survey, library, target)
    where = step, state, situation
    if waits(step, state, situation):
        assert asked.prompt.step == "set-supports", where
        holds = [id for id in read if id.startswith("hold-")]
        assert holds == read[:1] or (not holds and survey.standing(Ack) and situation != "rocks"), (
            where
        )
        return
    assert asked == target, where
    still_read = situation in (
        "finished",
        "skipped",
        "struck",
        "unpushed",
        "unseen",
        "bad",
    )  # nothing came between
    expected = set() if still_read else to_read(step, stands_as(*state))
    assert {id for id in read if not id.startswith("hold-")} == expected, where


LIBRARY = load_library()


def test_the_table_and_the_pages_are_the_same_ones() -> None:
    assert sorted((*BY_HAND, *NONE)) == sorted(LIBRARY.steps)


@pytest.mark.parametrize("step", sorted(LIBRARY.steps))
def test_a_page_declares_what_its_own_words_expose_to(step: str) -> None:
    page = LIBRARY.steps[step]
    declared = {*page.exposes, *(e for p in page.prompts for e in p.exposes)}
    assert declared == hand(step)
    assert bool(page.unexposed) == (step in NONE)


@pytest.mark.parametrize("situation", SITUATIONS)
def test_no_prompt_of_an_exposed_page_before_its_gate(situation: str) -> None:
    every = list(targets(LIBRARY))
    for state in STATES:
        _READ.clear()
        for layout, target in every:
            check(LIBRARY, layout, target, state, situation)
    assert len(every) > 80


def test_on_a_car_that_stands_each_page_of_the_course_is_the_same_page() -> None:
    """The pages above are taken one by one; walked through the guide they are the same, in each
    layout.
    """
    for layout in LIBRARY.layouts.values():
        survey = stood(("in", "loosened", "stands-under-frame"), "fresh", layout.id)
        for page in pages(survey, LIBRARY, AT):
            for ask in asks_of(page):
                read, asked = met(survey, LIBRARY, ask)
                assert asked == ask
                assert set(read) == to_read(page.step.id, "lifted"), ask.prompt.id


@pytest.mark.parametrize("step", ["horns", "sag-loaded"])
def test_on_the_way_to_a_held_page_the_supports_are_read_about_as_on_the_way_to_themselves(
    step: str,
) -> None:
    survey = stood(("in", "loosened", "stands-under-frame"), "next-day", "straight-ladder")
    target = next(t for _, t in targets(LIBRARY) if t.prompt.step == step)
    read, asked = met(survey, LIBRARY, target)
    assert asked.prompt.step == "set-supports"
    assert read[0] == "hold-stale"
    assert read[1:] == met(survey, LIBRARY, asked)[0]
    assert set(read[1:]) == to_read("set-supports", "lifted")


def test_at_a_place_each_look_waits_for_no_more_than_was_read_before_the_place() -> None:
    """Whatever is asked at a place by itself is asked by whoever has read what stands before it."""
    met_places = set()
    for layout in LIBRARY.layouts.values():
        survey = stood(("in", "loosened", "stands-under-frame"), "fresh", layout.id)
        for also in LIBRARY.also.values():
            row = Answer(survey.new_id(Answer), at=AT, prompt=also.call.prompt, answer=CALLED)
            survey = survey.with_row(row)
        for stop in guide_of(survey, LIBRARY).walk(AT):
            if stop.place is None:
                continue
            met_places.add(stop.step.id)
            read, asked = met(survey, LIBRARY, Ask(stop.place))
            assert asked == Ask(stop.place)
            assert set(read) == to_read(stop.step.id, "lifted")
            for part in stop.place.parts:
                assert to_read(part.look.step, "lifted") <= set(read), part.look.id
    assert met_places == {s.id for s in LIBRARY.steps.values() if s.gathers}


@pytest.mark.parametrize("exposure", ["under", "string", "lifting"])
def test_one_exposure_taken_out_of_one_page_is_seen(exposure: str) -> None:
    """The table above must be able to fail."""
    step = next(s for s in LIBRARY.steps.values() if exposure in s.exposes and s.id not in SETS)
    less: Step = step._replace(exposes=tuple(e for e in step.exposes if e != exposure))
    library = replace(LIBRARY, steps={**LIBRARY.steps, step.id: less})
    layout: Layout = next(iter(library.layouts.values()))
    target = Ask(expand(less, layout, library.tools)[0])
    with pytest.raises(AssertionError, match=step.id):
        check(library, layout.id, target, ("in", "loosened", "stands-under-frame"), "fresh")
