"""How many lines a survey wants typed: to the first tape on the frame, and to its end.

Each kind of frame straight, with one fault and with two, typed prompt by prompt by a hand that
makes no slips: the car together and its body bolts slack, on stands under the axles, everything
seen bare. What is doubted is typed once more and counted. A caution that is acknowledged is counted
apart. Pages are those that come in front, each as often as it does. Minutes are what the pages say at
the beginning, and what they say of all that was answered in the end, what an answer opened with it.

Run from the project's folder: python -m tests.bench.entries
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from tests.bench.sentences import faults, hands, story
from tests.bench.sentences.frame import all_layouts
from tests.bench.sentences.story import LAYOUT, STANDING, Story
from tests.bench.sentences.walk import BEGUN, PACE, PASSED, Unsaved
from tests.places import entry
from wizard.judgment.short_list import steps_worth
from wizard.library import load_library
from wizard.library.shapes import Library
from wizard.sitting.foretold import foretell_with
from wizard.sitting.paging import same
from wizard.sitting.reply import Reply
from wizard.survey.follow import following
from wizard.survey.minutes import span_of, taken
from wizard.survey.prompts import Prompt, together_of, wanting
from wizard.survey.record import Survey
from wizard.survey.walk import twin_of

TOGETHER: Mapping[str, str] = {
    "state/engine": "i",
    "state/body": "l",
    "state/found": "w",
    "state/panels": "y",
    "set-supports/supports": "a",
    "set-supports/stood": "under the axle beam, inside the springs",
    "lift-engine/engine": "w",
    "consequences/hood-gap": "e",
    "consequences/door-gaps": "e",
    "consequences/fan": "m",
    "consequences/steering": "q",
    "tools/ruler": "p",
    "tools/start": "m",
}
"""How this car stands, beside what everybody answers."""
SINCE: Mapping[str, str] = {
    "since-last-time/distance": "900 miles",
    "since-last-time/happened": "n",
    "since-last-time/corrected": "n",
    "since-last-time/marks": "a",
    "since-last-time/tools": "s",
    "next-time/when": "m",
}
"""What is said of the half year between."""
HALF_A_YEAR = timedelta(days=182)
MOST = 900


@dataclass
class Count:
    """What was typed, and what came in front."""

    entries: int = 0
    cautions: int = 0
    pages: int = 0
    to_tape: int = 0
    """Entries before the first tape on the frame."""
    cautions_to_tape: int = 0
    pages_to_tape: int = 0
    minutes: float = 0.0
    """What is said to be left at the beginning, where nothing is open."""
    most: float = 0.0
    """What is said beside it, of all that may be asked."""
    took: float = 0.0
    """Of all that was answered, by its share of its page."""
    readings: int = 0

    def row(self) -> str:
        """As a line of the table."""
        before = f"{self.to_tape:>4} +{self.cautions_to_tape:>2}  {self.pages_to_tape:>3}"
        whole = f"{self.entries:>4} +{self.cautions:>2}  {self.pages:>3}  {self.readings:>3}"
        return f"{before}   {whole}  {self.minutes:>5.0f} {self.most:>5.0f} {self.took:>5.0f}"


def counted(layout: str, wrong: int, library: Library) -> Count:
    """One survey of a frame of that kind with so many faults."""
    car, tale = car_of(layout, wrong)
    start = Survey(id="entries", started=BEGUN, layout=layout)
    _, count = _typed(start, BEGUN, library, _answers(layout, tale), car)
    return count


def again(layout: str, library: Library) -> Count:
    """A straight frame measured again half a year later with the same tools: what is kept as last time
    is kept by an empty line or, of a page, by /same; a look by `b =`.
    """
    car, tale = car_of(layout, 0)
    answers = _answers(layout, tale)
    start = Survey(id="entries", started=BEGUN, layout=layout)
    old, _ = _typed(start, BEGUN, library, answers, car)
    later = BEGUN + HALF_A_YEAR
    new = following(old, library, later, steps_worth(old, library, later))
    said = {**answers, "state/found": "w", **SINCE}
    _, count = _typed(replace(new, id="again"), later, library, said, car, old)
    return count


def _answers(layout: str, tale: Story) -> dict[str, str]:
    own = {"about-the-car/unit": "i", "about-the-car/layout": LAYOUT[layout]}
    return {**STANDING, **own, **TOGETHER, **tale.answers}


def _typed(
    start: Survey,
    begun: datetime,
    library: Library,
    answers: Mapping[str, str],
    car: hands.Bench,
    earlier: Survey | None = None,
) -> tuple[Survey, Count]:
    """A survey typed to its end, and what that took."""
    clock, count = [begun], Count()
    sitting = Unsaved(library, survey=start, now=lambda: clock[0], foretell=foretell_with(library))
    sitting.earlier = earlier
    count.minutes, count.most = span_of(sitting.survey, sitting.walk())
    page, taped = "", False
    while (prompt := sitting.prompt) is not None and count.entries < MOST:
        clock[0] += PACE
        taped = taped or (prompt.kind.measures and prompt.tool == "tape")
        here = _page(sitting)
        count.pages += here != page
        count.pages_to_tape += here != page and not taped
        page = here
        reply = _entered(sitting, prompt, answers, car)
        count.readings += prompt.kind.measures
        if reply.kind == "doubted" or sitting.pending:
            count.entries += 1
            reply = sitting.enter("")
        if reply.kind == "refused":
            raise LookupError(f"{prompt.id}: {reply.says}")
        asked = not prompt.kind.acknowledges
        count.entries += asked
        count.cautions += not asked
        count.to_tape += asked and not taped
        count.cautions_to_tape += not asked and not taped
    count.took = taken(sitting.survey, sitting.walk())
    return sitting.survey, count


def _entered(
    sitting: Unsaved, prompt: Prompt, answers: Mapping[str, str], car: hands.Bench
) -> Reply:
    """One line: what is kept as last time where it may be, else the answer."""
    if not sitting.keeps(prompt):
        line = line_of(sitting.survey, prompt, answers, car)
        return sitting.enter(line + _both(sitting, prompt, line, answers, car))
    if prompt.kind.looks or prompt.kind.gathers:
        return sitting.enter("b =")
    page = sitting.page()
    left = [p for p in page.prompts if wanting(sitting.survey, p)] if page else []
    return (
        same(sitting, "") if len([p for p in left if sitting.keeps(p)]) > 2 else sitting.enter("")
    )


def _page(sitting: Unsaved) -> str:
    """What is in front: the page of a look that is asked by itself at a place is the place."""
    stop = sitting.page()
    return str(stop.step.id) if stop else ""


def car_of(layout: str, wrong: int) -> tuple[hands.Bench, Story]:
    """The first frame drawn of that kind with so many faults, and what shows of them."""
    for number in range(1000):
        rng = random.Random(f"entries {layout} {wrong} {number}")
        frame = faults.drawn(rng, layout)
        tale = story.told_of(frame, rng)
        if len(frame.faults) == wrong and tale.seen == bool(wrong):
            return hands.bench(frame, hands.REFERENCE, rng), tale
    raise LookupError(f"no {layout} with {wrong} faults")


def line_of(survey: Survey, prompt: Prompt, answers: Mapping[str, str], car: hands.Bench) -> str:
    """What is typed at a prompt by somebody who sees everything bare."""
    if prompt.kind.acknowledges:
        return "understood"
    if prompt.kind.gathers:
        return entry(survey, prompt, lambda id: f"b {answers.get(id, 'o')}")
    if prompt.kind.looks:
        return f"b {answers.get(prompt.id, 'o')}"
    if prompt.kind.measures:
        passed = prompt.optional and (prompt.step in PASSED or "axle" in prompt.id)
        return "-" if passed else as_held(prompt, car.read(prompt.id))
    if prompt.id.endswith("/push"):
        return "s"
    if one := _all_of_them(survey, prompt, answers):
        return one
    plain = "-" if prompt.optional else prompt.choices[0].letter if prompt.choices else "well"
    return answers.get(prompt.id, plain)


FROM_MARK = 10
"""Inches at which this tape starts: what it says is typed, as the page says first."""


def as_held(prompt: Prompt, read: str) -> str:
    """A reading as this tape says it."""
    if prompt.tool != "tape":
        return read
    inches, _, rest = read.partition(" ")
    return f"{int(inches) + FROM_MARK} {rest}".strip()


def _both(
    sitting: Unsaved, prompt: Prompt, line: str, answers: Mapping[str, str], car: hands.Bench
) -> str:
    """What makes an entry speak for the other side too, where the same would be typed there."""
    survey = sitting.survey
    twin = twin_of(survey, sitting.walk(), prompt, sitting.library) if prompt.kind.gathers else None
    return " both" if twin and line_of(survey, twin, answers, car) == line else ""


def _all_of_them(survey: Survey, prompt: Prompt, answers: Mapping[str, str]) -> str:
    """The one letter that says all that this car has to say to several questions; else empty."""
    one = together_of(survey, prompt)
    if one is None:
        return ""
    said = [answers.get(f"{prompt.step}/{last}") == letter for last, letter in one.says]
    return one.letter if all(said) else ""


def table(library: Library) -> Iterator[str]:
    """A line for each kind of frame and number of faults."""
    yield f"{'':30}to the first tape   whole survey                 minutes"
    yield f"{'':30}entries     pages   entries     pages  read   said up to  took"
    for layout in all_layouts():
        for wrong, name in enumerate(("straight", "one fault", "two faults")):
            yield f"{layout:<18} {name:<10} {counted(layout, wrong, library).row()}"
        yield f"{layout:<18} {'again':<10} {again(layout, library).row()}"


def main() -> None:
    """Print the table."""
    for line in table(load_library()):
        print(line, flush=True)


if __name__ == "__main__":
    main()
