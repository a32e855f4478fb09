"""What tape, bar and level show: boxes out of square, a short rail, a bow, a twist, a horn.

The figure in capitals is this project's own.
"""

from __future__ import annotations

from collections.abc import Iterator

from wizard.judgment.bands import Judged
from wizard.judgment.facts import Shown, Told, Zone, beyond, is_out, is_true
from wizard.judgment.supports import THREE, supports_of

SHORT_MM = 3.0
"""A rail that is shorter by less is no sign."""


def _shift_zones(box: str, value: float) -> tuple[Zone, ...]:
    """Where a blow would have come: a rail is pushed back at its front end, or forward at its rear
    end.
    """
    front: Zone = ("right" if value > 0 else "left", "front")
    rear: Zone = ("left" if value > 0 else "right", "rear")
    return {"front-box": (front,), "rear-box": (rear,)}.get(box, (front, rear))


def boxes(facts: Told) -> Iterator[Shown]:
    shifts = facts.of("rail-shift")
    front = _plainest(shifts.get("front-box"), shifts.get("front-box-bar"))
    rear, whole = shifts.get("rear-box"), shifts.get("whole")
    alike = (
        front
        and rear
        and is_out(front)
        and is_out(rear)
        and front.finding.value * rear.finding.value > 0
    )
    lone = (is_out(front) and is_true(rear)) or (is_out(rear) and is_true(front))
    both = is_out(front) and is_out(rear)
    bowed = any(is_out(j) for j in facts.of("sway").values())
    still = _still(rear, whole), _still(front, whole)
    if (
        alike or (whole and is_out(whole) and not lone and not both and still[0] == still[1])
    ) and not bowed:
        used = [j for j in (whole, front, rear) if j is not None and is_out(j)]
        zones = _shift_zones("whole", used[0].finding.value)
        yield Shown("whole-diamond", tuple(j.finding.id for j in used), zones, "whole")
        return
    # Where the one box is still, what the whole frame is out by sits in the other.
    if whole and still[0] != still[1]:
        front = whole if still[0] and not is_out(front) else front
        rear = whole if still[1] and not is_out(rear) else rear
    if front and is_out(front):
        name = "front-box-out-rest-true" if rear is not whole and is_true(rear) else "front-box-out"
        ids = (front.finding.id, *((rear.finding.id,) if rear else ()))
        yield Shown(name, ids, _shift_zones("front-box", front.finding.value), "front-box")
    if rear and is_out(rear):
        yield Shown(
            "rear-box-out",
            (rear.finding.id,),
            _shift_zones("rear-box", rear.finding.value),
            "rear-box",
        )


def _plainest(*found: Judged | None) -> Judged | None:
    """Of several readings of one box the first that is established to be out, else the first there
    is.

    None where one of them is out and another true: then a reading is wrong, and no shape rests on
    it.
    """
    there = [j for j in found if j is not None]
    if any(map(is_out, there)) and any(map(is_true, there)):
        return None
    return next((j for j in there if is_out(j)), there[0] if there else None)


def _still(box: Judged | None, whole: Judged | None) -> bool:
    """Whether a box is true while the whole frame is out: in a diamond every box is out as far as
    the whole.
    """
    if box is None or whole is None or not (is_true(box) and is_out(whole)):
        return False
    return abs(box.finding.value) + box.half_width < abs(whole.finding.value)


def lengths(facts: Told) -> Iterator[Shown]:
    """A rail shorter than its twin: by its own tapes, else by the plan; in the smallest box that
    shows it.
    """
    for quantity, longer in (("own-sides", "left"), ("mash", "right")):
        short = {
            w: j for w, j in facts.of(quantity).items() if w != "horns" and beyond(j, SHORT_MM)
        }
        for box in ("front-box", "rear-box", "whole"):
            if box in short:
                value = short[box].finding.value
                side = ({"left": "right", "right": "left"}[longer]) if value > 0 else longer
                thirds = {"front-box": ("front",), "rear-box": ("rear",)}.get(
                    box, ("front", "middle", "rear")
                )
                yield Shown(
                    "rail-short", (short[box].finding.id,), tuple((side, t) for t in thirds), box
                )
                return


def bowed(facts: Told) -> Iterator[Shown]:
    for sway in facts.of("sway").values():
        if is_out(sway):
            hit, other = ("left", "right") if sway.finding.value > 0 else ("right", "left")
            yield Shown(
                "frame-bowed",
                (sway.finding.id,),
                ((hit, "middle"), (other, "front"), (other, "rear")),
            )


def twists(facts: Told) -> Iterator[Shown]:
    out = [
        j
        for j in facts.of("twist").values()
        if is_out(j) and supports_of(j.finding, facts.survey) == THREE
    ]
    if out:
        yield Shown("twist-on-three", tuple(j.finding.id for j in out), (), "whole")


def horns(facts: Told) -> Iterator[Shown]:
    out = [j for q in ("horn", "horn-height") for j in facts.of(q).values() if is_out(j)]
    if out:
        yield Shown(
            "horn-out",
            tuple(j.finding.id for j in out),
            (("left", "front"), ("right", "front")),
            "horns",
        )
