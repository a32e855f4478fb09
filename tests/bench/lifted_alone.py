"""How often nobody is asked to lift the engine, by what the rails really are.

Draws rails and hands of its own (nothing of `wizard/` but what is judged): a bow, a crown or a kink of one
rail or of both, how far they spring, the hand under a string, a flange that is not even, blocks read
once. The string is read with the engine's weight on alone, one station of each rail twice, by a rule in
sixteenths; then it is asked whether the sag without the weight is known.

    python -m tests.bench.lifted_alone --surveys 400
"""

from __future__ import annotations

import argparse
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from tests.checks.surveys import library, survey_of
from wizard.judgment.sight import sight_of
from wizard.judgment.sound import within_without
from wizard.survey.record import Survey
from wizard.survey.rows import State

LAYOUT = "straight-ladder"
HANDS_MM = (0.25, 0.5, 0.8)
SPRINGS_MM = (0.2, 1.2)
"""How far a rail springs at its lowest, mm: from hardly at all to twice what is foretold."""
BLOCK_MM = 50.8
SIXTEENTH = 25.4 / 16


@dataclass(frozen=True)
class Rails:
    """What both rails are without the engine's weight."""

    name: str
    mm: float
    """How deep at the deepest, positive downward."""
    both: bool = True
    kink: bool = False


KINDS = (
    Rails("straight", 0.0),
    Rails("bow, half the limit", 1.6),
    Rails("bow at the limit", 3.175),
    Rails("bow at the limit, one rail", 3.175, both=False),
    Rails("bow of 4.5 mm, one rail", 4.5, both=False),
    Rails("kink of 6 mm, one rail", 6.0, both=False, kink=True),
    Rails("kink of 12 mm, one rail", 12.0, both=False, kink=True),
    Rails("crown of 1/16 in with the weight", -1.6),
    Rails("crown of 3.2 mm with the weight", -3.2),
)


def _bow(x: float) -> float:
    return 4.0 * x * (1.0 - x)


def _hinge(at: float) -> Callable[[float], float]:
    return lambda x: min(x / at, (1.0 - x) / (1.0 - at))


def surveyed(rails: Rails, rng: random.Random) -> Survey:
    """The string read with the weight on by one hand, on one such frame."""
    layout = library().layouts[LAYOUT]
    front, rear = layout.string
    hand, spring = rng.choice(HANDS_MM), rng.uniform(*SPRINGS_MM)
    shape = _hinge(rng.uniform(0.25, 0.75)) if rails.kink else _bow
    bent = ("left", "right") if rails.both else (rng.choice(("left", "right")),)
    block = rng.gauss(0.0, 0.25)
    readings: dict[str, list[str]] = {"string-set-up/block": [f"{_inches(BLOCK_MM + block)} in"]}
    for side in ("left", "right"):
        for station in layout.stations:
            x = (station.x - front) / (rear - front)
            deep = rails.mm if side in bent else 0.0
            more = 0.0 if rails.mm < 0 else spring  # a crown is said with the weight on
            gap = BLOCK_MM + deep * shape(x) + more * _bow(x)
            gap += rng.gauss(0.0, rng.uniform(0.15, 0.3))
            readings[f"sag-loaded/{station.id}/{side}"] = [
                f"{_inches(gap + rng.gauss(0.0, hand))} in" for _ in range(station.repeats)
            ]
    survey = survey_of(readings, unit="in", answers={"string-set-up/where": "above"})
    state = State(id="s90", engine="in", body="loosened", supports="stands-under-axles")
    return survey.with_row(state)


def _inches(mm: float) -> float:
    return round(mm / SIXTEENTH) / 16


def share(rails: Rails, surveys: int, seed: int) -> float:
    """The share of such frames of which nobody would be asked to lift the engine."""
    found = 0
    for number in range(surveys):
        survey = surveyed(rails, random.Random(f"{seed} {rails.name} {number}"))
        sight = sight_of(survey, library())
        places = 2 * len(sight.layout.stations)
        found += within_without(sight.case, sight.judged, places) > 0.0
    return found / surveys


def table(surveys: int, seed: int) -> Iterator[str]:
    """A line for each kind of frame."""
    yield f"{'without the weight':<36} not lifted, % of {surveys}"
    for rails in KINDS:
        yield f"{rails.name:<36} {100 * share(rails, surveys, seed):>6.1f}"


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.lifted_alone")
    parser.add_argument("--surveys", type=int, default=400)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    for line in table(args.surveys, args.seed):
        print(line, flush=True)


if __name__ == "__main__":
    main()
