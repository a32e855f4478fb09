"""The brief for whoever straightens a frame: what was found, what is wanted and to within what, with
room for his own figures before and after, and for his answers.

It asks and never teaches: how the work is done is his to say (content/paper.toml has its words).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import groupby
from typing import NamedTuple

from wizard.checks.finding import Finding
from wizard.judgment.answer import Answer, answer_of
from wizard.judgment.change import once
from wizard.judgment.choices import is_seen
from wizard.judgment.correction import Wish, wishes
from wizard.judgment.fact import Fact
from wizard.library import marks
from wizard.library.kinds import NOTE
from wizard.library.places import PointId, PromptId, Tape, asked_of
from wizard.library.shapes import Layout, Library, Work
from wizard.readings.plain import and_, clean_line
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Reading, State
from wizard.telling.amounts import UNITS, about, day, doubt_size, size
from wizard.telling.answer_words import headline, opinion_lines, told_of
from wizard.telling.document import Heading, Item, Items, Paragraph, items
from wizard.telling.fact_words import Tale, other, phrase
from wizard.telling.form import (
    Blank,
    Blanks,
    Codes,
    Field,
    Fields,
    Form,
    FormBlock,
    Numbered,
    Ruled,
    Together,
)
from wizard.telling.front_page import car_marks
from wizard.telling.not_driven import NO_SURVEY, STILL_MOVING
from wizard.telling.numbering import between, numbered_name, point_numbers
from wizard.telling.of_car import lacking, of_car
from wizard.telling.quantity_names import amount, cap, of_bent_horn
from wizard.telling.scene_frame import spots
from wizard.telling.sheet_form import numbered
from wizard.telling.sound_words import in_order
from wizard.telling.state_words import state_words
from wizard.telling.work_order import (
    moved_first,
    moved_rows,
    moved_title,
    own_question,
    question_lines,
)

STOOD = ("engine", "body", "supports")
"""What of a state the shop is told: the load, what props the frame, what it rests on."""
HANDED_OVER = ("Owner", "Shop", "Handed over on")
"""What is written in by hand at the top, behind what nobody noted of the car."""
BEFORE, AFTER = "You, before", "You, after"
"""Heads of the columns in which the shop writes."""
TAPED = (
    *(marks.RAIL_SHIFT, marks.OWN_SIDES, marks.MASH, marks.SWAY, marks.NOSE_OFF),
    *(marks.HORN_OUT, marks.HORN_APART, marks.HORN_BACK),
)
"""Quantities that distances between points tell of: with none of them asked for, no distance is."""
MOST_PAIRS = 6
"""Pairs of taped distances at most: those that differ most."""
EVERY = "All figures stand in the report of {survey}, which whoever gives you this can print."
NOTHING_ASKED = "Nothing that was measured is out so far that it is asked to be put right."
SEEN_ABOVE = "What was seen at the metal stands above; what is advised there is for you to say."


class Told(NamedTuple):
    """What the parts of a brief are told from."""

    survey: Survey
    library: Library
    answer: Answer
    wishes: tuple[Wish, ...]

    @property
    def layout(self) -> Layout:
        """The kind of frame, with the owner's own places."""
        return layout_of(self.survey, self.library)

    @property
    def tale(self) -> Tale:
        """What words are found by."""
        return Tale(self.answer.verdict, self.survey, self.library)

    @property
    def bent(self) -> str:
        """The side of the horn that was seen bent, the other one sound; empty where none is told."""
        return self.answer.verdict.bent

    @property
    def moves(self) -> bool:
        """Whether it must be treated as still moving."""
        return self.answer.since is not None and bool(self.answer.since.alarming)

    @property
    def looked(self) -> tuple[Fact, ...]:
        """What was seen at the metal and is no sound frame."""
        return tuple(f for f in self.answer.facts if f.seen and f.deed not in ("leave", "watch"))


def shop_brief(
    survey: Survey,
    library: Library,
    today: datetime,
    earlier: Survey | None = None,
    checksum: str = "",
) -> Form:
    """The whole brief, of the survey as it stands. earlier: the survey that it follows: what moved
    since comes before all that was so already. checksum: of the survey's file; empty for one that
    lies in none.
    """
    asked = wishes(survey, library)
    of = clean_line(survey.id, 60)
    told = Told(survey, library, answer_of(survey, library, today, earlier), asked)
    parts: Iterator[Together | Numbered | None] = iter(
        (
            _head(told),
            _first_of_all(told),
            _signed_beside(told),
            _moved(told),
            _wanted(told),
            _stays(told),
            _works(told),
            numbered(told.layout, point_numbers(told.layout)) if asked else None,
            _taped(told),
            _questions(told),
            _signed(of, checksum),
        )
    )
    car = clean_line(survey.car, 40) or "a frame"
    title, there = f"Brief for the shop: {car}", tuple(part for part in parts if part)
    return Form(title, there, close=True, of=_foot(of, checksum))


def _foot(of: str, checksum: str) -> str:
    """`Survey bramble-2026-04-11, checksum 0123456789abcdef.`; empty where nothing is known."""
    known = [f"survey {of}"] if of else []
    known += [f"checksum {checksum}"] if checksum else []
    return f"{cap(', '.join(known))}." if known else ""


def _head(told: Told) -> Together:
    survey = told.survey
    car = clean_line(survey.car, 120) or "A frame without a name"
    by = clean_line(_measured_by(survey), 60)
    title = f"Brief for the shop: {car}, surveyed {day(survey)}" + (f" by {by}" if by else "")
    names = (*map(cap, lacking(survey, told.library)), *HANDED_OVER)
    fields = [Field(name, 38) for name in names]
    rows = tuple(tuple(fields[n : n + 2]) for n in range(0, len(fields), 2))
    there = [one.words for one in of_car(survey, told.library) if not one.stays]
    noted = [f"{cap(words)}." for words in (*car_marks(survey, told.library), *there)]
    opening = told.library.paper.brief.opening
    return Together((Heading("brief", title, 1), Fields(rows), items((*noted, *opening))))


def _measured_by(survey: Survey) -> str:
    """Who took the readings that stand; several with commas."""
    return ", ".join(dict.fromkeys(r.by for r in survey.standing(Reading) if r.by))


def _first_of_all(told: Told) -> Together:
    """The answer, what was seen, and how it stood."""
    answer = headline(told_of(told.answer, told.survey, told.library))
    seen = "; ".join(dict.fromkeys(phrase(f, told.tale) for f in told.looked))
    lines = [Item(f"Seen at the metal: {seen}.")] if seen else []
    stood = [state_words(s, told.library, STOOD) for s in told.survey.standing(State)]
    ways = list(dict.fromkeys(words for words, _ in groupby(stood)))
    if ways:
        said = "; then ".join(ways)
        where = clean_line(told.survey.state().stood, 200)
        said += f". The supports: {where}" if where else ""
        lines.append(Item(f"How it stood: {said}. {told.library.paper.brief.standing}"))
    head = Heading("found", "What was found")
    first = [Paragraph(answer, strong=True)]
    if told.moves:
        first.append(Paragraph(STILL_MOVING, strong=True))
    return Together((*first, Items(tuple(lines))), head)


def _moved(told: Told) -> Together | None:
    """Each figure of what moved since last time, then and now, with room for the shop's own."""
    since = told.answer.since
    if since is None or not since.alarming:
        return None
    rows = moved_rows(since, told.layout, told.survey.unit)
    numbered_rows = tuple((f"M{n}", *row) for n, row in enumerate(rows, start=1))
    names = ("", "What and where", "Then", "Now", "Moved by", "Give or take")
    table = Ruled("", names, numbered_rows, (4, 36, 11, 12, 9, 8), (BEFORE, AFTER), plain=2)
    asked = Paragraph(f"{moved_first(since)} Measure it first.")
    return Together((table, asked), Heading("moved", f"{moved_title(since)}: this comes first"))


def _signed_beside(told: Told) -> Together | None:
    """The opinions that somebody signed beside the answer."""
    said = opinion_lines(told.survey)
    head = Heading("opinions", "Signed beside that, and never in its place")
    return Together((items(said),), head) if said else None


# What is wanted -----------------------------------------------------------------------------------


def _wanted(told: Told) -> Together:
    """A row for each figure; first those that are known to be out."""
    head = Heading("wanted", "What is wanted")
    if not told.wishes:
        said = f"{NOTHING_ASKED} {SEEN_ABOVE}" if told.looked else NOTHING_ASKED
        return Together((Paragraph(said),), head)
    rows = [_row(n, wish, told) for n, wish in enumerate(told.wishes, start=1)]
    names = ("", "What and where", "Found", "Give or take", "Wanted", "To within")
    table = Ruled("", names, tuple(rows), (4, 36, 13, 8, 8, 9), (BEFORE, AFTER), plain=2)
    open_ones = [n for n, wish in enumerate(told.wishes, start=1) if not wish.sure]
    blocks: list[FormBlock] = [table]
    if open_ones:
        blocks.append(
            Paragraph(
                f"It is not known yet whether anything has to be done at {_numbered(open_ones)}:"
                " please measure there first, and say what you found."
            )
        )
    return Together(tuple(blocks), head)


def _row(n: int, wish: Wish, told: Told) -> tuple[str, ...]:
    finding, unit = wish.found.finding, told.survey.unit
    at_horn = of_bent_horn(finding, unit, told.bent)
    name, much = at_horn or (numbered_name(finding, told.layout), amount(finding, unit))
    return (
        f"{n}",
        cap(name),
        much,
        doubt_size(wish.found.told_half, finding.unit, unit),
        about(0.0, finding.unit, unit),
        size(wish.within, finding.unit, unit),
    )


class Pair(NamedTuple):
    """A taped distance and its twin on the other side."""

    tape: Tape
    found: Finding
    twin: Finding

    @property
    def apart(self) -> float:
        """By how much they differ, mm."""
        return abs(self.found.value - self.twin.value)


def pairs(survey: Survey, library: Library) -> tuple[Pair, ...]:
    """Every taped distance that was read on both sides, those that differ most first."""
    tapes: dict[Tape, Finding] = {}
    for finding in once(survey, library).findings.values():
        tape = asked_of(PromptId(str(finding.where))).tape
        if finding.quantity == marks.LENGTH and tape is not None:
            tapes[tape] = finding
    found: list[Pair] = []
    told: set[Tape] = set()
    for tape, finding in tapes.items():
        twin = tapes.get(tape.other) or tapes.get(Tape(tape.other.end, tape.other.start))
        if twin is not None and twin is not finding and tape not in told:
            found.append(Pair(tape, finding, twin))
            told |= {tape.other, Tape(tape.other.end, tape.other.start)}
    return tuple(sorted(found, key=lambda p: -p.apart))


def _as_shown(finding: Finding, unit: Unit) -> float:
    """A distance as it stands in the table, mm: beside two stands what these differ by."""
    step = UNITS["mm"].least(unit)
    return round(finding.value / step) * step


def _taped(told: Told) -> Together | None:
    """From where to where: the distances that tell of it, each beside its twin."""
    every = pairs(told.survey, told.library)
    if not every or not any(w.found.finding.quantity in TAPED for w in told.wishes):
        return None
    unit, numbers = told.survey.unit, point_numbers(told.layout)
    rows = []
    for pair in every[:MOST_PAIRS]:
        rows.append(
            (
                _between(pair.tape.ends, numbers, told.layout),
                amount(pair.found, unit),
                between(pair.tape.other.ends, numbers),
                amount(pair.twin, unit),
                about(_as_shown(pair.found, unit) - _as_shown(pair.twin, unit), "mm", unit),
            )
        )
    names = ("From point to point", "Found", "And", "Found", "Apart by")
    both = (f"{BEFORE}, both", f"{AFTER}, both")
    table = Ruled("", names, tuple(rows), (26, 11, 8, 11, 8), both)
    said = "On a straight frame the two of a line are alike. The numbers are those of the drawing."
    more = len(every) - MOST_PAIRS
    left = f" {more} more pairs, all nearer to alike, are in the report." if more > 0 else ""
    return Together((Paragraph(said + left), table), Heading("taped", "From point to point"))


def _between(ends: tuple[PointId, PointId], numbers: dict[PointId, int], layout: Layout) -> str:
    known = spots(layout)
    names = " to ".join(known[end].name if end in known else str(end) for end in ends)
    return f"{between(ends, numbers)}: {names}"


# What must stay, what can be asked for, what to answer --------------------------------------------


def _stays(told: Told) -> Together:
    fine = "; ".join(words for words, _ in in_order(told.answer.verdict, told.layout, told.library))
    sound = [f"Found in order, and to be found so afterward: {fine}."] if fine else []
    lines = (*sound, *_sound_horn(told), *told.library.paper.brief.keep)
    return Together((items(lines),), Heading("stays", "What must not be moved"))


def _sound_horn(told: Told) -> Iterator[str]:
    """The horn that is not to be moved, where the other one is to be brought back to it."""
    if told.bent and any(w.found.finding.quantity in marks.HORNS for w in told.wishes):
        yield (
            f"The {other(told.bent)} horn: it was seen bare and nothing was found there. The"
            f" {told.bent} one is brought back to it."
        )


def _works(told: Told) -> Together:
    """Each with a box for the shop's mark, and what here points to it."""
    works = [w for w in told.library.paper.brief.works if not w.ours]
    lines = [f"[   ] {work.name}. {work.words}{_points_to(work, told)}" for work in works]
    return Together(
        (items(lines),), Heading("works", "What can be asked for: mark what you advise")
    )


def _points_to(work: Work, told: Told) -> str:
    looked = (f for f in told.looked if is_seen(f, work))
    what = [*_lines_of(work, told), *(phrase(f, told.tale) for f in looked)]
    return f" Here: {'; '.join(dict.fromkeys(what))}." if what else ""


def _lines_of(work: Work, told: Told) -> Iterator[str]:
    """`lines 2 and 3`: the figures asked for that point to it; none before it is known why the frame
    moved.
    """
    if told.moves:
        return
    wished = enumerate((w.found.finding.quantity for w in told.wishes), start=1)
    numbers = [n for n, quantity in wished if quantity in work.of]
    if numbers:
        yield _numbered(numbers)


def _numbered(lines: Sequence[int]) -> str:
    """Numbers of lines, in rising order; those that follow one another by their ends.

    >>> _numbered([4]), _numbered([2, 3]), _numbered([1, 2, 3, 4, 6])
    ('line 4', 'lines 2 and 3', 'lines 1 to 4 and 6')
    """
    runs: list[list[int]] = []
    for n in lines:
        if runs and runs[-1][-1] == n - 1:
            runs[-1].append(n)
        else:
            runs.append([n])
    long = 3  # two are named
    said = [[f"{run[0]} to {run[-1]}"] if len(run) >= long else map(str, run) for run in runs]
    return f"line{'s' if len(lines) > 1 else ''} {and_([one for run in said for one in run])}"


def _questions(told: Told) -> Together:
    every = (
        *own_question(told.survey, told.library),
        *question_lines(told.answer.verdict, told.layout, told.answer.since),
    )
    own = [item.text for item in every]
    asked: Sequence[str] = (*dict.fromkeys([*told.library.paper.brief.questions, *own]),)
    blanks = tuple(Blank(NOTE, text, "", "", Codes("", ()), "") for text in asked)
    return Together((Blanks(blanks),), Heading("questions", "Please answer"))


def _signed(of: str, checksum: str) -> Together:
    """of: the survey's id; empty for one that has none; the checksum likewise."""
    rows = (
        (Field("Begun on", 38), Field("Finished on", 38)),
        (Field("For the shop, name", 38), Field("Signed", 38)),
        (Field("For the car, name", 38), Field("Signed", 38)),
    )
    name = f"survey {of}" if of else "this survey"
    every = EVERY.format(survey=f"{name} (checksum {checksum})" if checksum else name)
    lines = (Paragraph(every), Paragraph(NO_SURVEY, strong=True))
    return Together((Fields(rows), *lines), Heading("signed", "Signed"))
