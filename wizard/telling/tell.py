"""`crosstape tell`: the answer; what lies behind it, part by part; for the mentor also where each number
comes from.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from wizard.checks.case import case_of
from wizard.judgment.answer import Answer, answer_of
from wizard.judgment.bands import Judged
from wizard.judgment.seen import bent_horn
from wizard.judgment.verdict import Verdict
from wizard.library.places import Source
from wizard.library.shapes import Library
from wizard.readings.plain import clean_line
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey
from wizard.survey.rows import Sister
from wizard.survey.rows import Verdict as Shown
from wizard.telling.answer_words import answer_blocks, brief, own_blocks, told_of
from wizard.telling.document import (
    Block,
    Document,
    Item,
    Paragraph,
    Section,
    in_words,
    section,
    section_in_words,
    set_out,
)
from wizard.telling.quantity_names import wording
from wizard.telling.sentences import sentence_and_band
from wizard.telling.text import CLOSE, lines_of, text_of
from wizard.telling.written_down import left_out_section

if TYPE_CHECKING:
    from wizard.judgment.since import Since

MORE = "--all tells why, what it comes from, what to ask a specialist, and every figure."


class Part(NamedTuple):
    """One part of what lies behind the answer."""

    letter: str
    """By which it is opened."""
    words: str
    sections: tuple[str, ...]
    """Ids of the verdict's sections that it holds; empty for all of them."""

    def of(self, found: Iterable[Section]) -> tuple[Section, ...]:
        """Those of the sections that belong to it."""
        return tuple(one for one in found if not self.sections or one.id in self.sections)


PARTS = (
    Part(
        "w",
        "why",
        ("moved", "decides", "suspects", "reasons", "agreement", "edge", "sun", "sister", "noted"),
    ),
    Part("c", "what it comes from", ("causes", "worth-a-look")),
    Part("d", "what can be done", ("choices",)),
    Part("o", "in what order", ("to-do", "order", "again")),
    Part("s", "what to ask", ("questions",)),
    Part("n", "not known", ("untold", "not-seen", "kind", "scope")),
    Part(
        "f", "all figures", ("sound", "axle-set", "where-to-look", "beside", "findings", "left-out")
    ),
    Part("a", "all", ()),
)
"""What is opened by a letter, in the order of the line of keys."""


def part_of_letter(letter: str) -> Part | None:
    """The part that a letter opens; None for any other text."""
    return next((part for part in PARTS if part.letter == letter.strip().lower()), None)


ON = ("g", "go on with the whole survey")
"""The letter that goes on behind a short survey, and what it does."""


def keys_text(short: bool = False, width: int = 10_000) -> list[str]:
    """`w why   c what it comes from   ...`, on lines that part no letter from its words. short: whether it
    is the end of a short survey.
    """
    lines = [""]
    for letter, words in (
        *((part.letter, part.words) for part in PARTS),
        *((ON,) if short else ()),
    ):
        said = f"{letter} {words}"
        more = f"{lines[-1]}   {said}".lstrip()
        lines = [*lines[:-1], more] if len(more) <= width else [*lines, said]
    return lines


def _sections(
    verdict: Verdict, survey: Survey, library: Library, since: "Since | None"
) -> tuple[Section, ...]:
    """What lies behind the answer. Its words are loaded by whoever asks for more than that."""
    from wizard.telling.verdict_words import sections

    word = wording(survey, library)
    return tuple(section_in_words(s, word) for s in sections(verdict, survey, library, since))


def part_sections(
    part: Part,
    verdict: Verdict,
    survey: Survey,
    library: Library,
    earlier: Survey | None = None,
) -> tuple[Section, ...]:
    """What a part opens, section after section; a sentence where it has nothing to say. earlier:
    the survey that this one follows.
    """
    every = (
        *_sections(verdict, survey, library, _since(earlier, survey, library)),
        left_out_section(survey, library),
        section_in_words(findings_section(verdict, survey, library), wording(survey, library)),
    )
    found = tuple(one for one in part.of(every) if one.items)
    return found or (section("nothing", part.words.capitalize(), ["Nothing to say here."]),)


def _since(earlier: Survey | None, survey: Survey, library: Library) -> "Since | None":
    if earlier is None:
        return None
    from wizard.judgment.since import since_of  # most surveys follow none

    return since_of(earlier, survey, library)


def verdict_blocks(
    answer: Answer, survey: Survey, library: Library, level: int = 2
) -> tuple[Block, ...]:
    """The whole verdict: the answer, then part after part under headings of a level."""
    parts = set_out(_sections(answer.verdict, survey, library, answer.since), level)
    return *answer_blocks(told_of(answer, survey, library)), *parts


def verdict_page(
    survey: Survey, library: Library, today: datetime, earlier: Survey | None = None
) -> str:
    """The program's own verdict over what is set down so far, as plain text and as the file keeps it;
    earlier: the survey that it follows.
    """
    return _page(answer_of(survey, library, today, earlier), survey, library)


def _page(answer: Answer, survey: Survey, library: Library) -> str:
    parts = set_out(_sections(answer.verdict, survey, library, answer.since))
    return "\n".join(lines_of((*own_blocks(told_of(answer, survey, library)), *parts)))


def with_verdict(
    survey: Survey, library: Library, at: datetime, by: str, earlier: Survey | None = None
) -> Survey:
    """The survey with the verdict as shown now; unchanged when it already says just that."""
    answer = answer_of(survey, library, at, earlier)
    text = _page(answer, survey, library)
    few_words = brief(told_of(answer, survey, library))
    kept = survey.standing(Shown)
    if kept and (kept[-1].text, kept[-1].brief) == (text, few_words):
        return survey
    id, when = survey.new_id(Shown), at.replace(microsecond=0)
    return survey.with_row(Shown(id=id, at=when, by=by, text=text, brief=few_words))


def tell_text(
    survey: Survey,
    library: Library,
    today: datetime,
    *,
    mentor: bool = False,
    whole: bool = False,
    earlier: Survey | None = None,
) -> str:
    """The answer as plain text; whole, and for the mentor, everything behind it too.

    earlier: the survey that this one follows.
    """
    answer = answer_of(survey, library, today, earlier)
    if mentor or whole:
        told = told_document(answer, survey, library, mentor=mentor)
    else:
        blocks = answer_blocks(told_of(answer, survey, library))
        unused = set_out([left_out_section(survey, library)])
        asked = [Paragraph(line) for line in _asked(answer, library).lines[:1]]
        told = Document(title(survey), (*blocks, *asked, *unused, Paragraph(""), Paragraph(MORE)))
    return text_of(told, replace(CLOSE, numbers=_numbers(answer, survey, library, mentor)))


def _numbers(answer: Answer, survey: Survey, library: Library, mentor: bool) -> dict[str, int]:
    """For the mentor the number of each thing that a line rests on; nothing for anybody else."""
    there = _rested(answer, survey, library) if mentor else {}
    return {str(id): n for n, id in enumerate(there, start=1)}


def title(survey: Survey) -> str:
    """The car and the day."""
    day = f", {survey.started:%Y-%m-%d}" if survey.started.year > 1 else ""
    return clean_line(survey.car or survey.id or "A survey without a name", 200) + day


def told_document(
    answer: Answer, survey: Survey, library: Library, *, mentor: bool = False
) -> Document:
    """The whole result."""
    verdict = answer.verdict
    before = _pairs(verdict, survey, library) if mentor else ()
    behind = [_guessed(survey, library), _rests(answer, survey, library)] if mentor else []
    blocks: tuple[Block, ...] = (
        *before,
        *verdict_blocks(answer, survey, library),
        *set_out([_asked(answer, library)]),
        *set_out([left_out_section(survey, library), *behind]),
        *set_out([findings_section(verdict, survey, library, mentor)]),
        *_thin(survey, library),
    )
    return Document(title(survey), in_words(blocks, wording(survey, library)))


def _thin(survey: Survey, library: Library) -> Sequence[Block]:
    """The rails of which it is known how far they are thin, drawn from end to end."""
    from wizard.telling.thin_picture import thin_pictures  # of most frames nobody asks it

    return thin_pictures(case_of(survey, library))


def _asked(answer: Answer, library: Library) -> Section:
    """What was asked of whoever worked on the frame since the survey before, and what was met."""
    if answer.since is None:
        return section("asked", "", ())
    from wizard.telling.change_words import asked_section  # few surveys follow any work

    return asked_section(answer.since.comparison, library)


def _pairs(verdict: Verdict, survey: Survey, library: Library) -> Sequence[Block]:
    from wizard.telling.mentor import pairs  # most who ask for the result are no mentors

    return pairs(verdict, survey, library)


def _guessed(survey: Survey, library: Library) -> Section:
    """What was expected of each page, beside what it came to."""
    from wizard.telling.written_down import (
        guess_lines,  # most who ask for the result are no mentors
    )

    return section("guesses", "Guesses, each beside what it came to", guess_lines(survey, library))


def _rests(answer: Answer, survey: Survey, library: Library) -> Section:
    """All that a line of the verdict rests on, once, in words and numbered."""
    there = enumerate(_rested(answer, survey, library).values(), start=1)
    words = (f"[{n}] {clean_line(said, 600)}" for n, said in there)
    return section("rests", "What the lines rest on", words)


def _rested(answer: Answer, survey: Survey, library: Library) -> dict[Source, str]:
    """By their ids the words for all that a line of the verdict rests on, in the order of telling."""
    verdict = answer.verdict
    parts = _sections(verdict, survey, library, answer.since)
    ids = dict.fromkeys(id for part in parts for item in part.items for id in item.sources)
    from wizard.telling.sources import opened  # for the mentor alone

    words = ((id, opened([id], verdict, survey, library)) for id in ids)
    return {id: said[0] for id, said in words if said}


def findings_section(
    verdict: Verdict, survey: Survey, library: Library, mentor: bool = False
) -> Section:
    """Every finding in one sentence."""
    layout, bent = layout_of(survey, library), bent_horn(verdict.seen)
    items: list[Item] = []
    sister = bool(survey.standing(Sister))
    for judged in verdict.judged:
        items.append(Item(sentence_and_band(judged, layout, survey.unit, bent)))
        items += _doubts(judged, survey, library) if mentor else []
        items += _by_sister(judged, survey, library, mentor) if sister else []
    return Section("findings", "Every finding", tuple(items))


def _by_sister(judged: Judged, survey: Survey, library: Library, mentor: bool) -> Iterable[Item]:
    from wizard.telling.mentor import sister_items  # few surveys keep a sister frame

    return sister_items(judged, survey, library, parts=mentor)


def _doubts(judged: Judged, survey: Survey, library: Library) -> Iterable[Item]:
    from wizard.telling.mentor import doubt_items

    return doubt_items(judged, survey, library)
