"""Reading everything under content/ into one checked Library; the only reader of it."""

from __future__ import annotations

import os
import stat
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar

from wizard.library import quick
from wizard.library.exposures import places_of, pushes_of, read_cautions, read_exposures
from wizard.library.fields import Fault, Table
from wizard.library.figures import (
    read_clauses,
    read_limits,
    read_paper,
    read_tools,
    read_words,
)
from wizard.library.layouts import read_layout
from wizard.library.marks import BEFORE, LACKED, pages_of, questions_of
from wizard.library.model import read_model
from wizard.library.places import (
    SIDES,
    PartId,
    QuantityId,
    StepId,
    also_named,
    also_prompt,
    step_of,
)
from wizard.library.quantities import read_quantities
from wizard.library.references import cross_faults
from wizard.library.shapes import (
    CALLED,
    Also,
    Layout,
    Library,
    Need,
    PromptTemplate,
    Step,
    Stop,
    Topic,
)
from wizard.library.signs import read_signs
from wizard.library.steps import TITLE, read_need, read_step

T = TypeVar("T")

TOO_LARGE = 1_000_000
"""Bytes; a content file is never near this, so a larger one is refused unread."""


def _toml(path: Path, faults: list[Fault]) -> dict[str, Any] | None:
    """A parsed file; None with a fault when it cannot be read."""
    try:
        if not stat.S_ISREG(path.stat().st_mode):  # a pipe would be waited for
            faults.append(Fault(path.name, "file", "is not a file", "put a file in its place"))
            return None
        if path.stat().st_size > TOO_LARGE:
            faults.append(Fault(path.name, "file", "is over 1 MB", "split it"))
            return None
        text = path.read_text(encoding="utf-8")
        plain = quick.parse(text)
        return tomllib.loads(text) if plain is None else plain
    except FileNotFoundError:
        faults.append(Fault(path.name, "file", "is missing", "put it back"))
    except UnicodeDecodeError:
        faults.append(Fault(path.name, "file", "is not UTF-8 text", "save it as UTF-8"))
    except (ValueError, RecursionError) as error:
        faults.append(Fault(path.name, "file", f"is not TOML ({error})", "mend the line it names"))
    except OSError as error:
        faults.append(
            Fault(path.name, "file", f"cannot be read ({error.strerror})", "look at its rights")
        )
    return None


def _folder(folder: Path, read: Callable[[Table], T], faults: list[Fault]) -> dict[str, T]:
    found: dict[str, T] = {}
    try:
        paths = sorted(folder / name for name in os.listdir(folder) if name.endswith(".toml"))
    except FileNotFoundError:
        paths = []
    except OSError as error:
        faults.append(
            Fault(folder.name, "folder", f"cannot be read ({error.strerror})", "look at its rights")
        )
        paths = []
    for path in paths:
        data = _toml(path, faults)
        if data is None:
            continue
        if data.get("id") != path.stem:
            faults.append(
                Fault(path.name, "id", "is not the file's name", f'write id = "{path.stem}"')
            )
        found[path.stem] = read(Table(data, path.name, faults))
    return found


def read_content(folder: Path, layout: str = "") -> tuple[Library, list[Fault]]:
    """The library under `folder` with every fault in it; what is faulty is left at a default.

    layout: the one kind of frame for which every prompt is put together and looked at; all of them,
    where it is empty or is none.
    """
    faults: list[Fault] = []

    def table(name: str) -> Table:
        return Table(_toml(folder / name, faults) or {}, name, faults)

    tools, scatters, points = read_tools(table("tools.toml"))
    course = table("course.toml")
    course.format()
    called = Table(course.mapping("courses"), "course.toml", faults, "courses.")
    walks = {n: _stops(called.texts(n, needed=True)) for n in called.data}
    named = Table(course.mapping("called"), "course.toml", faults, "called.")
    titles = {PartId(part): _title(named, part) for part in named.data}
    topics = tuple(_topic(t) for t in course.tables("topic"))
    also = {a.id: a for t in course.tables("also") for a in [_also(t)]}
    course.done()
    layouts: dict[str, Layout] = _folder(
        folder / "layouts", lambda t: read_layout(t, set(points)), faults
    )
    own = read_layout(table("own-points.toml"), set(points))
    read: dict[str, Step] = _folder(folder / "steps", read_step, faults)
    steps = {StepId(id): _with_call(step, also) for id, step in read.items()}
    library = Library(
        courses={name: _steps_of(walk, steps, name == "recheck") for name, walk in walks.items()},
        walks=walks,
        called=titles,
        topics=topics,
        also=also,
        steps=steps,
        layouts=_as_offered(layouts, steps),
        limits=read_limits(table("limits.toml")),
        quantities=read_quantities(table("quantities.toml")),
        exposures=read_exposures(table("exposures.toml")),
        cautions=read_cautions(table("cautions.toml")),
        tools=tools,
        scatters=scatters,
        point_doubt=points,
        words=read_words(table("glossary.toml")),
        clauses=read_clauses(table("clauses.toml")),
        model=read_model(table("model.toml")),
        signs=read_signs(table("signs.toml")),
        paper=read_paper(table("paper.toml")),
        own=own,
        pushes=pushes_of(steps),
        places=places_of(steps),
        page=pages_of(steps),
        questions=questions_of(steps),
    )
    faults.extend(cross_faults(library, whole=not faults, layout=layout))
    return library, faults


def _stops(said: tuple[str, ...]) -> tuple[Stop, ...]:
    """The stops of a walk: parts of one step that follow one another are asked on one page."""
    stops: list[Stop] = []
    for part in map(PartId, said):
        step = step_of(part)
        parts: tuple[PartId, ...] = () if part == step else (part,)
        if parts and stops and stops[-1].step == step and stops[-1].parts:
            parts = (*stops.pop().parts, *parts)
        stops.append(Stop(step, parts))
    return tuple(stops)


def _title(named: Table, part: str) -> str:
    """What a page is called that asks a part of its step."""
    title = named.text(part)
    if len(title) > TITLE:
        wrong = f"is {len(title)} characters and {TITLE} fit in the list of pages"
        named.fault(part, wrong, "say it shorter")
    return title


def _topic(t: Table) -> Topic:
    """One thing that a survey finds out."""
    topic = Topic(
        id=t.text("id"),
        name=t.text("name"),
        steps=tuple(map(StepId, t.texts("steps", needed=True))),
        tells=tuple(map(QuantityId, t.texts("tells"))),
        lacks=t.word("lacks", LACKED, ""),
        until=t.word("until", BEFORE, ""),
        once=t.text("once", ""),
        done=t.text("done", ""),
        again=t.text("again", ""),
        stays=t.text("stays", ""),
    )
    for key, said in (("stays", topic.stays), ("again", topic.again)):
        if bool(topic.done) != bool(said):
            must = "a good place to stop says what is done, in a re-check too, and what stays"
            t.fault(key, "and done do not stand together", must)
    t.done()
    return topic


def _also(t: Table) -> Also:
    """Something that is asked only once it is called for."""
    when = tuple(need for n in t.tables("when") for need in _on_each_side(read_need(n)))
    id = t.text("id")
    call = Need(str(also_prompt(id)), (CALLED,), either=when)
    also = Also(id, t.text("name"), t.text("says"), call)
    t.done()
    return also


def _on_each_side(need: Need) -> tuple[Need, ...]:
    """A condition on either side, where its key leaves the side open."""
    if "{side}" not in need.key:
        return (need,)
    return tuple(replace(need, key=need.key.format(side=side)) for side in SIDES)


def _with_call(step: Step, also: Mapping[str, Also]) -> Step:
    """The step with what calls for it, and for what it asks only then."""
    prompts = tuple(
        replace(p, needs=tuple(_called(n, also) for n in p.needs)) if _calls(p) else p
        for p in step.prompts
    )
    call = also[step.called].call if step.called in also else None
    return step._replace(prompts=prompts, call=call)


def _calls(prompt: PromptTemplate) -> bool:
    return any(n.calls for n in prompt.needs)


def _called(need: Need, also: Mapping[str, Also]) -> Need:
    known = also.get(also_named(need.key)) if need.calls else None
    return replace(need, either=known.when) if known else need


def _steps_of(walk: tuple[Stop, ...], steps: dict[StepId, Step], again: bool) -> tuple[StepId, ...]:
    """The steps that a walk comes to, each where it comes to it first: of a place those whose looks
    are taken there. again: without those that are taken once and never again.
    """
    found: list[StepId] = []
    for stop in walk:
        gathers = steps[stop.step].gathers if stop.step in steps else ()
        looks = [step_of(g.look) for g in gathers if not (again and g.once)]
        found += looks if gathers else [stop.step]
    return tuple(dict.fromkeys(found))


def _as_offered(layouts: dict[str, Layout], steps: dict[StepId, Step]) -> dict[str, Layout]:
    """The layouts in the order in which they are offered: the commonest first, on which all else
    falls back.
    """
    prompts = (p for step in steps.values() for p in step.prompts if p.keep == "survey.layout")
    order = [c.token for p in prompts for c in p.choices]
    return {id: layouts[id] for id in dict.fromkeys((*order, *layouts)) if id in layouts}
