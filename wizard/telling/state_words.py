"""How the car stood, in words that say a state and answer no question: `engine in, its weight on the
mounts; supports four stands under the axles`.
"""

from __future__ import annotations

from collections.abc import Iterator

from wizard.library.places import state_field
from wizard.library.shapes import Choice, Library
from wizard.readings.plain import clean_line
from wizard.survey.rows import State
from wizard.survey.state import STATE_FIELDS

FIELDS = {
    "panels": "hood and fenders",
    "supports": "standing on",
    "stood": "the supports",
    "temperature": "garage",
}
"""What a field is called before its words; where it is not here, by its own name."""
TOGETHER = "; "
"""Between two things that are said of a state: their own words have commas."""


def _choices(field: str, library: Library) -> Iterator[Choice]:
    """Every answer that sets a field, wherever it is asked."""
    for step in library.steps.values():
        for prompt in step.prompts:
            if state_field(prompt.keep) == field:
                yield from prompt.choices


def field_words(field: str, token: str, library: Library) -> str:
    """What a value of the state is called: what content calls it in a sentence, else the words of the
    first page that asks; a person's own words as they stand.
    """
    found = [c for c in _choices(field, library) if c.token == token]
    named = next((c.named for c in found if c.named), "")
    return named or (found[0].words if found else clean_line(token, 200))


def is_asked(field: str, library: Library) -> bool:
    """Whether a field has answers to choose from; else it is told in a person's own words."""
    return any(True for _ in _choices(field, library))


def state_words(state: State, library: Library, fields: tuple[str, ...] = STATE_FIELDS) -> str:
    """A state of the car, field by field."""
    said = []
    for field in fields:
        value = str(getattr(state, field))
        if value and value != "-":
            said.append(f"{FIELDS.get(field, field)} {field_words(field, value, library)}")
    return TOGETHER.join(said) or "not said"
