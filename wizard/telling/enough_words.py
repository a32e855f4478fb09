"""What is said, and written down, of readings that are not needed."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from wizard.judgment.sight import Sight
from wizard.library.places import PromptId, step_of
from wizard.library.shapes import Library
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import NO_LONGER, WANTED, Fold, Reading
from wizard.telling.amounts import at_most
from wizard.telling.asking import not_needed

if TYPE_CHECKING:  # numpy only once there is something to compute
    from wizard.judgment.enough import Enough, Offer

OFTEN = {1: "once", 2: "twice", 3: "three times", 4: "four times"}
TAKES = "Type + to take the rest."
"""As short as that: what the page came to and that it is good to stop stand in the same five lines."""
AGAIN = "Something does not fit what was left out before: {pages} will be asked for to the last."
HAND = "your readings show how far your hand scatters"
TAPED = "it is taped already"
WEIGHT = (
    "the string read with the engine's weight on tells that without it both rails may stay as they"
    " are (limit {within})"
)
"""It is a limit that settles it, and said as one: beside how much would have been seen, a size that
no rail exceeds reads as a reading finer than any was.
"""
PLAIN = "nothing was found that it would explain"
KNOWN = "it is known without them: {known}"
BARE_WORDS = {"hand": HAND, "taped": TAPED, "plain": PLAIN}
"""What is said where nothing is settled by a limit, by the kind of what is left out."""


class Left(NamedTuple):
    """A survey with what was left out of it, and what is said of that."""

    survey: Survey
    says: str


def with_enough(sight: Sight, asked: Prompt, now: datetime, by: str) -> Left:
    """The survey with what is not needed left out, and with what is needed after all asked again,
    now that a reading of that prompt is in.
    """
    from wizard.judgment.enough import enough, no_longer  # numpy only once there is something read

    survey, said = sight.survey, []
    if back := no_longer(sight, asked, now):
        pages = "; ".join(pages_of(fold, sight.library) for fold in back)
        for fold in back:
            survey = survey.with_struck(fold.id, NO_LONGER)
        return Left(survey, AGAIN.format(pages=pages))
    while (found := enough(sight, now, asked)) is not None:
        known = _known(found, sight)
        said += [] if known in said else [known]
        row = Fold(
            id=survey.new_id(Fold),
            at=now.replace(microsecond=0),
            by=by,
            prompts=" ".join(map(str, found.prompts)),
            readings=" ".join(found.readings),
            settled=" ".join(str(j.finding.id) for j in found.judged),
            why=KNOWN.format(known=known) if found.judged else known,
        )
        survey = survey.with_row(row)
        sight = sight.followed_by(survey)
    says = f"Enough here: {'; '.join(said)}. {TAKES}" if said else ""
    return Left(survey, says)


def _known(found: Enough, sight: Sight) -> str:
    """What is known well enough."""
    if not found.judged:
        return BARE_WORDS[found.kind]
    of = found.judged[0].finding
    limit = sight.library.limits[of.limit]
    within = at_most(found.upto, of.unit, sight.survey.unit)
    well = "" if "{" in limit.well else limit.well  # of which boxes, the page says
    if found.kind == "weight":
        return WEIGHT.format(within=within)
    return f"{well or limit.sound} (limit {within})"


def pages_of(fold: Fold, library: Library) -> str:
    """The titles of the pages on which something was left out; a tool is none by itself."""
    ids = dict.fromkeys(step_of(PromptId(id)) for id in fold.prompts.split())
    steps = (library.steps[id] for id in ids if id in library.steps)
    return "; ".join(step.title for step in steps if not step.only_tools)


def offer_words(offer: Offer) -> str:
    """What is open, which reading would settle it, and how long that takes."""
    from wizard.judgment.next import chance_to_settle  # whoever offers has loaded it

    advice, minutes = offer.advice, max(1, round(offer.minutes))
    times = OFTEN.get(advice.times, f"{advice.times} times")
    tenths = round(10 * chance_to_settle(offer.judged, advice))
    return (
        f"Not known yet: {offer.judged.name}. {advice.label[:1].upper()}{advice.label[1:]}, {times}"
        f" more, {LIKELY[tenths]} it ({minutes} min): type + to do that now."
    )


LIKELY = (*["seldom settles"] * 3, *["may settle"] * 4, *["will probably settle"] * 4)
"""What is said of a chance of so many tenths: readings move, so none is sure to settle anything."""


def wrong_words(prompt: Prompt) -> str:
    """Which one measurement cannot be right, and that it can be taken again now."""
    return (
        f"One measurement cannot be right beside the others: {prompt.ask}."
        " Type + to measure it again now."
    )


# Where it is told afterwards ----------------------------------------------------------------------


def needless(survey: Survey, library: Library) -> tuple[tuple[Fold, str], ...]:
    """Each rest of a list that was not needed, with the page on which it is and the reason."""
    return tuple(
        (f, f"{pages_of(f, library)}: {_rest(f, survey)}{not_needed(f.why)}")
        for f in (*survey.folds(), *_in_vain(survey, library))
    )


def _in_vain(survey: Survey, library: Library) -> tuple[Fold, ...]:
    """What was wanted though it need not be read, and could not be read after all."""
    if not any(f.struck == WANTED for f in survey.table(Fold)):
        return ()
    from wizard.judgment.sound import wanted_in_vain  # numpy only where something was called back

    return wanted_in_vain(survey, library)


def _rest(fold: Fold, survey: Survey) -> str:
    """Whether it is the rest of a page on which something was read, or all of it."""
    steps = {step_of(PromptId(id)) for id in fold.prompts.split()}
    read = any(step_of(r.prompt) in steps for r in survey.standing(Reading))
    return "the rest is " if read else ""
