"""A typed line bends the model: `diamond 6`, `sag left 8 at engine-mount`, `horn right up 4`,
`supports three`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from wizard.library.shapes import Layout
from wizard.model.bent import Bent, Supports
from wizard.model.sliders import SLIDERS, Slider, bend_of, slider_of
from wizard.readings.figures import read_length
from wizard.readings.refused import Refused
from wizard.survey.record import Unit

MOST = 60.0
"""mm; the model bends no further: beyond it nobody needs a tape."""
SUPPORTS: dict[str, Supports] = {
    "wheels": "wheels",
    "axles": "stands-under-axles",
    "four": "stands-under-frame",
    "three": "three-points",
}
LIKE = "diamond 6 mm, sag left 8 mm at engine-mount or horn right in 5 mm"


def mount_x(layout: Layout) -> float:
    """Where a rail sags by age: at the engine's rear mount, else in the middle of the string."""
    start, end = layout.string
    x = layout.figures.get("engine_mount_x", start)
    return x if start < x < end else (start + end) / 2


def place_x(words: str, layout: Layout, unit: Unit) -> float:
    """mm of a station by its id or name, or of a length rearward of the front points.

    Raises Refused.
    """
    station = next((s for s in layout.stations if words in (str(s.id), s.name)), None)
    x = station.x if station else _length(words, layout, unit)
    if not layout.string[0] < x < layout.string[1]:
        raise Refused(
            "That place is beyond the string's blocks: take one between them",
            str(layout.stations[0].id),
        )
    return x


def _length(words: str, layout: Layout, unit: Unit) -> float:
    try:
        return float(read_length(words, unit, ("back", "forward")))
    except Refused as refused:
        names = ", ".join(str(s.id) for s in layout.stations)
        raise Refused(
            f"There is no station of that name: type one of {names}", str(layout.stations[-1].id)
        ) from refused


def bend(bent: Bent, text: str, layout: Layout, unit: Unit = "mm") -> Bent:
    """The frame's faults after one typed line. A bare number is in `unit`. Raises Refused with one
    sentence.

    >>> from wizard.library.shapes import Layout, Station
    >>> ladder = Layout("l", "", "", "", (), (), (Station("mid", "mid", 500.0),), (), (0.0, 1000.0))
    >>> bend(Bent(), "diamond 6", ladder).diamond
    6.0
    >>> bend(Bent(), "crown left 4 at mid", ladder).left
    (Sag(depth=-4.0, x=500.0, spread=600.0),)
    """
    line = text.lower().replace("-mm", " mm").split()
    crown = bool(line) and line[0] == "crown"
    if line[:1] == ["engine"] or line[:1] == ["supports"]:
        return _stand(bent, line)
    slider, rest = _named(["sag", *line[1:]] if crown else _horn_words(line), layout)
    amount, _, at = " ".join(rest).partition(" at ")
    if at and not slider.placed:
        raise Refused(
            "You can say where only for a sag, a crown or a kink: leave out the “at”", LIKE
        )
    value = float(read_length(amount, unit, slider.signs)) * (-1.0 if crown else 1.0)
    if abs(value) > MOST:
        raise Refused("The model bends by 60 mm (2 3/8 in) at most: type less", "1/4 in or 6 mm")
    x = place_x(at, layout, unit) if at else mount_x(layout)
    return slider.put(bent, value, x)


def _named(line: list[str], layout: Layout) -> tuple[Slider, list[str]]:
    """The slider that a line names, and what stands behind its name. Raises Refused."""
    found = slider_of(line)
    if found is None:
        raise Refused("You cannot bend anything of that name: type what to bend", LIKE)
    if found[0].id.startswith("horn") and not layout.tips:
        raise Refused("This kind of frame has no horns: bend something else", "diamond 6 mm")
    return found


WAYS = {
    "in": ("in", ""),
    "inward": ("in", ""),
    "out": ("in", "outward"),
    "outward": ("in", "outward"),
    "up": ("up", ""),
    "down": ("up", "down"),
    "back": ("back", ""),
    "forward": ("back", "forward"),
}
"""The word that says which way a horn went: the slider's own word, and its sign where it is the
minus.
"""


def _horn_words(line: list[str]) -> list[str]:
    """`horn left 6 up` is `horn left up 6`, and `horn left out 4` is `horn left in 4 out`."""
    if len(line) < 3 or line[0] != "horn":
        return line
    way = next((w for w in line[2:] if w in WAYS), "in")
    word, sign = WAYS[way]
    return [*line[:2], word, *(w for w in line[2:] if w not in WAYS), *([sign] if sign else [])]


def _stand(bent: Bent, line: list[str]) -> Bent:
    word = line[1] if len(line) > 1 else ""
    if line[0] == "supports":
        if word not in SUPPORTS:
            raise Refused(
                "Say what it stands on: its wheels, stands under the axles, four stands, or three"
                " points for a bare frame",
                "supports wheels, supports axles, supports four or supports three",
            )
        # Only a bare frame goes on three points: what weighs on it could tip it, and twists it
        # there.
        return replace(
            bent, supports=SUPPORTS[word], engine="weight-off" if word == "three" else bent.engine
        )
    if word not in ("in", "on", "off", "out"):
        raise Refused("Say whether the engine's weight is on or off", "engine on or engine off")
    carries = word in ("in", "on")
    if carries and bent.supports == SUPPORTS["three"]:
        raise Refused(
            "On three points it must be a bare frame: put it on other supports first",
            "supports four",
        )
    return replace(bent, engine="in" if carries else "weight-off")


def said(bent: Bent, layout: Layout, write: Callable[[float], str]) -> tuple[str, ...]:
    """Every slider that is not at zero, in words: `diamond 6 mm back`."""
    lines = []
    for slider in SLIDERS:
        value = slider.get(bent)
        if value:
            word, at = slider.signs[value < 0], ""
            if slider.placed:
                sag = bend_of(bent, slider.id.split()[-1], slider.id.startswith("kink"))
                at = f" at {_nearest(layout, sag.x)}" if sag else ""
            head = " ".join(slider.id.split()[:2]) if slider.id.startswith("horn") else slider.id
            lines.append(f"{head} {write(abs(value))} {word}{at}")
    return tuple(lines)


def _nearest(layout: Layout, x: float) -> str:
    near = min(layout.stations, key=lambda s: abs(s.x - x))
    return str(near.id) if abs(near.x - x) < 1.0 else f"{x:.0f} mm"
