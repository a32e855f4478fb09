"""A survey: one pass over one car on one occasion, as an immutable value."""

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from functools import lru_cache
from operator import attrgetter
from typing import Any, Literal, NamedTuple, TypeVar

from wizard.frozen import Frozen
from wizard.library.places import PromptId, StepId, step_of
from wizard.survey.rows import (
    NEVER,
    PREFIX,
    SECOND,
    STRUCK,
    TABLES,
    Answer,
    Fold,
    Look,
    Reading,
    Row,
    Skip,
    State,
    Tool,
)

R = TypeVar("R", bound=Row)
P = TypeVar("P", Reading, Look)
Content = TypeVar("Content")
Made = TypeVar("Made")
_NAMES = {kind: name for name, kind in TABLES.items()}
Unit = Literal["in", "mm"]
_NUMBERED = re.compile(r"[a-z-]{1,12}?(\d{1,18})")
_PROMPT = attrgetter("prompt")
PAUSE = timedelta(hours=2)
"""Without an answer for so long, what was read or pushed before it is another sitting's."""


@lru_cache(maxsize=8192)
def number_of(id: str) -> int:
    """The counting part of a row id; 0 for an id in another manner."""
    match = _NUMBERED.fullmatch(id)
    return int(match.group(1)) if match else 0


class ByPrompt(NamedTuple):
    """What stands at each prompt of a survey."""

    read: Mapping[PromptId, int]
    """How many readings, but for a second reader's."""
    looked: frozenset[PromptId]
    answered: Mapping[PromptId, str]
    """The last answer to a choice or a note."""
    skipped: Mapping[PromptId, str]
    """Why it was skipped."""
    folded: Mapping[PromptId, str]
    """What shows that no more of it is needed."""

    @property
    def named(self) -> frozenset[PromptId]:
        """Every prompt at which anything stands."""
        return self.looked.union(self.read, self.answered, self.skipped)

    def with_row(self, row: Row) -> "ByPrompt":
        """With one row more that stands."""
        if isinstance(row, Reading) and row.by != SECOND:
            read = {**self.read, row.prompt: self.read.get(row.prompt, 0) + 1}
            return self._replace(read=read)
        if isinstance(row, Look):
            return self._replace(looked=self.looked | {row.prompt})
        if isinstance(row, Answer):
            return self._replace(answered={**self.answered, row.prompt: row.answer})
        if isinstance(row, Skip):
            return self._replace(skipped={**self.skipped, row.prompt: row.why})
        return self


class Order(NamedTuple):
    """Rows in the order in which they came, struck ones too."""

    told: tuple[tuple[int, datetime], ...]
    """Number and time of each."""
    paused: int
    """How many of them came before the last pause."""

    def with_row(self, row: Row) -> "Order | None":
        """With one row more; None where it came before others."""
        new = number_of(row.id), row.at
        if self.told and new < self.told[-1]:
            return None
        paused = bool(self.told) and abs(row.at - self.told[-1][1]) >= PAUSE
        return Order((*self.told, new), len(self.told) if paused else self.paused)


def _order_of(rows: Iterable[Row]) -> Order:
    told = tuple(sorted([(number_of(r.id), r.at) for r in rows]))
    pauses = (n for n in range(len(told) - 1, 0, -1) if _apart(told[n - 1], told[n]))
    return Order(told, next(pauses, 0))


def _apart(before: tuple[int, datetime], after: tuple[int, datetime]) -> bool:
    return abs(after[1] - before[1]) >= PAUSE


@dataclass(slots=True, eq=False, repr=False, match_args=False)
class Looked:
    """What was looked up already among the rows of a survey: a verdict asks for the same rows a
    thousand times, and an answer must not cost more because many stand before it.
    """

    standing: dict[type[Row], tuple[Any, ...]] = field(default_factory=dict)
    """The rows of a kind that were not struck out."""
    at: dict[type[Row], dict[PromptId, tuple[Any, ...]]] = field(default_factory=dict)
    """Of those the ones at each prompt."""
    order: Order | None = None
    keeping: dict[tuple[str, ...], tuple[int, ...]] = field(default_factory=dict)
    """Numbers of the answers that set any of these."""
    by_prompt: ByPrompt | None = None
    states: dict[str, State] | None = None
    """Every state by its id, struck ones too."""
    in_turn: dict[Any, Any] = field(default_factory=dict)
    """By what adds a row to it, what came of adding every row in its turn."""
    by_page: dict[StepId | None, list[Reading]] | None = None
    """The standing readings of each page, in the order of its prompts."""

    def with_row(self, row: Row) -> "Looked":
        """The same among rows of which one more is the last of its kind."""
        order = self.order.with_row(row) if self.order else None
        keeping = {} if isinstance(row, Answer) and row.keeps else self.keeping
        states = None if isinstance(row, State) else self.states
        in_turn = {add: add(found, row) for add, found in self.in_turn.items()} if order else {}
        if row.struck:
            return replace(self, order=order, keeping=keeping, states=states, in_turn=in_turn)
        kind, standing, at = type(row), dict(self.standing), dict(self.at)
        if kind in standing:
            standing[kind] = (*standing[kind], row)
        if kind in at:
            prompt = _PROMPT(row)
            at[kind] = {**at[kind], prompt: (*at[kind].get(prompt, ()), row)}
        by_prompt = self.by_prompt.with_row(row) if self.by_prompt else None
        return Looked(standing, at, order, keeping, by_prompt, states, in_turn)

    def with_replaced(self, kind: type[Row]) -> "Looked":
        """The same among rows of which one of that kind is another, with its id and its time."""
        standing = {k: rows for k, rows in self.standing.items() if k is not kind}
        at = {k: rows for k, rows in self.at.items() if k is not kind}
        keeping = {} if kind is Answer else self.keeping
        by_prompt = None if kind in (Reading, Look, Answer, Skip, Fold) else self.by_prompt
        states = None if kind is State else self.states
        return Looked(standing, at, self.order, keeping, by_prompt, states)


class Survey(Frozen):
    """Everything that was set down."""

    id: str = ""
    """Name of the survey and, by custom, of its file; empty until the car has a name."""
    car: str = ""
    started: datetime = NEVER
    layout: str = "straight-ladder"
    unit: Unit = "in"
    """What a bare number means: "in" or "mm"."""
    follows: str = ""
    """Id of the survey that this one re-checks."""
    program: str = ""
    """Program and version that wrote the file last."""
    rows: Mapping[str, tuple[Row, ...]] = field(default_factory=dict)
    """Table name to its rows, in the order of the file."""
    extra: Mapping[str, Any] = field(default_factory=dict)
    """Unknown top-level keys and tables, kept and written back."""
    extra_survey: Mapping[str, Any] = field(default_factory=dict)
    """Unknown keys of [survey]."""
    _made: dict[Any, Any] = field(default_factory=dict, init=False, repr=False, compare=False)
    """What was made of it, with the content that it was made by."""
    _looked: Looked = field(default_factory=Looked, init=False, repr=False, compare=False)

    counts: dict[PromptId, tuple[Any, int, bool]] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )
    """By prompt id: the prompt, how often it was answered, whether no more of it is asked; the guide
    counts and keeps it here.
    """

    def table(self, kind: type[R]) -> tuple[R, ...]:
        """All rows of a kind, struck ones too."""
        return self.rows.get(_NAMES[kind], ())  # type: ignore[return-value]

    def standing(self, kind: type[R]) -> tuple[R, ...]:
        """The rows of a kind that were not struck out."""
        found = self._looked.standing.get(kind)
        if found is None:
            found = self._looked.standing[kind] = tuple(
                [r for r in self.table(kind) if not r.struck]
            )
        return found

    def _by_prompt(self, kind: type[P]) -> Mapping[PromptId, tuple[P, ...]]:
        """The standing rows of a kind that has prompts, at each prompt."""
        sorted_out = self._looked.at.get(kind)
        if sorted_out is None:
            heaps: dict[PromptId, list[P]] = {}
            for row in self.standing(kind):
                heaps.setdefault(row.prompt, []).append(row)
            sorted_out = self._looked.at[kind] = {name: tuple(rows) for name, rows in heaps.items()}
        return sorted_out

    def once(self, content: Content, make: "Callable[[Survey, Content], Made]") -> Made:
        """What `make` makes of this survey and that content, made once and kept with it.

        A changed survey is another value with nothing kept, so what was made never outlives what it
        was made of. What hangs on the time or on who asks is not made here.
        """
        kept: tuple[Content, Made] | None = self._made.get(make)
        if kept is None or kept[0] is not content:
            kept = self._made[make] = (content, make(self, content))
        return kept[1]

    def made(self, content: Content, make: "Callable[[Survey, Content], Made]") -> Made | None:
        """What `once` made and kept; None where it has not been asked for yet."""
        kept: tuple[Content, Made] | None = self._made.get(make)
        return kept[1] if kept is not None and kept[0] is content else None

    def all_rows(self) -> Iterator[Row]:
        """Every row of every table."""
        for rows in self.rows.values():
            yield from rows

    def in_turn(self, start: Made, add: Callable[[Made, Row], Made]) -> Made:
        """What comes of adding every row, struck ones too, in the order in which they came, to what
        is there at the start; one row more is one added.

        add: a function of a module, which changes nothing that it is given.
        """
        if add not in self._looked.in_turn:
            found = start
            for row in sorted(self.all_rows(), key=lambda row: number_of(row.id)):
                found = add(found, row)
            self._looked.in_turn[add] = found
        kept: Made = self._looked.in_turn[add]
        return kept

    def last_number(self) -> int:
        """The highest counting part of any row id."""
        told = self.in_order().told
        return told[-1][0] if told else 0

    def in_order(self) -> Order:
        """Every row, struck ones too, in the order in which they came."""
        if self._looked.order is None:
            self._looked.order = _order_of(self.all_rows())
        return self._looked.order

    def numbers_keeping(self, keeps: tuple[str, ...]) -> tuple[int, ...]:
        """Numbers of the answers, struck ones too, that set any of these, in the order in which
        they came.
        """
        found = self._looked.keeping.get(keeps)
        if found is None:
            numbers = [number_of(a.id) for a in self.table(Answer) if a.keeps in keeps]
            found = self._looked.keeping[keeps] = tuple(sorted(numbers))
        return found

    # What is current
    # -------------------------------------------------------------------------------------------

    def state(self) -> State:
        """The state now; an empty one before the first is set down."""
        states = self._looked.standing.get(State) or self.standing(State)
        return states[-1] if states else State(id="")

    def state_of(self, id: str) -> State:
        """The state a reading names; an empty one when the file has none of that id."""
        if self._looked.states is None:
            self._looked.states = {s.id: s for s in reversed(self.table(State))}
        return self._looked.states.get(id) or State(id="")

    def tool(self, kind: str) -> Tool | None:
        """The tool of a kind chosen last, or None."""
        return next((t for t in reversed(self.standing(Tool)) if t.kind == kind), None)

    def answer_to(self, prompt: PromptId) -> str:
        """The standing answer to a choice or note, empty when there is none."""
        return (self._looked.by_prompt or self.by_prompt()).answered.get(prompt, "")

    def read(self) -> Mapping[PromptId, tuple[Reading, ...]]:
        """The standing readings by prompt, in the order in which each was first read; the same
        tuple from survey to survey where nothing was read there between.
        """
        return self._by_prompt(Reading)

    def read_on(self, step: StepId | None, ids: Iterable[str]) -> list[Reading]:
        """Those of a page's standing readings that have one of these ids."""
        wanted = frozenset(ids)
        pages = self._looked.by_page
        if pages is None:
            pages = self._looked.by_page = {}
            for prompt, rows in self.read().items():
                pages.setdefault(step_of(prompt), []).extend(rows)
        return [r for r in pages.get(step, ()) if r.id in wanted]

    def readings_of(self, prompt: PromptId) -> tuple[Reading, ...]:
        """The standing readings of a prompt."""
        return self._by_prompt(Reading).get(prompt, ())

    def seen(self) -> Mapping[PromptId, tuple[Look, ...]]:
        """The standing looks by prompt, as `read` gives the readings."""
        return self._by_prompt(Look)

    def looks_at(self, prompt: PromptId) -> tuple[Look, ...]:
        """The standing looks of a prompt: one for each thing that was seen there."""
        return self._by_prompt(Look).get(prompt, ())

    def skipped(self, prompt: PromptId) -> str:
        """Why a prompt was skipped, empty when it was not."""
        return (self._looked.by_prompt or self.by_prompt()).skipped.get(prompt, "")

    def folded(self, prompt: PromptId) -> str:
        """What shows that no more readings of a prompt are needed; empty where they are."""
        return self.by_prompt().folded.get(prompt, "")

    @property
    def takes_all(self) -> bool:
        """Whether somebody said that every reading is wanted, needed or not."""
        from wizard.library import marks  # a survey is read without it, until something is left out

        asked = marks.CALLED[marks.HOW_MUCH]
        said = [a.answer for a in self.standing(Answer) if a.prompt == asked]
        return said[-1:] == [marks.EVERY]

    def folds(self) -> tuple[Fold, ...]:
        """What was not needed and was not taken after all: as long as all that it rests on stands."""
        if not self.table(Fold) or self.takes_all:
            return ()
        there = {r.id for r in self.standing(Reading)}
        return tuple(f for f in self.standing(Fold) if there.issuperset(f.readings.split()))

    def reads_as(self, other: "Survey") -> bool:
        """Whether the two hold the same but for what was not needed, and both have left something
        out or neither has.
        """
        ours, theirs = ({**s.rows, _NAMES[Fold]: ()} for s in (self, other))
        alike = replace(self, rows=ours) == replace(other, rows=theirs)
        return alike and bool(self.folds()) is bool(other.folds())

    def by_prompt(self) -> ByPrompt:
        """What stands at each prompt, in a few words."""
        found = self._looked.by_prompt
        if found is None:
            first = [r.prompt for r in self.standing(Reading) if r.by != SECOND]
            found = self._looked.by_prompt = ByPrompt(
                dict(Counter(first)),
                frozenset(map(_PROMPT, self.standing(Look))),
                dict(map(attrgetter("prompt", "answer"), self.standing(Answer))),
                dict(map(attrgetter("prompt", "why"), self.standing(Skip))),
                {PromptId(id): f.why for f in self.folds() for id in f.prompts.split()},
            )
        return found

    # The next value
    # ---------------------------------------------------------------------------------------------

    def with_row(self, row: Row) -> "Survey":
        """The same survey with one row more. The row's id must be new (see `new_id`)."""
        name = _NAMES[type(row)]
        rows = (*self.rows.get(name, ()), row)
        looked = self._looked.with_row(row)
        if isinstance(row, Fold) or (isinstance(row, Answer) and self.table(Fold)):
            looked.by_prompt = None  # what is not needed hangs on other rows too
        new = self._after(name, rows, looked)
        new.counts.update(self._still_counted(row))
        return new

    def _still_counted(self, row: Row) -> dict[PromptId, tuple[Any, int, bool]]:
        """Of what was counted, what stays as it is with one row more: what is measured or looked at
        hangs on the rows of its own prompt alone, and on what was not needed.
        """
        if isinstance(row, Answer) and self.table(Fold):
            return {}
        here = row.prompts.split() if isinstance(row, Fold) else [getattr(row, "prompt", "")]
        kept = self.counts.items()
        return {id: count for id, count in kept if count[0].kind.counts and id not in here}

    def _after(self, name: str, rows: tuple[Row, ...], looked: Looked) -> "Survey":
        """With another table, and what is known of it already."""
        new = replace(self, rows={**self.rows, name: rows})
        object.__setattr__(new, "_looked", looked)  # nobody has seen the new value yet
        return new

    def new_id(self, kind: type[Row]) -> str:
        """An id that no row of this survey has or had."""
        prefix = PREFIX[_NAMES[kind]]
        number = self.last_number() + 1
        if number_of(f"{prefix}{number}"):  # above every number that is counted
            return f"{prefix}{number}"
        taken = {r.id for r in self.all_rows()}
        while f"{prefix}{number}" in taken:  # an edited file may hold a number too long to count
            number += 1
        return f"{prefix}{number}"

    def with_replaced(self, row: Row) -> "Survey":
        """The same survey with the row of that id put in place of the old one."""
        name = _NAMES[type(row)]
        old = self.rows.get(name, ())
        rows = tuple([row if r.id == row.id else r for r in old])
        alike = all(r.at == row.at for r in old if r.id == row.id)
        return self._after(name, rows, self._looked.with_replaced(type(row)) if alike else Looked())

    def with_struck(self, id: str, why: str) -> "Survey":
        """The same survey with one row struck out; unchanged when there is no such standing row."""
        for row in self.all_rows():
            if row.id == id and not row.struck:
                return self.with_replaced(replace(row, struck=why or STRUCK))
        return self
