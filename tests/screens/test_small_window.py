"""A window of 60 by 20: every choice can be reached, none is cut, and it is known that there are more."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from wizard.library import load_library
from wizard.screens.desk import Desk
from wizard.screens.paper import as_text
from wizard.screens.stage import Stage, stage

NOON = datetime(2026, 4, 11, 12, 0)
SIZE = (60, 20)


def _text(shown: Stage) -> str:
    parts = (*shown.top, *shown.page, *shown.ask, *shown.hint, *shown.said, *shown.keys)
    return as_text(list(parts))


def test_all_kinds_of_frame_can_be_reached_in_a_small_window(tmp_path: Path) -> None:
    desk = Desk(load_library(), tmp_path, lambda: NOON)
    for line in ("n", "Small window", "in"):
        desk.line(line)
    sitting = desk.sitting
    assert sitting is not None
    assert sitting.prompt is not None
    assert sitting.prompt.keep == "survey.layout"
    words = [choice.words for choice in sitting.prompt.choices]
    assert len(words) > 10
    first = _text(stage(desk, *SIZE, "blocks"))
    assert "PgDn: more" in first
    assert "\u2026" not in first
    assert words[0] in first
    seen, pages = first, 0
    while "PgDn" in _text(stage(desk, *SIZE, "blocks")):
        desk.key("pagedown")
        seen, pages = seen + _text(stage(desk, *SIZE, "blocks")), pages + 1
        assert pages < 9
    assert [w for w in words if w not in seen] == []
    # A wider window has room for all of them beside the entry line.
    assert [w for w in words if w not in _text(stage(desk, 80, 24, "blocks"))] == []
