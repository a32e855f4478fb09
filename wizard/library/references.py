"""Faults that no single file shows: ids named in one file and missing in another."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace

from wizard.library.exposures import exposure_faults
from wizard.library.fields import Fault, nearest
from wizard.library.layouts import lacking
from wizard.library.marks import NOSE, NOT_SAID, STATES, mark_faults
from wizard.library.model import model_faults
from wizard.library.places import (
    NO_PLACE,
    SIDES,
    PlaceId,
    PointId,
    PromptId,
    StepId,
    also_named,
    prompt_id,
    step_of,
    tool_kind,
    within,
)
from wizard.library.quantities import quantity_faults
from wizard.library.shapes import (
    SEEN,
    UNSURE,
    Also,
    Box,
    Layout,
    LevelPlace,
    Library,
    Need,
    Place,
    PromptTemplate,
    Step,
    Stop,
)
from wizard.library.signs import sign_faults
from wizard.library.steps import STATE
from wizard.library.templates import KIND, called, misfit, points_of, wanted


def _unknown(
    file: str,
    key: str,
    named: Collection[str] | Collection[StepId],
    known: Collection[str] | Collection[StepId],
) -> Iterator[Fault]:
    there: Set[object] = frozenset(known)
    for name in named:
        if name not in there:
            yield Fault(file, key, f"'{name}' is not known", nearest(name, known))


def kinds_of(library: Library) -> tuple[Layout, ...]:
    """Every kind of frame, with what stands for one that its owner has not set up yet."""
    return (*library.layouts.values(), *((library.own,) if library.own else ()))


def traits_of(library: Library) -> frozenset[str]:
    """What any kind of frame may be like."""
    return frozenset(trait for layout in kinds_of(library) for trait in layout.traits)


def _step_faults(step: Step, library: Library) -> Iterator[Fault]:
    """Names that a step's file uses and no other file knows."""
    file = f"{step.id}.toml"
    yield from _unknown(file, "exposes", step.exposes, library.exposures)
    for prompt in step.prompts:
        yield from _unknown(file, "prompt.exposes", prompt.exposes, library.exposures)
    yield from _unknown(file, "words", step.words, library.words)
    yield from _unknown(file, "stand_in", [step.stand_in] if step.stand_in else [], library.steps)
    yield from _unknown(file, "layouts", step.layouts, library.layouts)
    kinds = {word for y in kinds_of(library) for word in y.words}
    for need in (*step.needs, *(n for p in step.prompts for n in p.needs)):
        yield from _unknown(file, "needs.any", need.any if need.key == KIND else (), kinds)
    names = _item_names(library)
    yield from _unknown(file, "across", [step.across] if step.across else [], names["place"])
    for prompt in step.prompts:
        yield from _unknown(
            file, "prompt.over", [str(prompt.over)] if prompt.over else [], names["at"]
        )
        yield from _unknown(file, "prompt.only", prompt.only, names.get(prompt.each, set()))
        yield from _choice_faults(file, prompt, library)


def _worded_faults(step: Step, library: Library) -> Iterator[Fault]:
    """Other words for what no kind of frame is."""
    for one in step.worded:
        yield from _unknown(f"{step.id}.toml", "worded.trait", [one.trait], traits_of(library))


def _item_names(library: Library) -> Mapping[str, Set[str]]:
    """What the items of all layouts are called, by what a prompt is asked of each; `at`: their ids."""
    layouts = library.layouts.values()
    return {
        "box": {called(b) for y in layouts for b in y.boxes},
        "place": {called(p) for y in layouts for p in y.places},
        "at": {str(id) for y in layouts for id in (*y.place_by_id, *y.station_by_id)},
        "station": {str(s.id) for y in layouts for s in y.stations},
        "level": {called(v) for y in layouts for v in y.levels},
        "side": set[str](SIDES),
    }


def _choice_faults(file: str, prompt: PromptTemplate, library: Library) -> Iterator[Fault]:
    """Answers that choose a tool or a layout: each is one, and every layout can be chosen."""
    tokens = [c.token for c in prompt.choices]
    if tool_kind(prompt.keep) and prompt.keep != "tool.tape.start":
        yield from _unknown(file, "prompt.choice.token", tokens, library.tools)
    if prompt.keep != "survey.layout":
        return
    known = [layout.id for layout in kinds_of(library)]
    yield from _unknown(file, "prompt.choice.token", tokens, known)
    for id in known:
        if id not in tokens:
            wrong = f"the layout '{id}' cannot be chosen"
            yield Fault(file, "prompt.choice", wrong, "add a choice for it")


def _tape_faults(step: Step) -> Iterator[Fault]:
    """Compare, mentor and report read the names of a tape's two points off its id."""
    for prompt in step.prompts:
        named = f"{prompt.start}--{prompt.end}"
        if prompt.start and prompt.last != named:
            wrong = f"'{prompt.last}' does not name the two points of the tape"
            yield Fault(f"{step.id}.toml", "prompt.id", wrong, f'write id = "{named}"')


def _once_only(library: Library) -> Iterator[Fault]:
    """Looks that can stop a survey and that no re-check would take again."""
    again = library.courses.get("recheck", library.courses.get("whole", ()))
    for step in library.steps.values():
        stops = any(c.stop for p in step.prompts if p.kind.looks for c in p.choices)
        if stops and step.id not in again:
            wrong = f"'{step.id}' can stop a survey, but no re-check looks there again"
            yield Fault("course.toml", "courses.recheck", wrong, "add it to recheck")


@dataclass(frozen=True, slots=True)
class _Asked:
    """A prompt with the layout's item put in."""

    id: PromptId
    start: PointId
    end: PointId
    needs: tuple[Need, ...]
    answers: frozenset[str]
    """Tokens that it can be answered with; empty for what is typed."""


def _asked(step: Step, layout: Layout) -> list[_Asked]:
    """Every prompt of a step, with the layout's items put in."""
    found = []
    for prompt in step.prompts:
        for fields in wanted(prompt, layout):
            texts = (prompt.last, str(prompt.start), str(prompt.end))
            id, start, end = (text.format_map(fields) for text in texts)
            needs = tuple(replace(n, key=n.key.format_map(fields)) for n in prompt.needs)
            name = prompt_id(step.id, PlaceId(fields.get("item", "")), id)
            answers = frozenset(c.token for c in prompt.choices)
            if prompt.kind.looks:
                answers |= {*SEEN.values(), UNSURE}
            found.append(_Asked(name, PointId(start), PointId(end), needs, answers))
    return found


def _point_faults(
    file: str, asked: Iterable[_Asked], layout: str, points: Set[PointId]
) -> Iterator[Fault]:
    """Two prompts of one id would share their answers; a point that is none would be drawn and
    computed nowhere.
    """
    ids = set()
    for one in asked:
        if one.id in ids:
            yield Fault(
                file,
                "prompt.id",
                f"'{one.id}' is there twice",
                "give each prompt an id of its own",
            )
        ids.add(one.id)
        for key, point in (("prompt.start", one.start), ("prompt.end", one.end)):
            if point and point not in points:
                yield Fault(
                    file,
                    key,
                    f"'{point}' is not a point of the layout {layout}",
                    nearest(point, points),
                )


def _need_faults(
    step: Step, asked: Iterable[_Asked], known: Mapping[str, Set[str]]
) -> Iterator[Fault]:
    """A condition on something that is never asked, or never answered so, would never be met."""
    for need in (*step.needs, *(need for one in asked for need in one.needs)):
        answers = known.get(need.key, frozenset())
        for token in need.any if answers else ():
            if token not in answers and token != NOT_SAID:
                wrong = f"'{token}' is not an answer to '{need.key}'"
                yield Fault(f"{step.id}.toml", "needs.any", wrong, nearest(token, answers))
        if need.key not in known:
            wrong = f"'{need.key}' is not a prompt and not a field of the state"
            yield Fault(
                f"{step.id}.toml",
                "needs.key",
                wrong,
                "name a prompt, or state.engine, state.body, ...",
            )


def layout_faults(library: Library, layout: Layout) -> Iterator[Fault]:
    """What the pages cannot ask of a kind of frame, and what every kind has and this one has not."""
    steps = [
        (s, _asked(s, layout))
        for s in library.steps.values()
        if not s.layouts or layout.id in s.layouts
    ]
    called = {a.call.key: frozenset(a.call.any) for a in library.also.values()}
    known = {**_answerable([one for _, asked in steps for one in asked]), **called}
    yield from lacking(layout, _picked_levels(library))
    yield from (*_through_faults(library, layout), *_nose_faults(layout))
    yield from _role_faults(library, layout)
    points = points_of(layout)
    for step, asked in steps:
        file = f"{step.id}.toml"
        if not asked and not misfit(step.needs, layout):
            wrong = f"asks nothing of the layout {layout.id}"
            yield Fault(
                file, "prompt.only", wrong, f'add a [[needs]] with key = "{KIND}" that says why'
            )
        yield from _point_faults(file, asked, layout.id, points)
        yield from _need_faults(step, asked, known)


def _picked_levels(library: Library) -> Set[str]:
    """What the pages call the places for the level of which they ask more than of all."""
    prompts = (p for s in library.steps.values() for p in s.prompts if p.each == "level")
    return {name for p in prompts for name in p.only}


def _through_faults(library: Library, layout: Layout) -> Iterator[Fault]:
    """A box that is taped from a place in its middle names that place."""
    prompts = (p for s in library.steps.values() for p in s.prompts if p.each == "box")
    taped = {name for p in prompts if "{through}" in f"{p.start}{p.end}" for name in p.only}
    for box in layout.boxes:
        if called(box) in taped and not box.through:
            remedy = "name the place in the middle from which the corners are taped"
            yield Fault(f"{layout.id}.toml", f"box[{box.id}].through", "is missing", remedy)


def _nose_faults(layout: Layout) -> Iterator[Fault]:
    """A box that begins at one point in the middle is called so, and no other."""
    for box in layout.boxes:
        if (box.role == NOSE) != (len(layout.place(box.front).sides) == 1):
            wrong = f"does not go with its front, '{box.front}'"
            remedy = f'write role = "{NOSE}" where that is one point in the middle, and only there'
            yield Fault(f"{layout.id}.toml", f"box[{box.id}].role", wrong, remedy)


def _answerable(asked: Iterable[_Asked]) -> Mapping[str, Set[str]]:
    """What a need may hang on, each with its answers; empty where any will do."""
    state: dict[str, Set[str]] = {f"state.{f}": frozenset(STATES.get(f, ())) for f in STATE}
    return state | {KIND: frozenset(), **{str(one.id): one.answers for one in asked}}


def _role_faults(library: Library, layout: Layout) -> Iterator[Fault]:
    """A role that no step calls is a slip of the pen."""
    roles = {name for s in library.steps.values() for p in s.prompts for name in p.only}
    rows: tuple[Box | Place | LevelPlace, ...] = (*layout.boxes, *layout.places, *layout.levels)
    for row in rows:
        if row.role and row.role not in roles:
            wrong = f"'{row.role}' is not what a page calls it"
            yield Fault(f"{layout.id}.toml", f"{row.id}.role", wrong, nearest(row.role, roles))


def _course_faults(library: Library) -> Iterator[Fault]:
    """Courses that are missing or call a step wrongly, and steps that none of them calls."""
    for name, walk in library.walks.items():
        yield from _walk_faults(f"courses.{name}", walk, library)
    stops = {stop.step for walk in library.walks.values() for stop in walk}
    reached = stops.union(*library.courses.values())
    for id in library.steps:
        if id not in reached:
            yield Fault(f"{id}.toml", "id", "no course names this page", "add it to course.toml")
    yield from _called_faults(library)
    yield from _topic_faults(library)
    for name in ("whole", "short"):
        if name not in library.courses:
            yield Fault(
                "course.toml", "courses", f"'{name}' is missing", f"add {name} = [step ids]"
            )


def _called_faults(library: Library) -> Iterator[Fault]:
    """Names of parts of steps that no step asks."""
    named = (library.steps[id] for id in map(step_of, library.called) if id in library.steps)
    asked = [str(prompt_id(s.id, NO_PLACE, p.last)) for s in named for p in s.prompts]
    yield from _unknown("course.toml", "called", list(map(str, library.called)), asked)


def _topic_faults(library: Library) -> Iterator[Fault]:
    """What a survey finds out by steps, quantities and topics that nobody knows."""
    file, ids = "course.toml", [topic.id for topic in library.topics]
    for topic in library.topics:
        key, once = f"topic[{topic.id}]", [topic.once] if topic.once else []
        yield from _unknown(file, f"{key}.steps", topic.steps, library.steps)
        yield from _unknown(
            file, f"{key}.tells", [*map(str, topic.tells)], list(map(str, library.quantities))
        )
        yield from _unknown(file, f"{key}.once", once, ids)


def _also_faults(library: Library) -> Iterator[Fault]:
    """What is called for under a name that nobody knows, or by what nobody can answer; and what no
    page belongs to.
    """
    named = set[str]()
    for step in library.steps.values():
        wanted = _called_on(step)
        yield from _unknown(f"{step.id}.toml", "called", wanted, library.also)
        named |= wanted
    for id in library.also.keys() - named:
        wrong = "no page is called for by it"
        yield Fault("course.toml", f"also[{id}]", wrong, "add called to its pages")
    known: dict[str, Set[str]] = {}
    for layout in library.layouts.values():
        known |= _answerable([a for s in library.steps.values() for a in _asked(s, layout)])
    for also in library.also.values():
        yield from _when_faults(f"also[{also.id}].when", also, known)


def _called_on(step: Step) -> set[str]:
    """Ids of what a page, or a question of it, is asked for only once it is called for."""
    needs = (n.key for p in step.prompts for n in p.needs if n.calls)
    return {step.called, *map(also_named, needs)} - {""}


def _when_faults(key: str, also: Also, known: Mapping[str, Set[str]]) -> Iterator[Fault]:
    yield from _unknown("course.toml", f"{key}.key", [n.key for n in also.when], known)
    for need in also.when:
        answers = known.get(need.key)
        if answers:
            yield from _unknown("course.toml", f"{key}.any", need.any, answers)
        if not need.instead:
            yield Fault("course.toml", f"{key}.instead", "is missing", "say why it is called for")


def _walk_faults(key: str, walk: Sequence[Stop], library: Library) -> Iterator[Fault]:
    yield from _unknown("course.toml", key, [s.step for s in walk], library.steps)
    called = [part for s in walk for part in (s.parts or (s.step,))]
    for id in sorted({i for i in called if called.count(i) > 1}):
        yield Fault("course.toml", key, f"'{id}' is there twice", "call each step once")


def _part_faults(library: Library) -> Iterator[Fault]:
    """Parts of steps that a walk asks by themselves: each is one, and the rest is asked as well.

    Tools are asked for where the first reading wants them, so theirs may be called alone.
    """
    for name, walk in library.walks.items():
        whole = {stop.step for stop in walk if not stop.parts}
        for stop in (s for s in walk if s.parts):
            step = library.steps[stop.step]
            yield from _no_parts(f"courses.{name}", stop, step, library)
            if step.id not in whole and not step.only_tools:
                wrong = f"'{step.id}' is asked in part"
                remedy = "call the step itself where the rest is asked"
                yield Fault("course.toml", f"courses.{name}", wrong, remedy)


def _no_parts(key: str, stop: Stop, step: Step, library: Library) -> Iterator[Fault]:
    ids = {one.id for y in library.layouts.values() for one in _asked(step, y)}
    for part in stop.parts:
        if not any(within(id, part) for id in ids):
            wrong = f"'{part}' is no part of '{step.id}'"
            yield Fault("course.toml", key, wrong, nearest(str(part), map(str, ids)))


def _place_faults(library: Library) -> Iterator[Fault]:
    """What a place of a round gathers: looks, each at one place, with all that they expose to."""
    taken: dict[PromptId, StepId] = {}
    looks = {one: s for s in library.steps.values() for one in _look_ids(s, library)}
    for place in (s for s in library.steps.values() if s.gathers):
        file = f"{place.id}.toml"
        named = [g.look for g in place.gathers]
        yield from _unknown(file, "gather.look", list(map(str, named)), set(map(str, looks)))
        for look in taken.keys() & set(named):
            wrong = f"'{look}' is taken at '{taken[look]}' already"
            yield Fault(file, "gather.look", wrong, "take each look at one place")
        taken |= dict.fromkeys(named, place.id)
        yield from _unlike_looks(place, [looks[look] for look in named if look in looks])


def _twin_faults(library: Library) -> Iterator[Fault]:
    """The other side of a place lists the same, exposes to the same and comes next."""
    for place in (s for s in library.steps.values() if s.twin):
        file, other = f"{place.id}.toml", library.steps.get(place.twin)
        if other is None:
            yield Fault(file, "twin", f"'{place.twin}' is no page", "name the other side's place")
        elif [g[1:] for g in place.gathers] != [g[1:] for g in other.gathers]:
            yield Fault(file, "twin", f"'{place.twin}' lists something else", "list the same there")
        elif set(place.exposes) != set(other.exposes):
            wrong = f"'{place.twin}' exposes to something else"
            yield Fault(file, "twin", wrong, "one entry for both needs the same cautions")


def _unlike_looks(place: Step, steps: Iterable[Step]) -> Iterator[Fault]:
    """A place exposes to what its looks expose to, all of them together: their pages, and what the looks
    of these pages say of themselves.
    """
    there = {step.id: step for step in steps}.values()
    dangers = {e for step in there for e in step.exposes}
    dangers |= {e for step in there for p in step.prompts if p.kind.looks for e in p.exposes}
    if dangers != set(place.exposes):
        said = ", ".join(f'"{e}"' for e in sorted(dangers))
        wrong = "is not what its looks expose to, all of them together"
        yield Fault(f"{place.id}.toml", "exposes", wrong, f"exposes = [{said}]")


def _look_ids(step: Step, library: Library) -> Set[PromptId]:
    """The looks of a step, on any kind of frame."""
    if not any(p.kind.looks for p in step.prompts):
        return frozenset()
    asked = [one for y in library.layouts.values() for one in _asked(step, y)]
    return {one.id for one in asked if one.answers >= {*SEEN.values()}}


def _paper_faults(library: Library) -> Iterator[Fault]:
    """Pages and quantities that a paper names and no other file knows."""
    file = "paper.toml"
    for photo in library.paper.photos.values():
        yield from _unknown(file, f"photo[{photo.id}].at", [photo.at], library.steps)
    for work in library.paper.brief.works:
        known = [str(id) for id in library.quantities]
        yield from _unknown(file, f"work[{work.id}].of", [str(id) for id in work.of], known)


def cross_faults(library: Library, *, whole: bool, layout: str = "") -> Iterator[Fault]:
    """Every id that points to nothing, and every step that no course calls.

    whole: every file could be read and every template filled, so that the prompts themselves can be
    looked at. layout: the one kind of frame for which that is done; for all, where it is empty or
    is none.
    """
    for step in library.steps.values():
        yield from (*_step_faults(step, library), *_tape_faults(step))
        yield from _worded_faults(step, library)
    yield from (*_once_only(library), *exposure_faults(library))
    checks = {id: step.check for id, step in library.steps.items()}
    yield from quantity_faults(library.quantities, library.limits, checks)
    yield from (*_course_faults(library), *_paper_faults(library))
    if whole:
        yield from (*_part_faults(library), *_place_faults(library), *_also_faults(library))
        yield from _twin_faults(library)
        yield from mark_faults(library.steps)
        yield from sign_faults(library.signs, library.steps, set(traits_of(library)))
        yield from model_faults(library.model, library.steps)
    if not library.layouts:
        yield Fault("layouts", "folder", "holds no layout", "add one file")
    one = library.layouts.get(layout)
    for kind in ((one,) if one else kinds_of(library)) if whole else ():
        yield from layout_faults(library, kind)
