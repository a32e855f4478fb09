"""The first page is up before anything heavy is loaded."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from textual.app import App
from textual.color import Color
from textual.css.stylesheet import Stylesheet

from wizard.screens.app import CrosstapeApp
from wizard.screens.looks import DARK, LIGHT
from wizard.screens.widgets import Sheet

ROOT = Path(__file__).resolve().parent.parent.parent
SCRIPT = """
import asyncio, sys
from wizard.screens.app import CrosstapeApp

async def main():
    app = CrosstapeApp(folder=sys.argv[1])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        print([name for name in ("numpy", "pint") if name in sys.modules])
        for line in ("n", "Bramble", "/verdict"):
            app.desk.line(line)
            app.draw()
        print([name for name in ("numpy", "pint") if name in sys.modules])

asyncio.run(main())
"""


def test_no_math_before_the_first_page(tmp_path: Path) -> None:
    command = [sys.executable, "-c", SCRIPT, str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, cwd=ROOT, check=True)
    before, after = done.stdout.splitlines()
    assert before == "[]"
    assert "numpy" in after  # the twin: it is there once there was something to compute


async def test_styles_are_worked_out_once(tmp_path: Path, monkeypatch) -> None:
    """Twelve widgets, the roles of a line and the cursor: each twice at most, as the library does it."""
    done = []
    whole = Stylesheet.apply
    monkeypatch.setattr(Stylesheet, "apply", lambda *a, **k: (done.append(1), whole(*a, **k))[1])
    read = []
    variables = App.get_css_variables
    monkeypatch.setattr(
        CrosstapeApp, "get_css_variables", lambda self: (read.append(1), variables(self))[1]
    )
    async with CrosstapeApp(folder=tmp_path).run_test(size=(80, 24)):
        assert 30 < len(done) <= 60
        assert len(read) <= 2


def _colors(app: CrosstapeApp) -> set[Color]:
    """Of the letters on the page and above it."""
    sheets = [app.query_one(f"#{id}", Sheet) for id in ("top", "page")]
    return {
        Color.from_rich_color(piece.style.color)
        for sheet in sheets
        for row in range(sheet.size.height)
        for piece in sheet.render_line(row)
        if piece.text.strip() and piece.style and piece.style.color
    }


async def test_the_other_palette_is_on_every_sheet_at_once(tmp_path: Path) -> None:
    app = CrosstapeApp(folder=tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        for theme, other in ((DARK, LIGHT), (LIGHT, DARK), (DARK, LIGHT)):
            app.theme = theme.name
            await pilot.pause()
            brass = {Color.parse(t.variables["brass"]) for t in (theme, other)}
            assert _colors(app) & brass == {Color.parse(theme.variables["brass"])}
