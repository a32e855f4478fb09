"""What an answer came to, behind what it says itself: what one entry for a place wrote down, what a
page came to that is done with it, what was read last time, and a reading that would settle more.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.library.places import tool_named
from wizard.library.shapes import SEEN
from wizard.readings.warmth import sun_in
from wizard.sitting.mentor import finished
from wizard.sitting.paging import not_as_then
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.sitting.taking_back import offered
from wizard.survey.answer import WARMTH
from wizard.survey.guide import Page, stop_of
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Look, Reading, Tool
from wizard.telling.asking import (
    said_back,
)
from wizard.telling.evening_words import rest_words
from wizard.telling.then_words import not_as_it_stood, then_and_now
from wizard.telling.trust_words import shade_it


def with_more(sitting: Sitting, asked: Prompt | None, reply: Reply, several: bool) -> Reply:
    """The reply with what was read last time, and with a reading that would settle what is open."""
    if not several and not sitting.aside.second:
        reply = _beside(sitting, asked, reply)
    return reply if sitting.aside.reader else offered(sitting, asked, reply)


def placed(sitting: Sitting, asked: Prompt | None, before: Survey, reply: Reply) -> Reply:
    """The reply with what one entry for a place has written down."""
    if asked is None or not asked.kind.gathers or sitting.survey is before:
        return reply
    return replace(reply, says=said_back(asked, before, sitting.survey))


UNCLEAN = (
    "Dirt and paint hide rust and cracks: before you lift there, clean the metal until it is bare and "
    "look again (/back), or take another place."
)


def unclean(sitting: Sitting, asked: Prompt | None, before: Survey, reply: Reply) -> Reply:
    """The reply with what to do where metal on which jack or stand will bear was just called whole,
    and was seen under dirt or paint.
    """
    if asked is None or not (asked.kind.looks or asked.kind.gathers):
        return reply
    known = {k.id for k in before.standing(Look)}
    looks = [k for place in sitting.library.places for k in sitting.survey.looks_at(place)]
    hidden = any(_is_hidden(k, sitting) for k in looks if k.id not in known)
    return _and(reply, UNCLEAN) if hidden else reply


def _is_hidden(look: Look, sitting: Sitting) -> bool:
    """Whether metal was called whole that nobody saw bare."""
    says = sitting.library.says_of_standing(look.prompt, look.answer)
    return look.seen in HIDING and says == "sound"


HIDING = (SEEN["d"], SEEN["p"])


def warned(sitting: Sitting, asked: Prompt | None, reply: Reply) -> Reply:
    """The reply with what to do where the car was just said to stand with a side in the sun, or
    otherwise than last time, and where readings are in already with another tool.
    """
    if asked is None:
        return reply
    reply = _and(reply, _with_another(sitting, asked))
    if asked.keep == WARMTH and sun_in(sitting.survey.state().temperature):
        return _and(reply, shade_it(sitting.survey, sitting.library))
    if sitting.earlier is None:
        return reply
    survey, earlier, library = sitting.survey, sitting.earlier, sitting.library
    return _and(reply, not_as_it_stood(asked, survey, earlier, library, sitting.walk()))


OTHERWISE = (
    "What was read before ({many} so far) stays as it was read then. Was it read like this too? Take it out"
    " (/readings shows the numbers, /strike takes one out) and type it once more."
)


def _with_another(sitting: Sitting, asked: Prompt) -> str:
    """What becomes of the readings that are in, where another tool, or another start of it, was
    just named; empty where there are none, or nothing is otherwise.
    """
    kind = tool_named(asked.keep)
    tool = sitting.survey.tool(kind) if kind else None
    if tool is None:
        return ""
    others = {t.id for t in sitting.survey.table(Tool) if t.kind == tool.kind} - {tool.id}
    read = [r for r in sitting.survey.standing(Reading) if r.tool in others]
    many = "1 reading" if len(read) == 1 else f"{len(read)} readings"
    return OTHERWISE.format(many=many) if read else ""


def came_to(sitting: Sitting, asked: Prompt | None, stop: Page | None, reply: Reply) -> Reply:
    """The reply with what a page came to, once another is in front, and whether it is good to stop."""
    if asked is None or stop is None or asked.kind.acknowledges:
        return reply
    step, here = sitting.library.steps[asked.step], sitting.page()
    gone = sitting.step is not step
    if again := not_as_then(sitting, asked, step):
        return _and(replace(reply, kind="taken"), again)
    page = finished(sitting, step) if gone else ""
    if here is not None and here.step is stop.step and here.prompts[:1] == stop.prompts[:1]:
        return _and(reply, page)
    walk = sitting.walk()
    left = stop_of(walk, asked) or stop
    rest = rest_words(sitting.survey, sitting.library, walk, left, here)
    return _and(reply, page, _passed(sitting, asked), "" if sitting.aside.second else rest)


def _and(reply: Reply, *more: str) -> Reply:
    """The reply with more behind what it says."""
    return replace(reply, says=" ".join(part for part in (reply.says, *more) if part))


def _beside(sitting: Sitting, asked: Prompt | None, reply: Reply) -> Reply:
    """The reply with the reading of last time, now that today's is in."""
    if sitting.earlier is None or asked is None:
        return reply
    old = then_and_now(sitting.survey, sitting.earlier, asked)
    return replace(reply, says=f"{old} {reply.says}".strip()) if old else reply


def _is_left_out(page: Page) -> bool:
    """Whether a stop is not for this car as it stands; what is not needed was said to be."""
    return not page.needless and (bool(page.gone) or not page.prompts)


def _passed(sitting: Sitting, asked: Prompt) -> str:
    """The stops between that are not for this car as it stands: a number left out looks like a page
    missed.
    """
    walk, here = sitting.walk(), sitting.page()
    left = stop_of(walk, asked)
    if here is None or left is None or sitting.came_back:
        return ""
    between = walk[walk.index(left) + 1 : walk.index(here)]
    names = "; ".join(p.title for p in filter(_is_left_out, between))
    if not names:
        return ""
    why = " (/trail says why)" if any(p.gone for p in between) else ""
    return f"Left out for this car as it stands: {names}{why}."
