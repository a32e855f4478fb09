"""A frame beside its sister, in words: figure by figure, and what a sister can and cannot show."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from wizard.checks.finding import Finding
from wizard.judgment.change import EDGE, Apart, Change, Comparison
from wizard.judgment.claims import of_sister
from wizard.judgment.sister import Beside, beside, beside_kept_by, with_sister
from wizard.judgment.states import Unlike
from wizard.library import marks
from wizard.library.places import FindingId, QuantityId, Source
from wizard.library.shapes import Layout, Library
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Sister
from wizard.telling.amounts import at_most, doubt_size, listed, size
from wizard.telling.change_words import FIELDS
from wizard.telling.document import Item, Section, section
from wizard.telling.quantity_names import amount, cap, name_of
from wizard.telling.state_words import field_words

HEADING = "Compared with a sister frame"
RULE = "rule:sister"
CAN = (
    "What a sister can show: where this frame is unlike another one of its make, also where both"
    " rails are bent alike and left against right shows nothing."
)
CANNOT = (
    "What it cannot show: which of the two is the bent one. Either may be bent, and no two"
    " frames made by hand were ever quite alike. So nothing here is judged by a limit."
)
WHICH = (
    "A difference does not say which of the two is bent. Frames of one kind need not be of one"
    " make,"
    " and no two made by hand were ever quite alike."
)
NOT_COMPARED = {
    "not-now": "it was not measured here",
    "not-then": "it was not measured on the other one",
}
OTHER_EDGE = "the string ran along the other edge of the rails there"
FEW = 8
"""Figures told one by one; more are counted."""


def sister_name(sister: Sister) -> str:
    """`Larch, 2026-03-02`."""
    car = clean_line(sister.car or sister.name or "without a name", 60)
    return f"{car}, {clean_line(sister.day, 20)}" if sister.day else car


def beside_line(found: Beside, finding: FindingId, unit: Unit) -> str:
    """What the sister says of one finding; empty where it says nothing."""
    change = found.of(finding)
    if change is None:
        return ""
    too = " By its own survey the sister is out there too." if finding in found.itself else ""
    return f"Compared with the sister frame: {_said(change, unit)}{too}"


def _said(change: Change, unit: Unit, places: tuple[str, str] = ("there", "here")) -> str:
    f, (there, here) = change.new, places
    both = f"{amount(change.old, unit)} {there}, {amount(f, unit)} {here}"
    if change.says == "changed":
        apart = size(change.number.value, f.unit, unit)
        give = doubt_size(change.half_width, f.unit, unit)
        return f"{both}; they differ by {apart}, give or take {give}."
    if change.says == "not changed":
        seen = at_most(change.visible, f.unit, unit)
        return f"no difference that these readings can show ({seen} would have been seen)."
    if change.why == "one-of-many":
        return (
            f"{both}. Alone it would be a difference; among so many figures one such is to be"
            " expected. Read it again on both."
        )
    most = at_most(abs(change.number.value) + change.half_width, f.unit, unit)
    return f"not known yet; they may differ by as much as {most}."


def sister_section(survey: Survey, library: Library) -> Section:
    """The whole comparison; with no line where no sister is kept."""
    found = beside(survey, library)
    if found is None:
        return section("sister", HEADING, ())
    told = Telling(layout_of(survey, library), survey.unit, library)
    ids = tuple(i for c in found.says("changed") if (i := c.new.id) and _judged(c))
    rests: tuple[Source, ...] = (RULE, *ids)
    differ = [
        Item(line, rests, claims=tuple(of_sister(c) for c in by if c.says == "changed"))
        for line, by in told.each_differing(found)
    ]
    head = [Item(line, rests) for line in _head(found)]
    rest = (Item(line, rests) for line in (*told.rest(found), CAN, CANNOT))
    return section("sister", HEADING, (*head, *differ, *rest))


def _judged(change: Change) -> bool:
    """Whether a line of the verdict may rest on it: a distance as taped stands in none."""
    return change.new.quantity != marks.LENGTH


def _head(found: Beside) -> Iterator[str]:
    sister = found.sister
    answer = clean_line(sister.answer, 200)
    yield f"The sister frame: {sister_name(sister)}." + (
        f" Its own survey says: {answer.rstrip('.')}." if answer else ""
    )
    if found.unread:
        yield f"Figures of the sister that cannot be read, and are left out: {found.unread}."
    if not found.changes:
        yield "No figure of the two could be compared."
        return
    yield _count(found)


def _count(found: Beside) -> str:
    """`62 figures were compared: 3 differ, of 5 it is not known.`"""
    differ, untold = len(found.says("changed")), len(found.says("cannot tell"))
    many = f"{len(found.changes)} figures were compared" if len(found.changes) > 1 else "One was"
    none = "none differs as far as these readings can show"
    unknown = f"; of {untold} it is not known yet" if untold else ""
    out = f"{differ} differ" if differ > 1 else "one differs"
    return f"{many}: {out if differ else none}{unknown}."


class Telling(NamedTuple):
    """How figures of two frames are told."""

    layout: Layout
    unit: Unit
    library: Library
    places: tuple[str, str] = ("there", "here")
    """What the two frames are called."""

    def differing(self, found: Beside) -> Iterator[str]:
        """A line for each figure that stands out, the farthest beyond its doubt first."""
        return (line for line, _ in self.each_differing(found))

    def each_differing(self, found: Beside) -> Iterator[tuple[str, tuple[Change, ...]]]:
        """The same, each line with the figures of which it speaks."""
        out = [*found.says("changed"), *(c for c in found.changes if c.why == "one-of-many")]
        out.sort(key=lambda c: -abs(c.number.value) / c.number.u)
        for change in out[:FEW]:
            too = " By its own survey the other one is out there too."
            said = (
                f"{cap(name_of(change.new, self.layout))}: {_said(change, self.unit, self.places)}"
            )
            yield said + (too if change.new.id in found.itself else ""), (change,)
        if len(out) > FEW:
            rest = out[FEW:]
            yield f"And {len(rest)} more: {self.names(rest)}.", tuple(rest)

    def rest(self, found: Beside) -> Iterator[str]:
        """What does not differ, what is not known, and what was not compared, in a line each."""
        coarse = [c for c in found.changes if c.why == "too-coarse"]
        if coarse:
            yield f"Too coarsely read to say: {self.names(coarse)}."
        still = [c for c in found.says("not changed") if c.new.unit == "mm"]
        if still:
            low, high = (at_most(f(c.visible for c in still), "mm", self.unit) for f in (min, max))
            yield (
                f"No difference that these readings can show in {len(still)} of them: one of"
                f" {low if low == high else f'{low} to {high}'} would have been seen."
            )
        yield from self._apart(found.apart)

    def names(self, changes: Sequence[Change]) -> str:
        """Figures by name."""
        return listed([name_of(c.new, self.layout) for c in changes])

    def _apart(self, apart: Iterable[Apart]) -> Iterator[str]:
        """A line for each reason."""
        groups: dict[str, dict[QuantityId, list[Finding]]] = {}
        for one in apart:
            alike = groups.setdefault(self.why(one), {})
            alike.setdefault(one.finding.quantity, []).append(one.finding)
        for why, alike in groups.items():
            what = "; ".join(map(self._all_of, alike.values()))
            yield f"Not compared, because {why.rstrip('.')}: {what}."

    def _all_of(self, findings: Sequence[Finding]) -> str:
        """Figures of one quantity."""
        one, count = findings[0], len(findings)
        return f"{count} {one.of.plural}" if count > 1 else name_of(one, self.layout)

    def why(self, apart: Apart) -> str:
        """Why a figure was not compared."""
        if apart.why == EDGE:
            return OTHER_EDGE
        states = "; ".join(self._unlike(u) for u in apart.unlike)
        return states or NOT_COMPARED[apart.why]

    def _unlike(self, unlike: Unlike) -> str:
        """What was another state there."""
        field, (first, second) = unlike.field, self.places
        there, here = (self._values(field, said) for said in (unlike.then, unlike.now))
        return f"{FIELDS.get(field, field)}: {first} {there}, {second} {here}"

    def _values(self, field: str, tokens: str) -> str:
        """One value of the state or several, in words."""
        return " and ".join(field_words(field, t, self.library) for t in tokens.split(", "))


def unlike_lines(first: Survey, second: Survey, library: Library) -> Iterator[str]:
    """Of two frames of one kind, where they differ; nothing where nothing can be compared."""
    try:
        kept = with_sister(second, first, library, second.started, ("", ""))
    except Refused:
        return
    found = beside(kept, library)
    if found is None or not found.changes:
        return
    places = ("on the first", "on the second")
    told = Telling(layout_of(second, library), second.unit, library, places)
    yield _count(found)
    yield from told.differing(found)
    yield from told.rest(found)
    yield WHICH


# Two surveys of this frame ------------------------------------------------------------------------


def sister_then_and_now(comparison: Comparison, library: Library) -> Iterator[str]:
    """Of what changed on this frame, how far it was from its sister then and how far it is now."""
    now = comparison.now.survey
    here = beside(now, library)
    if here is None:
        return
    then = beside_kept_by(comparison.then.survey, now, library)
    layout, unit = layout_of(now, library), now.unit
    yield f"The sister frame: {sister_name(here.sister)}. Then: {_count(then)} Now: {_count(here)}"
    for change in comparison.of("changed"):
        was, is_ = then.of(change.new.id), here.of(change.new.id)
        if was and is_:
            far, near = (size(c.number.value, c.new.unit, unit) for c in (was, is_))
            give = doubt_size(is_.half_width, is_.new.unit, unit)
            yield (
                f"{cap(name_of(change.new, layout))}: {far} from the sister then, {near} now, give"
                f" or take {give}."
            )
