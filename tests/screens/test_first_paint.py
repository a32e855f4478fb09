"""The first page is up before anything heavy is loaded."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

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
