"""What is asked only when it is called for: the table of DEVELOPERS.md names each with what calls for
it, and no straight frame without a sign is asked for any of it.
"""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path

import pytest

from wizard.library import load_library
from wizard.survey.guide import pages
from wizard.survey.record import Survey

HOME = Path(__file__).parents[2]
ROW = re.compile(r"^\| `?(?P<id>[a-z-]+)`? \| (?P<why>.+) \|$", re.MULTILINE)


def table() -> dict[str, str]:
    text = (HOME / "DEVELOPERS.md").read_text(encoding="utf-8")
    _, _, rest = text.partition("| /also | what calls for it by itself |\n")
    rows, _, _ = rest.partition("\n\n")
    return {m["id"]: m["why"] for m in ROW.finditer(rows)}


def test_the_table_says_when() -> None:
    said = table()
    also = load_library().also
    assert said.keys() == also.keys()
    for one in also.values():
        for need in one.when:
            assert need.instead in said[one.id], one.id


@pytest.mark.parametrize("layout", list(load_library().layouts))
def test_nobody_is_asked_before_it_is_called_for(layout: str) -> None:
    library = load_library()
    asked = {p.step.id for p in pages(Survey(layout=layout), library, datetime(2026, 5, 1, 9))}
    assert not [id for id in asked if library.steps[id].called]
