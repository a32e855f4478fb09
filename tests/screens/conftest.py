"""A wizard with a fixed clock, a fixed folder and no leanings of the terminal that runs the tests."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from textual.pilot import Pilot

from wizard.screens.app import CrosstapeApp
from wizard.screens.looks import EIGHT_DOTS

if TYPE_CHECKING:
    from tests.screens.pty_wizard import Terminal

NOON = datetime(2026, 4, 11, 12, 0)
NAMED = ("Bramble", "i", "s", "w", "o")
"""Answers to the first page: name, inches, the whole survey, the owner."""


@pytest.fixture(autouse=True)
def _plain_surroundings(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    plain = ("NO_COLOR", "TEXTUAL_THEME", "COLORFGBG", "CROSSTAPE_DRAW", "CROSSTAPE_FOLDER")
    for name in (*plain, *EIGHT_DOTS):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    samples = tmp_path / "samples"
    samples.mkdir()
    monkeypatch.setattr("wizard.sitting.shelf.samples_dir", lambda: samples)
    monkeypatch.chdir(tmp_path)


@pytest.fixture
def started() -> Iterator[list[Terminal]]:
    """The real wizards that a test starts on terminals of their own; whatever is left of them is
    ended.
    """
    running: list[Terminal] = []
    yield running
    for terminal in running:
        terminal.close()


@pytest.fixture
def build() -> Callable[..., CrosstapeApp]:
    """An app that stands behind some lines already, typed at its opening page."""

    def built(*lines: str, file: Path | None = None) -> CrosstapeApp:
        app = CrosstapeApp(file, Path("Surveys"), now=lambda: NOON)
        for line in lines:
            app.desk.line(line)
        return app

    return built


def text_of(app: CrosstapeApp) -> str:
    """The whole screen as text."""
    strips = app.screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in strip).rstrip() for strip in strips) + "\n"


async def type_line(pilot: Pilot[None], text: str) -> None:
    """A line typed by a person: each key, Enter, and a breath."""
    await pilot.press(*("space" if c == " " else c for c in text), "enter")
    await pilot.pause(0.06)


@pytest.fixture
def screen_text() -> Callable[[CrosstapeApp], str]:
    """The whole screen as text."""
    return text_of


@pytest.fixture
def type_in() -> Callable[[Pilot[None], str], object]:
    """Types a line as a person does."""
    return type_line
