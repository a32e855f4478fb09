"""Outside its one module the id of a page, a prompt, a place, a point, a quantity or a finding is no
text: mypy refuses whatever treats it as some.

One small file does all that is forbidden, a line each, and mypy reads it with the project's rules.
"""

from __future__ import annotations

from pathlib import Path

from mypy import api

ROOT = Path(__file__).resolve().parent.parent
HEAD = """
from collections.abc import Mapping

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.judgment.facts import Told
from wizard.library import marks
from wizard.library.places import NO_PLACE, NO_PROMPT
from wizard.library.places import PartId, PlaceId, PointId, PromptId, QuantityId, StepId, WhereId
from wizard.library.places import across, is_own, pair_ids, part_of_step, point_of, side_of
from wizard.library.places import FindingId, finding_id, is_like, quantity_of
from wizard.library.places import asked_of, mirrored, prompt_id, spoken, step_of, where_id, where_of
from wizard.library.places import within
from wizard.library.shapes import Layout, Library, Place, Step
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Reading


def said(
    step: Step, library: Library, by_text: Mapping[str, int], text: str,
    place: Place, layout: Layout, asked: Prompt, finding: Finding,
    row: Reading, survey: Survey, case: Case, told: Told,
) -> object:
    part, prompt = part_of_step(step.id, place.id), asked.id
"""
REFUSED = (
    'step.id.split("-")',
    'step.id.startswith("sag")',
    'step.id.removesuffix("-loaded")',
    'step.id + "/rear"',
    "step.id[0]",
    "len(step.id)",
    'step.id == "horns"',
    'step.id in ("horns", "level")',
    'step_of(prompt) == "level"',
    "step.id == text",
    'library.steps["level"]',
    "by_text[step.id]",
    '"-".join(library.steps)',
    'part.split("/")',
    'part == "level/front"',
    'step_of(prompt).partition("-")',
    'part_of_step("level", place.id)',
    'part_of_step(step.id, "front")',
    'place.id.startswith("own-")',
    'place.id == "horns"',
    'place.id + "-left"',
    'place.id in ("front-box", "rear-box")',
    "place.points[0].rpartition('-')",
    'place.points[0] == "front-left"',
    "place.points[0][-4:]",
    'layout.place("front")',
    'layout.place_by_id["front"]',
    'layout.box_by_id.get("whole")',
    'layout.place_by_point["front-left"]',
    "by_text[place.id]",
    '"-".join(place.points)',
    'asked.start.endswith("-left")',
    "asked.start == text",
    'asked.item == "front"',
    'asked.item in ("left", "right")',
    "asked.item == step.id",
    'finding.where == "difference"',
    'finding.where.split("/")',
    'finding.where.removesuffix("/left")',
    'finding.where + "/left"',
    'finding.where in {"whole", "front-box"}',
    "finding.where == asked.step",
    "where_of(text)",
    "point_of(text)",
    'where_id("front", "left")',
    "point_of(finding.where)",
    "is_own(text)",
    'prompt.split("/")',
    'prompt.startswith("level/")',
    'prompt.partition("/")[0]',
    'prompt + "/left"',
    'row.prompt.endswith("left")',
    "row.prompt[0]",
    'row.prompt == "wheelbase/left"',
    'row.prompt == ""',
    'prompt in ("wheelbase/left", "wheelbase/right")',
    '"level" in prompt',
    "prompt == step.id",
    "by_text[prompt]",
    'case.prompts["wheelbase/left"]',
    'case.taken("wheelbase/left")',
    'case.taken(f"{step.id}/left")',
    'survey.answer_to("recheck/steps")',
    'Reading(id="r1", prompt="wheelbase/left")',
    'prompt_id("level", place.id, "as-set")',
    'prompt_id(step.id, "rear", "as-set")',
    'asked_of("level/rear/as-set")',
    'step_of("level/rear/as-set")',
    'mirrored(prompt).split("/")',
    'asked_of(prompt).named("turned") == "level/rear/turned"',
    'finding.quantity == "twist"',
    'finding.quantity in ("suspect", "gap-slip")',
    'finding.quantity.startswith("sag-")',
    'finding.quantity.removesuffix("-loaded")',
    "finding.quantity + '-left'",
    "finding.quantity == finding.where",
    "finding.of.id == text",
    "finding.of.id == step.id",
    "by_text[finding.quantity]",
    'told.of("twist")',
    'library.quantities["sag-loaded"]',
    'case.found("twist", place.id, finding.number, ())',
    'quantity_of(finding.id) == "twist"',
    'finding.id.split("/")',
    'finding.id.startswith("mash/")',
    'finding.id + "/left"',
    "finding.id[0]",
    'finding.id == "mash/whole"',
    'finding.id in ("mash/whole", "rail-shift/whole")',
    '{finding.id: finding}["mash/whole"]',
    "finding.id == finding.where",
    "finding.id == prompt",
    "within(finding.id, step.id)",
    'finding_id("mash", place.id)',
    'finding_id(marks.MASH, "whole")',
    'is_like(text, "mash/*")',
)
"""What takes an id apart, puts one together, or holds it against text."""
ALLOWED = (
    "str(step.id)",
    'f"{step.id}.toml"',
    "spoken(step.id)",
    "library.steps[step_of(prompt)]",
    'step.id == StepId("level")',
    "within(prompt, step.id)",
    "sorted({step.id, part})",
    "str(finding.where)",
    'f"{asked.start} to {asked.end}"',
    "spoken(place.id)",
    "layout.place(asked.item)",
    "layout.box_by_id.get(finding.where)",
    "layout.place_by_point[asked.start]",
    'place.id == PlaceId("front")',
    'finding.where == WhereId("difference")',
    "finding.where == place.id",
    "finding.where == where_id(place.id, 'left')",
    "side_of(finding.where)",
    "where_of(finding.where).place == asked.item",
    "across(asked.start) == asked.end",
    "asked.start in pair_ids(place.id)",
    "point_of(PointId(text)).place == place.id",
    "sorted({place.id, asked.item})",
    "sorted({asked.start, *place.points})",
    "part == prompt",
    "str(prompt)",
    'f"answer:{prompt}"',
    "spoken(prompt)",
    "row.prompt == prompt",
    "row.prompt == NO_PROMPT",
    "bool(row.prompt)",
    "step_of(prompt) == step.id",
    "prompt in case.by_prompt",
    'case.taken(prompt_id(step.id, NO_PLACE, "left"))',
    'case.prompts[PromptId("wheelbase/left")]',
    "sorted(case.prompts)",
    'Reading(id="r1", prompt=prompt)',
    'mirrored(prompt) == asked_of(prompt).named("turned")',
    "{part, prompt, step.id, PartId('level/rear')}",
    "str(finding.quantity)",
    "finding.quantity == marks.TWIST",
    "finding.quantity in marks.SAGS",
    'finding.quantity == QuantityId("twist")',
    "told.of(finding.quantity)",
    "library.quantities[quantity_of(finding.id)]",
    "case.found(marks.TWIST, place.id, finding.number, ())",
    "spoken(finding.quantity)",
    "str(finding.id)",
    "finding.id == finding_id(marks.MASH, place.id)",
    "finding.id in {finding.id: finding}",
    'finding.id == FindingId("mash/whole")',
    "quantity_of(finding.id) == finding.quantity",
    'is_like(finding.id, "mash/*")',
    'finding.id in (text, finding.id, "rule:in")',
    "sorted({finding.id})",
)
"""What it is written, made, compared and looked up by."""


def _faults(folder: Path, lines: tuple[str, ...]) -> list[str]:
    """Those of the lines that mypy refuses."""
    file = folder / "said.py"
    file.write_text(
        HEAD + "".join(f"    {line}\n" for line in lines) + "    return None\n", "utf-8"
    )
    rules = [
        "--config-file",
        str(ROOT / "pyproject.toml"),
        "--cache-dir",
        str(ROOT / ".mypy_cache"),
    ]
    how = ["--no-error-summary", "--no-pretty", "--hide-error-context"]
    out, err, _ = api.run([*rules, *how, str(file)])
    assert err == ""
    first = HEAD.count("\n") + 1
    at = {
        int(line.split("said.py:")[1].split(":")[0])
        for line in out.splitlines()
        if "said.py:" in line and "error:" in line
    }
    return [line for n, line in enumerate(lines, start=first) if n in at]


def test_mypy_refuses_what_treats_an_id_as_text(tmp_path: Path) -> None:
    assert _faults(tmp_path, (*REFUSED, *ALLOWED)) == list(REFUSED)
