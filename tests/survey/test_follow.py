"""A survey that follows another: what is carried over, what is asked afresh, and the course that it
takes.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from tests.checks.surveys import library
from wizard.library.paths import samples_dir
from wizard.survey.answer import Refusal, answer
from wizard.survey.file import load
from wizard.survey.follow import following, tools_then
from wizard.survey.guide import course_name, course_of, next_ask, pages
from wizard.survey.prompts import Prompt, expand
from wizard.survey.record import Survey
from wizard.survey.rows import (
    Answer,
    Look,
    OwnLimit,
    OwnPlace,
    PointNote,
    Reading,
    Remark,
    Size,
    State,
    Tool,
    Trip,
)
from wizard.survey.state import settle
from wizard.survey.toml import from_toml, to_toml

AT = datetime(2026, 10, 10, 9, 30, 0, 500)
STEPS = ("tools", "set-supports", "long-diagonals", "level")


@pytest.fixture(scope="module")
def bramble() -> Survey:
    old = load(samples_dir() / "bramble-2026-04-11.toml")
    old = old.with_row(
        PointNote(id="q9001", at=old.started, point="rear-left", mark="blue dot", photo="118")
    )
    old = old.with_row(Size(id="z9002", at=old.started, name="rail_depth", typed="4 in"))
    return old.with_row(
        OwnLimit(
            id="l9003", at=old.started, limit="twist", band="watch", upto="2 mm", source="mine"
        )
    )


def test_it_is_the_same_car_and_frame_and_names_whom_it_follows(bramble: Survey) -> None:
    new = following(bramble, library(), AT, STEPS)
    assert (new.car, new.layout, new.unit, new.follows) == (
        bramble.car,
        bramble.layout,
        "in",
        bramble.id,
    )
    assert new.started == AT.replace(microsecond=0)
    assert new.id == ""


def test_nothing_that_was_read_or_seen_or_stood_is_carried_over(bramble: Survey) -> None:
    new = following(bramble, library(), AT, STEPS)
    for kind in (Reading, Look, State, Trip):
        assert bramble.table(kind) or kind is Trip
        assert new.table(kind) == ()


def test_points_photos_sizes_and_limits_are_carried_over_with_the_day_they_were_set_down(
    bramble: Survey,
) -> None:
    new = following(bramble, library(), AT, STEPS)
    assert [(p.point, p.mark, p.photo) for p in new.standing(PointNote)] == [
        ("rear-left", "blue dot", "118")
    ]
    assert [z.typed for z in new.standing(Size)] == ["4 in"]
    assert [o.upto for o in new.standing(OwnLimit)] == ["2 mm"]
    photos = {r.photo for r in bramble.standing(Remark) if r.photo}
    assert {r.photo for r in new.standing(Remark)} == photos
    assert photos
    for kind in (PointNote, Size, OwnLimit, Remark):
        assert {r.at.date() for r in new.standing(kind)} == {bramble.started.date()}
        assert {r.extra["then"] for r in new.standing(kind)} == {bramble.id}


def test_each_tool_is_recalled_as_the_very_same_one(bramble: Survey) -> None:
    new = following(bramble, library(), AT, STEPS)
    assert [(t.kind, t.name, t.extra["same_as"]) for t in new.standing(Tool)] == [
        (t.kind, t.name, t.id) for t in tools_then(bramble)
    ]
    assert new.tool("tape") is not None


def test_the_tool_chosen_last_is_the_one_recalled(bramble: Survey) -> None:
    later = Tool(
        id="t9009", kind="tape", name="another", extra={"class": "I", "division": "1/32 in"}
    )
    (tape,) = (t for t in tools_then(bramble.with_row(later)) if t.kind == "tape")
    assert tape == later


def test_the_past_stays_and_today_is_asked_anew(bramble: Survey) -> None:
    new = following(bramble, library(), AT, STEPS)
    assert new.answer_to("history/knocked") == bramble.answer_to("history/knocked") != ""
    for prompt in ("about-the-car/unit", "about-the-car/by", "state/engine", "string-set-up/where"):
        assert bramble.answer_to(prompt)
        assert new.answer_to(prompt) == ""


def test_every_row_has_an_id_of_its_own_and_the_file_reads_back(bramble: Survey) -> None:
    new = replace(following(bramble, library(), AT, STEPS), id="again")
    ids = [r.id for r in new.all_rows()]
    assert len(set(ids)) == len(ids)
    assert replace(from_toml(to_toml(new)), program="") == new


def test_the_earlier_survey_is_not_touched(bramble: Survey) -> None:
    before = to_toml(bramble)
    following(bramble, library(), AT, STEPS)
    assert to_toml(bramble) == before


# The course ---------------------------------------------------------------------------------------
# -------------


def test_a_re_check_asks_what_prepares_and_finishes_and_the_steps_chosen(bramble: Survey) -> None:
    new = following(bramble, library(), AT, STEPS)
    assert course_name(new) == "recheck"
    course = tuple(id for id in course_of(new, library()) if not library().steps[id].called)
    listed = ("set-supports", "long-diagonals", "tools", "level")  # a tool, before it is used
    assert course == ("about-the-car", "since-last-time", "state", *listed, "finish", "next-time")
    assert [p.step.id for p in pages(new, library(), AT)] == list(course)
    first = next_ask(new, library(), AT)
    assert first is not None
    assert first.prompt.id == "about-the-car/unit"


def test_without_a_choice_it_takes_the_whole_re_check_and_unknown_steps_are_passed_over(
    bramble: Survey,
) -> None:
    assert course_of(following(bramble, library(), AT), library()) == library().courses["recheck"]
    odd = following(bramble, library(), AT, ("no-such-step", "level"))
    assert [s for s in course_of(odd, library()) if library().steps[s].part == "measure"] == [
        "level"
    ]


def asked(survey: Survey, step: str) -> set[str]:
    page = next(p for p in pages(survey, library(), AT) if p.step.id == step)
    return {p.id for p in page.prompts if not p.kind.acknowledges}


def test_a_part_of_a_step_is_asked_alone(bramble: Survey) -> None:
    new = following(
        bramble, library(), AT, ("long-diagonals", "sag-loaded/engine-mount", "level/rear/as-set")
    )
    assert course_of(new, library())[3:7] == (
        "set-supports",
        "long-diagonals",
        "sag-loaded",
        "level",
    )
    assert asked(new, "sag-loaded") == {
        "sag-loaded/engine-mount/left",
        "sag-loaded/engine-mount/right",
    }
    assert asked(new, "level") == {"level/rear/as-set"}
    assert len(asked(new, "long-diagonals")) == 2


def test_whatever_is_chosen_the_supports_are_asked_before_anybody_lies_under_it(
    bramble: Survey,
) -> None:
    course = course_of(following(bramble, library(), AT, ("rear-crossmember",)), library())
    assert course.index("set-supports") < course.index("rear-crossmember")


def test_what_is_left_out_of_a_step_is_known_and_comes_back_once_it_is_answered(
    bramble: Survey,
) -> None:
    new = following(bramble, library(), AT, ("level/rear",))
    (page,) = [p for p in pages(new, library(), AT) if p.step.id == "level"]
    assert {p.id for p in page.later} == {
        *(
            f"level/{place}/{way}"
            for place in ("horns", "front-crossmember", "center")
            for way in ("as-set", "turned")
        ),
        *("level/horns/again-as-set", "level/horns/again-turned"),
    }
    read = new.with_row(Reading(id="r900", prompt="level/center/turned", typed="0"))
    assert asked(read, "level") == {"level/rear/as-set", "level/rear/turned", "level/center/turned"}


def test_a_place_added_today_is_asked_though_no_list_could_know_of_it(bramble: Survey) -> None:
    new = following(bramble, library(), AT, ("sag-loaded/engine-mount",))
    own = OwnPlace(id="w900", at=AT, use="string", place="own-cowl", name="cowl", behind="800 mm")
    assert "sag-loaded/own-cowl/left" in asked(new.with_row(own), "sag-loaded")
    carried = new.with_row(replace(own, extra={"then": bramble.id}))
    assert "sag-loaded/own-cowl/left" not in asked(carried, "sag-loaded")


def test_a_part_that_no_step_has_narrows_nothing(bramble: Survey) -> None:
    whole = asked(following(bramble, library(), AT, ("level",)), "level")
    for entry in ("level/no-such-place", "level/rea", "level/"):
        assert asked(following(bramble, library(), AT, (entry,)), "level") == whole


def test_a_step_named_whole_beside_its_part_is_asked_whole(bramble: Survey) -> None:
    assert len(asked(following(bramble, library(), AT, ("level", "level/rear")), "level")) == 10


def test_longer_on_request_is_the_whole_survey(bramble: Survey) -> None:
    new = following(bramble, library(), AT, STEPS)
    longer = new.with_row(Answer(id="a999", prompt="about-the-car/course", answer="whole"))
    assert course_of(longer, library()) == library().courses["whole"]


def test_the_tools_are_asked_after_only_when_they_are_others(bramble: Survey) -> None:
    new = following(bramble, library(), AT, STEPS)

    def tools(said: str) -> bool:
        survey = new.with_row(Answer(id="a999", prompt="since-last-time/tools", answer=said))
        return next(p for p in pages(survey, library(), AT) if p.step.id == "tools").gone == ""

    assert [tools(said) for said in ("same", "another-tape", "others")] == [False, True, True]


# The trip -----------------------------------------------------------------------------------------
# -------------


def prompt(name: str) -> Prompt:
    step = library().steps["since-last-time"]
    layout = library().layouts["straight-ladder"]
    return next(p for p in expand(step, layout) if p.id == f"since-last-time/{name}")


def told(survey: Survey, name: str, text: str) -> Survey:
    found = answer(survey, prompt(name), text, at=AT, by="owner")
    assert isinstance(found, Survey), found
    return found


def test_distance_and_incidents_are_one_row(bramble: Survey) -> None:
    new = told(
        told(following(bramble, library(), AT), "distance", "900 miles"),
        "incidents",
        "a curb in May",
    )
    assert [(t.distance, t.incidents) for t in new.standing(Trip)] == [
        ("900 miles", "a curb in May")
    ]
    undone = settle(
        new.with_struck(new.standing(Answer)[-1].id, "undone"), "trip.incidents", AT, "owner"
    )
    assert [(t.distance, t.incidents) for t in undone.standing(Trip)] == [("900 miles", "")]


@pytest.mark.parametrize("text", ["900", "far", "12 kg", "-5 km"])
def test_a_distance_that_is_none_is_refused_with_an_example(bramble: Survey, text: str) -> None:
    found = answer(following(bramble, library(), AT), prompt("distance"), text, at=AT, by="owner")
    assert isinstance(found, Refusal)
    assert "km" in found.says


def test_no_idea_of_the_distance_is_an_answer(bramble: Survey) -> None:
    new = told(following(bramble, library(), AT), "distance", "-")
    assert [t.distance for t in new.standing(Trip)] in ([], [""])
