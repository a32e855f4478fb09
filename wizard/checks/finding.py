"""What a check says: a quantity, its value and doubt, and the readings behind it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Sequence
from dataclasses import field
from typing import TypeVar

from wizard.checks.notes import CANNOT_TELL, Bend, Mark, Note, OffPlan, OneOf
from wizard.frozen import Frozen
from wizard.library.places import FindingId, QuantityId, Side, WhereId, finding_id
from wizard.library.shapes import Quantity
from wizard.math.uncertain import Uncertain

N = TypeVar("N", bound=Note)


class Finding(Frozen):
    """One computed quantity of the frame."""

    of: Quantity
    """What was computed, with its unit and its words (content/quantities.toml)."""
    where: WhereId
    """Box, station and side, or place, as ids joined by `/`."""
    number: Uncertain
    """Value and doubt with every part, in `unit`."""
    readings: tuple[str, ...]
    """Ids of the readings used."""
    limit: str = ""
    """Id of the limit that judges it; empty for a hint or a help figure."""
    notes: tuple[Note, ...] = ()
    """What the check has to add; `wizard/checks/notes.py` says what there is."""

    # Asked for some thousand times in one verdict, so they are put together once.
    id: FindingId = field(init=False, compare=False)
    """`<quantity>/<where>`: stable for ever."""
    quantity: QuantityId = field(init=False, compare=False)
    """Id of what was computed: rail-shift, sag-loaded, twist, ..."""
    unit: str = field(init=False, compare=False)
    """mm, %, deg or mm/m."""

    def __init__(
        self,
        of: Quantity,
        where: WhereId,
        number: Uncertain,
        readings: tuple[str, ...],
        limit: str = "",
        notes: tuple[Note, ...] = (),
    ) -> None:
        own = vars(self)
        own.update(of=of, where=where, number=number, readings=readings, limit=limit, notes=notes)
        own.update(id=finding_id(of.id, where), quantity=of.id, unit=of.unit)

    @property
    def value(self) -> float:
        """The value, in `unit`."""
        return self.number.value

    def note(self, kind: type[N]) -> N | None:
        """What the check added of this kind; None where it added nothing."""
        for note in self.notes:
            if isinstance(note, kind):
                return note
        return None

    def noted(self, note: Note) -> Finding:
        """The finding with a note more."""
        notes = (*self.notes, note)
        return Finding(self.of, self.where, self.number, self.readings, self.limit, notes)

    def with_number(self, number: Uncertain) -> Finding:
        """The same finding with another value and doubt."""
        return Finding(self.of, self.where, number, self.readings, self.limit, self.notes)

    def has(self, mark: Mark) -> bool:
        """Whether the check marked it so."""
        return any(note is mark for note in self.notes)

    @property
    def disagrees(self) -> bool:
        """Whether the tapes that it leans on contradict one another, so that it cannot be told yet."""
        plan = self.note(OffPlan)
        return plan is not None and plan.disagrees

    @property
    def is_unknown(self) -> bool:
        """Whether its number says nothing: where a bend cannot be told, no depth of it is known."""
        bend = self.note(Bend)
        return bend is not None and bend.kind == CANNOT_TELL


def horn_named(finding: Finding, bent: Side | None) -> tuple[Side | None, str]:
    """Of two horns that differ, the one that is named as bent, and which way; else nothing.

    bent: the side whose horn alone was seen bent. Two tips do not say which of them moved.
    """
    further_out = Side.LEFT if finding.value > 0 else Side.RIGHT
    if bent is None:
        return None, ""
    return bent, "out" if bent is further_out else "in"


def one_of_many(
    findings: Sequence[Finding],
    of: Callable[[Finding], str] = lambda f: str(f.quantity),
    alone: Collection[QuantityId] = (),
) -> list[Finding]:
    """The findings, each with how many of its kind there are among them, and whether it is the worst
    of those.

    of: its kind, by default its quantity; a finding whose kind is empty stands alone. alone: quantities
    that are called out each by itself.
    """
    notes = notes_of_many([of(f) for f in findings], [f.value for f in findings])
    noted = []
    for f, note in zip(findings, notes, strict=True):
        if note and f.quantity in alone:
            note = OneOf(note.places, note.worst, alone=True)
        noted.append(f.noted(note) if note else f)
    return noted


def notes_of_many(kinds: Sequence[str], values: Sequence[float]) -> list[OneOf | None]:
    """What `one_of_many` notes of findings of these kinds and values; None of one that stands alone."""
    count, worst = Counter(kinds), dict[str, int]()
    for n, kind in enumerate(kinds):
        known = worst.setdefault(kind, n)
        if abs(values[n]) > abs(values[known]):
            worst[kind] = n
    return [
        OneOf(count[kind], n == worst[kind]) if kind and count[kind] > 1 else None
        for n, kind in enumerate(kinds)
    ]
