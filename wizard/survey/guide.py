"""The guide: which steps apply to this car in its state, and which prompt comes next."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import datetime
from itertools import compress
from typing import NamedTuple

from wizard.frozen import cached_property
from wizard.library import marks
from wizard.library.places import (
    NO_STEP,
    SIDES,
    PartId,
    PlaceId,
    PromptId,
    StepId,
    also_named,
    box_of_own,
    part_of_step,
    step_of,
    within,
    within_any,
)
from wizard.library.shapes import Also, Caution, Layout, Library, Step
from wizard.survey.again import asked_again, wanted
from wizard.survey.gates import exposures_of, held, hold_of, hold_read, open_cautions
from wizard.survey.meant import meant
from wizard.survey.prompts import Ask as Ask
from wizard.survey.prompts import Prompt, Questions, are_open, caution_prompt, questions_of
from wizard.survey.prompts import answered as answered
from wizard.survey.prompts import called_for as called_for
from wizard.survey.prompts import is_open as is_open
from wizard.survey.prompts import known_met as known_met
from wizard.survey.prompts import need_met as need_met
from wizard.survey.prompts import offered as offered
from wizard.survey.prompts import still_open as still_open
from wizard.survey.prompts import touched as touched
from wizard.survey.prompts import wanting as wanting
from wizard.survey.record import Survey
from wizard.survey.rows import CARRIED as CARRIED
from wizard.survey.rows import Answer, OwnPlace
from wizard.survey.standing import (
    REFUSED,
    SUPPORTS,
    is_push,
    moved_since,
    unsound,
    why_held,
    why_refused,
)
from wizard.survey.walk import NEEDLESS, stops
from wizard.survey.walk import WAITS as WAITS
from wizard.survey.walk import Page as Page
from wizard.survey.walk import stop_of as stop_of
from wizard.survey.walk import unfolded as unfolded

LENGTH_PROMPT = marks.CALLED[marks.HOW_MUCH]
"""The answer that chooses the whole or the short survey, or a re-check."""
STEPS_PROMPT = PromptId("recheck/steps")
"""The row of a re-check that keeps its short list, blanks between: ids of steps, and `level/rear`
for a part of one.
"""


def course_name(survey: Survey) -> str:
    """`short` when the person is short of time, `recheck` for an earlier frame measured again, else
    `whole`.
    """
    said = survey.answer_to(LENGTH_PROMPT)
    return said if said in ("short", "recheck") else "whole"


def is_short_again(survey: Survey) -> bool:
    """Whether it follows another and asks only the list of a re-check: what it leaves out stands as
    it was found then.
    """
    return bool(survey.follows) and course_name(survey) == "recheck"


def course_of(survey: Survey, library: Library) -> tuple[StepId, ...]:
    """Ids of the survey's steps, in order: of a re-check the steps always asked and those chosen
    for it.
    """
    name = course_name(survey)
    course = library.courses.get(name, library.courses["whole"])
    chosen = {step_of(entry) for entry in taken_again(survey, library)}
    if not chosen:
        return course
    today = called_today(survey)
    chosen |= {s.id for s in library.steps.values() if s.call and s.call.prompt in today}
    return tuple(
        id for id in course if id in chosen or library.steps[id].part in ("prepare", "finish")
    )


def called_today(survey: Survey) -> frozenset[PromptId]:
    """The prompts of the rows by which something was called for in this survey, and in none before."""
    rows = (a for a in survey.standing(Answer) if also_named(str(a.prompt)))
    return frozenset(a.prompt for a in rows if CARRIED not in a.extra)


def called_topics(survey: Survey, library: Library) -> tuple[Also, ...]:
    """What is asked of this car only because it was called for, by whom or what ever."""
    also = library.also
    return tuple([also[id] for id, call in library.calls().items() if called_for(survey, call)])


def short_list_of(survey: Survey) -> tuple[PartId, ...]:
    """What a re-check takes again, as STEPS_PROMPT keeps it; nothing where everything is taken."""
    kept = survey.answer_to(STEPS_PROMPT) if course_name(survey) == "recheck" else ""
    return tuple(map(PartId, kept.split()))


def taken_again(survey: Survey, library: Library) -> tuple[PartId, ...]:
    """The short list of a re-check with what a knock since last time opens again."""
    chosen = short_list_of(survey)
    return (*chosen, *opened_again(survey, library)) if chosen else ()


HIT_AT: Mapping[str, tuple[tuple[str, ...], str]] = {
    marks.LEFT_FRONT: (("left",), marks.FRONT_CORNER),
    marks.RIGHT_FRONT: (("right",), marks.FRONT_CORNER),
    marks.LEFT_REAR: (("left",), marks.REAR_CORNER),
    marks.RIGHT_REAR: (("right",), marks.REAR_CORNER),
    marks.BESIDE: (SIDES, marks.BETWEEN),
}
"""Where it was hit: the sides and the mark of the pages that are open again."""


def opened_again(survey: Survey, library: Library) -> tuple[PartId, ...]:
    """The looks that a knock since last time opens, as parts of steps; nothing without one.

    Where nobody knows the corner, every corner is open. Common practice, no published source: a
    tradesman looks once more at the rail's side, the horn, the crossmember and its rivets, the
    spring's hanger and the axle's end there; content marks the pages.
    """
    if not survey.follows or meant(survey, library, marks.HAPPENED) != marks.KNOCK:
        return ()
    happened = library.asking(marks.HAPPENED)
    where = meant(survey, library, marks.WHERE_HIT, happened.step if happened else NO_STEP)
    hit = (HIT_AT[where],) if where in HIT_AT else tuple(HIT_AT.values())
    found = (p for sides, mark in hit for p in _looks_at(library, sides, mark))
    return tuple(dict.fromkeys(found))


def _looks_at(library: Library, sides: tuple[str, ...], mark: str) -> Iterator[PartId]:
    for step in library.marked(mark):
        yield from (part_of_step(step.id, PlaceId(side)) for side in sides)


def _later(
    survey: Survey, prompts: tuple[Prompt, ...], step: StepId, entries: tuple[PartId, ...]
) -> tuple[Prompt, ...]:
    """Prompts of a step that its short list leaves out, but for what was answered or added all the
    same.

    entries: what the survey takes again.
    """
    parts = _parts_again(entries, step) if entries else ()
    if not parts:
        return ()
    out = [p for p in prompts if not within_any(p.id, parts)]
    if len(out) == len(prompts):  # what is listed is no part of it: nothing is left out
        return ()
    added = _added_today(survey)
    return tuple(p for p in out if p.item not in added and not touched(survey, p))


def _parts_again(entries: tuple[PartId, ...], step: StepId) -> tuple[PartId, ...]:
    """How the ids of what is taken again of a step begin; empty where it is all or none of it."""
    if step in entries:
        return ()
    return tuple(entry for entry in entries if within(entry, step))


def _added_today(survey: Survey) -> frozenset[PlaceId]:
    """Own places that no earlier survey had, and the boxes that tie them."""
    places = [w.place for w in survey.standing(OwnPlace) if CARRIED not in w.extra]
    return frozenset([*places, *map(box_of_own, places)])


class Guide:
    """The course of one survey by one content: its kind of frame and its pages, each found once.

    Pages hang on nothing of the time but on whether, and why, the car is held: they are kept by
    that, and it is asked for anew each time.
    """

    def __init__(self, survey: Survey, library: Library) -> None:
        self.survey, self.library = survey, library
        self.questions: Questions = questions_of(survey, library)
        self._pages: dict[str, tuple[Page, ...]] = {}
        self._walks: dict[str, tuple[Page, ...]] = {}
        self._asks: dict[str, tuple[tuple[Ask, ...], tuple[bool, ...]]] = {}
        self._supports: dict[str, Page] = {}

    @cached_property
    def again(self) -> tuple[PartId, ...]:
        """What a re-check takes again, where it is one by a short list."""
        return taken_again(self.survey, self.library)

    @cached_property
    def asked_again(self) -> Mapping[PromptId, int]:
        """By prompt the number of the row that asks for it once more."""
        return asked_again(self.survey)

    def pages(self, now: datetime) -> tuple[Page, ...]:
        """The course as it stands: every step in order, those that dropped out with the reason.

        A step that only another kind of frame has is left out without a word.
        now: the time; a push test of another sitting counts no more.
        """
        return self._pages_held(why_held(self.survey, self.library, now))

    def _pages_held(self, why: str) -> tuple[Page, ...]:
        if why not in self._pages:
            self._pages[why] = self._course(why)
        return self._pages[why]

    def _course(self, why: str) -> tuple[Page, ...]:
        out, steps = self.questions.foreign | self.uncalled, self.questions.steps
        course = [id for id in course_of(self.survey, self.library) if id not in out]
        return tuple([self.page(steps[id], why) for id in course])

    @cached_property
    def uncalled(self) -> frozenset[StepId]:
        """Ids of the steps that are asked only once called for, and are not; of what was begun all the
        same none is left out.
        """
        called = {a.id for a in called_topics(self.survey, self.library)}
        said, steps = self.survey.by_prompt().named, self.questions.steps
        there = self.questions.on_call.items()
        return frozenset(
            [id for id, ids in there if steps[id].called not in called and said.isdisjoint(ids)]
        )

    def walk(self, now: datetime) -> tuple[Page, ...]:
        """The same in the order of asking: a stop each, round the car one for each place."""
        why = why_held(self.survey, self.library, now)
        if why not in self._walks:
            there = {page.step.id: page for page in self._pages_held(why)}
            walks = self.library.walks
            walk = walks.get(course_name(self.survey), walks["whole"])
            self._walks[why] = stops(self.survey, self.library, self.questions, there, walk)
        return self._walks[why]

    def asks(self, now: datetime) -> tuple[tuple[Ask, ...], tuple[bool, ...]]:
        """Every reading wanted at any stop, and of each whether it is still open."""
        why = why_held(self.survey, self.library, now)
        if why not in self._asks:
            asks = tuple([ask for page in self.walk(now) for ask in page.asks])
            self._asks[why] = asks, tuple(are_open(self.survey, asks))
        return self._asks[why]

    def supports(self, step: StepId, why: str) -> Page:
        """The page of the supports, which stands before every page near a car that is held."""
        if why not in self._supports:
            self._supports[why] = self.page(self.questions.steps[step], why)
        return self._supports[why]

    def page(self, step: Step, why: str) -> Page:
        """One step as it stands. why: what holds the car, as wizard.survey.standing.why_held says."""
        survey, asked = self.survey, self.questions.of(step)
        if gone := self._gone(step, asked):
            return Page(step, (), gone)
        if step.id in self.questions.conditional:
            asked = tuple([p for p in asked if not p.needs or _asked(survey, p)])
        later = _later(survey, asked, step.id, self.again)
        asked = tuple(p for p in asked if p not in later) if later else asked
        asked = wanted(survey, asked, self.asked_again)
        dropped = _dropped(survey, step, asked, self.library, why)
        if not dropped:
            return self._open(Page(step, asked, later=later))
        return self._waiting(step, asked, later, dropped)

    def _gone(self, step: Step, prompts: Sequence[Prompt]) -> str:
        """Why the step is not for this car as it stands; empty where it is, or was begun before it
        was not.
        """
        other = self.questions.misfits.get(step.id)
        if other is not None:
            return other.instead
        if step.layouts and self.questions.layout.id not in step.layouts:
            return step.instead or "This kind of frame has no such place."
        gone = _ruled_out(self.survey, step, prompts) if step.needs else ""
        return gone or (self._stood_in(step, prompts) if step.stand_in else "")

    def _stood_in(self, step: Step, prompts: Sequence[Prompt]) -> str:
        """That the page which stands in for it was read, as the body was then; empty where it was
        not, or this one was begun too.
        """
        read = self.survey.by_prompt().read
        twin = self.questions.of(self.questions.steps[step.stand_in])
        if any(p.id in read for p in prompts) or not any(p.id in read for p in twin):
            return ""
        return f"{self.questions.steps[step.stand_in].title}: read already, as the body was then."

    def _open(self, page: Page) -> Page:
        """The page with its asks, which are mostly those of the survey before."""
        vars(page)["asks"] = self.questions.asks(page.step, page.prompts)
        return page

    def _waiting(
        self, step: Step, asked: tuple[Prompt, ...], later: tuple[Prompt, ...], dropped: str
    ) -> Page:
        """A page that waits for the supports: what was done of it, and why there is no more."""
        done = tuple(p for p in asked if not wanting(self.survey, p))
        left = not done or any(p not in done and not p.optional for p in asked)
        title = hold_of(self.library, dropped).title
        return Page(step, done, f"{title}. {WAITS}" if left else "", later)


def guide_of(survey: Survey, library: Library) -> Guide:
    """The survey's one guide through that content."""
    return survey.once(library, Guide)


def steps_of(survey: Survey, library: Library) -> Mapping[StepId, Step]:
    """Every page by its id, in the words for the survey's kind of frame."""
    return guide_of(survey, library).questions.steps


def layout_of(survey: Survey, library: Library) -> Layout:
    """The survey's kind of frame with the owner's own places; one that this content lacks falls
    back to the first.
    """
    return guide_of(survey, library).questions.layout


def _ruled_out(survey: Survey, step: Step, prompts: Sequence[Prompt]) -> str:
    """Why this car's state or an answer rules the step out; empty where neither does, or it was
    begun.
    """
    unmet = next((n for n in step.needs if not need_met(survey, n)), None)
    if unmet is None or any(touched(survey, p) for p in prompts):
        return ""
    return (
        _needless(survey, prompts)
        or unmet.instead
        or step.instead
        or "This car as it stands does not need it."
    )


def _needless(survey: Survey, prompts: Sequence[Prompt]) -> str:
    """That nobody need bring the car into the state for these; empty where somebody must."""
    why = next(filter(None, (survey.folded(p.id) for p in prompts)), "")
    return f"{NEEDLESS}{why}." if why else ""


def _asked(survey: Survey, prompt: Prompt) -> bool:
    """Whether a prompt is on its page: it applies, or was answered before it did not."""
    return touched(survey, prompt) or all(need_met(survey, n) for n in prompt.needs)


SET_UP = frozenset({"wheels"})
"""How a car may come to stand on the page of the supports, beside how it stands: it is rolled in,
and let down.
"""


def sets_supports(step: Step) -> bool:
    """Whether it is the page of the supports, or the place that gathers its looks: what never waits for
    them.
    """
    return "lifting" in step.exposes and (bool(step.gathers) or _says_supports(step))


def _says_supports(step: Step) -> bool:
    return any(p.keep == SUPPORTS for p in step.prompts)


def is_one_visit(library: Library, before: StepId, now: StepId) -> bool:
    """Whether two pages are one visit to the car: they are the same, or the supports and the place that
    gathers their looks.
    """
    if before == now:
        return True
    steps = [library.steps.get(id) for id in (before, now)]
    return all(step is not None and sets_supports(step) for step in steps)


def _dropped(
    survey: Survey, step: Step, prompts: Sequence[Prompt], library: Library, why: str
) -> str:
    """Why the page drops out until the supports are put right; empty where it does not.

    why: what holds the car at all, as wizard.survey.standing.why_held says.
    """
    if why not in REFUSED or sets_supports(step):
        return ""
    return held(exposures_of(step, prompts), library, survey, why)


def pages(survey: Survey, library: Library, today: datetime) -> tuple[Page, ...]:
    """The course as it stands, as `Guide.pages` says."""
    return guide_of(survey, library).pages(today)


def asks_of(page: Page) -> Iterator[Ask]:
    """Every reading wanted on a page, in the order of asking."""
    return iter(page.asks)


def next_ask(
    survey: Survey,
    library: Library,
    today: datetime,
    after: Ask | None = None,
    *,
    past: Collection[StepId] = (),
) -> Ask | None:
    """The next reading wanted: the first open one behind `after`, then the first from the top; None
    at the end.

    past: steps to be passed over as long as there is another. What must be read before it is not
    asked here: see `front`.
    """
    asks, wanted = guide_of(survey, library).asks(today)
    opens = list(compress(asks, wanted))
    behind: list[Ask] = []
    at = _place(after, asks)
    if at:
        behind = list(compress(asks[at:], wanted[at:]))
    elif after is not None:
        # What no longer applies is off the page: go on with the rest of its step.
        behind = _from(guide_of(survey, library).walk(today), after.prompt, opens)
    for ask in (*behind, *opens):
        if ask.prompt.step not in past:
            return ask
    return opens[0] if opens else None


def _from(walk: Sequence[Page], prompt: Prompt, opens: Sequence[Ask]) -> list[Ask]:
    """Of the open asks those from the stop on where the prompt's step is asked last."""
    steps = [{page.step.id, *page.gathered} for page in walk]
    here = max((n for n, ids in enumerate(steps) if prompt.step in ids), default=-1)
    there = {a.prompt.id for page in walk[max(here, 0) :] for a in page.asks}
    return [a for a in opens if a.prompt.id in there]


def _place(ask: Ask | None, asks: Sequence[Ask]) -> int:
    """The number of an ask among these, counted from 1; 0 where it is none of them."""
    id = ask.prompt.id if ask else ""
    return next((n for n, a in enumerate(asks, 1) if a.prompt.id == id and a == ask), 0)


class Person(NamedTuple):
    """Who stands before a page, when, and since when: what a gate must know."""

    by: str
    now: datetime
    step: StepId = NO_STEP
    """The page that he stands before; what he reads and changes there counts as one visit."""
    since: int | None = None
    """Number of the last row before he came to it; None where that is not known."""


def front(survey: Survey, library: Library, target: Ask, person: Person) -> Ask:
    """What stands before the target: that the car is not known to stand, the page of the supports,
    a caution.

    It is the target itself where nothing does. Whichever way a page is reached, it is reached
    through here.
    """
    standing = why_held(survey, library, person.now, target.prompt.step)
    if standing in REFUSED and not hold_read(survey, library, standing, person.now, person.by):
        return _hold(hold_of(library, standing), target)
    guide = guide_of(survey, library)
    page = guide.page(guide.questions.steps[target.prompt.step], standing)
    why = _held(survey, library, target, page, person, standing)
    if not why:
        return _gate(survey, library, target, page, person)
    if not hold_read(survey, library, why, person.now, person.by):
        return _hold(hold_of(library, why), target)
    first = supports_ask(survey, library)
    return _gate(survey, library, first, guide.supports(first.prompt.step, standing), person)


def _held(
    survey: Survey, library: Library, target: Ask, page: Page, person: Person, standing: str
) -> str:
    """Why the target waits for the supports; a push test just after the change that calls for it
    does not.
    """
    if sets_supports(page.step):
        none = standing in (
            "nowhere",
            "hangs",
        )  # nothing more is lifted: only what it rests on can be said anew
        return standing if none and target.prompt.keep != SUPPORTS else ""
    since = person.since if is_one_visit(library, person.step, page.step.id) else None
    changed_here = since is not None and moved_since(survey, since)
    if is_push(target.prompt) and changed_here and not why_refused(survey, library):
        return ""
    exposed = (*page.prompts, target.prompt)
    return held(exposures_of(page.step, exposed), library, survey, standing)


def waiting(survey: Survey, library: Library, now: datetime) -> frozenset[StepId]:
    """Steps that nobody is to go near the car for before the push test."""
    why = why_held(survey, library, now)
    if not why:
        return frozenset()
    walk = guide_of(survey, library).walk(now)
    there = (p for p in (*walk, *pages(survey, library, now)) if not sets_supports(p.step))
    return frozenset(
        p.step.id for p in there if held(exposures_of(p.step, p.prompts), library, survey, why)
    )


def _hold(caution: Caution, target: Ask) -> Ask:
    return Ask(caution_prompt(caution.id, target.prompt.step, caution.title))


def _gate(survey: Survey, library: Library, ask: Ask, page: Page, person: Person) -> Ask:
    """The first caution of the page that this person has still to read, else the ask itself."""
    wanted = open_cautions(
        exposures_of(page.step, (*page.prompts, ask.prompt)),
        library,
        survey,
        now=person.now,
        by=person.by,
        visit=person.since if is_one_visit(library, person.step, page.step.id) else None,
        stood=SET_UP if sets_supports(page.step) else frozenset(),
    )
    return _hold(wanted[0], ask) if wanted else ask


def _supports_step(library: Library) -> Step:
    steps = library.steps.values()
    return next(s for s in steps if sets_supports(s) and _says_supports(s))


def supports_ask(survey: Survey, library: Library) -> Ask:
    """What is to be answered so that the car is known to stand: found once in a survey.

    Where no sound place was found, what it rests on; else what is open on the page of the supports,
    what was passed over there and may not be, or the push test once more.
    """
    return survey.once(library, _supports_ask)


def _supports_ask(survey: Survey, library: Library) -> Ask:
    asks = list(asks_of(guide_of(survey, library).page(_supports_step(library), "")))
    rests = next(a for a in asks if a.prompt.keep == SUPPORTS)
    if not survey.state().supports or why_refused(survey, library) in ("nowhere", "hangs"):
        return rests
    needed = unsound(survey, library)
    opens = (a for a in asks if is_open(survey, a) or a.prompt.id in needed)
    return next(opens, next(a for a in asks if is_push(a.prompt)))
