"""The push test: what makes it good, what makes it old, and which pages wait or drop out until the
car stands.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from tests.survey.asking import AT, METAL, prompt_of, taken, with_sound_metal
from wizard.library.shapes import Library
from wizard.survey.answer import answer
from wizard.survey.guide import Ask, Page, Person, front, next_ask, pages, supports_ask, wanting
from wizard.survey.record import Survey
from wizard.survey.rows import Ack, Answer, Remark, Row, Skip, State
from wizard.survey.standing import (
    last_push,
    no_sound_place,
    rocks,
    same_sitting,
    stances,
    standing_of,
    unsettled,
    why_held,
    why_refused,
)

pytestmark = pytest.mark.quick

PUSH = "set-supports/push"
TESTS = (PUSH, "lift-engine/push", "lower-engine/push")
MOVED = (
    ("lower-engine/engine", "b"),
    ("lift-engine/engine", "k"),
    ("state/body", "l"),
    ("state/found", "f"),
    ("set-supports/supports", "f"),
)
"""Answers that leave the car as it was said to stand: somebody may have tried, so they make a push
test old too.
"""
NEAR = (
    "level",
    "long-diagonals",
    "sag-loaded",
    "engine-mounts",
    "front-crossmember-cracks",
    "rail-tops",
    "die-marks",
)
"""Pages that put a person under the car or beside it."""
FAR = ("about-the-car", "what-to-bring", "tools", "state", "history", "finish")
"""Pages that keep everybody away from it."""


def stood(**fields: str) -> Survey:
    """A car as it stands, by its state, on sound metal; nobody has pushed it yet."""
    state = {"engine": "in", "body": "loosened", "supports": "stands-under-frame", **fields}
    survey = Survey().with_row(State(id="s1", at=AT, **state))
    for prompt, how in (("state/found", "wheels"), ("set-supports/supports", state["supports"])):
        if state["supports"]:
            id = survey.new_id(Answer)
            survey = survey.with_row(
                Answer(id=id, at=AT, prompt=prompt, answer=how, keeps="state.supports")
            )
    return with_sound_metal(survey)


def nobody_looked() -> Survey:
    """The same, where nobody has looked at the metal."""
    return Survey().with_row(stood().state())


def metal(survey: Survey, library: Library) -> str:
    """Why it is held once it was pushed."""
    return why_held(pushed(library, survey), library, AT)


def said(library: Library, survey: Survey, prompt: str, text: str, at: datetime = AT) -> Survey:
    """The survey after one answer, typed."""
    result = answer(survey, prompt_of(library, prompt), text, at=at, by="owner")
    assert isinstance(result, Survey), result
    return result


def pushed(
    library: Library, survey: Survey, text: str = "s", at: datetime = AT, prompt: str = PUSH
) -> Survey:
    return said(library, survey, prompt, text, at)


def skipped(survey: Survey, prompt: str = PUSH, at: datetime = AT) -> Survey:
    return survey.with_row(Skip(id=survey.new_id(Skip), at=at, prompt=prompt, why="alone today"))


def struck(survey: Survey, prompt: str) -> Survey:
    row = next(r for r in reversed(survey.table(Answer)) if r.prompt == prompt)
    return survey.with_struck(row.id, "a slip")


def there(survey: Survey, library: Library, now: datetime = AT) -> dict[str, Page]:
    return {p.step.id: p for p in pages(survey, library, now)}


def first_before(survey: Survey, library: Library, prompt: str, now: datetime = AT) -> str:
    """What stands before a prompt."""
    return front(survey, library, Ask(prompt_of(library, prompt)), Person("owner", now)).prompt.id


# How it stands
# --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("engine", "body", "supports", "how"),
    [
        ("in", "bolted", "wheels", "wheels"),
        ("out", "off", "wheels", "wheels"),
        ("out", "off", "stands-under-frame", "bare"),
        ("out", "off", "", "bare wheels"),
        ("out", "loosened", "stands-under-frame", "lifted"),
        ("weight-off", "off", "stands-under-frame", "lifted"),
        ("", "", "", "lifted wheels"),
    ],
)
def test_what_nobody_has_said_may_be_on_its_wheels_or_lifted(
    engine: str, body: str, supports: str, how: str
) -> None:
    assert stances(State(id="s1", engine=engine, body=body, supports=supports)) == set(how.split())


def test_three_words_make_a_standing_and_nothing_else_does() -> None:
    state = State(
        id="s1", engine="in", body="off", supports="wheels", fuel="full", temperature="18 C"
    )
    assert standing_of(state) == "in/off/wheels"
    assert standing_of(replace(state, fuel="empty", stood="by the rear axle")) == standing_of(state)


# A push test that holds
# -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("prompt", TESTS)
@pytest.mark.parametrize("text", ["s", "m"])
def test_any_of_the_push_tests_that_stood_still_will_do(
    library: Library, prompt: str, text: str
) -> None:
    survey = pushed(library, stood(), text, prompt=prompt)
    assert survey.standing(Answer)[-1].standing == "in/loosened/stands-under-frame"
    assert why_held(survey, library, AT) == ""
    assert first_before(survey, library, "level/rear/as-set") != "level/caution/hold-unpushed"


def test_nobody_has_pushed_it_yet(library: Library) -> None:
    assert why_held(stood(), library, AT) == "unpushed"
    assert first_before(stood(), library, "level/rear/as-set") == "level/caution/hold-unpushed"


def test_a_push_test_without_its_standing_is_not_taken_for_one_that_holds(library: Library) -> None:
    """A file of an earlier program says that it was pushed, and not how it stood then."""
    survey = stood().with_row(Answer(id="a2", at=AT, prompt=PUSH, answer="still"))
    assert why_held(survey, library, AT) == "changed"


# The sitting --------------------------------------------------------------------------------------
# ------------------


@pytest.mark.parametrize(
    ("later", "why"),
    [
        (timedelta(0), ""),
        (timedelta(hours=1, minutes=59, seconds=59), ""),
        (timedelta(hours=2), "stale"),
        (timedelta(days=1), "stale"),
        (timedelta(days=-1), "stale"),
        (timedelta(hours=-2), "stale"),
    ],
)
def test_two_hours_or_another_date_make_it_old(
    library: Library, later: timedelta, why: str
) -> None:
    assert why_held(pushed(library, stood()), library, AT + later) == why


def test_midnight_makes_it_old_within_the_hour(library: Library) -> None:
    late = datetime(2026, 4, 11, 23, 50)
    survey = pushed(library, stood(), at=late)
    assert why_held(survey, library, late + timedelta(minutes=9)) == ""
    assert why_held(survey, library, late + timedelta(minutes=10)) == "stale"


def test_a_sitting_goes_on_as_long_as_somebody_answers(library: Library) -> None:
    survey = pushed(library, stood())
    for hours in (1, 2, 3):
        survey = survey.with_row(
            Remark(id=survey.new_id(Remark), at=AT + timedelta(hours=hours), text="here")
        )
    assert why_held(survey, library, AT + timedelta(hours=4)) == ""
    assert why_held(survey, library, AT + timedelta(hours=5)) == "stale"


def test_a_pause_in_the_middle_is_not_made_good_by_answers_after_it(library: Library) -> None:
    survey = pushed(library, stood())
    for hours in (3, 4):
        survey = survey.with_row(
            Remark(id=survey.new_id(Remark), at=AT + timedelta(hours=hours), text="here")
        )
    assert why_held(survey, library, AT + timedelta(hours=4)) == "stale"


def test_what_was_answered_before_the_pushing_does_not_count(library: Library) -> None:
    survey = Survey().with_row(Remark(id="m1", at=AT - timedelta(days=3), text="begun"))
    state = replace(stood().state(), id="s2")
    survey = pushed(library, with_sound_metal(survey.with_row(state)))
    assert same_sitting(survey, survey.standing(Answer)[-1], AT)
    assert why_held(survey, library, AT) == ""


def test_a_row_that_was_struck_still_shows_that_somebody_was_there(library: Library) -> None:
    survey = pushed(library, stood())
    hour = Remark(id=survey.new_id(Remark), at=AT + timedelta(hours=1), struck="undone")
    assert why_held(survey.with_row(hour), library, AT + timedelta(hours=2, minutes=30)) == ""


def test_pushed_again_it_holds_again(library: Library) -> None:
    tomorrow = AT + timedelta(days=1)
    survey = pushed(library, pushed(library, stood()), at=tomorrow)
    assert why_held(survey, library, tomorrow) == ""


# The standing -------------------------------------------------------------------------------------
# ------------------


@pytest.mark.parametrize(("prompt", "text"), MOVED)
def test_an_answer_to_engine_body_or_supports_makes_it_old_though_it_says_the_same(
    library: Library, prompt: str, text: str
) -> None:
    survey = pushed(library, stood())
    after = said(library, survey, prompt, text)
    assert standing_of(after.state()) == standing_of(survey.state())
    assert why_held(after, library, AT) == "changed"
    assert why_held(pushed(library, after), library, AT) == ""


@pytest.mark.parametrize(("prompt", "text"), MOVED)
def test_taken_back_it_is_old_all_the_same(library: Library, prompt: str, text: str) -> None:
    """What was typed by mistake cannot be told from what was done and put back."""
    survey = struck(said(library, pushed(library, stood()), prompt, text), prompt)
    assert why_held(survey, library, AT) == "changed"


@pytest.mark.parametrize(
    ("prompt", "text"), [("state/fuel", "f"), ("state/panels", "n"), ("state/temperature", "18 C")]
)
def test_what_does_not_move_the_car_leaves_it_good(
    library: Library, prompt: str, text: str
) -> None:
    assert why_held(said(library, pushed(library, stood()), prompt, text), library, AT) == ""


def test_a_state_changed_in_the_file_by_hand_makes_it_old(library: Library) -> None:
    survey = pushed(library, stood())
    other = State(
        id=survey.new_id(State), at=AT, engine="out", body="loosened", supports="stands-under-frame"
    )
    assert why_held(survey.with_row(other), library, AT) == "changed"


def test_what_was_answered_before_the_pushing_leaves_it_good(library: Library) -> None:
    survey = with_sound_metal(said(library, stood(), "set-supports/supports", "a"))
    assert why_held(pushed(library, survey), library, AT) == ""


# Struck and skipped
# -------------------------------------------------------------------------------------------------


def test_struck_there_is_none_and_the_one_before_it_does_not_come_back(library: Library) -> None:
    once = pushed(library, stood())
    twice = pushed(library, once, prompt="lower-engine/push")
    for survey in (struck(once, PUSH), struck(twice, "lower-engine/push")):
        assert last_push(survey, library) == (None, "")
        assert why_held(survey, library, AT) == "unpushed"
    assert why_held(struck(twice, PUSH), library, AT) == ""


def test_a_rocks_that_is_struck_is_not_a_still(library: Library) -> None:
    survey = struck(pushed(library, pushed(library, stood()), "r"), PUSH)
    assert not rocks(survey, library)
    assert why_held(survey, library, AT) == "unpushed"


@pytest.mark.parametrize("prompt", TESTS)
def test_skipped_nobody_knows(library: Library, prompt: str) -> None:
    assert why_held(skipped(stood(), prompt), library, AT) == "skipped"
    old = said(library, pushed(library, stood()), "lower-engine/engine", "b")
    assert why_held(skipped(old, prompt), library, AT) == "skipped"


def test_a_skip_beside_a_push_test_that_holds_takes_nothing_away(library: Library) -> None:
    assert why_held(skipped(pushed(library, stood()), "lift-engine/push"), library, AT) == ""


def test_a_skip_of_another_time_or_another_standing_is_forgotten_and_the_test_asked_for_again(
    library: Library,
) -> None:
    survey = skipped(stood())
    assert why_held(survey, library, AT + timedelta(days=1)) == "unpushed"
    assert why_held(said(library, survey, "set-supports/supports", "a"), library, AT) == "unpushed"


def test_another_question_of_the_page_skipped_is_no_skipped_push_test(library: Library) -> None:
    assert why_held(skipped(stood(), "set-supports/stood"), library, AT) == "unpushed"


# Refused: it rocks, three points, nowhere
# -------------------------------------------------------------------------


@pytest.mark.parametrize("prompt", TESTS)
def test_rocks_outlasts_the_day_and_any_change_until_it_stood_still(
    library: Library, prompt: str
) -> None:
    survey = pushed(library, stood(), "r", prompt=prompt)
    for now in (AT, AT + timedelta(days=30)):
        assert (rocks(survey, library), why_held(survey, library, now)) == (True, "rocks")
    changed = said(library, survey, "set-supports/supports", "w")
    assert why_refused(changed, library) == "rocks"
    assert why_held(pushed(library, changed, "m"), library, AT) == ""


@pytest.mark.parametrize("engine", ["in", "weight-off", "out"])
@pytest.mark.parametrize("body", ["bolted", "loosened", "off"])
def test_on_three_points_only_a_bare_frame(library: Library, engine: str, body: str) -> None:
    survey = pushed(library, stood(engine=engine, body=body, supports="three-points"))
    bare = (engine, body) == ("out", "off")
    assert why_held(survey, library, AT) == ("" if bare else "three-points")
    assert (there(survey, library)["level"].gone != "") is not bare


@pytest.mark.parametrize("end", ["front", "rear"])
@pytest.mark.parametrize("side", ["left", "right"])
def test_no_sound_place_and_nothing_is_lifted(library: Library, end: str, side: str) -> None:
    prompt = f"set-supports/{side}/{end}-elsewhere"
    survey = pushed(library, said(library, stood(), prompt, "n"))
    assert no_sound_place(survey, library)
    assert why_held(survey, library, AT) == "nowhere"
    assert why_held(said(library, survey, prompt, "y"), library, AT) == ""
    wheels = pushed(library, said(library, survey, "set-supports/supports", "w"))
    assert why_held(wheels, library, AT) == "", "on its wheels it needs no such place"


# Pages that drop out and come back
# --------------------------------------------------------------------------------


def refusing(library: Library) -> dict[str, Survey]:
    """A car that nobody goes near, for each reason why."""
    return {
        "rocks": pushed(library, stood(), "r"),
        "three-points": pushed(library, stood(supports="three-points")),
        "nowhere": pushed(library, said(library, stood(), "set-supports/left/rear-elsewhere", "n")),
        "skipped": skipped(stood()),
    }


REFUSED = ("rocks", "three-points", "nowhere", "skipped")


@pytest.mark.parametrize("why", REFUSED)
def test_every_page_near_the_car_drops_out_with_the_reason_and_no_other_does(
    library: Library, why: str
) -> None:
    survey, still = refusing(library)[why], there(pushed(library, stood()), library)
    title = next(c.title for c in library.cautions.values() if c.holds == why)
    gone = {id for id, p in there(survey, library).items() if p.gone and not still[id].gone}
    assert gone >= set(NEAR)
    assert gone.isdisjoint((*FAR, "set-supports"))
    near = {e.id for e in library.exposures.values() if e.near}
    exposed = {id for id, p in still.items() if near.intersection(p.step.exposes) and not p.gone}
    assert gone == exposed - {"set-supports"}
    for id in gone:
        page = there(survey, library)[id]
        assert (page.prompts, page.gone.startswith(f"{title}. ")) == ((), True)


@pytest.mark.parametrize("why", REFUSED)
def test_nobody_is_ever_sent_near_it(library: Library, why: str) -> None:
    survey, asked, ask = refusing(library)[why], [], None
    for _ in range(400):
        ask = next_ask(survey, library, AT, ask)
        if ask is None or ask in asked:
            break
        asked.append(ask)
    steps = {a.prompt.step for a in asked}
    assert steps >= set(FAR)
    near = {e.id for e in library.exposures.values() if e.near}
    assert not [s for s in steps - {"set-supports"} if near.intersection(library.steps[s].exposes)]


@pytest.mark.parametrize("why", REFUSED)
def test_pushed_and_still_all_of_them_come_back(library: Library, why: str) -> None:
    survey = refusing(library)[why]
    if why == "three-points":
        survey = said(library, survey, "set-supports/supports", "f")
    if why == "nowhere":
        survey = said(library, survey, "set-supports/left/rear-elsewhere", "y")
    again = there(pushed(library, survey), library)
    assert [again[id].gone for id in NEAR] == [""] * len(NEAR)


@pytest.mark.parametrize("why", ["unpushed", "stale", "changed"])
def test_where_a_push_test_is_all_that_lacks_no_page_drops_out_and_each_waits(
    library: Library, why: str
) -> None:
    still, now = pushed(library, stood()), AT + timedelta(days=why == "stale")
    survey = {"unpushed": stood(), "changed": said(library, still, "state/body", "l")}.get(
        why, still
    )
    found = there(survey, library, now)
    assert [found[id].gone for id in NEAR] == [""] * len(NEAR)
    assert first_before(survey, library, "level/rear/as-set", now) == f"level/caution/hold-{why}"
    assert first_before(survey, library, "history/knocked", now) == "history/knocked"


def test_what_was_read_before_it_rocked_stays_and_no_more_is_asked_there(library: Library) -> None:
    prompt = prompt_of(library, "wheelbase/left")
    survey = taken(pushed(library, stood()), prompt, "103", "103")
    rocking = pushed(library, survey, "r")
    page = there(rocking, library)["wheelbase"]
    assert page.gone.startswith("It rocks. ")
    assert [p.id for p in page.prompts] == [prompt.id]
    assert [r.typed for r in rocking.readings_of(prompt.id)] == ["103", "103"]
    assert [p for p in page.prompts if wanting(rocking, p)] == []


def test_a_page_that_is_done_stays_in_the_course_though_it_rocks(library: Library) -> None:
    survey = pushed(library, stood())
    for prompt in there(survey, library)["long-diagonals"].prompts:
        survey = taken(survey, prompt, "91", "91")
    assert there(pushed(library, survey, "r"), library)["long-diagonals"].gone == ""


# The page of the supports
# -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("why", REFUSED)
def test_the_page_of_the_supports_never_drops_out(library: Library, why: str) -> None:
    page = there(refusing(library)[why], library)["set-supports"]
    assert page.gone == ""
    assert PUSH in [p.id for p in page.prompts]


def hold_read(library: Library, survey: Survey) -> Survey:
    """Whatever holds the car was read."""
    caution = next(
        c.id for c in library.cautions.values() if c.holds == why_held(survey, library, AT)
    )
    row: Row = Ack(
        id=survey.new_id(Ack),
        at=AT,
        by="owner",
        caution=caution,
        standing=standing_of(survey.state()),
    )
    return survey.with_row(row)


def test_rocking_leads_from_every_page_back_to_the_push_test(library: Library) -> None:
    survey = pushed(library, said(library, stood(), "set-supports/supports", "w"), "r")
    assert first_before(survey, library, "finish/remark") == "finish/caution/hold-rocks"
    survey = hold_read(library, survey)
    assert supports_ask(survey, library).prompt.id == PUSH
    step = first_before(survey, library, "level/rear/as-set").split("/")[0]
    assert step == "set-supports"
    assert first_before(survey, library, "finish/remark") == "finish/remark"


def test_the_open_questions_of_the_supports_come_before_the_push_test(library: Library) -> None:
    survey = said(library, nobody_looked(), "set-supports/supports", "f")
    asked = []
    while (ask := supports_ask(survey, library)).prompt.id != PUSH:
        asked.append(ask.prompt.id)
        survey = (
            skipped(survey, ask.prompt.id)
            if ask.prompt.kind.tells
            else taken(survey, ask.prompt, "b o")
        )
    looks = [
        f"set-supports/{side}/{end}-metal"
        for side in ("left", "right")
        for end in ("front", "rear")
    ]
    assert asked == [*looks, "set-supports/stood"]


def test_bad_metal_asks_for_another_place(library: Library) -> None:
    survey = said(library, stood(), "set-supports/supports", "f")
    for side, end, seen in (
        ("left", "front", "o"),
        ("right", "front", "o"),
        ("left", "rear", "r"),
        ("right", "rear", "o"),
    ):
        survey = said(library, survey, f"set-supports/{side}/{end}-metal", f"b {seen}")
    assert supports_ask(survey, library).prompt.id == "set-supports/left/rear-elsewhere"


@pytest.mark.parametrize("text", ["r", "s"])
def test_only_a_push_test_that_stood_still_is_settled(library: Library, text: str) -> None:
    survey = pushed(library, stood(), text)
    assert wanting(survey, prompt_of(library, PUSH)) is (text == "r")


def test_set_up_anew_the_push_test_is_asked_again_and_not_for_another_answer(
    library: Library,
) -> None:
    prompt = prompt_of(library, PUSH)
    survey = pushed(library, said(library, stood(), "set-supports/supports", "w"))
    assert not unsettled(survey, prompt)
    warmer = said(library, survey, "state/temperature", "18 C")
    assert not unsettled(warmer, prompt)
    moved = said(library, warmer, "set-supports/supports", "f")
    assert unsettled(moved, prompt)
    assert not unsettled(pushed(library, moved), prompt)


def test_while_it_rocks_every_push_test_is_open_and_one_that_stood_still_settles_them(
    library: Library,
) -> None:
    survey = pushed(library, pushed(library, stood()), "r", prompt="lower-engine/push")
    assert all(unsettled(survey, prompt_of(library, id)) for id in (PUSH, "lower-engine/push"))
    assert not unsettled(pushed(library, survey), prompt_of(library, PUSH))


def test_the_engine_let_down_wants_a_push_test_of_its_own_page(library: Library) -> None:
    """After the change that calls for it, it is asked on that page; nothing sends anybody to the
    supports first.
    """
    survey = pushed(library, stood(engine="weight-off"))
    since = survey.last_number()
    lowered = said(library, survey, "lower-engine/engine", "b")
    target = Ask(prompt_of(library, "lower-engine/push"))
    here = Person("owner", AT, "lower-engine", since)
    assert not front(lowered, library, target, here).prompt.caution.startswith("hold-")
    elsewhere = Person("owner", AT, "lower-engine", lowered.last_number())
    assert front(lowered, library, target, elsewhere).prompt.caution == "hold-changed"


# The metal under it
# ---------------------------------------------------------------------------------------------


def test_on_stands_each_place_must_have_been_seen_whole(library: Library) -> None:
    assert metal(stood(), library) == ""
    assert metal(nobody_looked(), library) == "metal"
    for place in METAL:
        assert metal(with_sound_metal(nobody_looked(), but=place), library) == "metal"


@pytest.mark.parametrize("seen", ["b r", "b l", "b t", "b c", "d u", "n"])
def test_bad_metal_or_none_seen_holds_until_another_place_is_found(
    library: Library, seen: str
) -> None:
    survey = said(library, stood(), METAL[0], seen)
    assert metal(survey, library) == "metal"
    assert metal(skipped(survey, "set-supports/left/front-elsewhere"), library) == "metal"
    assert metal(said(library, survey, "set-supports/left/front-elsewhere", "y"), library) == ""


def test_on_its_wheels_nothing_stands_under_it(library: Library) -> None:
    wheels = Survey().with_row(State(id="s1", at=AT, engine="in", body="bolted", supports="wheels"))
    assert metal(wheels, library) == ""


def test_other_supports_stand_in_other_places(library: Library) -> None:
    survey = said(library, stood(), "set-supports/supports", "f")
    survey = with_sound_metal(survey)
    assert metal(survey, library) == ""
    moved = said(library, survey, "set-supports/supports", "a")
    assert metal(moved, library) == "metal"
    assert metal(with_sound_metal(moved), library) == ""


def test_what_nobody_has_said_it_stands_on_is_not_known_to_stand(library: Library) -> None:
    assert metal(stood(supports=""), library) == "unpushed"
    assert (
        supports_ask(pushed(library, stood(supports="")), library).prompt.id
        == "set-supports/supports"
    )


def test_a_car_found_on_bad_metal_is_nothing_to_be_beside(library: Library) -> None:
    found = {
        how: said(library, Survey().with_row(State(id="s1", at=AT)), "state/found", how)
        for how in "wf"
    }
    for how, why in (("w", "nowhere"), ("f", "hangs")):
        survey = said(library, found[how], "set-supports/supports", "f")
        survey = said(
            library,
            said(library, survey, METAL[0], "b c"),
            "set-supports/left/front-elsewhere",
            "n",
        )
        assert why_refused(survey, library) == why
        assert supports_ask(survey, library).prompt.id == "set-supports/supports"
        again = said(library, survey, "set-supports/supports", "w")
        assert why_refused(again, library) == ""
