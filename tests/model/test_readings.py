"""Readings of every prompt, exact and as typed text, and the survey that is taken with them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wizard.checks.case import Case
from wizard.judgment.blind import Bench
from wizard.model.bending import mount_x
from wizard.model.bent import Bent, Horn, Sag
from wizard.model.kit import Kit, exact_text, scale_text
from wizard.model.readings import engine_off, reading, readings, survey_on

NO_FRAME = ("panel-gaps",)
"""Steps that measure the body."""
EVERYTHING = Bent(
    diamond=4.0, mash_right=3.0, sway_rear=5.0, twist=4.0, lean=0.002, horn_left=Horn(3.0, 2.0, -4.0),
    left=(Sag(6.0, 640.0),), axle_rear=7.0, pit=0.4,
)  # fmt: skip


def test_every_prompt_that_measures_has_a_reading(bench: Bench) -> None:
    found = readings(bench.frame(Bent()), bench.prompts.values())
    assert set(found) == {
        id for id, p in bench.prompts.items() if p.kind.measures and p.step not in NO_FRAME
    }


def test_every_layout_answers_every_prompt_that_its_steps_ask(bench: Bench) -> None:
    for layout in bench.library.layouts.values():
        other = Bench(layout, bench.library)
        bent = replace(EVERYTHING, left=(Sag(6.0, mount_x(layout)),))
        found = readings(other.frame(bent), other.prompts.values())
        asked = {
            id for id, p in other.prompts.items() if p.kind.measures and p.step not in NO_FRAME
        }
        assert set(found) == asked, layout.id


def test_what_no_hand_measures_has_no_reading(bench: Bench) -> None:
    looks = [p for p in bench.prompts.values() if not p.kind.measures]
    assert looks
    assert all(reading(bench.frame(Bent()), p) is None for p in looks)


@pytest.mark.parametrize("below", [False, True])
def test_typed_and_read_back_a_reading_is_itself(bench: Bench, below: bool) -> None:
    """To a millionth of a mm: seven decimals are typed."""
    kit = Kit(string_below=below, level_own=0.001)
    frame = bench.frame(EVERYTHING)
    case = Case(survey_on(frame, bench.prompts, kit=kit), bench.known)
    for id, value in readings(frame, bench.prompts.values(), kit).items():
        taken = case.taken(id)
        assert taken is not None, id
        assert taken.number.value == pytest.approx(value, abs=1e-6), id


def test_what_a_page_is_called_does_not_decide_what_is_read_there(bench: Bench) -> None:
    steps = bench.library.steps.values()
    renamed = {f"page-{n}": step._replace(id=f"page-{n}") for n, step in enumerate(steps)}
    other = Bench(bench.layout, replace(bench.library, steps=renamed))
    found = readings(bench.frame(EVERYTHING), bench.prompts.values())
    again = readings(other.frame(EVERYTHING), other.prompts.values())
    assert list(again.values()) == list(found.values())
    assert not set(again) & set(found)


def test_only_the_steps_asked_for_are_taken(bench: Bench) -> None:
    survey = survey_on(bench.frame(Bent()), bench.prompts, ("wheelbase",))
    assert {r.prompt.split("/")[0] for r in survey.rows["reading"]} == {"wheelbase"}  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("prompt", "value", "unit", "said"),
    [
        ("long-diagonals/whole/front-left--rear-right", 2314.3, "mm", "2314"),
        ("long-diagonals/whole/front-left--rear-right", 91.12 * 25.4, "in", "91 1/8"),
        ("sag-unloaded/center/left", 52.3, "mm", "52.5"),
        ("front-box-bar/front-right--center-left", -3.1, "mm", "3.0 short"),
        ("front-box-bar/front-right--center-left", 0.1, "mm", "0.0"),
        ("front-box-bar/front-right--center-left", 0.1, "in", "0"),
        ("level/rear/as-set", 0.003, "in", "1/2 left"),
        ("level/rear/as-set", -0.009, "in", "1 1/2 right"),
        ("level/rear/as-set", 0.0001, "in", "0"),
        ("pitting/left/clean", 3.0, "in", "3.0 mm"),
    ],
)
def test_off_a_scale_it_is_said_as_by_a_person(
    bench: Bench, prompt: str, value: float, unit: str, said: str
) -> None:
    found = scale_text(value, bench.prompts[prompt], unit)  # type: ignore[arg-type]
    assert found in (said, said.replace("0.0", "0"))


def test_exact_text_names_the_side(bench: Bench) -> None:
    gap, bubble = bench.prompts["front-box-bar/closing"], bench.prompts["level/rear/as-set"]
    assert exact_text(-1.5, gap, places=2) == "1.50 mm short"
    assert exact_text(0.003, bubble, places=2) == "0.50 left"
    assert exact_text(0.0, gap, places=2) == "0.00 mm"


def test_the_engine_stands_square_to_its_mounts(bench: Bench) -> None:
    """Right mount 6 mm back over 690.4 mm between them: a lead of 6/690.4, over 640 mm to the
    pulley (identity).
    """
    frame = bench.frame(Bent(diamond=6.0))
    mounts = 2 * frame.half_width(640.0)
    assert mounts == pytest.approx(690.4)
    assert engine_off(frame, "pulley") == pytest.approx(6.0 / mounts * 640.0, abs=1e-9)
    assert engine_off(frame, "tail") == pytest.approx(-6.0 / mounts * 360.0, abs=1e-9)
    assert engine_off(bench.frame(Bent(pulley=4.0)), "pulley") == 4.0
    assert engine_off(bench.frame(Bent()), "pulley") == 0.0


def test_the_bar_reads_the_first_diagonal_less_the_second(bench: Bench) -> None:
    found = readings(bench.frame(Bent(diamond=6.0)), bench.prompts.values())
    first, second = (
        found[f"box-diagonals/front-box/front-{a}--center-{b}"]
        for a, b in (("left", "right"), ("right", "left"))
    )
    assert found["front-box-bar/front-right--center-left"] == pytest.approx(
        first - second, abs=1e-9
    )
    assert found["front-box-bar/closing"] == 0.0
