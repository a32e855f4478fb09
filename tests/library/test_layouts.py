"""Every layout walked from the first question to the last, as a person would answer on a frame that
is as it was made.

What is taped comes from the layout's own points, so the tests know what the checks must say of it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import datetime
from functools import cache

import pytest

from wizard.checks.finding import Finding
from wizard.checks.foretell import foretelling
from wizard.checks.run import findings_of
from wizard.judgment.sight import verdict_of
from wizard.library import load_library
from wizard.library.kinds import ACK_WORD
from wizard.library.shapes import Layout
from wizard.library.templates import misfit
from wizard.survey.answer import answer
from wizard.survey.guide import Ask, next_ask, pages
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Reading, State
from wizard.telling.sheet import sheet_of
from wizard.telling.step_drawing import drawing_for
from wizard.telling.tell import tell_text

LIBRARY = load_library()
DAY = datetime(2026, 4, 11, 9, 0)
CHOSEN = {
    **{"state/body": "loosened", "state/panels": "on", "tools/start": "taken-off"},
    **{"set-supports/supports": "stands-under-axles", "lower-engine/engine": "in"},
    "consequences/hood-gap": "not-known",
}
Place = tuple[float, float, float]

each_layout = pytest.mark.parametrize("id", list(LIBRARY.layouts))


def points(layout: Layout, back: float = 0.0) -> dict[str, Place]:
    """Where every point is, with the whole right rail moved back by so many mm and a point in the
    middle by half.
    """
    moved = {"left": (-1.0, 0.0), "right": (1.0, back), "middle": (0.0, back / 2)}
    found = {}
    for p in layout.places:
        for point, side in zip(p.points, p.sides, strict=True):
            y, x = moved[side]
            found[point] = (p.x + x, y * p.half_width, p.z)
    return found


def said(prompt: Prompt, at: dict[str, Place], layout: Layout, choices: dict[str, str]) -> str:
    """What a careful person answers."""
    if prompt.kind.chooses:
        return (
            layout.id
            if prompt.keep == "survey.layout"
            else choices.get(prompt.id, prompt.choices[0].letter)
        )
    if prompt.kind.spans and prompt.start:
        return f"{math.dist(at[prompt.start], at[prompt.end]):.4f} mm"
    lengths = {
        "string-set-up/block": "50 mm",
        "string-set-up/span": f"{layout.string[1] - layout.string[0]} mm",
    }
    plain = {
        "look": "b o",
        "place": "b",
        "note": "Bramble",
        "ack": ACK_WORD,
        "gap": "0",
        "bubble": "0",
    }
    return (
        lengths.get(prompt.id)
        or plain.get(prompt.kind.id)
        or ("50 mm" if "sag" in prompt.id else "2600 mm")
    )


def steps_of(id: str, back: float = 0.0, **choices: str) -> Iterator[tuple[Survey, Ask | None]]:
    """Every prompt in front, with the survey as it stands there; the finished survey comes last,
    with none.
    """
    layout, survey, ask = LIBRARY.layouts[id], Survey(id="walk", started=DAY), None
    at, chosen = (
        points(layout, back),
        {**CHOSEN, **{k.replace("__", "/"): v for k, v in choices.items()}},
    )
    while (ask := next_ask(survey, LIBRARY, DAY, ask)) is not None:
        yield survey, ask
        text = said(ask.prompt, at, layout, chosen)
        after = answer(survey, ask.prompt, text, at=DAY, by="owner")
        assert isinstance(after, Survey), (ask.prompt.id, text, after)
        survey = after
    yield survey, None


@cache
def walk(id: str, back: float = 0.0) -> tuple[tuple[Survey, Ask | None], ...]:
    return tuple(steps_of(id, back))


def walked(id: str, back: float = 0.0) -> tuple[Survey, tuple[Prompt, ...]]:
    """The finished survey and every prompt that was asked."""
    met = walk(id, back)
    return met[-1][0], tuple({ask.prompt.id: ask.prompt for _, ask in met if ask}.values())


@cache
def found(id: str, back: float = 0.0) -> dict[str, Finding]:
    return {f.id: f for f in findings_of(walked(id, back)[0], LIBRARY)}


# The walk -----------------------------------------------------------------------------------------
# ---------------


@each_layout
def test_the_walk_ends_and_every_step_of_the_layout_was_met(id: str) -> None:
    layout, asked = LIBRARY.layouts[id], walked(id)[1]
    places = {p.step for p in asked if p.kind.gathers}
    looked = {part.look.step for p in asked for part in p.parts}
    met = {p.step for p in asked if p.step not in places} | looked
    every = (LIBRARY.steps[id] for id in LIBRARY.courses["whole"])
    wanted = {s.id for s in every if not s.called and not misfit(s.needs, layout)}
    # The body is on, so the diagonals are taped from below and not again from above; no rail is
    # pitted, so nobody asks how deep the pits are; and nothing is asked that only a sign or the
    # owner calls for.
    uncalled = {id for id in wanted if LIBRARY.steps[id].called}
    assert wanted - met == {"pitting", *uncalled, *({"long-diagonals"} & wanted)}
    assert met <= wanted


@each_layout
def test_with_the_body_bolted_the_diagonals_are_taped_from_below(id: str) -> None:
    survey = Survey(layout=id).with_row(State(id="s9", body="bolted"))
    found = {p.step.id: p for p in pages(survey, LIBRARY, DAY)}["diagonals-below"]
    taped = walked(id)[0].with_row(State(id="s9", body="bolted"))  # it was loose then
    assert {p.step.id: p for p in pages(taped, LIBRARY, DAY)}["long-diagonals"].gone
    whole = LIBRARY.layouts[id].boxes[0].role == ""
    assert [p.id.rsplit("/", 1)[-1] for p in found.prompts if p.kind.spans] == (
        ["front-left--rear-right", "front-right--rear-left"] if whole else []
    )


@each_layout
def test_nothing_asked_is_left_in_braces_and_every_tape_ends_at_a_point(id: str) -> None:
    known = points(LIBRARY.layouts[id])
    for prompt in walked(id)[1]:
        words = f"{prompt.id}{prompt.ask}{prompt.start}{prompt.end}{[n.key for n in prompt.needs]}"
        assert not set("{}") & set(words), prompt.id
        assert not prompt.start or {prompt.start, prompt.end} <= known.keys(), prompt.id
        assert not prompt.kind.spans or prompt.tool in ("tape", "ruler"), prompt.id
        assert "--" not in prompt.ask, prompt.id
        assert prompt.ask == " ".join(prompt.ask.split()), prompt.id


@each_layout
def test_every_prompt_can_be_drawn_at_80_columns(id: str) -> None:
    survey, prompts = walked(id)
    empty = Survey(id="new", layout=id)
    for prompt in prompts:
        step = LIBRARY.steps[prompt.step]
        drawing = drawing_for(empty, LIBRARY, step, prompt, 76, 8, "blocks")
        assert bool(drawing.lines) == (not prompt.kind.acknowledges), prompt.id
        assert all(len(line) <= 76 for line in drawing.lines), prompt.id
        assert "not on this drawing" not in drawing.words, prompt.id
    for prompt in {p.step: p for p in prompts}.values():
        drawing_for(survey, LIBRARY, LIBRARY.steps[prompt.step], prompt, 76, 8, "ascii")


@each_layout
def test_a_page_that_drops_out_says_why(id: str) -> None:
    survey = walked(id)[0]
    for page in pages(survey, LIBRARY, DAY):
        assert page.prompts or page.gone or page.step.id == "pitting", page.step.id


@each_layout
def test_no_reading_of_a_sound_frame_is_doubted(id: str) -> None:
    foretell = foretelling(LIBRARY)
    layout = LIBRARY.layouts[id]
    at, doubted = points(layout), {}
    for survey, ask in walk(id):
        if ask and ask.prompt.kind.spans and ask.prompt.start and ask.nth == 1:
            doubt = foretell(survey, ask.prompt, said(ask.prompt, at, layout, {}))
            doubted |= {ask.prompt.id: doubt} if doubt else {}
    assert doubted == {}


# What the checks say of it
# ---------------------------------------------------------------------------------------


@each_layout
def test_a_frame_as_it_was_made_shows_nothing(id: str) -> None:
    for finding in found(id).values():
        if finding.quantity in (
            "rail-shift",
            "sway",
            "mash",
            "horn",
            "nose-off",
            "plate-off",
            "closure",
            "twist",
        ):
            assert abs(finding.value) < 0.05, finding
    assert not [f for f in found(id).values() if f.quantity == "suspect"]


@each_layout
def test_a_rail_moved_back_is_found_in_the_whole_and_in_every_box(id: str) -> None:
    moved = found(id, 8.0)
    boxes = [b for b in LIBRARY.layouts[id].boxes if b.front != "tip"]
    assert moved["rail-shift/whole"].limit == "rail-shift"
    for box in boxes:
        number = moved[f"rail-shift/{box.id}"].number
        assert number.value == pytest.approx(8.0, abs=0.1), box.id
        assert 0.1 < number.u < 4.0, box.id


@each_layout
def test_every_layout_gets_sag_twist_and_a_verdict_in_words(id: str) -> None:
    survey = walked(id)[0]
    quantities = {f.quantity for f in found(id).values()}
    assert {"rail-shift", "sag-loaded", "sag-unloaded", "twist", "wheelbase", "bend"} <= quantities
    assert ("horn" in quantities) == any(p.id == "tip" for p in LIBRARY.layouts[id].places)
    assert ("elastic-foretold" in quantities) == ("engine_mount_x" in LIBRARY.layouts[id].figures)
    verdict = verdict_of(survey, LIBRARY, DAY)
    assert verdict.lacking == ()
    assert {g.step for g in verdict.not_seen} <= {"pitting"}
    told = tell_text(survey, LIBRARY, DAY, mentor=True)
    assert "{" not in told
    assert [w for w in LIBRARY.layouts[id].cannot if w not in " ".join(told.split())] == []


@each_layout
def test_what_is_open_on_a_thin_survey_of_any_layout_has_advice_and_no_crash(id: str) -> None:
    """Each tape read once and the widths left out: the plan must still be asked what would help."""
    survey = walked(id, 8.0)[0]
    for row in survey.standing(Reading):
        if row.prompt.startswith(("widths", "box-diagonals")):
            survey = survey.with_struck(row.id, "left out")
    assert verdict_of(survey, LIBRARY, DAY).judged


# The files themselves
# --------------------------------------------------------------------------------------------


@each_layout
def test_every_layout_can_be_chosen_and_says_that_its_figures_are_from_memory(id: str) -> None:
    offered = {c.token: c.words for p in LIBRARY.steps["about-the-car"].prompts for c in p.choices}
    # Half of a window of 80: there the kinds stand in two columns, and what is longer is cut off.
    assert len(offered[id]) <= 33
    assert "from memory" in LIBRARY.layouts[id].source


@each_layout
def test_the_string_reads_enough_to_tell_a_kink_and_the_places_run_rearward(id: str) -> None:
    layout = LIBRARY.layouts[id]
    assert len(layout.stations) >= 4
    assert [s.x for s in layout.stations] == sorted(s.x for s in layout.stations)
    assert [p.x for p in layout.places] == sorted(p.x for p in layout.places)
    mount = layout.figures.get("engine_mount_x")
    assert mount is None or mount in [s.x for s in layout.stations]
    assert layout.boxes[0].id == "whole"


def test_the_layout_cannot_be_changed_under_the_readings() -> None:
    survey = walked("a-frame")[0]
    prompt = next(p for p in walked("a-frame")[1] if p.keep == "survey.layout")
    assert survey.layout == "a-frame"
    refused = answer(survey, prompt, "s", at=DAY, by="owner")
    assert "so this must stay" in getattr(refused, "says", "")


@pytest.mark.parametrize(
    ("id", "here", "gone", "without_a_word"),
    [
        ("straight-ladder", "long-diagonals", "", "nose-diagonals"),
        ("leaf-ladder-light", "horns", "", "closed-rails"),
        ("a-frame", "nose-diagonals", "horns", "plate-to-corners"),
        ("double-drop", "kick-bends", "front-box-bar", "joint-welds"),
        ("x-braced", "plate-to-corners", "long-diagonals", "nose-diagonals"),
        ("boxed-perimeter", "joint-welds", "inside-channel", "kick-bends"),
        ("cruciform", "center-box", "inside-channel", "plate-to-corners"),
        ("wooden-sills", "wooden-sills", "", "center-box"),
        ("backbone", "outriggers", "horns", "plate-to-corners"),
        ("boxed-perimeter", "closed-rails", "", "torque-boxes"),
        ("torque-boxes", "torque-boxes", "front-box-bar", "nose-diagonals"),
        ("tube-ladder", "closed-rails", "inside-channel", "torque-boxes"),
    ],
)
def test_what_another_kind_of_frame_has_is_not_asked(
    id: str, here: str, gone: str, without_a_word: str
) -> None:
    course = {p.step.id: p for p in pages(Survey(id="new", layout=id), LIBRARY, DAY)}
    assert course[here].prompts
    assert not gone or (course[gone].gone and not course[gone].prompts)
    assert without_a_word not in course


def test_panels_off_drop_their_gaps_and_say_so() -> None:
    survey = list(steps_of("straight-ladder", state__panels="off"))[-1][0]
    page = next(p for p in pages(survey, LIBRARY, DAY) if p.step.id == "panel-gaps")
    assert not page.prompts
    assert "no gaps to read" in page.gone
    assert "panel-gaps/left/top" in {p.id for p in walked("straight-ladder")[1]}


@each_layout
def test_a_sheet_can_be_drawn_up(id: str) -> None:
    assert sheet_of(LIBRARY, id)
