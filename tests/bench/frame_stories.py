"""Three invented cars: what is true of each, and what the person at the keys sees, says and skips."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from fractions import Fraction
from typing import Any

from tests.bench.frames import Bend, Horn, Sizes, Truth

BOTH = ("left", "right")


@dataclass(frozen=True, slots=True)
class Story:
    """One car and one survey of it."""

    id: str
    """Name of the sample survey's file; the answers file is named by its first word or two."""
    script: str
    """Name of the answers file without its end."""
    truth: Truth
    seed: int
    tools: Mapping[str, Any]
    """Fields of Tools that are not drawn."""
    started: datetime
    answers: Mapping[str, str]
    """Prompt id to the line typed. A look that is not named is `b o`; a reading comes from the truth."""
    skips: Mapping[str, str] = field(default_factory=dict)
    """Prompt or step id to the reason; a step is skipped as a whole."""
    asides: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """Prompt id to the lines typed before it is answered for the first time: photos, remarks."""
    returns: Mapping[str, datetime] = field(default_factory=dict)
    """Step before which the person stopped, and when he went on."""
    action: str = ""
    """The verdict that the car deserves."""


def each(step: str, left: str, right: str | None = None, **more: str) -> dict[str, str]:
    """Answers to both sides of a look, and to what hangs on them: `where="m"` goes to both, `left_fold` to one."""
    found = {f"{step}/left": left, f"{step}/right": left if right is None else right}
    for name, line in more.items():
        side, _, rest = name.partition("_")
        for s in BOTH if not rest else (side,):
            found[f"{step}/{s}/{rest or name}"] = line
    return found


BRAMBLE = Story(
    id="bramble-2026-04-11",
    script="bramble",
    truth=Truth(
        sizes=Sizes(
            tip=(-448.0, 297.0, -38.0),
            front=(0.0, 312.5, 0.0),
            centre=(1003.0, 367.0, 0.0),
            rear=(2194.0, 432.0, 0.0),
        ),
        left=(Bend(3.5, 640.0, 360.0),),
        right=(Bend(3.4, 640.0, 360.0),),
        diamond=0.5,
        lean=0.0024,
        twist=0.2,
        horn_left=Horn(0.6, 0.0, 0.3),
        axle_yaw=(0.0006, -0.0002),
        engine_newton=560.0,
        engine_off=(1.4, -0.6),
        pit=0.15,
    ),
    seed=12,
    tools={"unit": "in", "level_own": 0.0016, "block_unlike": 0.0},
    started=datetime(2026, 4, 11, 9, 12),
    answers={
        "about-the-car/car": "Bramble, two-seat tourer",
        "about-the-car/unit": "i",
        "about-the-car/course": "w",
        "about-the-car/by": "o",
        "what-to-bring/ready": "r",
        "state/engine": "i",
        "state/body": "l",
        "state/panels": "o",
        "state/tyres": "e",
        "state/fuel": "e",
        "state/temperature": "57 F",
        "history/knocked": "k",
        "history/straightened": "n",
        "history/hood-fits": "y",
        "history/doors-fit": "y",
        "history/fitted": "k",
        **each("rail-tops", "b l", where="m"),
        **each("die-marks", "b l"),
        **each("manufacture-marks", "b w"),
        **each("bracket-rivets", "p o"),
        **each("rear-crossmember", "b i"),
        **each("inside-channel", "d l", where="m"),
        **each("extra-holes", "b w"),
        **each("paint-cracks", "p o"),
        **each("body-ripples", "p o"),
        "tools/tape": "o",
        "tools/start": "t",
        "tools/rule": "s",
        "tools/string": "h",
        "tools/level": "c",
        "tools/bar": "h",
        "set-supports/supports": "a",
        "set-supports/stood": "front 24 in apart under the axle, rear 30 in apart inside the backing plates",
        "set-supports/push": "s",
        "string-set-up/where": "a",
        "string-set-up/steady": "n",
        "lift-engine/engine": "w",
        "lower-engine/engine": "b",
        "consequences/hood-gap": "o",
        "consequences/door-gaps": "e",
        "consequences/fan": "m",
        "consequences/steering": "q",
        "finish/remark": "Both rails low at the rear mount by about the same. The hood fitted when it came off in the autumn.",
        "finish/anything-else": "n",
    },
    skips={
        "pitting": "no calliper here, a friend brings one next week",
        "box-diagonals/front-box/front-left--centre-right": "engine in the way, the bar will do it",
        "box-diagonals/front-box/front-right--centre-left": "engine in the way, the bar will do it",
    },
    asides={
        "rail-tops/left": ("/photo 104",),
        "die-marks/right": ("/remark lines clearest under the old grease by the step bracket",),
        "set-supports/push": ("/photo 118",),
        "long-diagonals/whole/front-left--rear-right": ("/remark plumbed all four dots to the floor, taped the chalk",),
        "sag-loaded/engine-mount/left": ("/photo 123",),
        "sag-unloaded/engine-mount/left": ("/photo 127",),
    },
    action="watch",
)

MARIGOLD = Story(
    id="marigold-2026-05-02",
    script="marigold",
    truth=Truth(
        sizes=Sizes(
            tip=(-455.0, 293.0, -42.0),
            front=(0.0, 308.0, 0.0),
            centre=(996.0, 364.0, 0.0),
            rear=(2206.0, 428.0, 0.0),
        ),
        left=(Bend(1.8, 640.0, 420.0),),
        right=(Bend(1.8, 640.0, 420.0),),
        diamond=-6.4,
        mash_left=1.6,
        lean=-0.0011,
        twist=0.4,
        horn_left=Horn(9.0, 4.0, 0.5),
        axle_yaw=(0.0008, 0.0002),
        engine_newton=520.0,
        engine_off=(-1.0, 0.5),
    ),
    seed=27,
    tools={
        "unit": "mm",
        "tape_scale": 4e-5,
        "tape_start": 100.0,
        "level_own": 0.00012,
        "level_s": 0.00006,
        "level_step": 0.0005,
    },
    started=datetime(2026, 5, 2, 13, 40),
    answers={
        "about-the-car/car": "Marigold, saloon",
        "about-the-car/unit": "m",
        "about-the-car/course": "w",
        "about-the-car/by": "m",
        "what-to-bring/ready": "r",
        "state/engine": "i",
        "state/body": "o",
        "state/panels": "o",
        "state/tyres": "e",
        "state/fuel": "e",
        "state/temperature": "19 C",
        "history/knocked": "y",
        "history/where": "l",
        "history/aligned": "a",
        "history/pulley": "k",
        "history/straightened": "n",
        "history/hood-fits": "n",
        "history/doors-fit": "y",
        "history/fitted": "n",
        **each("die-marks", "b l"),
        **each("front-crossmember-rivets", "b l", "b o"),
        **each("rail-sides", "b r l", "b o", left_where="f", left_fold="s"),
        **each("bracket-rivets", "b l", "b o", left_where="f"),
        **each("manufacture-marks", "b w"),
        **each("extra-holes", "b w"),
        **each("paint-cracks", "p f", "p o", left_where="f"),
        **each("body-ripples", "b r", "p o", left_where="f"),
        "tools/tape": "f",
        "tools/start": "m",
        "tools/rule": "s",
        "tools/string": "h",
        "tools/level": "m",
        "tools/bar": "h",
        "set-supports/supports": "a",
        "set-supports/stood": "front 600 apart under the axle, rear 800 apart under the axle tubes",
        "set-supports/push": "m",
        "string-set-up/where": "a",
        "string-set-up/steady": "n",
        "lift-engine/engine": "w",
        "lower-engine/engine": "b",
        "consequences/hood-gap": "o",
        "consequences/door-gaps": "o",
        "consequences/fan": "m",
        "consequences/steering": "s",
        "finish/remark": "The owner has the bill for the left fender and no bill for the frame.",
        "finish/anything-else": "s",
    },
    skips={
        "box-diagonals/front-box/front-left--centre-right": "engine in the way",
        "box-diagonals/front-box/front-right--centre-left": "engine in the way",
    },
    asides={
        "front-crossmember-rivets/left": ("/photo 31", "/remark two of four heads weep oil, the lower ones"),
        "rail-sides/left": ("/photo 33",),
        "rail-sides/left/fold": ("/remark a hand's length behind the crossmember, lower flange and web",),
        "long-diagonals/whole/front-left--rear-right": ("/remark taped on the floor between plumbed marks",),
        "horns/horns/tip-left--front-right": ("/photo 47",),
        "wheelbase/left": ("/remark second evening, owner held the line",),
    },
    returns={"pulley-hint": datetime(2026, 5, 3, 18, 30)},
    action="put-right",
)

OLD_POST = Story(
    id="old-post-2026-06-20",
    script="old-post",
    truth=Truth(
        sizes=Sizes(
            tip=(-452.0, 296.0, -40.0),
            front=(0.0, 311.0, 0.0),
            centre=(1001.0, 366.0, 0.0),
            rear=(2201.0, 431.0, 0.0),
        ),
        left=(Bend(-3.9, 640.0, 600.0),),
        right=(Bend(-3.7, 640.0, 600.0),),
        diamond=1.2,
        lean=0.003,
        twist=1.0,
        axle_yaw=(0.0012, 0.0004),
        engine_newton=560.0,
        engine_off=(-3.2, 0.0),
    ),
    seed=21,
    tools={
        "unit": "in",
        "rule_step": Fraction(1, 16),
        "tape_s": 0.7,
        "tape_scale": 4e-4,
        "string_newton_per_mm": 0.0015 * 9.80665e-3,
        "string_pull": 19.0,
        "string_below": True,
    },
    started=datetime(2026, 6, 20, 15, 5),
    answers={
        "about-the-car/car": "Old Post, van",
        "about-the-car/unit": "i",
        "about-the-car/course": "w",
        "about-the-car/by": "h",
        "what-to-bring/ready": "r",
        "state/engine": "i",
        "state/body": "t",
        "state/panels": "y",
        "state/tyres": "e",
        "state/fuel": "s",
        "state/temperature": "-",
        "history/knocked": "k",
        "history/straightened": "k",
        "history/hood-fits": "y",
        "history/doors-fit": "n",
        "history/fitted": "k",
        **each("rail-tops", "n"),
        **each("die-marks", "d u"),
        **each("front-crossmember-rivets", "p w", "d o"),
        **each("front-crossmember-cracks", "d o"),
        **each("welded-plates", "p w", "p o"),
        **each("horn-welds", "n"),
        **each("manufacture-marks", "n"),
        **each("rail-sides", "d o"),
        **each("bracket-rivets", "d f", "d o", left_where="f"),
        **each("sectioned-rails", "n"),
        **each("centre-crossmember-rivets", "n"),
        **each("rear-crossmember", "d o"),
        **each("engine-mounts", "d u"),
        **each("inside-channel", "n"),
        **each("heat-and-clamps", "p e", "p s", left_where="f", right_where="f"),
        **each("extra-holes", "n"),
        **each("paint-cracks", "n"),
        **each("stacked-shims", "n"),
        **each("body-ripples", "p f", "p o", left_where="f"),
        **each("odd-parts", "n"),
        "tools/tape": "w",
        "tools/start": "t",
        "tools/rule": "p",
        "tools/string": "s",
        "tools/level": "-",
        "tools/bar": "-",
        "set-supports/supports": "w",
        "set-supports/stood": "-",
        "set-supports/push": "s",
        "string-set-up/where": "b",
        "string-set-up/steady": "x",
        "lift-engine/engine": "k",
        "wheelbase/front-axle-left": "-",
        "wheelbase/front-axle-right": "-",
        "wheelbase/rear-axle-left": "-",
        "wheelbase/rear-axle-right": "-",
        "pulley-hint/gearbox-tail": "-",
        "consequences/hood-gap": "e",
        "consequences/door-gaps": "w",
        "consequences/fan": "h",
        "consequences/steering": "a",
        "finish/remark": "The rails stand up in the middle, both of them. Wants the body off before anybody says more.",
        "finish/anything-else": "m",
    },
    skips={
        "box-diagonals/front-box/front-left--centre-right": "pan and exhaust in the way",
        "box-diagonals/front-box/front-right--centre-left": "pan and exhaust in the way",
        "level": "no level to hand",
        "horns": "bumper irons cover both tips",
        "front-box-bar": "no bar made yet",
        "your-hand": "one afternoon only",
    },
    asides={
        "welded-plates/left": ("/photo 7", "/remark plate a hand square, thick bead all round, painted over"),
        "heat-and-clamps/left": ("/photo 9",),
        "sag-loaded/engine-mount/left": ("/remark string below, on the lower flange",),
    },
    action="not-enough",
)

STORIES = (BRAMBLE, MARIGOLD, OLD_POST)
