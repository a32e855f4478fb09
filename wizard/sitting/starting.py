"""What the opening page does with a folder of surveys, beside opening one: measure again, compare,
print a sheet.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from wizard.library.shapes import Library
from wizard.sitting.comparing import compare_files
from wizard.sitting.recheck import start
from wizard.survey.file import NotSaved, load, make_folder
from wizard.telling.papers import NotWritten, write_sheet
from wizard.telling.sheet import sheet_of
from wizard.telling.then_words import recalled_words


class CannotStart(ValueError):
    """It was not done; the message is one sentence."""


def measure_again(earlier: Path, folder: Path, library: Library, now: datetime) -> tuple[Path, str]:
    """A new survey in the folder that follows an earlier one: its file, and what it is going to
    ask.

    Raises Unreadable, NotSaved.
    """
    path = start(earlier, library, now, folder)
    return path, recalled_words(load(path), library)


def compared(paths: Sequence[Path], library: Library, now: datetime) -> str:
    """The surveys held against each other, in words.

    Raises CannotStart where fewer than two can be.
    """
    found = compare_files(paths, library, now)
    if not found.text:
        raise CannotStart(" ".join(found.faults) or "It takes two surveys to compare.")
    return "\n\n".join([found.text, *found.faults])


def kinds(library: Library) -> tuple[tuple[str, str, str], ...]:
    """Number, id and name of each kind of frame, as the opening page offers them."""
    return tuple(
        (str(n), layout.id, layout.name)
        for n, layout in enumerate(library.layouts.values(), start=1)
    )


def print_sheet(said: str, folder: Path, library: Library) -> Path:
    """The worksheet of a kind of frame, by number or id, as a page to print in the folder.

    Raises CannotStart.
    """
    words = said.lower().split()
    wanted, ending = words[0], "txt" if "txt" in words[1:] else "html"
    id = next((id for number, id, _ in kinds(library) if wanted in (number, id)), "")
    if not id:
        numbers = [number for number, _, _ in kinds(library)]
        raise CannotStart(
            f"There is no such kind of frame; say a number from {numbers[0]} to {numbers[-1]}, like"
            " s 1."
        )
    out = folder / f"sheet-{id}.{ending}"
    try:
        make_folder(folder)
        write_sheet(sheet_of(library, id, {}), out)
    except (NotWritten, NotSaved) as error:
        raise CannotStart(str(error)) from error
    except OSError as error:
        raise CannotStart(f"Not written: the folder cannot be used ({error.strerror}).") from error
    return out
