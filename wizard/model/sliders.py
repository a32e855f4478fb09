"""The sliders: everything that can be bent, by the words that are typed for it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Any

from wizard.model.bent import BOW_SPREAD, KINK_SPREAD, Bent, Horn, Sag


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
    """(frame's faults, value, place in mm) -> the same with this one set; the place counts for
    bends of a rail.
    """
    placed: bool = False
    """Whether it has a place along the rail."""
    unit: str = "mm"
    """Of its value: mm, deg, or C for degrees of warmth."""
    one_way: bool = False
    """Whether it goes to plus alone: rust puts no metal on."""
    plain: tuple[str, str] = ("", "")
    """What plus and minus are said as where the slider's own words do not name the rail; {size}."""


def _field(
    id: str,
    name: str,
    plus: str,
    minus: str,
    plain: tuple[str, str] = ("", ""),
    unit: str = "mm",
    one_way: bool = False,
) -> Slider:
    def put(bent: Bent, value: float, x: float) -> Bent:
        changed: dict[str, Any] = {name: value}
        return replace(bent, **changed)

    return Slider(
        id,
        (plus, minus),
        lambda bent: float(getattr(bent, name)),
        put,
        unit=unit,
        plain=plain,
        one_way=one_way,
    )


ONE_RAIL = "{side} rail back {{size}} (a diamond)"
SLIPPED = ONE_RAIL.format(side="right"), ONE_RAIL.format(side="left")


def _horn(side: str, way: str, word: str, signs: tuple[str, str]) -> Slider:
    name = f"horn_{side}"

    def put(bent: Bent, value: float, x: float) -> Bent:
        horn: Horn = getattr(bent, name)
        moved: dict[str, Any] = {way: value}
        changed: dict[str, Any] = {name: replace(horn, **moved)}
        return replace(bent, **changed)

    return Slider(
        f"horn {side} {word}", signs, lambda bent: float(getattr(getattr(bent, name), way)), put
    )


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
    _field("diamond", "diamond", "back", "forward", SLIPPED),
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
    _field("beam left", "beam_left", "back", "forward"),
    _field("beam right", "beam_right", "back", "forward"),
    _field("beam twist", "beam_twist", "left", "right", unit="deg"),
    _field("camber left", "camber_left", "out", "inward", unit="deg"),
    _field("camber right", "camber_right", "out", "inward", unit="deg"),
    _field("toe", "toe", "inward", "out"),
    _field("front spring", "front_spring", "left", "right"),
    _field("perch left", "perch_left", "inward", "out"),
    _field("perch right", "perch_right", "inward", "out"),
    _field("rear shackle", "rear_shackle", "left", "right", unit="deg"),
    _field("body left", "body_left", "up", "down"),
    _field("body right", "body_right", "up", "down"),
    _field("shims left", "shims_left", "missing", "more", one_way=True),
    _field("shims right", "shims_right", "missing", "more", one_way=True),
    _field("thin left", "thin_left", "gone", "more", one_way=True),
    _field("thin right", "thin_right", "gone", "more", one_way=True),
    _field("sun left", "sun_left", "warmer", "colder", unit="C"),
    _field("sun right", "sun_right", "warmer", "colder", unit="C"),
    _field("deeper", "deeper", "midway", "shallower"),
    _field("arched", "arched", "up", "down"),
)
"""In the order in which the arrows walk through them."""


def slider_of(words: Iterable[str]) -> tuple[Slider, list[str]] | None:
    """The slider whose words a line begins with, and the rest of the line; the longest that fits."""
    line = list(words)
    fitting = [s for s in SLIDERS if s.id.split() == line[: len(s.id.split())]]
    best = max(fitting, key=lambda s: len(s.id), default=None)
    return (best, line[len(best.id.split()) :]) if best else None
