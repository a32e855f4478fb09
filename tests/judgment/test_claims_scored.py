"""Every kind of claim that is made beside the frame is scored by a bench: the table of DEVELOPERS.md
names it, and the bench knows the kind.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from wizard.judgment.claims import EXPLAINS, FORETOLD, NOTED, OF_QUANTITY, OFFERED
from wizard.library import load_library

HOME = Path(__file__).parents[2]
ROW = re.compile(r"^\| (?P<kinds>[a-z, -]+) \| (?P<benches>.+) \|$", re.MULTILINE)
BESIDE = {str(q.id) for q in load_library().quantities.values() if q.also}
SISTER = "sister"


def table() -> dict[str, list[str]]:
    """The modules of tests/bench that score each kind, with what is run of them."""
    text = (HOME / "DEVELOPERS.md").read_text(encoding="utf-8")
    _, _, rest = text.partition("| kind of claim | scored by |\n|---|---|\n")
    rows, _, _ = rest.partition("\n\n")
    return {
        kind: re.findall(r"`([^`]+)`", m["benches"])
        for m in ROW.finditer(rows + "\n")
        for kind in m["kinds"].split(", ")
    }


def kinds() -> set[str]:
    """What is claimed beside the frame."""
    figures = {kind for quantity, kind in OF_QUANTITY.items() if str(quantity) in BESIDE}
    noted = {kind for kind, _ in NOTED.values()}
    return {*figures, *noted, *EXPLAINS.values(), *FORETOLD.values(), "thin", OFFERED, SISTER}


def test_no_kind_is_left_out_and_none_is_made_up() -> None:
    assert set(table()) == kinds()


@pytest.mark.parametrize(("kind", "benches"), sorted(table().items()))
def test_the_bench_that_is_named_scores_it(kind: str, benches: list[str]) -> None:
    assert benches
    quantities = [str(q) for q, claim in OF_QUANTITY.items() if claim == kind]
    words = {"choice": ["OFFERED"], SISTER: ["changed"]}.get(kind, [kind, *quantities])
    for bench in benches:
        module, _, only = bench.partition(" --only ")
        text = (HOME / "tests" / "bench" / f"{module}.py").read_text(encoding="utf-8")
        beside = (HOME / "tests" / "bench" / "sentences" / "beside.py").read_text(encoding="utf-8")
        assert any(re.search(rf"\b{re.escape(word)}\b", text + beside) for word in words), bench
        assert not only or f'"{only}": ' in text, bench
