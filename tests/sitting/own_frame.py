"""An owner's own frame, as he sets it up by keyboard: what he types at each question of the page."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from tests.sitting.driving import Driver

BEFORE = ("Bramble", "i", "n", "w", "o", "r")
"""The pages before it: `n` is none of the kinds of frame."""
PAGE = "my-points"
LINES: Mapping[str, str] = {
    "pairs": "4",
    "name-1": "front, rivet",
    "across-1": "26",
    "name-2": "cowl, hole",
    "behind-2": "38",
    "across-2": "30",
    "name-3": "gearbox, bolt",
    "behind-3": "62",
    "across-3": "34",
    "name-4": "rear, rivet",
    "behind-4": "101",
    "across-4": "36",
    "heights": "y",
    "rails": "o",
    "joints": "r",
    "horns": "y",
    "tip-ahead": "17",
    "tip-across": "25",
    "depth": "4",
    "mount": "24",
    "front-axle": "4 ahead",
    "rear-axle": "104",
    "string-from": "2 ahead",
    "string-to": "84",
}
"""By the last part of the question's id."""
FILE = "bramble-2026-04-11.toml"
"""The survey, and the layout file beside it."""


def set_up(folder: Path, lines: Mapping[str, str] = LINES) -> Driver:
    """A survey whose frame has just been set up."""
    driver = Driver(folder).run(*BEFORE)
    while driver.at.startswith(PAGE) and (line := lines.get(driver.at.partition("/")[2])):
        driver.run(line)
    return driver


def typed() -> dict[str, str]:
    """The same by the whole id of each question."""
    return {f"{PAGE}/{name}": line for name, line in LINES.items()}
