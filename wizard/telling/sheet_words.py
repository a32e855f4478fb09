"""Words of the worksheet: labels short enough for paper, what the letters mean, when a box is
wanted at all.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from wizard.library.kinds import NOT_SURE
from wizard.library.places import PromptId, spoken
from wizard.library.shapes import Choice, Layout, Need, Step
from wizard.survey.guide import Ask
from wizard.survey.prompts import Prompt
from wizard.telling.form import Codes

NTH = ("", "", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th", "9th")

SEEN_LINE = "b bare, p painted, d dirty, n not reached (then nothing more)"
"""How well a place was seen; said once for the whole sheet."""
HEAD_FIELDS = (
    ("Car", "Date"),
    ("Measured by", "Written by"),
    ("Supports: what, and where they stood",),
    ("Tape", "Ruler", "Level"),
    ("String and its weight", "Bar and its pointers", "Warmth, sun where"),
)
"""Room at the top, a line of fields each."""
LOOK_LINES = (
    f"Where you look, write two letters: how well you saw it ({SEEN_LINE}) and what you saw. Like b o.",
    (
        "If you find something with (!) after it, change nothing there and show it to a specialist:"
        " it counts more than any number."
    ),
)
"""How a look is filled in."""
PLACE_LINE = (
    "A place takes one entry for all its list: how well seen, then the letters of what there is"
    " something to tell about. b: all bare, nothing found. b s; k n: the same, but s to tell"
    " about and k not reached. Only what is to tell about has its own box filled in below."
)
"""How a place of a round is."""
FILL_LINES = (
    "Read each caution before you go on, then mark its box.",
    "Fill the boxes from left to right, line by line. The program asks in the same order.",
    "Where each rail has a column of its own, fill the left rail's first.",
    "Write each figure as the tool says it, like 25 7/8 or 657, and say it back aloud.",
    *LOOK_LINES,
    PLACE_LINE,
    "If you cannot read a place, leave its box empty and write why beside it.",
)
OWN_SHEET = (
    "Print what you need with --also and the word in brackets. Asked for a page that you have not on"
    " paper? Type /skip page and why, and come back to it with /go."
)
"""What to do about what is asked only when called for."""
WHOLE_LINE = (
    "Begin the survey with f, the full record, or type /all: then you are asked for every box."
)
STOOD_THEN = "Last time it stood so"
ALIKE = "Set it up the same way: sag and twist can be compared only where it stands alike."
"""What a sheet for a re-check says of the car first."""
AGAIN_LINES = (
    "Keep last time's figures covered until yours are on this sheet: you read what you expect.",
    "Have last time's photos of the points with you. The same rivet, the same hole, the same edge.",
    "At the computer, choose to measure this car again: it asks for these boxes.",
)
"""What a sheet for a re-check says in the stead of that."""
GOING_ON_LINES = (
    "Only what this survey still asks for is on this sheet; what is written down already is not.",
    "At the computer, open this survey and type /all: then it asks for every box of this sheet.",
)
"""What a sheet for a survey that goes on says in the stead of that."""
ENTER_LINES = (
    (
        "At the computer, one of you reads aloud and the other types. You can type several boxes on"
        " one line, in this order, with ; between them."
    ),
    WHOLE_LINE,
    "For a caution, type understood. Type it, and words of your own, on a line alone.",
    (
        "If a box marked “only if” is empty, go on: you are not asked for it. For any other empty"
        " box, type /skip and why."
    ),
)


def title_of(layout: Layout, state: Mapping[str, str]) -> str:
    """What the sheet is for."""
    said = "; ".join(f"{field}: {words}" for field, words in state.items())
    return f"For a survey of a frame: {layout.name}." + (f" For a car with {said}." if said else "")


def label_of(ask: Ask) -> str:
    """What is to be written there; which reading it is, where it is read more than once."""
    prompt = ask.prompt
    if prompt.kind.acknowledges:
        return f"Caution read: {prompt.ask}"
    asked = f"{prompt.ask}, {NTH[ask.nth]}" if ask.nth > 1 else prompt.ask
    if prompt.kind.leans:  # paper has no example beside the box
        return f"{asked} (degrees {' or '.join(prompt.signs)})"
    return asked


def shared_codes(prompts: Sequence[Prompt]) -> dict[tuple[Choice, ...], Codes]:
    """The letters that several boxes of a page share (left and right), each set said once."""
    sets: dict[tuple[Choice, ...], list[Prompt]] = {}
    for prompt in prompts:
        if prompt.choices and prompt.item:
            sets.setdefault(prompt.choices, []).append(prompt)
    shared = {choices: found[0] for choices, found in sets.items() if len(found) > 1}
    return {
        choices: Codes(prompt.about if len(shared) > 1 else "", _letters(prompt))
        for choices, prompt in shared.items()
    }


def codes_of(prompt: Prompt) -> Codes:
    """What the letters of one prompt mean; none where it has none."""
    return Codes("", _letters(prompt))


def _letters(prompt: Prompt) -> tuple[tuple[str, str], ...]:
    found = [(c.letter, c.words + (" (!)" if c.stop else "")) for c in prompt.choices]
    if prompt.kind.looks:
        found.append((NOT_SURE.letter, NOT_SURE.words))
    elif found and prompt.optional:
        found.append(("-", "nothing to say"))
    return tuple(found)


UNSEEN = (NOT_SURE, Choice("n", "not-reached", "not reached"))
"""Answers that any look takes beside its own."""


class Asked(Protocol):
    """What is asked on the whole sheet."""

    @property
    def prompts(self) -> Mapping[PromptId, Prompt]:
        """Every prompt by its id."""

    @property
    def number_of(self) -> Mapping[PromptId, int]:
        """The number of the step that asks it."""


def only_if(needs: Sequence[Need], prompt: Prompt, sheet: Asked) -> str:
    """When the wizard asks this at all, by the letters of an answer given before."""
    said, here = [], sheet.number_of[prompt.id]
    for need in needs:
        asked = sheet.prompts.get(need.prompt)
        if asked is not None:
            letters = [c.letter for c in (*asked.choices, *UNSEEN) if c.token in need.any]
            at = sheet.number_of[asked.id]
            said.append(_either(letters) + (f" at step {at}" if at != here else ""))
    return f"only if {' and '.join(said)}" if said else ""


def _either(letters: Sequence[str]) -> str:
    return ", ".join(letters[:-1]) + f" or {letters[-1]}" if len(letters) > 1 else "".join(letters)


def needs_left(step: Step, chosen: Mapping[str, str]) -> tuple[Need, ...]:
    """The step's needs on a state that was not chosen for this sheet: they are still open."""
    return tuple(n for n in step.needs if n.state and n.state not in chosen)


def only_when(needs: Sequence[Need]) -> str:
    """When the whole step is wanted, in words."""
    said = [f"{n.state} {' or '.join(spoken(t) for t in n.any)}" for n in needs]
    return f"Only with the {' and the '.join(said)}." if said else ""
