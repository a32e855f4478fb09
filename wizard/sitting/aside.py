"""What a sitting knows beside the survey: whether the mentor looks on, and who reads just now.

Nothing of it is ever saved in a survey. Whether the mentor looks on is a setting of whoever sits
there, kept beside the surveys, in a hidden file: the next sitting at that survey begins as this one
was left.
"""

from __future__ import annotations

import contextlib
import stat
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from wizard.library.places import NO_STEP, PromptId, StepId, step_of
from wizard.survey.file import write_atomic
from wizard.survey.guide import Ask
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import HIDDEN, SECOND, Reading

MENTOR_ON = "The mentor's view: results wait for a guess. F11, or /mentor off, ends it."

LEFT_ON = (
    "The mentor's view is on, as it was left. F11, or /mentor off, ends it; a mentor who signs types"
    " /mentor."
)
MENTOR = "mentor"
"""Who signs while a mentor sits there."""
LOOK_AGAIN = "That does not go with the rest. Look at the tape once more."
"""A doubt of the second reader's, without any figure: neither what the first has read, nor what a
frame of this kind has there.
"""


SETTINGS = ".settings.toml"
"""The file, hidden like the locks: no list of surveys shows it."""
LARGEST = 64_000
"""Bytes of it; a larger one is no file of ours, and is left alone."""


def _settings(folder: Path) -> dict[str, Any] | None:
    """What is kept there, nothing where there is no file; None for a file that is not ours to write."""
    try:
        file = (folder / SETTINGS).stat()
    except OSError:
        return {}
    if not stat.S_ISREG(file.st_mode) or file.st_size > LARGEST:
        return None
    import tomllib  # most people have no such file

    try:
        return tomllib.loads((folder / SETTINGS).read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return None


def _surveys(settings: dict[str, Any] | None) -> list[str]:
    """Names of the surveys at which the mentor looked on when they were left."""
    kept = settings.get(MENTOR) if settings else None
    return [name for name in kept if isinstance(name, str)] if isinstance(kept, list) else []


def looks_on(path: Path | None) -> bool:
    """Whether the mentor's view was on when this survey was left."""
    return path is not None and path.name in _surveys(_settings(path.parent))


def keep_view(path: Path | None, on: bool) -> None:
    """Keep whether the mentor's view is on at this survey; where that cannot be written, it holds
    for this sitting alone.
    """
    if path is None:
        return
    settings = _settings(path.parent)
    surveys = _surveys(settings)
    if settings is None or (path.name in surveys) is on:
        return
    import tomli_w

    surveys = [name for name in surveys if name != path.name] + ([path.name] if on else [])
    text = tomli_w.dumps({**settings, MENTOR: surveys})
    with contextlib.suppress(OSError):
        write_atomic(path.parent / SETTINGS, text.encode())


@dataclass(slots=True)
class Aside:
    """The one of a sitting."""

    mentor: bool = False
    """Whether the mentor's view is on."""
    mentor_signs: bool = False
    """Whether it was turned on in this sitting: a view that was left on is no mentor, and nobody else
    signs for him.
    """
    shown: set[StepId] = field(default_factory=set)
    """Steps whose result was asked for without a guess."""
    held: StepId = NO_STEP
    """Step just finished whose result waits for a guess; empty for none."""
    second: tuple[PromptId, ...] = ()
    """Prompts that the second reader has still to read, the one in front first; empty while the
    first reads.
    """
    both: tuple[Prompt, ...] = ()
    """Prompts that he has read in this turn: what the first read there is said when he is done."""
    back: Ask | None = None
    """Where the first reader stood, None at the end."""
    blinded: tuple[Survey, tuple[PromptId, ...], Survey] | None = None
    """A survey, what was hidden of it, and what is left to be seen: looked at many times a line."""

    @property
    def reader(self) -> str:
        """Who reads just now; empty for the one who is named in the survey."""
        return SECOND if self.second else ""


def blind(survey: Survey, aside: Aside) -> Survey:
    """The survey as the second reader may see it: without what the first read on the pages where he
    has still to read, for a twin leads the eye as well as the reading itself.
    """
    if not aside.second:
        return survey
    kept = aside.blinded
    if kept is None or kept[0] is not survey or kept[1] != aside.second:
        kept = aside.blinded = survey, aside.second, _without(survey, aside.second)
    return kept[2]


def at_others(survey: Survey, aside: Aside) -> Survey:
    """The survey by which a slip is found: without what was read at the very prompts that are still
    to be read.
    """
    return _hidden(survey, lambda r: r.prompt in aside.second) if aside.second else survey


def his_own(survey: Survey) -> Survey:
    """The survey with no reading but the second reader's."""
    return _hidden(survey, lambda r: r.by != SECOND)


def _without(survey: Survey, prompts: tuple[PromptId, ...]) -> Survey:
    steps = {step_of(id) for id in prompts}
    return _hidden(
        survey, lambda r: r.prompt in prompts or (r.by != SECOND and step_of(r.prompt) in steps)
    )


def _hidden(survey: Survey, hides: Callable[[Reading], bool]) -> Survey:
    rows = tuple(
        replace(r, struck=HIDDEN) if isinstance(r, Reading) and hides(r) and not r.struck else r
        for r in survey.rows.get("reading", ())
    )
    return replace(survey, rows={**survey.rows, "reading": rows})
