"""What to look at because of what was found, and what it means when the car agrees or does not."""

from __future__ import annotations

from wizard.judgment.bands import Judged
from wizard.judgment.claims import of_foretold
from wizard.judgment.consequences import Prediction
from wizard.judgment.facts import is_true
from wizard.judgment.supports import is_stands_twist
from wizard.judgment.verdict import Verdict, weight
from wizard.library import marks
from wizard.library.places import FindingId, PromptId, QuantityId, Source, quantity_of
from wizard.library.shapes import Layout, Library
from wizard.survey.record import Survey, Unit
from wizard.telling.amounts import about
from wizard.telling.axle_words import axle_set_lines, called_lines, wobble_lines
from wizard.telling.document import Item, Section, section
from wizard.telling.not_driven import NOT_DRIVEN
from wizard.telling.sentences import sentence

BRAKES = f"Has the pull got less? {NOT_DRIVEN} Rod brakes are put right before the car moves again."
FORETOLD = {
    ("hood-gap", "sag"): "The hood's gap should be tighter at the top.",
    ("hood-gap", "crown"): "The hood's gap should be wider at the top.",
    ("hood-gap", "one-rail"): "The hood's gap should differ, left and right.",
    ("fan", marks.LOW): "By the shape of the rails the fan should sit low in the radiator.",
    ("fan", marks.HIGH): "By the shape of the rails the fan should sit high in the radiator.",
    ("doors", "twist"): "The doors' gaps should differ, left and right.",
    ("brake-rods", "sag"): f"Rod brakes lose pull as the rails change shape. {BRAKES}",
    ("brake-rods", "crown"): f"Rod brakes change as the rails change shape. {BRAKES}",
    ("brake-rods", "one-rail"): f"Rod brakes on that side lose pull. {BRAKES}",
}
OUTCOME = {
    "agrees": "You saw just that. The car and the reading tell one story.",
    "contradicts": "You saw the opposite. Read that place again before you act on it.",
}
RULE = {
    "agrees": "The rule in the gap says so. The car and the reading tell one story.",
    "contradicts": "The rule in the gap says the opposite. Read both again before you act on it.",
    "even": (
        "The rule in the gap does not show it: it is too small to show, or the hood was fitted"
        " to it."
    ),
}
"""Where the gap was measured and not only looked at."""
READS = {
    marks.TIGHT: "tighter at the top",
    marks.WIDE: "wider at the top",
    marks.UNLIKE: "unlike, left and right",
}
"""What the rule reads that settles nothing."""
LOOK = "Look, and write it down."


def consequence_lines(
    verdict: Verdict, layout: Layout, unit: Unit, survey: Survey | None = None
) -> list[Item]:
    """Each prediction with what was seen of it; then what else a deviation moves.

    survey: says on what a twist was read; without it no twist is believed.
    """
    lines = [_line(p, verdict, layout, unit) for p in verdict.foretold]
    return [*_general(verdict, layout, unit, survey), *(line for line in lines if line)]


def axle_sections(verdict: Verdict, survey: Survey, library: Library) -> tuple[Section, ...]:
    """What was read of all that was called for beside the frame, and where to look for a wobble;
    empty where nobody was asked.
    """
    lines = axle_set_lines(verdict, survey, library)
    order = wobble_lines(verdict, survey, library)
    called = [
        line
        for also in library.also.values()
        for line in called_lines(also, verdict, survey, library)
    ]
    return (
        section("axle-set", "The axle set, after the frame", lines),
        section("where-to-look", "The wobble: where to look, in order", order),
        section("beside", "What was called for beside the frame", called),
    )


def _line(found: Prediction, verdict: Verdict, layout: Layout, unit: Unit) -> Item | None:
    if found.id == "caster":
        return _caster(found, verdict, layout, unit)
    if found.id == marks.BASE:
        return _wheelbase(found, verdict, unit)
    text = FORETOLD[found.id, found.kind]
    if found.id == "hood-gap" and found.expects == (marks.EVEN,):
        text = "The hood was fitted to it, so its gap should be even."
    if found.prompt:
        read = any(quantity_of(id) == marks.HOOD_TAPER for id in found.sources)
        text += " " + (_by_rule(found) if read else OUTCOME.get(found.outcome, _open(found)))
    return Item(text, _rests(found), claims=of_foretold(found))


def _by_rule(found: Prediction) -> str:
    if found.outcome == "open" and found.said in READS:
        return f"The rule in the gap reads {READS[found.said]}, which does not settle it."
    return RULE.get(found.outcome, RULE["even"])


def _open(found: Prediction) -> str:
    if found.said in ("", marks.UNKNOWN):
        return LOOK
    if found.said == marks.OFF:
        return "It was off: look once it is together."
    if found.said in (marks.EVEN, marks.IN_THE_MIDDLE):
        return "You looked and found none: it is too small to show, or was fitted to it."
    return "What you saw does not tell."


def _rests(found: Prediction) -> tuple[Source, ...]:
    return (
        *found.sources,
        *((f"answer:{found.prompt}",) if found.said and found.prompt else ()),
        "rule:foretold",
    )


def _caster(found: Prediction, verdict: Verdict, layout: Layout, unit: Unit) -> Item | None:
    caster = next((j for j in verdict.judged if j.finding.id in found.sources), None)
    if caster is None:
        return None
    text = sentence(caster, layout, unit)
    if found.said in (marks.WOBBLE, marks.WANDER):
        enough = (
            "That much can do it"
            if found.outcome == "agrees"
            else "That is too little to explain it"
        )
        felt = "The front wheels shake." if found.said == marks.WOBBLE else "It wanders."
        text += f" {felt} {enough}: check joints, toe and tires too."
    else:
        text += " Sag alone rarely explains a wobble."
    return Item(text, _rests(found), claims=of_foretold(found))


def _wheelbase(found: Prediction, verdict: Verdict, unit: Unit) -> Item:
    base = next((j for j in verdict.judged if j.finding.quantity == marks.WHEELBASE), None)
    if found.said == "explained" and base is not None:
        what = "corner back" if found.end == "front" else "corner forward"
        what = what if found.kind == "corner" else "box out of square"
        text = (
            f"The {found.side} wheelbase is {about(base.finding.value, 'mm', unit)} short, as it"
            " must be with that "
        )
        return Item(f"{text}{what}. Measure it again after the frame.", _rests(found))
    most = "up to" if found.kind == "corner" else "about"
    goes, short = ("mostly goes", "would") if found.outcome == "stayed" else ("goes", "should")
    text = (
        f"The {found.end} axle {goes} with its box: the {found.side} wheelbase {short} be shorter"
        f" by {most} "
    )
    return Item(
        f"{text}{about(found.amount, 'mm', unit)}. {_compared(found, base, unit)}", _rests(found)
    )


def _compared(found: Prediction, base: Judged | None, unit: Unit) -> str:
    """What the tape says to it."""
    if base is None:
        return "Compare the wheelbase left and right."
    if found.outcome == "agrees":
        more = "." if is_true(base) else ": more than that explains. Look at the axle too."
        return f"It is, by {about(base.finding.value, 'mm', unit)}{more}"
    if found.outcome == "stayed":
        return (
            "The tape finds them alike, and so do the axle's own readings: the corner went back, the"
            " axle stayed."
        )
    if found.outcome == "contradicts" and found.end == "front":
        return "The tape finds them alike. Tape the front box again before you act on it."
    if found.outcome == "contradicts":
        return "The tape finds them alike: the axle did not follow."
    return "Whether it is so is not known yet."


def _general(verdict: Verdict, layout: Layout, unit: Unit, survey: Survey | None) -> list[Item]:
    """What a deviation moves, whatever it came from."""
    found = _gravest(verdict)
    return [
        *_sag(found, verdict, layout, unit, survey),
        *_axles(found.get(marks.RAIL_SHIFT), verdict),
        *_horns(found),
        *_twist(found.get(marks.TWIST), survey),
    ]


def _gravest(verdict: Verdict) -> dict[QuantityId, Judged]:
    """By quantity the finding that wants the most; nothing of one that may be left alone."""
    told = (j for j in verdict.of_frame if j.bands and j.worst != "leave")
    return {j.finding.quantity: j for j in sorted(told, key=lambda j: weight(j.worst))}


def _axles(shift: Judged | None, verdict: Verdict) -> list[Item]:
    """What a rail that went back does to the axles, where nothing was compared with them yet."""
    compared = any(j.finding.quantity in (marks.WHEELBASE, marks.AXLE) for j in verdict.judged)
    foretold = any(p.id == marks.BASE for p in verdict.foretold)
    if shift is None or compared or foretold:
        return []
    text = (
        "A rail that has moved along its twin may take both axles with it, and the wheelbases"
        " stay equal. "
    )
    text += "Tape each axle against a rivet of its own rail."
    return [Item(text, (shift.finding.id,))]


def _horns(found: dict[QuantityId, Judged]) -> list[Item]:
    ids = tuple(
        found[q].finding.id for q in (marks.HORN_APART, marks.HORN_HEIGHT) if _is_out(found.get(q))
    )
    text = (
        "A horn out of place shows at bumper irons, apron and radiator shell: hold them up"
        " before paint."
    )
    return [Item(text, ids)] if ids else []


def _twist(twist: Judged | None, survey: Survey | None) -> list[Item]:
    """A twist that is worth a word, and was read on what may twist a frame by itself."""
    if twist is None:
        return []
    believed = survey is not None and not is_stands_twist(twist.finding, survey)
    if believed or not (_is_out(twist) or twist.worst != "watch"):
        return []
    text = "Do not believe that twist yet: what the frame stood on may make it."
    return [Item(text, (twist.finding.id,))]


def _is_out(judged: Judged | None) -> bool:
    """Whether it is established that it wants more than leaving alone."""
    return judged is not None and judged.established != "leave"


def _doors(ids: tuple[FindingId, ...], shut: tuple[PromptId, ...]) -> Item:
    """What hood and doors say of a sag: what was told of them before anybody took the car apart,
    else to look.
    """
    if shut:
        text = (
            "Hood and doors fitted when it was last together: such a sag did not trouble them."
            " Leave it."
        )
        return Item(text, (*ids, *(f"answer:{p}" for p in shut)))
    return Item(
        "Then the doors: if they and the hood fit, the sag was there when they were fitted:"
        " leave it.",
        ids,
    )


def _sag(
    found: dict[QuantityId, Judged],
    verdict: Verdict,
    layout: Layout,
    unit: Unit,
    survey: Survey | None,
) -> list[Item]:
    low = {q: j for q, j in found.items() if q in marks.SAGS and j.finding.value > 0}
    if not low:
        return []
    ids = tuple(j.finding.id for j in low.values())
    lines = [
        Item(
            "A sag at the engine shows at the hood first. Look whether its gap is even along the"
            " top.",
            ids,
        )
    ]
    if all(j.worst in ("leave", "watch") for q, j in found.items() if q in marks.SAGS):
        lines.append(_doors(ids, verdict.shut if survey else ()))
    return [*lines, *_caster_beside(verdict, layout, unit)]


def _caster_beside(verdict: Verdict, layout: Layout, unit: Unit) -> list[Item]:
    """The caster beside a sag, where it is not told already as what was foretold."""
    caster = next((j for j in verdict.judged if j.finding.quantity == marks.CASTER), None)
    if caster is None or any(p.id == "caster" for p in verdict.foretold):
        return []
    text = sentence(caster, layout, unit) + " Sag alone rarely explains a wobble."
    return [Item(text, (caster.finding.id,))]
