"""Faults that no single file shows: ids named in one file and missing in another."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wizard.library.fields import Fault, nearest
from wizard.library.shapes import Library, Step


def _unknown(file: str, key: str, named: Iterable[str], known: Iterable[str]) -> Iterator[Fault]:
    known = set(known)
    for name in named:
        if name not in known:
            yield Fault(file, key, f"'{name}' is not known", nearest(name, known))


def _step_faults(step: Step, library: Library) -> Iterator[Fault]:
    file = f"{step.id}.toml"
    yield from _unknown(file, "cautions", step.cautions, library.cautions)
    yield from _unknown(file, "words", step.words, library.words)
    yield from _unknown(file, "layouts", step.layouts, library.layouts)
    items = {
        "box": {b.id for y in library.layouts.values() for b in y.boxes},
        "place": {p.id for y in library.layouts.values() for p in y.places},
        "station": {s.id for y in library.layouts.values() for s in y.stations},
        "level": {v.id for y in library.layouts.values() for v in y.levels},
        "side": {"left", "right"},
    }
    for prompt in step.prompts:
        yield from _unknown(file, "prompt.only", prompt.only, items.get(prompt.each, set()))
        if prompt.keep.startswith("tool.") and prompt.keep != "tool.tape.start":
            yield from _unknown(file, "prompt.choice.token", (c.token for c in prompt.choices), library.tools)


def cross_faults(library: Library) -> Iterator[Fault]:
    """Every id that points to nothing, and every step that no course calls."""
    for step in library.steps.values():
        yield from _step_faults(step, library)
    for name, ids in library.courses.items():
        yield from _unknown("course.toml", f"courses.{name}", ids, library.steps)
    called = {id for ids in library.courses.values() for id in ids}
    for id in library.steps:
        if id not in called:
            yield Fault(f"{id}.toml", "id", "no course calls this step", "add it to course.toml")
    for name in ("whole", "short"):
        if name not in library.courses:
            yield Fault("course.toml", "courses", f"'{name}' is missing", f"add {name} = [step ids]")
    if not library.layouts:
        yield Fault("layouts", "folder", "holds no layout", "add one file")
