"""What a survey finds out, topic by topic: the stops that settle each, and where it is good to stop."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

from wizard.frozen import Frozen
from wizard.library import marks
from wizard.library.shapes import Library, Topic
from wizard.survey.guide import course_name
from wizard.survey.minutes import is_coming
from wizard.survey.prompts import Ask, still_open
from wizard.survey.record import Survey
from wizard.survey.walk import Page

MEASURES = "measure"
"""The part of a survey whose pages are a topic by themselves where content puts them in none."""


class Matter(Frozen):
    """One topic as it stands on this car."""

    topic: Topic
    pages: tuple[Page, ...]
    """Its stops at which this car is asked something, in the order of asking."""
    stops: tuple[Page, ...]
    """All of its stops, those too that are not for the car as it stands now."""
    survey: Survey

    @cached_property
    def asks(self) -> tuple[Ask, ...]:
        """Every reading and look wanted of it; cautions are none."""
        return tuple([a for p in self.pages for a in p.asked])

    @cached_property
    def is_off(self) -> bool:
        """Whether the pages that tell it are not for this car, and will not be."""
        tell = [p for p in self.stops if p.step.check]
        return bool(tell) and all(
            p.gone and not is_coming(p, self.stops, self.survey) for p in tell
        )

    @cached_property
    def left(self) -> tuple[Page, ...]:
        """Its stops at which something is open."""
        if self.is_off:
            return ()
        return tuple([p for p in self.pages if still_open(self.survey, p.asked)])

    @property
    def is_begun(self) -> bool:
        """Whether anything of it is answered."""
        left = len(still_open(self.survey, self.asks))
        return left < len(self.asks) and not self.is_skipped

    @property
    def is_skipped(self) -> bool:
        """Whether nothing is open and nothing that tells it was answered: it was left out."""
        tell = [p for p in self.pages if p.step.check] or self.pages
        asked = [a.prompt.id for p in tell for a in p.asked]
        skipped = self.survey.by_prompt().skipped
        return not self.left and all(skipped.get(id) for id in asked)


def matters(survey: Survey, library: Library, walk: Sequence[Page]) -> tuple[Matter, ...]:
    """The topics that this car has, in the order of telling; a page that measures and is in none of
    them is one by itself.
    """
    found = [_matter(t, survey, walk) for t in (*library.topics, *_others(library, walk))]
    # Only a re-check leaves out what tells a topic and asks what prepares it.
    return tuple([m for m in found if m.asks and (not survey.follows or _is_told(m, library))])


def _is_told(matter: Matter, library: Library) -> bool:
    """Whether a page that tells it is on this walk: what only prepares it, such as the string set
    up, may be there for another topic, and a short list leaves the rest out.
    """
    steps = (library.steps[id] for id in matter.topic.steps if id in library.steps)
    tell = {s.id for s in steps if s.check or s.gathers}
    return not tell or any(p.step.id in tell for p in matter.stops)


def _others(library: Library, walk: Iterable[Page]) -> Iterable[Topic]:
    told = {id for topic in library.topics for id in topic.steps} | library.tool_steps()
    for step in {p.step.id: p.step for p in walk if p.step.part == MEASURES}.values():
        if step.id not in told:
            name = step.title[:1].lower() + step.title[1:]
            yield Topic(str(step.id), name, (step.id,))


def _matter(topic: Topic, survey: Survey, walk: Iterable[Page]) -> Matter:
    stops = tuple([p for p in walk if p.step.id in topic.steps])
    return Matter(topic, tuple([p for p in stops if not p.gone and p.asked]), stops, survey)


def rests(found: Iterable[Matter], walk: Sequence[Page]) -> Mapping[int, tuple[Matter, ...]]:
    """The places in a walk behind which it is good to stop, each with the topics that are done
    there: those of which the same is said end with the last of them.
    """
    ends: dict[str, list[Matter]] = {}
    for matter in found:
        if matter.topic.done:
            ends.setdefault(matter.topic.done, []).append(matter)
    places = {id(page): n for n, page in enumerate(walk)}
    return {max(places[id(m.stops[-1])] for m in some): tuple(some) for some in ends.values()}


def only_today(matter: Matter, survey: Survey) -> bool:
    """Whether the car is about to be changed so that it cannot be read any more: the engine leaves,
    or hangs just now with its weight off.
    """
    if matter.topic.until == "engine" and course_name(survey) == marks.SHORT:
        return True
    needs = (n for p in matter.left for n in p.step.needs if n.key == "state.engine")
    hangs = survey.state().engine == "weight-off"
    return hangs and any("weight-off" in n.any and "in" not in n.any for n in needs)
