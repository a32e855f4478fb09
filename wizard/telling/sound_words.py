"""What was measured and is in order: a person who reads only what is out would think the rest was never looked at."""

from __future__ import annotations

from wizard.judgement.facts import is_true
from wizard.judgement.verdict import Verdict
from wizard.library.shapes import Layout
from wizard.telling.line import Line

WHOLE = {
    "sag-unloaded": "the string without the engine's weight",
    "sag-loaded": "the string with the engine's weight",
    "twist": "the level (no twist)",
    "horn": "the horns",
    "rail-bow": "the frame seen from above (no bow)",
    "wheelbase": "the wheelbase",
    "thickness": "the thickness of the rails",
}
"""Limits that are told as one: all of their places must be in order."""
BOXES = {"rail-shift": "square", "rail-length": "rails equally long"}
"""Limits that are told box by box."""


def sound_lines(verdict: Verdict, layout: Layout) -> list[Line]:
    """One line that names everything within the limit of what may be left, doubt included; none where nothing is."""
    found: list[tuple[str, tuple[str, ...]]] = []
    for limit, words in BOXES.items():
        boxes = {b.id: b.name for b in layout.boxes} | {"front-box-bar": "front box by the bar"}
        here = [j for j in verdict.judged if j.finding.limit == limit and j.finding.where in boxes]
        true = [j for j in here if is_true(j)]
        if true:
            names = "all boxes" if len(true) == len(here) > 1 else ", ".join(boxes[j.finding.where] for j in true)
            found.append((f"{names} ({words})", tuple(j.finding.id for j in true)))
    for limit, words in WHOLE.items():
        here = [j for j in verdict.judged if j.finding.limit == limit]
        if here and all(is_true(j) for j in here):
            found.append((words, tuple(j.finding.id for j in here)))
    if not found:
        return []
    text = "; ".join(words for words, _ in found)
    return [Line(f"Nothing to do at: {text}.", tuple(dict.fromkeys(i for _, ids in found for i in ids)))]
