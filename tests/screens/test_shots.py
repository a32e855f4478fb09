"""The text of each kind of page, kept as plain files in shots/ and compared whole.

After a change that is meant, look at every page and then renew the files:

    CROSSTAPE_RENEW_SHOTS=1 pytest tests/screens/test_shots.py
"""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.sitting.driving import READ, typed_to
from wizard.screens.app import CrosstapeApp

SHOTS = Path(__file__).parent / "shots"
SIZES = ((80, 24), (120, 36), (200, 60))
BEGUN = ("Bramble, tourer", "i", "s", "w", "o")
STARTED = ("n", *BEGUN)


def _before(*lines: str) -> tuple[str, ...]:
    """Lines to a page, with all that is read and answered before it (`_typed` says what that is)."""
    return (*STARTED, *lines, READ)


def _typed(lines: tuple[str, ...]) -> tuple[str, ...]:
    """The lines to a page as they are really typed, found out once one of its tests is run."""
    if READ not in lines:
        return lines
    end = lines.index(READ) + 1
    return ("n", *typed_to(*lines[1:end]), *lines[end:])


DIAGONALS = (*_before("/go long-diagonals"), "91 1/8", "91", "91 1/16")
LEVEL = (*_before("/go level"), "1/2 left", "0", "1 left", "1/2 left", "1 left")
PAGES: dict[str, tuple[str, ...]] = {
    "opening": (),
    "first-page": ("n",),
    "choice": ("n", "Bramble, tourer", "i"),
    "hold": (*STARTED, "/go rail-sides"),
    "rocks": (*_before("/go set-supports"), "w", "understood", "r"),
    "supports": _before("/go set-supports"),
    "supports-metal": (*_before("/go set-supports"), "f"),
    "caution": (*_before("/go own-sides"), "/go rail-sides"),
    "caution-longest": (*STARTED, "/go set-supports"),
    "place": _before("/go rail-sides"),
    "look": (*_before("/go rail-sides"), "b s x"),
    "diagonals": DIAGONALS,
    "string": (*_before("/go sag-loaded"), "2 1/8", "2 1/4", "2 3/8"),
    "level": LEVEL,
    "horns": _before("/go horns"),
    "refused": (*DIAGONALS, "25 9/8"),
    "doubted": (*DIAGONALS, "92"),
    "why": (*LEVEL, "/why"),
    "words": (*LEVEL, "/words"),
    "trail": (*LEVEL, "/trail"),
    "verdict": (*DIAGONALS, "91", "/verdict"),
    "help": (*STARTED, "/help"),
    "mentor": (*DIAGONALS, "/mentor"),
    "mentor-guessed": (*DIAGONALS, "/mentor", "/guess right rail back 1/16"),
    "second-reader": (*DIAGONALS, "/second", "understood", "understood"),
    "marked": (*DIAGONALS, "/point front-right punch dot, photo 112"),
    "opinion": (
        *DIAGONALS,
        "91",
        "/opinion A. Mentor: leave it, and tape it again in spring",
        "/verdict",
    ),
    "kinds": ("s",),
}


async def _drawn(
    app: CrosstapeApp, size: tuple[int, int], screen_text: Callable[[CrosstapeApp], str]
) -> str:
    async with app.run_test(size=size, notifications=True, tooltips=True) as pilot:
        await pilot.pause()
        while app.desk.front is app.desk.opening and app.desk.opening.unread:
            await pilot.pause()
        return screen_text(app)


class Shots(NamedTuple):
    """One page as it was drawn."""

    text: dict[tuple[int, int], str]
    """By the size of the window."""
    overflows: bool
    """Whether it is longer than its room, where it is 80 by 24."""
    panel: bool


_SHOTS: dict[str, Shots] = {}


async def _shots(page: str, build: Callable[..., CrosstapeApp], screen_text) -> Shots:
    """The page in a window of each size, drawn once: the window of one wizard is made larger."""
    if page not in _SHOTS:
        app, text = build(*_typed(PAGES[page])), {}
        async with app.run_test(size=SIZES[0], notifications=True, tooltips=True) as pilot:
            for size in SIZES:
                if size != SIZES[0]:
                    await pilot.resize_terminal(*size)
                await pilot.pause()
                text[size] = screen_text(app)
                if size == SIZES[0]:
                    overflows = app.desk.front.window.overflows
        _SHOTS[page] = Shots(text, overflows, bool(app.desk.panel))
    return _SHOTS[page]


def _compare(name: str, text: str) -> None:
    path = SHOTS / f"{name}.txt"
    if os.environ.get("CROSSTAPE_RENEW_SHOTS") == "1":
        path.write_text(text, encoding="utf-8")
    assert path.read_text(encoding="utf-8") == text, (
        f"{name} looks otherwise; see the top of this file"
    )


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("page", PAGES)
async def test_page_looks_as_it_did(page: str, size: tuple[int, int], build, screen_text) -> None:
    text = (await _shots(page, build, screen_text)).text[size]
    _compare(f"{page}-{size[0]}x{size[1]}", text)


async def test_a_window_made_larger_shows_what_a_large_one_does(build, screen_text) -> None:
    for page in ("string", "verdict"):
        drawn = await _drawn(build(*_typed(PAGES[page])), SIZES[-1], screen_text)
        assert (await _shots(page, build, screen_text)).text[SIZES[-1]] == drawn


@pytest.mark.parametrize("page", PAGES)
async def test_everything_shows_at_80_by_24_without_scrolling(
    page: str, build, screen_text
) -> None:
    """Car, question, entry line and keys are there; the page itself is no longer than its room,
    long texts excepted.
    """
    shots = await _shots(page, build, screen_text)
    lines = shots.text[80, 24].splitlines()
    assert len(lines) == 24
    assert "F10 stop" in lines[23]
    assert any(line.startswith(" > ") or line == " >" for line in lines[-6:])
    if not shots.panel and not page.startswith("mentor"):
        assert not shots.overflows


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
async def test_opening_page_lists_surveys_samples_and_what_cannot_be_read(
    size: tuple[int, int], build, screen_text, tmp_path: Path
) -> None:
    build(*_typed(LEVEL))
    build("n", "Old Post, van")
    whole = Path("Surveys/bramble-2026-04-11.toml").read_bytes()
    Path("Surveys/torn.toml").write_text("format = [", encoding="utf-8")
    (tmp_path / "samples" / "sample.toml").write_bytes(whole)
    newest = datetime(2026, 4, 12)
    for days, name in enumerate(("bramble-2026-04-11", "old-post-2026-04-11", "torn")):
        at = (newest - timedelta(days=days)).timestamp()
        os.utime(f"Surveys/{name}.toml", (at, at))
    _compare(f"opening-list-{size[0]}x{size[1]}", await _drawn(build(), size, screen_text))


async def test_too_small_a_window_offers_the_plain_prompts(build, screen_text) -> None:
    app = build("n", "Bramble")
    text = await _drawn(app, (59, 20), screen_text)
    assert "crosstape ask bramble-2026-04-11.toml" in " ".join(text.split())
    assert "What do you call" not in text


def test_every_kept_shot_belongs_to_a_page() -> None:
    wanted = {f"{page}-{w}x{h}.txt" for page in (*PAGES, "opening-list") for w, h in SIZES}
    assert {p.name for p in SHOTS.glob("*.txt")} == wanted


async def test_the_trail_beside_a_wide_page_has_room_for_the_longest_title(
    build, screen_text
) -> None:
    """The column's width stands in the style sheet and in the stage: one of them alone would clip a
    letter.
    """
    app = build(*_typed(LEVEL))
    text = await _drawn(app, (120, 36), screen_text)
    beside = [
        line.partition("│")[2].partition("]")[2].strip()
        for line in text.splitlines()
        if "│" in line
    ]
    titles = {page.title for page in app.desk.sitting.walk()}
    longest = max((t for t in titles if any(t.startswith(b[:20]) for b in beside if b)), key=len)
    assert len(longest) > 29
    assert {b for b in beside if b} <= titles


@pytest.mark.parametrize("page", ["diagonals", "look", "verdict", "mentor"])
async def test_a_terminal_may_be_resized_at_will(page: str, build, screen_text) -> None:
    """Through every size and the one that is too small: at the end it looks as if it had never been
    another.
    """
    app = build(*_typed(PAGES[page]))
    async with app.run_test(size=(80, 24), notifications=True, tooltips=True) as pilot:
        await pilot.pause()
        before = screen_text(app)
        for size in ((200, 60), (59, 19), (120, 36), (60, 20), (80, 24)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
            await pilot.pause(0.1)  # the size comes first, the page drawn for it after it
            lines = screen_text(app).splitlines()
            assert len(lines) == size[1]
            assert ("too small" in " ".join(lines)) == (size == (59, 19))
        assert screen_text(app) == before
