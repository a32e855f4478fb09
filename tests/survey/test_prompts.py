"""A step's templates with the layout's items put in: ids that are stable, and the order of asking."""

from dataclasses import replace

import pytest

from wizard.library.kinds import AUTHORED
from wizard.library.paths import samples_dir
from wizard.library.places import StepId
from wizard.library.shapes import Library, PromptTemplate, Step
from wizard.survey.file import load
from wizard.survey.guide import guide_of
from wizard.survey.prompts import Prompt, caution_prompt, counted, expand, in_turn
from wizard.survey.rows import Answer, Fold, Look, Reading, Remark, Row, Skip, State

LEVEL = StepId("level")

STABLE = [
    "about-the-car/car",
    "state/engine",
    "rail-tops/left",
    "rail-tops/left/where",
    "long-diagonals/whole/front-left--rear-right",
    "horns/horns/tip-left--center-right",
    "sag-loaded/front-crossmember/left",
    "level/horns/again-turned",
    "front-box-bar/closing",
]
"""Ids that surveys on disk name: they may not change."""


def _prompts(library: Library, step: str) -> tuple[Prompt, ...]:
    return expand(library.steps[step], library.layouts["straight-ladder"], library.tools)


@pytest.mark.parametrize("id", STABLE)
def test_an_id_that_surveys_name_is_still_asked(library: Library, id: str) -> None:
    assert id in {p.id for p in _prompts(library, id.split("/")[0])}


def test_no_two_prompts_share_an_id(library: Library) -> None:
    ids = [p.id for step in library.steps for p in _prompts(library, step)]
    assert len(ids) == len(set(ids))


def test_no_field_is_left_in_braces(library: Library) -> None:
    for step in library.steps:
        for prompt in _prompts(library, step):
            words = (
                f"{prompt.id}{prompt.ask}{prompt.start}{prompt.end}{[n.key for n in prompt.needs]}"
            )
            assert not set("{}") & set(words), prompt.id


def test_along_a_string_the_left_rail_comes_whole_before_the_right(library: Library) -> None:
    layout = library.layouts["straight-ladder"]
    ids = [p.id for p in _prompts(library, "sag-loaded")]
    assert ids == [
        f"sag-loaded/{s.id}/{side}" for side in ("left", "right") for s in layout.stations
    ]
    places = [s.x for s in layout.stations]
    assert places == sorted(places)


def test_the_station_read_twice_is_asked_for_again_when_its_rail_is_done(library: Library) -> None:
    """A figure still in mind would be read again; content names the station, each kind of frame
    one of them.
    """
    asks = [(a.prompt.id, a.nth) for a in in_turn(_prompts(library, "sag-loaded"))]
    left = [(id, nth) for id, nth in asks if id.endswith("left")]
    assert left[-1] == ("sag-loaded/engine-mount/left", 2)
    assert len(left) == 6
    assert asks[:6] == left
    for layout in library.layouts.values():
        assert [s.repeats for s in layout.stations].count(2) == 1


def test_the_level_is_read_twice_where_the_rails_lie_far_apart(library: Library) -> None:
    """One straight perimeter frame in six was left open by a lean that the level read once. Every place
    comes once, and back to the first, before any comes again: where that settles it the rest may go.
    """
    asked = expand(library.steps[LEVEL], library.layouts["boxed-perimeter"])
    asks = [(a.prompt.item, a.nth) for a in in_turn(asked) if a.prompt.item in ("cowl", "rear")]
    assert asks == [("cowl", 1), ("cowl", 1), ("rear", 1), ("rear", 1), ("cowl", 2), ("cowl", 2)]
    names = [(a.prompt.name, a.nth) for a in in_turn(asked)]
    assert names.index(("again-turned", 1)) < names.index(("as-set", 2))
    ladder = expand(library.steps[LEVEL], library.layouts["straight-ladder"])
    assert {p.repeats for p in ladder} == {1}


def test_both_diagonals_of_a_box_come_before_the_next_box(library: Library) -> None:
    boxes = [p.item for p in _prompts(library, "box-diagonals")]
    assert boxes == sorted(boxes, key=boxes.index)
    assert all(boxes.count(b) == 2 for b in boxes)


def test_the_acknowledgment_before_a_step_belongs_to_the_step() -> None:
    prompt = caution_prompt("string", "level", "A string about")
    assert (prompt.id, prompt.step, prompt.caution) == ("level/caution/string", "level", "string")


def test_only_the_items_named_are_asked(library: Library) -> None:
    layout = library.layouts["straight-ladder"]
    template = PromptTemplate(
        kind=AUTHORED["length"], last="x", each="box", only=("rear-box",), ask="{box_name}"
    )
    step = library.steps["widths"]._replace(id="t", prompts=(template,))
    assert [(p.id, p.ask) for p in expand(step, layout)] == [("t/rear-box/x", "rear box")]


def test_templates_of_another_list_begin_a_new_group(library: Library) -> None:
    layout = library.layouts["straight-ladder"]
    a = PromptTemplate(kind=AUTHORED["note"], last="a", each="side", ask="a")
    b = PromptTemplate(kind=AUTHORED["note"], last="b", each="side", ask="b")
    c = PromptTemplate(kind=AUTHORED["note"], last="c", ask="c")
    step: Step = library.steps["widths"]._replace(id="t", prompts=(a, b, c, a))
    ids = [p.id for p in expand(step, layout)]
    assert ids == ["t/left/a", "t/left/b", "t/right/a", "t/right/b", "t/c", "t/left/a", "t/right/a"]


def test_a_prompt_that_chooses_a_tool_carries_the_tools(library: Library) -> None:
    tape = next(p for p in _prompts(library, "tools") if p.id == "tools/tape")
    assert [t.id for t in tape.tools] == [c.token for c in tape.choices]
    assert expand(library.steps["tools"], library.layouts["straight-ladder"])[0].tools == ()


@pytest.mark.parametrize("kind", [Reading, Look, Answer, Skip, Fold, State, Remark])
def test_what_stays_counted_with_a_row_more_is_what_would_be_counted(
    library: Library, kind: type[Row]
) -> None:
    survey = load(samples_dir() / "bramble-2026-04-11.toml")
    prompts = list(guide_of(survey, library).questions.by_id.values())
    counted(survey, prompts)
    for prompt in prompts[::5]:
        told = {"prompt": prompt.id} if kind not in (Fold, State) else {}
        told |= {"prompts": str(prompt.id), "readings": "", "why": "known"} if kind is Fold else {}
        told |= {"why": "too far up"} if kind is Skip else {}
        after = survey.with_row(kind(id=survey.new_id(kind), **told))  # type: ignore[arg-type]
        assert after.counts
        anew = replace(after, rows=dict(after.rows))
        assert counted(after, prompts) == counted(anew, prompts)
