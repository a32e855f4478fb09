"""What a straight frame of the sizes known so far reads at a prompt, and how far off that any frame
could read.

No other reading is asked whether it agrees: this bounds a reading that nothing checks yet. The
bounds are common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from wizard.library import marks
from wizard.library.places import PointId, WhereId
from wizard.library.shapes import Layout
from wizard.model.bending import MOST
from wizard.model.bent import Bent
from wizard.model.frame import Frame
from wizard.model.kit import Kit
from wizard.model.readings import CALIPER, reading
from wizard.model.sizing import AXLES, Sizing, ends
from wizard.survey.prompts import Prompt

SURE = 4.0
"""Standard doubts that are allowed for: of all sound frames none should lie beyond."""
SAG_MOST = 40.0
"""mm that a rail may lie off the straight line between the blocks."""
LEAN_MOST = 0.1
"""Slope at which a car may stand; a ratio."""
ENGINE_MOST = 150.0
"""mm that an engine's end may stand off the middle: some makers set it there."""
CLOSING_MOST = 30.0
"""mm by which a bar may have slipped."""
BLOCKS = 50.0, 8.0, 250.0
"""Height of a block: plain, lowest, highest, mm."""
THICK = 2.5
"""Times by which sheet may be thicker or thinner than the round figure."""


@dataclass(frozen=True, slots=True)
class Foretold:
    """A straight frame's reading; mm, or for a level the slope as a ratio, left high positive."""

    value: float
    low: float
    """Under this, and over `high`, no frame worth taping reads."""
    high: float

    def holds(self, value: float) -> bool:
        """Whether a reading lies within."""
        return self.low <= value <= self.high


@dataclass(frozen=True, slots=True)
class Seen:
    """What is known beside the tapes, from other prompts of the survey."""

    block: float | None = None
    """Height of the blocks, mm."""
    string_below: bool = False
    slopes: Sequence[float] = field(default_factory=tuple)
    """Of the level at other places, ratios."""
    metal: float | None = None
    """Thickness of sound metal, mm."""


def foretell(sizing: Sizing, prompt: Prompt, seen: Seen) -> Foretold | None:
    """What a prompt may read; None where the model has no answer, or where a file's sizes are no
    frame at all.
    """
    try:
        tape = ends(sizing.layout, prompt)
        return _tape(sizing, prompt, tape) if tape else _other(sizing.layout, prompt, seen)
    except (ArithmeticError, ValueError):
        return None


def _tape(sizing: Sizing, prompt: Prompt, between: tuple[PointId, PointId]) -> Foretold | None:
    """By a factor either way, so that twice and half are equally far; an axle may stand right above
    its dot.
    """
    value = reading(Frame(sizing.sized, Bent(engine="weight-off")), prompt)
    if value is None or value < 0:
        return None
    off = SURE * (sizing.doubt(*between) ** 2 + (MOST / SURE) ** 2) ** 0.5
    low = 0.0 if between[0] in AXLES and between[1] != AXLES[1] else value * value / (value + off)
    return Foretold(value, low, value + off)


def _other(layout: Layout, prompt: Prompt, seen: Seen) -> Foretold | None:
    if prompt.point == "block":
        return Foretold(*BLOCKS)
    lean = sum(seen.slopes) / len(seen.slopes) if seen.slopes else 0.0
    bent = Bent(engine="weight-off" if prompt.reads == marks.STRING_UNLOADED else "in", lean=lean)
    kit = Kit(block=seen.block or BLOCKS[0], string_below=seen.string_below)
    value = reading(Frame(layout, bent), prompt, kit)
    if value is None:
        return None
    if prompt.reads == marks.METAL:
        return _metal(value, prompt, seen) if prompt.tool == CALIPER else None
    if prompt.reads in marks.STRING:
        low, high = (seen.block, seen.block) if seen.block else BLOCKS[1:]
        return Foretold(value, max(0.0, low - SAG_MOST), high + SAG_MOST)
    off = _allowed(layout, prompt, seen)
    return Foretold(value, value - off, value + off) if off else None


def _allowed(layout: Layout, prompt: Prompt, seen: Seen) -> float:
    """mm, or slope, either way; 0 where nothing can be said."""
    if prompt.reads == marks.SLOPES:
        wide = _wide(layout, prompt.item)
        return MOST / wide if seen.slopes and wide else LEAN_MOST
    if prompt.reads == marks.ENGINE_ENDS:
        return ENGINE_MOST
    if prompt.reads == marks.CARRIED_BAR:
        return MOST if prompt.start else CLOSING_MOST
    return 0.0


def _wide(layout: Layout, level: WhereId) -> float:
    """Width at a place of the level, mm; 0 where there is none."""
    found = layout.level_by_id.get(level)
    return 2 * layout.place(found.place).half_width if found else 0.0


def _metal(value: float, prompt: Prompt, seen: Seen) -> Foretold:
    plain = seen.metal or value
    low = 0.0 if prompt.name == "pitted" else plain / THICK
    return Foretold(plain, low, plain * THICK)
