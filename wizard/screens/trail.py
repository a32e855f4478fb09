"""The trail beside a wide page: every step with its mark, the one in front in the window."""

from __future__ import annotations

from wizard.screens.paper import BLANK, Line, fit, line
from wizard.sitting.sitting import Sitting
from wizard.telling.asking import MARKS, page_state

LEGEND = "x done  / begun  - skipped"


def trail_lines(sitting: Sitting, width: int, height: int) -> list[Line]:
    """At most `height` lines."""
    step = sitting.step
    pages = [p for p in sitting.pages() if not p.gone]
    here = next((n for n, p in enumerate(pages) if step and p.step.id == step.id), len(pages) - 1)
    room = height - 2
    first = min(max(here - room // 2, 0), max(len(pages) - room, 0))
    lines = [line("The trail", "strong")]
    for n, page in enumerate(pages[first : first + room], start=first):
        state = page_state(sitting.survey, page, sitting.now())
        mark = ">" if n == here and step else " "
        role = "here" if n == here and step else "dim" if state in ("done", "skipped") else ""
        lines.append(line(fit(f"{mark}[{MARKS[state]}] {page.step.title}", width), role))
    lines += [BLANK] * (height - 1 - len(lines))
    return [*lines, line(LEGEND, "dim")]
