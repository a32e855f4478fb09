"""A folder of a thousand surveys of one frame: how soon its names are there, and what comparing all
of them costs.

    python -m tests.bench.folder_bench --surveys 1000

Prints the time to list names and chain, and the time of `crosstape compare` over all files beside
the time that tomllib alone takes to parse the same files, both in this run.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import random
import sys
import tempfile
import tomllib
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from time import perf_counter, process_time

from tests.bench.frame_bramble import BRAMBLE
from tests.bench.frame_samples import SAMPLES, tools_of
from tests.bench.frames import reading
from wizard.command import main as crosstape
from wizard.sitting.chain import chain_of, heads
from wizard.survey.file import load, written
from wizard.survey.rows import Reading

NAMES_MS, TIMES_TOMLLIB = 100.0, 3.0
"""What is promised."""


def fill(folder: Path, count: int) -> list[Path]:
    """`count` surveys of Bramble, each read afresh by the same hand and following the one before."""
    base = load(SAMPLES / f"{BRAMBLE.id}.toml")
    _, tools = tools_of(BRAMBLE)
    rng, paths, before = random.Random(1), [], ""
    for n in range(count):
        rows = tuple(
            r if r.struck else replace(r, typed=reading(BRAMBLE.truth, r.prompt, rng, tools))
            for r in base.table(Reading)
        )
        survey = replace(
            base,
            id=f"bramble-{n:04}",
            follows=before,
            started=base.started + timedelta(days=7 * n),
            rows={**base.rows, "reading": rows},
        )
        before = survey.id
        paths.append(folder / f"{survey.id}.toml")
        paths[-1].write_text(written(survey), encoding="utf-8")
    return paths


def timed(paths: Sequence[Path]) -> tuple[float, float, float]:
    """Seconds to list the names with their chain, to parse with tomllib alone, and to compare from
    the command line.

    The first by the clock on the wall; the other two by the processor's, so that a busy machine
    does not tilt them.
    """
    start = perf_counter()
    found = heads(paths[0].parent)
    chain = chain_of(found, found[0].id)
    names = perf_counter() - start
    assert len(found) == len(chain) == len(paths)
    start = process_time()
    for path in paths:
        tomllib.loads(path.read_text(encoding="utf-8"))
    parsing = process_time() - start
    start = process_time()
    with contextlib.redirect_stdout(io.StringIO()) as out:
        status = crosstape(["compare", *map(str, paths), "--json"])
    comparing = process_time() - start
    assert status == 0, status
    assert out.getvalue().count('"slope"') > 10
    return names, parsing, comparing


def main() -> int:
    """Run and print."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--surveys", type=int, default=1000)
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        paths = fill(Path(name), args.surveys)
        names, parsing, comparing = timed(paths)
    print(f"{args.surveys} surveys")
    print(f"names and chain     {1000 * names:9.1f} ms   (promised: under {NAMES_MS:.0f} ms)")
    print(f"tomllib alone       {1000 * parsing:9.1f} ms")
    times = comparing / parsing
    print(
        f"crosstape compare   {1000 * comparing:9.1f} ms   {times:.2f} times (promised:"
        f" {TIMES_TOMLLIB:.0f})"
    )
    return 0 if 1000 * names < NAMES_MS and comparing <= TIMES_TOMLLIB * parsing else 1


if __name__ == "__main__":
    sys.exit(main())
