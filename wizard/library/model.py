"""content/model.toml: the faults, the checks that may see them, and the reasons why some cannot."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wizard.library.fields import Fault, Table, nearest
from wizard.library.places import StepId
from wizard.library.shapes import Step
from wizard.library.shapes_model import BY, ModelBook, ModelFault, Voice

FILE = "model.toml"


def read_model(t: Table) -> ModelBook:
    """Faults and voices by id, reasons by both."""
    t.format()
    faults: dict[str, ModelFault] = {}
    voices: dict[str, Voice] = {}
    reasons: dict[tuple[str, str], str] = {}
    for row in t.tables("fault"):
        fault = ModelFault(
            row.text("id"),
            row.text("name"),
            row.text("words"),
            row.texts("bend", needed=True),
            row.texts("mirror"),
            tuple(map(StepId, row.texts("steps"))),
            row.text("feel"),
            row.flag("not_guessed"),
        )
        row.done()
        row.once(fault.id, faults)
        faults[fault.id] = fault
    for row in t.tables("voice"):
        voice = Voice(
            row.text("id"),
            row.text("name"),
            row.word("by", BY),
            row.texts("finds", needed=True),
            row.text("blind"),
            row.flag("called"),
        )
        row.done()
        row.once(voice.id, voices)
        voices[voice.id] = voice
    for row in t.tables("reason"):
        key = row.word("fault", faults), row.word("voice", voices)
        if key in reasons:
            row.fault("fault", f"'{key[0]}' with '{key[1]}' is there twice", "keep one of them")
        reasons[key] = row.text("why")
        row.done()
    t.done()
    return ModelBook(faults, voices, reasons)


def model_faults(book: ModelBook, steps: Mapping[StepId, Step]) -> Iterator[Fault]:
    """Steps that a fault names and the content does not have, and steps that two faults claim."""
    claimed: dict[StepId, str] = {}
    for fault in book.faults.values():
        for step in fault.steps:
            if step not in steps:
                yield Fault(
                    FILE,
                    f"fault[{fault.id}].steps",
                    f"'{step}' is not a page",
                    nearest(step, steps),
                )
            elif step in claimed:
                wrong = f"'{step}' opens on '{claimed[step]}' already"
                yield Fault(
                    FILE, f"fault[{fault.id}].steps", wrong, "take it out of one of the two"
                )
            claimed.setdefault(step, fault.id)
