"""Builds the wheel and the source archive, installs each in an empty folder of its own, and uses
what was installed.

    python -m tests.bench.installed

Needs the `build` package and a way to the package index (or to a folder of wheels by
PIP_FIND_LINKS).
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SCRIPT = """
import shutil, sys
from pathlib import Path
import wizard
from wizard.library.paths import content_dir, samples_dir
house = Path(wizard.__file__).parent
assert Path(sys.prefix) in house.parents, house
assert content_dir().parent == house == samples_dir().parent
for sample in sorted(samples_dir().glob("*.toml")):
    shutil.copy(sample, ".")
    print(sample.name)
"""


def run(*command: str | Path, cwd: Path, typed: str = "") -> str:
    """What a command says; ends the bench when it fails."""
    env = {
        k: v
        for k, v in os.environ.items()
        if not k.startswith(("PYTHON", "CROSSTAPE", "VIRTUAL_ENV"))
    }
    done = subprocess.run(
        [str(c) for c in command], cwd=cwd, input=typed, capture_output=True, text=True, env=env
    )
    if done.returncode or "Traceback" in done.stderr:
        raise SystemExit(
            f"FAIL: {' '.join(map(str, command))}\n{done.stdout[-1500:]}\n{done.stderr[-3000:]}"
        )
    return done.stdout


def build(place: Path) -> list[Path]:
    """The wheel and the source archive, built from a copy, so that nothing is left in the house."""
    copy = place / "source"
    shutil.copytree(ROOT, copy, ignore=shutil.ignore_patterns(".*", "__pycache__", "dist"))
    run(sys.executable, "-m", "build", "--outdir", place / "dist", copy, cwd=place)
    return sorted((place / "dist").iterdir())


def use(archive: Path, place: Path) -> str:
    """Install one archive in an empty folder and go through the commands."""
    place.mkdir()
    run(sys.executable, "-m", "venv", "env", cwd=place)
    bin = place / "env" / ("Scripts" if os.name == "nt" else "bin")
    run(bin / "python", "-m", "pip", "install", "-q", archive, cwd=place)
    names = run(bin / "python", "-c", SCRIPT, cwd=place).split()
    crosstape = bin / "crosstape"
    assert run(crosstape, "content", cwd=place) == "The content is in order.\n"
    for name in names:
        assert "Every finding" in run(crosstape, "tell", "--all", name, cwd=place), name
    run(crosstape, "compare", names[0], names[1], cwd=place)
    run(crosstape, "report", names[0], "-o", "report.html", cwd=place)
    run(crosstape, "--folder", "mine", "ask", cwd=place, typed="Bramble\ni\n/quit\n")
    (mine,) = (place / "mine").glob("*.toml")
    assert 'car = "Bramble"' in mine.read_text(encoding="utf-8")
    frame = "import asyncio\nfrom wizard.screens.app import CrosstapeApp\nasync def go():\n"
    frame += "    async with CrosstapeApp(folder='mine').run_test(): pass\nasyncio.run(go())"
    run(bin / "python", "-c", frame, cwd=place)
    return f"{len(names)} samples told"


def main() -> int:
    """Run and print."""
    with tempfile.TemporaryDirectory() as name:
        place = Path(name)
        for n, archive in enumerate(build(place)):
            print(
                f"{archive.name:<40}{archive.stat().st_size // 1024:>6} kB  "
                f" {use(archive, place / str(n))}   pass"
            )
    return 0


if __name__ == "__main__":
    sys.exit(main())
