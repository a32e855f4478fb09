"""Axes in the survey's unit: round steps, and the words for them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wizard.readings.written import write_fraction_about
from wizard.survey.record import Unit
from wizard.telling.svg import Scale, line, text

STEPS = {
    "in": tuple(25.4 * s for s in (1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 4)),
    "mm": (0.5, 1, 2, 5, 10, 20, 50, 100),
}
"""Round steps, mm."""


def ticks(low: float, high: float, unit: Unit, most: int = 7) -> Iterator[float]:
    """Round values between two, mm, no more than `most`."""
    step = next((s for s in STEPS[unit] if (high - low) / s <= most), STEPS[unit][-1])
    n = -int(-low // step) if low > 0 else -int(-low / step)
    while n * step <= high + 1e-9:
        if n * step >= low - 1e-9:
            yield n * step
        n += 1


def upright(scale: Scale, x0: float, x1: float, unit: Unit, signs: tuple[str, str]) -> str:
    """An upright axis at the left of x0 with thin lines to x1; signs name the low and the high end's side."""
    parts = []
    for value in ticks(min(scale.low, scale.high), max(scale.low, scale.high), unit):
        y = scale(value)
        word = signs[1] if value > 0 else signs[0]
        label = f"{write_fraction_about(abs(value), unit)} {word}" if value else "0"
        parts.append(line(x0, y, x1, y, 1.5 if not value else 0.4))
        parts.append(text(x0 - 6, y + 4, label, "end", font_size=11))
    return "".join(parts)


def along(places: Iterable[tuple[float, str]], y: float) -> str:
    """Names under places along the page, on two lines in turn so that they do not touch."""
    return "".join(
        text(x, y + 14 * (n % 2), name, "middle", font_size=11) for n, (x, name) in enumerate(sorted(places))
    )
