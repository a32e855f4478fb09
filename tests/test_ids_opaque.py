"""Outside its one module the id of a page is no text: mypy refuses whatever treats it as some.

One small file does all that is forbidden, a line each, and mypy reads it with the project's rules.
"""

from __future__ import annotations

from pathlib import Path

from mypy import api

ROOT = Path(__file__).resolve().parent.parent
HEAD = """
from collections.abc import Mapping

from wizard.library.places import PartId, StepId, part_of_step, spoken, step_of, within
from wizard.library.shapes import Library, Step


def said(step: Step, library: Library, by_text: Mapping[str, int], prompt: str) -> object:
    part = part_of_step(step.id, "front")
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
    "step.id == prompt",
    'library.steps["level"]',
    "by_text[step.id]",
    '"-".join(library.steps)',
    'part.split("/")',
    'part == "level/front"',
    'step_of(prompt).partition("-")',
    'part_of_step("level", "front")',
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
    "part == PartId(prompt)",
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
