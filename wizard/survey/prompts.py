"""Prompts: a step's templates with the layout's boxes, places, stations and sides put in."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import field, fields, replace
from itertools import compress
from typing import Any, NamedTuple, TypeVar

from wizard.frozen import Frozen, cached_property
from wizard.library.kinds import ACK
from wizard.library.places import (
    NO_PLACE,
    PlaceId,
    PromptId,
    StepId,
    name_of_prompt,
    prompt_id,
    tool_kind,
)
from wizard.library.shapes import (
    Layout,
    Library,
    Need,
    PromptTemplate,
    Step,
    Together,
    ToolKind,
)
from wizard.library.templates import belongs, misfit, wanted
from wizard.survey.own_frame import base_of, frame_key
from wizard.survey.own_places import MOST, with_own_places
from wizard.survey.record import ByPrompt, Survey
from wizard.survey.rows import Look, OwnPlace
from wizard.survey.standing import unsettled

Made = TypeVar("Made")
MOST_KEPT = 100
"""Kinds of frame with different own places whose prompts are kept at a time."""


class Part(NamedTuple):
    """A look among those of a place, as the place's list shows it."""

    look: "Prompt"
    letter: str
    name: str
    found: str


class Prompt(PromptTemplate):
    """One thing to answer: a template whose fields are filled in from the layout.

    Its `id` is `<step>/<item>/<name>`, stable for ever: rows name it.
    """

    id: PromptId = field(kw_only=True)
    step: StepId = field(kw_only=True)
    item: PlaceId = NO_PLACE
    """Box, place, station, level place or side; empty for a prompt that stands alone."""
    reads: str = ""
    """What its step reads, in the words of wizard/library/marks.py; empty for plain distances."""
    tools: tuple[ToolKind, ...] = ()
    """The tools behind the choices, where the prompt chooses one."""
    caution: str = ""
    """Id of the caution, for an acknowledgment."""
    parts: tuple[Part, ...] = field(default=(), compare=False)
    """The looks that are taken at a place, on this car as it stands. It is the same prompt whatever
    they are.
    """

    @property
    def name(self) -> str:
        """The last part of its id: what it is called in its step."""
        return name_of_prompt(self.id)


STATION, LEVEL = "station", "level"
"""What a prompt is asked of along the string."""
_AUTHORED = tuple(f.name for f in fields(PromptTemplate))
_FILLED = ("ask", "short", "start", "end", "last")
"""Texts with fields in braces."""


def _filled(
    template: PromptTemplate, step: Step, words: Mapping[str, str], often: Mapping[PlaceId, int]
) -> Prompt:
    """often: items that are read more than once wherever they are asked of."""
    item = PlaceId(words.get("item", ""))
    authored = vars(template)
    said = {name: authored[name] for name in _AUTHORED}
    for name in _FILLED:
        if "{" in said[name]:
            said[name] = said[name].format_map(words)
    if template.needs:
        said["needs"] = tuple([_need(n, words) for n in template.needs])
    said["repeats"] = max(template.repeats, often.get(item, 1))
    id = prompt_id(step.id, item, said["last"])
    return Prompt(**said, id=id, step=step.id, item=item, reads=step.reads)


def _need(need: Need, words: Mapping[str, str]) -> Need:
    return replace(need, key=need.key.format_map(words)) if "{" in need.key else need


def expand(
    step: Step, layout: Layout, tools: Mapping[str, ToolKind] | None = None
) -> tuple[Prompt, ...]:
    """The step's prompts for a layout, in the order of asking.

    tools: the content's tools by id, for prompts that choose one. Templates that follow one another
    with the same `each` and `only` are asked item by item (both diagonals of one box before the
    next box); along a string one side is finished before the other, so stations stay apart.
    """
    prompts: list[Prompt] = []
    group: list[PromptTemplate] = []
    for template in step.prompts:
        joins = template.each not in ("", STATION) and group and group[-1].each == template.each
        if group and not (joins and group[-1].only == template.only):
            prompts += _group(group, step, layout)
            group = []
        group.append(template)
    return tuple(_with_tools(p, tools or {}) for p in prompts + _group(group, step, layout))


def _with_tools(prompt: Prompt, tools: Mapping[str, ToolKind]) -> Prompt:
    if not tool_kind(prompt.keep):
        return prompt
    return replace(prompt, tools=tuple(tools[c.token] for c in prompt.choices if c.token in tools))


def _often(each: str, layout: Layout) -> dict[PlaceId, int]:
    """How often each station, or each place of the level, is read at least."""
    if each == STATION:
        return {s.id: s.repeats for s in layout.stations}
    return {v.id: v.repeats for v in layout.levels} if each == LEVEL else {}


def _group(group: list[PromptTemplate], step: Step, layout: Layout) -> list[Prompt]:
    if not group:
        return []
    often = _often(group[0].each, layout)
    filled = [
        [(fields.get("item", ""), _filled(t, step, fields, often)) for fields in wanted(t, layout)]
        for t in group
    ]
    order = list(dict.fromkeys(item for asked in filled for item, _ in asked))
    return [prompt for item in order for asked in filled for at, prompt in asked if at == item]


class Ask(NamedTuple):
    """A prompt in front of the person: the prompt and the how-manieth reading of it."""

    prompt: Prompt
    nth: int = 1


def in_turn(prompts: Sequence[Prompt]) -> tuple[Ask, ...]:
    """Every reading wanted, in the order of asking.

    Within one item (a place) repeats alternate, A-B-A-B, so that a slip of the hand does not repeat
    itself; of distances that are all taped twice each is taped once before any is taped again.
    """
    items: list[list[Prompt]] = []
    for prompt in prompts:
        if items and _together(items[-1][0], prompt):
            items[-1].append(prompt)
        else:
            items.append([prompt])
    return tuple([ask for item in items for ask in _rounds(item)])


def _rounds(item: Sequence[Prompt]) -> list[Ask]:
    if len(item) == 1 and item[0].repeats == 1:
        return [Ask(item[0])]
    most = max([p.repeats for p in item])
    return [Ask(p, nth) for nth in range(1, most + 1) for p in item if nth <= p.repeats]


def _together(first: Prompt, prompt: Prompt) -> bool:
    """Whether two prompts are read in turn: of one item, distances that are read equally often, or
    the gaps along one rail, or the places of the level, so that a second reading comes once the first is
    out of mind, and once everything there is to read was read once.
    """
    if first.each == prompt.each == STATION:
        return first.name == prompt.name
    if first.each == prompt.each == LEVEL:
        return True
    if first.kind.spans and prompt.kind.spans and first.repeats == prompt.repeats > 1:
        return True
    return bool(first.item) and first.item == prompt.item


class Questions(Frozen):
    """A kind of frame with the prompts that the content can ask of it, each page's made once."""

    layout: Layout
    """With the owner's own places, where there are any."""
    library: Library
    _of: dict[StepId, tuple[Step, tuple[Prompt, ...]]] = field(default_factory=dict, init=False)
    _asks: dict[StepId, tuple[tuple[Prompt, ...], tuple[Ask, ...]]] = field(
        default_factory=dict, init=False
    )
    _made: dict[Any, Any] = field(default_factory=dict, init=False)

    def once(self, make: "Callable[[Questions], Made]") -> Made:
        """What `make` makes of this kind of frame and no survey, made once and kept with it."""
        if make not in self._made:
            self._made[make] = make(self)
        made: Made = self._made[make]
        return made

    @cached_property
    def steps(self) -> Mapping[StepId, Step]:
        """Every page, in the words for this kind of frame."""
        return {id: step.on(self.layout) for id, step in self.library.steps.items()}

    def of(self, step: Step) -> tuple[Prompt, ...]:
        """Every prompt of a step, in the order of asking and the words for this kind of frame."""
        step = self.steps[step.id]
        kept = self._of.get(step.id)
        if kept is None or kept[0] is not step:
            kept = self._of[step.id] = (step, expand(step, self.layout, self.library.tools))
        return kept[1]

    def asks(self, step: Step, prompts: tuple[Prompt, ...]) -> tuple[Ask, ...]:
        """Every reading wanted where so many of a step's prompts are asked, in the order of
        asking.
        """
        kept = self._asks.get(step.id)
        if kept is None or kept[0] != prompts:
            kept = self._asks[step.id] = (prompts, in_turn(prompts))
        return kept[1]

    @cached_property
    def foreign(self) -> frozenset[StepId]:
        """Ids of the steps that only another kind of frame has."""
        steps = self.library.steps.values()
        return frozenset([step.id for step in steps if not belongs(step, self.layout)])

    @cached_property
    def misfits(self) -> Mapping[StepId, Need]:
        """Of the steps that this kind of frame has no place for, the need that it does not meet,
        whether or not that is told.
        """
        found = ((s.id, misfit(s.needs, self.layout)) for s in self.library.steps.values())
        return {id: need for id, need in found if need is not None}

    @cached_property
    def unfit(self) -> frozenset[StepId]:
        """Ids of those steps."""
        return frozenset(self.misfits)

    @cached_property
    def on_call(self) -> Mapping[StepId, frozenset[PromptId]]:
        """Ids of the prompts of each step that is asked only once it is called for."""
        steps = (s for s in self.library.steps.values() if s.call)
        return {s.id: frozenset([p.id for p in self.of(s)]) for s in steps}

    @cached_property
    def conditional(self) -> frozenset[StepId]:
        """Ids of the steps of which a prompt is asked only where something is answered or so."""
        steps = self.library.steps.values()
        return frozenset([s.id for s in steps if any(p.needs for p in self.of(s))])

    @cached_property
    def by_id(self) -> Mapping[PromptId, Prompt]:
        """Every prompt that any step can ask."""
        return {p.id: p for step in self.steps.values() for p in self.of(step)}

    @cached_property
    def by_reads(self) -> Mapping[str, tuple[Prompt, ...]]:
        """The prompts of pages that read more than distances, by what they read."""
        steps = self.library.steps.values()
        reads = dict.fromkeys(step.reads for step in steps if step.reads)
        return {r: tuple(p for p in self.by_id.values() if p.reads == r) for r in reads}


def questions_of(survey: Survey, library: Library) -> Questions:
    """The survey's kind of frame with its prompts; one that this content lacks falls back to the
    first.

    They are kept with the content, by the layout and the own places, since nothing else of a survey
    changes them.
    """
    layout = base_of(survey, library)
    rows = survey.standing(OwnPlace)[:MOST]
    own = tuple((r.use, r.place, r.name, r.kind, r.behind, r.across) for r in rows)
    kept: dict[object, Questions] = library.kept.setdefault(questions_of, {})
    key = layout.id, own, frame_key(survey, library)
    found = kept.get(key)
    if found is None:
        if len(kept) >= MOST_KEPT:
            kept.clear()
        found = kept[key] = Questions(with_own_places(layout, survey), library)
    return found


def caution_prompt(caution: str, step: StepId, title: str) -> Prompt:
    """The acknowledgment asked before a step."""
    id = prompt_id(step, PlaceId("caution"), caution)
    return Prompt(id=id, step=step, kind=ACK, ask=title, caution=caution)


# What stands at a prompt ------------------------------------------------------------------------


def need_met(survey: Survey, need: Need) -> bool:
    """Whether a condition holds; what nobody has answered yet does not rule anything out."""
    if need.calls:
        return called_for(survey, need)
    if need.state:
        current = str(getattr(survey.state(), need.state, ""))
        return current in need.any or not current
    if survey.skipped(need.prompt):
        return False
    looks = survey.looks_at(need.prompt)
    if looks:
        return any((k.answer or k.seen) in need.any for k in looks)
    current = survey.answer_to(need.prompt)
    return current in need.any or not current


def known_met(survey: Survey, need: Need) -> bool:
    """Whether a condition on the state is known to hold: what nobody has said does not do."""
    return str(getattr(survey.state(), need.state, "")) in need.any


def called_for(survey: Survey, call: Need) -> bool:
    """Whether something is called for that nobody is asked otherwise: by the owner, or by an answer."""
    return survey.answer_to(call.prompt) in call.any or bool(calling(survey, call))


def calling(survey: Survey, call: Need) -> tuple[Need, ...]:
    """What calls for it by itself, as the survey stands; a call hangs on no other call."""
    if not call.either:
        return ()
    known = survey.by_prompt()
    said = known.answered
    # Of most cars none of the looks that may call was taken: no need to sort all that were.
    looks: Mapping[PromptId, tuple[Look, ...]] = (
        {} if known.looked.isdisjoint([n.prompt for n in call.either]) else survey.seen()
    )
    return tuple(
        [
            n
            for n in call.either
            if (n.state and known_met(survey, n))
            or said.get(n.prompt) in n.any
            or any((k.answer or k.seen) in n.any for k in looks.get(n.prompt, ()))
        ]
    )


def offered(survey: Survey, prompt: Prompt) -> Prompt:
    """The prompt with the answers that this car can be given as it stands."""
    if not any(c.needs for c in prompt.choices):
        return prompt
    return replace(
        prompt,
        choices=tuple(c for c in prompt.choices if all(known_met(survey, n) for n in c.needs)),
    )


def together_of(survey: Survey, prompt: Prompt) -> Together | None:
    """The one letter for this question and others of its page; None where one of them is not asked,
    or something stands there already.
    """
    one = prompt.together
    if one is None or not all(need_met(survey, n) for n in one.needs):
        return None
    asked = [prompt_id(prompt.step, NO_PLACE, last) for last, _ in one.says]
    return None if any(survey.answer_to(p) or survey.skipped(p) for p in asked) else one


def touched(survey: Survey, prompt: Prompt) -> bool:
    """Whether the prompt has any standing answer or skip."""
    _, times, aside = _counted(survey, prompt)
    # Of a place nothing is counted as passed over: of each of its looks it is.
    return times > 0 or ((aside or prompt.kind.gathers) and bool(survey.skipped(prompt.id)))


def answered(survey: Survey, prompt: Prompt) -> int:
    """How many standing answers a prompt has; a second reader's stand beside them and are none of
    the wanted ones.
    """
    return _counted(survey, prompt)[1]


def _counted(survey: Survey, prompt: Prompt) -> tuple[Prompt, int, bool]:
    """The prompt, how often it was answered, whether no more of it is asked: counted once in a
    survey.
    """
    kept = survey.counts.get(prompt.id)
    if kept is None or kept[0] is not prompt:  # of one id there may be another prompt elsewhere
        kept = survey.counts[prompt.id] = _count(survey, survey.by_prompt(), prompt)
    return kept


def _count(survey: Survey, rows: ByPrompt, prompt: Prompt) -> tuple[Prompt, int, bool]:
    id, kind = prompt.id, prompt.kind
    skipped = bool(rows.skipped.get(id) or rows.folded.get(id))
    if kind.measures:
        return prompt, rows.read.get(id, 0), skipped
    if kind.looks:
        return prompt, int(id in rows.looked), skipped
    if kind.gathers:  # of one look it is asked itself
        return prompt, int(len(left_at(survey, prompt)) <= 1), False
    said = not kind.acknowledges and rows.answered.get(id)
    return prompt, int(bool(said) and not unsettled(survey, prompt)), skipped


def wanting(survey: Survey, prompt: Prompt) -> bool:
    """Whether the prompt still wants a reading: it is neither skipped, nor no longer needed, nor
    read as often as it should be.
    """
    _, times, skipped = _counted(survey, prompt)
    return not skipped and times < prompt.repeats


def is_open(survey: Survey, ask: Ask) -> bool:
    """Whether a reading is still wanted here."""
    kept = survey.counts.get(ask.prompt.id)
    if kept is None or kept[0] is not ask.prompt:
        kept = _counted(survey, ask.prompt)
    return not kept[2] and kept[1] < ask.nth


def counted(survey: Survey, prompts: Iterable[Prompt]) -> list[tuple[Prompt, int, bool]]:
    """Each of these prompts, how often it was answered, whether no more of it is asked."""
    counts, rows = survey.counts, survey.by_prompt()
    found = []
    for prompt in prompts:
        kept = counts.get(prompt.id)
        if kept is None or kept[0] is not prompt:
            kept = counts[prompt.id] = _count(survey, rows, prompt)
        found.append(kept)
    return found


def are_open(survey: Survey, asks: Sequence[Ask]) -> list[bool]:
    """Of each of these readings whether it is still wanted."""
    counts, found = survey.counts, []
    for ask in asks:  # some two hundred times at each answer
        prompt = ask.prompt
        kept = counts.get(prompt.id)
        if kept is None or kept[0] is not prompt:
            kept = _counted(survey, prompt)
        found.append(not kept[2] and kept[1] < ask.nth)
    return found


def still_open(survey: Survey, asks: Sequence[Ask]) -> list[Ask]:
    """Of these readings those that are still wanted."""
    return list(compress(asks, are_open(survey, asks)))


# The looks of a place ---------------------------------------------------------------------------


def told_of(survey: Survey, place: Prompt) -> frozenset[str]:
    """Ids of the looks at which the entry for a place says that there is something to tell."""
    return frozenset(survey.answer_to(place.id).split())


def by_itself(survey: Survey, place: Prompt, look: Prompt) -> bool:
    """Whether a look of a place is asked by itself: there is something to tell, something was found
    there, or it has no answer that means nothing found.
    """
    return (
        str(look.id) in told_of(survey, place)
        or found_at(survey, look)
        or not any(c.nothing for c in look.choices)
    )


def found_at(survey: Survey, look: Prompt) -> bool:
    """Whether a look has something that stands beside `nothing found` and `not reached`."""
    nothing = {"", *(c.token for c in look.choices if c.nothing)}
    return any(k.answer not in nothing for k in survey.looks_at(look.id))


def left_at(survey: Survey, place: Prompt) -> tuple[Part, ...]:
    """The looks of a place for which one entry is still wanted."""
    return tuple(
        p for p in place.parts if wanting(survey, p.look) and not by_itself(survey, place, p.look)
    )


def covered_by(survey: Survey, place: Prompt) -> tuple[Part, ...]:
    """The looks that an entry for the place speaks for: those that are open, else, where the place
    is done, all at which nothing was found.
    """
    left = left_at(survey, place)
    return left or tuple(p for p in place.parts if not by_itself(survey, place, p.look))
