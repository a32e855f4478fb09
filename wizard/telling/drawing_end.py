"""The frame seen end-on with the level across it: from the rear, looking forward, so that left is
left.
"""

from __future__ import annotations

from wizard.telling.canvas import Canvas, Charset, Drawing

SMALLEST = (44, 6)
"""Width and height in cells under which only the words are given."""
TALLEST = 8
"""Rows of a rail's section at most; in a high box the rest stays empty above."""
FULL = 5
"""Columns from the middle of the vial to its end."""
STEP = 0.002
"""Slope (height over width) that moves the bubble by one column."""
LEAST = 0.0005
"""Slope from which the bubble is drawn off the middle at all."""

ONE_BOX = "one-box"
"""The section of a place where one box is all there is of the frame."""

_SECTION = {"blocks": "█▀▄█", "braille": "⣿⠛⣤⣿", "ascii": "#==#"}
"""Web of the left rail, upper flange, lower flange, web of the right rail."""


def end_view(
    place: str,
    slope: float | None,
    turned: bool,
    width: int,
    height: int,
    charset: Charset,
    section: str = "channel",
) -> Drawing:
    """The level on two blocks across both rails at a place.

    Args: slope height over width, positive when the left side is higher, None before it is read;
    turned True for the second reading, with the level end for end; section of the rails, as a layout
    calls it, or ONE_BOX where a single box lies under the level.
    """
    words = _words(place, slope, turned)
    if width < SMALLEST[0] or height < SMALLEST[1]:
        return Drawing((), (), words)
    canvas = Canvas(width, height, charset)
    left = max(width // 8, 4)
    right = width - 1 - left
    top = max(height - 1 - TALLEST, 3)
    _section(canvas, left, right, top, section)
    for col in (left + 2, right - 3):
        canvas.text(top - 1, col, "##" if charset == "ascii" else "██")
    _level(canvas, left, right, top - 2, slope, turned)
    _way(canvas, left, right, top - 3, turned)
    canvas.text(height - 1, left, "left, higher" if _shift(slope) > 0 else "left")
    high = "right, higher" if _shift(slope) < 0 else "right"
    canvas.text(height - 1, right + 1 - len(high), high)
    if section == ONE_BOX:
        rows = [top + 1] if top + 2 < height - 1 else [height - 1]
        canvas.label(rows, width // 2, f"{place}, seen from the rear", lit=True)
    else:
        canvas.label([top], width // 2, place, lit=True)
        canvas.label([top + 1], width // 2, "seen from the rear")
    return canvas.drawing(words)


def _section(canvas: Canvas, left: int, right: int, top: int, section: str) -> None:
    """Both rails cut across: of channels the webs outward and the flanges toward the middle, of boxes
    a web on either side, of tubes the same without corners; of one box its two walls.
    """
    web_left, upper, lower, web_right = tuple(_SECTION[canvas.charset])
    one = section == ONE_BOX
    flange = right - left - 1 if one else max(canvas.width // 9, 5)
    bottom, round_off = canvas.height - 2, section == "tube"
    inner = () if one or section == "channel" else (left + flange + 1, right - flange - 1)
    for row in range(top + round_off, bottom + 1 - round_off):
        canvas.text(row, left, web_left)
        canvas.text(row, right, web_right)
        for col in inner:
            canvas.text(row, col, web_left)
    # Of a tube the half cells lie toward its middle.
    for row, stroke in (
        (top, lower if round_off else upper),
        (bottom, upper if round_off else lower),
    ):
        canvas.text(row, left + 1, stroke * flange)
        canvas.text(row, right - flange, stroke * flange)


def _level(
    canvas: Canvas, left: int, right: int, row: int, slope: float | None, turned: bool
) -> None:
    line = "-" if canvas.charset == "ascii" else "─"
    first, last = left - 2, right + 2
    canvas.text(row, first, "[" + line * (last - first - 1) + "]")
    canvas.text(row, last - 7 if turned else first + 2, " mark ")
    middle = (left + right + 1) // 2
    vial = list("(   |   |   )")
    vial[6 - _shift(slope)] = "?" if slope is None else "O"
    canvas.text(row, middle - 6, "".join(vial), lit=True)


def _way(canvas: Canvas, left: int, right: int, row: int, turned: bool) -> None:
    """Which way round the level lies, by an arrow from where its marked end was to where it is now."""
    line = "-" if canvas.charset == "ascii" else "─"
    if not turned:
        canvas.text(row, left, "first way round")
        return
    words = " turned end for end "
    run = (right - left - len(words) - 1) // 2
    canvas.text(
        row, left, line * run + words + line * (right - left - run - len(words)) + ">", lit=True
    )


def _shift(slope: float | None) -> int:
    """Columns by which the bubble stands to the left; it runs to the higher side."""
    if slope is None or abs(slope) < LEAST:
        return 0
    size = min(max(round(abs(slope) / STEP), 1), FULL)
    return size if slope > 0 else -size


def _words(place: str, slope: float | None, turned: bool) -> str:
    way = (
        "turned end for end, its marked end on the right"
        if turned
        else "its marked end on the left"
    )
    seen = (
        "The frame from the rear, looking forward, the level across both rails on two equal blocks"
        f" ({place}), {way}."
    )
    if slope is None:
        return seen
    shift = _shift(slope)
    if not shift:
        return seen + " The bubble stands in the middle."
    return seen + f" The bubble stands to the {'left' if shift > 0 else 'right'}, the higher side."
