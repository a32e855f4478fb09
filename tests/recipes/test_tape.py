"""DEVELOPERS.md, "A tape", carried out: a new distance between two points that the layouts have."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.recipes.carried_out import (
    answered,
    carried_out,
    faults,
    flat,
    piped,
    reading,
    recipe,
    reports,
    said,
    sample,
    screen,
    unnamed,
)
from tests.sitting.driving import READ
from wizard.library import load_library
from wizard.model.bent import Bent
from wizard.model.frame import Frame
from wizard.model.readings import prompts_of, readings
from wizard.survey.file import load
from wizard.survey.rows import Reading

RECIPE = recipe("A tape")
ASK = "left horn tip to right rear"
LEFT, RIGHT = "horns/tip-left--rear-right", "horns/tip-right--rear-left"
TAPED, TWIN, LATER = "107 15/16", "107 7/8", "108 7/16"
"""Inches: what the other tapes of that frame foretell, and half an inch more the second time."""


@dataclass(frozen=True)
class Taped:
    """Two surveys of a frame with the new tape, half an inch longer the second time."""

    then: Path
    now: Path
    shown: str
    """The page with the tape in front."""
    drawn: str
    """Its drawing in words."""
    listed: str
    """The page once it was answered."""


@pytest.fixture(scope="module")
def taped(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Taped]:
    home = tmp_path_factory.mktemp("tape")
    with reading(carried_out(RECIPE, home)):
        then = sample("bramble-2026-04-11", home / "surveys")
        now = then.with_name("bramble-2026-08-11.toml")
        text = then.read_text(encoding="utf-8").replace("2026-04-11", "2026-08-11")
        now.write_text(text.replace('follows = ""', f'follows = "{then.stem}"'), encoding="utf-8")
        answered(then, "/go horns", READ)
        shown, drawn = screen(then, "/go horns"), piped(then, "/go horns", "/drawing")
        answered(then, "/go horns", TAPED)
        listed = screen(then, "/go horns")
        answered(then, "/go horns", TWIN)
        answered(now, "/go horns", READ, LATER, TWIN)
        yield Taped(then, now, flat(shown), flat(drawn), flat(listed))


def test_the_content_is_in_order_with_it(tmp_path: Path) -> None:
    assert faults(carried_out(RECIPE, tmp_path)) == []


def test_each_line_left_out_is_named(tmp_path: Path) -> None:
    assert unnamed(RECIPE, tmp_path) == []


def test_an_id_that_is_not_its_two_points_is_named(tmp_path: Path) -> None:
    content = carried_out(RECIPE, tmp_path)
    page = content / "steps" / "horns.toml"
    text = page.read_text(encoding="utf-8")
    page.write_text(text.replace('id = "tip-left--rear-right"', 'id = "long-cross"'))
    assert faults(content) == [
        "horns.toml: prompt.id: 'long-cross' does not name the two points of the tape;"
        ' write id = "tip-left--rear-right"'
    ]


def test_the_wizard_asks_draws_and_lists_it(taped: Taped) -> None:
    assert f"> {ASK}" in taped.shown
    assert "the tape runs from the left horn tip to the right rear." in taped.drawn
    assert f"{ASK} {TAPED} > right horn tip to left rear" in taped.listed


def test_the_plain_prompts_say_it(taped: Taped) -> None:
    assert f"{ASK}: {TAPED}" in flat(piped(taped.then, "/readings"))


def test_the_plan_takes_it_in(taped: Taped) -> None:
    """Every quantity of the plan leans on it: the horns' first of all."""
    findings = {f["id"]: f for f in json.loads(said("tell", taped.then, "--json"))["findings"]}
    typed = {r.id for r in load(taped.then).standing(Reading) if r.prompt.endswith((LEFT, RIGHT))}
    assert len(typed) == 2
    assert typed <= set(findings["horn/difference"]["readings"])
    assert findings["horn/difference"]["unit"] == "mm"
    assert "suspect/plan" not in findings


def test_a_slip_in_it_is_named_by_what_was_asked(taped: Taped, tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.toml"
    text = taped.then.read_text(encoding="utf-8")
    wrong.write_text(text.replace(f'typed = "{TAPED}"', 'typed = "104 15/16"', 1), encoding="utf-8")
    told = flat(said("tell", wrong, "--all"))
    assert f"“{ASK}” is probably 2 31/32 in too short" in told


def test_the_mentor_s_view_has_it(taped: Taped) -> None:
    told = flat(said("tell", taped.then, "--mentor"))
    part = told.partition("hand, horns: left tip to right rear")[2]
    assert "hand and scale" in part[:200]


def test_compare_says_by_how_much_it_changed(taped: Taped) -> None:
    told = flat(said("compare", taped.then, taped.now))
    assert f"Left horn tip to right rear: then {TAPED} in, now {LATER} in." in told
    assert "It moved by 1/2 in, give or take" in told
    data = json.loads(said("compare", taped.then, taped.now, "--json"))
    pairs = {p["id"]: p for p in data["pairs"]}
    assert pairs[f"length/{LEFT}"]["says"] == "changed"
    assert pairs[f"length/{LEFT}"]["change"] == pytest.approx(12.7)
    assert pairs[f"length/{RIGHT}"]["says"] == "not changed"


def test_the_report_has_it_in_each_form(taped: Taped) -> None:
    told = reports(taped.then)
    for kind in ("html", "md", "txt"):
        assert ASK in flat(told[kind].replace("\\", "")), kind
    rows = [row for row in csv.DictReader(io.StringIO(told["csv"])) if row["prompt"] == LEFT]
    assert [(row["asked"], row["typed"], row["unit"]) for row in rows] == [(ASK, TAPED, "mm")]
    assert float(rows[0]["value"]) == pytest.approx((107 + 15 / 16) * 25.4)


def test_the_sheet_has_its_box_where_a_frame_has_the_points(taped: Taped) -> None:
    assert f"{ASK} (1 to 8) ." in flat(said("sheet", "--layout", "straight-ladder"))
    assert ASK not in said("sheet", "--layout", "a-frame")


def test_the_model_tells_what_it_reads_there(taped: Taped) -> None:
    layout = load_library().layouts["straight-ladder"]
    straight, slipped = Frame(layout), Frame(layout, Bent(diamond=6.0))
    prompts = prompts_of(straight, load_library())
    then, now = (readings(frame, prompts.values()) for frame in (straight, slipped))
    tip, rear = (layout.place(id) for id in ("tip", "rear"))
    apart = (rear.x - tip.x, rear.half_width + tip.half_width, rear.z - tip.z)
    assert then[LEFT] == then[RIGHT] == pytest.approx(math.hypot(*apart), abs=0.05)
    # The whole right rail slid back: one of the two is longer by nearly that, the other shorter.
    assert now[LEFT] - then[LEFT] == pytest.approx(6.0, abs=0.5)
    assert then[RIGHT] - now[RIGHT] == pytest.approx(6.0, abs=0.5)
