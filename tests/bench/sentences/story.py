"""What happened to a frame, and what a person sees and knows of it: looks that fit, or none."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from tests.bench.sentences.frame import SIDES, Fault, Frame

Zone = tuple[str, str]
"""A side and a third."""
BLOWN = {
    "diamond": 0.7, "corner": 0.9, "box-out": 0.9, "sway": 0.9, "bow": 0.7, "mash": 0.9,
    "kink": 0.7, "one-sag": 0.3, "horn": 0.7, "horn-up": 0.5, "twist": 0.4,
}  # fmt: skip
"""Chance that a blow did it."""
WHERE_HIT = {
    ("left", "front"): "l", ("right", "front"): "r", ("left", "rear"): "e", ("right", "rear"): "i",
}  # fmt: skip


@dataclass(frozen=True)
class Story:
    """Of one frame."""

    causes: frozenset[str]
    """age, collision, repair: what did it in truth."""
    zones: frozenset[Zone]
    """Where the signs may be said to gather."""
    hit: Zone | None
    """Where it was hit."""
    bare: bool
    """Whether every place is seen bare; else half of them under paint."""
    answers: Mapping[str, str] = field(default_factory=dict)
    """Prompt: what is typed. What is not named here is answered as nothing found."""

    @property
    def seen(self) -> bool:
        """Whether any look shows anything."""
        return any(not prompt.startswith("history/") for prompt in self.answers)

    @property
    def is_known(self) -> bool:
        """Whether it was hit, the owner knows of it, and metal or body show something."""
        return bool(self.hit) and self.seen and self.answers["history/knocked"] == "y"


def told_of(frame: Frame, rng: random.Random) -> Story:
    """The story of a frame, drawn."""
    causes, zones, answers = set[str](), set[Zone](), dict[str, str]()
    hit: Zone | None = None
    for fault in frame.faults:
        zone = _zone(frame, fault, rng)
        blown = rng.random() < BLOWN.get(fault.kind, 0.0)
        causes |= {"repair"} if fault.kind == "crown" else set()
        causes |= {"age"} if fault.kind == "sag" else set()
        if blown and zone:
            causes.add("collision")
            hit = hit or zone
        zones |= _smooth_zones(frame, fault) | _bent_horns(fault) | _next_to(frame, fault)
        if zone:
            zones.add(zone)
            answers |= _traces(frame, fault, zone, blown, rng)
    answers |= _history(hit, "repair" in causes, rng)
    bare = rng.random() < 0.5
    return Story(frozenset(causes), frozenset(zones), hit, bare, answers)


TRACED = ("rail-sides", "horn-welds", "body-ripples")
"""Looks at which this bench shows something."""


def misseen(story: Story, rate: float, rng: random.Random) -> Story:
    """The same frame, looked at by somebody who errs at that rate: a trace that is there is not seen,
    and a rail's side that shows nothing is taken for wrinkled.
    """
    traces = [f"{step}/{side}" for step in TRACED for side in SIDES]
    gone = [p for p in traces if p in story.answers and rng.random() < rate]
    kept = {k: v for k, v in story.answers.items() if not any(k.startswith(p) for p in gone)}
    for side in SIDES:
        look = f"rail-sides/{side}"
        if look not in story.answers and rng.random() < rate:
            kept |= {look: "w", f"{look}/where": rng.choice("fmr"), f"{look}/fold": "s"}
    return replace(story, answers=kept)


def _smooth_zones(frame: Frame, fault: Fault) -> set[Zone]:
    """Where one rail is out in a long smooth curve: from the engine mount to the rail's middle."""
    if fault.kind not in ("crown", "one-sag") or not fault.side:
        return set()
    xs = (frame.made.mount, sum(frame.made.blocks) / 2)
    return {(fault.side, third(frame, x)) for x in xs}


def _bent_horns(fault: Fault) -> set[Zone]:
    """Both front corners, where both horns are bent: what shows on metal shows at either."""
    both = fault.kind.startswith("horn") and not fault.side
    return {(side, "front") for side in SIDES} if both else set()


def _next_to(frame: Frame, fault: Fault) -> set[Zone]:
    """Thirds in which the stations on either side of a kink lie: a string tells of no place between
    two stations, and a kink is true as near as the next one.
    """
    if fault.kind != "kink":
        return set()
    xs = frame.made.stations.values()
    before = max((x for x in xs if x <= fault.x), default=fault.x)
    behind = min((x for x in xs if x > fault.x), default=fault.x)
    return {(fault.side, third(frame, x)) for x in (before, behind)}


def third(frame: Frame, x: float) -> str:
    """front, middle or rear."""
    last = frame.made.places[frame.made.rails[-1]][0]
    return "front" if x < last / 3 else "middle" if x < 2 * last / 3 else "rear"


def _zone(frame: Frame, fault: Fault, rng: random.Random) -> Zone | None:
    """Where the blow or the bend was; None for what has no such place."""
    side = "right" if fault.size > 0 else "left"
    other = SIDES[side == "left"]
    if fault.kind in ("kink", "one-sag"):
        x = fault.x if fault.kind == "kink" else frame.made.mount
        return fault.side, third(frame, x)
    if fault.kind == "mash":
        xs = [frame.made.places[p][0] for p in fault.at.split("--")]
        return fault.side, third(frame, sum(xs) / 2)
    places: Mapping[str, Zone | None] = {
        # The right rail further back: pushed at its front end, or the left one at its rear end.
        "diamond": rng.choice(((side, "front"), (other, "rear"))),
        "corner": (fault.side, fault.at),
        "box-out": (side if fault.at == "front" else other, fault.at),
        # Of a sway the size is that of the middle: an end hit from the right leaves it to the right.
        "sway": (side, fault.at),
        "bow": (other, "middle"),
        "horn": (fault.side or rng.choice(SIDES), "front"),
        "horn-up": (fault.side or rng.choice(SIDES), "front"),
    }
    return places.get(fault.kind)


def _traces(
    frame: Frame, fault: Fault, zone: Zone, blown: bool, rng: random.Random
) -> dict[str, str]:
    """What shows of it on metal and body, with some chance."""
    side, where = zone
    found: dict[str, str] = {}
    letter = {"front": "f", "middle": "m", "rear": "r"}[where]
    if fault.kind.startswith("horn"):
        for bent in (fault.side,) if fault.side else SIDES:
            if rng.random() < 0.5:
                found[f"horn-welds/{bent}"] = rng.choice(("g", "g", "i"))
    elif fault.kind == "kink" and abs(fault.size) > 5 and rng.random() < 0.15:
        found |= {f"rail-sides/{side}": "k", f"rail-sides/{side}/where": letter}
    elif fault.kind in ("kink", "corner", "box-out", "mash", "sway") and rng.random() < 0.4:
        found |= {f"rail-sides/{side}": rng.choice("rwl"), f"rail-sides/{side}/where": letter}
        found[f"rail-sides/{side}/fold"] = rng.choice("rsc")
    if blown and rng.random() < 0.4:
        found |= {f"body-ripples/{side}": "r", f"body-ripples/{side}/where": letter}
    return found


def _history(hit: Zone | None, mended: bool, rng: random.Random) -> dict[str, str]:
    """What the owner knows: nothing that is wrong, and often nothing."""
    knows = rng.random() < 0.5
    found = {"history/knocked": "k" if not knows else "y" if hit else "n"}
    if hit:
        place = WHERE_HIT.get(hit, "a")
        found["history/where"] = place if rng.random() < 0.7 else "k"
    found["history/straightened"] = "k" if rng.random() < 0.5 else "y" if mended else "n"
    return found


# What is answered ----------------------------------------------------------------------------------

LAYOUT = {
    "straight-ladder": "s", "leaf-ladder-light": "l", "leaf-ladder-large": "d", "a-frame": "a",
    "double-drop": "k", "x-braced": "x", "boxed-perimeter": "b", "cruciform": "c",
    "torque-boxes": "p", "tube-ladder": "t", "wooden-sills": "w", "backbone": "f",
}  # fmt: skip
STANDING: Mapping[str, str] = {
    "about-the-car/car": "Bramble",
    "about-the-car/course": "w",
    "about-the-car/by": "o",
    "what-to-bring/ready": "r",
    "state/body": "o",
    "state/panels": "n",
    "state/tires": "e",
    "state/fuel": "e",
    "state/temperature": "-",
    "tools/tape": "o",
    "tools/start": "t",
    "tools/string": "h",
    "tools/level": "c",
    "tools/bar": "h",
    "history/aligned": "k",
    "history/pulley": "k",
    "history/hood-fits": "k",
    "history/doors-fit": "k",
    "history/fitted": "k",
    "consequences/fan": "k",
    "consequences/steering": "x",
    "string-set-up/where": "a",
    "string-set-up/steady": "n",
    "lower-engine/engine": "b",
    "wheelbase/chocked": "c",
    "finish/anything-else": "n",
}
"""What everybody answers: the body is off."""


def of_state(prompt: str, states: str) -> str:
    """What hangs on the states in which the string is read; empty where this prompt does not."""
    if prompt in ("state/found", "set-supports/supports"):
        return "t" if states == "bare" else "w"
    if prompt == "state/engine":
        return "o" if states in ("unloaded", "bare") else "i"
    if prompt == "lift-engine/engine":
        return "k" if states == "loaded" else "w"
    return "s" if prompt.endswith("/push") else ""
