"""As last time: what a question of a re-check is answered with where all is as it was.

It is the person's own answer, given today: of a choice or a few words last time's are written down
again, and at a look or a place each look gets a row of its own with how well it was seen today. No
reading is ever kept so.
"""

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from typing import NamedTuple

from wizard.library.kinds import NOT_SURE, PLACE, Seen
from wizard.library.places import NO_PLACE, PromptId, prompt_id, state_field
from wizard.library.shapes import SEEN
from wizard.readings.plain import clean_line, pattern
from wizard.readings.refused import Refused
from wizard.survey.answer import Refusal, answer
from wizard.survey.prompts import Part, Prompt, covered_by, found_at, offered, together_of, wanting
from wizard.survey.record import Survey
from wizard.survey.rows import Look
from wizard.survey.walk import Page, hanging

SAME = "="
"""What says it in one letter."""
_SAID = (
    r"(?:all |just |the |it is |it's |still |every ?thing )*"
    r"(?:same(?: as (?:last time|before|then|last))?|as (?:last time|before|then)"
    r"|unchanged|no change|not changed)"
)
"""What people type for it."""
_LETTERS = {word: letter for letter, word in SEEN.items()}
SEEN_LETTERS = frozenset(letter for letter in SEEN if letter != "n")
"""How well something may be seen that is as last time."""


class By(NamedTuple):
    """Who answers, and when."""

    at: datetime
    by: str


def says_same(text: str) -> bool:
    """Whether the words, alone, say that it is as last time."""
    said = clean_line(text, 200).lower().strip(" .!")
    return said == SAME or pattern(_SAID).fullmatch(said) is not None


def marked(text: str) -> str:
    """The line with `=` for whatever says that all is as last time; unchanged where nothing does."""
    if SAME in text:
        return text
    return pattern(_SAID).sub(SAME, text.lower(), count=1)


def can_keep(prompt: Prompt | None, earlier: Survey | None) -> bool:
    """Whether last time's answer may stand for today's: there is one, and it is not of the day."""
    if prompt is None or earlier is None or prompt.today or prompt.kind.measures:
        return False
    if prompt.kind.gathers:
        return any(_seen_then(part.look, earlier) for part in prompt.parts)
    if prompt.kind.looks:
        return _seen_then(prompt, earlier)
    return bool(said_then(prompt, earlier))


def may_keep(prompt: Prompt) -> bool:
    """Whether it is a question, and no look, that last time's answer may stand for."""
    asks = prompt.kind.chooses or prompt.kind.tells
    return asks and not prompt.today and not any(c.stands for c in prompt.choices)


def said_then(prompt: Prompt, earlier: Survey) -> str:
    """Last time's answer to a choice or a few words, as it would be typed; empty where there is
    none that may be given today.
    """
    if not may_keep(prompt):
        return ""
    said = answer_then(prompt, earlier)
    if prompt.kind.tells:
        return "" if said == "-" or says_same(said) else said
    return said if said in {c.token for c in offered(earlier, prompt).choices} else ""


def answer_then(prompt: Prompt, earlier: Survey) -> str:
    """The answer; of the state what it was in the end, but for what a later page changes: the
    engine is lifted, and the car is set on other supports than it was found on.
    """
    answered, kept = earlier.answer_to(prompt.id), state_field(prompt.keep)
    if not kept or (kept in ("engine", "supports") and answered):
        return answered
    return str(getattr(earlier.state(), kept, "")) or answered


def _seen_then(look: Prompt, earlier: Survey) -> bool:
    """Whether somebody saw something, or nothing, there: not reached is no look."""
    return not look.today and any(k.answer for k in earlier.looks_at(look.id))


# A look, or all the looks of a place ------------------------------------------------------------


def kept(
    survey: Survey,
    prompt: Prompt,
    line: str,
    earlier: Survey,
    by: By,
    prompts: Mapping[PromptId, Prompt],
) -> Survey | Refusal:
    """The survey with each look as it was last time, seen as well as the line says: `b =`.

    What nobody saw last time stays open, and so does what the line says there is to tell about.
    prompts: all of this kind of frame, by id.
    """
    try:
        seen = _how(prompt, marked(line))
    except Refused as refused:
        return Refusal(str(refused))
    if not seen.how:
        return Refusal(f"Say how well you see it today too: {HOW}.")
    if seen.how == SEEN["n"]:
        return Refusal("What you do not reach today is not as last time. Type n alone.")
    if not prompt.kind.gathers:
        lines = [(prompt, _typed(prompt, earlier, _LETTERS[seen.how]))]
    else:
        entry, lines = _at_place(survey, prompt, seen, earlier)
        lines = [(prompt, entry), *lines]
    return _answered(survey, [*lines, *_hanging(lines, earlier, prompts)], by)


HOW = "b = for bare and as last time, p = painted, d = under dirt"
Lines = list[tuple[Prompt, str]]
"""Prompts and what would be typed at them, in the order of typing."""


def _how(prompt: Prompt, line: str) -> Seen:
    """How well it was seen, and of which looks something else is said. Raises Refused."""
    said = line.replace(SAME, " ").strip(" ,;")
    return PLACE.seen({p.letter: p.name for p in prompt.parts}, said) if said else Seen("", {}, ())


def _at_place(survey: Survey, place: Prompt, seen: Seen, earlier: Survey) -> tuple[str, Lines]:
    """The entry for the place, and a line for each of its looks at which something was found."""
    how = _how_each(survey, place, seen)
    found = [p for p in place.parts if how.get(p.letter, "n") != "n" and found_at(earlier, p.look)]
    told = {*seen.tell, *(p.letter for p in found), *_unseen(place, how, seen, earlier)}
    entry = " ".join([_LETTERS[seen.how], *(p.letter for p in place.parts if p.letter in told)])
    plain = (f"{x} {how[x]}" for x in seen.but if x not in told)
    return "; ".join([entry, *plain]), [
        (p.look, _typed(p.look, earlier, how[p.letter])) for p in found
    ]


def _how_each(survey: Survey, place: Prompt, seen: Seen) -> dict[str, str]:
    """How well each look is seen of which the line says so, by the letters of both."""
    there = {p.letter: _LETTERS[seen.how] for p in covered_by(survey, place)}
    there |= {x: _LETTERS[how] for x, how in seen.but.items()}
    return {x: how for x, how in there.items() if x not in seen.tell}


def _unseen(place: Prompt, how: Mapping[str, str], seen: Seen, earlier: Survey) -> set[str]:
    """Letters of the looks that nobody took last time and of which the line does not speak."""
    speaks = {*seen.but, *seen.tell}
    parts = (p for p in place.parts if p.letter in how and p.letter not in speaks)
    return {p.letter for p in parts if not _seen_then(p.look, earlier)}


def _typed(look: Prompt, earlier: Survey, how: str) -> str:
    """`b p k`: as well as it is seen today, what was seen last time."""
    then = [k.answer for k in earlier.looks_at(look.id)]
    return " ".join((how, *(c.letter for c in (*look.choices, NOT_SURE) if c.token in then)))


def _hanging(
    lines: Lines, earlier: Survey, prompts: Mapping[PromptId, Prompt]
) -> Iterator[tuple[Prompt, str]]:
    """Where it was, and whatever else was told of what was found."""
    for look, _ in lines:
        if look.kind.looks and found_at(earlier, look):
            told = ((p, said_then(p, earlier)) for p in hanging(look, prompts))
            yield from ((p, said) for p, said in told if said)


def _answered(survey: Survey, lines: Iterable[tuple[Prompt, str]], by: By) -> Survey | Refusal:
    """Every line as if it were typed; the first that is refused refuses all."""
    for prompt, line in lines:
        found = answer(survey, prompt, line, at=by.at, by=by.by)
        if not isinstance(found, Survey):
            return Refusal(found.says)
        survey = found
    return survey


def said_together(
    survey: Survey, prompt: Prompt, line: str, by: By, prompts: Mapping[PromptId, Prompt]
) -> Survey | None:
    """The survey with several questions of a page answered by one letter, each in a row of its own
    as if it were typed; None where the line is another answer. prompts: all of this kind of frame,
    by id.
    """
    one = together_of(survey, prompt)
    if one is None or line.strip().lower() != one.letter:
        return None
    asked = [(prompts[prompt_id(prompt.step, NO_PLACE, last)], letter) for last, letter in one.says]
    found = _answered(survey, asked, by)
    return found if isinstance(found, Survey) else None


BOTH = "both"
"""Behind the entry for a place it says that the other side is as this one."""


def says_both(line: str) -> bool:
    """Whether an entry for a place speaks for the other side too."""
    return BOTH in line.lower().split()


def at_both(survey: Survey, places: Iterable[Prompt], line: str, by: By) -> Survey | Refusal:
    """The survey with one entry for each of two places, as if it were typed at each."""
    one = " ".join(word for word in line.split() if word.lower() != BOTH)
    return _answered(survey, [(place, one) for place in places], by)


def page_kept(survey: Survey, page: Page, earlier: Survey, by: By) -> tuple[Survey, Lines]:
    """The survey with each open question of a page as it was last time, but for looks; with what was
    answered so.
    """
    lines: Lines = []
    for prompt in page.prompts:
        if prompt.kind.counts or prompt.kind.gathers or not wanting(survey, prompt):
            continue
        if can_keep(prompt, earlier):
            found = _answered(survey, [(prompt, said_then(prompt, earlier))], by)
            if isinstance(found, Survey):
                survey = found
                lines.append((prompt, said_then(prompt, earlier)))
    return survey, lines


# What was found last time and is said to be gone -------------------------------------------------


def gone_of(before: Survey, after: Survey, place: Prompt, earlier: Survey) -> tuple[Part, ...]:
    """The looks of a place of which one entry says that nothing is there, where last time something
    was.
    """
    old = {k.id for k in before.table(Look)}
    new = {k.prompt for k in after.standing(Look) if k.id not in old and k.answer}
    return tuple(p for p in place.parts if p.look.id in new and _is_gone(p.look, earlier, after))


def _is_gone(look: Prompt, earlier: Survey, now: Survey) -> bool:
    return found_at(earlier, look) and not found_at(now, look)
