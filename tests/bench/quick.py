"""How quick the wizard is: ratios and differences measured in one run, each beside its floor.

    python -m tests.bench.quick

Each figure is the median over rounds in which the wizard and its floor take turns, so that another
load on the machine falls on both. Status 0 when every promise is kept.
"""

from __future__ import annotations

import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from tests.bench.one_enter import FEW, MANY, MOST_MORE, behind

ROOT = Path(__file__).resolve().parents[2]
PARTS = Path(__file__).with_name("quick_parts.py")
SAMPLE = next(iter(sorted((ROOT / "sample_sessions").glob("bramble-*.toml"))))


RESULT = 0.143
"""A result is promised in so much of the time that numpy takes to import, both in processor time: in
10 ms where that takes 70, and as much work on any other machine.
"""


@dataclass(frozen=True, slots=True)
class Figure:
    """One promise."""

    what: str
    ours: float
    floor: float
    unit: str
    least: float
    """How much is promised: a ratio, or a difference in ms."""
    ratio: bool
    note: str = ""

    @property
    def value(self) -> float:
        """Ratio or difference."""
        return self.ours / self.floor if self.ratio else self.ours - self.floor

    def line(self) -> str:
        """For the table."""
        value = f"{self.value:6.3g} x " if self.ratio else f"{self.value:6.1f} ms"
        most = f"{self.least:5.3g} x " if self.ratio else f"{self.least:5.0f} ms"
        word = "pass" if self.value <= self.least else "MISS"
        figures = f"{self.ours:8.1f} {self.floor:8.1f} {self.unit}"
        return f"{self.what:<44}{figures}   {value}   at most {most}   {word}  {self.note}".rstrip()


def part(name: str, *args: str) -> list[str]:
    """One measurement in a process of its own: the words of its last line."""
    env = {
        k: v
        for k, v in os.environ.items()
        if not k.startswith(("NO_COLOR", "TEXTUAL", "CROSSTAPE"))
    }
    command = [sys.executable, str(PARTS), name, *args]
    done = subprocess.run(
        command, capture_output=True, text=True, cwd=ROOT, env=env | {"PYTHONPATH": str(ROOT)}
    )
    if done.returncode:
        raise SystemExit(f"{name}: {done.stderr[-2000:]}")
    return done.stdout.splitlines()[-1].split()


def turns(names: tuple[str, str], rounds: int, *args: str) -> tuple[float, float, str]:
    """Medians of two measurements that take turns, and what the first one noted last.

    The first round is not counted: it compiles.
    """
    found: dict[str, list[float]] = {name: [] for name in names}
    note = ""
    for n in range(rounds + 1):
        for name in names:
            value, *rest = part(name, *args)
            if n:
                found[name].append(float(value))
            note = " ".join(rest) if name == names[0] else note
    return statistics.median(found[names[0]]), statistics.median(found[names[1]]), note


def as_installed(folder: str) -> None:
    """Compiled code is kept in a folder of this run, as an installation keeps it: that of the wizard
    and that of its floors alike, made in the round that is not counted. So is the content, which is
    kept beside it once its files have lain still for some seconds.

    A checkout may be told to write none (PYTHONDONTWRITEBYTECODE). Then the wizard alone would be
    compiled, and its content read, at each start, but no library of its floors, for these were
    installed.
    """
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    os.environ["PYTHONPYCACHEPREFIX"] = folder


def worked(rounds: int) -> str:
    """What telling costs in processor time; not promised."""
    ours, floor, _ = turns(("tell_work", "tell_work_floor"), rounds, str(SAMPLE))
    return f"crosstape tell in processor time: {ours:.0f} ms, {ours / floor:.2f} x (not promised)"


def with_surveys(rounds: int) -> str:
    """What the first frame costs where nine surveys must be told of; not promised."""
    with tempfile.TemporaryDirectory() as folder:
        for n in range(9):
            shutil.copy(SAMPLE, Path(folder) / f"s{n}.toml")
        ours, floor, _ = turns(("first_frame", "blank_frame"), rounds, folder)
    return f"the same with nine surveys to list: {ours:.0f} ms, {ours / floor:.2f} x (not promised)"


def figures(rounds: int) -> list[Figure]:
    """Every promise, measured."""
    with tempfile.TemporaryDirectory() as folder:
        first = turns(("first_frame", "blank_frame"), rounds, folder)
    out = [
        Figure("first full frame over a blank app", first[0], first[1], "ms", 1.5, True, first[2])
    ]
    key = turns(("key", "key_floor"), max(rounds // 2, 3))
    out.append(Figure("key to repaint over a one-widget app", key[0], key[1], "ms", 2.0, True))
    saved, fsync, most = (float(v) for v in part("answer"))
    out.append(
        Figure(
            "answer to saved and next prompt, over fsync",
            saved,
            fsync,
            "ms",
            50,
            False,
            f"worst {most:.1f}",
        )
    )
    step, worst = (float(v) for v in part("steps"))
    out.append(Figure("step to step", step, 0.0, "ms", 100, False, f"worst {worst:.1f}"))
    result = turns(("result", "result_floor"), max(rounds // 2, 3), str(SAMPLE))
    what = "result with the plan over import numpy"
    out.append(Figure(what, result[0], result[1], "ms", RESULT, True, f"best {result[2]}"))
    told = turns(("tell", "tell_floor"), rounds, str(SAMPLE))
    out.append(
        Figure("crosstape tell over import numpy, tomllib", told[0], told[1], "ms", 2.0, True)
    )
    page = float(part("shelf", str(SAMPLE))[0])
    out.append(Figure("what is listed of ten thousand surveys", page, 0.0, "ms", 500, False))
    behind(FEW)  # the first one loads what it needs
    few, many = behind(FEW), behind(MANY)
    what = f"an Enter behind {MANY:,} rows over {FEW}"
    out.append(Figure(what, many / 1e3, few / 1e3, "1000", MOST_MORE, True, "instructions"))
    memory = turns(("memory", "memory_floor"), 3, str(SAMPLE))
    out.append(Figure("memory over a blank app with numpy", memory[0], memory[1], "MB", 1.5, True))
    return out


def main() -> int:
    """Run and print."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--rounds", type=int, default=9)
    rounds = parser.parse_args().rounds
    with tempfile.TemporaryDirectory() as folder:
        as_installed(folder)
        found = figures(rounds)
        print(f"{'':<44}{'ours':>8} {'floor':>8}")
        for figure in found:
            print(figure.line())
        print(with_surveys(3))
        print(worked(rounds))
    heavy = any("numpy" in f.note or "pint" in f.note for f in found)
    print("numpy and pint before the first frame: " + ("LOADED" if heavy else "not loaded"))
    return int(heavy or any(f.value > f.least for f in found))


if __name__ == "__main__":
    sys.exit(main())
