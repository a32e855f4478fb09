"""The worksheet: every box to be filled at the car, in the order in which the wizard asks.

The order is not written down anywhere here: it is the guide's own, walked over a survey with
nothing answered yet.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cached_property

from wizard.library.kinds import Kind
from wizard.library.places import NO_STEP, PointId, PromptId, StepId, WhereId, state_field
from wizard.library.set_up import KEYS
from wizard.library.shapes import CALLED, Also, Caution, Choice, Layout, Library, PhotoAsked
from wizard.readings.plain import clean_line
from wizard.survey.follow import SAME_AS, THEN, following, is_begun, recalled_prompts
from wizard.survey.gates import exposures_of, held, hold_of, open_cautions
from wizard.survey.guide import (
    LENGTH_PROMPT,
    SET_UP,
    Ask,
    Page,
    asks_of,
    called_for,
    called_topics,
    guide_of,
    is_one_visit,
    layout_of,
    pages,
    sets_supports,
    short_list_of,
    unfolded,
)
from wizard.survey.own_frame import knows, missing, own_rows
from wizard.survey.prompts import STATION, Prompt, Questions, caution_prompt, is_open
from wizard.survey.record import Survey
from wizard.survey.rows import Ack, Answer, Look, OwnPlace, Reading, Row, State
from wizard.survey.standing import MOVES, SUPPORTS, THREE, is_bare, is_push, standing_of, why_held
from wizard.telling.also_words import also_of
from wizard.telling.form import Codes
from wizard.telling.numbering import between, point_numbers, station_numbers
from wizard.telling.of_car import lacking, of_car
from wizard.telling.sheet_words import (
    codes_of,
    label_of,
    needs_left,
    only_if,
    only_when,
    shared_codes,
)
from wizard.telling.state_words import state_words

DAY = datetime(2000, 1, 1)
"""Any day will do: what brings a caution back on paper is a change of the car, and not the clock."""


Met = tuple[Page, tuple[Caution, ...], tuple[Caution, ...]]
"""A page, the cautions that are read before it, and those that are only printed there."""


class UnknownState(ValueError):
    """A state that no step asks about; the message names those that there are."""


@dataclass(frozen=True, slots=True)
class Box:
    """One thing to write down."""

    ask: Ask
    """The prompt and which reading of it."""
    label: str
    points: str
    """Numbers on the drawing of the two points of a tape, `3 to 8`, or of a station, `S3`; empty
    otherwise.
    """
    only_if: str
    """When the wizard asks it at all, such as `only if l, h or f`; empty for always."""
    codes: Codes
    """What the letters mean, where this box alone on its page uses them; none otherwise."""
    preset: str
    """Letter printed in the box, for what was chosen when the sheet was made; empty otherwise."""

    @property
    def kind(self) -> Kind:
        """Kind of the prompt."""
        return self.ask.prompt.kind


@dataclass(frozen=True, slots=True)
class SheetStep:
    """One step of the wizard on paper."""

    number: int
    """Its number in the wizard's own list: `/go NUMBER` goes there."""
    id: StepId
    title: str
    how: str
    """One line."""
    codes: tuple[Codes, ...]
    """What the letters of several boxes mean."""
    only_when: str
    cautions: tuple[Caution, ...]
    """What is read here for the first time, in full; a caution that comes back has its box only."""
    boxes: tuple[Box, ...]
    """The boxes of its cautions first."""


@dataclass(frozen=True)
class Course:
    """What the boxes of every step need to know of the whole."""

    walked: tuple[Page, ...]
    questions: Questions
    gates: Mapping[int, tuple[Caution, ...]]
    """Number of a stop to the cautions that are read before it, in the state of the car when its
    turn comes.
    """
    beside: Mapping[int, tuple[Caution, ...]]
    """Number of a stop to what is only printed before it: that nobody has pushed the car yet."""
    chosen: Mapping[str, str]
    """Fields of the state that were chosen, as tokens."""
    points: Mapping[PointId, int]
    """Point id to its number on the drawing."""
    stations: Mapping[WhereId, str]
    """Station id to its number there."""
    layout: str
    """Id of the layout."""
    length: str
    """`short` where the short survey was chosen, else empty."""
    supports: StepId
    """Id of the step that sets the supports."""
    known: frozenset[PromptId] = frozenset()
    """What is known from last time and not asked again."""
    begun: Survey = field(default_factory=Survey)
    """The survey that goes on; one without rows where the sheet is for a whole survey."""

    @cached_property
    def prompts(self) -> Mapping[PromptId, Prompt]:
        """Every prompt that is not answered yet, by its id."""
        every = (p for page in self.walked for p in unfolded(page, self.questions))
        return {p.id: p for p in every if self.is_open(Ask(p))}

    def is_open(self, ask: Ask) -> bool:
        """Whether a reading is not on record yet."""
        return not self.begun.rows or is_open(self.begun, ask)

    def wants(self, page: Page, ask: Ask) -> bool:
        """Whether a reading of a page has a box: at a place that has its entry only what is asked by
        itself is left.
        """
        if page.place is None or self.is_open(Ask(page.place)):
            return self.is_open(ask)
        asked = {one.prompt.id for one in page.asks}
        return self.is_open(ask) and ask.prompt.id in asked

    @cached_property
    def number_of(self) -> Mapping[PromptId, int]:
        """Prompt id to the number, in the wizard's list, of the stop that asks it."""
        return {
            p.id: n
            for n, page in enumerate(self.walked, start=1)
            for p in unfolded(page, self.questions)
        }

    @cached_property
    def lettered(self) -> Mapping[tuple[Choice, ...], PromptId]:
        """A set of answers to the prompt of a place at which it is printed: the first one."""
        found: dict[tuple[Choice, ...], PromptId] = {}
        for page in (p for p in self.walked if p.place):
            for prompt in unfolded(page, self.questions):
                if self.wants(page, Ask(prompt)):
                    found.setdefault(prompt.choices, prompt.id)
        return found

    def numbers(self, prompt: Prompt) -> str:
        """The numbers of a tape's two points, or of a station of the string."""
        if prompt.each == STATION:
            return self.stations.get(prompt.item, "")
        return between((prompt.start, prompt.end), self.points)

    def preset(self, part: str, prompt: Prompt) -> str:
        """Only where a state is set down first: what is asked again later is what may have changed."""
        field = state_field(prompt.keep)
        token = self.layout if prompt.keep == "survey.layout" else ""
        token = {LENGTH_PROMPT: self.length}.get(prompt.id, token)
        found = (
            field == "supports" and prompt.step != self.supports
        )  # what it stands on before anything is set up
        if state_field(prompt.keep) and part == "prepare" and not found:
            token = self.chosen.get(field, "")
        return next((c.letter for c in prompt.choices if c.token == token), "")

    def state_words(self, field: str) -> str:
        """A chosen field of the state in the words of its prompt."""
        choices = (c for p in self._asking(field) for c in p.choices)
        return next((c.words for c in choices if c.token == self.chosen[field]), self.chosen[field])

    def _asking(self, field: str) -> list[Prompt]:
        """The prompts that set a field of the state: where the supports are set, that one alone."""
        found = [p for p in self.prompts.values() if p.keep == f"state.{field}" and p.choices]
        return [p for p in found if p.step == self.supports] or found


@dataclass(frozen=True, slots=True)
class Sheet:
    """Everything that is printed."""

    layout: Layout
    state: Mapping[str, str]
    """Fields of the state that were chosen, in words."""
    points: Mapping[PointId, int]
    """Point id to its number on the drawing."""
    steps: tuple[SheetStep, ...]
    left_out: tuple[tuple[int, str, str], ...]
    """Number, title and reason of the steps that do not apply."""
    car: str = ""
    """What the car is called; empty for none yet."""
    photos: tuple[PhotoAsked, ...] = ()
    more: tuple[Also, ...] = ()
    """What it leaves out, since it is asked only when called for."""
    """Those that every record needs."""
    of_car: tuple[str, ...] = ()
    """What was noted of the car, in words."""
    lacks: tuple[str, ...] = ()
    """Names of what was not."""
    again: bool = False
    """Whether it is for a re-check: its list alone."""
    stood: str = ""
    """How the car stood last time, for a re-check: only what stands alike can be compared."""
    going_on: bool = False
    """Whether it has only what a survey that was begun still asks for."""


def _not_called(survey: Survey, library: Library) -> tuple[Also, ...]:
    """What a sheet leaves out until it is called for."""
    return tuple(a for a in also_of(survey, library) if not called_for(survey, a.call))


def sheet_of(
    library: Library,
    layout: str,
    state: Mapping[str, str] | None = None,
    *,
    short: bool = False,
    survey: Survey | None = None,
    again: bool = False,
    also: Collection[str] = (),
) -> Sheet:
    """The worksheet for a layout (KeyError when there is none such) and a state, such as {"body":
    "bolted"}.

    survey: one whose own places are on the sheet too; while it is begun and not finished, the sheet has
    only what it still asks for. again: the sheet is for what is measured again of it, and for nothing
    else. also: ids of what is called for, beside what the survey calls for. What of the state is not
    chosen rules nothing out: such steps say when they are wanted. Raises UnknownState.
    """
    chosen = dict(state or {})
    whose = survey or Survey()
    begun = whose if not again and _is_begun(whose, library) else Survey()
    own = _of_frame(survey, layout, library)
    frame = layout_of(own, library)
    empty = _with_calls(_base(whose, begun, own, again, library), also, survey, library)
    blank = _blank(library, empty, chosen, short)
    course = _course(blank, begun, library, chosen, frame)
    steps = tuple(_steps(course))
    return Sheet(
        layout=frame,
        state={f: course.state_words(f) for f in chosen},
        points=course.points,
        steps=_to_its_points(steps) if missing(empty, library) else steps,
        left_out=tuple(_gone(course)),
        car=clean_line(whose.car, 60),
        photos=tuple(library.paper.photos.values()),
        more=() if again else _not_called(empty, library),
        of_car=tuple(one.words for one in of_car(whose, library)),
        lacks=lacking(whose, library),
        again=again,
        stood=_stood(whose, library) if again else "",
        going_on=begun is whose and survey is not None,
    )


def _stood(whose: Survey, library: Library) -> str:
    """How it stood last time, and where its supports were, in the owner's own words."""
    state = whose.state()
    where = clean_line(state.stood, 200).strip(" -.")
    said = state_words(state, library, ("engine", "body", "supports"))
    return "; ".join(filter(None, (said, f"the supports: {where}" if where else "")))


def _is_begun(survey: Survey, library: Library) -> bool:
    """Whether something of it is answered and something is still open."""
    if not is_begun(survey):
        return False
    _, wanted = guide_of(survey, library).asks(DAY)
    return any(wanted)


def _base(whose: Survey, begun: Survey, own: Survey, again: bool, library: Library) -> Survey:
    """What the walk of the sheet starts from: the survey that goes on, without the cautions that
    were read in another sitting; its re-check; else one with nothing but what is the owner's own.
    """
    if begun.rows:
        return replace(begun, rows={k: v for k, v in begun.rows.items() if k != "ack"})
    return _measured_again(whose, library) if again and whose.rows else own


def _gone(course: Course) -> Iterator[tuple[int, str, str]]:
    """The pages that do not apply, with the reason."""
    for n, page in enumerate(course.walked, start=1):
        if page.gone:
            yield n, page.title, page.gone
        elif _is_second(page, course):
            yield n, page.title, SECOND


SECOND = "The page before takes the same diagonals. Only where that cannot be done."


def _is_second(page: Page, course: Course) -> bool:
    """Whether another page stands in for it, is asked before it, and this state allows both: on
    paper nobody is asked for the same twice.
    """
    if page.gone or not page.step.stand_in or needs_left(page.step, course.chosen):
        return False
    there = [p.step.id for p in course.walked if not p.gone]
    twin, own = page.step.stand_in, page.step.id
    return twin in there and there.index(twin) < there.index(own)


def _to_its_points(steps: tuple[SheetStep, ...]) -> tuple[SheetStep, ...]:
    """The pages of a frame that is not set up yet, to the one that asks for its points: of points
    that nobody has named nothing can be written down.
    """
    asked = (step.boxes[-1].ask.prompt.keep if step.boxes else "" for step in steps)
    last = next((n for n, keep in enumerate(asked, 1) if keep in KEYS), len(steps))
    return steps[:last]


def _of_frame(survey: Survey | None, layout: str, library: Library) -> Survey:
    """An empty survey of that kind of frame, with the places that the owner added, and with what he
    said of a frame of his own; that was answered long ago. Raises KeyError for no kind of frame.
    """
    if not knows(survey or Survey(layout=layout), library):
        raise KeyError(layout)
    if survey is None:
        return Survey(layout=layout)
    own = survey.standing(OwnPlace)
    said = {
        name: tuple(replace(row, extra={THEN: survey.id, **row.extra}) for row in rows)
        for name, rows in own_rows(survey).items()
    }
    return Survey(layout=layout, unit=survey.unit, rows={**said, **({"place": own} if own else {})})


def _with_calls(
    survey: Survey, ids: Iterable[str], then: Survey | None, library: Library
) -> Survey:
    """The survey in which all of these are called for, and what another one calls for. Raises
    UnknownState.
    """
    called = [a.id for a in called_topics(then, library)] if then else []
    for id in dict.fromkeys([*ids, *called]):
        if id not in library.also:
            raise UnknownState(
                f"There is no {id} to call for. Type one of {', '.join(library.also)}."
            )
        call = library.also[id].call
        if not called_for(survey, call):
            row = Answer(id=survey.new_id(Answer), at=DAY, prompt=call.prompt, answer=CALLED)
            survey = survey.with_row(row)
    return survey


def _measured_again(survey: Survey, library: Library) -> Survey:
    """A re-check of a survey before its first answer, or that survey itself where it is one. Nothing
    of what was read last time is in it.
    """
    from wizard.judgment.short_list import steps_worth  # numpy only for who measures again

    if short_list_of(survey) and not survey.standing(Reading):
        return replace(
            survey,
            rows={name: tuple(filter(_is_carried, rows)) for name, rows in survey.rows.items()},
        )
    return following(survey, library, DAY, steps_worth(survey, library, survey.started))


def _is_carried(row: Row) -> bool:
    return THEN in row.extra or SAME_AS in row.extra


def _course(
    blank: Survey, begun: Survey, library: Library, chosen: Mapping[str, str], frame: Layout
) -> Course:
    """The walk over a survey with nothing answered yet, or over what one that is begun still asks."""
    met = tuple(_walk(blank, begun, library, chosen))
    walked = tuple(page for page, _, _ in met)
    return Course(
        walked=walked,
        questions=guide_of(blank, library).questions,
        gates={n: cautions for n, (_, cautions, _) in enumerate(met, start=1)},
        beside={n: cautions for n, (_, _, cautions) in enumerate(met, start=1)},
        chosen=chosen,
        points=point_numbers(frame),
        stations=station_numbers(frame),
        layout=blank.layout,
        length=blank.answer_to(LENGTH_PROMPT),
        supports=next((p.step.id for p in walked if sets_supports(p.step)), NO_STEP),
        known=recalled_prompts(blank),
        begun=begun,
    )


def _blank(library: Library, survey: Survey, state: Mapping[str, str], short: bool) -> Survey:
    if short:
        row = Answer(id=survey.new_id(Answer), at=DAY, prompt=LENGTH_PROMPT, answer="short")
        survey = survey.with_row(row)
    known = _first_asked(survey, library)
    for name, token in state.items():
        if token not in known.get(name, set()):
            offered = "; ".join(f"{f}={'|'.join(sorted(tokens))}" for f, tokens in known.items())
            raise UnknownState(
                f"{name}={token} is not how a car can stand here. Type one of {offered}."
            )
    bare = is_bare(State(id="", engine=state.get("engine", ""), body=state.get("body", "")))
    if state.get("supports") == THREE and not bare:
        raise UnknownState("Only a bare frame may go on three points: add engine=out and body=off.")
    now = {field: token for field, token in state.items() if field != "supports"}
    if not now:
        return survey
    id = survey.new_id(State)
    return survey.with_row(replace(survey.state(), id=id, at=DAY, **now))  # type: ignore[arg-type]


def state_of(survey: Survey, library: Library) -> dict[str, str]:
    """The state that a survey ends in, as far as a fresh sheet asks for it: an engine held up is
    asked anew.
    """
    known, now = _first_asked(_of_frame(survey, survey.layout, library), library), survey.state()
    return {
        field: getattr(now, field)
        for field, tokens in known.items()
        if getattr(now, field) in tokens
    }


def _first_asked(survey: Survey, library: Library) -> dict[str, set[str]]:
    """The fields of the state that a choice sets, with the answers offered where each is first
    asked.
    """
    found: dict[str, set[str]] = {}
    for page in pages(survey, library, DAY):
        for prompt in page.prompts:
            if state_field(prompt.keep) and prompt.choices:
                found.setdefault(state_field(prompt.keep), {c.token for c in prompt.choices})
    return found


def _walk(
    survey: Survey, begun: Survey, library: Library, chosen: Mapping[str, str]
) -> Iterator[Met]:
    """Every page as it stands when its turn comes: the engine is lifted on the way.

    With each what is read before it and has its box, and what is only printed there; neither with a
    page of which nothing is left to do.
    """
    settled: set[str] = set()
    read, before = set[str](), NO_STEP
    for n, _ in enumerate(guide_of(survey, library).walk(DAY)):
        page = guide_of(survey, library).walk(DAY)[n]
        if begun.rows and not any(is_open(begun, ask) for ask in page.asks):
            yield page, (), ()
            continue
        exposures = exposures_of(page.step, page.prompts) if page.prompts else ()
        stood = SET_UP if sets_supports(page.step) else frozenset[str]()
        if not is_one_visit(library, before, page.step.id):
            read = set()
        wanted = open_cautions(exposures, library, survey, now=DAY, by="", stood=stood)
        cautions = tuple(c for c in wanted if c.id not in read)
        read, before = read | {c.id for c in cautions}, page.step.id
        yield page, cautions, tuple(_beside(page, exposures, survey, library))
        survey = survey if _may_be_passed(page) else _with_read(survey, cautions)
        survey = _answered(survey, page, settled, chosen, library)


def _with_read(survey: Survey, cautions: Iterable[Caution]) -> Survey:
    """The survey once these were read."""
    for caution in cautions:
        row = Ack(
            id=survey.new_id(Ack),
            at=DAY,
            caution=caution.id,
            standing=standing_of(survey.state()),
        )
        survey = survey.with_row(row)
    return survey


def _may_be_passed(page: Page) -> bool:
    """Whether a place is asked only by an answer: whoever does not come to it has not read there."""
    return page.place is not None and all(part.look.needs for part in page.place.parts)


def _beside(
    page: Page, exposures: Collection[str], survey: Survey, library: Library
) -> Iterator[Caution]:
    """What is printed before a page and has no box: that nobody has pushed the car yet."""
    why = (
        ""
        if sets_supports(page.step)
        else held(exposures, library, survey, why_held(survey, library, DAY))
    )
    if why:
        yield hold_of(library, why)


def _sound(prompt: Prompt) -> str:
    return next(c.token for c in prompt.choices if c.stands == "sound")


def _answered(
    survey: Survey, page: Page, settled: set[str], chosen: Mapping[str, str], library: Library
) -> Survey:
    """The survey once the page was filled in, as far as it changes how the car stands.

    settled: fields of the state that were asked before; those of this page join them. chosen: what
    the sheet was made for: the supports are set up so when their page is done, and not before.
    """
    for prompt in (p for p in page.prompts if state_field(p.keep) and p.choices):
        survey = _state_set(survey, page, prompt, settled, chosen)
        settled.add(state_field(prompt.keep))
    return _pushed(_looked(survey, page, library), page)


def _state_set(
    survey: Survey, page: Page, prompt: Prompt, settled: set[str], chosen: Mapping[str, str]
) -> Survey:
    """Once a field of the state was answered."""
    field = state_field(prompt.keep)
    if prompt.keep in MOVES:
        id = survey.new_id(Answer)
        survey = survey.with_row(Answer(id=id, at=DAY, prompt=prompt.id, keeps=prompt.keep))
    if prompt.keep == SUPPORTS and sets_supports(page.step):
        supports = chosen.get("supports", "")
        return survey.with_row(replace(survey.state(), id=survey.new_id(State), supports=supports))
    if field not in settled or not getattr(survey.state(), field):
        return survey
    # Asked again later, it changes; the first answer is the one that the way of the survey counts
    # on.
    changed = {field: prompt.choices[0].token}
    return survey.with_replaced(replace(survey.state(), **changed))  # type: ignore[arg-type]


def _looked(survey: Survey, page: Page, library: Library) -> Survey:
    """Once every place of the page was seen bare and sound."""
    for prompt in (p for p in page.prompts if p.id in library.places):
        id = survey.new_id(Look)
        look = Look(id=id, at=DAY, prompt=prompt.id, seen="bare", answer=_sound(prompt))
        survey = survey.with_row(look)
    return survey


def _pushed(survey: Survey, page: Page) -> Survey:
    """Once the car was pushed and stood still."""
    for prompt in (p for p in page.prompts if is_push(p)):
        still = next(c.token for c in prompt.choices if c.stands == "still")
        row = Answer(
            id=survey.new_id(Answer),
            at=DAY,
            prompt=prompt.id,
            answer=still,
            standing=standing_of(survey.state()),
        )
        survey = survey.with_row(row)
    return survey


def _steps(course: Course) -> Iterator[SheetStep]:
    """Each page that asks something; a caution stands in full before the first box that it guards."""
    told: set[str] = set()
    for number, page in enumerate(course.walked, start=1):
        if _is_second(page, course):
            continue
        if page.prompts and any(course.wants(page, ask) for ask in page.asks):
            yield _step(number, page, course, frozenset(told))
            told |= {c.id for c in (*course.gates[number], *course.beside[number])}


def _step(number: int, page: Page, course: Course, told: frozenset[str]) -> SheetStep:
    step, gates = page.step.on(course.questions.layout), course.gates[number]
    shared = {} if page.place else shared_codes(page.prompts)
    read = tuple(
        Box(ask, label_of(ask), "", "", NO_CODES, "")
        for ask in (Ask(caution_prompt(c.id, step.id, c.title)) for c in gates)
    )
    boxes = _place_boxes(page, course) if page.place else _boxes(page, course, shared)
    wanted = only_when(needs_left(step, course.chosen))
    return SheetStep(
        number=number,
        id=step.id,
        title=page.title,
        how=step.paper or step.how[0],
        codes=tuple(shared.values()),
        only_when=wanted,
        cautions=tuple(c for c in (*course.beside[number], *gates) if c.id not in told),
        boxes=read + boxes,
    )


NO_CODES = Codes("", ())
Shared = Mapping[tuple[Choice, ...], Codes]


def _boxes(page: Page, course: Course, shared: Shared) -> tuple[Box, ...]:
    """A box for each reading."""
    return tuple(
        Box(
            ask,
            label_of(ask),
            course.numbers(ask.prompt),
            only_if((*page.step.needs, *ask.prompt.needs), ask.prompt, course),
            NO_CODES if ask.prompt.choices in shared else codes_of(ask.prompt),
            course.preset(page.step.part, ask.prompt),
        )
        for ask in asks_of(page)
        if ask.prompt.id not in course.known and course.wants(page, ask)
    )


def _place_boxes(page: Page, course: Course) -> tuple[Box, ...]:
    """The one entry with its list; then, for what there is something to tell about, each look in its
    own letters.
    """
    assert page.place is not None
    listed = Codes("", tuple((p.letter, f"{p.name} ({p.found})") for p in page.place.parts))
    needs = {part.look.needs for part in page.place.parts}
    only = only_if(needs.pop(), page.place, course) if len(needs) == 1 else ""
    entry = Box(Ask(page.place), label_of(Ask(page.place)), "", only, listed, "")
    found = [entry] if course.wants(page, entry.ask) else []
    letters = {p.look.id: p.letter for p in page.place.parts} if found else {}
    asked = [p for p in unfolded(page, course.questions)[1:] if course.wants(page, Ask(p))]
    return (*found, *(_look_box(p, letters.get(p.id, ""), course) for p in asked))


def _look_box(prompt: Prompt, letter: str, course: Course) -> Box:
    """A look of a place, or what hangs on it. letter: by which the entry above tells of it; empty for
    none.
    """
    only = f"only if {letter} stands above" if letter else only_if(prompt.needs, prompt, course)
    first, codes = course.lettered[prompt.choices], codes_of(prompt)
    when = [only]
    if first != prompt.id:
        at, codes = course.number_of[first], NO_CODES
        here = at == course.number_of[prompt.id]
        when.append("letters as above" if here else f"letters as at step {at}")
    return Box(Ask(prompt), label_of(Ask(prompt)), "", "; ".join(filter(None, when)), codes, "")
