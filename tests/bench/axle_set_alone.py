"""The axle set by itself: axles whose truth is known, read by hands of its own, and what is told of them.

    python -m tests.bench.axle_set_alone --surveys 2000 --seed 1

No code of `wizard/` makes the readings: a beam by vectors between two ends, wheels by a turned floor, tires
by their distances. Each hand scatters, the beam was forged a little unlike, gauge and floor are off, and
what is read is rounded to the tool's marks. Counted is how often a 95 % interval holds the truth, how often
a straight axle is told as more than `leave it`, and how often a fault of the given size is told.
"""

from __future__ import annotations

import argparse
import math
import random
from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from tests.checks.surveys import TOOLS, library, survey_of
from wizard.checks import axle_set
from wizard.checks.case import Case
from wizard.judgment.bands import judge

SIXTEENTH = 25.4 / 16


class Axle(NamedTuple):
    """What is true of one axle: mm and degrees."""

    beam: tuple[float, float] = (0.0, 0.0)
    caster: tuple[float, float] = (5.0, 5.0)
    camber: tuple[float, float] = (1.0, 1.0)
    toe: float = 3.0
    perch: tuple[float, float] = (180.0, 180.0)
    shackle: tuple[float, float] = (25.0, 25.0)


FAULTS: dict[str, tuple[Axle, str]] = {
    "straight": (Axle(), ""),
    "one end 5 mm back": (Axle(beam=(5.0, 0.0)), "beam-bend/left"),
    "caster 1 degree apart": (Axle(caster=(5.5, 4.5)), "caster-apart/difference"),
    "camber 1.5 degrees apart": (Axle(camber=(1.75, 0.25)), "camber-apart/difference"),
    "a spring down by 10 mm": (Axle(perch=(170.0, 180.0)), "perch-apart/difference"),
    "a shackle 10 degrees off": (Axle(shackle=(35.0, 25.0)), "shackle-apart/difference"),
    "toe 5 mm off": (Axle(toe=8.0), "toe-book/difference"),
}
"""What is bent, and the finding that ought to tell it."""


def rounded(value: float, mark: float) -> float:
    return round(value / mark) * mark


def leaning(value: float, plus: str, minus: str) -> str:
    return f"{abs(value):.1f} {plus if value > 0 else minus}" if abs(value) > 0.04 else "0"


def readings(axle: Axle, rng: random.Random) -> dict[str, list[str]]:
    """What an ordinary hand reads: ruler in half millimeters, tape in millimeters, gauge in tenths."""
    half, mark, block = rng.gauss(600, 30), rng.gauss(370, 30), rounded(rng.uniform(30, 60), 0.5)
    forged = [rng.gauss(0, 0.35) for _ in range(2)]
    ends = axle.beam
    zero, rake, floor = rng.gauss(0, 0.2), rng.gauss(0, 0.5), rng.gauss(0, 0.5)
    found: dict[str, list[str]] = {"beam-string/block": [f"{block}"]}

    def twice(read: float, s: float, step: float) -> list[str]:
        return [f"{rounded(rng.gauss(read, s), step):.1f}" for _ in range(2)]

    def angles(read: float, s: float, plus: str, minus: str, times: int = 2) -> list[str]:
        return [leaning(rounded(rng.gauss(read, s), 0.1), plus, minus) for _ in range(times)]

    for n, side in enumerate(("left", "right")):
        at = -mark if n == 0 else mark
        chord = ends[0] + (ends[1] - ends[0]) * (at + half) / (2 * half)
        found[f"beam-string/{side}"] = twice(block - chord + forged[n], 0.3, 0.5)
        found[f"spring-perches/{side}"] = twice(axle.perch[n], 0.3, 0.5)
        found[f"spring-perches/shackle-{side}"] = angles(axle.shackle[n], 1.0, "away", "toward", 1)
        found[f"caster-camber/caster-{side}"] = angles(
            axle.caster[n] + rake + zero, 0.2, "back", "forward"
        )
        out = axle.camber[n] - floor + zero if n == 0 else axle.camber[n] + floor - zero
        found[f"caster-camber/camber-{side}"] = angles(out, 0.2, "out", "in")
    found["caster-camber/floor"] = angles(floor - zero, 0.2, "left", "right")
    for end, more in (("front", 0.0), ("back", axle.toe)):
        found[f"toe-tapes/{end}"] = twice(1300 + more, 0.9, 1.0)
    return found


def truths(axle: Axle) -> dict[str, float]:
    """The true value of each finding."""
    (cl, cr), (ml, mr) = axle.caster, axle.camber
    return {
        "beam-bend/left": axle.beam[0],
        "beam-bend/right": axle.beam[1],
        "caster-side/left": cl,
        "caster-side/right": cr,
        "caster-apart/difference": cl - cr,
        "camber-side/left": ml,
        "camber-side/right": mr,
        "camber-apart/difference": ml - mr,
        "toe/difference": axle.toe,
        "toe-book/difference": axle.toe - 3.0,
        "perch-apart/difference": axle.perch[0] - axle.perch[1],
        "shackle-apart/difference": axle.shackle[0] - axle.shackle[1],
    }


def surveyed(axle: Axle, rng: random.Random) -> Iterator[tuple[str, bool, str]]:
    """Of one survey each finding, whether its interval holds the truth, and what is established."""
    survey = survey_of(
        readings(axle, rng),
        unit="mm",
        tools=(*TOOLS, "digital-gauge"),
        answers={"axle-book/toe": "3 mm"},
    )
    true = truths(axle)
    for finding in axle_set.check(Case(survey, library())):
        judged = judge(finding, survey, library())
        holds = abs(finding.value - true[finding.id]) <= judged.half_width
        yield finding.id, holds, judged.established


def main() -> None:
    """Run and print."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.axle_set_alone")
    parser.add_argument("--surveys", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    each = math.ceil(args.surveys / len(FAULTS))
    held, read, false, told = Counter[str](), Counter[str](), Counter[str](), Counter[str]()
    for name, (axle, wanted) in FAULTS.items():
        for n in range(each):
            for id, holds, band in surveyed(axle, random.Random(f"{args.seed} {name} {n}")):
                kind = id.partition("/")[0]
                read[kind] += 1
                held[kind] += holds
                if name == "straight":
                    false[kind] += band not in ("", "leave")
                elif id == wanted:
                    told[name] += band not in ("", "leave")
    print(f"{each} surveys of each; percent")
    for kind in read:
        print(f"  95 % interval of {kind:15} {100 * held[kind] / read[kind]:5.1f}")
    for kind, count in false.items():
        print(f"  straight, told past leave it: {kind:15} {100 * count / each:5.2f}")
    for name, count in told.items():
        print(f"  {name:26} told in {100 * count / each:5.1f}")


if __name__ == "__main__":
    main()
