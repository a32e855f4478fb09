"""Texts that a person asks for at a prompt: why, what spoils it, what a word means, where he is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from wizard.library.places import spoken
from wizard.library.shapes import SEEN, Caution, Choice, Layout, Library, Step
from wizard.survey.guide import Ask
from wizard.survey.minutes import pace_of, span_of
from wizard.survey.prompts import (
    Part,
    Prompt,
    answered,
    found_at,
    still_open,
    told_of,
    wanting,
)
from wizard.survey.record import Survey, number_of
from wizard.survey.rows import Look
from wizard.survey.walk import WAITS, Page

MARKS = {"done": "x", "part": "/", "open": " ", "skipped": "-", "enough": "+", "gone": "."}


ADD = "Do you want to measure a place that the drawing does not have? Type /add to see how."


def why_text(step: Step) -> str:
    """Why the step matters, what a mentor would ask, and where it comes from."""
    return "\n\n".join((step.why, *beside_why(step)))


def beside_why(step: Step) -> list[str]:
    """What is told behind why a step matters, a paragraph each."""
    parts = []
    if step.mentor:
        parts.append(f"A mentor would ask: {step.mentor}")
    if step.caveat:
        parts.append(step.caveat)
    if step.alone:
        parts.append(f"If you are alone: {step.alone}")
    if step.source:
        parts.append(f"Where this comes from: {step.source}.".replace("..", "."))
    if any(p.each in ("place", "box", "station", "level") and p.tool for p in step.prompts):
        parts.append(ADD)
    return parts


def caution_why(caution: Caution, step: Step) -> str:
    """Why a caution stands before the page that it belongs to."""
    parts = [
        f"This caution comes before the page “{step.title}”. The page waits until you type understood."
    ]
    parts.append(
        "Work under or on an old car can hurt you. The caution comes again after two hours, on"
        " another day, for another person, and whenever the car was lifted or its supports, engine or"
        " body were changed."
    )
    parts.append(
        "Where your local rules or a licensed professional say something else, do what they say."
    )
    parts += [f"Where this comes from: {source}" for source in caution.sources]
    return "\n\n".join(parts)


def caution_spoils(caution: Caution, step: Step) -> str:
    """What makes a caution worth nothing."""
    said = f"You type understood at “{caution.title}” and have not done what it says."
    return f"- {said}\n- You go on because you want the page “{step.title}”, and this is not done."


def kinds_text(library: Library) -> str:
    """Every kind of frame in words and from above, for whoever must say which his is most like."""
    from wizard.telling.cells import painted  # few ask: what draws is loaded for them
    from wizard.telling.scene_frame import plan_scene

    parts = []
    for choice, layout in _kinds(library):
        lines = () if layout is library.own else painted(plan_scene(layout), 66, 7, "ascii").lines
        parts.append("\n".join((f"{choice.letter}  {choice.words}", layout.about, *lines)))
    return "\n\n".join(parts)


def _kinds(library: Library) -> Iterator[tuple[Choice, Layout]]:
    """Every kind of frame that can be chosen, with what chooses it; the owner's own are among them."""
    from wizard.library.references import kinds_of
    from wizard.survey.built_frame import layout_in

    there = {layout.id: layout for layout in kinds_of(library)}
    prompts = (p for step in library.steps.values() for p in step.prompts)
    for choice in (c for p in prompts if p.keep == "survey.layout" for c in p.choices):
        layout = layout_in(choice.brings, library) if choice.brings else there.get(choice.token)
        if isinstance(layout, Layout):
            yield choice, layout


def look_text(step: Step) -> str:
    """All that a page says of a look: why, how, and what spoils it."""
    how = "\n".join(f"{n}. {line}" for n, line in enumerate(step.how, start=1))
    return "\n\n".join((step.why, how, spoils_text(step), *beside_why(step)))


def spoils_text(step: Step) -> str:
    """What spoils the reading, how to know that it is good, and what to do where it cannot be had."""
    lines = [f"- {line}" for line in step.spoils]
    parts = ["\n".join(lines), f"Done well: {step.good}"]
    if step.instead:
        parts.append(f"If you cannot: {step.instead}")
    return "\n\n".join(parts)


HELP = (
    "Type your answer and press Enter. An example is beside each question. To type several answers on"
    " one line, put ; between them. To keep a reading that you are sure of, type ! after it. These"
    " words work at every question:"
)


def help_text(groups: Sequence[tuple[str, Sequence[tuple[str, str]]]]) -> str:
    """How one answers, and the words that begin with a slash, group by group under a title each."""
    parts = [f"{title}\n" + "\n".join(map(_command, rows)) for title, rows in groups]
    return "\n\n".join((HELP, *parts))


def _command(row: tuple[str, str]) -> str:
    word, does = row
    return f"/{word:<8} {does}"


def page_state(survey: Survey, page: Page) -> str:
    """done, part, open, skipped, enough (not needed) or gone."""
    if page.gone:
        return "enough" if page.needless else "gone"
    asks = _wanted(page)
    left = still_open(survey, asks)
    if not asks:  # Every prompt dropped out: nothing is wanted here any more.
        return "done"
    if len(left) == len(asks):
        return "open"
    if left:
        return "part"
    if any(answered(survey, a.prompt) for a in asks):
        return "done"
    return "enough" if why_not_needed(survey, page) else "skipped"


def why_not_needed(survey: Survey, page: Page) -> str:
    """What shows that something of a page is not needed; empty where all of it is."""
    return next((why for a in page.asks if (why := survey.folded(a.prompt.id))), "")


def not_needed(why: str) -> str:
    """Why something was not read that need not be."""
    return f"not needed, because {why}"


def _wanted(page: Page) -> list[Ask]:
    """What the page wants to know; a caution that is only acknowledged is none of it."""
    return list(page.asked)


def minutes_left(survey: Survey, pages: tuple[Page, ...]) -> int:
    """About how long the rest takes where nothing is found, from the steps' own minutes, what of each is
    still open, and how quick this person was so far.
    """
    return round(span_of(survey, pages).usual * survey.once(pages, pace_of))


NOWHERE: Mapping[int, str] = {}
TO, LONGER = " to ", " (the longer where something is open)"


def trail_text(
    survey: Survey,
    pages: tuple[Page, ...],
    here: Page | None,
    between: Mapping[int, str] = NOWHERE,
) -> str:
    """Every stop of the walk with its state; the one in front is marked.

    between: what stands behind the page of that place in the walk.
    """
    lines = [
        "x done   / begun   - skipped   + not needed   . left out for this car as it stands",
        "",
    ]
    for n, page in enumerate(pages, start=1):
        number = (  # of every page, so that the worksheet's numbers stay true whatever drops out
            f"{n:>3}"
        )
        mark = MARKS[page_state(survey, page)]
        arrow = ">" if page is here else " "
        lines.append(f"{arrow}{number} [{mark}] {page.title}  ({page.step.id})")
        if page.gone:
            lines.append(f"         {page.gone}")
        elif why := why_not_needed(survey, page):
            rest = "" if page_state(survey, page) == "enough" else "the rest is "
            lines.append(f"         {rest}{not_needed(why)}")
        if n - 1 in between:
            lines.append(f"       {between[n - 1]}")
    left = left_words(survey, pages).capitalize()
    longer = LONGER if TO in left else ""
    lines += ["", f"{left}{longer}. To go to a page, type /go and its number."]
    return "\n".join(lines)


def trail_line(survey: Survey, pages: tuple[Page, ...], here: Page | None) -> str:
    """Where one is, in a few words: `7 of 19, about 50 min left`."""
    at = next((n for n, p in enumerate(pages, start=1) if p is here), len(pages))
    return f"{at} of {len(pages)}, {left_words(survey, pages)}"


def left_words(survey: Survey, pages: tuple[Page, ...], after: str = " left") -> str:
    """`about 50 min left`, or `all answered` where nothing is open. after: words after a time."""
    words, is_time = survey.once(pages, _left)
    return f"{words}{after}" if is_time else words


def _left(survey: Survey, pages: tuple[Page, ...]) -> tuple[str, bool]:
    """What is left in words, and whether they are a time."""
    if not still_open(survey, [a for p in pages for a in p.asks]):
        return "all answered", False
    if any(p.gone.endswith(WAITS) for p in pages):
        return "the rest waits until it stands still", False
    span, pace = span_of(survey, pages), survey.once(pages, pace_of)
    usual, most = (duration(max(round(m * pace), 1)) for m in span)
    return f"about {_upto(usual, most)}", True


def _upto(usual: str, most: str) -> str:
    """Both durations, the unit once.

    >>> [_upto(*pair) for pair in (("3 h", "3 h"), ("3 h", "4 1/2 h"), ("90 min", "2 h"))]
    ['3 h', '3 to 4 1/2 h', '90 min to 2 h']
    """
    if usual == most:
        return usual
    number, _, unit = usual.rpartition(" ")
    return f"{number if most.endswith(f' {unit}') else usual}{TO}{most}"


def duration(minutes: int) -> str:
    """To the nearest five above a quarter of an hour, from an hour and a half on to the half hour:
    nobody knows it better.

    >>> [duration(n) for n in (3, 14, 37, 88, 104, 140, 299)]
    ['3 min', '14 min', '35 min', '90 min', '1 1/2 h', '2 1/2 h', '5 h']
    """
    rounded = minutes if minutes < 15 else 5 * round(minutes / 5)
    if rounded <= 90:
        return f"{rounded} min"
    hours, half = divmod(round(minutes / 30), 2)
    return f"{hours} 1/2 h" if half else f"{hours} h"


# What one entry for a place has written down, said back -------------------------------------------


COUNT = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def said_back(place: Prompt, before: Survey, after: Survey) -> str:
    """How many looks were written down and how well seen, and what is still to be told.

    before, after: the survey before the entry and behind it.
    """
    since = before.last_number()
    rows = {k.prompt: k for k in after.standing(Look) if number_of(k.id) > since}
    there = [p for p in place.parts if p.look.id in rows]
    found = [p for p in there if found_at(after, p.look)]
    by_seen: dict[str, list[Part]] = {}
    for part in there:
        seen = "" if part in found else rows[part.look.id].seen
        by_seen.setdefault(seen, []).append(part)
    by_seen.pop("", None)
    said = [_seen(seen, parts, len(place.parts)) for seen, parts in by_seen.items()]
    return " ".join([*said, *(_found(after, p) for p in found), *_to_tell(place, after)])


def _to_tell(place: Prompt, survey: Survey) -> list[str]:
    """What is still to be told there, in a sentence."""
    told = told_of(survey, place)
    tell = [p for p in place.parts if str(p.look.id) in told and wanting(survey, p.look)]
    return [f"To tell about: {names(tell)}."] if tell else []


def _found(survey: Survey, part: Part) -> str:
    """What stands at a look, and how well it was seen: `Horn: a bend (bare).`"""
    looks = survey.looks_at(part.look.id)
    what = part.look.kind.said(part.look, [k.answer for k in looks], spoken(looks[0].seen))
    return f"{part.name[:1].upper()}{part.name[1:]}: {what}."


def names(parts: Sequence[Part]) -> str:
    """What they are called in the list."""
    return "; ".join(p.name for p in parts)


def _seen(seen: str, parts: Sequence[Part], of: int) -> str:
    """`All seven bare and nothing found.`; fewer than half are named."""
    count = f"All {_count(of)}" if len(parts) == of > 1 else _count(len(parts)).capitalize()
    what = spoken(seen) if seen == SEEN["n"] else f"seen {spoken(seen)}, nothing found"
    which = f": {names(parts)}" if len(parts) * 2 < of else ""
    return f"{count} {what}{which}."


def _count(number: int) -> str:
    return COUNT[number] if number < len(COUNT) else str(number)
