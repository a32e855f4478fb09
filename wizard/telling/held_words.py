"""What holds a verdict open though the numbers would not: loose joints, a car that rocks, looks,
places not seen.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wizard.judgment.seen import Seen
from wizard.judgment.unseen import Unseen
from wizard.judgment.verdict import Verdict
from wizard.survey.standing import PUSH, ROCKING
from wizard.telling.document import Item as Line
from wizard.telling.not_driven import NOT_DRIVEN

HELD = {
    "joints": "The joints come first.",
    "rocks": "It rocks. Nothing can be told until it stands still.",
    "seen": "The numbers are in order; what was seen is not.",
    "unseen": "The numbers are in order; places where frames crack were not seen bare.",
}
"""Headlines."""
IN_ORDER, AN_EYE = "The numbers are in order", "The numbers ask for no more than an eye"
FIRST = {
    "seen": "What was seen comes first. Tape, string and level do not speak for it.",
    "unseen": "Look there first. Tape, string and level do not see a crack.",
}
JOINTS = "Let somebody who knows such joints see them, then measure again."
STILL = f"{ROCKING} Set the supports again, push from each side, and answer the push test anew."
WOULD = {
    "specialist": "a specialist",
    "put-right": "something to put right",
    "axle-first": "the axle and its springs",
}
"""What the figures would say if they could be trusted."""
WATCH_AND_SEEN = "The numbers ask for no more than an eye; what was seen asks for more."
VOICES = {
    "pits": "Deep pits, and nobody has measured what is left: caliper first.",
    "rust": (
        "Rust has eaten into the metal, and nobody knows how much is left: scrape it and"
        " caliper it."
    ),
    "welds": (
        "Somebody has cut or welded this frame. Whether that is sound, a licensed welder says, not"
        " a tape."
    ),
    "heat": (
        "Somebody has used heat or clamps here. Whether that is sound, a specialist says, not a"
        " tape."
    ),
    "wrinkle": "A wrinkled flange has folded once. Somebody who knows must see it.",
    "bent": (
        "A crossmember or bracket is bent, and no tape along the rails sees that. Somebody who"
        " knows must see it."
    ),
    "rust-ring": "A rust ring is a rivet under suspicion: oil it, tap it, answer again.",
    "moves": (
        "A fresh crack in the paint, or a brown stain: something moves there now. See it bare."
        f" {NOT_DRIVEN}"
    ),
}
"""What to do about each of the looks that content speaks for (wizard/library/marks.py)."""


def held_headline(verdict: Verdict) -> str:
    """The verdict in one sentence, where something holds it."""
    said = HELD[verdict.held]
    if not any(u.bare for u in verdict.unseen):
        said = said.replace(" bare.", ".")
    if verdict.numbers == "watch" and verdict.held == "seen":
        return WATCH_AND_SEEN
    return said.replace(IN_ORDER, AN_EYE) if verdict.numbers == "watch" else said


def held_lines(verdict: Verdict) -> list[Line]:
    """What to do first; nothing where the numbers decide alone."""
    lines = list(_loose(verdict)) if verdict.held == "joints" else []
    if verdict.rocks:
        lines.append(Line(STILL, (f"answer:{PUSH}",)))
    if verdict.held in FIRST:
        ids = tuple(s.look.id for v in verdict.voices for s in v.seen) + tuple(
            f"step:{u.step}" for u in verdict.unseen
        )
        lines.append(Line(FIRST[verdict.held], ids))
    return lines


def look_lines(verdict: Verdict) -> list[Line]:
    """One line for each kind of thing that was seen, then the places still to be seen where nothing
    graver is known.
    """
    lines = [
        Line(f"{VOICES[v.id]} ({_places(v.seen)}.)", tuple(s.look.id for s in v.seen))
        for v in verdict.voices
    ]
    if verdict.action != "open":
        return lines
    for bare, words in (
        (True, "Clean to bare metal, then look"),
        (False, "Get to see, and be sure"),
    ):
        open_places = [u for u in verdict.unseen if u.bare is bare]
        if open_places:
            lines.append(
                Line(
                    f"{words}: {_titles(open_places)}.",
                    tuple(f"step:{u.step}" for u in open_places),
                )
            )
    return lines


def _loose(verdict: Verdict) -> Iterator[Line]:
    ids = tuple(s.look.id for s in verdict.loose)
    names = tuple(dict.fromkeys(s.joint for s in verdict.loose))
    if len(names) > 1:
        who, until = f"{', '.join(names[:-1])} and {names[-1]} are", "they hold"
    else:
        tied = verdict.loose[0].ties
        who, until = f"{names[0]} is", "its joints hold" if tied else "it holds"
    text = f"{who[:1].upper()}{who[1:]} loose. Until {until}, these figures are not the frame's."
    yield Line(f"{text} {JOINTS}", (*ids, "rule:open"))
    if verdict.numbers in WOULD:
        grave = tuple(j.finding.id for j in verdict.reasons)
        yield Line(
            f"As they stand, the figures would say: {WOULD[verdict.numbers]}.", (*ids, *grave)
        )


def _places(seen: Iterable[Seen]) -> str:
    """The titles of what was seen, each with its sides."""
    sides: dict[str, list[str]] = {}
    for s in seen:
        sides.setdefault(s.title, []).append(s.side)
    return "; ".join(f"{title}{_sides(found)}" for title, found in sides.items())


def _titles(places: Iterable[Unseen]) -> str:
    said = [f"{u.title}{_sides(u.sides)}" for u in places]
    return "; ".join(s[:1].lower() + s[1:] for s in said)


def _sides(sides: Iterable[str]) -> str:
    named = [s for s in dict.fromkeys(sides) if s]
    return f", {' and '.join(named)}" if named else ""
