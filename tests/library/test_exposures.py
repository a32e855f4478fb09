"""Pages that go below, jack, plumb, roll, undo or scrape in other words than ours are refused as
well.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from wizard.library.load import read_content
from wizard.library.paths import content_dir

SAID = {
    "Crawl beneath the rail with a lamp.": "under",
    "Slide in on your back and look up at the rail.": "under",
    "Get under it and look at the lower side.": "under",
    "Reach in under the sill.": "under",
    "Raise the front with the trolley lift.": "lifting",
    "Pump the handle until the tire is clear.": "lifting",
    "Wind it up at the crossmember until it is clear.": "lifting",
    "Let the car down onto its wheels.": "lifting",
    "Hang a weight on a thread over the dot.": "sharp-points",
    "Rock the car back and forth by hand.": "beside-lifted",
    "Push the car back half a turn.": "rolling",
    "Unscrew the fuel union and drain the bowl.": "fuel",
    "Unbolt the gasoline tank and set it aside.": "fuel",
    "Take the negative cable off the terminal.": "battery",
    "Disconnect the exhaust at the manifold.": "hot-parts",
    "Sand the flange bright with emery.": "wire-wheel",
    "Take the flaking paint off with a knife.": "old-paint",
    "Grind the rust off the rivet heads.": "old-paint",
    "Stretch a string from end to end.": "string",
}
"""A move, and the exposure that it gives away."""


@pytest.mark.parametrize("move", SAID)
def test_a_move_that_exposes_somebody_is_refused_where_nothing_is_declared(
    move: str, tmp_path: Path
) -> None:
    folder = tmp_path / "content"
    shutil.copytree(content_dir(), folder)
    page = folder / "steps" / "about-the-car.toml"
    text = page.read_text(encoding="utf-8")
    page.write_text(text.replace("how = [\n", f'how = [\n  "{move}",\n', 1), encoding="utf-8")
    faults = [str(fault) for fault in read_content(folder)[1]]
    assert any(f"'{SAID[move]}' is not declared" in fault for fault in faults), faults


def test_a_move_that_exposes_nobody_passes(tmp_path: Path) -> None:
    folder = tmp_path / "content"
    shutil.copytree(content_dir(), folder)
    page = folder / "steps" / "about-the-car.toml"
    text = page.read_text(encoding="utf-8")
    page.write_text(
        text.replace("how = [\n", 'how = [\n  "Sit down and write its name.",\n', 1),
        encoding="utf-8",
    )
    assert read_content(folder)[1] == []
