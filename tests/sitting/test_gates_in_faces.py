"""What tests/survey/test_gates.py holds of the guide, seen through the plain prompts and the full
screen.

A sample in which every two of page, situation, engine, body and supports meet at least once.
"""

from __future__ import annotations

import itertools
import random
import shutil
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from tests.survey.exposures_by_hand import BY_HAND
from tests.survey.test_gates import (
    AT,
    BODY,
    ENGINE,
    SITUATIONS,
    SUPPORTS,
    stands_as,
    stood,
    to_read,
    waits,
)
from wizard.library import load_library, marks
from wizard.library.paths import samples_dir
from wizard.screens.desk import Desk
from wizard.screens.paper import as_text
from wizard.screens.stage import stage
from wizard.sitting.commands import handle
from wizard.sitting.plain import run
from wizard.sitting.sitting import Sitting
from wizard.survey.file import save
from wizard.survey.rows import Ack, Answer

LIBRARY = load_library()
Row = tuple[str, str, str, str, str]


def pairwise(lists: tuple[tuple[str, ...], ...], seed: int = 7) -> list[Row]:
    """Rows in which every two values of two different lists meet: greedy, out of a few random rows
    each time.
    """
    rng, rows = random.Random(seed), []
    cells = [[(n, value) for value in values] for n, values in enumerate(lists)]
    left = {pair for a, b in itertools.combinations(cells, 2) for pair in itertools.product(a, b)}

    def new(row: tuple[str, ...]) -> set[tuple[tuple[int, str], tuple[int, str]]]:
        return left & set(itertools.combinations(enumerate(row), 2))

    while left:
        first, second = min(left)
        tries = []
        for _ in range(12):
            row = [rng.choice(values) for values in lists]
            row[first[0]], row[second[0]] = first[1], second[1]
            tries.append(tuple(row))
        best = max(tries, key=lambda row: len(new(row)))
        left -= new(best)
        rows.append(best)
    return rows  # type: ignore[return-value]


def alike() -> tuple[str, ...]:
    """One page of each set of dangers, and the pages of the supports and of lifting, which are like
    no other.
    """
    course = [stop.step for stop in LIBRARY.walks["whole"] if stop.step in BY_HAND]
    first = {BY_HAND[s]: s for s in reversed(course)}
    return tuple(sorted({*first.values(), "set-supports", "lift-engine", "lower-engine"}))


ROWS = pairwise((alike(), SITUATIONS, ENGINE, BODY, SUPPORTS))


def written(row: Row, folder: Path) -> Path:
    """The survey of one row as a file, with the helper at the tape."""
    _, situation, *state = row
    survey = stood((state[0], state[1], state[2]), situation, "straight-ladder")
    asked = LIBRARY.asking(marks.MEASURED_BY)
    assert asked
    who = Answer(
        id=survey.new_id(Answer),
        at=survey.in_order().told[-1][1],
        prompt=asked.prompt,
        answer="helper",
    )
    path = folder / "car.toml"
    save(path, survey.with_row(who))
    return path


def seen_too_early(step: str, text: str) -> list[str]:
    """Moves and questions of the page in what was shown."""
    page, flat = LIBRARY.steps[step], " ".join(text.split())
    asks = [p.ask.split("{")[0] for p in page.prompts if "{" not in p.ask[:12]]
    return [words for words in (*page.how, *asks) if words in flat]


def asks(sitting: Sitting, step: str) -> bool:
    """Whether the page asks anything of a car that stands so."""
    return any(s.step.id == step and s.prompts and not s.gone for s in sitting.walk())


class Watch:
    """Holds that nothing of a page shows before all that stands before it was read."""

    def __init__(self, row: Row, sitting: Sitting) -> None:
        self.row, self.sitting, self.read = row, sitting, set[str]()
        step, situation, *state = row
        self.state = (state[0], state[1], state[2])
        still_read = situation in ("finished", "skipped", "struck", "unpushed", "unseen", "bad")
        self.wanted = set() if still_read else to_read(step, stands_as(*self.state))
        self.waits = waits(step, self.state, situation)

    def shown(self, text: str) -> None:
        told = seen_too_early(self.row[0], text)
        assert not told or (not self.waits and self.wanted <= self.read), (self.row, told)

    def next_line(self) -> str:
        """`understood` at a caution of this page; empty where the page, or another one, is in
        front.
        """
        prompt = self.sitting.prompt
        if prompt is None or not prompt.kind.acknowledges:
            return ""
        self.read.add(prompt.caution)
        return "understood"


def test_every_two_meet() -> None:
    lists = (alike(), SITUATIONS, ENGINE, BODY, SUPPORTS)
    for a, b in itertools.combinations(range(len(lists)), 2):
        assert {(row[a], row[b]) for row in ROWS} == set(itertools.product(lists[a], lists[b]))


def test_the_plain_prompts_show_nothing_of_a_page_before_its_gate(tmp_path: Path) -> None:
    reached = 0
    for n, row in enumerate(ROWS):
        folder = tmp_path / str(n)
        folder.mkdir()
        sitting = Sitting(LIBRARY, path=written(row, folder), now=lambda: AT)
        watch = Watch(row, sitting)

        def lines(watch: Watch = watch, row: Row = row) -> Iterator[str]:
            yield f"/go {row[0]}"
            while line := watch.next_line():
                yield line

        sitting.target = None  # wherever one stood: the page is gone to
        run(sitting, lines(), watch.shown, person=True)
        there = sitting.prompt is not None and sitting.prompt.step == row[0]
        assert there == (asks(sitting, row[0]) and not watch.waits), row
        reached += there
        sitting.kept.release() if sitting.kept else None
    assert reached > len(alike())


@pytest.mark.parametrize("size", [(80, 24), (120, 36)])
def test_the_full_screen_shows_nothing_of_a_page_before_its_gate(
    size: tuple[int, int], tmp_path: Path
) -> None:
    reached = 0
    for n, row in enumerate(ROWS):
        folder = tmp_path / str(n)
        folder.mkdir()
        desk = Desk(LIBRARY, folder, lambda: AT)
        desk.open(written(row, folder))
        sitting = desk.sitting
        assert sitting is not None
        watch, line = Watch(row, sitting), f"/go {row[0]}"
        while line:
            desk.line(line)
            drawn = stage(desk, *size, "blocks")
            watch.shown(as_text((*drawn.page, *drawn.ask, *drawn.said)))
            line = watch.next_line()
        there = sitting.prompt is not None and sitting.prompt.step == row[0]
        assert there == (asks(sitting, row[0]) and not watch.waits), row
        reached += there
        sitting.kept.release() if sitting.kept else None
    assert reached > len(alike())


def test_understood_is_said_of_what_was_shown_and_of_nothing_that_came_up_since(
    tmp_path: Path,
) -> None:
    """Three hours at a caution: another one is in front by then, and nobody has read it yet."""
    now = [AT]
    row = ("horns", "fresh", "in", "bolted", "stands-under-frame")
    desk = Desk(LIBRARY, tmp_path, lambda: now[0])
    desk.open(written(row, tmp_path))
    sitting = desk.sitting
    assert sitting is not None
    desk.line("/go horns")
    stage(desk, 80, 24, "blocks")
    assert sitting.prompt is not None
    assert sitting.prompt.caution == "going-under"
    now[0] = AT + timedelta(hours=3)
    before = sitting.survey
    desk.line("understood")
    assert desk.said.kind == "refused"
    assert sitting.survey == before
    assert sitting.prompt.caution == "hold-stale"
    stage(desk, 80, 24, "blocks")
    desk.line("understood")
    assert sitting.prompt.step == "set-supports"


def test_the_plain_prompts_do_the_same_and_then_show_it(tmp_path: Path) -> None:
    now, said, title = [AT], list[str](), LIBRARY.cautions["hold-stale"].title
    row = ("horns", "fresh", "in", "bolted", "stands-under-frame")
    sitting = Sitting(LIBRARY, path=written(row, tmp_path), now=lambda: now[0])

    def lines() -> Iterator[str]:
        yield "/go horns"
        now[0] = AT + timedelta(hours=3)
        said.clear()
        yield "/why"  # what came up meanwhile is shown behind the text that was asked for
        assert any(f"Caution: {title}" in text for text in said)
        yield "understood"

    run(sitting, lines(), said.append, person=True)
    assert [a.caution for a in sitting.survey.standing(Ack)] == ["hold-stale"]


def test_a_caution_read_tells_no_result_of_the_page_behind_it(tmp_path: Path) -> None:
    """The page of the supports comes in between, so the page that waits is not finished: nothing of
    it is told.
    """
    shutil.copy(samples_dir() / "marigold-2026-05-02.toml", tmp_path)
    sitting = Sitting(
        LIBRARY, path=tmp_path / "marigold-2026-05-02.toml", now=lambda: AT + timedelta(days=90)
    )
    handle(sitting, "/go horns")
    assert sitting.prompt is not None
    assert sitting.prompt.caution == "hold-stale"
    reply = handle(sitting, "understood")
    assert (reply.kind, reply.says) == ("taken", "")
    assert sitting.prompt.step == "set-supports"
