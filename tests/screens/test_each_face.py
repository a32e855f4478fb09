"""A fault of the program in any face of the full screen, in what it draws and in what it answers: one
sentence, and on it goes with nothing lost.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from textual.pilot import Pilot

from tests.sitting.driving import READ, typed_to
from wizard.screens.app import CrosstapeApp
from wizard.screens.desk import Desk
from wizard.screens.mode import View
from wizard.sitting.mishap import LOG
from wizard.survey.file import load
from wizard.survey.rows import Remark

BEGUN = ("Bramble", "i", "s", "w", "o")
WIDTHS = ("n", *typed_to(*BEGUN, "/go widths", READ))
FACES: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "opening": ((), ()),
    "page": (WIDTHS, ()),
    "caution": (("n", *BEGUN, "/go rail-sides"), ()),
    "panel": (WIDTHS, ("/why",)),
    "verdict": (WIDTHS, ("/verdict",)),
    "mentor": (WIDTHS, ("/mentor",)),
    "model": (WIDTHS, ("/model",)),
}
"""Lines to what the face lies over, and to the face itself."""
DRAWING = ("top", "ask", "lines", "keys", "hint", "side", "message", "foot", "seen")
ANSWERING = ("line", "key", "click", "roll", "panel")
FAULT = "made a mistake (RuntimeError)"


async def _acted(pilot: Pilot[None], app: CrosstapeApp, method: str) -> None:
    if method == "click":
        await pilot.click("#page", offset=(3, 3))
    elif method == "roll":
        app.careful.roll(3)
        app.draw()
    else:
        await pilot.press("pageup" if method in ("key", *DRAWING) else "enter")
    await pilot.pause()


@pytest.mark.parametrize("face", FACES)
async def test_a_fault_in_a_face_is_one_sentence_and_nothing_is_lost(
    face: str,
    build: Callable[..., CrosstapeApp],
    screen_text: Callable[[CrosstapeApp], str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    below, there = FACES[face]
    app, told = build(*below), []
    async with app.run_test(size=(120, 36), notifications=True, tooltips=True) as pilot:
        for method in (*DRAWING, *ANSWERING):
            for line in there:
                app.desk.line(line)
            app.draw()
            await pilot.pause()

            def fall(*_: object, **__: object) -> None:
                raise RuntimeError("on purpose")

            with monkeypatch.context() as broken:
                broken.setattr(type(app.desk.look()), method, fall)
                await _acted(pilot, app, method)
            text = " ".join(screen_text(app).split())
            told += [method] if FAULT in text else []
            assert app.is_running, method
            assert "Traceback" not in text
            app.desk.drop()
            app.draw()
            await pilot.pause()
        assert {"top", "ask", "lines", "keys", "line", "key"} <= set(told)
        if face not in ("opening", "caution"):
            app.desk.line("/remark still here")
            (path,) = (p for p in Path("Surveys").glob("*.toml") if not p.name.startswith("."))
            assert [m.text for m in load(path).table(Remark)] == ["still here"]
    assert (Path("Surveys") / LOG).exists() or face == "opening"


@pytest.mark.parametrize("name", ["typed", "aside", "roll", "follow"])
def test_whatever_the_screen_calls_of_the_desk_is_told_and_goes_no_further(
    name: str, build: Callable[..., CrosstapeApp], monkeypatch: pytest.MonkeyPatch
) -> None:
    app = build(*WIDTHS)
    assert isinstance(app.desk.front, View)

    def fall(*_: object) -> None:
        raise RuntimeError("on purpose")

    monkeypatch.setattr(Desk, name, fall)
    acts = {
        "typed": app.careful.typed,
        "aside": lambda: app.careful.aside(3, "character"),
        "roll": lambda: app.careful.roll(3),
        "follow": lambda: app.careful.line("/why"),
    }
    acts[name]()
    assert FAULT in app.desk.said.says
