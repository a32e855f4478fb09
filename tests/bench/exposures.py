"""The table of what each page exposes a person to, beside its own words, and what brings its gate
back.

To be read line by line against the words of the pages: python -m tests.bench.exposures [step ...]
"""

from __future__ import annotations

import sys
from collections.abc import Iterable

from wizard.library import load_library
from wizard.library.exposures import STANCES
from wizard.library.shapes import Library, Step
from wizard.survey.gates import cautions_of, exposures_of
from wizard.survey.guide import SET_UP, sets_supports
from wizard.survey.prompts import expand
from wizard.survey.standing import MOVES

BACK = (
    "another sitting (two hours, another day), another person, an answer to engine, body or"
    " supports"
)


def rows(step: Step, library: Library) -> Iterable[str]:
    """The lines of one step."""
    prompts = {
        p.id: p for y in library.layouts.values() for p in expand(step, y, library.tools)
    }.values()
    exposed = exposures_of(step, prompts)
    yield f"{step.id}: {', '.join(sorted(exposed)) or f'nothing: {step.unexposed}'}"
    for prompt in step.prompts:
        if prompt.exposes:
            yield f"    {prompt.id or prompt.each} adds {', '.join(prompt.exposes)}"
    for row in step.only_words:
        yield f"    only words: “{row.words}”: {row.why}"
    for name in STANCES if exposed else ():
        ways = {name, *SET_UP} if sets_supports(step) else {name}
        read = ", ".join(c.id for c in cautions_of(exposed, library, frozenset(ways)))
        yield f"    {name:7} reads {read or 'nothing'}"
    moves = sorted({p.keep for p in prompts if p.keep in MOVES})
    if moves:
        yield f"    its answers bring every gate back: {', '.join(moves)}"
    near = [e for e in exposed if library.exposures[e].near]
    if near and not sets_supports(step):
        yield "    waits for a push test of this sitting and this standing"


def main(steps: list[str]) -> None:
    """Print the table."""
    library = load_library()
    print(f"Each gate comes back after {BACK}.\n")
    for id in steps or library.steps:
        print("\n".join(rows(library.steps[id], library)), end="\n\n")


if __name__ == "__main__":
    main(sys.argv[1:])
