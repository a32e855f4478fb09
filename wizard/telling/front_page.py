"""The record's first page: what a buyer, an insurer or a shop reads, whole without what stands behind.

Everything that the record holds of places not reached, of what decides, of what changed and of what
somebody signed stands there in its own words; where that would fill more than one sheet, it is
counted and named, and the words stand behind.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import groupby
from typing import NamedTuple

from wizard.checks.case import case_of
from wizard.frozen import cached_property
from wizard.judgment import least as damage
from wizard.judgment.answer import Answer
from wizard.judgment.bands import Judged
from wizard.judgment.change import Change
from wizard.judgment.fact import gravest
from wizard.judgment.least import Least, least, weakest
from wizard.judgment.seen import Seen
from wizard.judgment.since import Since
from wizard.library import marks
from wizard.library.places import QuantityId, StepId, step_of, where_of
from wizard.library.shapes import Layout, Library
from wizard.readings.plain import clean_line
from wizard.survey.guide import steps_of
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import NEVER, SECOND, Look, Opinion, Reading, Remark, State, Tool
from wizard.telling.amounts import NOT_KNOWN, about, at_most, bands_words, doubt
from wizard.telling.answer_words import Told, headline, lines, opinion_lines, told_of
from wizard.telling.change_words import asked_section
from wizard.telling.document import (
    Block,
    Heading,
    Item,
    Items,
    Paragraph,
    Picture,
    Table,
    Terms,
    items,
)
from wizard.telling.moved_words import (
    change_sentence,
    day_of,
    moved_words,
    outcome_words,
    then_and_now,
)
from wizard.telling.numbering import numbered_name
from wizard.telling.of_car import lacking, of_car
from wizard.telling.print_height import ACROSS, height
from wizard.telling.print_height import lines as set_lines
from wizard.telling.quantity_names import amount, cap, name_of, of_bent_horn
from wizard.telling.report_figures import found_picture
from wizard.telling.state_words import state_words
from wizard.telling.verdict_words import DOES_NOT_SAY, sections

SHEET = 249.0
"""Millimeters that the first page may be high on Letter, the shorter paper, with its title. It has
252, and a browser that sets its lines a little further apart needs some of them.
"""
TITLE, TITLE_LINE, UNDER_TITLE = 15.0, 6.4, 2.0
"""Points of the title, and the height of a line of it and what stays free under it, mm."""
RECORD = "a record of what was found"
FREE = "________________________"
"""To be written on by hand."""
SHORT_FREE = FREE[:16]


class Room(NamedTuple):
    """How much the page may hold."""

    rows: int
    """Of the table."""
    share: int
    """Of the page's width, what the drawing takes; 0 leaves it out."""
    reasons: bool = True
    """Whether what was not seen stands there with its reasons, and not by name alone."""
    opinions: bool = True
    """Whether opinions stand there in their words, and not by name alone."""
    seen: int = 2
    """How what decides stands there: LISTED, CLOSELY or BY_PLACE."""


LISTED, CLOSELY, BY_PLACE = 2, 1, 0
"""A line for each, all in one paragraph, or by the names of the places alone."""
TIGHT = Room(3, 48, reasons=False, seen=CLOSELY)
LEAST = Room(1, 40, reasons=False, opinions=False, seen=BY_PLACE)


ROOMS = (
    *(
        Room(14, 100),
        Room(14, 82),
        Room(12, 82),
        Room(10, 82),
        Room(10, 74),
        Room(9, 74),
        Room(8, 74),
    ),
    *(Room(8, 66), Room(7, 66), Room(6, 66), Room(6, 60)),
    *(Room(6, 60, reasons=False), Room(5, 60, reasons=False), Room(4, 60, reasons=False)),
    *(Room(4, 54, reasons=False), Room(3, 54, reasons=False), Room(3, 48, reasons=False), TIGHT),
    *(TIGHT._replace(opinions=False, rows=rows) for rows in (3, 2, 1)),
    *(LEAST._replace(seen=CLOSELY), LEAST, LEAST._replace(share=0)),
)
"""From the roomiest to the least; what is cut first is worth least."""
FEW = 250
"""Letters that the reasons take where they are kept in any case."""
STOOD = ("engine", "body", "supports")
"""What of a state the page tells: the load, what props the frame, what it rests on."""


class Front(NamedTuple):
    """The first page."""

    blocks: tuple[Block, ...]
    behind: tuple[str, ...]
    """Ids of the verdict's sections of which it has only the names."""


def front_page(answer: Answer, survey: Survey, library: Library, foot: str) -> Front:
    """The page as long as it may be on one sheet; the shortest that there is where none fits."""
    page = _Page(answer, survey, library)
    room = SHEET - UNDER_TITLE - set_lines(title_of(survey), ACROSS, TITLE, True) * TITLE_LINE
    fronts = (page.front(one, foot) for one in ROOMS)
    found = next(fronts)
    while height(found.blocks) > room and (shorter := next(fronts, None)):
        found = shorter
    return found


def title_of(survey: Survey) -> str:
    """`Bramble, 2026-04-11: a record of what was found`."""
    day = f", {survey.started:%Y-%m-%d}" if survey.started.year > 1 else ""
    name = clean_line(survey.car or survey.id, 200) or "A survey without a name"
    return f"{name}{day}: {RECORD}"


@dataclass(frozen=True)
class _Page:
    """What the page is made of: found once, however often the page is set anew in less room."""

    answer: Answer
    survey: Survey
    library: Library
    _drawn: dict[int, Picture] = field(default_factory=dict, compare=False)
    """The drawing, by the share of the page's width that it takes."""

    @property
    def layout(self) -> Layout:
        """The kind of frame."""
        return case_of(self.survey, self.library).layout

    def front(self, room: Room, foot: str) -> Front:
        """The page, no fuller than it may be."""
        told, said = self._told, self._said
        unseen = said.get("not-seen", ())
        reasons = room.reasons or sum(len(item.text) for item in unseen) < FEW
        blocks: list[Block] = [
            self._car,
            Heading("answer", "The answer"),
            Paragraph(headline(told), strong=True),
            *_terms(lines(told)),
            *self._seen(said.get("decides", ()), room.seen),
            *([self._picture(room.share)] if room.share else []),
            *self._measured(room.rows),
            *self._since,
            Heading("unseen", "What was not seen or not measured"),
            *self._unseen(unseen, reasons),
            *_opinions(self.survey, room.opinions),
            Heading("signed", "Signed"),
            *self._signing,
            Paragraph(f"{ONLY} {DOES_NOT_SAY} {foot}"),
        ]
        behind = [("not-seen", not reasons), ("decides", room.seen == BY_PLACE)]
        return Front(tuple(blocks), tuple(id for id, is_behind in behind if is_behind))

    @cached_property
    def _told(self) -> Told:
        return told_of(self.answer, self.survey, self.library)

    @cached_property
    def _said(self) -> Mapping[str, tuple[Item, ...]]:
        """The verdict's parts, by their ids."""
        return {p.id: p.items for p in sections(self.answer.verdict, self.survey, self.library)}

    def _picture(self, share: int) -> Picture:
        if share not in self._drawn:
            drawn = found_picture(self.answer, self.survey, self.library, share)
            self._drawn[share] = drawn
        return self._drawn[share]

    @cached_property
    def _signing(self) -> tuple[Paragraph, ...]:
        return tuple(map(Paragraph, _signing(lacking(self.survey, self.library))))

    # Which car, by whom, with what ---------------------------------------------------------

    @cached_property
    def _car(self) -> Terms:
        return Terms(tuple((label, Item(text)) for label, text in self._of_what() if text))

    def _of_what(self) -> Iterator[tuple[str, str]]:
        survey = self.survey
        marked = car_marks(survey, self.library)
        yield "The car", "; ".join([f"{_name(survey)}, {self.layout.name}", *marked]) + "."
        there = [f"{cap(o.words)}." for o in of_car(survey, self.library) if not o.stays]
        yield "Measured by", " ".join([_by(survey), *there, _blind(survey)])
        stood = [state_words(s, self.library, STOOD) for s in survey.standing(State)]
        states = [words for words, _ in groupby(stood)]
        before = f"In {len(states)} states, the last: " if len(states) > 1 else ""
        yield "How it stood", cap(f"{before}{states[-1]}.") if states else ""
        yield "Tools", _tools(survey, self.answer.verdict.judged)

    # What was seen and measured ------------------------------------------------------------

    def _seen(self, decides: Sequence[Item], how: int) -> Iterator[Block]:
        """What decides: stop signs, what is loose and all that must be looked at."""
        if decides:
            yield Heading("decides", "What was seen that decides")
            yield self._decides(decides, how)

    def _decides(self, decides: Sequence[Item], how: int) -> Block:
        if how == LISTED:
            return Items(tuple(decides))
        if how == CLOSELY:
            return Paragraph(" ".join(item.text for item in decides))
        told = {id for item in decides for id in item.sources}
        verdict = self.answer.verdict
        seen = (_place(s) for s in verdict.seen if s.look.id in told)
        thin = (name_of(j.finding, self.layout) for j in verdict.deep)
        names = "; ".join(dict.fromkeys((*seen, *thin)))
        return Paragraph(f"{len(decides)}, with what was seen there behind this page: {names}.")

    def _measured(self, most: int) -> Iterator[Block]:
        """The table: what is out and open, then what is in order, one row for each thing and side."""
        rows = _rows(self.answer.verdict.judged)
        if not rows:
            return
        yield Heading("measured", "What was measured")
        yield _table(self._rows_set[:most])
        if left := rows[most:]:
            names = "; ".join(name_of(j.finding, self.layout) for j in left)
            yield Paragraph(f"{len(left)} more, behind this page: {names}.")

    @cached_property
    def _rows_set(self) -> tuple[tuple[str, ...], ...]:
        """All the rows that the roomiest page has."""
        verdict, unit = self.answer.verdict, self.survey.unit
        seen = least(verdict, case_of(self.survey, self.library))
        by_kind = {one.kind: one for one in weakest(seen)}
        sides, shown = _of_sides(seen), _rows(verdict.judged)[: ROOMS[0].rows]
        bent = verdict.bent
        return tuple(_row(j, self.layout, unit, by_kind, sides, bent) for j in shown)

    # What changed, what was not seen -------------------------------------------------------

    @cached_property
    def _since(self) -> tuple[Block, ...]:
        return tuple(self._changed(self._told))

    def _changed(self, told: Told) -> Iterator[Block]:
        """Each part that moved; then, by name, what else changed and what could not be told."""
        since, survey = self.answer.since, self.survey
        if since is None:
            if survey.follows:
                yield Heading("changed", "What changed since last time")
                follows = clean_line(survey.follows, 60)
                yield Paragraph(f"Not known: the earlier survey {follows} was not at hand.")
            return
        yield Heading("changed", f"What changed {day_of(since)}")
        yield Paragraph(self._moved(told, since))
        asked = asked_section(since.comparison, self.library).lines[:1]
        yield from map(Paragraph, asked)
        part = [c for m in since.moved for c in (*m.changes[1:], *m.along, *m.explains)]
        moved = {c.new.id for c in (*part, *(m.first for m in since.moved))}
        rest = [c for c in since.comparison.of("changed") if c.new.id not in moved]
        told_of = [*self._answered(told), *(line.lower() for line in asked)]
        untold = self._unless_told(since.untold, " ".join(told_of))
        yield from self._named("Part of that", part)
        yield from self._named("Also changed", rest)
        yield from self._named("Not known of", untold)

    def _named(self, label: str, changes: Sequence[Change]) -> Iterator[Block]:
        """How many there are, and each by its name; nothing of none."""
        names = "; ".join(name_of(c.new, self.layout) for c in changes)
        if names:
            yield Paragraph(f"{label}, {len(changes)} in all: {names}.")

    def _answered(self, told: Told) -> list[str]:
        """What the answer says, in small letters."""
        return [headline(told).lower(), *(item.text.lower() for _, item in lines(told))]

    def _unless_told(self, changes: Sequence[Change], told: str) -> Sequence[Change]:
        """The changes; none of them where all are named already."""
        names = (name_of(c.new, self.layout).lower() for c in changes)
        return () if all(name in told for name in names) else changes

    def _moved(self, told: Told, since: Since) -> str:
        """What moved, in a sentence for each part, so far as the answer has not told it already."""
        unit = self.survey.unit
        answered = " ".join(self._answered(told))
        moved = [moved_words(m, self.layout, unit) for m in since.moved]
        count = f"{len(since.comparison.changes)} figures were read both times"
        if moved and all(words.lower() in answered for words in moved):
            return f"{' '.join(self._figures(since))} {count}."
        if moved:
            ends = (outcome_words(m) for m in since.moved)
            return " ".join(f"{cap(w)}{end}." for w, end in zip(moved, ends, strict=True))
        said = change_sentence(since, self.layout, unit)
        return f"{count}; none is shown to have changed." if said.lower() in answered else said

    def _figures(self, since: Since) -> Iterator[str]:
        """What moved, then and now."""
        for moved in since.moved:
            change = moved.first
            said = then_and_now(change, self.layout, self.survey.unit)
            yield f"{cap(name_of(change.new, self.layout))}: {said}."

    def _unseen(self, gaps: Sequence[Item], reasons: bool) -> Iterator[Block]:
        """Everything, grouped by its reason; by name alone where there is no room for the reasons."""
        verdict = self.answer.verdict
        lost = _unreached(self.survey, self.library, {g.step for g in verdict.not_seen})
        more = [f"Not reached: {'; '.join(lost)}."] if lost else []
        if not gaps and not more:
            yield Paragraph("Nothing that this survey asks for was left out.")
        elif gaps and not reasons:
            names = "; ".join(name for item in gaps for name in item.names)
            count = len(verdict.not_seen)
            yield Paragraph(f"{count}, with the reasons behind this page: {names}.")
            yield from map(Paragraph, more)
        else:
            yield Items((*gaps, *items(more).items))


WORST = "The worst place of each."
CAPTION = (
    f"{WORST} “Sure to tell”: the smallest damage of that kind that would have been told as beyond “Leave"
    " it up to” 19 times in 20. Smaller differences would have been seen."
)
NO_SIZES = f"{WORST} Of none of these is it known what the smallest damage is that would surely have been told."
HEAD = (
    "What, where",
    "Found",
    "Give or take",
    "Leave it up to",
    "Sure to tell",
    "What follows",
)
WIDTHS = (37, 16, 7, 7, 10, 23)
SIZE = HEAD.index("Sure to tell")
ONLY = "This record tells how this frame stood that day."


def _terms(rows: tuple[tuple[str, Item], ...]) -> tuple[Block, ...]:
    return (Terms(rows),) if rows else ()


def _name(survey: Survey) -> str:
    return clean_line(survey.car or survey.id, 120) or "a car without a name"


def car_marks(survey: Survey, library: Library) -> list[str]:
    """By what the car is known for ever: the number on its frame, its marks, and what was noted on
    the page that names it.
    """
    pages = {step.id for step in library.marked(marks.FOR_EVER)}
    rows = (r for r in survey.standing(Remark) if step_of(r.prompt) in pages)
    remarks = [f"noted as typed: {clean_line(r.text, 120)}" for r in rows if r.text.strip()]
    return [*(one.words for one in of_car(survey, library) if one.stays), *remarks]


def _by(survey: Survey) -> str:
    """Who took how many readings and looks, and from when to when."""
    rows = [*survey.standing(Reading), *survey.standing(Look)]
    counted = Counter(clean_line(r.by, 40) or "nobody named" for r in rows if r.by != SECOND)
    who = ", ".join(f"{name} ({_taken(n)})" for name, n in counted.most_common())
    times = sorted(r.at.replace(tzinfo=None) for r in rows if r.at != NEVER)
    when = f"; from {times[0]:%Y-%m-%d %H:%M} to {times[-1]:%Y-%m-%d %H:%M}" if times else ""
    return f"{cap(who) or 'Nobody yet'}{when}."


def _taken(count: int) -> str:
    return "1 reading or look" if count == 1 else f"{count} readings and looks"


def _blind(survey: Survey) -> str:
    """How much a second reader read without seeing the first one's figures."""
    second = [r for r in survey.standing(Reading) if r.by == SECOND]
    if not second:
        return "Nobody read anything a second time blind."
    places = len({r.prompt for r in second})
    blind = "Read blind, by a second reader who did not see the first"
    return f"{blind}: {len(second)} readings at {places} places."


def _tools(survey: Survey, judged: Sequence[Judged]) -> str:
    """Each tool with its figures, and what in the survey itself speaks for it."""
    tools = [clean_line(t.called or t.kind, 80) for t in survey.standing(Tool)]
    if not tools:
        return "None was named."
    checks = "; ".join(_checked(judged, survey.unit))
    return f"{'; '.join(tools)}. {f'Checked in the survey: {checks}. ' if checks else ''}{UNTRACED}"


UNTRACED = "No tool was compared with a measure of known length."


def _fit(out: int, of: int) -> str:
    """How many of the boxes that can be checked fit."""
    if of == 1:
        return "those of the one box that can be checked do" + (" not" if out else "")
    return f"{out} of {of} do not" if out else f"all {of} do"


def _checked(judged: Sequence[Judged], unit: Unit) -> Iterator[str]:
    """What the readings themselves say of the tools and of whoever used them."""
    closures = [j for j in judged if j.finding.quantity == marks.CLOSURE]
    if closures:
        out = sum(j.stands_out for j in closures)
        yield f"taped distances of a box must fit one another, and {_fit(out, len(closures))}"
    level = next((j.finding for j in judged if j.finding.quantity == marks.LEVEL_ERROR), None)
    if level is not None:
        own = at_most(level.value, level.unit, unit)
        yield f"turned end for end, the level itself is off by no more than {own}"


def _place(seen: Seen) -> str:
    """`The tops of the rails, right`."""
    return f"{seen.title}, {seen.side}" if seen.side else seen.title


# The table ----------------------------------------------------------------------------------------

SMALLEST: Mapping[QuantityId, str] = {
    marks.RAIL_SHIFT: damage.RAIL,
    marks.MASH: damage.CORNER,
    marks.OWN_SIDES: damage.CORNER,
    marks.SWAY: damage.BOWED,
    marks.NOSE_OFF: damage.NOSE_ASIDE,
    marks.HORN_APART: damage.HORN_ASIDE,
    marks.HORN_OUT: damage.HORN_ASIDE,
    marks.HORN_BACK: damage.HORN_BACK,
    marks.HORN_HEIGHT: damage.HORN_UP,
    marks.SAG_LOADED: damage.DOWN,
    marks.SAG_UNLOADED: damage.DOWN,
    marks.TWIST: damage.TWISTED,
    marks.WHEELBASE: damage.AXLE,
}
"""The kind of damage that each quantity shows."""


def _rows(judged: Sequence[Judged]) -> list[Judged]:
    """One for each quantity and side that a limit judges, its gravest; the gravest first."""
    best: dict[tuple[QuantityId, str], Judged] = {}
    for one in judged:
        if one.bands:
            key = one.finding.quantity, str(where_of(one.finding.where).side or "")
            best[key] = max((one, best.get(key, one)), key=gravest)
    return sorted(best.values(), key=gravest, reverse=True)


def _of_sides(found: Sequence[Least]) -> Mapping[str, float | None]:
    """Of each rail what would have been seen wherever it hangs."""
    sides: dict[str, list[Least]] = {}
    for one in found:
        if one.kind == damage.DOWN:
            sides.setdefault(str(where_of(one.where).side), []).append(one)
    return {side: weakest(rows)[0].mm for side, rows in sides.items()}


def _table(rows: tuple[tuple[str, ...], ...]) -> Table:
    """The rows; the smallest damages take no column where none of them is known."""
    if any(row[SIZE] != NOT_KNOWN for row in rows):
        return Table(CAPTION, HEAD, rows, WIDTHS)
    head, *kept = ((*row[:SIZE], *row[SIZE + 1 :]) for row in (HEAD, *rows))
    freed = (WIDTHS[0], WIDTHS[1] + 5, *WIDTHS[2:SIZE], WIDTHS[-1] + 5)
    return Table(NO_SIZES, head, tuple(kept), freed)


def _row(
    judged: Judged,
    layout: Layout,
    unit: Unit,
    by_kind: Mapping[str, Least],
    sides: Mapping[str, float | None],
    bent: str,
) -> tuple[str, ...]:
    found = judged.finding
    at_horn = of_bent_horn(found, unit, bent)
    name, much = at_horn or (numbered_name(found, layout), amount(found, unit))
    edge = judged.edges[0]
    limit = edge.high if found.value >= 0 or edge.low is None else -edge.low
    follows = "measure again: readings disagree" if found.disagrees else bands_words(judged)
    return (
        cap(name),
        much,
        doubt(judged, unit).removeprefix("give or take "),
        about(limit, found.unit, unit) if limit is not None else "",
        _smallest(judged, unit, by_kind, sides),
        cap(follows) or "Told by another figure",
    )


def _smallest(
    judged: Judged,
    unit: Unit,
    by_kind: Mapping[str, Least],
    sides: Mapping[str, float | None],
) -> str:
    quantity = judged.finding.quantity
    if quantity not in SMALLEST:
        return at_most(judged.sure_to_tell, judged.finding.unit, unit)
    side = str(where_of(judged.finding.where).side or "")
    one = by_kind.get(SMALLEST[quantity])
    size = sides.get(side) if SMALLEST[quantity] == damage.DOWN else one and one.mm
    return at_most(size, "mm", unit) if size else NOT_KNOWN


# What nobody reached, what somebody signed --------------------------------------------------------


def _unreached(survey: Survey, library: Library, told: set[StepId]) -> list[str]:
    """Places noted as not reached on pages that the list of gaps does not name."""
    found = []
    for look in survey.standing(Look):
        step = steps_of(survey, library).get(step_of(look.prompt))
        if look.seen == "not-reached" and (step is None or step.id not in told):
            found.append(step.title if step else clean_line(str(look.prompt), 60))
    return list(dict.fromkeys(found))


def _opinions(survey: Survey, whole: bool) -> Iterator[Block]:
    """Every one in its words; of very many the names, with how many each has signed."""
    said = opinion_lines(survey)
    if not said:
        return
    yield Heading("opinions", "Opinions, beside the program's answer and never in its place")
    if whole or len(said) == 1:
        yield items(said)
        return
    names = Counter(clean_line(o.by, 60) or "nobody" for o in survey.standing(Opinion))
    who = "; ".join(f"{name} ({n})" for name, n in names.items())
    yield Paragraph(f"{len(said)}, whose words stand behind this page, signed by {who}.")


def _signing(unknown: Sequence[str]) -> Iterator[str]:
    """What is written in by hand. unknown: what was not noted of the car."""
    if unknown:
        yield "   ".join(f"{cap(name)} {SHORT_FREE}" for name in unknown)
    yield f"Measured by {FREE}   Date ____________   Read by {FREE}   Date ____________"
