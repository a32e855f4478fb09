"""The front axle, and what is read on it: one scene for each kind of reading of the axle set.

From above the front is at the top, and from the rear left is left; of a wheel's lean seen from its
left the front is at the left. No size is the car's own: what is drawn is where the string, the
gauge or the tape goes, and which way an answer counts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from wizard.library import marks
from wizard.telling.scene import Flat, Ink, Label, Mark, Part, Scene, Stroke

SIGN: Mapping[str, int] = {"left": -1, "right": 1}
"""Across the picture; what is asked of neither side lights both."""
REACH: Flat = (-760.0, 760.0)
HALF = 100.0
PIN, SPRING, WHEEL, RAIL = 600.0, 330.0, 680.0, 400.0
"""How far out kingpin, mark, wheel and rail are drawn."""
ABOVE = "The front axle from above, front at the top, so that left is left"
BEHIND = "The front axle from the rear, looking forward, so that left is left"


def axle_scene(reads: str, point: str, side: str, name: str) -> Scene:
    """What one prompt of the axle set reads.

    reads: what its page reads (`marks.AXLE_SET`), else empty. point: what is read where there are no
    two points, such as a wheel's rim. side: left, right or empty. name: of the prompt, such as front.
    """
    view = VIEWS.get(point) or VIEWS.get(reads) or _play
    parts, words = view(side, name)
    return Scene(tuple(parts), REACH, HALF, f"{words}.")


def _lit(side: str) -> tuple[str, ...]:
    """The sides that are asked about."""
    return (side,) if side in SIGN else ()


def _line(ink: Ink, *points: Flat, lit: bool = False) -> Stroke:
    return Stroke(ink, points, lit=lit)


def _drop(x: float, y0: float, y1: float) -> Stroke:
    """The ruler, upright between two heights."""
    return Stroke("tape", ((x, y0), (x, y1)), lit=True, aside=((0.0, 0.0), (0.0, 0.0)))


def _ends(y: float) -> Iterator[Part]:
    """Which side is which."""
    for side, sign in SIGN.items():
        yield Label(side, (sign * PIN, y), "beyond")


# Tape, string and ruler
# --------------------------------------------------------------------------------------


def _beam(side: str, _: str) -> tuple[list[Part], str]:
    """The beam, its string over two blocks, and the gap at one of the marks."""
    blocks = side not in SIGN
    parts: list[Part] = [
        _line("brace", (-WHEEL, HALF), (WHEEL, HALF)),
        _line("rail", (-WHEEL, -HALF), (WHEEL, -HALF)),
        Label("string", (0.0, HALF), "beyond"),
        Label("front beam", (0.0, -HALF), "beyond"),
        *_ends(-HALF),
        Label("front", (0.0, HALF), "margin"),
    ]
    for sign in SIGN.values():
        edge = sign * (PIN + 40.0)
        parts.append(_line("member", (edge, HALF), (edge, -HALF), lit=blocks))
        parts.append(Mark("point", (sign * PIN, -HALF)))
        parts.append(Mark("point", (sign * SPRING, -HALF)))
    parts.append(Label("block", (-PIN, 0.0), "beside", lit=blocks))
    for lit in _lit(side):
        x = SIGN[lit] * SPRING
        parts.append(_drop(x, HALF, -HALF))
        parts.append(Label(f"{lit} mark", (x, 0.0), "beside", lit=True))
    asked = "each block" if blocks else f"from string to beam at the {side} mark"
    way = "a string ahead of it over two equal blocks, a mark inside each spring"
    return parts, f"{ABOVE}; {way}; read: {asked}"


def _perch(side: str, _: str) -> tuple[list[Part], str]:
    """Both rails over the beam, and from the one that is asked about down to its perch."""
    parts: list[Part] = [*_behind(-0.9 * HALF), *_ends(HALF)]
    for sign in SIGN.values():
        x = sign * RAIL
        parts.append(_line("rail", (x, HALF), (x, 0.3 * HALF)))
        parts.append(_line("member", (x - 60.0, -0.6 * HALF), (x + 60.0, -0.6 * HALF)))
        parts.append(Label("rail", (x, HALF), "beside"))
        parts.append(Label("perch", (x + 50.0, -0.6 * HALF), "beside"))
    for lit in _lit(side):
        x = SIGN[lit] * RAIL
        parts.append(_drop(x, 0.3 * HALF, -0.6 * HALF))
        parts.append(Label("read here", (x, 0.0), "beside", lit=True))
    asked = f"from the {side} rail's lower edge straight down to its spring's perch"
    return parts, f"{BEHIND}; read: {asked}"


def _toe(_: str, name: str) -> tuple[list[Part], str]:
    """Both front tires, and the tape in front of them or behind."""
    parts: list[Part] = [
        _line("member", (-PIN, 0.0), (PIN, 0.0)),
        Label("axle", (0.0, 0.0), "over"),
        Label("front", (0.0, HALF), "margin"),
        *(Label(side, (sign * 1.17 * PIN, 0.0), "over") for side, sign in SIGN.items()),
    ]
    for sign in SIGN.values():
        parts.append(_line("looked", (sign * (PIN - 20.0), HALF), (sign * (PIN + 20.0), -HALF)))
    if name not in TAPED:
        return parts, ABOVE
    y, where = TAPED[name]
    parts.append(_line("tape", (60.0 - PIN, y), (PIN - 60.0, y), lit=True))
    for sign in SIGN.values():
        parts.append(Mark("asked", (sign * (PIN - 20.0 * y / HALF), y), lit=True))
    return parts, f"{ABOVE}; read: from mark to mark {where} the tires, at hub height"


TAPED: Mapping[str, tuple[float, str]] = {
    "front": (HALF, "in front of"),
    "back": (-HALF, "behind"),
}
"""How far ahead the tape is drawn, by the prompt's name, and in words."""


# Gauge and hand
# --------------------------------------------------------------------------------------


def _behind(beam: float, lifted: str = "") -> Iterator[Part]:
    """Beam and wheels from the rear. beam: its height. lifted: the side whose wheel is clear of the
    floor.
    """
    yield _line("member", (-WHEEL, beam), (WHEEL, beam))
    for side, sign in SIGN.items():
        foot = -0.5 * HALF if side == lifted else -HALF
        yield _line("looked", (sign * WHEEL, HALF), (sign * WHEEL, foot))


def _shackle(side: str, name: str) -> tuple[list[Part], str]:
    """The end of a spring at its shackle; which way it leans."""
    top, eye = (0.0, HALF), (140.0, -0.5 * HALF)
    parts: list[Part] = [
        _line("rail", (-WHEEL, HALF), (WHEEL, HALF)),
        _line("member", (-WHEEL, -HALF), eye),
        _line("brace", top, (0.0, -HALF)),
        _line("looked", top, eye, lit=True),
        *(Mark("point", at) for at in (top, eye)),
        Label("rail", (-PIN, HALF), "beyond"),
        Label("the spring's middle lies this way", (-0.6 * PIN, -HALF), "beyond"),
        Label("upright", (0.0, -HALF), "beyond"),
        Label("toward", (-130.0, 0.2 * HALF), "over"),
        Label("away", (240.0, 0.2 * HALF), "over"),
    ]
    end = "rear" if name.startswith("rear") else "front"
    told = f"The {side} {end} shackle between rail and spring, its lean read from upright"
    return parts, f"{told}; away: the spring's end of it leans away from the spring's middle"


def _caster(side: str, _: str) -> tuple[list[Part], str]:
    """The end of the beam from the car's left, the gauge on its pad."""
    parts: list[Part] = [
        _line("brace", (-60.0, -HALF), (60.0, HALF)),
        _line("rail", (-260.0, -0.3 * HALF), (260.0, -0.8 * HALF)),
        _line("looked", (-150.0, 0.1 * HALF), (150.0, -0.3 * HALF), lit=True),
        Label("front", (0.0, 0.0), "margin"),
        Label("gauge", (-230.0, 0.1 * HALF), "over", lit=True),
        Label(f"{side} end of the beam", (260.0, -0.8 * HALF), "beside"),
        Label("back: the kingpin's top leans this way", (60.0, HALF), "beside"),
    ]
    told = f"The {side} end of the front beam seen from the car's left, front to the left"
    return parts, f"{told}; the gauge lies on its pad; back: the top leans to the rear"


def _camber(side: str, _: str) -> tuple[list[Part], str]:
    """Both wheels from the rear, a bar across the rim of one."""
    parts: list[Part] = [
        _line("member", (-PIN, 0.0), (PIN, 0.0)),
        *(_line("looked", (s * (PIN + 30.0), HALF), (s * PIN, -HALF)) for s in SIGN.values()),
        *(Label(end, (sign * 0.7 * PIN, -HALF), "over") for end, sign in SIGN.items()),
    ]
    for lit in _lit(side):
        s = SIGN[lit]
        parts.append(_line("looked", (s * (PIN + 90.0), HALF), (s * (PIN + 60.0), -HALF), lit=True))
        parts.append(Label("bar", (s * 0.9 * PIN, 0.5 * HALF), "over", lit=True))
        parts.append(Label("out", (s * (PIN + 90.0), HALF), "beyond"))
    return parts, f"{BEHIND}; a bar upright across the {side} rim; out: its top leans outward"


def _floor(_: str, __: str) -> tuple[list[Part], str]:
    """Both wheels from the rear, a bar on the floor between them."""
    parts: list[Part] = [
        _line("member", (-PIN, 0.0), (PIN, 0.0)),
        *(_line("looked", (s * PIN, HALF), (s * PIN, -HALF)) for s in SIGN.values()),
        *_ends(HALF),
        _line("tape", (60.0 - PIN, -HALF), (PIN - 60.0, -HALF), lit=True),
        Label("bar on the floor, the gauge on it", (0.0, -HALF), "beyond", lit=True),
    ]
    return parts, f"{BEHIND}; a bar on the floor from tire to tire; read: which side is high"


def _play(side: str, _: str) -> tuple[list[Part], str]:
    """The axle from the rear, one wheel just clear, a stand under the beam, a hand at top and bottom."""
    parts: list[Part] = [*_behind(0.0, side), *_ends(HALF)]
    parts.append(_line("brace", (REACH[0], -HALF), (REACH[1], -HALF)))
    if side not in SIGN:
        return parts, f"{BEHIND}; both front wheels down again"
    s = SIGN[side]
    parts += [
        _line("looked", (s * SPRING, -0.1 * HALF), (s * SPRING, -HALF)),
        Label("stand", (s * SPRING, -HALF), "beyond"),
        *(Mark("asked", (s * WHEEL, y), lit=True) for y in (HALF, -0.5 * HALF)),
        Label("a hand at top and bottom", (s * 0.5 * PIN, 0.5 * HALF), "over", lit=True),
    ]
    clear = f"the {side} wheel just clear, a stand under the beam, a hand at its top and bottom"
    return parts, f"{BEHIND}; {clear}"


VIEWS: Mapping[str, Callable[[str, str], tuple[list[Part], str]]] = {
    marks.BEAM: _beam,
    marks.PERCHES: _perch,
    marks.TOE_TAPES: _toe,
    "shackle": _shackle,
    "pad": _caster,
    "rim": _camber,
    "floor": _floor,
}
"""By what is read there, else by what the page reads."""
