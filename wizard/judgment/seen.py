"""What the looks say at once, and what was not seen, not measured or skipped."""

from collections.abc import Collection, Container, Iterable, Sequence
from datetime import datetime
from typing import NamedTuple

from wizard.library import marks
from wizard.library.kinds import NOT_SURE
from wizard.library.places import NO_STEP, SIDES, PromptId, StepId
from wizard.library.shapes import SEEN, Choice, Library, Step
from wizard.survey.guide import Page, answered, guide_of
from wizard.survey.meant import meant
from wizard.survey.prompts import Prompt, counted
from wizard.survey.record import Survey
from wizard.survey.rows import NOTHING_TO_SAY, Look


class Seen(NamedTuple):
    """One look with its words."""

    look: Look
    prompt: Prompt
    choice: Choice | None
    """What was seen; None for not reached and not sure."""
    step: Step
    """The page of the place: of what dye drew, the page whose doubt it settles."""
    dye: str = ""
    """Id of the row by which dye on bare metal drew nothing at the same place; empty for none."""

    @property
    def title(self) -> str:
        """Title of its step."""
        return self.step.title

    @property
    def counts(self) -> bool:
        """Whether anything was seen: nothing found under dirt says nothing of what is under it."""
        return self.choice is not None and not (self.look.seen == "dirty" and self.nothing)

    @property
    def joint(self) -> str:
        """What is loose, where it is said to be."""
        return self.step.joint.format(side=self.side)

    @property
    def ties(self) -> bool:
        """Whether it was seen at a crossmember: the joints there tie the rails."""
        return marks.CROSSMEMBER in self.step.marks

    @property
    def nothing(self) -> bool:
        """Whether it was looked at and nothing found."""
        return self.choice is not None and self.choice.nothing

    @property
    def speaks(self) -> str:
        """What it speaks for, where it is no stop sign and yet no sound frame."""
        return self.choice.speaks if self.choice else ""

    @property
    def cleared(self) -> bool:
        """Whether the doubt that it left is settled: with dye no crack was seen, which is never no
        crack.
        """
        unsure = self.look.answer == NOT_SURE.token
        return bool(self.dye) and (unsure or self.carries(marks.BY_DYE))

    def carries(self, mark: str) -> bool:
        """Whether its answer carries a mark."""
        return self.choice is not None and mark in self.choice.marks

    @property
    def side(self) -> str:
        """left or right; empty where the look has no side."""
        item = str(self.prompt.item)
        return item if item in ("left", "right") else ""


class Gap(NamedTuple):
    """Something that was not seen or not measured."""

    what: str
    """Title of the step."""
    why: str
    """In the person's or the program's words."""
    step: StepId


def looks_of(survey: Survey, library: Library) -> tuple[Seen, ...]:
    """Every standing look that belongs to a prompt of the content."""
    return survey.once(library, _looks)


def _looks(survey: Survey, library: Library) -> tuple[Seen, ...]:
    questions, dye = guide_of(survey, library).questions, library.page.get(marks.DYE, NO_STEP)
    prompts, steps = questions.by_id, questions.steps
    seen, of_dye = [], steps[dye]
    for look in survey.standing(Look):
        prompt = prompts.get(look.prompt)
        if prompt is not None and prompt.kind.looks:
            # The looks with dye are called after their places.
            page = prompt.step if prompt.step != dye else StepId(prompt.name)
            step = steps.get(page, of_dye)
            seen.append(Seen(look, prompt, prompt.choice_of.get(look.answer), step))
    nothing = _drawn_nothing(seen, dye)
    if not nothing:
        return tuple(seen)
    return tuple(s._replace(dye=nothing.get((s.step.id, s.side), "")) for s in seen)


def _drawn_nothing(seen: Sequence[Seen], dye: StepId) -> dict[tuple[StepId, str], str]:
    """By place and side, the row by which dye drew nothing there on bare metal."""
    dyed = [s for s in seen if s.prompt.step == dye and s.choice and s.look.seen == BARE_SEEN]
    drew = {(s.step.id, s.side) for s in dyed if not s.nothing}
    return {at: s.look.id for s in dyed if (at := (s.step.id, s.side)) not in drew}


BARE_SEEN = SEEN["b"]


def stops(seen: tuple[Seen, ...]) -> tuple[Seen, ...]:
    """Looks that outrank every number: a crack, a kink, a torn weld, a hole in a bearing place."""
    return tuple(s for s in seen if s.choice and s.choice.stop)


def loose_joints(seen: tuple[Seen, ...]) -> tuple[Seen, ...]:
    """Loose joints, mounts and brackets: they come before every number (TM 9-2320-361-34)."""
    return tuple(s for s in seen if s.choice and s.choice.loose)


def cleared(seen: tuple[Seen, ...]) -> tuple[Seen, ...]:
    """What was feared to be a crack, and where dye on bare metal drew none."""
    return tuple(s for s in seen if s.cleared)


def gaps(survey: Survey, library: Library, today: datetime) -> tuple[Gap, ...]:
    """Steps of the whole course of which something is missing, with the reason."""
    found = []
    guide = guide_of(survey, library)
    unfit = guide.questions.unfit | guide.uncalled
    settled = _settled(survey, library)
    here = {p.step.id: p for p in guide.pages(today)}
    tells = library.telling()
    named = _lacking(here.values())
    for id in library.courses["whole"]:
        if id in unfit:  # What it does not have, and what nobody called for, was not missed.
            continue
        step, page = guide.questions.steps[id], here.get(id)
        if id not in tells:
            found += _passed_over(survey, page, named) if step.part != "finish" else []
            continue
        if page is None:
            found.append(Gap(step.title, LATER, id))
        elif page.needless or _is_stood_in(survey, here.get(step.stand_in)):
            continue
        elif page.gone:
            found += _gone(survey, library, step, page.gone)
        else:
            found += _missing(survey, page, step.title, settled)
    return tuple(found)


def _gone(survey: Survey, library: Library, step: Step, why: str) -> list[Gap]:
    """A page that this car has not; none where what it would read is known without it."""
    return [] if _is_known(survey, library, step) else [Gap(step.title, why, step.id)]


def _is_known(survey: Survey, library: Library, step: Step) -> bool:
    """Whether what a page would read is known without it: a hood's gap that was seen to be even,
    the string without a weight that nobody need lift.
    """
    if marks.HOOD in step.marks:
        return meant(survey, library, marks.HOOD_GAP) == marks.EVEN
    if step.reads != marks.STRING_UNLOADED and marks.ENGINE_WEIGHT not in step.marks:
        return False
    from wizard.judgment.sound import is_known_without  # numpy only where the engine stayed in

    return is_known_without(survey, library)


def _is_stood_in(survey: Survey, twin: Page | None) -> bool:
    """Whether a page was answered that stands in for another."""
    return twin is not None and bool(twin.step.stand_in) and _any_answer(survey, twin)


def _settled(survey: Survey, library: Library) -> frozenset[PromptId]:
    """The looks of which nobody was sure and which dye has settled."""
    return frozenset(s.prompt.id for s in cleared(looks_of(survey, library)))


UNKNOWN = frozenset({"", NOT_SURE.token})
"""Answers to a look that say nothing of what is there."""


def _hidden(looks: Sequence[Look], prompt: Prompt, step: Step) -> str:
    """Why looking there told nothing; empty where it told something."""
    how = {k.seen for k in looks}
    if how == {"not-reached"}:
        return "not reached"
    if UNKNOWN.issuperset([k.answer for k in looks]):
        return "not sure"
    if how == {"dirty"} and not _anything_found(looks, prompt):
        return "seen only under dirt"
    if how == {"painted"} and _wants_bare(step, _anything_found(looks, prompt)):
        return "seen only under paint"
    return ""


def _anything_found(looks: Sequence[Look], prompt: Prompt) -> bool:
    nothing = {c.token for c in prompt.choices if c.nothing}
    return any(k.answer not in nothing for k in looks)


def _wants_bare(step: Step, found: bool) -> bool:
    # Where frames crack too, nothing found under paint counts as seen, and the record says how.
    return marks.BARE in step.marks or (marks.CRACK_PLACE in step.marks and not found)


def _lacking(pages: Iterable[Page]) -> frozenset[PromptId]:
    """The tools for want of which a page is gone, which says so itself."""
    return frozenset([n.prompt for p in pages if p.gone for n in p.step.needs if n.usual])


def _own(page: Page | None) -> list[Prompt]:
    """What a page asks, without its cautions."""
    return [p for p in page.prompts if not p.kind.acknowledges] if page else []


def _passed_over(survey: Survey, page: Page | None, named: Container[PromptId]) -> list[Gap]:
    """What somebody would not or could not answer, in his words, on a page where nothing is looked
    at or measured; named: what another page tells as its own.
    """
    asked = _own(page)
    passed = [p for p in asked if p.id not in named and not answered(survey, p)]
    reasons = [why for p in passed if (why := survey.skipped(p.id))]
    if page is None or not reasons:
        return []
    return [
        Gap(
            page.step.title,
            "; ".join(dict.fromkeys(reasons)) + _share(reasons, asked, "answers"),
            page.step.id,
        )
    ]


def _share(reasons: Sequence[str], of: Sequence[Prompt], what: str) -> str:
    return "" if len(reasons) == len(of) else f" ({len(reasons)} of {len(of)} {what})"


def _any_answer(survey: Survey, page: Page | None) -> bool:
    return page is not None and any(answered(survey, p) for p in page.prompts if p.kind.counts)


LATER = "left for another day"
PASSED = ("", NOTHING_TO_SAY)
"""What stands as the reason where nobody said that he could not."""


def _wanted(survey: Survey, page: Page) -> list[Prompt]:
    """What a page asks to see or measure; of what is optional only what somebody said he could
    not.
    """
    rows = survey.by_prompt()
    all_ = [p for p in (*page.prompts, *page.later) if p.kind.counts]
    wanted = [p for p in all_ if not p.optional or rows.skipped.get(p.id, "") not in PASSED]
    if not rows.folded:
        return wanted
    # What was not read since it need not be is not missing.
    return [p for p in wanted if not rows.folded.get(p.id) or answered(survey, p)]


def _why_missing(survey: Survey, prompt: Prompt, done: int, step: Step) -> str:
    """Why a prompt is short of an answer; empty where it is not. done: how often it was answered."""
    why = survey.skipped(prompt.id)
    if done == 0:
        return why or "not done"
    if why and done < prompt.repeats:
        return f"{why}, after {done} of {prompt.repeats} readings"
    looks = survey.looks_at(prompt.id) if prompt.kind.looks else ()
    return _hidden(looks, prompt, step) if looks else ""


def _missing(survey: Survey, page: Page, title: str, settled: Collection[PromptId]) -> list[Gap]:
    wanted = [p for p in _wanted(survey, page) if p.id not in settled]
    reasons = [LATER for p in page.later if p in wanted]
    now = wanted[: len(wanted) - len(reasons)]
    # A reading that was taken as often as it is asked for lacks nothing; a look may have told nothing.
    doubtful = [(p, n) for p, n, _ in counted(survey, now) if p.kind.looks or n < p.repeats]
    reasons += filter(None, [_why_missing(survey, p, n, page.step) for p, n in doubtful])
    if not reasons:
        return []
    share = _share(reasons, wanted, "places")
    return [Gap(title, "; ".join(dict.fromkeys(reasons)) + share, page.step.id)]


def bent_horn(seen: Sequence[Seen]) -> str:
    """The side whose horn was seen bent, the other one bare and with nothing there; else empty.

    Two tips that differ do not say which of them moved: only the metal does.
    """
    left, right = (_at_horn(seen, side) for side in SIDES)
    if _is_bent(left) and _is_straight(right):
        return SIDES[0]
    return SIDES[1] if _is_bent(right) and _is_straight(left) else ""


def _at_horn(seen: Sequence[Seen], side: str) -> list[Seen]:
    return [s for s in seen if marks.HORN in s.step.marks and s.side == side]


def _is_bent(looks: Sequence[Seen]) -> bool:
    return any(s.carries(marks.BENT) for s in looks)


def _is_straight(looks: Sequence[Seen]) -> bool:
    """Whether it was seen bare, and nothing was there."""
    return bool(looks) and all(s.nothing and s.look.seen == "bare" for s in looks)
