"""Every page of every kind of frame, answered from the first question to the last, as it stands on
the screen.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import datetime
from functools import cache
from pathlib import Path

import pytest

from tests.bench.entries import as_held, car_of
from tests.bench.sentences.frame import all_layouts
from tests.bench.sentences.hands import Bench
from tests.bench.sentences.walk import PASSED
from tests.sitting.own_frame import LINES, PAGE
from wizard.library import load_library
from wizard.library.references import kinds_of
from wizard.screens.desk import Desk
from wizard.screens.page import SIDE, pictures_of, view_of
from wizard.screens.paper import Line, as_text
from wizard.screens.stage import WIDE, Stage, stage
from wizard.sitting.sitting import Sitting
from wizard.survey.guide import Ask
from wizard.survey.prompts import Prompt, caution_prompt
from wizard.survey.rows import Reading

LAYOUTS = tuple(layout.id for layout in kinds_of(load_library()))
SIZES = ((80, 24), (120, 36), (200, 60))
NOON = datetime(2026, 4, 11, 12, 0)
TYPED = {
    "ack": "understood",
    "bubble": "1 1/2 left!",
    "note": "a few words",
    "length": "102 15/16!",
}
FIRST = ("about-the-car/course", "about-the-car/unit")
"""Questions whose other answers take pages out, or make what the cars of the bench read another length."""


@cache
def _car(layout: str) -> Bench | None:
    """A car of the bench with one fault, which reads all that is measured; None for an owner's own frame."""
    return car_of(layout, 1)[0] if layout in all_layouts() else None


def _read(prompt: Prompt, layout: str) -> str:
    """What is read there, kept even where it is doubted."""
    car = _car(layout)
    plain = "2 1/8" if prompt.tool in ("ruler", "caliper") else "102 15/16"
    if car is None or prompt.step in PASSED:
        return f"{plain}!"
    try:
        return f"{as_held(prompt, car.read(prompt.id))}!"
    except (LookupError, ValueError):  # the bench has no such place, as beside a pit
        return f"{plain}!"


LONG = 2
"""Lines of a message beyond which it takes the room of a small drawing."""
FILLED = ("plan", "side", "end", "horns")
"""Drawings of the tape, string or level of a prompt; the others only point to a part of the frame."""


def _answer(prompt: Prompt, layout: str) -> str:
    """Something the prompt takes: the longest of the answers to choose from, and of a look three at
    once.
    """
    if prompt.step == PAGE:
        line = LINES[prompt.name]
        return re.sub(r"^(\d+)", r"\1 in", line) if prompt.kind.guesses else line
    if prompt.keep == "survey.layout":
        return next(c.letter for c in prompt.choices if c.token == layout)
    longest = max(prompt.choices, key=lambda c: len(c.words)).letter if prompt.choices else ""
    if (
        prompt.id in FIRST
        or prompt.keep.startswith("state.")
        or (prompt.kind.chooses and any(c.stands for c in prompt.choices))
    ):
        return (
            prompt.choices[0].letter if prompt.choices else "18 C"
        )  # any other answer takes pages out of the course
    if prompt.kind.gathers:  # each of its looks has something to tell
        return " ".join(("p", *(part.letter for part in prompt.parts)))
    if prompt.kind.looks:
        letters = sorted(prompt.choices[1:], key=lambda c: len(c.words))[-3:]
        return " ".join(("p", *(c.letter for c in letters)))
    if prompt.kind.spans:
        return _read(prompt, layout)
    if prompt.kind.offsets:
        return f"9/32 {max(prompt.signs, key=len)}!"
    return longest or TYPED.get(prompt.kind.id, "-")


def _walk(layout: str, folder: Path) -> Iterator[tuple[Sitting, Ask, Desk]]:
    """The desk before each question."""
    desk = Desk(load_library(), folder, lambda: NOON)
    desk.line("n")
    sitting = desk.sitting
    assert sitting is not None
    while sitting.ask is not None:
        ask = sitting.ask
        yield sitting, ask, desk
        desk.line(_answer(ask.prompt, layout))
        if sitting.ask == ask:
            desk.line("")  # a doubted reading is kept
        if sitting.ask == ask:
            desk.line("/skip it cannot be reached")
        assert sitting.ask != ask, (ask, desk.said)


def _lines(parts: Sequence[Line]) -> list[str]:
    return [as_text([part]) for part in parts]


def _moves_seen(moves: Sequence[str], page: str) -> bool:
    flat = " ".join(page.split())
    return all(" ".join(move.split()) in flat for move in moves)


def _drawn(sitting: Sitting, page: list[str], width: int) -> bool:
    """Whether the whole drawing of the prompt stands on the page, in one of the heights that it is
    drawn in.
    """
    shown, last = {row.rstrip() for row in page} | {""}, _HEIGHT.get(width, 20)
    for height in sorted(HEIGHTS, key=lambda h: abs(h - last)):  # mostly the one of the page before
        lines = pictures_of(sitting, "blocks").frame(width, height).lines
        if lines and {row.rstrip() for row in lines} <= shown:
            _HEIGHT[width] = height
            return True
    return False


HEIGHTS = range(7, 33)
_HEIGHT: dict[int, int] = {}
"""Of the drawing that was found last, by the width of the page."""


def _check(
    sitting: Sitting, ask: Ask, desk: Desk, shown: Stage, size: tuple[int, int], met: set[str]
) -> None:
    """One page as it stands: nothing cut, nothing below the window, all there is to do before the
    eyes at first.
    """
    prompt, step = ask.prompt, sitting.step
    assert step is not None
    span = size[0] - 2 - (SIDE + 3 if size >= WIDE else 0)
    lines = _lines((*shown.top, *shown.page, *shown.ask, *shown.hint, *shown.said, *shown.keys))
    where = prompt.id, size
    assert not [line for line in lines if "…" in line], where
    assert max(map(len, lines)) <= size[0] - 2, where
    assert not desk.front.window.overflows, where
    page = "\n".join(_lines(shown.page))
    if prompt.kind.acknowledges:
        _read_whole(sitting, prompt, page)
        return
    view, stop = view_of(sitting), sitting.page()
    assert view is not None
    title = stop.title if stop else step.title
    # Below a long message the drawing gives way to what there is to do, before the first answer.
    gives_way = title not in met and len(shown.said) > LONG
    pushes = str(prompt.id).endswith("/push")  # nothing is taped, and nobody needs the tape's way
    if step.drawing in FILLED and not gives_way and not pushes:
        assert _drawn(sitting, page.splitlines(), span), where
    # The first time all there is to do is before the eyes.
    assert title in met or _moves_seen(view.how, page), where
    met.add(title)


def _read_whole(sitting: Sitting, prompt: Prompt, page: str) -> None:
    """A caution with every line and every source, and nothing of the page behind it; a hold in the
    largest letters.
    """
    caution, flat = sitting.library.cautions[prompt.caution], " ".join(page.split())
    assert [
        line for line in (*caution.lines, *caution.sources) if " ".join(line.split()) not in flat
    ] == []
    moves = sitting.library.steps[prompt.step].how
    assert [
        move for move in moves if " ".join(move.split()) in flat and move not in caution.lines
    ] == []
    assert ("\u2588" in page) == bool(caution.holds), prompt.id


@pytest.mark.parametrize("layout", LAYOUTS)
def test_nothing_is_cut_and_nothing_has_to_be_scrolled_to(layout: str, tmp_path: Path) -> None:
    """In a window of each size, all of them along one walk."""
    met: dict[tuple[int, int], set[str]] = {size: set() for size in SIZES}
    for sitting, ask, desk in _walk(layout, tmp_path):
        for size, known in met.items():
            _check(sitting, ask, desk, stage(desk, *size, "blocks"), size, known)
    assert all(len(known) > 40 for known in met.values())
    if (
        layout in all_layouts()
    ):  # what cannot be read is drawn without a reading, and nobody sees it
        read = sitting.survey.standing(Reading)
        assert len(read) > 40, [r.prompt for r in read]
        assert sitting.survey.unit == "in"


STOOD = {
    "under the frame": (("i", "l"), "f"),
    "under the axles": (("i", "t"), "a"),
    "on its wheels": (("i", "l"), "w"),
    "bare, on three points": (("o", "o"), "t"),
    "bare, on stands": (("o", "o"), "f"),
}
"""Answers for engine and body, and for what it is set on."""


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("stood", STOOD)
def test_the_supports_are_set_up_without_scrolling(
    stood: str, size: tuple[int, int], tmp_path: Path
) -> None:
    """Every question of the page of the supports, the worst metal found everywhere, until it
    stands.
    """
    (engine, body), supports = STOOD[stood]
    desk = Desk(load_library(), tmp_path, lambda: NOON)
    for line in ("n", "Bramble", "i", "s", "w", "o", "/go state", engine, body, "/go set-supports"):
        desk.line(line)
    sitting, met, asked = desk.sitting, set[str](), list[str]()
    assert sitting is not None
    while sitting.ask is not None and sitting.ask.prompt.step in ("set-supports", "jack-places"):
        ask = sitting.ask
        asked.append(ask.prompt.id)
        _check(sitting, ask, desk, stage(desk, *size, "blocks"), size, met)
        desk.line(
            supports
            if ask.prompt.keep == "state.supports"
            else _answer(ask.prompt, "straight-ladder")
        )
        assert sitting.ask != ask, (ask, desk.said)
    assert asked[-1] == "set-supports/push"
    assert len([id for id in asked if id.endswith("-metal")]) == (0 if supports == "w" else 4)
    assert len([id for id in asked if id.endswith("-elsewhere")]) == (0 if supports == "w" else 4)


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("id", load_library().cautions)
def test_each_caution_is_read_whole_without_scrolling(
    id: str, size: tuple[int, int], tmp_path: Path
) -> None:
    """Also those that no walk meets; a line of what was said before stands below."""
    desk = Desk(load_library(), tmp_path, lambda: NOON)
    for line in ("n", "Bramble", "i", "s", "w", "o"):
        desk.line(line)
    sitting = desk.sitting
    assert sitting is not None
    caution = sitting.library.cautions[id]
    prompt = caution_prompt(id, "long-diagonals", caution.title)
    sitting._before = lambda survey, target, visit: (Ask(prompt), visit)  # type: ignore[method-assign]
    sitting._in_front = None
    desk.line("no")
    _check(sitting, Ask(prompt), desk, stage(desk, *size, "blocks"), size, set())
