"""The worksheet's boxes stand in the wizard's own order, so that a filled sheet is typed in from
the paper alone.
"""

from __future__ import annotations

import random
import re
import tempfile
from dataclasses import replace
from functools import cache
from itertools import compress
from pathlib import Path

import pytest

from tests.checks.surveys import library
from tests.judgment.remeasured import sample
from tests.places import entry
from tests.sitting.driving import Driver
from wizard.judgment.short_list import steps_worth
from wizard.library.places import within_any
from wizard.library.templates import fits
from wizard.survey.follow import following
from wizard.survey.guide import guide_of
from wizard.survey.prompts import Prompt, is_open
from wizard.survey.record import Survey, number_of
from wizard.survey.rows import Ack, Reading, Row
from wizard.telling.sheet import DAY, Box, Sheet, UnknownState, sheet_of, state_of
from wizard.telling.sheet_form import form_of
from wizard.telling.sheet_text import form_text

LOOSE = {"engine": "in", "body": "loosened"}
STATES = [
    LOOSE,
    {"engine": "in", "body": "bolted"},
    {"engine": "out", "body": "off"},
    {"engine": "in", "body": "loosened", "panels": "on"},
]
FOUND = ("state/found", 1)
"""What it stands on before anybody sets it up: seen at the car, whatever the sheet was made for."""
every_state = pytest.mark.parametrize("state", STATES, ids=lambda s: "-".join(s.values()))
every_layout = pytest.mark.parametrize("layout", sorted(library().layouts))


def boxes(sheet: Sheet) -> list[Box]:
    return [box for step in sheet.steps for box in step.boxes]


def read_at_the_car(
    prompt: Prompt, draw: random.Random, state: dict[str, str], sheet: Sheet
) -> str:
    """What a person would write down there; the sheet's own letters where something was printed
    already.
    """
    if prompt.keep == "survey.car":
        return "Bramble"
    if prompt.keep.startswith("book."):
        return draw.choice(["-", "1/2"])
    if prompt.kind.tells:
        return draw.choice(["18 C", "two photos; the second is blurred"])
    if prompt.kind.acknowledges:
        return "understood"
    if prompt.kind.chooses:
        field = prompt.keep.removeprefix("state.")
        wanted = sheet.layout.id if prompt.keep == "survey.layout" else state.get(field, "")
        wanted = "every" if prompt.id == "about-the-car/course" else wanted  # as the sheet says
        letters = {c.token: c.letter for c in prompt.choices}
        first_asked = prompt.step in ("state", "set-supports", "about-the-car")
        return letters[wanted] if first_asked and wanted in letters else prompt.choices[0].letter
    if prompt.kind.looks:
        return draw.choice(["n", *(f"{seen} {c.letter}" for seen in "bpd" for c in prompt.choices)])
    number = f"{draw.randint(20, 90)} {draw.randint(1, 15)}/16"
    if prompt.kind.offsets:
        return f"{draw.randint(1, 3)}/16 {draw.choice(prompt.signs)}"
    if prompt.kind.leans:
        return f"{draw.randint(0, 3)}.{draw.randint(1, 9)} {draw.choice(prompt.signs)}"
    return (
        f"1/{draw.choice([2, 3, 4])} {draw.choice(['left', 'right'])}"
        if prompt.kind.tilts
        else number
    )


def car_of(sheet: Sheet, state: dict[str, str], seed: int) -> dict[tuple[str, int], str]:
    """What the tools say at every box, applicable or not: a list of readings by prompt and repeat."""
    draw = random.Random(seed)
    read = {
        (b.ask.prompt.id, b.ask.nth): read_at_the_car(b.ask.prompt, draw, state, sheet)
        for b in boxes(sheet)
        if not b.kind.gathers
    }
    places = (b.ask.prompt for b in boxes(sheet) if b.kind.gathers)
    return read | {(p.id, 1): entry(Survey(), p, lambda id: read[id, 1]) for p in places}


def asked_one_by_one(
    folder: Path, car: dict[tuple[str, int], str]
) -> tuple[Survey, list[tuple[str, int]]]:
    """The wizard at the car, a line for each prompt; and what it asked, in its order.

    What must be read has a box only where the sheet's state is sure to ask for it; it is read all
    the same.
    """
    driver, met = Driver(folder), []
    while (ask := driver.sitting.ask) is not None:
        key = ask.prompt.id, ask.nth
        if is_called_for(driver):
            driver.run("understood" if ask.prompt.kind.acknowledges else NOT_ON_PAPER)
            continue
        met.append(key)
        driver.enter(car.get(key, "understood") if ask.prompt.kind.acknowledges else car[key])
    return driver.survey, met


NOT_ON_PAPER = "/skip page not on the sheet"


def is_called_for(driver: Driver) -> bool:
    """Whether a page is in front that a sign has called for, and that the sheet only names."""
    ask = driver.sitting.ask
    return ask is not None and bool(library().steps[ask.prompt.step].called)


@cache
def sheet_for(layout: str, state: tuple[tuple[str, str], ...]) -> Sheet:
    """The sheet, made once for all that is asked of it."""
    return sheet_of(library(), layout, dict(state))


@cache
def walked(
    layout: str, state: tuple[tuple[str, str], ...]
) -> tuple[dict[tuple[str, int], str], Survey, list[tuple[str, int]]]:
    """A car of that frame in that state, the wizard's survey of it, and what it asked in its order:
    one walk for all that is asked of it.
    """
    sheet = sheet_for(layout, state)
    car = car_of(sheet, dict(state), seed=len(f"{layout}{state}"))
    with tempfile.TemporaryDirectory() as folder:
        return car, *asked_one_by_one(Path(folder), car)


def type_in(driver: Driver, lines: list[str]) -> Driver:
    """The lines of the paper; a caution that has no box of its own on it is read on the way."""
    for line in lines:
        while (
            line != "understood"
            and driver.sitting.prompt is not None
            and driver.sitting.prompt.kind.acknowledges
        ):
            driver.run("understood")
        past_what_is_called_for(driver)
        driver.run(line)
    past_what_is_called_for(driver)
    return driver


def past_what_is_called_for(driver: Driver) -> None:
    """What a sign has called for is passed over, once its cautions are read."""
    while is_called_for(driver):
        assert driver.sitting.prompt is not None
        driver.run("understood" if driver.sitting.prompt.kind.acknowledges else NOT_ON_PAPER)


def paper(
    sheet: Sheet, car: dict[tuple[str, int], str], wanted: set[tuple[str, int]]
) -> list[list[tuple[Box, str]]]:
    """The sheet filled in by hand, step by step; a box that does not apply stays empty."""
    return [
        [
            (b, car[key] if (key := (b.ask.prompt.id, b.ask.nth)) in wanted else "")
            for b in step.boxes
        ]
        for step in sheet.steps
    ]


def lines_from_paper(filled: list[list[tuple[Box, str]]]) -> list[str]:
    """What the caller reads out: the boxes of a step with `;` between, cautions and words on lines
    of their own.
    """
    lines: list[str] = []
    for step in filled:
        run: list[str] = []
        for box, written in step:
            if not written:
                continue
            if not box.kind.line:
                lines += ["; ".join(run)] if run else []
                lines.append(written)
                run = []
            else:
                run.append(written)
        lines += ["; ".join(run)] if run else []
    return lines


def rows(survey: Survey) -> list[Row]:
    return list(survey.all_rows())


@every_state
@pytest.mark.parametrize("layout", ["straight-ladder", "a-frame", "x-braced"])
def test_a_sheet_is_typed_in_from_the_paper_alone(
    tmp_path: Path, state: dict[str, str], layout: str
) -> None:
    sheet = sheet_for(layout, tuple(state.items()))
    car, direct, met = walked(layout, tuple(state.items()))
    lines = lines_from_paper(paper(sheet, car, set(met)))
    typed = type_in(Driver(tmp_path / "typed"), lines)
    assert typed.at == "end"
    assert rows(typed.survey) == rows(direct)
    assert len(lines) < 0.7 * len(met)


@every_state
@every_layout
def test_the_boxes_are_asked_in_that_order(state: dict[str, str], layout: str) -> None:
    sheet = sheet_for(layout, tuple(state.items()))
    _, _, met = walked(layout, tuple(state.items()))
    order = [(b.ask.prompt.id, b.ask.nth) for b in boxes(sheet)]
    once = [key for key in order if "/caution/" not in key[0]]  # it is read anew as the car stands
    assert len(set(once)) == len(once)
    unboxed = {key for key in met if "/caution/" in key[0]} - set(order)
    assert [key for key in order if key in set(met)] == [k for k in met if k not in unboxed]


@every_state
@every_layout
def test_what_is_read_without_a_box_stands_printed_before_that_page(
    state: dict[str, str], layout: str
) -> None:
    """What it will stand on is not known on paper, so each caution that may come is on it in full."""
    sheet = sheet_for(layout, tuple(state.items()))
    _, _, met = walked(layout, tuple(state.items()))
    printed: dict[str, set[str]] = {}
    so_far: set[str] = set()
    for step in sheet.steps:
        so_far |= {c.id for c in step.cautions}
        printed[step.id] = set(so_far)
    read = [id.split("/caution/") for id, _ in met if "/caution/" in id]
    assert len(read) > 5
    assert [(step, caution) for step, caution in read if caution not in printed[step]] == []


def test_each_question_and_caution_is_on_a_sheet_whose_supports_were_chosen(tmp_path: Path) -> None:
    """The wizard asks what the car was found on, whatever it is to be set on later, and it may have
    to roll first.
    """
    lacking = {}
    for supports in ("wheels", "stands-under-axles", "stands-under-frame"):
        sheet_state = {**LOOSE, "supports": supports}
        sheet = sheet_of(library(), "straight-ladder", sheet_state)
        _, met = asked_one_by_one(
            tmp_path / supports, {FOUND: "w"} | car_of(sheet, sheet_state, seed=2)
        )
        order = {(b.ask.prompt.id, b.ask.nth) for b in boxes(sheet)}
        printed = {c.id for step in sheet.steps for c in step.cautions}
        lacking[supports] = [
            id
            for id, nth in met
            if id.split("/caution/")[-1] not in printed and (id, nth) not in order
        ]
    assert lacking == {"wheels": [], "stands-under-axles": [], "stands-under-frame": []}


def test_what_is_asked_only_sometimes_is_marked_so() -> None:
    sheet = sheet_for("straight-ladder", tuple(LOOSE.items()))
    met = set(walked("straight-ladder", tuple(LOOSE.items()))[2])
    passed_over = [b for b in boxes(sheet) if (b.ask.prompt.id, b.ask.nth) not in met]
    assert passed_over
    assert all(b.only_if.startswith("only if ") for b in passed_over if not b.kind.acknowledges)
    # It stood on its wheels throughout: of what must be read, only what is for a lifted car was
    # not. Before a place that is passed over everything is; it stands before the next page again.
    places = {b.ask.prompt.step for b in passed_over if b.kind.gathers}
    assert places == {"jack-places"}
    acks = [b.ask.prompt for b in passed_over if b.kind.acknowledges]
    cautions = {p.caution for p in acks if p.step not in places}
    assert [id for id in cautions if "wheels" in library().cautions[id].stances] == []
    read = {id.split("/caution/")[-1] for id, _ in met if "/caution/" in id}
    there = {p.caution for p in acks if p.step in places}
    assert [id for id in there - read if "wheels" in library().cautions[id].stances] == []


def test_two_boxes_changed_over_are_noticed(tmp_path: Path) -> None:
    """The twin that must fail: the order matters."""
    sheet = sheet_for("straight-ladder", tuple(LOOSE.items()))
    car, direct, met = walked("straight-ladder", tuple(LOOSE.items()))
    filled = paper(sheet, car, set(met))
    step = next(s for s in filled if s[0][0].ask.prompt.step == "widths")
    step[0], step[1] = step[1], step[0]
    typed = type_in(Driver(tmp_path / "typed"), lines_from_paper(filled))
    assert rows(typed.survey) != rows(direct)


def test_without_a_state_nothing_is_ruled_out() -> None:
    sheet = sheet_of(library(), "straight-ladder")
    wanted = {s.id: s.only_when for s in sheet.steps}
    assert wanted["long-diagonals"] == "Only with the body loosened or off."
    assert wanted["diagonals-below"] == "Only with the body bolted or loosened."
    assert sheet.left_out == ()


def test_the_engine_is_lifted_and_let_down_on_the_way() -> None:
    ids = [s.id for s in sheet_of(library(), "straight-ladder", LOOSE).steps]
    assert [i for i in ids if "sag" in i or "engine" in i][-4:] == [
        "sag-loaded", "lift-engine", "sag-unloaded", "lower-engine"
    ]  # fmt: skip
    out = sheet_of(library(), "straight-ladder", {"engine": "out", "body": "off"})
    assert {title for _, title, _ in out.left_out} >= {
        "Sag with the engine's weight on",
        "Letting the engine down again",
    }


def test_a_state_chosen_is_printed_in_its_box() -> None:
    bare = {"engine": "out", "body": "off", "supports": "three-points"}
    sheet = sheet_of(library(), "straight-ladder", bare)
    printed = {b.ask.prompt.id: b.preset for b in boxes(sheet) if b.preset}
    printed.pop(FOUND[0], None)
    assert printed == {
        "state/engine": "o",
        "state/body": "o",
        "set-supports/supports": "t",
        "about-the-car/layout": "s",
    }
    assert sheet.state["supports"] == "three points (a bare frame only)"


def test_a_caution_is_printed_once_in_full_before_the_first_box_that_it_guards() -> None:
    sheet = sheet_of(library(), "straight-ladder", LOOSE)
    printed = [c.id for step in sheet.steps for c in step.cautions]
    assert len(set(printed)) == len(printed)
    assert {"hold-unpushed", "under-on-wheels", "going-under"} <= set(printed)
    told: set[str] = set()
    for step in sheet.steps:
        told |= {c.id for c in step.cautions}
        kinds = [b.kind.id for b in step.boxes]
        asked = {b.ask.prompt.caution for b in step.boxes if b.kind.acknowledges}
        assert kinds[: len(asked)] == ["ack"] * len(asked), step.id
        assert asked <= told, step.id


def test_what_was_lifted_is_read_about_again() -> None:
    """The engine goes up and comes down again: what was read of the car before that holds no more."""
    sheet = sheet_of(library(), "straight-ladder", LOOSE)
    read = {
        s.id: {b.ask.prompt.caution for b in s.boxes if b.kind.acknowledges} for s in sheet.steps
    }
    assert "going-under" in read["left-beside"]
    assert "going-under" not in read["left-rail"]
    assert "going-under" in read["sag-unloaded"]


def test_a_tape_names_its_points_by_the_numbers_of_the_drawing() -> None:
    sheet = sheet_of(library(), "straight-ladder", LOOSE)
    box = next(b for b in boxes(sheet) if b.label == "left front to right rear")
    assert box.points == f"{sheet.points['front-left']} to {sheet.points['rear-right']}" == "3 to 8"


def test_the_short_survey_has_the_short_course() -> None:
    sheet = sheet_of(library(), "straight-ladder", {"engine": "in"}, short=True)
    layout, steps = library().layouts["straight-ladder"], library().steps
    # A page may be asked in parts, or at a place.
    in_turn = dict.fromkeys(s.id for s in sheet.steps if not steps[s.id].gathers)
    asked = (id for id in library().courses["short"] if not steps[id].called)
    short = [id for id in asked if fits(steps[id], layout)]
    assert list(in_turn) == short


@pytest.mark.parametrize(
    "state", [{"engine": "sideways"}, {"engine": "weight-off"}, {"color": "red"}, {"body": ""}]
)
def test_a_state_that_is_none_is_refused_with_those_that_are(state: dict[str, str]) -> None:
    with pytest.raises(UnknownState, match=r"not how a car can stand.*engine=in"):
        sheet_of(library(), "straight-ladder", state)


def test_a_layout_that_is_none_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        sheet_of(library(), "no-such-frame")


def test_every_step_has_its_how_to_on_one_line() -> None:
    for step in sheet_of(library(), "straight-ladder").steps:
        assert 0 < len(step.how) <= 110, step.id
        assert "\n" not in step.how


# Measured again -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name", ["bramble-2026-04-11", "bramble-2026-10-10", "marigold-2026-05-02"]
)
def test_a_sheet_to_measure_again_has_its_list_and_no_figure_of_last_time(name: str) -> None:
    old = sample(name)
    sheet = sheet_of(library(), old.layout, survey=old, again=True)
    assert sheet.stood.startswith("engine in"), "set up otherwise, nothing of it can be compared"
    assert old.state().stood in sheet.stood
    assert sheet.car == old.car
    boxes = [b.ask.prompt for s in sheet.steps for b in s.boxes if b.kind.counts]
    listed = steps_worth(old, library(), old.started)
    assert {p.id for p in boxes if p.kind.measures} >= {
        r.prompt for r in old.standing(Reading) if within_any(r.prompt, listed)
    }
    assert all(within_any(p.id, listed) for p in boxes)
    whole = sheet_of(library(), old.layout, survey=old)
    assert len(boxes) < len([b for s in whole.steps for b in s.boxes if b.kind.counts]) / 2
    assert "Keep last time's figures covered" in " ".join(form_text(form_of(sheet)).split())
    known = {b.ask.prompt.id for s in sheet.steps for b in s.boxes}
    assert not known & {"about-the-car/car", "about-the-car/layout", "about-the-car/course"}
    text = form_text(form_of(sheet))
    figure = re.compile(r"\d+ \d+/\d+|\d{3,4}(\.\d)?")
    figures = {r.typed for r in old.standing(Reading) if figure.fullmatch(r.typed)}
    assert figures
    assert not [f for f in figures if re.search(rf"(?<![\d/]){re.escape(f)}(?![\d/])", text)]


def test_a_re_check_that_is_begun_has_the_same_sheet() -> None:
    old = sample("bramble-2026-04-11")
    new = following(old, library(), old.started, steps_worth(old, library(), old.started))
    one, other = (sheet_of(library(), s.layout, survey=s, again=True) for s in (old, new))
    ids = [[b.ask for s in sheet.steps for b in s.boxes] for sheet in (one, other)]
    assert ids[0] == ids[1]


# A survey that goes on ----------------------------------------------------------------------------


def part_of_it(name: str, last: int) -> Survey:
    """A sample up to a row: a survey that somebody left in the middle."""
    whole = sample(name)
    rows = {k: tuple(r for r in v if number_of(r.id) <= last) for k, v in whole.rows.items()}
    return replace(whole, rows=rows)


@pytest.mark.parametrize("last", [20, 60, 100, 150])
@pytest.mark.parametrize(
    "name", ["bramble-2026-04-11", "marigold-2026-05-02", "old-post-2026-06-20"]
)
def test_a_sheet_for_a_survey_that_goes_on_has_just_what_it_still_asks(
    name: str, last: int
) -> None:
    survey = part_of_it(name, last)
    sheet = sheet_of(library(), survey.layout, state_of(survey, library()), survey=survey)
    there = [b.ask for s in sheet.steps for b in s.boxes if not b.kind.acknowledges]
    asks, wanted = guide_of(survey, library()).asks(DAY)
    still = {(ask.prompt.id, ask.nth) for ask in compress(asks, wanted)}
    printed = {(ask.prompt.id, ask.nth) for ask in there}
    if any(str(id).startswith("diagonals-below/") for id, _ in printed):
        # Either page tapes the same: on paper, where nobody chooses, the first of them stands.
        still = {(id, nth) for id, nth in still if not str(id).startswith("long-diagonals/")}
    assert still
    assert still <= printed
    assert [ask.prompt.id for ask in there if not is_open(survey, ask)] == []
    assert all(step.boxes for step in sheet.steps)
    assert "open this survey and type /all" in " ".join(form_text(form_of(sheet)).split())


def test_its_cautions_stand_before_what_is_still_to_do() -> None:
    survey = part_of_it("bramble-2026-04-11", 100)
    sheet = sheet_of(library(), survey.layout, state_of(survey, library()), survey=survey)
    read = {c.id for step in sheet.steps for c in step.cautions}
    marked = [b for step in sheet.steps for b in step.boxes if b.kind.acknowledges]
    assert survey.standing(Ack)
    assert {b.ask.prompt.caution for b in marked} <= read
    assert marked


def test_of_a_finished_survey_the_sheet_is_whole() -> None:
    survey = sample("bramble-2026-04-11")
    state = state_of(survey, library())
    one = sheet_of(library(), survey.layout, state, survey=survey)
    other = sheet_of(library(), survey.layout, state)
    assert [s.id for s in one.steps] == [s.id for s in other.steps]
