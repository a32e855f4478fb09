"""A step page as plain text pieces: what every face shows, computed once here."""

from __future__ import annotations

from dataclasses import dataclass

from wizard.checks.finding import Finding
from wizard.checks.notes import OneOf
from wizard.judgment.bands import Judged, judge
from wizard.judgment.seen import bent_horn
from wizard.judgment.sight import sight_of
from wizard.library import marks
from wizard.library.kinds import NOT_SURE
from wizard.library.places import NO_PROMPT, PromptId, spoken, step_of
from wizard.library.shapes import SEEN, Caution, Library, Step
from wizard.survey.again import asked_again
from wizard.survey.guide import (
    Ask,
    Page,
    answered,
    guide_of,
    layout_of,
    offered,
    stop_of,
    wanting,
)
from wizard.survey.prompts import Prompt, together_of
from wizard.survey.record import Survey
from wizard.survey.walk import twin_of
from wizard.telling.amounts import FINE, is_inside
from wizard.telling.asking import not_needed, trail_line
from wizard.telling.quantity_names import cap
from wizard.telling.sentences import AGAIN, HALF, asks_for, sentence, with_band


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the list of readings."""

    label: str
    values: str
    """What was typed, repeats apart by two spaces; empty while nothing is."""
    here: bool
    """Whether it is the prompt in front."""
    brief: str = ""
    """The values where they have no room; empty where nothing shorter says as much."""
    prompt: PromptId = NO_PROMPT
    """Id of the prompt."""


@dataclass(frozen=True, slots=True)
class PageView:
    """Everything a face shows of the page in front. Plain text, never markup."""

    car: str
    trail: str
    title: str
    why: str
    how: tuple[str, ...]
    move: int
    """Number, from 1, of the line of `how` by which the prompt is done."""
    good: str
    alone: str
    label: str
    """What is asked now."""
    nth: str
    """`(second time)` on a repeat, empty otherwise."""
    hint: str
    """An example of what would do."""
    choices: tuple[str, ...]
    """`k  words` lines of a choice or a look, empty otherwise."""
    caution: Caution | None
    """The caution to be acknowledged, when that is what is asked."""
    rows: tuple[Row, ...]
    live: tuple[str, ...]
    """What the readings of this step say so far, a sentence each, the gravest first."""


NTH = ("", "", "second time", "third time", "fourth time", "fifth time")


def view(survey: Survey, library: Library, pages: tuple[Page, ...], ask: Ask) -> PageView:
    """The page in front as text."""
    step, prompt = library.steps[ask.prompt.step], ask.prompt
    if prompt.kind.acknowledges:
        return _caution_view(survey, library, pages, ask)
    page = stop_of(pages, prompt) or Page(step, (prompt,))
    said = _said_here(guide_of(survey, library).questions.steps[step.id], survey, library)
    here = [n for n in _moves_here(page) if said.how[n - 1]]
    return PageView(
        car=survey.car or "A new survey",
        trail=trail_line(survey, pages, page),
        title=_title(page, prompt, said),
        why=said.why,
        how=tuple(said.how[n - 1] for n in here),
        move=here.index(prompt.move) + 1 if prompt.move in here else 1,
        good=said.good,
        alone=said.alone,
        label=prompt.ask,
        nth=_how_often(survey, ask),
        hint=hint(prompt, survey),
        choices=(*choice_lines(prompt, survey), *_twin_line(survey, library, pages, prompt)),
        caution=None,
        rows=tuple(row_of(survey, p, prompt) for p in _beside(page, prompt)),
        live=live(survey, library, step),
    )


def _said_here(step: Step, survey: Survey, library: Library) -> Step:
    """The page in its words for a re-check, where this is one: an empty move is left out."""
    if not survey.follows:
        return step
    second, word = step.second, layout_of(survey, library).worded
    how = [second.moves.get(n, move) for n, move in enumerate(step.how, start=1)]
    return step._replace(
        why=word(second.why) or step.why,
        how=tuple(map(word, how)),
        good=word(second.good) or step.good,
    )


def _moves_here(page: Page) -> list[int]:
    """Numbers of the moves that the page shows: all but those of questions that it does not ask,
    where it asks a part of its step or where they are not for this car.
    """
    asked = {p.move for p in page.prompts}
    others = {p.move for p in page.step.prompts if p.alone} - asked
    return [n for n in range(1, len(page.step.how) + 1) if n not in others]


ONCE_AGAIN = "(once more: it did not read as last time)"
NOT_RIGHT = "(once more: it cannot be right beside the others)"


def _how_often(survey: Survey, ask: Ask) -> str:
    """The how-manieth reading it is, or why it is taken again; empty for the first."""
    if ask.nth < 2:
        return ""
    if ask.prompt.id in asked_again(survey):
        return ONCE_AGAIN if survey.follows else NOT_RIGHT
    return f"({NTH[ask.nth] if ask.nth < len(NTH) else f'{ask.nth}th time'})"


def _caution_view(survey: Survey, library: Library, pages: tuple[Page, ...], ask: Ask) -> PageView:
    """A caution alone: nothing that there is to do on the page behind it shows before it was read."""
    step = guide_of(survey, library).questions.steps[ask.prompt.step]
    return PageView(
        car=survey.car or "A new survey",
        trail=trail_line(survey, pages, stop_of(pages, ask.prompt)),
        title=step.title,
        why="",
        how=(),
        move=1,
        good="",
        alone="",
        label=ask.prompt.ask,
        nth="",
        hint=hint(ask.prompt, survey),
        choices=(),
        caution=library.cautions[ask.prompt.caution],
        rows=(),
        live=(),
    )


def _title(page: Page, prompt: Prompt, step: Step) -> str:
    """The page's; of a look that is asked by itself the place too, where it is taken."""
    if step.id == page.step.id or page.place is None:
        return page.title
    name = next((p.name for p in page.place.parts if p.look.step == step.id), step.title)
    return f"{page.step.title}: {name}"


def _twin_line(
    survey: Survey, library: Library, pages: tuple[Page, ...], prompt: Prompt
) -> tuple[str, ...]:
    """That one entry may do for the other side too; empty where it may not."""
    other = twin_of(survey, pages, prompt, library) if prompt.kind.gathers else None
    title = guide_of(survey, library).questions.steps[other.step].title if other else ""
    return (TWIN.format(title=title),) if title else ()


TWIN = "Looked at {title} too, and it is as here? b both: one entry for the two."


def _beside(page: Page, prompt: Prompt) -> tuple[Prompt, ...]:
    """What is listed on a page beside a prompt: what its step asks there; a place has a list of its
    own.
    """
    if prompt.kind.gathers:
        return ()
    return tuple(p for p in page.prompts if p.step == prompt.step)


def hint(prompt: Prompt, survey: Survey) -> str:
    """A short example beside the entry line."""
    level = survey.tool("level")
    degrees = level is not None and "resolution" in level.extra
    return prompt.kind.hint(prompt, survey.unit, degrees=degrees)


def choice_lines(prompt: Prompt, survey: Survey) -> tuple[str, ...]:
    """The answers to choose from on this car; for a look, first how well the place was seen; of a
    place its list.
    """
    if prompt.kind.gathers:
        return place_lines(prompt, survey)
    lines = tuple(f"{c.letter}  {c.words}" for c in offered(survey, prompt).choices)
    if one := together_of(survey, prompt):
        lines = (*lines, f"{one.letter}  {one.words}")
    if not prompt.kind.looks:
        return lines
    seen = "   ".join(f"{letter} {spoken(word)}" for letter, word in SEEN.items())
    return (f"how seen:  {seen}", *lines, f"{NOT_SURE.letter}  {NOT_SURE.words}")


def place_lines(prompt: Prompt, survey: Survey) -> tuple[str, ...]:
    """The looks of a place: what may be found at each, or what was."""
    wide = max(len(p.name) for p in prompt.parts)
    found = ((p, said(survey, p.look)) for p in prompt.parts)
    return tuple(f"{p.letter}  {p.name:<{wide}}  {was or p.found}" for p, was in found)


def row_of(survey: Survey, prompt: Prompt, here: Prompt | None = None) -> Row:
    """What stands at a prompt, as a line of the list of readings. here: the prompt in front."""
    label, is_here = prompt.short or prompt.ask, here is not None and prompt.id == here.id
    count = answered(survey, prompt)
    if (
        prompt.reads == marks.DRILL and count and wanting(survey, prompt)
    ):  # nobody reads afresh what stands before his eyes
        return Row(label, f"{count} of {prompt.repeats} taken", is_here, prompt=prompt.id)
    return Row(label, said(survey, prompt), is_here, _brief(survey, prompt), prompt.id)


SKIPPED, LEFT = "skipped", "not needed"


def _brief(survey: Survey, prompt: Prompt) -> str:
    """A look that found several things, by how many they are; what was left out, without the reason."""
    if not answered(survey, prompt):
        left_out = survey.by_prompt()
        words = {SKIPPED: left_out.skipped, LEFT: left_out.folded}
        return next((word for word, by in words.items() if by.get(prompt.id)), "")
    looks = [k for k in survey.looks_at(prompt.id) if k.answer] if prompt.kind.looks else []
    return f"{len(looks)} things ({spoken(looks[0].seen)})" if len(looks) > 1 else ""


WORDS = {"recheck": "the same frame again"}
"""Answers that are no choice of the prompt, in words."""


def said(survey: Survey, prompt: Prompt) -> str:
    """What stands at a prompt: readings as typed, a choice in its words, why it was skipped or is
    not needed.
    """
    if prompt.kind.measures and answered(survey, prompt):
        return prompt.kind.said(prompt, [r.typed for r in survey.readings_of(prompt.id)])
    if prompt.kind.looks and (looks := survey.looks_at(prompt.id)):
        found = [k.answer for k in looks if k.answer]
        return prompt.kind.said(prompt, found, spoken(looks[0].seen))
    answer = survey.answer_to(prompt.id)
    if answer:
        return prompt.kind.said(prompt, [WORDS.get(answer, answer)])
    return _unsaid(survey, prompt)


def _unsaid(survey: Survey, prompt: Prompt) -> str:
    """Why nothing stands at a prompt; empty while it is only open."""
    if why := survey.skipped(prompt.id):
        return f"skipped: {why}"
    why = survey.folded(prompt.id)
    return not_needed(why) if why else ""


def results_of_step(survey: Survey, library: Library, step: Step) -> tuple[Judged, ...]:
    """The findings that the step's own readings go into, judged, the gravest first."""
    return sight_of(survey, library).of_step(step, _results)


def _results(survey: Survey, library: Library, step: Step) -> tuple[Judged, ...]:
    own = _readings_of(survey, step)
    if not own or not step.check:
        return ()
    from wizard.checks.run import findings_of  # numpy only once there is something to compute

    found = [
        f
        for f in findings_of(survey, library)
        if own & set(f.readings) and step.check in f.of.shown
    ]
    found = [f for f in found if _told_here(survey, library, step, f)]
    judged = [judge(f, survey, library) for f in found]
    return tuple(sorted(judged, key=_gravity, reverse=True))


def _readings_of(survey: Survey, step: Step) -> set[str]:
    read = (rows for prompt, rows in survey.read().items() if step_of(prompt) == step.id)
    return {r.id for rows in read for r in rows}


def _told_here(survey: Survey, library: Library, step: Step, finding: Finding) -> bool:
    """A box is spoken of on its own page, and only once all that the page asks of it is in or
    skipped.

    So are the horns: two tapes of nine would call a horn bent whose corner is out.
    """
    layout = layout_of(survey, library)
    horns = finding.quantity in marks.HORNS and marks.HORN_TIPS in step.marks
    if finding.where not in {b.id for b in layout.boxes} and not horns:
        return True
    here = [
        p
        for p in guide_of(survey, library).questions.of(step)
        if (horns or p.item == finding.where) and p.kind.measures and not p.kind.tilts
    ]
    return _all_in(survey, here)


def _all_in(survey: Survey, prompts: list[Prompt]) -> bool:
    """Whether there are prompts, and each of them is answered, skipped or not needed."""
    return bool(prompts) and all(answered(survey, p) or not wanting(survey, p) for p in prompts)


def _gravity(judged: Judged) -> tuple[int, float]:
    from wizard.judgment.verdict import weight

    if judged.finding.quantity == marks.LEVEL_ERROR:
        return (
            -2,
            0.0,
            # It speaks of the tool, which was turned round to take that out: never the first thing
            # said.
        )
    return weight(judged.worst) if judged.bands else -1, abs(judged.finding.value)


GRAVE = ("put-right", "specialist", "axle-first")
"""Bands that nobody should be told by a tape read once."""
ONCE_MORE = "Read it once more before you believe it: type /back or press F5."
ALWAYS = (marks.LEVEL_CLOSING,)
"""What must not be crowded out: whether the frame stood still while it was read."""


def _first(results: tuple[Judged, ...], most: int) -> tuple[Judged, ...]:
    """The gravest, and of those that must be told the last in place of the least grave."""
    must = tuple(j for j in results[most:] if j.finding.quantity in ALWAYS)
    return (*results[: most - len(must)], *must) if most > len(must) else results[:most]


def _so_far(
    judged: Judged, library: Library, survey: Survey, busy: bool, more: bool = False
) -> str:
    """A result in the middle of the work: it is one so far, and a grave one on single readings is
    read again first.

    busy: whether the page itself is about to ask for a second reading. more: whether it asks for any
    reading yet; what is open is then open for want of it, and no band is named.
    """
    words = asks_for(judged, survey.unit)
    # Of two horns as the verdict tells it: by the one that was seen bent.
    bent = bent_horn(sight_of(survey, library).seen)
    said = sentence(judged, layout_of(survey, library), survey.unit, bent)
    if not words or (more and len(judged.bands) > 2):
        return said
    if judged.worst not in GRAVE or len(judged.bands) > 1:
        is_open = len(judged.bands) > 1 and not set(judged.bands) <= FINE
        of = f"{judged.name}: {words}" if is_open else words
        return f"{with_band(said, of)}{_again(judged)}"
    said = f"{said} So far: {words}."
    return said if busy or _repeated(judged, survey) else f"{said} {ONCE_MORE}"


ONE_OF = " Of {count} places one always differs most: there it takes more to be seen."


def _of_several(judged: Judged, survey: Survey) -> str:
    """Why the size that would have been seen grew when another place was read."""
    note = judged.finding.note(OneOf)
    if note is None or not note.worst or not is_inside(judged, survey.unit):
        return ""
    return ONE_OF.format(count=note.places)


def _again(judged: Judged) -> str:
    """What would settle an open result best, where its quantity says so: the person is still there."""
    from wizard.judgment.verdict import is_open

    return f" {judged.finding.of.says.get(AGAIN, '')}".rstrip() if is_open(judged) else ""


def _repeated(judged: Judged, survey: Survey) -> bool:
    """Whether any reading behind it was taken more than once."""
    behind = frozenset(judged.finding.readings)
    return any(len([r for r in rows if r.id in behind]) > 1 for rows in survey.read().values())


def _asks_more(survey: Survey, library: Library, step: Step) -> bool:
    """Whether a page still asks for a reading."""
    asked = guide_of(survey, library).page(step, "").prompts
    return any(p.kind.measures and wanting(survey, p) for p in asked)


def live(survey: Survey, library: Library, step: Step, most: int = 3) -> tuple[str, ...]:
    """What the step's readings say so far, and what that does not mean."""
    results = results_of_step(survey, library, step)
    busy = any(
        answered(survey, p) and wanting(survey, p)
        for p in guide_of(survey, library).questions.of(step)
    )
    more = _asks_more(survey, library, step)
    word = layout_of(survey, library).worded
    first = _first(results, most)
    said = [word(_so_far(j, library, survey, busy, more)) for j in first]
    if most > 1:  # a message behind the page has no room for it
        said = [f"{one}{_of_several(j, survey)}" for one, j in zip(said, first, strict=True)]
    half = map(word, _half_crossed(survey, library, step))
    return (*said, *half, word(step.caveat)) if said and step.caveat else (*said, *half)


def _half_crossed(survey: Survey, library: Library, step: Step) -> tuple[str, ...]:
    """Boxes of which this page's tapes have one diagonal and not yet the other, and which that is."""
    if not marks.CROSSED & {*step.marks} or not _readings_of(survey, step):
        return ()
    from wizard.checks.case import case_of  # numpy only once there is something to compute
    from wizard.checks.plan import one_diagonal

    words, names = library.quantities[marks.RAIL_SHIFT].says[HALF], layout_of(survey, library).names
    tapes = (p for p in guide_of(survey, library).questions.of(step) if p.kind.spans)
    asked = {frozenset((p.start, p.end)): p.ask for p in tapes}
    half = one_diagonal(case_of(survey, library))
    return tuple(
        words.format(Where=cap(names[box]), other=asked[other])
        for box, other in half.items()
        if other in asked
    )
