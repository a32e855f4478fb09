"""The bench from a command line.

    python -m tests.bench.sentences --surveys 300 --jobs 2 --seed 1
    python -m tests.bench.sentences --seed 1 --one 17
    python -m tests.bench.sentences --surveys 60 --only kink:12 --hand reference

`--one` prints a survey's truth, its claims and what `crosstape tell` says of it. `--only` gives each
frame just that one fault (`straight` none) and prints a line for each survey in which it is not told,
with what is told and what is open in its place, before the tables. `--keep FILE`
writes each survey down as it comes in and leaves out those that stand there already, so that a run
of hours may be cut off and taken up again; the file is of one seed.
"""

from __future__ import annotations

import argparse
import json
import multiprocessing
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # before numpy: small matrices, many processes

from tests.bench.sentences import scoring
from tests.bench.sentences.faults import SIZES, STRAIGHT, Wanted
from tests.bench.sentences.hands import REFERENCE
from tests.bench.sentences.one import (
    FINE,
    Given,
    Scored,
    Whole,
    from_line,
    scored,
    to_line,
    true_value,
    whole,
)
from tests.bench.sentences.table import as_data, counted, text
from wizard.telling.tell import verdict_page

Work = Callable[[int], Scored | str]
"""Makes the survey of a number."""


def main() -> int:
    """Run and print."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.sentences")
    parser.add_argument("--surveys", type=int, default=300)
    parser.add_argument("--first", type=int, default=0, help="number of the first survey")
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--json", action="store_true", help="everything, for a machine")
    parser.add_argument("--keep", type=Path, help="a file for the surveys, one in a line")
    parser.add_argument("--wrong", type=float, default=0.0, help="share of looks seen wrongly")
    parser.add_argument("--one", type=int, help="print this survey and no table")
    parser.add_argument("--false", metavar="KIND", help="numbers of surveys with that false claim")
    parser.add_argument(
        "--only", type=_wanted, metavar="KIND:MM", help="one fault of just that size"
    )
    parser.add_argument("--hand", choices=["reference"], help="the hand of every survey")
    parser.add_argument("--layouts", type=_listed, default=(), help="kinds of frame, with commas")
    parser.add_argument("--bare", action="store_true", help="every place is seen bare")
    args = parser.parse_args()
    hand = REFERENCE if args.hand else None
    given = Given(args.only, hand, args.layouts, args.bare, args.wrong)
    if args.one is not None:
        print("\n".join(_told(whole(args.seed, args.one, given))))
        return 0
    numbers = range(args.first, args.first + args.surveys)
    surveys = list(_surveys(numbers, partial(scored, args.seed, given=given), args.jobs, args.keep))
    if args.only:
        print("\n".join(_missed(surveys)))
    if args.false:
        named = [s for s in surveys if args.false in s.false]
        print("\n".join(f"{s.number} {s.layout} {s.hand} {s.faults}" for s in named))
        return 0
    groups = counted(surveys)
    print(json.dumps(as_data(groups), indent=1) if args.json else text(groups))
    return 0


def _wanted(text: str) -> Wanted:
    """`kink:12` or `straight`."""
    kind, _, size = text.partition(":")
    if kind != STRAIGHT and kind not in SIZES:
        raise argparse.ArgumentTypeError(f"{kind} is none of {', '.join(SIZES)}, {STRAIGHT}")
    return kind, float(size or 0.0)


def _listed(text: str) -> tuple[str, ...]:
    return tuple(text.split(","))


def _missed(surveys: Sequence[Scored]) -> Iterator[str]:
    """Surveys in which the fault is not told, or in which a straight frame is not called fine."""
    missed = [s for s in surveys if not _is_told(s)]
    yield f"told {len(surveys) - len(missed)} of {len(surveys)}; not told in:"
    for one in missed:
        said = f"{one.action} {one.held}".strip()
        false = f"; FALSE {', '.join(one.false)}" if one.false else ""
        opened = ", ".join(one.open) or "nothing"
        yield f"{one.number} {one.layout}: {said}; told {', '.join(one.true)}{false}; open {opened}"
    yield ""


def _is_told(one: Scored) -> bool:
    return any(told for _, _, told in one.faults) if one.faults else one.action in FINE


def _surveys(numbers: range, work: Work, jobs: int, keep: Path | None) -> Iterator[Scored]:
    """Those that were kept, then the others as they come in."""
    lines = keep.read_text(encoding="utf-8").splitlines() if keep and keep.exists() else []
    kept = {one.number: one for one in map(from_line, lines) if one.number in numbers}
    yield from kept.values()
    for one in _run([n for n in numbers if n not in kept], work, jobs):
        if isinstance(one, str):
            print(f"not to its end: {one}", file=sys.stderr)
            continue
        if keep:
            with keep.open("a", encoding="utf-8") as file:
                file.write(to_line(one) + "\n")
        yield one


def _run(numbers: Sequence[int], work: Work, jobs: int) -> Iterator[Scored | str]:
    if jobs == 1:
        yield from map(work, numbers)
        return
    with multiprocessing.Pool(jobs) as pool:
        yield from pool.imap(work, numbers, chunksize=5)


def _told(found: Whole) -> list[str]:
    """A survey's truth, its claims, what is told."""
    known, hand = found.known, found.hand
    lines = [f"{known.frame.made.layout}, {hand}", *(f"fault: {f}" for f in known.frame.faults)]
    lines += [f"causes: {sorted(known.story.causes)}, zones: {sorted(known.story.zones)}"]
    lines += [f"seen: {dict(known.story.answers)}{'' if known.story.bare else ', half painted'}"]
    lines += [f"doubt: {d.prompt}: {d.says} ({d.slip or 'sound'})" for d in known.typed.doubts]
    slips = known.typed.slipped_prompts
    lines += [f"slip: {prompt} by {known.typed.slipped[id]} ({id})" for id, prompt in slips.items()]
    words = {True: "true ", False: "FALSE", None: "     "}
    lines += ["", *(f"{words[scoring.verdict_on(c, known)]} {c}" for c in found.claims), ""]
    for judged in found.sight.judged:
        value = true_value(judged.finding, known, found.sight)
        if value is not None:
            held = abs(judged.finding.value - value) <= judged.told_half
            lines.append(
                f"{'' if held else 'MISSED '}{judged.finding.id}: {judged.finding.value:.2f}"
                f" +- {judged.told_half:.2f}, true {value:.2f} {'/'.join(judged.bands)}"
            )
    page = verdict_page(known.typed.survey, found.sight.library, known.typed.at)
    return [*lines, "", page]


if __name__ == "__main__":
    sys.exit(main())
