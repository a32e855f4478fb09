"""The pages of the axle set and of the wobble, called for, as they stand on the screen in every window."""

from __future__ import annotations

import shutil
from datetime import datetime
from pathlib import Path

from tests.screens.test_every_page import SIZES, _check
from tests.sitting.driving import likely
from wizard.library import load_library
from wizard.library.paths import samples_dir
from wizard.screens.desk import Desk
from wizard.screens.stage import stage

SAMPLE = "bramble-2026-04-11.toml"
NOON = datetime(2026, 4, 11, 12, 0)


def test_nothing_is_cut_and_nothing_has_to_be_scrolled_to(tmp_path: Path) -> None:
    library = load_library()
    desk = Desk(library, tmp_path, lambda: NOON)
    desk.open(Path(shutil.copy(samples_dir() / SAMPLE, tmp_path)))
    met: dict[tuple[int, int], set[str]] = {size: set() for size in SIZES}
    desk.line("/also axle-set")
    desk.line("/also wobble")
    pages = [s.id for s in library.steps.values() if s.called in ("axle-set", "wobble")]
    for page in pages:
        desk.line(f"/go {page}")
        sitting = desk.sitting
        assert sitting is not None
        while sitting.target is not None and sitting.target.prompt.step == page:
            ask = sitting.ask
            assert ask is not None
            for size, known in met.items():
                _check(sitting, ask, desk, stage(desk, *size, "blocks"), size, known)
            desk.line(_longest(ask.prompt))
            if sitting.ask == ask:
                desk.line("")  # a doubted reading is kept
            assert sitting.ask != ask, (ask, desk.said)
    assert all(set(pages) <= known for known in met.values())


def _longest(prompt) -> str:  # type: ignore[no-untyped-def]
    """The longest of the answers to choose from that leaves the car where it stands."""
    if prompt.kind.leans:
        return f"12.5 {prompt.signs[0]}!"
    if prompt.kind.chooses and not prompt.keep and not any(c.stands for c in prompt.choices):
        return str(max(prompt.choices, key=lambda c: len(c.words)).letter)
    if prompt.kind.tells:
        return "1"
    return likely(prompt)
