"""The sliders by the words that are typed: `diamond 6`, `sag left 8 at engine-mount`, `horn right 4 up`."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Any

from wizard.library.shapes import Layout
from wizard.model.bent import BOW_SPREAD, KINK_SPREAD, Bent, Horn, Sag, Supports
from wizard.readings.lengths import read_length
from wizard.readings.refused import Refused
from wizard.survey.record import Unit

MOST = 60.0
"""mm; the model bends no further: beyond it nobody needs a tape."""


@dataclass(frozen=True, slots=True)
class Slider:
    """One thing that can be bent."""

    id: str
    """The words that are typed, such as `sag left`."""
    signs: tuple[str, str]
    """The words for plus and for minus."""
    get: Callable[[Bent], float]
    """Its value, mm."""
    put: Callable[[Bent, float, float], Bent]
    """(frame's faults, value, place in mm) -> the same with this one set; the place counts for bends of a rail."""
    placed: bool = False
    """Whether it has a place along the rail."""


def _field(id: str, name: str, plus: str, minus: str) -> Slider:
    def put(bent: Bent, value: float, x: float) -> Bent:
        changed: dict[str, Any] = {name: value}
        return replace(bent, **changed)

    return Slider(id, (plus, minus), lambda bent: float(getattr(bent, name)), put)


def _horn(side: str, way: str, word: str, signs: tuple[str, str]) -> Slider:
    name = f"horn_{side}"

    def put(bent: Bent, value: float, x: float) -> Bent:
        horn: Horn = getattr(bent, name)
        moved: dict[str, Any] = {way: value}
        changed: dict[str, Any] = {name: replace(horn, **moved)}
        return replace(bent, **changed)

    return Slider(f"horn {side} {word}", signs, lambda bent: float(getattr(getattr(bent, name), way)), put)


def bend_of(bent: Bent, side: str, sharp: bool) -> Sag | None:
    """The bow, or the kink, that a rail has; None without one."""
    sags: tuple[Sag, ...] = getattr(bent, side)
    return next((s for s in sags if (s.spread == KINK_SPREAD) == sharp), None)


def _bend(word: str, side: str, sharp: bool) -> Slider:
    def get(bent: Bent) -> float:
        found = bend_of(bent, side, sharp)
        return found.depth if found else 0.0

    def put(bent: Bent, value: float, x: float) -> Bent:
        others = tuple(s for s in getattr(bent, side) if (s.spread == KINK_SPREAD) != sharp)
        own = (Sag(value, x, KINK_SPREAD if sharp else BOW_SPREAD),) if value else ()
        changed: dict[str, Any] = {side: (*others, *own)}
        return replace(bent, **changed)

    return Slider(f"{word} {side}", ("low", "high"), get, put, placed=True)


SLIDERS: tuple[Slider, ...] = (
    _field("diamond", "diamond", "back", "forward"),
    _field("sway front", "sway_front", "right", "left"),
    _field("sway rear", "sway_rear", "right", "left"),
    _field("mash left", "mash_left", "shorter", "longer"),
    _field("mash right", "mash_right", "shorter", "longer"),
    _bend("sag", "left", False),
    _bend("sag", "right", False),
    _bend("kink", "left", True),
    _bend("kink", "right", True),
    _field("twist", "twist", "left", "right"),
    *(
        _horn(side, way, word, signs)
        for side in ("left", "right")
        for way, word, signs in (
            ("inward", "in", ("inward", "outward")),
            ("up", "up", ("up", "down")),
            ("back", "back", ("back", "forward")),
        )
    ),
    _field("axle front", "axle_front", "back", "forward"),
    _field("axle rear", "axle_rear", "back", "forward"),
    _field("spring", "weak_spring", "left", "right"),
    _field("stand", "stand_low", "left", "right"),
    _field("pulley", "pulley", "right", "left"),
)
"""In the order in which the arrows walk through them."""

SUPPORTS: dict[str, Supports] = {
    "wheels": "wheels",
    "axles": "stands-under-axles",
    "four": "stands-under-frame",
    "three": "three-points",
}
LIKE = "diamond 6 mm, sag left 8 mm at engine-mount or horn right in 5 mm"


def slider_of(words: Iterable[str]) -> tuple[Slider, list[str]] | None:
    """The slider whose words a line begins with, and the rest of the line; the longest that fits."""
    line = list(words)
    fitting = [s for s in SLIDERS if s.id.split() == line[: len(s.id.split())]]
    best = max(fitting, key=lambda s: len(s.id), default=None)
    return (best, line[len(best.id.split()) :]) if best else None


def mount_x(layout: Layout) -> float:
    """Where a rail sags by age: at the engine's rear mount, else in the middle of the string."""
    start, end = layout.string
    x = layout.figures.get("engine_mount_x", start)
    return x if start < x < end else (start + end) / 2


def place_x(words: str, layout: Layout, unit: Unit) -> float:
    """mm of a station by its id or name, or of a length rearward of the front points. Raises Refused."""
    station = next((s for s in layout.stations if words in (s.id, s.name)), None)
    x = station.x if station else _length(words, layout, unit)
    if not layout.string[0] < x < layout.string[1]:
        raise Refused("That place is beyond the string's blocks, where no string sees it", layout.stations[0].id)
    return x


def _length(words: str, layout: Layout, unit: Unit) -> float:
    try:
        return float(read_length(words, unit, ("back", "forward")))
    except Refused as refused:
        names = ", ".join(s.id for s in layout.stations)
        raise Refused(f"There is no station of that name; there are {names}", layout.stations[-1].id) from refused


def bend(bent: Bent, text: str, layout: Layout, unit: Unit = "mm") -> Bent:
    """The frame's faults after one typed line. A bare number is in `unit`. Raises Refused with one sentence.

    >>> from wizard.library.shapes import Layout, Station
    >>> ladder = Layout("l", "", "", "", (), (), (Station("mid", "mid", 500.0),), (), (0.0, 1000.0))
    >>> bend(Bent(), "diamond 6", ladder).diamond
    6.0
    >>> bend(Bent(), "crown left 4 at mid", ladder).left
    (Sag(depth=-4.0, x=500.0, spread=600.0),)
    """
    line = text.lower().replace("-mm", " mm").split()
    crown = bool(line) and line[0] == "crown"
    found = slider_of(["sag", *line[1:]] if crown else _horn_words(line))
    if line[:1] == ["engine"] or line[:1] == ["supports"]:
        return _stand(bent, line)
    if found is None:
        raise Refused("Nothing of that name can be bent", LIKE)
    slider, rest = found
    amount, _, at = " ".join(rest).partition(" at ")
    if at and not slider.placed:
        raise Refused("Only a sag, a crown or a kink has a place along the rail", LIKE)
    value = float(read_length(amount, unit, slider.signs)) * (-1.0 if crown else 1.0)
    if abs(value) > MOST:
        raise Refused("The model bends up to 60 mm (2 3/8 in)", "1/4 in or 6 mm")
    x = place_x(at, layout, unit) if at else mount_x(layout)
    return slider.put(bent, value, x)


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
"""The word that says which way a horn went: the slider's own word, and its sign where it is the minus."""


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
            raise Refused("It can stand on its wheels, on stands under the axles, on four stands or on three points",
                          "supports wheels, supports axles, supports four or supports three")
        return replace(bent, supports=SUPPORTS[word])
    if word not in ("in", "on", "off", "out"):
        raise Refused("The engine's weight is on or off", "engine on or engine off")
    return replace(bent, engine="in" if word in ("in", "on") else "weight-off")


def said(bent: Bent, layout: Layout, write: Callable[[float], str]) -> tuple[str, ...]:
    """Every slider that is not at nought, in words: `diamond 6 mm back`."""
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
    return near.id if abs(near.x - x) < 1.0 else f"{x:.0f} mm"
