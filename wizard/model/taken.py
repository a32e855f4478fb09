"""A survey taken on the model: every reading set down as typed text, so that the real checks can
read it.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from datetime import datetime

from wizard.library.shapes import Library
from wizard.model.frame import Frame
from wizard.model.kit import PERFECT, Kit
from wizard.model.readings import typed_readings
from wizard.survey.prompts import Prompt, expand
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Answer, Reading, State

DAY = datetime(2000, 1, 1)
"""A model has no day."""
WHERE, STEADY = "string-set-up/where", "string-set-up/steady"


def prompts_of(frame: Frame, library: Library) -> dict[str, Prompt]:
    """Every prompt that the steps for this kind of frame ask, by id."""
    id = frame.layout.id
    steps = (s for s in library.steps.values() if not s.layouts or id in s.layouts)
    return {p.id: p for step in steps for p in expand(step, frame.layout, library.tools)}


def library_for(frame: Frame, library: Library) -> Library:
    """The library with the frame's own sizes in the place of its layout's round figures."""
    return replace(library, layouts={**library.layouts, frame.layout.id: frame.layout})


def survey_on(
    frame: Frame,
    prompts: Mapping[str, Prompt],
    steps: Collection[str] = (),
    unit: Unit = "mm",
    kit: Kit = PERFECT,
) -> Survey:
    """The readings of these steps (of all, for none named), each once, without noise."""
    wanted = {id: p for id, p in prompts.items() if not steps or p.step in steps}
    taken = typed_readings(frame, wanted, kit)
    rows = tuple(
        Reading(id=f"r{n}", at=DAY, prompt=id, typed=text, state="s1")
        for n, (id, text) in enumerate(taken.items(), start=10)
    )
    bent = frame.bent
    engine = "in" if bent.engine == "in" else "weight-off"
    return Survey(
        id="model",
        car="The model",
        started=DAY,
        layout=frame.layout.id,
        unit=unit,
        rows={
            "state": (State(id="s1", at=DAY, engine=engine, body="off", supports=bent.supports),),
            "answer": (
                Answer(
                    id="a2", at=DAY, prompt=WHERE, answer="below" if kit.string_below else "above"
                ),
                Answer(id="a3", at=DAY, prompt=STEADY, answer="steady"),
            ),
            "reading": rows,
        },
    )
