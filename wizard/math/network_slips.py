"""Errors that people make with a tape, recognized by their size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

INCH = 25.4
"""mm, exactly."""

FIXED = {
    "in": {"1 in": INCH, "1/2 in": INCH / 2, "1 ft": 12 * INCH},
    "mm": {"10 mm": 10.0, "100 mm": 100.0},
}
"""Slips along the scale by the unit that was read, mm; an inch scale cannot be misread by 10 mm."""

FITS = 2.6
"""A slip fits when it lies within this many u of the error: a true one is missed once in a hundred
times.
"""

CLEARER = 4.0
"""By how much the squared misfit of any other slip must be worse, about seven times less likely, to
name one.
"""

SURE = 4.0
"""An error of fewer u than this is too vague to be given a name."""


def recognize_slip(
    error_mm: float, u_mm: float, value_mm: float, unit: str, twin_mm: float | None = None
) -> str | None:
    """The name of the slip that explains an error, or None when none does or several do.

    error_mm: how much too long the reading is, with its u_mm. value_mm: the reading. unit: "in" or
    "mm", as read. twin_mm: the reading of the same length on the other side, for readings set down
    the wrong way round. Gives "1 in", "1/2 in", "1 ft", "10 mm", "100 mm", "digits-swapped" or
    "sides-swapped". Common practice, no published source.

    >>> recognize_slip(25.0, 0.8, 2314.6, "in"), recognize_slip(-27.2, 0.8, 2314.0, "mm")
    ('1 in', 'digits-swapped')
    >>> recognize_slip(18.4, 0.8, 2314.6, "in") is None
    True
    """
    if unit not in FIXED:
        raise ValueError(f'{unit} is not a unit of a tape: "in" or "mm"')
    if abs(error_mm) <= SURE * u_mm:
        return None
    misfits: dict[str, float] = {}
    for name, size in _slips(error_mm, value_mm, unit, twin_mm):
        misfits[name] = min(misfits.get(name, float("inf")), ((error_mm - size) / u_mm) ** 2)
    (best, least), *others = sorted(misfits.items(), key=lambda item: item[1])
    clear = all(other - least >= CLEARER for _, other in others)
    return best if least <= FITS * FITS and clear else None


FAR = 5.0
"""A proven slip is off the others by at least so many scatters of one reading."""
GROSS = 30.0
"""mm: no hand scatters so far; such a figure is no reading of the thing at all."""


def slip_among(values: Sequence[float], s: float, unit: str) -> int | None:
    """Which of three readings or more of one thing the others prove a slip; None where they prove
    none.

    values: mm. s: scatter of one reading as known beforehand, mm. unit: "in" or "mm", as read. It
    must be off by a kind of slip that people make, or by more than any hand scatters, and be far
    off each of the others, which must agree among themselves: what merely scatters stays in.

    >>> slip_among([650.0, 675.4, 650.9], 0.8, "in"), slip_among([650.0, 654.0, 650.9], 0.8, "in")
    (1, None)
    >>> slip_among([650.0, 675.4], 0.8, "in") is None
    True
    """
    if len(values) < 3:
        return None
    middle = sorted(values)[len(values) // 2]
    nth = max(range(len(values)), key=lambda n: abs(values[n] - middle))
    others = [v for n, v in enumerate(values) if n != nth]
    nearest = min(abs(values[nth] - v) for v in others)
    if nearest <= FAR * s or max(others) - min(others) > FAR * s:
        return None
    error = values[nth] - sum(others) / len(others)
    u = s * (1.0 + 1.0 / len(others)) ** 0.5
    known = any(abs(error - size) <= FITS * u for _, size in _slips(error, values[nth], unit, None))
    return nth if known or abs(error) > GROSS else None


def _slips(
    error_mm: float, value_mm: float, unit: str, twin_mm: float | None
) -> Iterator[tuple[str, float]]:
    sign = 1.0 if error_mm > 0 else -1.0
    for name, size in FIXED[unit].items():
        yield name, sign * size
    for size in _swaps(value_mm, INCH if unit == "in" else 1.0):
        yield "digits-swapped", size
    if twin_mm is not None:
        yield "sides-swapped", value_mm - twin_mm


def _swaps(value_mm: float, whole_mm: float) -> Iterator[float]:
    """Errors in mm if two neighboring digits of the whole number read were set down the wrong way
    round.
    """
    # A gap is below zero on its one side, and its digits are the same there.
    side_mm = -whole_mm if value_mm < 0 else whole_mm
    # A mean of repeats may fall just below the whole number that all of them show.
    digits = str(int(value_mm / side_mm + 1e-9))
    for k in range(len(digits) - 1):
        swapped = digits[:k] + digits[k + 1] + digits[k] + digits[k + 2 :]
        if swapped != digits:
            yield (int(digits) - int(swapped)) * side_mm
