"""Prompts and answers for the tests of the record, without a sitting."""

from datetime import datetime

from wizard.library.kinds import AUTHORED
from wizard.library.shapes import Choice, Library
from wizard.survey.answer import Doubted, Foretell, Refusal, answer
from wizard.survey.prompts import Prompt, caution_prompt, expand
from wizard.survey.record import Survey
from wizard.survey.rows import Look

AT = datetime(2026, 4, 11, 12, 0, 0)
TAPED = Prompt(
    id="long-diagonals/whole/front-left--rear-right",
    step="long-diagonals",
    kind=AUTHORED["length"],
    ask="left front to right rear",
    start="front-left",
    end="rear-right",
    repeats=2,
    tool="tape",
)
GAP = Prompt(
    id="front-box-bar/closing",
    step="front-box-bar",
    kind=AUTHORED["gap"],
    ask="gap",
    signs=("past", "short"),
)
BUBBLE = Prompt(
    id="level/rear/as-set",
    step="level",
    kind=AUTHORED["bubble"],
    ask="rear, level as set",
    tool="level",
)
NOTE = Prompt(
    id="finish/remark", step="finish", kind=AUTHORED["note"], ask="Anything?", optional=True
)
ACK = caution_prompt("going-under", "level", "Before you go under")
LOOK = Prompt(
    id="rail-tops/left",
    step="rail-tops",
    kind=AUTHORED["look"],
    ask="Top of the left rail?",
    choices=(
        Choice("o", "nothing-found", "nothing found", nothing=True),
        Choice("l", "light-pitting", "light pits"),
        Choice("k", "kink", "a kink", also=("knock",), stop=True),
        Choice("c", "crack", "a crack", stop=True),
    ),
)
CHOICE = Prompt(
    id="state/engine",
    step="state",
    kind=AUTHORED["choice"],
    ask="Is the engine in?",
    keep="state.engine",
    choices=(
        Choice("i", "in", "in"),
        Choice("w", "weight-off", "weight off"),
        Choice("o", "out", "out"),
    ),
)
ALL = (TAPED, GAP, BUBBLE, NOTE, ACK, LOOK, CHOICE)


def reply(
    survey: Survey,
    prompt: Prompt,
    text: str,
    *,
    at: datetime = AT,
    foretell: Foretell | None = None,
) -> Survey | Refusal | Doubted:
    return answer(survey, prompt, text, at=at, by="owner", foretell=foretell)


def taken(survey: Survey, prompt: Prompt, *texts: str, at: datetime = AT) -> Survey:
    """The survey after answers that must all be taken."""
    for text in texts:
        result = reply(survey, prompt, text, at=at)
        assert isinstance(result, Survey), result
        survey = result
    return survey


def refused(survey: Survey, prompt: Prompt, text: str) -> str:
    """What is said to a text that must be refused."""
    result = reply(survey, prompt, text)
    assert isinstance(result, Refusal), result
    return result.says


def prompt_of(library: Library, id: str) -> Prompt:
    """A prompt of the content by its id."""
    step = library.steps[id.split("/")[0]]
    prompts = expand(step, library.layouts["straight-ladder"], library.tools)
    return next(p for p in prompts if p.id == id)


def one_sentence(text: str) -> bool:
    """A sentence for a person: it ends, is not too long to take in, and drives no terminal."""
    ends = text.endswith((".", "?")) and not text.endswith("..")
    return ends and len(text) < 200 and not any(ord(c) < 32 or 127 <= ord(c) < 160 for c in text)


METAL = tuple(
    f"set-supports/{side}/{end}-metal" for side in ("left", "right") for end in ("front", "rear")
)
"""Looks at the metal where jack and stands go."""


def with_sound_metal(survey: Survey, but: str = "") -> Survey:
    """The survey with whole metal seen under every stand, but for one place where nobody has
    looked.
    """
    for prompt in METAL:
        if prompt != but:
            row = Look(
                id=survey.new_id(Look), at=AT, prompt=prompt, seen="bare", answer="nothing-found"
            )
            survey = survey.with_row(row)
    return survey
