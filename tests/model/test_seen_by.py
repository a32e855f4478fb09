"""What the model bends of all that is asked only when it is called for, and which check sees it: the
table of DEVELOPERS.md says what the model says.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from wizard.judgment.blind import Bench, Heard
from wizard.library import load_library

LIBRARY = load_library()
BENCH = Bench(LIBRARY.layouts["straight-ladder"], LIBRARY)
ROW = re.compile(r"^\| (?P<what>.+?) \| (?P<faults>[a-z, -]+) \| (?P<checks>.+?) \|$", re.MULTILINE)


def table() -> dict[str, str]:
    """The checks that are said to see each fault."""
    text = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
    _, _, rest = text.partition(
        "| what | fault of the model | checks that see it |\n|---|---|---|\n"
    )
    rows, _, _ = rest.partition("\n\n")
    return {
        fault: m["checks"] for m in ROW.finditer(rows + "\n") for fault in m["faults"].split(", ")
    }


@cache
def heard(fault: str) -> tuple[Heard, ...]:
    known = BENCH.faults[fault]
    return BENCH.hear(BENCH.bend(known.bend), fault)


@pytest.mark.parametrize("fault", sorted(table()))
def test_each_check_of_the_table_sees_the_fault(fault: str) -> None:
    kinds = {h.voice.name: h.kind for h in heard(fault)}
    for check in table()[fault].split("; "):
        name = check.removeprefix("~ ")
        assert kinds.get(name) == ("faint" if check.startswith("~") else "sees"), (name, kinds)


def test_no_check_that_is_called_for_and_sees_a_fault_of_it_is_left_out() -> None:
    said = table()
    named = {check.removeprefix("~ ") for checks in said.values() for check in checks.split("; ")}
    heard_of = {v.name for v in LIBRARY.model.voices.values() if v.called}
    for fault, checks in said.items():
        seen = {h.voice.name for h in heard(fault) if h.voice.called and h.kind == "sees"}
        assert seen <= set(checks.split("; ")), fault
    # What springs back is the string in two states, and no page is called for to read it.
    assert heard_of - named <= {"string, engine on and off"}
