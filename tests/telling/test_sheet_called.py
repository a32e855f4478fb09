"""What is asked only when it is called for: its sheet is filled in at the car and typed in from the
paper alone, in the order of the paper.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.surveys import library
from tests.sitting.driving import Driver
from tests.telling.test_sheet import NOT_ON_PAPER, boxes, car_of, lines_from_paper, paper, rows
from wizard.telling.sheet import Sheet, sheet_of
from wizard.telling.sheet_form import form_of
from wizard.telling.sheet_text import form_text

STATE = {"engine": "in", "body": "loosened", "supports": "wheels"}
CALLS = sorted(library().also)
FOUND = ("state/found", 1)


def sheet_with(also: str) -> Sheet:
    return sheet_of(library(), "straight-ladder", STATE, also=(also,))


def stands_before(driver: Driver, on_paper: set[str]) -> str:
    """What is typed where the paper has nothing: a caution of the day, a page that something called
    for that is on no sheet; empty where the paper has it.
    """
    prompt = driver.sitting.prompt
    if prompt is None:
        return ""
    if library().steps[prompt.step].called and prompt.step not in on_paper:
        return "understood" if prompt.kind.acknowledges else NOT_ON_PAPER
    return ""


def at_the_car(
    folder: Path, sheet: Sheet, car: dict[tuple[str, int], str], also: str
) -> tuple[Driver, list[tuple[str, int]]]:
    """Every prompt answered as the tools say there; and what was asked, in its order."""
    driver, met = Driver(folder).run(f"/also {also}"), []
    on_paper = {step.id for step in sheet.steps}
    while (ask := driver.sitting.ask) is not None:
        key = ask.prompt.id, ask.nth
        line = stands_before(driver, on_paper)
        if not line:
            met.append(key)
            line = car.get(key, "understood") if ask.prompt.kind.acknowledges else car[key]
        driver.run(line)
    return driver, met


def typed_in(folder: Path, sheet: Sheet, lines: list[str], also: str) -> Driver:
    """The lines of the paper, one after the other."""
    driver = Driver(folder).run(f"/also {also}")
    on_paper = {step.id for step in sheet.steps}
    for line in [*lines, ""]:
        while before := stands_before(driver, on_paper):
            driver.run(before)
        while line != "understood" and driver.sitting.prompt is not None:
            if not driver.sitting.prompt.kind.acknowledges:
                break
            driver.run("understood")
        if line:
            driver.run(line)
    return driver


@pytest.mark.parametrize("also", CALLS)
def test_a_sheet_with_it_is_filled_in_and_typed_in(tmp_path: Path, also: str) -> None:
    sheet = sheet_with(also)
    called = {s.id for s in library().steps.values() if s.called == also}
    assert called & {s.id for s in sheet.steps}
    car = {**car_of(sheet, STATE, seed=19), FOUND: "w"}
    direct, met = at_the_car(tmp_path / "direct", sheet, car, also)
    asked = {id.split("/")[0] for id, _ in met}
    assert called & {s.id for s in sheet.steps} <= asked
    lines = lines_from_paper(paper(sheet, car, set(met)))
    typed = typed_in(tmp_path / "typed", sheet, lines, also)
    assert typed.at == direct.at == "end"
    assert rows(typed.survey) == rows(direct.survey)
    of_it = [key for key in met if key[0].split("/")[0] in called and "/caution/" not in key[0]]
    order = [(b.ask.prompt.id, b.ask.nth) for b in boxes(sheet)]
    assert of_it == [key for key in order if key in set(of_it)]


def test_a_box_for_an_angle_says_in_what_and_which_ways() -> None:
    text = " ".join(form_text(form_of(sheet_with("axle-set"))).split())
    for said in (
        "caster, left (degrees back or forward)",
        "camber, right, 2nd (degrees out or in)",
        "left front shackle from upright (degrees away or toward)",
        "floor under the tires, high side (degrees left or right)",
    ):
        assert said in text, said


def test_room_for_words_says_too_when_it_is_asked_for() -> None:
    text = " ".join(form_text(form_of(sheet_with("body-mounts"))).split())
    made_of = "what is it, how many? (- for nothing to say)"
    assert f"Pair 3: {made_of} [only if c, f, g or s] ___" in text
    assert f"Pair 6: {made_of} [only if s] ___" in text
