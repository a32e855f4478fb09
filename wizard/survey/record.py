"""A survey: one pass over one car on one occasion, as an immutable value."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import lru_cache
from typing import Any, Literal, NamedTuple, TypeVar

from wizard.library.places import PromptId
from wizard.survey.rows import (
    NEVER,
    PREFIX,
    SECOND,
    TABLES,
    Answer,
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


@dataclass(frozen=True, slots=True)
class Survey:
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
    _found: dict[Any, Any] = field(default_factory=dict, init=False, repr=False, compare=False)
    """What was looked up already: a verdict asks for the same rows a thousand times, and they never
    change.
    """

    counts: dict[PromptId, tuple[Any, int, bool]] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )
    """By prompt id: the prompt, how often it was answered, whether it was skipped; the guide counts
    and keeps it here.
    """

    def table(self, kind: type[R]) -> tuple[R, ...]:
        """All rows of a kind, struck ones too."""
        return self.rows.get(_NAMES[kind], ())  # type: ignore[return-value]

    def standing(self, kind: type[R]) -> tuple[R, ...]:
        """The rows of a kind that were not struck out."""
        found: tuple[R, ...] | None = self._found.get(kind)
        if found is None:
            found = self._found[kind] = tuple(r for r in self.table(kind) if not r.struck)
        return found

    def rows_by_id(self, kind: type[R]) -> Mapping[str, R]:
        """All rows of a kind by their ids, struck ones too; of two with one id the first."""
        found: dict[str, R] | None = self._found.get((kind, "by id"))
        if found is None:
            rows = reversed(self.table(kind))
            found = self._found[kind, "by id"] = {row.id: row for row in rows}
        return found

    def _at(self, kind: type[P], prompt: PromptId) -> tuple[P, ...]:
        """The standing rows of a kind that has prompts, at one prompt."""
        sorted_out: dict[PromptId, tuple[P, ...]] | None = self._found.get((kind, "at"))
        if sorted_out is None:
            heaps: dict[PromptId, list[P]] = {}
            for row in self.standing(kind):
                heaps.setdefault(row.prompt, []).append(row)
            sorted_out = self._found[kind, "at"] = {
                name: tuple(rows) for name, rows in heaps.items()
            }
        return sorted_out.get(prompt, ())

    def once(self, content: Content, make: Callable[[Survey, Content], Made]) -> Made:
        """What `make` makes of this survey and that content, made once and kept with it.

        A changed survey is another value with nothing kept, so what was made never outlives what it
        was made of. What hangs on the time or on who asks is not made here.
        """
        kept: tuple[Content, Made] | None = self._found.get(make)
        if kept is None or kept[0] is not content:
            kept = self._found[make] = (content, make(self, content))
        return kept[1]

    def made(self, content: Content, make: Callable[[Survey, Content], Made]) -> Made | None:
        """What `once` made and kept; None where it has not been asked for yet."""
        kept: tuple[Content, Made] | None = self._found.get(make)
        return kept[1] if kept is not None and kept[0] is content else None

    def all_rows(self) -> Iterator[Row]:
        """Every row of every table."""
        for rows in self.rows.values():
            yield from rows

    def last_number(self) -> int:
        """The highest counting part of any row id."""
        told = self.in_order()
        return told[-1][0] if told else 0

    def in_order(self) -> tuple[tuple[int, datetime], ...]:
        """Number and time of every row, struck ones too, in the order in which they came."""
        found: tuple[tuple[int, datetime], ...] | None = self._found.get("in order")
        if found is None:
            numbered = ((number_of(r.id), r.at) for r in self.all_rows())
            found = self._found["in order"] = tuple(sorted(numbered))
        return found

    def numbers_keeping(self, keeps: tuple[str, ...]) -> tuple[int, ...]:
        """Numbers of the answers, struck ones too, that set any of these, in the order in which
        they came.
        """
        found: tuple[int, ...] | None = self._found.get(keeps)
        if found is None:
            numbers = (number_of(a.id) for a in self.table(Answer) if a.keeps in keeps)
            found = self._found[keeps] = tuple(sorted(numbers))
        return found

    # What is current
    # -------------------------------------------------------------------------------------------

    def state(self) -> State:
        """The state now; an empty one before the first is set down."""
        states = self.standing(State)
        return states[-1] if states else State(id="")

    def state_of(self, id: str) -> State:
        """The state a reading names; an empty one when the file has none of that id."""
        return next((s for s in self.table(State) if s.id == id), None) or State(id="")

    def tool(self, kind: str) -> Tool | None:
        """The tool of a kind chosen last, or None."""
        return next((t for t in reversed(self.standing(Tool)) if t.kind == kind), None)

    def answer_to(self, prompt: PromptId) -> str:
        """The standing answer to a choice or note, empty when there is none."""
        return self.by_prompt().answered.get(prompt, "")

    def readings_of(self, prompt: PromptId) -> tuple[Reading, ...]:
        """The standing readings of a prompt."""
        return self._at(Reading, prompt)

    def looks_at(self, prompt: PromptId) -> tuple[Look, ...]:
        """The standing looks of a prompt: one for each thing that was seen there."""
        return self._at(Look, prompt)

    def skipped(self, prompt: PromptId) -> str:
        """Why a prompt was skipped, empty when it was not."""
        return self.by_prompt().skipped.get(prompt, "")

    def by_prompt(self) -> ByPrompt:
        """What stands at each prompt, in a few words."""
        found: ByPrompt | None = self._found.get("by prompt")
        if found is None:
            found = self._found["by prompt"] = ByPrompt(
                dict(Counter([r.prompt for r in self.standing(Reading) if r.by != SECOND])),
                frozenset([k.prompt for k in self.standing(Look)]),
                {a.prompt: a.answer for a in self.standing(Answer)},
                {s.prompt: s.why for s in self.standing(Skip)},
            )
        return found

    # The next value
    # ---------------------------------------------------------------------------------------------

    def with_row(self, row: Row) -> Survey:
        """The same survey with one row more. The row's id must be new (see `new_id`)."""
        name = _NAMES[type(row)]
        return replace(self, rows={**self.rows, name: (*self.rows.get(name, ()), row)})

    def new_id(self, kind: type[Row]) -> str:
        """An id that no row of this survey has or had."""
        prefix = PREFIX[_NAMES[kind]]
        taken = {r.id for r in self.all_rows()}
        number = self.last_number() + 1
        while f"{prefix}{number}" in taken:  # an edited file may hold a number too long to count
            number += 1
        return f"{prefix}{number}"

    def with_replaced(self, row: Row) -> Survey:
        """The same survey with the row of that id put in place of the old one."""
        name = _NAMES[type(row)]
        rows = tuple(row if r.id == row.id else r for r in self.rows.get(name, ()))
        return replace(self, rows={**self.rows, name: rows})

    def with_struck(self, id: str, why: str) -> Survey:
        """The same survey with one row struck out; unchanged when there is no such standing row."""
        for row in self.all_rows():
            if row.id == id and not row.struck:
                return self.with_replaced(replace(row, struck=why or "struck"))
        return self
