"""The walk: the pages of a course in the order in which they are asked, each a stop.

Round the car it goes by places: at each, one entry for all that can be seen there, and by itself
only what there is something to tell about. The steps whose looks a place gathers stay what they
are; the walk alone brings them together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property

from wizard.frozen import Frozen
from wizard.library.places import NO_PROMPT, PromptId, StepId, step_of, tool_named, within_any
from wizard.library.shapes import Library, Need, Step, Stop
from wizard.library.templates import KIND
from wizard.survey.prompts import Ask, Part, Prompt, Questions, by_itself, in_turn, left_at, touched
from wizard.survey.record import Survey


class Page(Frozen):
    """One step as it stands for this survey."""

    step: Step
    prompts: tuple[Prompt, ...]
    """Prompts to ask now; empty when the step dropped out, but for what was answered before it did."""
    gone: str = ""
    """Why the step does not apply and what stands in for it; empty when it applies."""
    later: tuple[Prompt, ...] = ()
    """Prompts that the short list of a re-check leaves for another day."""

    of: int = 0
    """How many readings all of its step wants, where this is a part of it; 0 where it is all."""
    named: str = ""
    """What it is called, where it asks a part of its step that content names; empty for its step's
    title.
    """

    @property
    def title(self) -> str:
        """What the lists of pages call it."""
        return self.named or self.step.title

    @property
    def needless(self) -> bool:
        """Whether it is gone since what it reads is known without it."""
        return self.gone.startswith(NEEDLESS)

    @cached_property
    def place(self) -> Prompt | None:
        """The one entry for a place; None where there is none."""
        return next((p for p in self.prompts if p.kind.gathers), None)

    @cached_property
    def ids(self) -> frozenset[PromptId]:
        """Of the prompts to ask now."""
        return frozenset([p.id for p in self.prompts])

    @cached_property
    def wanted(self) -> tuple[Prompt, ...]:
        """All that it wants to know: in the stead of the entry for a place, each of its looks."""
        place = self.place
        if place is None:
            return self.prompts
        looks = [part.look for part in place.parts]
        ids = {look.id for look in looks}
        rest = (p for p in self.prompts if p is not place and p.id not in ids)
        return (*looks, *rest)

    @cached_property
    def gathered(self) -> frozenset[StepId]:
        """Of a place, the steps whose looks are taken there."""
        return frozenset(step_of(g.look) for g in self.step.gathers)

    @cached_property
    def asks(self) -> tuple[Ask, ...]:
        """Every reading wanted, in the order of asking; of a page of the guide it is kept."""
        return in_turn(self.prompts)

    @cached_property
    def each(self) -> tuple[Ask, ...]:
        """The same, of a place each of its looks."""
        return in_turn(self.wanted) if self.place else self.asks

    @cached_property
    def asked(self) -> tuple[Ask, ...]:
        """What it wants to know of the car: cautions are none of it."""
        return tuple([a for a in self.each if not a.prompt.kind.acknowledges])


WAITS = "Stay away from the car and measure nothing until that is put right."
"""Ends what is said of a page that waits for the supports."""
NEEDLESS = "Not needed, because "
"""Begins what is said of a page for a state that the car need not be brought into."""
There = Mapping[StepId, Page]
"""The pages of a course, each of one step."""


def stops(
    survey: Survey, library: Library, questions: Questions, there: There, walk: Iterable[Stop]
) -> tuple[Page, ...]:
    """The stops of a walk as they stand. there: the pages of the course."""
    found: list[Page] = []
    asked: set[PromptId] = set()
    for stop in walk:
        step = questions.steps[stop.step]
        page = place(survey, step, questions, there) if step.gathers else there.get(step.id)
        page = page and _rest(page, stop, asked, library)
        if page is not None:
            asked |= {p.id for p in page.wanted}
            found.append(page)
    tools = [page for id, page in there.items() if id in library.tool_steps()]
    return _named(_with_tools(found, tools), library)


def _rest(page: Page, stop: Stop, asked: set[PromptId], library: Library) -> Page | None:
    """What a stop asks of its page; None for a tool that nothing is read with here."""
    if page.step.gathers or not (stop.parts or asked):
        return page
    part = _part(page, stop, asked, library.gathered())
    return part if part.prompts or stop.step not in library.tool_steps() else None


def _named(found: Iterable[Page], library: Library) -> tuple[Page, ...]:
    """The pages with the names that content has for the parts that they ask."""
    return tuple([_called(page, library) for page in found])


def _called(page: Page, library: Library) -> Page:
    first = page.prompts[0].id if page.of and page.prompts else NO_PROMPT
    name = library.called.get(first, "")
    return replace(page, named=name) if name else page


def _part(page: Page, stop: Stop, asked: set[PromptId], gathered: frozenset[PromptId]) -> Page:
    """The prompts of a page that its stop asks: its part, else what no stop before it has asked.

    gathered: the looks that places ask. What hangs on a look of this very page is asked there too, and
    is not the page's own work; another page, such as that of dye, hangs on looks and is asked all the same.
    """
    mine = _own(page, stop, asked, gathered)
    if len(mine) == len(page.prompts):
        return page
    own = [a for a in page.asks if a.prompt.id not in gathered]
    return replace(page, prompts=tuple(mine), of=len(own))


def _own(
    page: Page, stop: Stop, asked: set[PromptId], gathered: frozenset[PromptId]
) -> list[Prompt]:
    """The prompts that a stop asks of a page."""
    if stop.parts:
        return [p for p in page.prompts if within_any(p.id, stop.parts)]
    placed = gathered.intersection([p.id for p in page.prompts])
    return [
        p
        for p in page.prompts
        if p.id not in asked and placed.isdisjoint([n.prompt for n in p.needs])
    ]


def stop_of(walk: Sequence[Page], prompt: Prompt) -> Page | None:
    """The stop that asks a prompt; for a caution, and for what is not asked now, one of its step."""
    for page in walk:
        if prompt.id in page.ids:
            return page
    return next((p for p in walk if prompt.step in (p.step.id, *p.gathered)), None)


def twin_of(survey: Survey, walk: Sequence[Page], place: Prompt, library: Library) -> Prompt | None:
    """The place on the other side that one entry may speak for too: it is seen from the same spot
    and lists the same. None where there is none, in a re-check, and once anything is said of
    either.
    """
    twin = library.steps[place.step].twin
    if not twin or survey.follows:
        return None
    other = next((p.place for p in walk if p.step.id == twin and not p.gone), None)
    if other is None or _letters(place.parts) != _letters(other.parts):
        return None
    whole = all(left_at(survey, p) == p.parts for p in (place, other))
    return other if whole else None


def _letters(parts: Iterable[Part]) -> list[str]:
    return [part.letter for part in parts]


# Tools where they are first used ------------------------------------------------------------------


def _with_tools(found: list[Page], tools: list[Page]) -> tuple[Page, ...]:
    """Each tool is asked for at a stop before the first reading that is taken with it."""
    placed = {p.id for page in found for p in page.prompts}
    for asking in tools:
        left = [p for p in asking.prompts if p.id not in placed]
        stops: list[Page] = []
        for page in found:
            here = _used(page, left)
            left = [p for p in left if p not in here]
            stops += [*_asked_before(stops, asking, here), page]
        found = stops
    return tuple(found)


def _asked_before(stops: list[Page], asking: Page, here: list[Prompt]) -> list[Page]:
    """The stop that asks for these tools, with those that the stop before asks for already."""
    if not here:
        return []
    before = stops.pop().prompts if stops and stops[-1].step is asking.step else ()
    return [replace(asking, prompts=(*before, *here), of=len(asking.asks))]


def _used(page: Page, tools: list[Prompt]) -> list[Prompt]:
    """Of these prompts those that ask for a tool with which a page reads something.

    A page that hangs on an answer asks for none: the order would hang on it too, and paper could
    not follow.
    """
    measured = [p for p in page.prompts if p.kind.measures] if tools else []
    if not measured or not _certain(page.step.needs):
        return []
    wanted = {p.tool for p in measured if _certain(p.needs)}
    return [p for p in tools if tool_named(p.keep) in wanted]


def _certain(needs: Iterable[Need]) -> bool:
    """Whether it hangs on nothing but the kind of frame, the car's state and what most have."""
    return all(need.state or need.usual or need.key == KIND for need in needs)


# A place ------------------------------------------------------------------------------------------


def place(survey: Survey, step: Step, questions: Questions, there: There) -> Page | None:
    """A place of a round on this car: its entry, then what is asked there by itself; None where
    nothing of it is looked at.
    """
    pages = [there[id] for g in step.gathers if (id := step_of(g.look)) in there]
    prompts = {p.id: p for page in pages for p in page.prompts}
    gone = next((page.gone for page in pages if page.gone.endswith(WAITS)), "")
    entry = replace(questions.of(step)[0], parts=_parts(step, prompts))
    if not entry.parts:
        return Page(step, (), gone) if gone else None
    single = _single(survey, entry)
    behind = [q for p in entry.parts for q in _behind(survey, p.look, p.look.id in single, prompts)]
    return Page(step, (entry, *behind) if len(entry.parts) > 1 else tuple(behind), gone)


def _parts(step: Step, prompts: Mapping[PromptId, Prompt]) -> tuple[Part, ...]:
    """The looks of a place that this car is asked."""
    here = (g for g in step.gathers if g.look in prompts)
    return tuple(Part(prompts[g.look], g.letter, g.name, g.found) for g in here)


def _single(survey: Survey, entry: Prompt) -> frozenset[PromptId]:
    """Ids of the looks of a place that are asked by themselves; so is the last one that is left."""
    left = left_at(survey, entry)
    alone = left if len(left) == 1 else entry.parts if len(entry.parts) == 1 else ()
    asked = (*alone, *(p for p in entry.parts if by_itself(survey, entry, p.look)))
    return frozenset([p.look.id for p in asked])


def unfolded(stop: Page, questions: Questions) -> tuple[Prompt, ...]:
    """All that may be asked at a stop, in its order: of a place also each look with what hangs on it,
    whatever was answered.
    """
    if stop.place is None:
        return stop.prompts
    found = [stop.place]
    for part in stop.place.parts:
        found += [part.look, *hanging(part.look, questions.by_id)]
    return tuple(found)


def hanging(look: Prompt, prompts: Mapping[PromptId, Prompt]) -> tuple[Prompt, ...]:
    """What is asked once something was found at a look, on the same page of its own."""
    return tuple(
        p
        for p in prompts.values()
        if p.step == look.step and any(n.prompt == look.id for n in p.needs)
    )


def _behind(
    survey: Survey, look: Prompt, single: bool, prompts: Mapping[PromptId, Prompt]
) -> Iterator[Prompt]:
    """A look that is asked by itself with what hangs on it, and whatever of that was answered. What hangs
    on a place that was not reached is asked too: another is found, or nothing is lifted.
    """
    if single:
        yield look
    asked = single or bool(survey.looks_at(look.id))
    yield from (p for p in hanging(look, prompts) if asked or touched(survey, p))
