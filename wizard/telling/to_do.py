"""What to do, at length.

What holds a verdict open though the numbers would not comes before them: loose joints, a car that
rocks, looks, places not seen.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from wizard.checks.case import case_of
from wizard.checks.notes import Crown, Mark
from wizard.checks.springing import SPRING_MM, expected
from wizard.judgment.bands import Judged
from wizard.judgment.claims import of_action, of_crown
from wizard.judgment.seen import Seen
from wizard.judgment.supports import is_stands_twist
from wizard.judgment.unseen import Unseen
from wizard.judgment.verdict import Verdict
from wizard.library import marks
from wizard.library.places import Source, where_of
from wizard.library.shapes import Library
from wizard.survey.guide import layout_of
from wizard.survey.meant import meant
from wizard.survey.record import Survey, Unit
from wizard.survey.standing import ROCKING
from wizard.telling.amounts import about
from wizard.telling.axle_words import axle_advice
from wizard.telling.document import Item
from wizard.telling.not_driven import NOT_DRIVEN
from wizard.telling.supports_words import tip_lines, twist_move

WHAT_TO_DO = {
    "stop": (
        "What was seen outranks every number. Change nothing there; measuring does no harm. Take a"
        " photo of it, and show it to somebody who is licensed for such work."
    ),
    "specialist": (
        "Change nothing by yourself. Show this in writing to somebody who straightens frames for a"
        " living, and measure the same points again after that."
    ),
    "put-right": (
        "Plan it before paint and assembly, with somebody who has done it. Measure the same points"
        " again after that. This program gives no instruction for pulling, heating or welding."
    ),
    "axle-first": (
        "The frame may be straight and the axle out of square. Look at center bolt, springs and axle, then"
        " measure again."
    ),
    "watch": "Nothing has to be put right now. Measure the same points again {when}.",
    "leave": "Keep this record and measure the same points again {when}.",
    "open": ("What is open is listed under what is not known, each with what would settle it."),
    "not-enough": (
        "What was not seen may be the very place that matters. What is missing is listed under what"
        " is not known."
    ),
}


WHEN = {
    marks.MONTH: "in a month",
    marks.MENDED: "as soon as it is put right",
    marks.SEASON: "in half a year",
    marks.YEAR: "in a year",
    marks.TWO_YEARS: "in two years",
    marks.NO_DATE: "after the next knock",
}
"""When the same points are measured again, as the owner chose."""


def when_again(survey: Survey, library: Library) -> str:
    """When the same points are measured again; in half a year where nobody chose."""
    return WHEN.get(meant(survey, library, marks.WHEN_AGAIN), WHEN[marks.SEASON])


CONTRADICT = (
    "Some measurements cannot all be right, so nothing that depends on them is known yet. Measure"
    " those again before anything else."
)


TWIST_OPEN = "The numbers leave open only whether it is twisted."


LACKING = {
    "rail-shift": "no diagonals over the whole frame",
    "sag": "no string along both rails",
    "twist": "no level across the rails",
    "looks": "fewer than half of the places were seen",
}


def _aside_lines(verdict: Verdict, unit: Unit) -> list[Item]:
    """How little it may matter."""
    return [_aside(j, unit) for j in verdict.aside]


def _aside(judged: Judged, unit: Unit) -> Item:
    finding, said = judged.finding, judged.local
    if not finding.disagrees:
        most = about(abs(finding.value) + judged.told_half, finding.unit, unit)
        said = f"{judged.sound[:1].upper()}{judged.sound[1:]} may be out by up to {most}. {said}"
    return Item(said, (finding.id, f"limit:{finding.limit}"))


CALM = ("watch", "leave")
"""What says that nothing is to be done now."""


def what_to_do(
    verdict: Verdict, survey: Survey, library: Library, moved: Sequence[Item] = ()
) -> list[Item]:
    """What to do, at length. moved: what is to be done about what moved since last time: then
    nobody says that nothing is to be done.
    """
    rests: tuple[Source, ...] = tuple(s.look.id for s in (*verdict.stops, *verdict.loose))
    rests += tuple(i for j in verdict.reasons for i in (j.finding.id, f"limit:{j.finding.limit}"))
    text = _deed(verdict, survey, library)
    deed = (of_action(verdict),)
    held = [line._replace(claims=deed) for line in _held_lines(verdict)]
    lines = [
        *moved,
        *tip_lines(survey.state()),
        *_again_first(verdict),
        *_second_set(verdict),
        *held,
    ]
    if (not verdict.held or text == CONTRADICT) and not (moved and verdict.action in CALM):
        lines.append(Item(text, (*rests, f"rule:{verdict.action}"), claims=deed))
    return [
        *lines,
        *_look_lines(verdict),
        *_aside_lines(verdict, survey.unit),
        *_fitted_to_sag(verdict),
        *_crown_lines(verdict, survey, library),
        *_lacking(verdict),
    ]


def _fitted_to_sag(verdict: Verdict) -> list[Item]:
    """Why a sag to keep an eye on is left as it is."""
    if verdict.action != "leave" or not any(j.established == "watch" for j in verdict.reasons):
        return []
    ids = tuple(i for e in verdict.causes.older for i in e.sources)
    text = (
        "Hood and doors were fitted to the sag as it is. Leave it, or they would no longer close."
    )
    return [Item(text, (*ids, "limit:sag-unloaded"))]


def _deed(verdict: Verdict, survey: Survey, library: Library) -> str:
    """What to do about the frame, by the verdict and by what keeps it open."""
    if verdict.action == "axle-first":
        return axle_advice(verdict, layout_of(survey, library))
    if verdict.action != "open":
        return WHAT_TO_DO[verdict.action].replace("{when}", when_again(survey, library))
    if any(j.finding.quantity in SUSPECTS for j in verdict.judged):
        return CONTRADICT
    if _rests_on_supports(verdict, survey):
        return f"{TWIST_OPEN} {twist_move(survey.state())}"
    return WHAT_TO_DO["open"]


def _rests_on_supports(verdict: Verdict, survey: Survey) -> bool:
    """Whether all that is open is a twist that the supports may make: no repeat and no better tool
    settles that.
    """
    return bool(verdict.open) and all(is_stands_twist(j.finding, survey) for j in verdict.open)


AGAIN_FIRST = (
    "Before anything else tape the front box again. A corner that far back should take its axle"
    " with it, and the wheelbases are alike."
)


def _again_first(verdict: Verdict) -> list[Item]:
    """Where the car contradicts the tape, the tape comes first."""
    if verdict.stops or verdict.loose or verdict.rocks:
        return []
    found = (p for p in verdict.foretold if p.id == marks.BASE and p.outcome == "contradicts")
    at_front = (p for p in found if (p.kind, p.end) == ("corner", "front"))
    return [Item(AGAIN_FIRST, (*p.sources, "rule:foretold")) for p in at_front]


SECOND_SET = (
    "Before anything is done to the diamond, tape the diagonals of a second set of holes or rivets too. Nothing seen"
    " or told speaks of a blow, and points that the maker set unequally measure like a diamond. If the second"
    " set is even, it was the points."
)


def _second_set(verdict: Verdict) -> list[Item]:
    """What tells a diamond from points that were never alike, where only the tape speaks."""
    signs = verdict.causes.unexplained
    if not signs or not verdict.of_frame or verdict.action not in ("put-right", "specialist"):
        return []
    return [Item(SECOND_SET, tuple(i for e in signs for i in (f"sign:{e.sign.id}", *e.sources)))]


def _lacking(verdict: Verdict) -> list[Item]:
    if not verdict.lacking:
        return []
    text = (
        "Missing for a whole picture: " + "; ".join(LACKING[name] for name in verdict.lacking) + "."
    )
    return [Item(text, tuple(f"rule:lacking-{name}" for name in verdict.lacking))]


FIRST = {
    "seen": "What was seen comes first. Tape, string and level do not speak for it.",
    "unseen": "Look there first. Tape, string and level do not see a crack.",
}
JOINTS = "Have somebody who knows such joints look at them, then measure again."
STILL = f"{ROCKING} Set the supports again, push from each side, and do the push test again."
WOULD = {
    "specialist": "the frame is a matter for a specialist",
    "put-right": "something must be put right",
    "axle-first": "the axle and its springs come first",
}
"""What the figures would mean if they could be trusted."""
VOICES = {
    "deep": (
        "One place is not the rail, but much of the metal is gone there. Have somebody who knows"
        " frames look at that place."
    ),
    "pits": "Deep pits, and nobody has measured what is left. Measure it with a caliper first.",
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
    "wrinkle": ("The wrinkled flange was once folded. Have somebody who knows frames look at it."),
    marks.BENT_THERE: (
        "A crossmember, bracket or box is bent, and no tape along the rails shows that. Have somebody who"
        " knows frames look at it."
    ),
    marks.RIPPLE: (
        "A ripple in the rail may be a blow's, or from the press that made it. Have somebody who"
        " knows frames look at it."
    ),
    marks.BENT_HORN: (
        "The horn is bent. Tape the horns, which tells how far. Where the tape tells nothing of it,"
        " have somebody who knows frames look at it."
    ),
    "rust-ring": "A rust ring may mean a loose rivet: oil it, tap it, answer again.",
    "held-by-wood": (
        "Wood that is bolted tight may push the rail out of line, or hold it: read the string with every bolt"
        " slack, then tight (/also body-mounts). Until then nobody knows whether the steel is bent."
    ),
    "rot": (
        "The wood is soft or split there. Have somebody who knows wooden frames say what it still"
        " holds, before its bolts are touched."
    ),
    "slack": (
        "What holds a spring or the steering is loose there. Have somebody who knows such joints"
        f" tighten and secure it. {NOT_DRIVEN}"
    ),
    "moves": (
        "A fresh crack in the paint, or a brown stain: something moves there now. See it bare."
        f" {NOT_DRIVEN}"
    ),
    "binds": (
        "Something binds, rubs or is not set. Have it made free and look again, before the engine"
        f" runs or the car moves. {NOT_DRIVEN}"
    ),
}
"""What to do about each of the looks that content speaks for (wizard/library/marks.py)."""
DYED = (
    "With dye no crack was seen on the bare metal there. A fine one can still be missed: mark the"
    " place, and look at it again in a month."
)
"""What is said where dye settled what was feared to be a crack."""
DENTED = (
    "A smooth dent: take a photo of it with a ruler beside it, and look for a crease next time."
)
"""What is said of a dent without a crease."""


def _held_lines(verdict: Verdict) -> list[Item]:
    """What to do first; nothing where the numbers decide alone."""
    lines = list(_loose(verdict)) if verdict.held == "joints" else []
    if verdict.rocks:
        lines.append(Item(STILL, (f"answer:{marks.PUSH_TEST}",)))
    if verdict.held in FIRST:
        ids: tuple[Source, ...] = tuple(j.finding.id for j in verdict.deep)
        ids += tuple(s.look.id for v in verdict.voices for s in v.seen) + tuple(
            f"step:{u.step}" for u in verdict.unseen
        )
        lines.append(Item(FIRST[verdict.held], ids))
    return lines


def _near(judged: Judged) -> str:
    """That a deep place lies near a mounting."""
    found, says = judged.finding, judged.finding.of.says
    names = (note.name for note in found.notes if isinstance(note, Mark))
    return "".join(f" {says[name]}" for name in names if name in marks.BY_MOUNTING)


def _look_lines(verdict: Verdict) -> list[Item]:
    """One line for each kind of thing that was seen, then the places still to be seen where nothing
    graver is known.
    """
    lines = [
        Item(
            f"{VOICES[marks.DEEP]} (The {where_of(j.finding.where).side} rail.){_near(j)}",
            (j.finding.id,),
        )
        for j in verdict.deep
    ]
    lines += [
        Item(f"{VOICES[v.id]} ({_places(v.seen)}.)", tuple(s.look.id for s in v.seen))
        for v in verdict.voices
    ]
    lines += [*_dyed(verdict), *_dented(verdict)]
    if verdict.action != "open":
        return lines
    for bare, words in (
        (True, "Clean to bare metal, then look"),
        (False, "Get to see, and be sure"),
    ):
        open_places = [u for u in verdict.unseen if u.bare is bare]
        if open_places:
            lines.append(
                Item(
                    f"{words}: {_titles(open_places)}.",
                    tuple(f"step:{u.step}" for u in open_places),
                )
            )
    return lines


def _dented(verdict: Verdict) -> list[Item]:
    """Where a rail is dented without a crease; nothing where none is."""
    ids = tuple(s.look.id for s in verdict.dented)
    return [Item(f"{DENTED} ({_places(verdict.dented)}.)", ids)] if ids else []


def _dyed(verdict: Verdict) -> list[Item]:
    """Where dye showed no crack; nothing where none was feared."""
    ids = tuple(id for s in verdict.dyed for id in (s.look.id, s.dye))
    return [Item(f"{DYED} ({_places(verdict.dyed)}.)", ids)] if ids else []


def _loose(verdict: Verdict) -> Iterator[Item]:
    ids = tuple(s.look.id for s in verdict.loose)
    names = tuple(dict.fromkeys(s.joint for s in verdict.loose))
    if len(names) > 1:
        who, until = f"{', '.join(names[:-1])} and {names[-1]} are", "they are tight"
    else:
        tied = verdict.loose[0].ties
        who, until = f"{names[0]} is", "its joints are tight" if tied else "it is tight"
    text = f"{who[:1].upper()}{who[1:]} loose. Until {until}, these figures cannot be trusted."
    yield Item(f"{text} {JOINTS}", (*ids, "rule:open"))
    if verdict.numbers in WOULD:
        grave = tuple(j.finding.id for j in verdict.reasons)
        yield Item(f"If they still read so then, {WOULD[verdict.numbers]}.", (*ids, *grave))


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


SUSPECTS = (marks.SUSPECT, marks.GAP_SLIP)
"""Quantities that name a reading which does not fit the others."""
LEAST_MM = 0.4
"""The least that a sound rail gives under an engine (computed for common rails)."""


def _crown_lines(verdict: Verdict, survey: Survey, library: Library) -> list[Item]:
    """What a crown without the engine's weight waits for; nothing where it stands high under the
    weight too.
    """
    high = {j.finding.id: note for j in verdict.judged if (note := j.finding.note(Crown))}
    ids = tuple(high)
    if not ids or any(note.loaded for note in high.values()):
        return []
    case = case_of(survey, library)
    mass = case.layout.figures.get("engine_mass_kg", 0.0)
    known = f" (about {_mass(mass, survey)}, a round figure)" if mass else ""
    foretold = expected(case)
    down = f"about {about(foretold.value, 'mm', survey.unit)}" if foretold else _span(survey)
    text = (
        f"The rails stand high and wait for the engine's weight{known}. Under it a sound rail goes"
        f" down by {down}."
        " That may be just what was meant: let them stand, and read the string again with the"
        " engine in."
    )
    return [Item(text, (*ids, "sign:crown"), claims=of_crown(verdict.judged))]


def _mass(kg: float, survey: Survey) -> str:
    return f"{round(kg / 0.45359237, -1):.0f} lb" if survey.unit == "in" else f"{kg:.0f} kg"


def _span(survey: Survey) -> str:
    return f"{about(LEAST_MM, 'mm', survey.unit)} to {about(SPRING_MM, 'mm', survey.unit)}"
