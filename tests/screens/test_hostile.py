"""Hostile text in every field that takes text, typed and loaded, shows harmlessly on every page of
both faces.
"""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path

import pytest
import tomli_w

from tests.sitting.driving import READ, typed_to
from wizard.library import load_library
from wizard.library.paths import samples_dir
from wizard.readings.plain import clean
from wizard.screens.desk import Desk
from wizard.screens.paper import cells
from wizard.screens.stage import stage
from wizard.sitting.plain import run
from wizard.sitting.sitting import Sitting
from wizard.survey.record import Survey
from wizard.survey.rows import TABLES
from wizard.survey.toml import to_toml

NOON = datetime(2026, 4, 11, 12, 0)
NASTY = (
    "[/red]",
    "\x1b]0;owned\x07\x9b31m\x1b[2J",
    "\u202eelbmarB\u2066 \u200b",
    "x" * 10_000,
    "🚗" * 300,
    "{0} %s {evil!r} $x",
    "\ud7ff\ufffe",
)
START = ("n", "Bramble", "i", "s", "w", "o")
AT_TAPE = ("n", *typed_to(*START[1:], "/go long-diagonals", READ), "91 1/8", "91", "91 1/16")
PAGES = (
    "/go long-diagonals",
    "/trail",
    "/verdict",
    "/why",
    "/mentor",
    "/show",
    "/mentor off",
    "/words",
    "/help",
    "/drawing",
)
TYPED = (
    "{}",
    "/skip {}",
    "/remark {}",
    "/photo {}",
    "/opinion {}",
    "/opinion A. Mentor: {}",
    "/guess {}",
    "/point front-right {}",
    "/point front-right dot, photo {}",
    "/point {} dot",
    "/tool tape class {}",
    "/tool string pull {}",
    "/size rail_depth {}",
    "/limit twist watch 3 mm {}",
    "/limit {}",
    "/add {}",
    "/add tape {}, hole, 31 1/2",
    "/go {}",
    "/words {}",
    "/strike {}",
    "/second {}",
    "/report {}",
    "/{}",
)
_LOUD = re.compile(
    "[\x00-\x09\x0b-\x1f\x7f-\x9f\u061c\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]"
)


def _harmless(desk: Desk) -> None:
    """The whole screen at two sizes: nothing that drives a terminal, nothing wider than the window."""
    for width, height in ((80, 24), (120, 36)):
        shown = stage(desk, width, height, "blocks")
        for name in ("top", "page", "side", "ask", "hint", "said", "keys"):
            for pieces in getattr(shown, name):
                text = "".join(part for part, _ in pieces)
                assert not _LOUD.search(text), (name, text[:80])
                assert cells(text) <= width, (name, text[:80])
        assert len(shown.said) <= 4


@pytest.mark.parametrize("nasty", NASTY, ids=lambda t: repr(t[:8]))
def test_typed_in_every_field_it_shows_harmlessly(nasty: str) -> None:
    desk = Desk(load_library(), Path("Surveys"), lambda: NOON)
    for line in AT_TAPE:
        desk.line(line)
    for form in TYPED:
        desk.line(form.format(nasty) if "{}" in form else form)
        _harmless(desk)
    for page in PAGES:
        desk.line(page)
        _harmless(desk)
        desk.line("") if desk.panel else None


@pytest.mark.parametrize("nasty", NASTY, ids=lambda t: repr(t[:8]))
def test_as_the_answer_to_every_note_it_shows_harmlessly(nasty: str) -> None:
    desk = Desk(load_library(), Path("Surveys"), lambda: NOON)
    desk.line("n")
    desk.line(f"B{nasty}")
    _harmless(desk)
    for line in ("Bramble", *START[2:]):
        desk.line(line)
    met = _at_every_note(desk, nasty)
    assert met == {
        "about-the-car/car",
        "state/temperature",
        "set-supports/stood",
        "finish/remark",
        "finish/question",
    }


@pytest.mark.parametrize("nasty", NASTY, ids=lambda t: repr(t[:8]))
def test_as_the_answer_to_every_note_of_a_recheck_it_shows_harmlessly(
    nasty: str, tmp_path: Path
) -> None:
    earlier = tmp_path / "bramble-2026-04-11.toml"
    earlier.write_bytes((samples_dir() / earlier.name).read_bytes())
    desk = Desk(load_library(), tmp_path, lambda: NOON)
    desk.line("r 1")
    desk.line("")
    assert {"since-last-time/distance", "since-last-time/incidents"} <= _at_every_note(desk, nasty)


def _at_every_note(desk: Desk, nasty: str) -> set[str]:
    """Ids of the notes that were stood before and answered so."""
    sitting = desk.sitting
    assert sitting is not None
    notes = [p for page in sitting.pages() for p in page.prompts if p.kind.tells]
    met: set[str] = set()
    for prompt in notes:
        sitting.stand_before(prompt.id)
        while sitting.prompt and sitting.prompt.kind.acknowledges:
            _harmless(desk)  # it is read on the screen before it is understood
            desk.line("understood")
            sitting.stand_before(prompt.id)
        if sitting.prompt and sitting.prompt.id == prompt.id:
            met.add(prompt.id)
        desk.line(nasty)
        _harmless(desk)
        desk.line("/verdict")
        _harmless(desk)
        desk.line("")
    return met


def _loaded(nasty: str) -> dict[str, object]:
    """A survey as a file would have it, every text of every row hostile."""
    rows: dict[str, tuple[object, ...]] = {}
    for number, (name, kind) in enumerate(TABLES.items()):
        texts = {
            f: nasty for f in kind.__dataclass_fields__ if f not in ("id", "at", "struck", "extra")
        }
        texts |= (
            {"prompt": "long-diagonals/whole/front-left--rear-right"} if "prompt" in texts else {}
        )
        texts |= {"point": "front-right"} if "point" in texts else {}
        rows[name] = (kind(id=f"{name}{number}", at=NOON, **texts),)  # type: ignore[arg-type]
    survey = Survey(id="nasty", car=nasty, started=NOON, follows=nasty, program=nasty, rows=rows)  # type: ignore[arg-type]
    return to_toml(survey)


@pytest.fixture
def loaded(request: pytest.FixtureRequest) -> Path:
    path = Path("Surveys/nasty.toml")
    path.parent.mkdir(exist_ok=True)
    path.write_text(tomli_w.dumps(_loaded(request.param)), encoding="utf-8")
    return path


@pytest.mark.parametrize("loaded", NASTY, ids=lambda t: repr(t[:8]), indirect=True)
def test_loaded_in_every_field_it_shows_harmlessly(loaded: Path) -> None:
    desk = Desk(load_library(), Path("Surveys"), lambda: NOON)
    _harmless(desk)
    desk.line("1")
    assert desk.sitting
    for page in PAGES:
        desk.line(page)
        _harmless(desk)
        desk.line("") if desk.panel else None


@pytest.mark.parametrize("loaded", NASTY, ids=lambda t: repr(t[:8]), indirect=True)
def test_loaded_in_every_field_the_plain_face_says_it_harmlessly(loaded: Path) -> None:
    said: list[str] = []
    sitting = Sitting(load_library(), path=loaded, folder=loaded.parent, now=lambda: NOON)
    run(sitting, [*PAGES, "/quit"], said.append, person=True)
    for text in said:
        assert not _LOUD.search(text), text[:80]
    assert any("The answer" in text for text in said)


@pytest.mark.parametrize("loaded", NASTY[:3], ids=lambda t: repr(t[:8]), indirect=True)
async def test_on_the_running_app_too(loaded: Path, build, screen_text) -> None:
    for lines in (
        (),
        ("1", "/go long-diagonals"),
        ("1", "/mentor"),
        ("1", "/verdict"),
        ("1", "/trail"),
    ):
        app = build(*lines)
        async with app.run_test(size=(120, 36), notifications=True, tooltips=True) as pilot:
            await pilot.pause()
            shown = screen_text(app)
        assert not _LOUD.search(shown.replace("\n", ""))
        assert clean(shown.replace("\n", "")) == shown.replace("\n", "")
        if app.desk.sitting and app.desk.sitting.kept:
            app.desk.sitting.kept.release()
