"""A sitting driven line by line on a clock that is set by hand, as every face drives it."""

import shutil
import tempfile
from collections.abc import Callable
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path

from tests.places import entry
from wizard.library import load_library
from wizard.sitting.commands import _seal, handle
from wizard.sitting.reply import Reply
from wizard.sitting.second import kept_in_step
from wizard.sitting.sitting import Sitting
from wizard.survey.answer import Foretell
from wizard.survey.file import load
from wizard.survey.lock import SUFFIX
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey

READ = "(read what stands before it)"
"""Stands for the cautions before a page, and for the page of the supports where nobody has pushed
the car yet.
"""


class Clock:
    """A time that stands still until it is moved."""

    def __init__(self) -> None:
        self.at = datetime(2026, 4, 11, 9, 0, 0)

    def __call__(self) -> datetime:
        return self.at

    def next_day(self) -> None:
        self.at += timedelta(days=1)


class Driver:
    """A sitting with its folder and clock."""

    def __init__(
        self,
        folder: Path,
        *,
        path: Path | None = None,
        clock: Clock | None = None,
        foretell: Foretell | None = None,
    ) -> None:
        self.clock = clock or Clock()
        self.typed: list[str] = []
        self.sitting = Sitting(
            load_library(), path=path, folder=folder, now=self.clock, foretell=foretell
        )

    def say(self, line: str) -> Reply:
        """One line; what the sitting says back. Nobody's eyes are on anything here."""
        self.sitting.shown = None
        return handle(self.sitting, line)

    def run(self, *lines: str) -> "Driver":
        """Lines that must all be taken or told; READ answers whatever stands before the page that
        was gone to.
        """
        for line in lines:
            if line == READ:
                self.typed += read(self)
                continue
            reply = self.say(line)
            self.typed.append(line)
            assert reply.kind in ("taken", "told", "ended"), (line, self.at, reply)
        return self

    def enter(self, line: str) -> "Driver":
        """An answer that must be taken, for a walk that asks after what is written down and what is asked
        next: the words that a face says to it are not put together.
        """
        self.sitting.shown = None
        reply = self.sitting.enter(line)
        kept_in_step(self.sitting)
        if reply.kind == "ended":
            _seal(self.sitting)
        assert reply.kind in ("taken", "ended"), (line, self.at, reply)
        return self

    @property
    def at(self) -> str:
        """Id of the prompt in front, `end` when there is none."""
        return self.sitting.prompt.id if self.sitting.prompt else "end"

    @property
    def nth(self) -> int:
        """Which reading of the prompt in front."""
        return self.sitting.ask.nth if self.sitting.ask else 0

    @property
    def survey(self) -> Survey:
        """The survey in hand."""
        return self.sitting.survey

    @property
    def saved(self) -> Survey:
        """The survey as the file has it."""
        assert self.sitting.path is not None
        return load(self.sitting.path)

    def again(self) -> "Driver":
        """The same file opened anew, as on another evening: this sitting is over."""
        assert self.sitting.path is not None
        assert self.sitting.kept is not None
        self.sitting.kept.release()
        return Driver(self.sitting.folder, path=self.sitting.path, clock=self.clock)


def files(folder: Path) -> list[str]:
    """What a folder holds, but for the locks of surveys that are open."""
    return sorted(p.name for p in folder.iterdir() if not p.name.endswith(SUFFIX))


def step_of(id: str) -> str:
    """The step of a prompt id."""
    return id.split("/")[0]


LIKELY: dict[str, Callable[[Prompt], str]] = {
    "length": lambda p: "25 7/8!",
    "gap": lambda p: "0",
    "bubble": lambda p: "1/2 left",
    "angle": lambda p: f"1.5 {p.signs[0]}",
    "look": lambda p: f"b {next(c.letter for c in p.choices if c.token == 'nothing-found')}",
    "choice": lambda p: p.choices[0].letter,
    "place": lambda p: "b",
    "ack": lambda p: "understood",
    "note": lambda p: "a few words",
}


def likely(prompt: Prompt) -> str:
    """An answer that any prompt of that kind takes."""
    return LIKELY[prompt.kind.id](prompt)


def read(driver: Driver) -> list[str]:
    """Every caution read, and every question of the supports answered, until the page itself is in
    front.
    """
    said: list[str] = []
    while driver.sitting.ask is not None and driver.sitting.ask != driver.sitting.target:
        assert driver.sitting.prompt is not None
        said.append(likely(driver.sitting.prompt))
        reply = driver.say(said[-1])
        assert reply.kind in ("taken", "told", "ended"), (said, driver.at, reply)
    return said


@cache
def typed_to(*lines: str) -> tuple[str, ...]:
    """The lines as they are really typed, with what READ stands for put in: for faces that take
    plain lines.
    """
    return tuple(Driver(Path(tempfile.mkdtemp())).run(*lines).typed)


@cache
def begun(unit: str = "i", course: str = "w") -> tuple[str, ...]:
    """Answers from the first question to the first of `state`."""
    said = {
        "about-the-car/car": "Bramble",
        "about-the-car/unit": unit,
        "about-the-car/course": course,
    }
    driver, lines = Driver(Path(tempfile.mkdtemp())), []
    while (prompt := driver.sitting.prompt) is not None and prompt.step != "state":
        lines.append(said.get(prompt.id, likely(prompt)))
        driver.run(lines[-1])
    return tuple(lines)


BEGUN = begun()


def walk(driver: Driver, say: dict[str, str] | None = None) -> list[tuple[str, int]]:
    """Every prompt met on the way to the end, each answered as `say` has it or as any person might."""
    met: list[tuple[str, int]] = []
    while (prompt := driver.sitting.prompt) is not None:
        met.append((prompt.id, driver.nth))
        assert len(met) < 600, f"round and round at {prompt.id}"
        driver.run(_said(driver, prompt, say or {}))
    return met


def _said(driver: Driver, prompt: Prompt, say: dict[str, str]) -> str:
    """At a place whatever is said of each of its looks."""
    if prompt.kind.gathers and prompt.id not in say:
        return entry(driver.survey, prompt, lambda id: say.get(id, "b o"))
    return say.get(prompt.id, likely(prompt))


@cache
def walked() -> Path:
    """One survey answered to its end, for every test that needs one: the walk takes seconds."""
    driver = Driver(Path(tempfile.mkdtemp()))
    walk(driver)
    assert driver.sitting.path is not None
    return driver.sitting.path


def finished(folder: Path) -> Driver:
    """A sitting at the end of a survey, on a copy of its own."""
    folder.mkdir(exist_ok=True)
    return Driver(folder, path=Path(shutil.copy(walked(), folder)))
