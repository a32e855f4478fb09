"""What is told beside the frame, from end to end: whole surveys in which the axle set and the thin metal
were called for, typed line by line as `ask` takes them, slips, doubts and all.

    python -m tests.bench.beside_whole --surveys 300 --seed 1

Frames, hands and looks are those of the sentences bench; what is true of the axle and of the metal is that
of tests/bench/sentences/beside.py. Counted is in how many surveys a kind of claim is made that is not so,
and in how many one is made of what is twice its limit. What can be done about it is offered falsely where
every figure that it rests on is less than half of where its band begins.
"""

from __future__ import annotations

import argparse
import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from tests.bench.beside_alone import FACE, KINDS, PARTS
from tests.bench.rates import HEAD, Count, Table
from tests.bench.sentences import beside, faults, hands, limits, one, scoring, story, truth, walk
from tests.bench.sentences.beside import AXLE_PROMPTS, BENT, Axle, Gauge, Thin, bent, leaves
from tests.bench.sentences.frame import SIDES, all_layouts
from tests.bench.sentences.hands import Bench
from tests.bench.sentences.scoring import Known
from wizard.judgment.choices import choices_of
from wizard.judgment.claims import OFFERED, Claim, claims_of, of_choice
from wizard.judgment.sight import sight_of
from wizard.sitting.commands import handle
from wizard.sitting.sitting import Sitting
from wizard.survey.prompts import Prompt

SHEET = 3.0
"""mm: sound metal."""


@dataclass
class Car(Bench):
    """A car with its axle set and its thin metal."""

    axle: Axle = field(default_factory=Axle)
    gauge: Gauge | None = None
    thin: Mapping[str, Thin] = field(default_factory=dict)
    """By side, one thin place of a rail."""

    def read(self, prompt: str, *, careful: bool = False) -> str:
        """What is typed; of what is read again because it was doubted nothing slips."""
        step, _, name = prompt.partition("/")
        if prompt not in AXLE_PROMPTS and step != "thin-metal":
            return super().read(prompt, careful=careful)
        assert self.gauge is not None
        g = replace(self.gauge, hand=replace(self.hand, slips=0.0)) if careful else self.gauge
        self.slip = ""
        return (
            beside.of_axle(self.axle, g, prompt) if prompt in AXLE_PROMPTS else self._metal(name, g)
        )

    def _metal(self, name: str, g: Gauge) -> str:
        side, _, what = name.partition("/")
        there = self.thin[side]
        if what == "sound" or what.startswith("metal"):
            left = SHEET - (there.lost if what.startswith("metal") else 0.0)
            return f"{self.rng.gauss(left, 0.05):.2f} mm"
        if what.startswith("from"):
            return g.tape(there.back)
        return g.rule(there.long if what.startswith("long") else there.wide)


def drawn(seed: int, number: int) -> tuple[Car, story.Story, random.Random]:
    """The car of that number, the same every time."""
    rng = random.Random(f"beside {seed}/{number}")
    layouts = all_layouts()
    frame = faults.drawn(rng, layouts[number % len(layouts)])
    tale = story.told_of(frame, rng)
    hand = hands.drawn(rng)
    made = hands.bench(frame.with_(engine_in=hand.engine_in), hand, rng)
    times = rng.choice((0.0, 0.0, 0.5, 1.0, 2.0))
    thin = {side: _thin(rng) for side in SIDES}
    car = Car(
        **vars(made),
        axle=bent(rng.choice(BENT), times, rng.choice((1.0, -1.0))),
        gauge=beside.gauge(hand, rng),
        thin=thin,
    )
    return car, tale, rng


def _thin(rng: random.Random) -> Thin:
    face, inside = rng.choice(list(FACE))
    lost = SHEET * rng.choice((0.0, 0.5, 1.0, 2.0)) * leaves()["thickness"] / 100
    long = rng.choice((60.0, 120.0))
    return Thin(face, inside, lost, long, rng.uniform(10.0, 30.0), rng.uniform(300.0, 1500.0))


SAID = {
    "axle-book/front": "b",
    "axle-book/caster": "5",
    "axle-book/camber": "1",
    "axle-book/toe": "3 mm",
    "kingpin-play/left": "n",
    "kingpin-play/right": "n",
    "kingpin-play/down": "w",
    "toe-tapes/chocked": "c",
    **{f"thin-metal/{side}/count": "o" for side in SIDES},
}
LETTER = dict(zip(FACE, "tuwibl", strict=True))
"""Face: how it is answered."""


def surveyed(
    car: Car, tale: story.Story, rng: random.Random
) -> tuple[Known, list[Claim], Mapping[str, float]]:
    """Typed, judged; what is known, what is claimed, and what is true beside the frame."""
    library, called = one.library(), [False]

    def each(sitting: Sitting, prompt: Prompt) -> None:
        if not called[0] and prompt.step == "state":
            called[0] = True
            for name in ("axle-set", "thin-metal"):
                reply = handle(sitting, f"/also {name}")
                assert reply.kind != "refused", reply.says

    said = SAID | {
        f"thin-metal/{s}/face-1": LETTER[car.thin[s].face, car.thin[s].inside] for s in SIDES
    }
    typed = walk.typed(car, tale, library, rng, said, each)
    sight = sight_of(typed.survey, library)
    verdict = sight.verdict(typed.at)
    claims = [
        *claims_of(verdict, sight.layout),
        *map(of_choice, choices_of(verdict, typed.survey, library)),
    ]
    steps = frozenset(prompt.split("/")[0] for prompt in typed.slipped_prompts.values())
    known = Known(
        car.frame, tale, truth.truth_of(car.frame), typed, steps, car.hand.states == "bare"
    )
    return known, claims, car.axle.figures


AXLE_KINDS = {KINDS.get(name, name): name for name in BENT}
"""Kind of claim: its limit."""


def false_of(claim: Claim, car: Car, known: Known) -> bool | None:
    """Whether a claim beside the frame is not so; None for one of the frame, or without a truth here."""
    if claim.kind in AXLE_KINDS:
        value = car.axle.figures[str(claim.sources[0])]
        half = leaves()[AXLE_KINDS[claim.kind]] / 2
        return not (abs(value) > 0.99 * half and value * (claim.size or 0.0) > 0)
    if claim.kind in ("thin", "thin-place"):
        lost = 100 * car.thin[str(claim.where.side)].lost / SHEET
        return lost < 0.99 * leaves()["thickness"] / 2
    if claim.kind == OFFERED and claim.way == "open":
        return None  # what is offered for what is open is to measure again first
    if claim.kind in PARTS:
        return not PARTS[claim.kind](claim, car.axle.figures, _frame(car, known))
    return _false_choice(claim, car, known) if claim.kind == OFFERED else None


def _frame(car: Car, known: Known) -> Mapping[str, float]:
    """The frame's own figures, as PARTS asks for them."""
    found = {
        f"{q}/{w}": v for (q, w), v in known.values.items() if q in ("wheelbase", "rail-shift")
    }
    for (quantity, where), _ in known.values.items():
        if quantity == f"twist-alone-{known.first_level}":
            found[f"twist/{where}"] = known.value("twist", where) or 0.0
    return found | {"caster/ball": beside.caster_of(car.frame)}


def _false_choice(claim: Claim, car: Car, known: Known) -> bool | None:
    """Where it rests on figures alone, whether none of them is there by half."""
    so = list(_is_there(claim, car, known))
    return None if not so or None in so else not any(so)


def _is_there(claim: Claim, car: Car, known: Known) -> Iterator[bool | None]:
    for source in claim.sources:
        quantity, _, where = str(source).partition("/")
        if quantity in limits.LIMIT_OF:
            value = known.value(quantity, where)
            if value is not None:
                start = limits.first(quantity, value)
                yield start is None or abs(value) >= start / 2
        elif str(source) in car.axle.figures:
            limit = quantity if quantity in leaves() else ""
            yield not limit or abs(car.axle.figures[str(source)]) >= 0.99 * leaves()[limit] / 2
        else:
            yield None


def count(car: Car, known: Known, claims: list[Claim], table: Table) -> None:
    """One survey."""
    hand, layout = ("slips" if car.hand.slips else "no slips"), car.frame.made.layout
    wrong = {c.kind for c in claims if false_of(c, car, known)}
    for kind in (*AXLE_KINDS, "thin", "thin-place", *PARTS, OFFERED):
        table.add(f"false: {kind}", hand, layout, Count(kind in wrong, 1))
    for kind, limit in AXLE_KINDS.items():
        figures = [v for i, v in car.axle.figures.items() if i.startswith(f"{limit}/")]
        if max(map(abs, figures)) > 1.9 * leaves()[limit]:
            table.add(f"seen: {kind}", hand, layout, Count(any(c.kind == kind for c in claims), 1))
    rest = [c for c in claims if c.kind not in AXLE_KINDS and c.kind not in PARTS]
    frames = any(scoring.verdict_on(c, known) is False for c in rest)
    table.add("false: any claim on the frame", hand, layout, Count(frames, 1))


def main() -> None:
    """Run and print."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.beside_whole")
    parser.add_argument("--surveys", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    table = Table()
    for number in range(args.surveys):
        car, tale, rng = drawn(args.seed, number)
        known, claims, _ = surveyed(car, tale, rng)
        count(car, known, claims, table)
    print(HEAD)
    print("\n".join(table.lines()))


if __name__ == "__main__":
    main()
