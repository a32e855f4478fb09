"""A recipe of DEVELOPERS.md carried out to the letter on a copy of the content, and all that the
program tells then.

The letters themselves are read: each numbered step says which file is new, at the end of which file
something is added, or in which file the lines with a plus go, and the block below it is what is
written there. So a recipe that is not true fails its test.
"""

from __future__ import annotations

import contextlib
import io
import re
import shutil
import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.sitting.driving import Clock, Driver
from wizard.command import main
from wizard.library import load_library
from wizard.library.load import read_content
from wizard.library.paths import content_dir, samples_dir
from wizard.screens.desk import Desk
from wizard.screens.paper import as_text
from wizard.screens.stage import stage
from wizard.sitting.plain import run
from wizard.sitting.sitting import Sitting

HOME = Path(__file__).parents[2]
STEP = re.compile(
    r"^\d+\. (?P<how>A new file|At the end of|In) `(?P<file>[^`]+)`.*?"
    r"^ +```\w+\n(?P<block>.*?)^ +```$",
    re.MULTILINE | re.DOTALL,
)


@dataclass(frozen=True, slots=True)
class Part:
    """One numbered step of a recipe."""

    how: str
    file: str
    """Below the repository."""
    block: str

    def carry_out(self, home: Path) -> None:
        """Do what the step says in a copy of the repository's own files."""
        path = home / self.file
        if self.how == "A new file":
            assert not path.exists(), f"{self.file} is there already"
            path.write_text(self.block, encoding="utf-8")
            return
        text = path.read_text(encoding="utf-8")
        text = f"{text}\n{self.block}" if self.how == "At the end of" else self._with_lines(text)
        path.write_text(text, encoding="utf-8")

    def _with_lines(self, text: str) -> str:
        """The lines with a plus put in and those with a minus out, wherever the old ones stand."""
        lines = [(line[:1], line[2:] or "\n") for line in self.block.splitlines(keepends=True)]
        old = "".join(line for sign, line in lines if sign != "+")
        new = "".join(line for sign, line in lines if sign != "-")
        assert old.strip(), f"nothing says where the lines go in {self.file}"
        assert old in text, f"{self.file} holds no such lines:\n{old}"
        return text.replace(old, new)


def recipe(heading: str) -> tuple[Part, ...]:
    """The numbered steps under a heading of DEVELOPERS.md, in their order."""
    text = (HOME / "DEVELOPERS.md").read_text(encoding="utf-8")
    _, found, rest = text.partition(f"\n### {heading}\n")
    assert found, f"DEVELOPERS.md has no recipe '{heading}'"
    section = re.split(r"^##+ ", rest, maxsplit=1, flags=re.MULTILINE)[0]
    parts = tuple(
        Part(m["how"], m["file"], textwrap.dedent(m["block"])) for m in STEP.finditer(section)
    )
    assert len(parts) == section.count("```") // 2, f"a block of '{heading}' belongs to no step"
    return parts


def carried_out(parts: tuple[Part, ...], home: Path) -> Path:
    """A copy of the content in a new folder with these steps carried out; gives `content`."""
    copy = Path(shutil.copytree(content_dir(), home / "content"))
    for part in parts:
        if not (home / part.file).parent.exists():
            (home / part.file).parent.mkdir(parents=True)
        if part.how != "A new file" and not (home / part.file).exists():
            shutil.copy(HOME / part.file, home / part.file)
        part.carry_out(home)
    return copy


def faults(content: Path, layout: str = "") -> list[str]:
    """What `crosstape content` names; layout: the one kind of frame whose prompts are looked at."""
    return [str(f) for f in read_content(content, layout)[1]]


@contextlib.contextmanager
def reading(content: Path) -> Iterator[None]:
    """The program with this content in the place of its own."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("wizard.library.paths.content_dir", lambda: content)
        load_library.cache_clear()
        yield
    load_library.cache_clear()


def unnamed(parts: tuple[Part, ...], home: Path, layout: str = "") -> list[str]:
    """Lines of new text in a recipe without which `crosstape content` still calls all in order.

    Of tables of one kind each field is left out of the first. A line that cannot go alone, for it
    begins or ends something, is named by what remains.
    """
    content, silent = carried_out(parts, home), []
    tried: set[tuple[str, str]] = set()
    for part in (p for p in parts if p.how != "In"):
        path, lines = home / part.file, part.block.splitlines(keepends=True)
        whole, table = path.read_text(encoding="utf-8"), ""
        for at, line in enumerate(lines):
            table = line if line.startswith("[") else table
            field = table, line.partition(" = ")[0]
            if line.strip() and field not in tried:
                less = "".join((*lines[:at], *lines[at + 1 :]))
                path.write_text(whole.replace(part.block, less), encoding="utf-8")
                silent += [] if faults(content, layout) else [line.strip()]
            tried.add(field)
        path.write_text(whole, encoding="utf-8")
    return silent


# What the program tells
# ---------------------------------------------------------------------------------------------


def said(*argv: str | Path) -> str:
    """What a command prints."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = main([str(a) for a in argv])
    assert (status, err.getvalue()) == (0, "")
    return out.getvalue()


def flat(text: str) -> str:
    """Text in one line, so that it does not matter where it was folded."""
    return " ".join(text.split())


def sample(name: str, folder: Path) -> Path:
    """A sample survey as a file of one's own."""
    folder.mkdir(exist_ok=True)
    return Path(shutil.copy(samples_dir() / f"{name}.toml", folder))


def reports(survey: Path) -> dict[str, str]:
    """The report in each of its forms."""
    told = {}
    for kind in ("html", "md", "csv", "txt"):
        path = survey.with_name(f"{survey.stem}-report.{kind}")
        said("report", survey, "-o", path)
        told[kind] = path.read_text(encoding="utf-8")
    return told


def answered(survey: Path, *lines: str) -> None:
    """Lines typed at the car, each taken or told; all is saved."""
    driver = Driver(survey.parent, path=survey)
    driver.run(*lines)
    assert driver.sitting.kept
    driver.sitting.kept.release()


def piped(survey: Path, *lines: str, clock: Clock | None = None) -> str:
    """What the plain prompts say to these lines."""
    told: list[str] = []
    sitting = Sitting(load_library(), path=survey, folder=survey.parent, now=clock or Clock())
    run(sitting, [f"{line}\n" for line in lines], told.append, person=True)
    if sitting.kept:
        sitting.kept.release()
    return "\n".join(told)


def screen(survey: Path, *lines: str, clock: Clock | None = None) -> str:
    """The full screen after these lines, in one column of 80."""
    desk = Desk(load_library(), survey.parent, clock or Clock())
    desk.open(survey)
    for line in lines:
        desk.line(line)
    shown = stage(desk, 80, 24, "blocks")
    if desk.sitting and desk.sitting.kept:
        desk.sitting.kept.release()
    parts = (shown.top, shown.page, shown.ask, shown.hint, shown.said)
    return "\n".join(as_text(part) for part in parts)
