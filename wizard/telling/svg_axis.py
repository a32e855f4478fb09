"""Axes in the survey's unit: round steps, and the words for them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from wizard.survey.record import Unit
from wizard.telling.amounts import about
from wizard.telling.svg import Scale, line, text

STEPS = {
    "in": tuple(25.4 * s for s in (1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 4)),
    "mm": (0.5, 1, 2, 5, 10, 20, 50, 100),
}
"""Round steps, mm."""
OTHER = (1, 2, 5, 10, 20, 50, 100)
"""Round steps of what is no length, such as a percentage."""


def ticks(low: float, high: float, unit: Unit, most: int = 7, kind: str = "mm") -> Iterator[float]:
    """Round values between two, in the unit `kind`, no more than `most`."""
    if not math.isfinite(high - low):
        return
    steps = STEPS[unit] if kind == "mm" else OTHER
    step = next((s for s in steps if (high - low) / s <= most), steps[-1])
    while (high - low) / step > most:  # A file may hold what no frame ever measured.
        step *= 10
    n = -int(-low // step) if low > 0 else -int(-low / step)
    while n * step <= high + 1e-9:
        if n * step >= low - 1e-9:
            yield n * step
        n += 1


def upright(
    scale: Scale, x0: float, x1: float, unit: Unit, signs: tuple[str, str], kind: str = "mm"
) -> str:
    """An upright axis at the left of x0 with thin lines to x1; signs name the low and the high
    end's side.

    kind: the unit of the values.
    """
    parts = []
    for value in ticks(min(scale.low, scale.high), max(scale.low, scale.high), unit, kind=kind):
        y = scale(value)
        word = signs[1] if value > 0 else signs[0]
        label = f"{about(value, kind, unit)} {word}".rstrip() if value else "0"
        parts.append(line(x0, y, x1, y, 1.5 if not value else 0.4))
        parts.append(text(x0 - 6, y + 4, label, "end", font_size=11))
    return "".join(parts)


def along(places: Iterable[tuple[float, str]], y: float) -> str:
    """Names under places along the page, on two lines in turn so that they do not touch."""
    return "".join(
        text(x, y + 14 * (n % 2), name, "middle", font_size=11)
        for n, (x, name) in enumerate(sorted(places))
    )
