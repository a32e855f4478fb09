"""One survey as it is typed, line by line, by a person who answers what is asked.

The same path as `crosstape ask`: a Sitting takes each line, gates and cautions stand where they
stand, what is doubted is read once more. Only the file is not written.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from tests.bench.sentences.hands import RULERS, Bench
from tests.bench.sentences.story import LAYOUT, STANDING, Story, of_state
from tests.places import entry
from wizard.library.shapes import Library
from wizard.sitting.foretold import foretell_with
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.sitting.taking_back import more, offered
from wizard.survey.again import settled
from wizard.survey.guide import Ask, guide_of, is_open
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Reading
from wizard.survey.standing import why_held

BEGUN = datetime(2026, 4, 11, 9)
PACE = timedelta(seconds=25)
PASSED = ("panel-gaps", "pulley-hint", "diagonals-below")
MOST = 900
"""Lines after which a survey is going in a circle."""


class Unsaved(Sitting):
    """A sitting whose survey is kept in memory alone, and who looks for what comes next on the page
    in front before he asks for all pages: the same is asked in half the time.
    """

    def _behind(self, survey: Survey, target: Ask | None, asked: Ask | None) -> Ask | None:
        if target is None or asked != target or not target.prompt.kind.measures:
            return super()._behind(survey, target, asked)
        step, now = self.library.steps[target.prompt.step], self.now()
        why = why_held(survey, self.library, now)
        asks = guide_of(survey, self.library).page(step, why).asks
        if target not in asks:
            return super()._behind(survey, target, asked)
        behind = asks[asks.index(target) + 1 :]
        on_page = (ask for ask in behind if is_open(survey, ask))
        return next(on_page, None) or super()._behind(survey, target, asked)

    def _commit(self, survey: Survey) -> Reply | None:
        by_id = guide_of(survey, self.library).questions.by_id
        self.survey, self.pending = settled(survey, by_id), None
        return None


@dataclass
class Doubt:
    """One doubt at the prompt."""

    prompt: str
    says: str
    slip: str
    """What the doubted reading had slipped by; empty where it was sound."""


@dataclass
class Typed:
    """A whole survey, and what is known of its readings."""

    survey: Survey
    slipped: dict[str, str] = field(default_factory=dict)
    """Id of a reading that stands: what it slipped by."""
    doubts: list[Doubt] = field(default_factory=list)
    found: set[str] = field(default_factory=set)
    """Of the slipped readings that stand, those that were doubted at the prompt."""
    put_right: list[tuple[str, str]] = field(default_factory=list)
    """Prompt and kind of each slip that was doubted and read again, so that it stands no more."""
    lines: int = 0
    at: datetime = BEGUN

    @property
    def slipped_prompts(self) -> dict[str, str]:
        """Id of a reading that stands and slipped: its prompt."""
        standing = self.survey.standing(Reading)
        return {r.id: r.prompt for r in standing if r.id in self.slipped}


def typed(
    car: Bench,
    story: Story,
    library: Library,
    rng: random.Random,
    said: Mapping[str, str] | None = None,
    each: Callable[[Sitting, Prompt], None] | None = None,
    offers: bool = False,
) -> Typed:
    """The survey of a car by a hand. said: what is answered otherwise than by everybody; each: is told
    of each line once it is taken, with what it answered; offers: whether a reading that would settle
    what is open is taken where it is offered.
    """
    clock = [BEGUN]
    start = Survey(id="bench", started=BEGUN)
    sitting = Unsaved(library, survey=start, now=lambda: clock[0], foretell=foretell_with(library))
    done = Typed(start)
    answers = {**_answers(car, story, rng), **(said or {})}
    with_axles = rng.random() < 0.5
    while (ask := sitting.ask) is not None and done.lines < MOST:
        clock[0] += PACE
        done.lines += 1
        prompt = ask.prompt
        if prompt.kind.gathers:
            line = entry(sitting.survey, prompt, lambda id: _look(id, answers.get(id, "o"), story))
        else:
            line = _line(prompt, car, story, answers, with_axles)
        if prompt.kind.measures and line != "-":
            _reading(sitting, prompt, line, car, done)
        else:
            reply = sitting.enter(line)
            if reply.kind in ("refused", "doubted"):
                raise LookupError(f"{prompt.id}: {line!r}: {reply.says}")
        if each is not None:
            each(sitting, prompt)
        if offers:
            _take_offer(sitting, prompt)
    if done.lines >= MOST:
        raise LookupError(f"no end at {ask.prompt.id if ask else ''}")
    done.survey, done.at = sitting.survey, clock[0]
    return done


def _take_offer(sitting: Sitting, asked: Prompt) -> None:
    """Types `+` where a reading more is offered behind what was asked."""
    offered(sitting, asked, Reply("taken"))
    if sitting.offered:
        more(sitting, "")


def _reading(sitting: Sitting, prompt: Prompt, line: str, car: Bench, done: Typed) -> None:
    """One reading; where it is doubted the person reads once more and types what he reads then.

    That takes the place of the doubted one, or stands beside it as a third, as the program has it.
    """
    slips = [car.slip]
    before = {r.id for r in sitting.survey.standing(Reading)}
    reply = sitting.enter(line)
    if doubted := reply.kind == "doubted":
        done.doubts.append(Doubt(prompt.id, reply.says, car.slip))
        line = car.read(prompt.id, careful=True)
        slips.append("")
        reply = sitting.enter(line)
    if reply.kind == "doubted":
        reply = sitting.enter("")
    if reply.kind in ("refused", "doubted"):
        raise LookupError(f"{prompt.id}: {line!r}: {reply.says}")
    taken = [r.id for r in sitting.survey.standing(Reading) if r.id not in before]
    stands = {id: slip for id, slip in zip(taken[::-1], slips[::-1], strict=False) if slip}
    done.slipped |= stands
    if doubted:  # of two readings that contradict each other either may be off: both are doubted
        there = {r.id for id in _named_with(prompt.id) for r in sitting.survey.readings_of(id)}
        done.found |= there & set(done.slipped)
    if doubted and slips[0] and not stands:
        done.put_right.append((prompt.id, slips[0]))


def _named_with(prompt: str) -> set[str]:
    """What a doubt at a prompt names beside it: both ways round of a level, both axles of a side."""
    return {prompt, prompt.replace("/turned", "/as-set"), prompt.replace("rear-axle", "front-axle")}


def _answers(car: Bench, story: Story, rng: random.Random) -> Mapping[str, str]:
    """What this person answers, before the frame is asked: one mapping for the whole survey."""
    own = {
        "about-the-car/unit": "i" if car.hand.unit == "in" else "m",
        "about-the-car/layout": LAYOUT[car.frame.made.layout],
        "tools/ruler": "p" if RULERS[car.hand.ruler][2] == "plain-ruler" else "s",
    }
    return {**STANDING, **own, **story.answers}


def _line(
    prompt: Prompt, car: Bench, story: Story, answers: Mapping[str, str], with_axles: bool
) -> str:
    """What is typed at a prompt."""
    if prompt.kind.acknowledges:
        return "understood"
    if prompt.kind.looks:
        return _look(prompt.id, answers.get(prompt.id, "o"), story)
    if state := of_state(prompt.id, car.hand.states):
        return state
    if prompt.kind.measures:
        return "-" if _is_passed(prompt, car, with_axles) else car.read(prompt.id)
    said = answers.get(prompt.id, "-" if prompt.optional else "")
    if not said:
        raise LookupError(f"no answer to {prompt.id}: {prompt.ask}")
    return said


LEAST = 30.0
"""mm: nobody tapes less from a plumb line to a dot."""


def _is_passed(prompt: Prompt, car: Bench, with_axles: bool) -> bool:
    """Whether this person leaves out a reading that may be left out."""
    if not prompt.optional:
        return False
    if "axle" in prompt.id:
        return not with_axles or car.true(prompt.id)[0] < LEAST
    return prompt.step in PASSED


def _look(prompt: str, seen: str, story: Story) -> str:
    """Bare, or by turns under paint."""
    painted = not story.bare and sum(map(ord, prompt)) % 2
    return f"{'p' if painted else 'b'} {seen}"
