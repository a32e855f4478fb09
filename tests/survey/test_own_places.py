"""A place of the owner's own stands in every step, drawing and check as an authored one does, on
every layout.

What is taped comes from the points of a frame in plain geometry, so the tests know what the checks
must say of it.
"""

from __future__ import annotations

import tomllib
from dataclasses import replace
from datetime import datetime
from functools import cache

import pytest

from tests.library.test_layouts import CHOSEN, points, said
from wizard.checks.finding import Finding
from wizard.checks.run import findings_of
from wizard.judgment.alike import moved_points
from wizard.library import load_library
from wizard.library.places import OWN
from wizard.survey.answer import answer
from wizard.survey.follow import following
from wizard.survey.guide import layout_of, next_ask, pages
from wizard.survey.own_places import place_id
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import OwnPlace
from wizard.survey.toml import from_toml
from wizard.telling.sheet import sheet_of
from wizard.telling.sheet_text import sheet_text
from wizard.telling.step_drawing import drawing_for
from wizard.telling.tell import tell_text

LIBRARY = load_library()
DAY = datetime(2026, 4, 11, 9, 0)
PAIR = OwnPlace(
    id="w1", use="tape", place="own-cowl", name="cowl bracket", kind="hole", behind="1450 mm"
)
LEVEL = OwnPlace(id="w2", use="level", place="own-cowl-level", name="cowl", behind="1450 mm")
STRING = OwnPlace(
    id="w3", use="string", place="own-by-the-cowl", name="by the cowl", behind="1300 mm"
)
MINE = f"/{OWN}"
"""In the id of every prompt that reads an own place; `own-sides` is a step."""
each_layout = pytest.mark.parametrize("id", list(LIBRARY.layouts))


def begun(layout: str, *rows: OwnPlace) -> Survey:
    survey = Survey(id="walk", started=DAY, layout=layout)
    for row in rows:
        survey = survey.with_row(row)
    return survey


def parse(text: str) -> Survey:
    return from_toml(tomllib.loads(text))


@cache
def walked(id: str, back: float = 0.0) -> tuple[Survey, tuple[Prompt, ...]]:
    """A straight frame, its right rail so many mm back, answered to the end; and every prompt that
    was asked.
    """
    survey, met, ask = begun(id, PAIR, LEVEL, STRING), {}, None
    at = points(layout_of(survey, LIBRARY), back)
    while (ask := next_ask(survey, LIBRARY, DAY, ask)) is not None:
        after = answer(
            survey,
            ask.prompt,
            said(ask.prompt, at, LIBRARY.layouts[id], CHOSEN),
            at=DAY,
            by="owner",
        )
        assert isinstance(after, Survey), (ask.prompt.id, after)
        survey, met[ask.prompt.id] = after, ask.prompt
    return survey, tuple(met.values())


@cache
def found(id: str, back: float = 0.0) -> dict[str, Finding]:
    return {f.id: f for f in findings_of(walked(id, back)[0], LIBRARY)}


@each_layout
def test_it_is_asked_for_wherever_a_pair_of_the_layout_is(id: str) -> None:
    asked = [p.id for p in walked(id)[1] if MINE in p.id]
    by_step = {
        step: [i for i in asked if i.startswith(f"{step}/")]
        for step in ("widths", "own-sides", "box-diagonals")
    }
    assert [len(v) for v in by_step.values()] == [1, 2, 2]
    assert {"level/own-cowl-level/as-set", "level/own-cowl-level/turned"} <= set(asked)
    assert {
        f"sag-{e}/own-by-the-cowl/{s}" for e in ("loaded", "unloaded") for s in ("left", "right")
    } <= set(asked)


@each_layout
def test_on_a_straight_frame_nothing_shows_there_and_a_rail_moved_back_does(id: str) -> None:
    straight, moved = (
        found(id)["rail-shift/own-cowl-box"],
        found(id, 8.0)["rail-shift/own-cowl-box"],
    )
    assert abs(straight.value) < 0.05
    assert moved.value == pytest.approx(8.0, abs=0.1)  # identity: the rail was moved by 8
    assert moved.limit == "rail-shift"
    assert 0.1 < moved.number.u < 4.0
    assert abs(found(id)["twist/own-cowl-level"].value) < 0.05
    assert abs(found(id)["closure/own-cowl-box"].value) < 0.05  # all six tapes stand in one plan


@each_layout
def test_every_prompt_is_drawn_printed_and_told(id: str) -> None:
    survey, prompts = walked(id)
    for prompt in prompts:
        if MINE in prompt.id:
            step = LIBRARY.steps[prompt.step]
            assert drawing_for(survey, LIBRARY, step, prompt, 76, 8, "ascii").lines, prompt.id
    sheet = sheet_text(sheet_of(LIBRARY, id, survey=survey))
    assert sheet.count("cowl bracket") > 6
    assert "cowl bracket" in tell_text(survey, LIBRARY, DAY, mentor=True)


@each_layout
def test_the_authored_prompts_stay_as_they_were(id: str) -> None:
    ids = [p.id for s in LIBRARY.steps.values() for p in _prompts(begun(id), s.id)]
    with_own = [
        p.id for s in LIBRARY.steps.values() for p in _prompts(begun(id, PAIR, LEVEL, STRING), s.id)
    ]
    assert len(set(with_own)) == len(with_own)
    assert [i for i in with_own if MINE not in i] == ids


def _prompts(survey: Survey, step: str) -> tuple[Prompt, ...]:
    return next((p.prompts for p in pages(survey, LIBRARY, DAY) if p.step.id == step), ())


def test_the_same_rows_give_the_same_layout_so_that_prompts_are_kept() -> None:
    one, other = begun("straight-ladder", PAIR), begun("straight-ladder", PAIR)
    assert layout_of(one, LIBRARY) is layout_of(other, LIBRARY)
    assert (
        layout_of(begun("straight-ladder", LEVEL), LIBRARY) is LIBRARY.layouts["straight-ladder"]
    )  # nothing to lay it on
    assert layout_of(one.with_struck("w1", "no"), LIBRARY) is LIBRARY.layouts["straight-ladder"]


def test_the_width_that_was_said_is_taken_and_else_that_between_the_neighbors() -> None:
    wide = OwnPlace(
        **{f: getattr(PAIR, f) for f in ("id", "use", "place", "name", "kind", "behind")},
        across="30 in",
    )
    assert layout_of(begun("straight-ladder", wide), LIBRARY).place(
        "own-cowl"
    ).half_width == pytest.approx(381.0)
    # 365 mm at 1000 and 430 mm at 2200: at 1450 three eighths of the way.
    half = layout_of(begun("straight-ladder", PAIR), LIBRARY).place("own-cowl").half_width
    assert half == pytest.approx(365 + 65 * 0.375)


@pytest.mark.parametrize(
    "row",
    [
        'use = "tape"\nplace = "own-x"\nname = "x"\nbehind = "far"',
        'use = "tape"\nplace = "own-x"\nname = "x"',
        'use = "tape"\nplace = "own-x"\nname = "x"\nbehind = "1e300 mm"',
        'use = "tape"\nplace = "own-x"\nname = "x"\nbehind = "-400 mm"',
        'use = "tape"\nplace = "own-x"\nname = "x"\nbehind = "1500 mm"\nacross = "9 m"',
        'use = "tape"\nplace = "own-x"\nname = "x"\nbehind = "1000 mm"',
        'use = "tape"\nplace = "front"\nname = "x"\nbehind = "1500 mm"',
        'use = "tape"\nplace = "own-x/../y"\nname = "x"\nbehind = "1500 mm"',
        'use = "tape"\nplace = "own-{front}"\nname = "x"\nbehind = "1500 mm"',
        'use = "string"\nplace = "own-x"\nname = "x"\nbehind = "2150 mm"',
        'use = "level"\nplace = "own-x"\nname = "x"\nbehind = "1500 mm"',
        'use = "level"\nplace = "own-x"\nname = "x"\nbehind = "1000 mm"',
        'use = "moon"\nplace = "own-x"\nname = "x"\nbehind = "1500 mm"',
    ],
)
def test_a_row_that_makes_no_sense_is_left_out(row: str) -> None:
    survey = parse(f'format = 1\n[[place]]\nid = "w1"\n{row}\n')
    assert len(survey.standing(OwnPlace)) == 1
    assert layout_of(survey, LIBRARY) is not None
    assert not [p for p in layout_of(survey, LIBRARY).places if p.id.startswith(OWN)]
    assert layout_of(survey, LIBRARY).stations == LIBRARY.layouts["straight-ladder"].stations
    assert layout_of(survey, LIBRARY).levels == LIBRARY.layouts["straight-ladder"].levels


def test_a_hostile_name_stays_text_and_an_unknown_kind_is_a_hole() -> None:
    text = (
        'format = 1\n[[place]]\nid = "w1"\nuse = "tape"\nplace = "own-x"\nbehind = "1500 mm"\nkind'
        ' = "laser"\nname = "\\u001b]0;x\\u0007 [/b] {front} \\u202e%s"\n'
    )
    layout = layout_of(parse(text), LIBRARY)
    assert layout.place("own-x").name == "]0;x [/b] {front} %s"
    assert layout.place("own-x").kind == "hole"
    ask = next(p.ask for p in _prompts(parse(text), "widths") if MINE in p.id)
    assert ask == "left ]0;x [/b] {front} %s to right ]0;x [/b] {front} %s"


def test_a_re_check_has_it_too_where_it_was_whatever_the_unit() -> None:
    again = following(walked("straight-ladder")[0], LIBRARY, DAY)
    (row,) = (r for r in again.standing(OwnPlace) if r.use == "tape")
    assert (row.place, row.behind) == ("own-cowl", "1450 mm")
    assert layout_of(again, LIBRARY).place("own-cowl").x == 1450.0


def test_the_id_of_a_name() -> None:
    assert place_id("Cowl  bracket, No. 2") == "own-cowl-bracket-no-2"
    assert place_id("[/]") == ""


def test_a_place_behind_the_last_crossmember_changes_no_quantity_of_the_frame() -> None:
    """Its pair never ends the main box, nor stands for the rear dots of the wheelbase."""
    survey, _ = walked("straight-ladder")
    plain = {f.id: f for f in findings_of(survey, LIBRARY)}
    tail = OwnPlace(
        id="w4", use="tape", place="own-tail", name="tail", kind="hole", behind="2600 mm"
    )
    more = survey.with_row(tail)
    at = points(layout_of(more, LIBRARY))
    while (ask := next_ask(more, LIBRARY, DAY)) is not None:
        text = said(ask.prompt, at, LIBRARY.layouts["straight-ladder"], CHOSEN)
        after = answer(more, ask.prompt, text, at=DAY, by="owner")
        assert isinstance(after, Survey)
        more = after
    found = {f.id: f for f in findings_of(more, LIBRARY)}
    assert "sway/rear" not in found
    assert found["sway/center"].number.u == pytest.approx(plain["sway/center"].number.u, rel=0.2)
    assert "rail-shift/own-tail-box" in found


def test_a_place_of_one_name_that_lies_elsewhere_has_moved_points() -> None:
    then, now = (
        begun("straight-ladder", PAIR),
        begun("straight-ladder", replace(PAIR, behind="1800 mm")),
    )
    assert moved_points(then, now, load_library()) == ("own-cowl-left", "own-cowl-right")
    assert moved_points(then, begun("straight-ladder", PAIR), load_library()) == ()
