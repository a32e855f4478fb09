"""Looks that are no stop sign and yet no sound frame: with one of them nobody is told that nothing
is to be put right.

Source: common practice, no published source. What stays out is harmless by itself: light pits, old
lines in paint, whatever has its twin on the other rail, bolts for rivets, a plate laid over a horn.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from wizard.judgment.bands import Judged
from wizard.judgment.facts import SIDES
from wizard.judgment.seen import Seen

VOICES: Mapping[str, tuple[str, ...]] = {
    "pits": ("heavy-pitting",),
    "rust": ("flaking", "rust-swelling", "thin-metal", "hole-away"),
    "welds": (
        *("old-crack-welded", "re-welded", "seam-all-round", "hidden-repair", "repaired-hole"),
        *(
            "front-crossmember-rivets/welded",
            "center-crossmember-rivets/welded",
            "rear-crossmember/welded",
        ),
    ),
    "heat": ("heat-scale", "clamp-bites", "heat-and-bites"),
    "wrinkle": ("wrinkle", "wrinkle-lower-flange", "wrinkle-upper-flange"),
    "bent": ("bent-crossmember", "bent-bracket"),
    "rust-ring": ("rust-ring",),
    "moves": ("fresh-paint-crack", "rust-bleeding"),
}
"""Line of the verdict to the answers that bring it, in the order of saying: a token, or a step's
token alone.
"""
CALIPERED = {"rail-tops": ("heavy-pitting", "flaking"), "inside-channel": ("heavy-pitting",)}
"""Answers that a caliper on that rail has settled: the thickness lost then has a limit of its own."""
BARE_ONLY = ("heat-scale",)
"""Under paint it may as well be bad paint: strip it and answer again."""
TWINS = ("wrinkle-upper-flange",)
"""Alike on both rails it comes with an even sag, which the string judges."""


@dataclass(frozen=True, slots=True)
class Voice:
    """One line of the verdict and the looks that bring it."""

    id: str
    """A key of VOICES."""
    seen: tuple[Seen, ...]


def voices_of(seen: tuple[Seen, ...], judged: Collection[Judged]) -> tuple[Voice, ...]:
    """Every voice that the looks raise, in the order of VOICES."""
    measured = {j.finding.where for j in judged if j.finding.quantity == "thickness"}
    speaking = tuple(
        s for s in seen if s.choice and not s.choice.stop and not _settled(s, seen, measured)
    )
    found = (
        Voice(id, tuple(s for s in speaking if _says(s, tokens))) for id, tokens in VOICES.items()
    )
    return tuple(v for v in found if v.seen)


def _says(seen: Seen, tokens: tuple[str, ...]) -> bool:
    token = seen.choice.token if seen.choice else ""
    return token in tokens or f"{seen.prompt.step}/{token}" in tokens


def _settled(one: Seen, seen: tuple[Seen, ...], measured: Collection[str]) -> bool:
    """Whether something else answers what this look asks."""
    token, step = one.choice.token if one.choice else "", one.prompt.step
    if token in CALIPERED.get(step, ()) and one.side in measured:
        return True
    if token in BARE_ONLY and one.look.seen != "bare":
        return True
    sides = {s.side for s in seen if s.prompt.step == step and s.choice and s.choice.token == token}
    return token in TWINS and sides == set(SIDES)
