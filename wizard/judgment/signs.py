"""The evidence of one survey: every sign that looks, findings and history show, with its weight as
it was seen.

An absence is no sign here. It only counts, elsewhere, where the place was seen bare.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from wizard.checks.notes import Bend
from wizard.judgment.bands import Judged
from wizard.judgment.facts import (
    CORNERS,
    SIDES,
    Shown,
    Told,
    Zone,
    is_true,
    reaches_both_ends,
)
from wizard.judgment.seen import Seen
from wizard.library import marks
from wizard.library.places import (
    NO_PLACE,
    NO_STEP,
    PlaceId,
    Source,
    StepId,
    step_of,
    where_of,
)
from wizard.library.shapes_signs import TWINS, WEIGHTS, Sign, SignBook, Witness
from wizard.math.student import t_cdf
from wizard.survey.rows import Answer

POINTS = {"weak": 1, "medium": 2, "strong": 5}
"""A strong sign outweighs two medium ones; the steps are coarse, for nobody can weigh such things
finely.
"""
MOST_OFTEN_FALSE = {"strong": 0.001, "medium": 0.01, "weak": 0.05}
"""How often, at the most, a finding of such a weight may be false (this project's own figures): one
that is false more often weighs less, whatever content says, and beyond the last it is only said.
"""
KINK_OFTEN_FALSE = 0.01
"""How often a rail that bends smoothly is called kinked: so the threshold of math/shape.py is set."""


class Evidence(NamedTuple):
    """One sign as it was found in this survey."""

    sign: Sign
    points: Mapping[str, int]
    """Cause to points for it, as well as it was seen."""
    against: Mapping[str, int]
    """Cause to points against it."""
    sources: tuple[Source, ...]
    """Ids of looks, findings and answers."""
    zones: tuple[Zone, ...] = ()
    """Corners it points to; empty for the whole frame or where nobody said."""
    box: PlaceId = NO_PLACE
    step: StepId = NO_STEP
    """Step of the look; findings and history give none."""
    seen: str = ""
    """How well the place was seen; empty for findings and history."""
    fold: str = ""
    """old or recent, by the metal inside the fold; empty where it was not said."""

    @property
    def weight(self) -> Mapping[str, str]:
        """Cause to the weight as it was seen; none where it is only said."""
        names = {points: name for name, points in POINTS.items()} | {0: "none"}
        return {cause: names[points] for cause, points in self.points.items()}


def evidence_of(
    seen: tuple[Seen, ...], facts: Told, shown: Iterable[Shown], book: SignBook
) -> tuple[Evidence, ...]:
    """Every sign found, looks first, in the order of content/signs.toml.

    shown: what the findings and the history bear out, as judgment/shown.py says.
    """
    conditions, looks, given = _by_condition(shown), _by_side(seen), _given(seen)
    found: list[Evidence] = []
    for sign in book.signs.values():
        if not _is_of(sign, facts):
            continue
        if sign.looks:
            if here := given & book.shown_by[sign.id]:
                found += _looked(sign, {step for step, _ in here}, looks, facts, book)
        elif sign.finding:
            borne_out = conditions.get(sign.finding, {}).values()
            found += [_found(sign, what, facts) for what in borne_out]
        elif facts.survey.answer_to(sign.answer) in sign.tokens and not _overtaken(sign, facts):
            found.append(_told(sign, facts))
    return _said_once(found)


def _by_condition(shown: Iterable[Shown]) -> Mapping[str, Mapping[tuple[Zone, ...], Shown]]:
    """What is shown, by what it is, once for each place."""
    found: dict[str, dict[tuple[Zone, ...], Shown]] = {}
    for what in shown:
        found.setdefault(what.condition, {})[what.zones] = what
    return found


def _given(seen: Iterable[Seen]) -> frozenset[tuple[StepId, str]]:
    """Every answer to a look that was given, with its step: no other sign need be looked for."""
    return frozenset([(s.prompt.step, s.choice.token) for s in seen if s.choice])


def _is_of(sign: Sign, facts: Told) -> bool:
    """Whether a sign means what it says on this kind of frame."""
    return not sign.on or not set(sign.on).isdisjoint(facts.layout.traits)


def _said_once(found: list[Evidence]) -> tuple[Evidence, ...]:
    """Without the signs beside which another says the same and more."""
    there = {e.sign.id for e in found}
    return tuple(e for e in found if there.isdisjoint(e.sign.unless))


def _points(weights: Mapping[str, str], seen: str = "bare") -> dict[str, int]:
    """Points by cause; under paint or dirt one step less."""
    found = {}
    for cause, weight in weights.items():
        step = WEIGHTS.index(weight) - (seen != "bare")
        found[cause] = POINTS[WEIGHTS[max(step, 0)]]
    return found


def _found(sign: Sign, what: Shown, facts: Told) -> Evidence:
    leans, against = (_points(w) for w in (sign.leans, sign.against))
    if what.weightless:
        leans, against = (dict.fromkeys(w, 0) for w in (leans, against))
    most = _borne_out(_often_false(what, facts))
    leans = {cause: min(points, most) for cause, points in leans.items()}
    return Evidence(sign, leans, against, what.sources, what.zones, what.box)


def _borne_out(chance: float) -> int:
    """The most points that a sign may have which is false so often."""
    return max((POINTS[w] for w, most in MOST_OFTEN_FALSE.items() if chance <= most), default=0)


def _often_false(what: Shown, facts: Told) -> float:
    """How often findings like these are false; zero where nothing measured is among the sources.

    Where several show it, it is false only when all of them are.
    """
    sources = set(what.sources)
    there = (j for j in facts.judged if j.finding.id in sources and not is_true(j))
    return min((often_false(j, len(facts.of(j.finding.quantity))) for j in there), default=0.0)


def often_false(judged: Judged, places: int) -> float:
    """The chance that so much is read of a frame on which it is no more than half of what may be
    left, at the worst of so many places (Bonferroni's bound).

    Of what has no limit: of a frame that has nothing of it.
    """
    if judged.finding.note(Bend) is not None:
        return KINK_OFTEN_FALSE
    number = judged.finding.number
    first = judged.edges[0] if judged.edges else None
    ends = (first.high, first.low) if first else (0.0, 0.0)
    end = ends[0] if number.value >= 0 else ends[1]
    if number.u <= 0 or end is None:
        return 0.0
    off = (abs(number.value) - abs(end) / 2) / number.u
    return min(1.0, places * (1.0 - t_cdf(off, number.dof)))


def _overtaken(sign: Sign, facts: Told) -> bool:
    """Whether it told that there was no hit, and there was one since."""
    knocked = facts.library.asking(marks.KNOCKED)
    of_a_hit = knocked is not None and sign.answer == knocked.prompt
    return of_a_hit and bool(sign.against) and facts.meant(marks.HAPPENED) == marks.KNOCK


def _told(sign: Sign, facts: Told) -> Evidence:
    row = next(
        (a.id for a in reversed(facts.survey.standing(Answer)) if a.prompt == sign.answer),
        str(sign.answer),
    )
    step = step_of(sign.answer)
    hit = facts.meant(marks.WHERE_HIT, step) if "collision" in sign.leans else ""
    zones = CORNERS.get(hit, ())
    return Evidence(sign, _points(sign.leans), _points(sign.against), (row,), zones)


class _Side(NamedTuple):
    """One side of a step, as far as one sign goes."""

    rows: Sequence[Seen]
    """Every look there."""
    here: Sequence[Seen]
    """Those that show the sign."""
    side: str
    third: str

    @property
    def zones(self) -> tuple[Zone, ...]:
        """Where it points; empty where nobody said in which third."""
        return ((self.side, self.third),) if self.third else ()


Looks = Mapping[StepId, Mapping[str, Sequence[Seen]]]
"""The looks of a step, by side."""


def _by_side(seen: tuple[Seen, ...]) -> Looks:
    looks: dict[StepId, dict[str, list[Seen]]] = {}
    for s in seen:
        looks.setdefault(s.prompt.step, {}).setdefault(s.side, []).append(s)
    return looks


def _sides(
    sign: Sign, step: StepId, looks: Looks, facts: Told, book: SignBook
) -> tuple[_Side, ...]:
    """Both sides of a step; nothing where neither shows the sign."""
    of_step = looks.get(step)
    if of_step is None:
        return ()
    rows = [of_step.get(side, ()) for side in SIDES]
    here = [[s for s in one if _shows(s, sign)] for one in rows]
    if not any(here):
        return ()
    thirds = [_third(step, side, facts, book) for side in SIDES]
    return tuple(_Side(*found) for found in zip(rows, here, SIDES, thirds, strict=True))


def _shows(seen: Seen, sign: Sign) -> bool:
    """Whether a look shows a sign that dye has not settled since."""
    return seen.choice is not None and seen.choice.token in sign.tokens and not seen.cleared


def _looked(
    sign: Sign, there: set[StepId], looks: Looks, facts: Told, book: SignBook
) -> Iterator[Evidence]:
    """there: the steps at which any look shows it."""
    for step in (step for step in sign.looks if step in there):
        sides = _sides(sign, step, looks, facts, book)
        for one, other in zip(sides, reversed(sides), strict=True):
            twin = _twin(other.rows, other.here, one.third == other.third)
            if not one.here or twin not in sign.twin:
                continue
            if twin == "both" and set(sign.twin) != set(TWINS):
                if one is sides[0]:
                    yield _one(sign, step, [*one.here, *other.here], (), facts)
                continue
            yield _one(sign, step, one.here, one.zones, facts)


def _third(step: StepId, side: str, facts: Told, book: SignBook) -> str:
    return book.thirds.get(step) or facts.meant(marks.THIRD, step, side)


def _twin(rows: Sequence[Seen], same: Sequence[Seen], same_third: bool) -> str:
    """alone only where the other side was seen bare with nothing there; both only in the same
    third.
    """
    if same and same_third:
        return "both"
    bare = bool(rows) and all(s.nothing and s.look.seen == "bare" for s in rows)
    return "alone" if bare else "unseen"


def _one(
    sign: Sign, step: StepId, rows: Sequence[Seen], zones: tuple[Zone, ...], facts: Told
) -> Evidence:
    # The best look counts: a second, poorer one beside it must not make the sign lighter than if it
    # had been left out.
    quality = ("bare", "painted", "dirty")
    seen = min(
        (s.look.seen for s in rows),
        key=lambda q: quality.index(q) if q in quality else len(quality),
    )
    folds = {facts.meant(marks.IN_THE_FOLD, step, s.side) for s in rows}
    fold = folds.pop() if len(folds) == 1 else ""
    ids = tuple(s.look.id for s in rows)
    return Evidence(
        sign,
        _points(sign.leans, seen),
        _points(sign.against, seen),
        ids,
        zones,
        NO_PLACE,
        step,
        seen,
        fold,
    )


def unmet(seen: tuple[Seen, ...], facts: Told, book: SignBook) -> dict[str, tuple[Witness, ...]]:
    """By cause, what was not seen bare on both sides or not measured: until then silence means
    nothing.
    """
    looks = _by_side(seen)
    return {
        cause.id: tuple([w for w in cause.witnesses if not _met(w, looks, facts)])
        for cause in book.causes.values()
    }


def _is_known_without(facts: Told) -> bool:
    from wizard.judgment.sound import is_known_without  # where the engine stayed in

    return is_known_without(facts.survey, facts.library)


def _met(witness: Witness, looks: Looks, facts: Told) -> bool:
    if witness.quantity == marks.SAG_UNLOADED:
        sides = {where_of(where).side for where in facts.of(marks.SAG_UNLOADED)}
        return set(SIDES) <= sides or _is_known_without(facts)
    if witness.quantity:
        return reaches_both_ends(set(facts.of(witness.quantity)))
    if witness.step in facts.foreign:
        return True
    of_step = looks.get(witness.step, {})
    return all(_seen_bare(of_step.get(side, ())) for side in SIDES)


def _seen_bare(rows: Sequence[Seen]) -> bool:
    return bool(rows) and all(s.choice is not None and s.look.seen == "bare" for s in rows)
