"""The answer of the survey in hand, and the parts of what lies behind it, each opened by a letter."""

from __future__ import annotations

from wizard.library import marks
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.guide import course_name
from wizard.telling.answer_words import answer_words
from wizard.telling.document import Block, Paragraph, set_out
from wizard.telling.tell import PARTS, Part, keys_text, part_of_letter, part_sections
from wizard.telling.text import lines_of

LETTERS = "Type a letter:"
BEFORE = "/verdict and a letter, like /verdict w:"
"""How a part is opened, once nothing more is asked and before."""


def opened(sitting: Sitting, letter: str) -> Reply:
    """The answer, or the part of what lies behind it that a letter opens."""
    part = part_of_letter(letter)
    if part is not None:
        return _part(sitting, part)
    if letter.strip():
        letters = ", ".join(p.letter for p in PARTS)
        return Reply("refused", f"Type one of {letters}, like /verdict {PARTS[0].letter}.")
    text = "\n".join(lines_of(verdict_told(sitting)))
    return Reply("told", text, "The answer", shows="verdict")


def _part(sitting: Sitting, part: Part) -> Reply:
    from wizard.judgment.sight import verdict_of  # numpy only once there is something to compute

    verdict = verdict_of(sitting.survey, sitting.library, sitting.now())
    found = part_sections(part, verdict, sitting.survey, sitting.library, sitting.earlier)
    text = "\n".join(lines_of(set_out(found)))
    return Reply("told", text, part.words.capitalize(), shows="verdict", part=part.letter)


def verdict_told(sitting: Sitting) -> tuple[Block, ...]:
    """The answer with the signed opinions beside it, and by which letters the rest is opened."""
    said = answer_words(sitting.survey, sitting.library, sitting.now(), sitting.earlier)
    how = LETTERS if sitting.ask is None else BEFORE
    return (*said, Paragraph(f"{how} {keys_text(may_go_on(sitting))[0]}"))


def may_go_on(sitting: Sitting) -> bool:
    """Whether it is the end of a short survey, from which a letter goes on with the whole one."""
    return sitting.ask is None and course_name(sitting.survey) == marks.SHORT
