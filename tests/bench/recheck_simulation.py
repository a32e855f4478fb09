"""Whole re-checks of frames whose truth is known: is a change called where nothing moved, and seen
where something did?

    python -m tests.bench.recheck_simulation --pairs 4000

Every pair of surveys is one frame measured twice. In half of them the same person comes back with
the same tools; in the other half another one with another tape, in the other unit. Prints how many
re-checks call anything changed when nothing moved, and how often a move of just the size that the
comparison says it would have seen is called changed.
"""

from __future__ import annotations

import argparse
import math
import multiprocessing
import random
import sys
from collections import Counter
from collections.abc import Callable
from dataclasses import replace

from tests.bench.frame_draw import frame
from tests.bench.frame_tools import Tools, drawn
from tests.bench.frame_truths import expected
from tests.bench.frames import Bend, Horn, Truth
from tests.bench.simulation import measured
from wizard.judgment.change import Comparison, compare
from wizard.library import load_library
from wizard.survey.follow import SAME_AS
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Tool

FALSE_ALARMS, SEEN = 0.05, 0.95
"""What is promised: so many re-checks of a still frame at most call a change; so many stated moves
are seen.
"""
Move = Callable[[Truth, float], Truth]
MOVES: dict[str, Move] = {
    "rail-shift/whole": lambda t, by: replace(t, diamond=t.diamond + by),
    "sag-loaded/engine-mount/left": lambda t, by: replace(
        t, left=(*t.left, Bend(by, 640.0, 280.0))
    ),
    "sag-unloaded/engine-mount/right": lambda t, by: replace(
        t, right=(*t.right, Bend(by, 640.0, 280.0))
    ),
    "twist/rear": lambda t, by: replace(t, twist=t.twist + by),
    "horn-out/left": lambda t, by: replace(t, horn_left=_out(t.horn_left, by)),
    "wheelbase/difference": lambda t, by: replace(
        t, axle_yaw=(t.axle_yaw[0] + by / t.sizes.track, t.axle_yaw[1])
    ),
    "own-sides/whole": lambda t, by: replace(t, mash_left=t.mash_left + by),
}
"""A quantity and a change of the frame that moves it by about so many mm."""


def _out(horn: Horn, by: float) -> Horn:
    return replace(horn, inward=horn.inward - by)


def followed(old: Survey, new: Survey, same: bool) -> Survey:
    """The second survey as a re-check of the first, with the person's word on the tools."""
    tools: tuple[Tool, ...] = new.table(Tool)
    if same:
        tools = tuple(replace(t, extra={**t.extra, SAME_AS: t.id}) for t in tools)
    new = replace(new, id="again", follows=old.id, rows={**new.rows, "tool": tools})
    said = (
        ("since-last-time/tools", "same" if same else "others"),
        ("since-last-time/marks", "all-there"),
    )
    said += (("about-the-car/by", "owner" if same else "helper"),)
    for n, (prompt, answer) in enumerate(said):
        new = new.with_row(Answer(id=f"a80{n}", prompt=prompt, answer=answer))
    return new


def again(tools: Tools, rng: random.Random, same: bool) -> Tools:
    """The tools of the second visit: the dots on the rivets stay in any case."""
    kept = {"tape_scale": tools.tape_scale, "level_own": tools.level_own} if same else {}
    other = {"in": "mm", "mm": "in"}[tools.unit]
    return drawn(rng, tools.unit if same else other, dots=tools.dots, **kept)


def one(seed: int) -> Counter[tuple[str, str]]:
    """One frame: measured twice as it is, and once more after a move of the stated size."""
    rng, counts = random.Random(seed), Counter[tuple[str, str]]()
    truth = frame(rng)
    tools = drawn(rng, rng.choice(("in", "mm")))
    same = rng.random() < 0.5
    later = again(tools, rng, same)
    kind = "same tools" if same else "other tools"
    old = measured(truth, tools, rng, None)
    still = compare(old, followed(old, measured(truth, later, rng, None), same), load_library())
    counts[kind, "n"] += 1
    counts[kind, "alarms"] += bool(still.of("changed"))
    counts[kind, "figures"] += len(still.changes)
    counts[kind, "untold"] += len(still.of("cannot tell"))
    id = rng.choice(sorted(MOVES))
    moved = _moved(truth, tools, still, id, rng)
    if moved is not None:
        found = compare(old, followed(old, measured(moved, later, rng, None), same), load_library())
        counts[id, "n"] += 1
        counts[id, "seen"] += any(c.new.id == id for c in found.of("changed"))
    return counts


def _moved(
    truth: Truth, tools: Tools, still: Comparison, id: str, rng: random.Random
) -> Truth | None:
    """The frame after a move of the size that the comparison says it would have seen, either way."""
    change = next((c for c in still.changes if c.new.id == id), None)
    before = expected(truth, tools, id)
    if change is None or before is None:
        return None
    by = change.visible * rng.choice((1, -1))
    size = by
    for _ in range(
        4
    ):  # a move of one millimeter moves its quantity by about one: find out by how much
        after = expected(MOVES[id](truth, size), tools, id)
        assert after is not None
        size *= by / (after - before)
    return MOVES[id](truth, size)


def main() -> int:
    """Run and print; status 1 where a promise is not kept."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--pairs", type=int, default=4000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=None)
    args = parser.parse_args()
    total: Counter[tuple[str, str]] = Counter()
    seeds = range(args.seed * 10_000_000, args.seed * 10_000_000 + args.pairs)
    with multiprocessing.Pool(args.jobs) as pool:
        for counts in pool.imap_unordered(one, seeds, chunksize=20):
            total.update(counts)
    return 0 if report(total) else 1


def report(total: Counter[tuple[str, str]]) -> bool:
    """The tables in percent; whether both promises are kept, three standard errors allowed."""
    kept = True
    print(
        "nothing moved            re-checks   some figure changed   allowed   figures each   cannot"
        " tell each"
    )
    for kind in ("same tools", "other tools"):
        n = total[kind, "n"]
        if not n:
            continue
        share, allowed = (
            total[kind, "alarms"] / n,
            FALSE_ALARMS + 3 * math.sqrt(FALSE_ALARMS * (1 - FALSE_ALARMS) / n),
        )
        kept &= share <= allowed
        figures, untold = (total[kind, what] / n for what in ("figures", "untold"))
        print(
            f"  {kind:22s} {n:9d}   {100 * share:19.2f}   {100 * allowed:7.2f}   {figures:12.1f}  "
            f" {untold:16.2f}"
        )
    print("\nmoved by the stated size             n    changed   at least")
    for id in sorted(MOVES):
        n = total[id, "n"]
        if n:
            share, least = total[id, "seen"] / n, SEEN - 3 * math.sqrt(SEEN * (1 - SEEN) / n)
            kept &= share >= least
            print(f"  {id:32s} {n:5d}   {100 * share:8.2f}   {100 * least:8.2f}")
    return kept


if __name__ == "__main__":
    sys.exit(main())
