"""What tape, bar and level show: boxes out of square, a short rail, a bow, a twist, a horn.

The figure in capitals is this project's own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

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


@dataclass(frozen=True, slots=True)
class OutOfSquare:
    """How far the front box, the rear box and the whole frame are out of square; None where that
    is not known.
    """

    front: Judged | None
    rear: Judged | None
    whole: Judged | None

    @property
    def out(self) -> tuple[Judged, ...]:
        """Those that are out, the whole frame first."""
        return tuple(j for j in (self.whole, self.front, self.rear) if j is not None and is_out(j))

    @property
    def is_lone(self) -> bool:
        """Whether one box is out and the other is true."""
        front_alone = is_out(self.front) and is_true(self.rear)
        return front_alone or (is_out(self.rear) and is_true(self.front))

    @property
    def is_diamond(self) -> bool:
        """Whether both boxes lean to one side, or the whole frame leans and no box has it to
        itself.
        """
        leans = [j.finding.value for j in self.out if j is not self.whole]
        if len(leans) == 2:
            return leans[0] * leans[1] > 0
        return is_out(self.whole) and not self.is_lone and self.located() is self

    def located(self) -> OutOfSquare:
        """Where the one box is still, what the whole frame is out by sits in the other."""
        front_still, rear_still = _still(self.front, self.whole), _still(self.rear, self.whole)
        if front_still == rear_still:
            return self
        if rear_still:
            return self if is_out(self.front) else replace(self, front=self.whole)
        return self if is_out(self.rear) else replace(self, rear=self.whole)


def boxes(facts: Told) -> Iterator[Shown]:
    shifts = facts.of("rail-shift")
    front = _plainest(shifts.get("front-box"), shifts.get("front-box-bar"))
    found = OutOfSquare(front, shifts.get("rear-box"), shifts.get("whole"))
    bent = any(is_out(j) for j in facts.of("sway").values())
    if found.is_diamond and not bent:
        zones = _shift_zones("whole", found.out[0].finding.value)
        yield Shown("whole-diamond", tuple(j.finding.id for j in found.out), zones, "whole")
        return
    yield from _box_by_box(found.located())


def _box_by_box(found: OutOfSquare) -> Iterator[Shown]:
    front, rear = found.front, found.rear
    if front and is_out(front):
        name = "front-box-out-rest-true" if is_true(rear) else "front-box-out"
        ids = (front.finding.id, *((rear.finding.id,) if rear else ()))
        yield Shown(name, ids, _shift_zones("front-box", front.finding.value), "front-box")
    if rear and is_out(rear):
        zones = _shift_zones("rear-box", rear.finding.value)
        yield Shown("rear-box-out", (rear.finding.id,), zones, "rear-box")


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
