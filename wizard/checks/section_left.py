"""What the thin places of a rail have left of it: of the section at the weakest, and of the whole
rail's stiffness.

Source: the section of a channel, of a hollow box, or of a tube, less the metal lost
(wizard/math/channel.py, tube.py), from end to end of the rail (wizard/math/rail_left.py). Where
across a face a thin place lies is not asked: on a flange it does not matter, on the web it is taken
between its middle and its foot, around a tube up to an eighth of the way from the middle of its
face, with the difference as doubt. No limit is published for what one place may cost, so none judges it.
"""

from collections.abc import Sequence
from typing import NamedTuple

from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.thin_places import ThinPlace, places_of
from wizard.library.places import QuantityId, WhereId
from wizard.math.channel import Face, Loss
from wizard.math.rail_left import Left, Thin, along, stiffness_of, weakest
from wizard.math.tube import Tube, rail
from wizard.math.uncertain import Part, Uncertain, combine

LEFT = (QuantityId("rail-stiffness"), QuantityId("rail-strength"))
"""Of the whole rail, and at its weakest place."""
RETURNS = LEFT
LOSS_U = 0.1
"""Relative doubt of what is lost: square corners in place of pressed ones take 5 to 9 % too much of
a flange, and sizes that are a tenth off another 4 to 7 % (computed; tests/math/test_rail_left.py).
"""
STEP = 0.01
"""mm; by so much a reading is moved to see what hangs on it."""
MIDDLE, FOOT = 0.5, 0.0
"""Where across the web a thin place lies, as a fraction up from its foot."""


class Mapped(NamedTuple):
    """The thin places of one rail of which all is known, and its sound section."""

    places: tuple[ThinPlace, ...]
    depth: float
    flange: float
    sort: str
    """What the rail is, cut across."""
    rail: tuple[float, float]
    """Where the rail begins and ends, mm behind the front points."""

    @property
    def read(self) -> tuple[Uncertain, ...]:
        """All that it is reckoned from: of each place sound metal, metal left, length and width."""
        found: list[Uncertain] = []
        for place in self.places:
            taken = (place.clean, place.metal, place.long, place.wide)
            found += [one.number for one in taken if one]
        return tuple(found)


def check(case: Case) -> list[Finding]:
    """Stiffness and strength left in percent, for each side whose thin places are all known."""
    found = []
    for side in ("left", "right"):
        mapped = mapped_of(case, side)
        if mapped is not None:
            ids = tuple(dict.fromkeys(id for place in mapped.places for id in place.ids))
            for at, quantity in enumerate(LEFT):
                found.append(case.found(quantity, WhereId(side), _told(mapped, at), ids))
    return found


def mapped_of(case: Case, side: str) -> Mapped | None:
    """The thin places of a rail; None where there are none, or one is not known whole."""
    places, figures = places_of(case, side), case.layout.figures
    if not places or not all(place.is_whole for place in places):
        return None
    depth, flange = figures.get("rail_depth", 0.0), figures.get("rail_flange", 0.0)
    clean = places[0].clean.number.value
    if 2 * clean >= depth or 2 * clean >= flange:
        return None  # mm typed where inches are set: no rail is that thick
    along_x = [place.x for place in case.layout.places]
    return Mapped(places, depth, flange, case.layout.section, (min(along_x), max(along_x)))


def stretches_of(mapped: Mapped, at_web: float = (MIDDLE + FOOT) / 2) -> tuple[Left, ...]:
    """The rail from end to end with what is left of it. at_web: where on the web what is thin there
    lies, as a fraction up from its foot.
    """
    return _stretches(mapped, [number.value for number in mapped.read], at_web)


def _stretches(mapped: Mapped, values: Sequence[float], at_web: float) -> tuple[Left, ...]:
    clean = values[0]
    section = rail(mapped.sort, mapped.depth, mapped.flange, clean)
    each = zip(mapped.places, _by_place(values), strict=True)
    wide = section.around / 2 if isinstance(section, Tube) else 0.0
    thin = [_thin(mapped, place, of_one, at_web, wide) for place, of_one in each]
    return along(section, thin, mapped.rail)


def _by_place(values: Sequence[float]) -> list[Sequence[float]]:
    """What was read of each place, by fours."""
    return [values[n : n + 4] for n in range(0, len(values), 4)]


def _thin(
    mapped: Mapped, place: ThinPlace, values: Sequence[float], at_web: float, half: float
) -> Thin:
    """values: sound metal, metal left, length, width. half: of a tube, half of its circumference."""
    clean, metal, long, wide = values
    assert place.face
    face, skin = place.face
    across = half or (mapped.depth if face == "web" else mapped.flange)
    part = min(1.0, max(0.0, wide / across))
    foot = _off_the_middle(part, at_web) if half else _up_the_face(face, part, at_web)
    loss = Loss(face, skin, min(clean, max(0.0, clean - metal)), (foot, min(1.0, foot + part)))
    middle = place.at.number.value if place.at else sum(mapped.rail) / 2
    reach = max(0.0, long) / 2
    return Thin(middle - reach, middle + reach, loss)


def _up_the_face(face: Face, part: float, at_web: float) -> float:
    """Where a thin place begins across a flat face: on a flange it does not matter."""
    return at_web * (1 - part) if face == "web" else 0.0


def _off_the_middle(part: float, at: float) -> float:
    """Where it begins around a tube: at MIDDLE in the middle of the face that was named, at FOOT an
    eighth of the way around from there, where the next face begins.
    """
    return (0.5 + (MIDDLE - at) / 2) * (1 - part)


def _told(mapped: Mapped, at: int) -> Uncertain:
    """One of LEFT, in percent, with its doubt."""
    read = mapped.read
    values = [number.value for number in read]
    told = _percent(mapped, values, at)
    terms = []
    for n, number in enumerate(read):
        moved = [value + STEP * (n == m) for m, value in enumerate(values)]
        terms.append(((_percent(mapped, moved, at) - told) / STEP, number))
    apart = [_percent(mapped, values, at, web) for web in (MIDDLE, FOOT)]
    corners = Part(
        "square-corners", (100 - told) * LOSS_U, shared=True, source="square corners, round sizes"
    )
    web = Part("where-on-the-web", abs(apart[0] - apart[1]) / 12**0.5, source="not asked")
    return combine(told, terms).with_parts(corners, web)


def _percent(
    mapped: Mapped, values: Sequence[float], at: int, web: float = (MIDDLE + FOOT) / 2
) -> float:
    stretches = _stretches(mapped, values, web)
    return 100 * (weakest(stretches).strength if at else stiffness_of(stretches))
