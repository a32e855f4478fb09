"""What the opening page does beside opening a survey: `r 1` measure again, `v 1 2` compare, `s 1`
print a sheet.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from wizard.screens.outcome import Outcome, Panel, Said

if TYPE_CHECKING:
    from wizard.screens.desk import Desk

ASKS = {
    "again": "Type the number of the survey to measure again, like r 1.",
    "compare": (
        "Type the numbers of the surveys to compare, like v 1 2; a sample goes by its letter."
    ),
    "sheet": "Type the number of the kind of frame, like s 1; s 1 txt writes plain text.",
}


def task(desk: Desk, kind: str, name: str, rest: str, typed: bool = True) -> Outcome:
    """One of the three, on what was typed behind its letter; the letter alone asks for more, once
    more lets it be.
    """
    # Loads the math: only once something is wanted of it.
    from wizard.sitting.starting import CannotStart
    from wizard.survey.file import NotSaved
    from wizard.survey.toml import Unreadable

    if not rest and typed and desk.said.text == ASKS[kind]:
        desk.said = Said()
        return Outcome()
    if not rest:
        desk.panel = Panel("", "Kinds of frame", _kinds(desk)) if kind == "sheet" else None
        desk.said = Said("told", ASKS[kind])
        return Outcome(entry=f"{name} ")
    try:
        return {"again": _again, "compare": _compare, "sheet": _sheet}[kind](desk, rest)
    except (CannotStart, Unreadable, NotSaved, OSError) as error:
        desk.said = Said("refused", str(error))
        return Outcome(stop=True)


def _kinds(desk: Desk) -> str:
    from wizard.sitting.starting import kinds

    return (
        "\n".join(f"s {number}  {name}" for number, _, name in kinds(desk.library))
        + f"\n\n{ASKS['sheet']}"
    )


def _again(desk: Desk, rest: str) -> Outcome:
    from wizard.sitting.starting import measure_again

    (earlier,) = _paths(desk, rest, "again", 1)
    path, words = measure_again(earlier, desk.folder, desk.library, desk.now())
    desk.open(path)
    desk.panel = Panel("", "Measured again", words)
    return Outcome()


def _compare(desk: Desk, rest: str) -> Outcome:
    from wizard.sitting.starting import compared

    desk.panel = Panel(
        "", "Compared", compared(_paths(desk, rest, "compare", 0), desk.library, desk.now())
    )
    desk.said = Said()
    return Outcome()


def _sheet(desk: Desk, rest: str) -> Outcome:
    from wizard.sitting.starting import print_sheet

    desk.said = Said(
        "told",
        f"The sheet is in {print_sheet(rest, desk.folder, desk.library)}; open and print it.",
    )
    return Outcome()


def _paths(desk: Desk, rest: str, kind: str, wanted: int) -> list[Path]:
    """The files behind numbers and letters of the list. Raises CannotStart."""
    from wizard.sitting.starting import CannotStart

    names = dict.fromkeys(rest.lower().replace(",", " ").split())
    found = [i.path for name in names for i in desk.opening.items if i.path and i.name == name]
    if len(found) != len(names) or (wanted and len(found) != wanted) or len(found) < max(wanted, 1):
        raise CannotStart(f"That is not in the list. {ASKS[kind]}")
    if kind == "compare" and len(found) < 2:
        raise CannotStart(f"It takes two. {ASKS[kind]}")
    return found
