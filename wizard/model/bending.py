"""A typed line bends the model: `diamond 6`, `sag left 8 at engine-mount`, `horn right up 4`,
`supports three`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import reduce
from typing import NamedTuple

from wizard.library.shapes import Layout
from wizard.model.bent import Bent, Supports
from wizard.model.sliders import SLIDERS, Slider, bend_of, slider_of
from wizard.readings.figures import read_angle, read_length
from wizard.readings.refused import Refused
from wizard.survey.record import Unit

MOST_DEG = 10.0
"""Degrees; the model leans no further."""
MOST = 60.0
"""mm; the model bends no further: beyond it nobody needs a tape."""
MOST_WARM = 40.0
"""°C; no sun makes more of a difference."""
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
    if plain := everyday(line):
        return reduce(lambda made, one: _bend(made, one.split(), layout, unit), plain, bent)
    return _bend(bent, line, layout, unit)


def _bend(bent: Bent, line: list[str], layout: Layout, unit: Unit) -> Bent:
    """The same for one line in the sliders' own words."""
    crown = bool(line) and line[0] == "crown"
    if line[:1] == ["string"]:
        return _strung(bent, line)
    if line[:1] == ["engine"] or line[:1] == ["supports"]:
        return _stand(bent, line)
    slider, rest = _named(["sag", *line[1:]] if crown else _horn_words(line), layout)
    amount, _, at = " ".join(rest).partition(" at ")
    if at and not slider.placed:
        raise Refused(
            "You can say where only for a sag, a crown or a kink: leave out the “at”", LIKE
        )
    value = _amount(slider, amount, unit) * (-1.0 if crown else 1.0)
    x = place_x(at, layout, unit) if at else mount_x(layout)
    return slider.put(bent, value, x)


def _amount(slider: Slider, typed: str, unit: Unit) -> float:
    """mm, or for a slider of angles degrees, plus for the first of its two words. Raises
    Refused.
    """
    value = _size(slider, typed, unit)
    if slider.one_way and value < 0:
        raise Refused(f"This goes one way only: {slider.signs[0]}", f"{slider.id} 1 mm")
    return value


def _size(slider: Slider, typed: str, unit: Unit) -> float:
    """The same, either way."""
    if slider.unit == "C":
        return _warmth(slider, typed)
    if slider.unit == "deg":
        bare = typed if any(map(typed.endswith, slider.signs)) else f"{typed} {slider.signs[0]}"
        value = float(read_angle(bare, slider.signs))
        if abs(value) > MOST_DEG:
            raise Refused("The model leans by 10 degrees at most: type less", "1.5 deg")
        return value
    value = float(read_length(typed, unit, slider.signs))
    if abs(value) > MOST:
        raise Refused("The model bends by 60 mm (2 3/8 in) at most: type less", "1/4 in or 6 mm")
    return value


def _warmth(slider: Slider, typed: str) -> float:
    """°C, a bare number too. Raises Refused."""
    words = typed.replace("°", " ").replace("deg", " ").split()
    way = next((w for w in words if w in slider.signs), slider.signs[0])
    value = float(
        read_angle(" ".join([*(w for w in words if w not in (way, "c")), way]), slider.signs)
    )
    if abs(value) > MOST_WARM:
        raise Refused("A rail is 40 °C warmer on one side at most: type less", f"{slider.id} 10")
    return value


def _named(line: list[str], layout: Layout) -> tuple[Slider, list[str]]:
    """The slider that a line names, and what stands behind its name. Raises Refused."""
    found = slider_of(line)
    if found is None:
        raise Refused("You cannot bend anything of that name: type what to bend", LIKE)
    if found[0].id.startswith("horn") and not layout.tips:
        raise Refused("This kind of frame has no horns: bend something else", "diamond 6 mm")
    return found


FILLERS = frozenset(
    [
        "the",
        "a",
        "rail",
        "rails",
        "frame",
        "by",
        "of",
        "is",
        "was",
        "end",
        "push",
        "pushed",
        "bend",
        "bent",
        "knocked",
    ]
)
SAME = {
    **dict.fromkeys(("backward", "backwards", "rearward", "slip", "slipped", "shift"), "back"),
    **dict.fromkeys(("shifted", "moved"), "back"),
    **dict.fromkeys(("forwards", "ahead"), "forward"),
    **dict.fromkeys(("low", "lower", "dropped", "hangs", "sag", "sags", "sagged"), "down"),
    **dict.fromkeys(("high", "higher", "raised", "crown", "crowned"), "up"),
    **{"kinked": "kink", "horns": "horn", "corners": "corner", "twisted": "twist"},
}
"""Other words that people type for the same."""
UNITS = frozenset(("in", "inch", "inches", "mm", "cm", '"'))
SIDES = ("left", "right")


class Everyday(NamedTuple):
    """A way of saying what is bent, and the slider's own words for it."""

    words: frozenset[str]
    """All of these are in the line."""
    line: str
    """{side} that was named, {other} side, {amount}, {way} of a horn, {at} a place."""


def _says(words: str, line: str) -> Everyday:
    return Everyday(frozenset(words.split()), line)


EVERYDAY = (
    _says("horn", "horn {side} {amount} {way}"),
    _says("kink", "kink {side} {amount}{at}"),
    *(
        _says(f"axle {end} {side} {way}", f"axle {end} {{amount}} {sign}")
        for end in ("front", "rear")
        for side, way, sign in (
            *(("left", "back", "back"), ("left", "forward", "forward")),
            *(("right", "back", "forward"), ("right", "forward", "back")),
        )
    ),
    *(_says(f"nose {side}", f"sway front {{amount}} {side}") for side in ("left", "right")),
    _says("corner back", "mash {side} {amount} shorter"),
    _says("corner forward", "mash {side} {amount} longer"),
    _says("front back", "mash {side} {amount} shorter"),
    _says("front forward", "mash {side} {amount} longer"),
    _says("rear up", "twist {amount} {side}"),
    _says("rear down", "twist {amount} {other}"),
    _says("down", "sag {side} {amount}{at}"),
    _says("up", "crown {side} {amount}{at}"),
    _says("left back", "diamond {amount} forward"),
    _says("right back", "diamond {amount} back"),
    _says("left forward", "diamond {amount} back"),
    _says("right forward", "diamond {amount} forward"),
)
"""What people type for a bend, the first that fits: `left back 1/2` is a rail that slipped, `left front
back 1/2` a corner.
"""
IN_FRONT = ("diamond", "mash")
"""What no rear corner does: one that went forward or back is modeled in front alone."""


def everyday(line: list[str]) -> tuple[str, ...]:
    """The same in the sliders' own words, a line for each side; empty for a line that has them, or that
    no way of saying it fits.

    >>> everyday("left rail back 1/2 in".split()), everyday("both rails down 6".split())
    (('diamond 1/2 in forward',), ('sag left 6', 'sag right 6'))
    """
    if line[:1] in OWN or slider_of(line):
        return ()
    said, _, place = " ".join(line).partition(" at ")
    words, amount = _parted(said.split())
    found = _meant(words)
    at = f" at {place}" if place else ""
    way = next(filter(words.__contains__, WAYS), "in")
    return tuple(
        found.format(side=side, other=SIDES[side == "left"], amount=amount, at=at, way=way)
        for side in (_sides(words) if found else ())
    )


OWN = (["crown"], ["engine"], ["supports"], ["string"])
"""First words that are no slider's, and no everyday words either."""


def _sides(words: frozenset[str]) -> tuple[str, ...]:
    return SIDES if "both" in words else tuple(filter(words.__contains__, SIDES))


def _meant(words: frozenset[str]) -> str:
    """The sliders' own words for what these say; empty for nothing that the model bends."""
    line = next((e.line for e in EVERYDAY if e.words <= words), "")
    return "" if "rear" in words and line.startswith(IN_FRONT) else line


def _parted(line: list[str]) -> tuple[frozenset[str], str]:
    """The words of a line, and its amount: figures, and a unit behind them."""
    words, amount, before = set(), [], ""
    for word in line:
        if _is_amount(word, before):
            amount.append(word)
        else:
            words.add(SAME.get(word, word))
        before = word
    return frozenset(words - FILLERS), " ".join(amount)


def _is_amount(word: str, before: str) -> bool:
    """Whether a word is a figure, or the unit behind one."""
    return any(map(str.isdigit, word)) or (word in UNITS and before[-1:].isdigit())


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
    ways = _ways(line)
    word, sign = WAYS[line[ways[0]] if ways else "in"]
    rest = [line[at] for at in range(2, len(line)) if at not in ways]
    return [*line[:2], word, *rest, *filter(None, [sign])]


def _ways(line: list[str]) -> list[int]:
    """Where in a line it is said which way; of `in 1/4 in` the second word is the unit."""
    ways = [at for at in range(2, len(line)) if line[at] in WAYS]
    alone = len(ways) < 2
    return [at for at in ways if alone or not _is_amount(line[at], line[at - 1])]


def _strung(bent: Bent, line: list[str]) -> Bent:
    word = line[1] if len(line) > 1 else ""
    if word == "above":
        return replace(bent, string="above")
    if word == "below":
        return replace(bent, string="below")
    raise Refused("Say whether the string runs above or below the rail", "string below")


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


SAID: dict[str, Callable[[float], str]] = {
    "deg": lambda value: f"{value:.1f} deg",
    "C": lambda value: f"{value:.0f} °C",
}
"""How a size is written that is no length."""


def said(bent: Bent, layout: Layout, write: Callable[[float], str]) -> tuple[str, ...]:
    """Every slider that is not at zero, in words: `right rail back 6 mm (a diamond)`."""
    lines = []
    for slider in SLIDERS:
        value = slider.get(bent)
        if value:
            word, at = slider.signs[value < 0], ""
            if slider.placed:
                sag = bend_of(bent, slider.id.split()[-1], slider.id.startswith("kink"))
                at = f" at {_nearest(layout, sag.x)}" if sag else ""
            head = " ".join(slider.id.split()[:2]) if slider.id.startswith("horn") else slider.id
            size = SAID.get(slider.unit, write)(abs(value))
            plain = slider.plain[value < 0].format(size=size)
            lines.append(plain or f"{head} {size} {word}{at}")
    return tuple(lines)


def _nearest(layout: Layout, x: float) -> str:
    near = min(layout.stations, key=lambda s: abs(s.x - x))
    return str(near.id) if abs(near.x - x) < 1.0 else f"{x:.0f} mm"
