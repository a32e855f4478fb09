"""Which steps apply to the car as it stands, what stands in for those that do not, and which prompt is next."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from tests.survey.asking import AT, prompt_of, taken
from wizard.library.shapes import Library, Need
from wizard.survey.guide import Ask, Page, asks_of, course_name, is_open, need_met, next_ask, pages, wanting
from wizard.survey.record import Survey
from wizard.survey.rows import Ack, Look, Skip, State

TOMORROW = AT + timedelta(days=1)


def _page(survey: Survey, library: Library, step: str, today: datetime = AT) -> Page:
    return next(p for p in pages(survey, library, today) if p.step.id == step)


def _in_state(**fields: str) -> Survey:
    return Survey().with_row(State(id="s1", **fields))


def _ids(page: Page) -> list[str]:
    return [p.id for p in page.prompts if p.kind != "ack"]


# Steps that drop out ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("state", "step", "gone", "says"),
    [
        ({"body": "bolted"}, "long-diagonals", True, "from below"),
        ({"body": "bolted"}, "diagonals-below", False, ""),
        ({"body": "loosened"}, "long-diagonals", False, ""),
        ({"body": "loosened"}, "diagonals-below", True, "from above"),
        ({"body": "off"}, "diagonals-below", True, "from above"),
        ({"engine": "out"}, "sag-loaded", True, "weight is off"),
        ({"engine": "out"}, "lift-engine", True, "already off"),
        ({"engine": "out"}, "lower-engine", True, "nothing to let down"),
        ({"engine": "out"}, "sag-unloaded", False, ""),
        ({"engine": "in"}, "sag-loaded", False, ""),
        ({"engine": "in"}, "sag-unloaded", True, "still on"),
        ({"engine": "weight-off"}, "sag-loaded", True, "weight is off"),
        ({"engine": "weight-off"}, "lower-engine", False, ""),
    ],
)
def test_a_step_that_does_not_apply_says_what_stands_in(
    library: Library, state: dict[str, str], step: str, gone: bool, says: str
) -> None:
    page = _page(_in_state(**state), library, step)
    assert bool(page.gone) is gone
    assert (page.prompts == ()) is gone
    assert says in page.gone


def test_what_nobody_has_said_rules_nothing_out(library: Library) -> None:
    assert [p.step.id for p in pages(Survey(), library, AT) if p.gone] == []


def test_every_step_that_can_drop_out_says_why(library: Library) -> None:
    for step in library.steps.values():
        for need in step.needs:
            assert need.instead or step.instead, step.id


def test_a_step_begun_stays_when_the_state_changes(library: Library) -> None:
    survey = taken(_in_state(engine="in"), prompt_of(library, "sag-loaded/centre/left"), "1/2")
    survey = taken(survey, prompt_of(library, "lift-engine/engine"), "w")
    assert survey.state().engine == "weight-off"
    assert not _page(survey, library, "sag-loaded").gone
    assert not _page(survey, library, "lift-engine").gone
    assert not _page(survey, library, "sag-unloaded").gone


def test_a_step_of_another_layout_drops_out(library: Library) -> None:
    odd = replace(library.steps["horns"], layouts=("cruciform",), instead="")
    other = replace(library, steps={**library.steps, "horns": odd})
    page = _page(Survey(), other, "horns")
    assert (page.prompts, page.gone) == ((), "This kind of frame has no such place.")


def test_a_layout_that_the_content_lacks_falls_back_as_the_checks_do(library: Library) -> None:
    assert _ids(_page(replace(Survey(), layout="gone"), library, "widths")) == _ids(_page(Survey(), library, "widths"))


# Needs of a prompt --------------------------------------------------------------------------------------------


def test_a_prompt_asks_further_only_where_something_was_seen(library: Library) -> None:
    look = prompt_of(library, "rail-tops/left")
    assert "rail-tops/left/where" in _ids(_page(Survey(), library, "rail-tops"))
    clean, pitted = taken(Survey(), look, "b o"), taken(Survey(), look, "b l")
    assert "rail-tops/left/where" not in _ids(_page(clean, library, "rail-tops"))
    assert "rail-tops/left/where" in _ids(_page(pitted, library, "rail-tops"))
    assert "rail-tops/right/where" in _ids(_page(clean, library, "rail-tops"))


@pytest.mark.parametrize(
    ("survey", "met"),
    [
        (Survey(), True),
        (Survey().with_row(Skip(id="p1", prompt="x/y", why="no")), False),
        (Survey().with_row(Look(id="k1", prompt="x/y", answer="crack")), True),
        (Survey().with_row(Look(id="k1", prompt="x/y", answer="nothing-found")), False),
        (Survey().with_row(Look(id="k1", prompt="x/y", answer="rust")).with_row(Look(id="k2", prompt="x/y")), False),
        (Survey().with_row(Look(id="k1", prompt="x/y", answer="nothing-found", struck="slip")), True),
    ],
)
def test_a_need_for_a_look(survey: Survey, met: bool) -> None:
    assert need_met(survey, Need("x/y", ("crack",))) is met


def test_a_need_for_a_state_reads_the_state_now() -> None:
    need = Need("state.engine", ("in",))
    assert need_met(_in_state(engine="in"), need)
    assert not need_met(_in_state(engine="in").with_row(State(id="s2", engine="out")), need)


# The order of asking ------------------------------------------------------------------------------------------


def test_repeats_of_a_box_alternate(library: Library) -> None:
    page = _page(_in_state(body="off"), library, "long-diagonals")
    a, b = _ids(page)
    assert [(k.prompt.id, k.nth) for k in asks_of(page)] == [(a, 1), (b, 1), (a, 2), (b, 2)]


def test_what_is_read_once_is_asked_once_between_the_repeats(library: Library) -> None:
    asks = [(a.prompt.id.rsplit("/", 1)[1], a.nth) for a in asks_of(_page(Survey(), library, "horns"))]
    crosses = ["tip-left--front-right", "tip-right--front-left"]
    assert [i for i, _ in asks[:2]] == crosses
    assert asks[-2:] == [(c, 2) for c in crosses]
    assert all(nth == 1 for _, nth in asks[2:-2])


def test_a_prompt_that_stands_alone_is_repeated_before_the_next(library: Library) -> None:
    asks = [a for a in asks_of(_page(Survey(), library, "front-box-bar")) if a.prompt.kind != "ack"]
    assert [(a.prompt.id.split("/")[1], a.nth) for a in asks] == [
        ("front-right--centre-left", 1),
        ("front-right--centre-left", 2),
        ("front-right--centre-left", 3),
        ("closing", 1),
    ]


# Cautions -----------------------------------------------------------------------------------------------------


def _acked(*cautions: str, at: datetime = AT) -> Survey:
    survey = Survey()
    for caution in cautions:
        survey = survey.with_row(Ack(id=survey.new_id(Ack), at=at, caution=caution))
    return survey


def test_every_caution_comes_before_every_reading_of_its_step(library: Library) -> None:
    for page in pages(Survey(), library, AT):
        kinds = [p.kind == "ack" for p in page.prompts]
        assert kinds == sorted(kinds, reverse=True)
        assert [p.caution for p in page.prompts if p.kind == "ack"] == list(page.step.cautions)


def test_a_caution_holds_for_the_day(library: Library) -> None:
    survey = _acked("string", "going-under")
    assert [p.kind for p in _page(survey, library, "sag-loaded").prompts if p.kind == "ack"] == []
    again = [p.caution for p in _page(survey, library, "sag-loaded", TOMORROW).prompts if p.kind == "ack"]
    assert again == ["string", "going-under"]


def test_a_step_that_is_done_asks_for_no_caution(library: Library) -> None:
    survey = Survey()
    for id in _ids(_page(survey, library, "sag-loaded")):
        survey = survey.with_row(Skip(id=survey.new_id(Skip), prompt=id, why="no string"))
    assert [p.kind for p in _page(survey, library, "sag-loaded", TOMORROW).prompts if p.kind == "ack"] == []


def _ask(library: Library, id: str, nth: int = 1) -> Ask:
    return Ask(prompt_of(library, id), nth)


def test_after_a_caution_comes_its_own_step(library: Library) -> None:
    ack = next(a for a in asks_of(_page(Survey(), library, "sag-loaded")) if a.prompt.caution == "string")
    second = next_ask(_acked("string"), library, AT, ack)
    assert second is not None
    assert (second.prompt.step, second.prompt.caution) == ("sag-loaded", "going-under")
    third = next_ask(_acked("string", "going-under"), library, AT, second)
    assert third == _ask(library, "sag-loaded/front-crossmember/left")


def test_on_another_day_the_caution_comes_before_the_next_reading(library: Library) -> None:
    here = prompt_of(library, "sag-loaded/front-crossmember/left")
    survey = taken(_acked("string", "going-under"), here, "1/2")
    assert next_ask(survey, library, AT, Ask(here)) == _ask(library, "sag-loaded/mid-engine/left")
    again = next_ask(survey, library, TOMORROW, Ask(here))
    assert again is not None
    assert again.prompt.caution == "string"


def test_passing_over_a_caution_passes_over_its_step(library: Library) -> None:
    ack = next(a for a in asks_of(_page(Survey(), library, "sag-loaded")) if a.prompt.kind == "ack")
    after = next_ask(Survey(), library, AT, ack)
    assert after is not None
    assert after.prompt.step == "lift-engine"


# What is open -------------------------------------------------------------------------------------------------


def test_a_reading_is_open_until_it_is_read_or_skipped(library: Library) -> None:
    id = "long-diagonals/whole/front-left--rear-right"
    prompt = prompt_of(library, id)
    once = taken(Survey(), prompt, "91")
    assert [is_open(once, Ask(prompt, n), AT) for n in (1, 2)] == [False, True]
    assert wanting(once, prompt)
    skipped = once.with_row(Skip(id="p9", prompt=id, why="tank"))
    assert not is_open(skipped, Ask(prompt, 2), AT)
    assert not wanting(skipped, prompt)


def test_the_last_open_one_comes_from_the_top_and_then_nothing(library: Library) -> None:
    survey = Survey()
    for page in pages(survey, library, AT):
        for id in _ids(page):
            if id != "history/knocked":
                survey = survey.with_row(Skip(id=survey.new_id(Skip), prompt=id, why="test"))
    last = _ask(library, "finish/anything-else")
    assert next_ask(survey, library, AT, last) == _ask(library, "history/knocked")
    done = survey.with_row(Skip(id="p9999", prompt="history/knocked", why="test"))
    assert next_ask(done, library, AT, last) is None
    assert next_ask(done, library, AT) is None


def test_the_short_course_is_chosen_by_its_answer(library: Library) -> None:
    short = taken(Survey(), prompt_of(library, "about-the-car/course"), "s")
    assert (course_name(Survey()), course_name(short)) == ("whole", "short")
    assert [p.step.id for p in pages(short, library, AT)] == list(library.courses["short"])


def test_from_a_step_that_the_course_lacks_one_goes_on_from_its_top(library: Library) -> None:
    short = taken(Survey(), prompt_of(library, "about-the-car/course"), "s")
    assert next_ask(short, library, AT, _ask(library, "widths/front/front-left--front-right")) == _ask(
        library, "about-the-car/car"
    )


def test_two_distances_read_twice_alternate_too(library: Library) -> None:
    """Left, right, left, right, as on every other page: a slip of the hand does not repeat itself."""
    asks = [(a.prompt.id, a.nth) for a in asks_of(_page(Survey(), library, "wheelbase"))][:5]
    left, right = "wheelbase/left", "wheelbase/right"
    assert asks == [(left, 1), (right, 1), (left, 2), (right, 2), ("wheelbase/front-axle-left", 1)]
