"""What an evening is told beside its pages: what comes next and how long it takes, where it is good to
stop, what is known and what is open.

What draws on the verdict is loaded when somebody asks for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from wizard.library import marks
from wizard.library.shapes import Library
from wizard.readings.plain import and_
from wizard.survey.guide import course_name, guide_of
from wizard.survey.minutes import is_coming, minutes_of, pace_of
from wizard.survey.record import Survey
from wizard.survey.topics import Matter, matters, only_today, rests
from wizard.survey.walk import Page
from wizard.telling.also_words import more_line
from wizard.telling.asking import duration, trail_text
from wizard.telling.document import Block, Item, Paragraph, Table, Terms
from wizard.telling.text import lines_of

if TYPE_CHECKING:
    from wizard.judgment.half_hour import HalfHour, Open

RECHECK = "recheck"
"""The course of an earlier frame measured again."""
TITLE = "What the next half hour would tell"
CHANGES = {"no": "probably not", "perhaps": "perhaps", "yes": "yes"}
TODAY = "and only today"
KNOWN_MEANS = "F8 (/verdict) shows what it came to."
NOTHING_OPEN = (
    "No reading is left to take. What still has to be looked at, or read again, the answer names."
)


def _about(survey: Survey, pages: Sequence[Page], walk: tuple[Page, ...]) -> str:
    """How long pages take this person: `about 25 min`."""
    minutes = minutes_of(survey, pages) * survey.once(walk, pace_of)
    return f"about {duration(max(round(minutes), 1))}"


# One line beside the page -------------------------------------------------------------------------


def _behind(order: Sequence[Page], pages: Sequence[Page]) -> int:
    """The place behind the last of some pages of a walk."""
    return max(n for n, page in enumerate(order, 1) if any(page is p for p in pages))


def next_line(survey: Survey, library: Library, walk: tuple[Page, ...], here: Page | None) -> str:
    """What is known next, going on from here, and how long that takes; empty where nothing is open.

    Read off the pages alone, without any mathematics: it stands beside every one of them.
    """
    found = matters(survey, library, walk)
    at = next((n for n, page in enumerate(walk) if page == here), 0)
    order = (*walk[at:], *walk[:at])
    pairs = ((page, m) for page in order for m in found)
    matter = next((m for page, m in pairs if any(page is p for p in m.left)), None)
    if matter is None:
        return ""
    upto = _behind(order, matter.left)
    today = f", {TODAY}" if only_today(matter, survey) else ""
    return f"Known next: {matter.topic.name}, in {_about(survey, order[:upto], walk)}{today}."


# Where it is good to stop -------------------------------------------------------------------------


def before_words(found: Iterable[Matter]) -> str:
    """What must be read before the engine leaves, the supports move or the body goes on."""
    due = due_before(tuple(found))
    return " ".join(f"{marks.BEFORE[end]}, read {and_(names)}." for end, names in due.items())


def due_before(found: Sequence[Matter]) -> Mapping[str, list[str]]:
    """Names of what is open, by what ends the chance to read it."""
    begun = {m.topic.id for m in found if m.is_begun}
    due: dict[str, list[str]] = {}
    for topic in (m.topic for m in found if m.left and m.topic.until):
        if not topic.once or topic.once in begun:
            due.setdefault(topic.until, []).append(topic.name)
    return due


def rest_words(
    survey: Survey, library: Library, walk: tuple[Page, ...], left: Page, here: Page | None
) -> str:
    """That it is good to stop between the page that was just left and the one in front; empty where it
    is not.
    """
    found = matters(survey, library, walk)
    first = walk.index(left) if left in walk else len(walk)
    upto = walk.index(here) if here in walk else len(walk)
    ends = rests(found, walk)
    some = next((ends[n] for n in range(first, upto) if n in ends), ())
    if any(m.left for m in some) or not any(m.is_begun for m in some):
        return ""
    said = " ".join(filter(None, ("Good to stop here.", _done(some), some[0].topic.stays)))
    if survey.follows:  # what a re-check asks stands in the order of its list, and no engine leaves
        return said.rstrip()
    return f"{said} {before_words(found)}".rstrip()


def _done(some: Sequence[Matter]) -> str:
    """What is done where it is good to stop: of a re-check what it asked, for it leaves much out;
    nothing where somebody skipped any of it.
    """
    survey, topic = some[0].survey, some[0].topic
    skipped = survey.by_prompt().skipped
    if any(skipped.get(a.prompt.id) for m in some for a in m.asks):
        return ""
    return topic.again if course_name(survey) == RECHECK else topic.done


def good_to_stop(survey: Survey, library: Library, walk: tuple[Page, ...]) -> frozenset[int]:
    """The places in the walk behind which it is good to stop."""
    return frozenset(rests(matters(survey, library, walk), walk))


def rest_lines(survey: Survey, library: Library, walk: tuple[Page, ...]) -> Mapping[int, str]:
    """A line for each good place to stop, by the place in the walk behind which it stands."""
    lines, begun = dict[int, str](), 0
    for number, ended in sorted(rests(matters(survey, library, walk), walk).items()):
        some = walk[begun : number + 1]
        took = f" ({_about(survey, some, walk)} more)" if minutes_of(survey, some) else ""
        said = _done(ended).rstrip(".").lower()
        lines[number] = f"-- good to stop{f': {said}' if said else ''}{took} --"
        begun = number + 1
    return lines


def trail_page(
    survey: Survey,
    library: Library,
    walk: tuple[Page, ...],
    here: Page | None,
    left_out: Sequence[str] = (),
) -> str:
    """Every page with its state, and between them where it is good to stop. left_out: what a re-check
    leaves out, in lines; none for any other.
    """
    told = trail_text(survey, walk, here, rest_lines(survey, library, walk))
    return "\n".join([told, *left_out])


# The list -----------------------------------------------------------------------------------------


def open_blocks(survey: Survey, library: Library, now: datetime) -> tuple[Block, ...]:
    """What is known, what is open, what would settle it, how long that takes and whether it may change
    what to do.
    """
    from wizard.judgment.half_hour import half_hour  # numpy only once there is something to compute

    told, walk = half_hour(survey, library, now), guide_of(survey, library).walk(now)
    blocks = [Paragraph(said) for said in _so_far(told)]
    rows = tuple(_row(one, survey, library, now) for one in told.open)
    if not rows:
        told_all = filter(None, (NOTHING_OPEN, more_line(survey, library)))
        return *blocks, *(Paragraph(said) for said in told_all)
    said = tuple((name, Item(SENTENCE.format(*rest))) for name, *rest in rows)
    table = Table("", HEAD, rows, (28, 36, 10, 26), instead=(Terms(said),))
    found = matters(survey, library, walk)
    more = more_line(survey, library)
    rest = filter(None, (_next_rest(survey, walk, found), before_words(found), more))
    return *blocks, *(Paragraph(said) for said in rest), Paragraph(""), table


HEAD = ("Open", "What would settle it", "Min", "Changes answer?")
SENTENCE = "{0}; about {1} min. Changes what to do: {2}."


def open_text(blocks: Iterable[Block]) -> str:
    """The same line by line, each thing that is open in a sentence."""
    told = (b.instead if isinstance(b, Table) else (b,) for b in blocks)
    return "\n".join(lines_of([block for some in told for block in some]))


def _so_far(told: HalfHour) -> list[str]:
    """What is known, and what was left out."""
    known, left_out = ([t.name for t in some] for some in (told.known, told.left_out))
    said = [f"Known so far: {and_(known)}. {KNOWN_MEANS}" if known else "Nothing is known yet."]
    return [*said, f"Left out: {and_(left_out)}."] if left_out else said


def _row(one: Open, survey: Survey, library: Library, now: datetime) -> tuple[str, ...]:
    today = ", only today" if one.today else ""
    minutes = str(max(round(one.minutes), 1))
    return (
        one.topic.name,
        _settles(one, survey, library, now),
        minutes,
        CHANGES[one.changes] + today,
    )


def _settles(one: Open, survey: Survey, library: Library, now: datetime) -> str:
    """The pages that settle it; where all are read, the reading that tells most."""
    if one.pages:
        more = len(one.pages) - 1
        return one.pages[0].title + (f" and {more} more" if more else "")
    from wizard.judgment.fact import facts_of
    from wizard.judgment.sight import verdict_of
    from wizard.telling.fact_words import Tale, would_tell

    verdict = verdict_of(survey, library, now)
    ids = {j.finding.id for j in one.undecided}
    facts = facts_of(verdict, survey, library)
    fact = next((f for f in facts if ids & {j.finding.id for j in f.judged}), None)
    said = would_tell(fact, Tale(verdict, survey, library)) if fact else ""
    return said or "nothing more: it lies right at the limit"


def _next_rest(survey: Survey, walk: tuple[Page, ...], found: Sequence[Matter]) -> str:
    """The next good place to stop, and how far it is."""
    ends = sorted((n, some) for n, some in rests(found, walk).items() if any(m.left for m in some))
    if not ends:
        return ""
    number, some = ends[0]
    stops = some[-1].stops
    there = [p for p in stops if not p.gone or is_coming(p, stops, survey)]
    last = there[-1] if there else walk[number]
    took = _about(survey, walk[: number + 1], walk)
    return f"The next good place to stop: behind {last.title}, in {took}."
