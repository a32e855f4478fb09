"""Which steps apply to the car as it stands, what stands in for those that do not, and which prompt
is next.
"""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from tests.survey.asking import AT, prompt_of, taken, with_sound_metal
from wizard.library import load_library
from wizard.library.shapes import Library, Need
from wizard.library.templates import belongs
from wizard.survey.guide import (
    Ask,
    Page,
    Person,
    asks_of,
    course_name,
    front,
    is_open,
    need_met,
    next_ask,
    pages,
    wanting,
)
from wizard.survey.record import Survey
from wizard.survey.rows import SECOND, Ack, Look, Reading, Skip, State
from wizard.survey.standing import standing_of

pytestmark = pytest.mark.quick

TOMORROW = AT + timedelta(days=1)
PUSHED = prompt_of(load_library(), "set-supports/push")


def _page(survey: Survey, library: Library, step: str, today: datetime = AT) -> Page:
    return next(p for p in pages(survey, library, today) if p.step.id == step)


def _in_state(**fields: str) -> Survey:
    return Survey().with_row(State(id="s1", **fields))


def _ids(page: Page) -> list[str]:
    return [p.id for p in page.prompts]


# Steps that drop out
# ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("state", "step", "gone", "says"),
    [
        ({"body": "bolted"}, "long-diagonals", True, "from below"),
        ({"body": "bolted"}, "diagonals-below", False, ""),
        ({"body": "loosened"}, "long-diagonals", False, ""),
        ({"body": "loosened"}, "diagonals-below", False, ""),
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


def test_a_body_that_is_on_with_slack_bolts_has_its_diagonals_taped_from_below(
    library: Library,
) -> None:
    """Floor and engine are in the way from above: that page comes second, and once the first was read
    it is read already.
    """
    survey = _in_state(body="loosened", engine="in")
    order = [p.step.id for p in pages(survey, library, AT)]
    assert order.index("diagonals-below") < order.index("long-diagonals")
    for name in ("front-left--rear-right", "front-right--rear-left"):
        row = Reading(
            id=survey.new_id(Reading), prompt=f"diagonals-below/whole/{name}", typed="2300"
        )
        survey = survey.with_row(row)
    assert "read already" in _page(survey, library, "long-diagonals").gone


def test_what_nobody_has_said_rules_nothing_out(library: Library) -> None:
    assert [p.step.id for p in pages(Survey(), library, AT) if p.gone] == []


def test_every_step_that_can_drop_out_says_why(library: Library) -> None:
    for step in library.steps.values():
        for need in step.needs:
            assert need.instead or step.instead, step.id


def test_a_step_begun_stays_when_the_state_changes(library: Library) -> None:
    survey = taken(_in_state(engine="in"), prompt_of(library, "sag-loaded/center/left"), "1/2")
    survey = taken(survey, prompt_of(library, "lift-engine/engine"), "w")
    assert survey.state().engine == "weight-off"
    assert not _page(survey, library, "sag-loaded").gone
    assert not _page(survey, library, "lift-engine").gone
    assert not _page(survey, library, "sag-unloaded").gone


def test_a_step_of_another_layout_drops_out(library: Library) -> None:
    odd = library.steps["horns"]._replace(layouts=("cruciform",), instead="")
    other = replace(library, steps={**library.steps, "horns": odd})
    page = _page(Survey(), other, "horns")
    assert (page.prompts, page.gone) == ((), "This kind of frame has no such place.")


def test_a_layout_that_the_content_lacks_falls_back_as_the_checks_do(library: Library) -> None:
    assert _ids(_page(replace(Survey(), layout="gone"), library, "widths")) == _ids(
        _page(Survey(), library, "widths")
    )


# Needs of a prompt
# --------------------------------------------------------------------------------------------


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
        (
            Survey()
            .with_row(Look(id="k1", prompt="x/y", answer="rust"))
            .with_row(Look(id="k2", prompt="x/y")),
            False,
        ),
        (
            Survey().with_row(Look(id="k1", prompt="x/y", answer="nothing-found", struck="slip")),
            True,
        ),
    ],
)
def test_a_need_for_a_look(survey: Survey, met: bool) -> None:
    assert need_met(survey, Need("x/y", ("crack",))) is met


def test_a_need_for_a_state_reads_the_state_now() -> None:
    need = Need("state.engine", ("in",))
    assert need_met(_in_state(engine="in"), need)
    assert not need_met(_in_state(engine="in").with_row(State(id="s2", engine="out")), need)


# The order of asking
# ------------------------------------------------------------------------------------------


def test_repeats_of_a_box_alternate(library: Library) -> None:
    page = _page(_in_state(body="off"), library, "long-diagonals")
    a, b = _ids(page)
    assert [(k.prompt.id, k.nth) for k in asks_of(page)] == [(a, 1), (b, 1), (a, 2), (b, 2)]


def test_what_is_read_once_is_asked_once_between_the_repeats(library: Library) -> None:
    asks = [
        (a.prompt.id.rsplit("/", 1)[1], a.nth) for a in asks_of(_page(Survey(), library, "horns"))
    ]
    crosses = ["tip-left--front-right", "tip-right--front-left"]
    assert [i for i, _ in asks[:2]] == crosses
    assert asks[-2:] == [(c, 2) for c in crosses]
    assert all(nth == 1 for _, nth in asks[2:-2])


def test_a_prompt_that_stands_alone_is_repeated_before_the_next(library: Library) -> None:
    asks = list(asks_of(_page(Survey(), library, "front-box-bar")))
    assert [(a.prompt.id.split("/")[1], a.nth) for a in asks] == [
        ("front-right--center-left", 1),
        ("front-right--center-left", 2),
        ("front-right--center-left", 3),
        ("closing", 1),
    ]


# Cautions -----------------------------------------------------------------------------------------
# ------------

STANDING = {"engine": "in", "body": "loosened", "supports": "stands-under-frame"}
LOADED = ["going-under", "string", "old-paint"]
"""What is read before the sag with the engine's weight on, of a car on stands."""


def _pushed(*cautions: str, at: datetime = AT, **fields: str) -> Survey:
    """A car that was pushed and stood still, and what its owner has read."""
    survey = with_sound_metal(_in_state(**STANDING | fields))
    return _read(taken(survey, PUSHED, "s", at=at), *cautions, at=at)


def _read(survey: Survey, *cautions: str, at: datetime = AT, by: str = "owner") -> Survey:
    for caution in cautions:
        row = Ack(
            id=survey.new_id(Ack),
            at=at,
            by=by,
            caution=caution,
            standing=standing_of(survey.state()),
        )
        survey = survey.with_row(row)
    return survey


def _ask(library: Library, id: str, nth: int = 1) -> Ask:
    return Ask(prompt_of(library, id), nth)


def _to_read(
    survey: Survey,
    library: Library,
    id: str,
    *,
    now: datetime = AT,
    by: str = "owner",
    since: int | None = None,
) -> list[str]:
    """The cautions before a prompt, each read in its turn, until the prompt itself is in front."""
    target, read = _ask(library, id), []
    person = Person(by, now, target.prompt.step, survey.last_number() if since is None else since)
    while (here := front(survey, library, target, person)) != target:
        assert here.prompt.kind.acknowledges, here.prompt.id
        read.append(here.prompt.caution)
        assert len(read) < 20, read
        survey = _read(survey, read[-1], at=now, by=by)
    return read


HERE = "sag-loaded/front-crossmember/left"


def test_no_page_has_a_caution_among_its_prompts(library: Library) -> None:
    assert [
        p.id for page in pages(Survey(), library, AT) for p in page.prompts if p.kind.acknowledges
    ] == []


def test_every_caution_comes_before_every_reading_of_its_step(library: Library) -> None:
    survey = _pushed()
    page = _page(survey, library, "sag-loaded")
    assert len(page.prompts) > 8
    for ask in asks_of(page):
        assert _to_read(survey, library, ask.prompt.id) == LOADED


def test_what_was_read_is_not_read_again_in_the_same_sitting(library: Library) -> None:
    assert _to_read(_pushed("string", "going-under"), library, HERE) == ["old-paint"]
    assert _to_read(_pushed(*LOADED), library, HERE) == []


def test_what_another_page_has_read_holds_for_this_one_too(library: Library) -> None:
    survey = _pushed(*LOADED)
    assert _to_read(survey, library, "widths/front/front-left--front-right") == ["sharp-points"]


@pytest.mark.parametrize("later", [TOMORROW, AT + timedelta(hours=2)])
def test_on_another_day_or_after_two_hours_the_gate_comes_before_the_next_reading(
    library: Library, later: datetime
) -> None:
    survey = taken(_pushed(*LOADED), prompt_of(library, HERE), "1/2")
    target = _ask(library, "sag-loaded/mid-engine/left")
    assert front(survey, library, target, Person("owner", AT)) == target
    held = front(survey, library, target, Person("owner", later))
    assert held.prompt.caution == "hold-stale"
    pushed_again = taken(survey, PUSHED, "s", at=later)
    assert _to_read(pushed_again, library, target.prompt.id, now=later) == LOADED


def test_what_one_has_read_another_has_not(library: Library) -> None:
    survey = _pushed(*LOADED)
    assert _to_read(survey, library, HERE, by=SECOND) == LOADED
    both = _read(survey, *LOADED, by=SECOND)
    assert _to_read(both, library, HERE) == _to_read(both, library, HERE, by=SECOND) == []


def test_after_a_change_of_the_car_it_is_read_again(library: Library) -> None:
    survey = taken(_pushed(*LOADED), prompt_of(library, "state/body"), "l")
    survey = taken(survey, PUSHED, "s")
    assert _to_read(survey, library, HERE) == LOADED


def test_what_is_changed_on_the_page_itself_does_not_void_what_was_read_there(
    library: Library,
) -> None:
    read = _to_read(_pushed(), library, "lift-engine/engine")
    assert read[0] == "jacking"
    survey = _read(_pushed(), *read)
    since = survey.last_number()
    lifted = taken(survey, prompt_of(library, "lift-engine/engine"), "w")
    assert _to_read(lifted, library, "lift-engine/push", since=since) == []


def test_on_its_wheels_other_cautions_are_read_than_on_stands(library: Library) -> None:
    wheels = _pushed(supports="wheels")
    bare = _pushed(engine="out", body="off", supports="three-points")
    assert _to_read(wheels, library, "level/rear/as-set") == ["under-on-wheels"]
    assert _to_read(bare, library, "level/rear/as-set") == ["under-bare"]
    assert _to_read(_pushed(), library, "level/rear/as-set") == ["going-under"]


def test_a_page_that_is_done_shows_its_gate_too(library: Library) -> None:
    survey = _pushed()
    for id in _ids(_page(survey, library, "sag-loaded")):
        survey = survey.with_row(Skip(id=survey.new_id(Skip), at=AT, prompt=id, why="no string"))
    assert _to_read(survey, library, HERE) == LOADED


def test_what_is_next_knows_nothing_of_cautions(library: Library) -> None:
    here = _ask(library, HERE)
    survey = taken(_pushed(), here.prompt, "1/2")
    for now in (AT, TOMORROW):
        assert next_ask(survey, library, now, here) == _ask(library, "sag-loaded/mid-engine/left")


def test_a_page_may_be_passed_over_as_long_as_there_is_another(library: Library) -> None:
    here = _ask(library, HERE)
    after = next_ask(_pushed(), library, AT, here, past={"sag-loaded"})
    assert after is not None
    assert after.prompt.step == "lift-engine"
    survey = _pushed()
    for page in pages(survey, library, AT):
        for id in _ids(page):
            if not id.startswith("sag-loaded/") and id != PUSHED.id:
                survey = survey.with_row(Skip(id=survey.new_id(Skip), at=AT, prompt=id, why="test"))
    assert next_ask(survey, library, AT, here, past={"sag-loaded"}) == here


# What is open
# -------------------------------------------------------------------------------------------------


def test_a_reading_is_open_until_it_is_read_or_skipped(library: Library) -> None:
    id = "long-diagonals/whole/front-left--rear-right"
    prompt = prompt_of(library, id)
    once = taken(Survey(), prompt, "91")
    assert [is_open(once, Ask(prompt, n)) for n in (1, 2)] == [False, True]
    assert wanting(once, prompt)
    skipped = once.with_row(Skip(id="p9", prompt=id, why="tank"))
    assert not is_open(skipped, Ask(prompt, 2))
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
    layout = library.layouts[short.layout]
    asked = (id for id in library.courses["short"] if not library.steps[id].called)
    here = [id for id in asked if belongs(library.steps[id], layout)]
    assert [p.step.id for p in pages(short, library, AT)] == here


def test_from_a_step_that_the_course_lacks_one_goes_on_from_its_top(library: Library) -> None:
    short = taken(Survey(), prompt_of(library, "about-the-car/course"), "s")
    assert next_ask(
        short, library, AT, _ask(library, "widths/front/front-left--front-right")
    ) == _ask(library, "about-the-car/car")


def test_two_distances_read_twice_alternate_too(library: Library) -> None:
    """Left, right, left, right, as on every other page: a slip of the hand does not repeat itself."""
    asks = [(a.prompt.id, a.nth) for a in asks_of(_page(Survey(), library, "wheelbase"))][:5]
    left, right = "wheelbase/left", "wheelbase/right"
    assert asks == [(left, 1), (right, 1), (left, 2), (right, 2), ("wheelbase/front-axle-left", 1)]
