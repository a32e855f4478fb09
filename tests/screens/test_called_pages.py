"""The pages that are asked only when they are called for, as they stand on the screen in every window."""

from __future__ import annotations

import shutil
from datetime import datetime
from pathlib import Path

import pytest

from tests.screens.test_every_page import SIZES, _check
from tests.sitting.driving import likely
from wizard.library import load_library
from wizard.library.paths import samples_dir
from wizard.library.places import step_of
from wizard.screens.desk import Desk
from wizard.screens.stage import stage

SAMPLE = "bramble-2026-04-11.toml"
NOON = datetime(2026, 4, 11, 12, 0)


@pytest.mark.parametrize("also", sorted(load_library().also))
def test_nothing_is_cut_and_nothing_has_to_be_scrolled_to(
    tmp_path: Path, also: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The drawing stands from the first answer on: before it all there is to do comes first."""
    library = load_library()
    desk = Desk(library, tmp_path, lambda: NOON)
    desk.open(Path(shutil.copy(samples_dir() / SAMPLE, tmp_path)))
    met: dict[tuple[int, int], set[str]] = {size: set() for size in SIZES}
    desk.line(f"/also {also}")
    pages = [s.id for s in library.steps.values() if s.called == also]
    for page in pages:
        desk.line(f"/go {page}")
        sitting = desk.sitting
        assert sitting is not None
        drawn: tuple[str, ...] = ()
        step = page
        while sitting.target is not None and sitting.target.prompt.step in pages:
            ask = sitting.ask
            assert ask is not None
            if ask.prompt.step != step:  # one page leads to the next
                step, drawn = ask.prompt.step, ()
            monkeypatch.setattr("tests.screens.test_every_page.FILLED", drawn)
            for size, known in met.items():
                _check(sitting, ask, desk, stage(desk, *size, "blocks"), size, known)
            drawn = ("side", "axle") if not ask.prompt.kind.acknowledges else drawn
            desk.line(_longest(ask.prompt))
            if sitting.ask == ask:
                desk.line("")  # a doubted reading is kept
            assert sitting.ask != ask, (ask, desk.said)
    # A page whose looks are taken at a place is asked there, under the place's title.
    taken = {id for page in pages for g in library.steps[page].gathers for id in [step_of(g.look)]}
    titles = {library.steps[id].title for id in pages if id not in taken}
    assert all(titles <= known for known in met.values())


def _longest(prompt) -> str:  # type: ignore[no-untyped-def]
    """The longest of the answers to choose from that leaves the car where it stands."""
    if prompt.kind.gathers:  # each of its looks has something to tell
        return " ".join(("p", *(part.letter for part in prompt.parts)))
    if prompt.kind.leans:
        return f"12.5 {prompt.signs[0]}!"
    if prompt.kind.chooses and not prompt.keep and not any(c.stands for c in prompt.choices):
        return str(max(prompt.choices, key=lambda c: len(c.words)).letter)
    if prompt.kind.tells:
        return "1"
    return likely(prompt)
