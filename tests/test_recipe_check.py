"""The recipes "A check" and "A quantity" of DEVELOPERS.md, carried out.

A check for the thickness by an ultrasonic gauge is added to a copy of the content: one module, one
step, one quantity, its limit, its line in the course, its tool. Every output then tells it rightly.
"""

from __future__ import annotations

import json
import shutil
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

import wizard.checks
from tests.checks.surveys import DAY
from wizard.checks.run import _module, check_faults
from wizard.command import main
from wizard.judgment.change import compare
from wizard.library.load import read_content
from wizard.library.paths import content_dir
from wizard.library.shapes import Library
from wizard.sitting.commands import handle
from wizard.sitting.sitting import Sitting
from wizard.survey.guide import layout_of
from wizard.survey.prompts import expand
from wizard.survey.record import Survey
from wizard.survey.rows import Reading
from wizard.survey.state import with_tool
from wizard.telling.change_words import compare_text
from wizard.telling.json_out import as_json
from wizard.telling.page import hint, live
from wizard.telling.papers import report_as
from wizard.telling.report import Source
from wizard.telling.sentences import telling_faults
from wizard.telling.sheet import sheet_of
from wizard.telling.sheet_text import sheet_text
from wizard.telling.tell import tell_text

MODULE = '''"""What rust has taken from the sheet by an ultrasonic gauge.

Source: the share of the layout's sheet that is gone (identity). Limit: see content/limits.toml.
"""

from __future__ import annotations

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.sizes import round_figure
from wizard.library.places import QuantityId, StepId, asked_of, where_id
from wizard.math.uncertain import combine

WALL_LOSS, WALL = QuantityId("wall-loss"), StepId("wall")
RETURNS = (WALL_LOSS,)


def check(case: Case) -> list[Finding]:
    """Percent of the sheet lost at every place that was read."""
    sheet, found = case.layout.figures.get("rail_thickness", 0.0), []
    whole = round_figure("rail_thickness", sheet)
    for prompt in case.by_prompt:
        asked = asked_of(prompt)
        taken = case.taken(prompt) if asked.step == WALL and sheet else None
        if taken:
            left = taken.number
            share = left.value / sheet
            terms = [(-100.0 / sheet, left), (100.0 * share / sheet, whole)]
            lost = combine(100.0 * (1.0 - share), terms)
            where = where_id(asked.item, asked.name)
            found.append(case.found(WALL_LOSS, where, lost, taken.ids))
    return found
'''
STEP = """format = 1
id = "wall"
title = "How thick the wall is"
part = "measure"
exposes = ["under", "beside-lifted", "wire-wheel", "old-paint", "fuel"]
minutes = 6
again = 3
check = "wall"
why = "Rust from inside shows only in what is left."
how = ["Brush one spot at each place to bare metal.", "Press the gauge on it and type what it says."]
spoils = ["Paint or scale under the gauge."]
good = "Twice at one spot within 0.1 mm (0.004 in)."
source = "common practice, no published source"

[[prompt]]
kind = "length"
id = "left"
each = "station"
ask = "left rail, {station_name}, thickness"
short = "left, {station_name}"
tool = "caliper"
"""
QUANTITY = """
[[quantity]]
id = "wall-loss"
unit = "%"
by = ["wall"]
shown = ["wall"]
limit = "wall-loss"
name = "{side} wall {at}: thickness lost"
plural = "places of the wall"
ends = ["thicker", "lost"]
compared = true
[quantity.says]
straight = "The {side} wall has lost nothing {at}, {doubt}."
plus = "The {side} wall has lost {amount} of its thickness {at}, {doubt}."
minus = "The {side} wall is {amount} thicker than the sheet {at}, {doubt}."
"""
LIMIT = """
[[limit]]
id = "wall-loss"
name = "thickness lost by the gauge"
sound = "the walls by the gauge"

[[limit.above]]
band = "leave"
upto = "10 %"
source = "TB 9-2510-242-40, for trailer frames"
mark = "P"

[[limit.above]]
band = "watch"
upto = "15 %"
source = "TB 9-2510-242-40, for trailer frames"
mark = "P"
"""
TOOL = """
[[tool]]
id = "ultrasonic-gauge"
kind = "caliper"
name = "ultrasonic gauge"
[tool.values]
class = "I"
division_in = "0.1 mm"
division_mm = "0.1 mm"
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A copy of the content with the pieces of the recipe, and the module beside the others."""
    content = Path(shutil.copytree(content_dir(), tmp_path / "content"))
    (content / "steps" / "wall.toml").write_text(STEP, encoding="utf-8")
    for name, more in (("quantities", QUANTITY), ("limits", LIMIT), ("tools", TOOL)):
        with (content / f"{name}.toml").open("a", encoding="utf-8") as file:
            file.write(more)
    course = content / "course.toml"
    text = course.read_text(encoding="utf-8")
    course.write_text(text.replace('"pitting",', '"pitting",\n    "wall",', 1), encoding="utf-8")
    checks = tmp_path / "checks"
    checks.mkdir()
    (checks / "wall.py").write_text(MODULE, encoding="utf-8")
    monkeypatch.setattr(wizard.checks, "__path__", [*wizard.checks.__path__, str(checks)])
    yield content
    sys.modules.pop("wizard.checks.wall", None)
    vars(wizard.checks).pop("wall", None)
    _module.cache_clear()


@pytest.fixture
def library(folder: Path) -> Library:
    """The copy, read; nothing in it is wrong."""
    made, faults = read_content(folder)
    assert [str(f) for f in faults] == []
    return made


def read(library: Library, typed: str = "2.3 mm", day: datetime = DAY) -> Survey:
    """A survey with the gauge read at one place, three times; the sheet is 3 mm by the layout."""
    survey = Survey(id=f"s{day:%j}", car="Bramble", started=day, unit="in")
    survey = with_tool(survey, library.tools["ultrasonic-gauge"], day, "owner")
    prompts = list(expand(library.steps["wall"], layout_of(survey, library)))
    id = next(p.id for p in prompts if p.item == "center")
    for _ in range(3):
        row = Reading(id=survey.new_id(Reading), at=day, prompt=id, typed=typed, tool="t1")
        survey = survey.with_row(row)
    return survey


def test_tell_and_mentor_say_percent(library: Library) -> None:
    survey = read(library)
    for mentor in (False, True):
        said = " ".join(tell_text(survey, library, DAY, mentor=mentor, whole=True).split())
        assert "The left wall has lost 23 % of its thickness at the center crossmember" in said
        assert "23 in" not in said


def test_the_linter_knows_it_and_all_that_may_be_wrong_with_it(
    folder: Path, library: Library, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["content", str(folder)]) == 0
    assert "in order" in capsys.readouterr().out
    of = library.quantities["wall-loss"]
    for broken, wrong in (
        (replace(of, by=("wal",)), "has no check 'wal'"),
        (replace(of, id="wall-lost"), "wall.py returns 'wall-loss'"),
    ):
        made = {q.id: q for q in library.quantities.values() if q is not of} | {broken.id: broken}
        faults = [str(f) for f in check_faults(replace(library, quantities=made))]
        assert any(wrong in f for f in faults), faults
    mute = replace(of, says={"straight": "Nothing."})
    faults = [str(f) for f in telling_faults(replace(library, quantities={of.id: mute}))]
    assert [f for f in faults if "says.plus: is missing" in f]
    limits = folder / "limits.toml"
    limits.write_text(limits.read_text().replace('"10 %"', '"10 mm"').replace('"15 %"', '"15 mm"'))
    assert [f for f in read_content(folder)[1] if "'wall-loss' is in mm, not in %" in str(f)]


def test_json_has_it_with_its_unit_and_band(library: Library) -> None:
    out = json.loads(as_json(read(library), library, DAY))
    (found,) = [f for f in out["findings"] if f["quantity"] == "wall-loss"]
    assert found["unit"] == "%"
    assert found["value"] == pytest.approx(100 * 0.7 / 3)
    assert [edge["high"] for edge in found["limits"]] == [10.0, 15.0]
    assert found["bands"] == ["specialist"]


def test_compare_tells_what_was_lost_since(library: Library) -> None:
    then, now = read(library, "2.9 mm"), read(library, "2.1 mm", DAY + timedelta(days=200))
    said = " ".join(compare_text(compare(then, now, library), library).split())
    assert "Left wall at the center crossmember: thickness lost: then 3 %, now 30 %" in said


def test_the_page_shows_it_and_asks_for_a_wall_and_not_for_a_distance(library: Library) -> None:
    survey, step = read(library), library.steps["wall"]
    assert "has lost 23 % of its thickness" in live(survey, library, step)[0]
    prompt = expand(step, layout_of(survey, library))[0]
    assert hint(prompt, survey) == "like 0.115 or 2.9 mm"


@pytest.mark.parametrize("suffix", [".html", ".md", ".txt"])
def test_the_report_has_it_in_words_in_a_drawing_and_among_the_limits(
    library: Library, suffix: str
) -> None:
    text = report_as(read(library), library, DAY, Source("s.toml", "0"), suffix)
    said = " ".join(text.split())
    assert "23 % of its thickness" in said
    assert "10 %" in said
    assert "lost" in said
    assert "10 % in" not in said


def test_the_sheet_has_its_boxes(library: Library) -> None:
    text = sheet_text(sheet_of(library, "straight-ladder"))
    assert "how thick the wall is" in text.lower()
    assert "left rail, center crossmember, thickness" in " ".join(text.split())


PLAIN = {"ack": "understood", "look": "b o", "length": "/skip no", "gap": "/skip no"}


def test_the_wizard_asks_for_it_and_tells_it_when_the_page_is_done(
    library: Library, tmp_path: Path
) -> None:
    sitting, said = Sitting(library, folder=tmp_path, now=lambda: DAY), ""
    while sitting.ask and not said:
        prompt = sitting.ask.prompt
        typed = PLAIN.get(prompt.kind.id, "/skip no")
        if prompt.step == "wall" and prompt.kind.spans:
            typed = "2.3 mm"
        elif prompt.kind.chooses:
            typed = prompt.choices[0].letter
        elif prompt.kind.tells:
            typed = "-" if prompt.optional else "Bramble"
        reply = handle(sitting, typed)
        said = reply.says if "How thick the wall is:" in reply.says else ""
    assert "has lost 23 % of its thickness" in said
