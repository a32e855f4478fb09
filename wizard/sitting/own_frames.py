"""Layout files of an owner's own, in a folder beside his surveys: written once a frame is set up,
and offered by name to the next survey.

A file may come from anybody. It is read as a survey is, held to all that holds the content's own,
and not offered where it does not hold.
"""

from __future__ import annotations

import contextlib
import os
import stat
import string
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from wizard.library.fields import Fault
from wizard.library.shapes import Choice, Layout, Library, PromptTemplate, Step
from wizard.readings.plain import clean_line
from wizard.survey.built_frame import TOO_LONG, extra_traits, layout_in, layout_text
from wizard.survey.file import NotSaved, make_folder, write_atomic
from wizard.survey.own_frame import base_of, is_own, missing
from wizard.survey.record import Survey
from wizard.survey.rows import NEVER, OwnFrame

FOLDER, SUFFIX = "layouts", ".toml"
MOST = 5
"""Files that are offered, the newest first: more do not stand in one list."""
LONGEST = 50
"""Characters of a choice's words."""
BRACES = str.maketrans("", "", "{}")
KEEPS = "survey.layout"
"""Keeps the kind of frame."""


def folder_of(folder: Path) -> Path:
    """Where the layout files of a folder of surveys lie."""
    return folder / FOLDER


def text_in(path: Path) -> str:
    """A layout file's text; empty for what is no such file."""
    with contextlib.suppress(OSError, ValueError):
        at = path.stat()
        if stat.S_ISREG(at.st_mode) and at.st_size <= TOO_LONG:
            return path.read_text(encoding="utf-8")
    return ""


def _files(folder: Path) -> list[Path]:
    """Those of a folder, the newest first."""
    found: list[tuple[int, str]] = []
    with contextlib.suppress(OSError), os.scandir(folder_of(folder)) as entries:
        for entry in entries:
            if entry.name.endswith(SUFFIX) and not entry.name.startswith("."):
                with contextlib.suppress(OSError):
                    found.append((-entry.stat().st_mtime_ns, entry.name))
    return [folder_of(folder) / name for _, name in sorted(found)]


def read_in(path: Path, library: Library) -> Layout | Fault:
    """The layout of a file; what is wrong with it where it cannot be used."""
    name, text = clean_line(path.name, 60), text_in(path)
    if not text:
        return Fault(name, "file", "cannot be read as text", "put a layout file in its place")
    found = layout_in(text, library)
    if isinstance(found, Layout):
        known = {library.own.id} if library.own else set()
        if found.id in {*library.layouts, *known}:
            return Fault(name, "id", "is that of a kind of frame here", "give it another id")
        return found
    return Fault(name, found.key, found.wrong, found.remedy)


def found_in(folder: Path, library: Library) -> Iterator[tuple[Path, Layout | Fault]]:
    """Every layout file of a folder of surveys, with what it holds."""
    for path in _files(folder):
        yield path, read_in(path, library)


def offering(library: Library, folder: Path) -> Library:
    """The library in which the owner's own layouts can be chosen as well; the same one where there
    are none, and for the same files the same one each time.
    """
    stamp = _stamp(folder)
    if not stamp or library.kept.get(offering) == stamp:
        return library
    made: dict[object, Library] = library.kept.setdefault(_offered, {})
    if stamp not in made:
        made[stamp] = _offered(library, folder)
        made[stamp].kept[offering] = stamp
    return made[stamp]


def _stamp(folder: Path) -> tuple[object, ...]:
    """What files there are; equal only while none of them changes."""
    found: list[object] = []
    for path in _files(folder):
        with contextlib.suppress(OSError):
            at = path.stat()
            found.append((str(path), at.st_mtime_ns, at.st_size))
    return tuple(found)


def _offered(library: Library, folder: Path) -> Library:
    found = dict(_layouts(folder, library))
    if not found:
        return library
    there, texts = list(found.values()), {y.id: text_in(path) for path, y in found.items()}
    asking = [s for s in library.steps.values() if any(p.keep == KEEPS for p in s.prompts)]
    changed = {step.id: _with_choices(step, there, texts) for step in asking}
    return replace(library, steps={**library.steps, **changed})


def _layouts(folder: Path, library: Library) -> Iterator[tuple[Path, Layout]]:
    """Those that can be used, the newest first; of one id the newest."""
    ids: set[str] = set()
    for path, layout in found_in(folder, library):
        if isinstance(layout, Layout) and layout.id not in ids and len(ids) < MOST:
            ids.add(layout.id)
            yield path, layout


def _with_choices(step: Step, there: Sequence[Layout], texts: Mapping[str, str]) -> Step:
    """The page with an answer more for each of these layouts, where it asks for the kind of
    frame.
    """
    prompts = tuple(_more(p, there, texts) if p.keep == KEEPS else p for p in step.prompts)
    return step._replace(prompts=prompts)


def _called(layout: Layout, there: Sequence[Layout]) -> str:
    """Its name, with its file's where another has the same."""
    alike = sum(other.name == layout.name for other in there) > 1
    return f"{layout.name}, {layout.id}" if alike else layout.name


def _more(
    prompt: PromptTemplate, there: Sequence[Layout], texts: Mapping[str, str]
) -> PromptTemplate:
    taken = {c.letter for c in prompt.choices}
    letters = [x for x in string.ascii_lowercase if x not in taken]
    more = [
        Choice(
            letter=letter,
            token=layout.id,
            words=clean_line(_called(layout, there), LONGEST),
            also=(layout.name.lower(),),
            brings=texts[layout.id],
        )
        for letter, layout in zip(letters, there, strict=False)
    ]
    return replace(prompt, choices=(*prompt.choices, *more))


def kinds(library: Library, folder: Path) -> Iterator[tuple[str, str]]:
    """Id and name of every kind of frame, the owner's own behind those of the content."""
    yield from ((layout.id, layout.name) for layout in library.layouts.values())
    if library.own is not None:
        yield library.own.id, library.own.name
    yield from ((layout.id, layout.name) for _, layout in _layouts(folder, library))


def blank_of(id: str, library: Library, folder: Path) -> Survey | None:
    """An empty survey of a kind of frame, which carries its layout where that is an owner's own;
    None for a kind that nobody knows.
    """
    if id in library.layouts or (library.own is not None and id == library.own.id):
        return Survey(layout=id)
    for path, layout in _layouts(folder, library):
        if layout.id == id:
            row = OwnFrame(id="y1", layout=id, text=text_in(path))
            return Survey(layout=id, rows={"frame": (row,)})
    return None


def _own_layout(survey: Survey, library: Library) -> Layout | None:
    """The layout that was set up in a survey, as a file of its own; None where none was, or it is
    not whole yet. A re-check sets none up: the survey that it follows has.
    """
    if survey.follows or not is_own(survey, library) or missing(survey, library):
        return None
    layout, own = base_of(survey, library), library.own
    if own is None or layout is own:
        return None
    only = set(extra_traits(own))
    return replace(
        layout,
        id=survey.id,
        name=f"frame of {_car(survey)}",
        about=f"{pairs_in(layout)} pairs of points, set up{_day(survey)} by its owner.",
        source="rough sizes by its owner; the sizes that are taped take their place",
        traits=tuple(t for t in layout.traits if t not in only),
    )


def pairs_in(layout: Layout) -> int:
    """How many pairs of points it has, but for the horns' tips."""
    return sum(len(p.points) == 2 and not p.horns for p in layout.places)


def _car(survey: Survey) -> str:
    """What the car is called, as it can stand in any name."""
    return clean_line(clean_line(survey.car, 40).translate(BRACES)) or "a car"


def _day(survey: Survey) -> str:
    return f" on {survey.started:%Y-%m-%d}" if survey.started.year > NEVER.year else ""


def keep_file(survey: Survey, library: Library, folder: Path, written: str) -> tuple[str, str]:
    """Write the layout that was set up in a survey beside it, once it is whole and whenever it
    changes.

    written: the text that was written last. Returns the text that stands there now, and what is to
    be told, mostly nothing.
    """
    layout = _own_layout(survey, library)
    if layout is None:
        return written, ""
    text = layout_text(layout)
    if text == written:
        return written, ""
    path = folder_of(folder) / f"{layout.id}{SUFFIX}"
    if text == text_in(path):
        return text, ""
    try:
        make_folder(path.parent)
        write_atomic(path, text.encode("utf-8"))
    except (NotSaved, OSError):
        return written, f"The survey is saved, but its frame could not be written to {path.name}."
    return text, f"Set up, and saved as {FOLDER}/{path.name} for the next survey."
