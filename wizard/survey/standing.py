"""How the car stands, and whether anybody may be near it: the push test, and what makes it old.

A push test is good for this sitting and this standing. Source: push test before going under, HSE,
Working under vehicles. That it is done again after two hours, after a change and after every lift:
common practice, no published source. That only a bare frame goes on three points: geometry, and
common practice, no published source.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping
from datetime import datetime
from itertools import takewhile
from typing import TYPE_CHECKING

from wizard.library.places import NO_PROMPT, NO_STEP, PromptId, StepId, step_of, within
from wizard.library.shapes import Library, Step
from wizard.survey.record import PAUSE, Survey, number_of
from wizard.survey.rows import Answer, Reading, Row, Skip, State

if TYPE_CHECKING:
    from wizard.survey.prompts import Prompt

NO_LATER = datetime.max
MOVES = ("state.engine", "state.body", "state.supports")
"""What changes how a car stands, whenever it is answered: also with the same word, since somebody
may have tried.
"""
THREE, WHEELS = "three-points", "wheels"
ROCKING = "The car rocks. Keep out from under it and measure nothing until it stands still."
SUPPORTS = "state.supports"
TIPS = ("rocks", "hangs", "three-points")
"""Reasons for which nobody is even beside it, whatever it stands on."""
REFUSED = ("rocks", "hangs", "nowhere", "three-points", "skipped")
"""Reasons for which pages drop out: nothing but the supports would change them.

The others ask for the push test.
"""


def standing_of(state: State) -> str:
    """Engine, body and supports in one word: what must be the same for a push test or a caution
    still to hold.
    """
    return "/".join((state.engine, state.body, state.supports))


def is_bare(state: State) -> bool:
    """Whether it is a frame with nothing on it: the only thing that goes on three points."""
    return state.engine == "out" and state.body == "off"


def stances(state: State) -> frozenset[str]:
    """How the car may stand: wheels, lifted, bare.

    As long as nobody has said, it may be on its wheels or lifted.
    """
    up = "bare" if is_bare(state) else "lifted"
    if not state.supports:
        return frozenset({"wheels", up})
    return frozenset({"wheels" if state.supports == WHEELS else up})


def same_sitting(survey: Survey, row: Row, now: datetime) -> bool:
    """Whether nobody went away since the row was written: one date, and no pause of two hours
    without an answer.
    """
    if row.at.date() != now.date():
        return False
    told, paused = survey.in_order()
    later = bisect_right(told, (number_of(row.id), NO_LATER))
    if later < paused:
        return False
    first, last = (told[later][1], told[-1][1]) if later < len(told) else (row.at, row.at)
    return abs(first - row.at) < PAUSE and abs(now - last) < PAUSE


def moved_since(survey: Survey, number: int, upto: int | None = None) -> bool:
    """Whether supports, engine or body were answered for behind a row, by an answer that stands or
    was struck.

    upto: number of the last row that is looked at; None for all.
    """
    rows = survey.numbers_keeping(MOVES)
    return any(number < row and (upto is None or row <= upto) for row in rows)


def rolled_since_pushed(survey: Survey, library: Library) -> frozenset[StepId]:
    """Steps that roll the car, where anything was set down since it was last pushed: it may stand
    unchocked now.

    Read or passed over, on its wheels: nobody knows how far he got before he left the page.
    """
    return survey.once(library, _rolled_since_pushed)


def _rolled_since_pushed(survey: Survey, library: Library) -> frozenset[StepId]:
    if survey.state().supports != WHEELS:
        return frozenset()
    push, _ = last_push(survey, library)
    since = number_of(push.id) if push else 0
    rows: tuple[Reading | Skip | Answer, ...] = (
        *survey.table(Reading),
        *survey.table(Skip),
        *survey.table(Answer),
    )
    touched = {step_of(row.prompt) for row in rows if number_of(row.id) > since}
    return frozenset(id for id in touched if id in library.steps and rolls(library.steps[id]))


def rolls(step: Step) -> bool:
    """Whether its moves roll the car, and do not set it up as well."""
    return "rolling" in step.exposes and "lifting" not in step.exposes


def holds(survey: Survey, row: Row, standing: str, now: datetime) -> bool:
    """Whether what was said of this standing still says something of the car as it stands now."""
    return (
        standing == standing_of(survey.state())
        and not moved_since(survey, number_of(row.id))
        and same_sitting(survey, row, now)
    )


def is_push(prompt: Prompt) -> bool:
    """Whether it is a push test: one of its answers says that the car stands still."""
    return any(c.stands == "still" for c in prompt.choices)


def unsettled(survey: Survey, prompt: Prompt) -> bool:
    """Whether a prompt is asked again though it was answered.

    It says that the car rocks; the last push test does; or what it says was changed on its own page
    since.
    """
    if not [c for c in prompt.choices if c.stands]:
        return False
    said = {c.token: c.stands for c in prompt.choices}
    now = said.get(survey.answer_to(prompt.id), "")
    if now == "nowhere":
        return _changed_after(survey, prompt)
    return is_push(prompt) and (
        now == "rocks" or _rocked_last(survey, said) or _changed_after(survey, prompt)
    )


def _rocked_last(survey: Survey, said: Mapping[str, str]) -> bool:
    """Whether the last push test, on whatever page, says so; they all have the same answers."""
    tests = [a for a in survey.standing(Answer) if a.standing]
    return bool(tests) and said.get(tests[-1].answer) == "rocks"


def _changed_after(survey: Survey, prompt: Prompt) -> bool:
    """Whether the supports or the engine were answered for on the page of a push test after it was
    done.
    """
    done = [number_of(a.id) for a in survey.standing(Answer) if a.prompt == prompt.id]
    moved = (a for a in survey.table(Answer) if a.keeps in MOVES and within(a.prompt, prompt.step))
    return bool(done) and any(number_of(a.id) > done[-1] for a in moved)


def last_push(survey: Survey, library: Library) -> tuple[Answer | None, str]:
    """The latest push test, and what it says: still or rocks; None and empty where there is none or
    it was struck.
    """
    return survey.once(library, _last_push)


def _last_push(survey: Survey, library: Library) -> tuple[Answer | None, str]:
    rows = [
        a
        for a in survey.table(Answer)
        if a.prompt in library.pushes
        and library.says_of_standing(a.prompt, a.answer) in ("still", "rocks")
    ]
    last = max(rows, key=lambda a: number_of(a.id), default=None)
    if last is None or last.struck:
        return None, ""
    return last, library.says_of_standing(last.prompt, last.answer)


def no_sound_place(survey: Survey, library: Library) -> bool:
    """Whether another place for jack and stand was looked for and none found, since it was said
    what it rests on.
    """
    chosen = survey.numbers_keeping((SUPPORTS,))
    none = (
        a
        for a in survey.standing(Answer)
        if a.prompt in library.pushes and library.says_of_standing(a.prompt, a.answer) == "nowhere"
    )
    return any(
        survey.answer_to(a.prompt) == a.answer and number_of(a.id) > max(chosen, default=0)
        for a in none
    )


def unsound(survey: Survey, library: Library) -> tuple[PromptId, ...]:
    """The prompts to be answered before it is known that jack and stands go under sound metal; none
    on its wheels.
    """
    return survey.once(library, _unsound)


def _unsound(survey: Survey, library: Library) -> tuple[PromptId, ...]:
    if survey.state().supports == WHEELS:
        return ()
    since = _so_supported_since(survey)
    return tuple(p for look in library.places if (p := _unsound_at(survey, library, look, since)))


def _so_supported_since(survey: Survey) -> int:
    """Number of the answer since which it rests on what it rests on now: other supports stand in
    other places.
    """
    said = [a for a in survey.standing(Answer) if a.keeps == SUPPORTS]
    same = takewhile(lambda a: a.answer == said[-1].answer, reversed(said))
    return min((number_of(a.id) for a in same), default=0)


def _unsound_at(survey: Survey, library: Library, look: PromptId, since: int) -> PromptId:
    looks = [k for k in survey.looks_at(look) if number_of(k.id) > since]
    if looks and all(library.says_of_standing(look, k.answer) == "sound" for k in looks):
        return NO_PROMPT
    other = library.places[look]
    if _found_sound(survey, library, other, since):
        return NO_PROMPT
    return other if looks else look


def _found_sound(survey: Survey, library: Library, other: PromptId, since: int) -> bool:
    """Whether the last answer about another place, given since then, says that it is sound."""
    found = [a for a in survey.standing(Answer) if a.prompt == other and number_of(a.id) > since]
    return bool(found) and library.says_of_standing(other, found[-1].answer) == "sound"


def found_lifted(survey: Survey) -> bool:
    """Whether it already stood on something else than its wheels when it was found."""
    said = [a.answer for a in survey.standing(Answer) if a.keeps == SUPPORTS]
    return bool(said) and said[0] != WHEELS


def rocks(survey: Survey, library: Library) -> bool:
    """Whether no number of it counts: the last push test says that it rocks."""
    return last_push(survey, library)[1] == "rocks"


def why_refused(survey: Survey, library: Library) -> str:
    """rocks, three-points, hangs, nowhere; empty where none of them is so."""
    return survey.once(library, _why_refused)


def _why_refused(survey: Survey, library: Library) -> str:
    if last_push(survey, library)[1] == "rocks":
        return "rocks"
    state = survey.state()
    if state.supports == THREE and not is_bare(state):
        return "three-points"
    if state.supports != WHEELS and no_sound_place(survey, library):
        return "hangs" if found_lifted(survey) else "nowhere"
    return ""


def why_held(survey: Survey, library: Library, now: datetime, here: StepId = NO_STEP) -> str:
    """Why the car is not known to stand, as cautions.toml names it under `holds`; empty where it
    stands.

    here: the page in front. Where that one rolls the car, its own push test comes last.
    """
    refused = why_refused(survey, library)
    if refused:
        return refused
    push, _ = last_push(survey, library)
    why = _why_unknown(survey, library, push, now)
    if not why and rolled_since_pushed(survey, library) - {here}:
        why = "changed"
    if why and _passed_over(survey, library, number_of(push.id) if push else 0, now):
        return "skipped"
    return why


def _why_unknown(survey: Survey, library: Library, push: Answer | None, now: datetime) -> str:
    if push is None:
        return "unpushed"
    if holds(survey, push, push.standing, now):
        return _unknown(survey, library)
    return "changed" if same_sitting(survey, push, now) else "stale"


def _unknown(survey: Survey, library: Library) -> str:
    """What is not known of a car that was pushed and stood still."""
    if not survey.state().supports:
        return "unpushed"
    return "metal" if unsound(survey, library) else ""


def _passed_over(survey: Survey, library: Library, since: int, now: datetime) -> bool:
    """Whether the push test, or what must be known before it, was skipped in this sitting, after
    the last push test.

    One that was left together with the page that rolls the car is still to be asked for.
    """
    asked = {p for p in library.pushes if not rolls(library.steps[step_of(p)])}
    skips = (s for s in survey.standing(Skip) if s.prompt in asked and number_of(s.id) > since)
    return any(
        same_sitting(survey, s, now) and not moved_since(survey, number_of(s.id)) for s in skips
    )
