"""How long a key on the model's page takes to the page as lines, and what the hints save over many
games.

python -m tests.bench.model_bench [--games 10000]
"""

from __future__ import annotations

import argparse
import random
import statistics
import time
from datetime import datetime
from functools import lru_cache
from pathlib import Path

from wizard.judgment.blind import Bench
from wizard.judgment.game import Board
from wizard.library import load_library
from wizard.screens.desk import Desk
from wizard.screens.stage import stage


def keys(rounds: int) -> tuple[float, float]:
    """Median ms of a bending key and of a choosing key, each to the finished page at 120 by 36."""
    desk = Desk(load_library(), Path("nowhere"), lambda: datetime(2026, 4, 11))
    desk.line("m")
    found: dict[str, list[float]] = {"right": [], "down": []}
    for n in range(rounds):
        for key, took in found.items():
            start = time.perf_counter()
            desk.key(key if n % 40 < 20 or key == "down" else "left")
            stage(desk, 120, 36, "blocks")
            took.append((time.perf_counter() - start) * 1000)
    return statistics.median(found["right"]), statistics.median(found["down"])


def games(layout: str, count: int) -> tuple[float, float]:
    """Mean readings until one fault is left: by hints, and at random."""
    library, rng = load_library(), random.Random(1)
    board = Board(Bench(library.layouts[layout], library))
    hint = lru_cache(maxsize=None)(lambda left, asked: board.hint(left, asked))
    totals = [0, 0]
    for _ in range(count):
        case = rng.randrange(len(board.cases))
        for way in (0, 1):
            left, asked = frozenset(range(len(board.cases))), []
            while len(board.faults(left)) > 1:
                ask = (
                    hint(left, frozenset(asked))
                    if way == 0
                    else rng.choice([a.id for a in board.asks if a.id not in asked] or [""])
                )
                if not ask:
                    break
                asked.append(ask)
                left = board.after(left, ask, board.table[ask][case])
            totals[way] += len(asked)
    return totals[0] / count, totals[1] / count


def main() -> None:
    """Print both."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--games", type=int, default=10_000)
    args = parser.parse_args()
    bend, choose = keys(40)
    print(f"key to page: bending {bend:.1f} ms, choosing {choose:.1f} ms (median)")
    for layout in load_library().layouts:
        hinted, chance = games(layout, args.games)
        print(
            f"{layout}: {hinted:.2f} readings by hints, {chance:.2f} at random, over {args.games}"
            " games"
        )


if __name__ == "__main__":
    main()
