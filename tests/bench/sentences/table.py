"""Counts of many surveys as tables: claims, intervals, doubts, slips."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from tests.bench.sentences.faults import SIZES
from tests.bench.sentences.one import FINE, Scored
from tests.bench.sentences.scoring import JUDGES


def upper_95(false: int, n: int) -> float:
    """Clopper and Pearson's one-sided upper 95 % bound of a rate: binomial tail of 5 %."""
    if n == 0 or false >= n:
        return 1.0
    low, high = false / n, 1.0
    for _ in range(60):
        middle = (low + high) / 2
        if _tail(false, n, middle) > 0.05:
            low = middle
        else:
            high = middle
    return high


def _tail(most: int, n: int, p: float) -> float:
    """Chance of at most so many of n."""
    if p <= 0.0:
        return 1.0
    if p >= 1.0:
        return 0.0
    logs = [
        math.lgamma(n + 1) - math.lgamma(k + 1) - math.lgamma(n - k + 1)
        + k * math.log(p) + (n - k) * math.log1p(-p)
        for k in range(most + 1)
    ]  # fmt: skip
    top = max(logs)
    return math.exp(top) * sum(math.exp(one - top) for one in logs)


Cell = tuple[str, str]
"""A ruler and a layout."""
MOST_FALSE = 0.01
"""Share of surveys in which a claim may be false."""


@dataclass
class Counts:
    """What some surveys came to, added up."""

    n: int = 0
    true: Counter[str] = field(default_factory=Counter)
    false: Counter[str] = field(default_factory=Counter)
    any_false: int = 0
    straight: int = 0
    straight_false: int = 0
    straight_by: Counter[str] = field(default_factory=Counter)
    bare: int = 0
    """Straight, every place seen bare, nothing found, both states of the string."""
    bare_fine: int = 0
    bare_actions: Counter[str] = field(default_factory=Counter)
    due: Counter[str] = field(default_factory=Counter)
    told_due: Counter[str] = field(default_factory=Counter)
    faults: dict[tuple[str, float], list[int]] = field(default_factory=dict)
    """Kind and size: told, and how many."""
    intervals: dict[tuple[str, str], list[int]] = field(default_factory=dict)
    """Quantity and `all`, `told`, `beyond`: held, and how many."""
    sound: int = 0
    """Surveys without a slip."""
    false_doubts: Counter[str] = field(default_factory=Counter)
    slip_surveys: int = 0
    sound_accused: int = 0
    slips: dict[tuple[str, str], Counter[str]] = field(default_factory=lambda: defaultdict(Counter))
    seconds: float = 0.0
    cells: Counter[Cell] = field(default_factory=Counter)
    """Ruler and layout: surveys."""
    false_cells: Counter[tuple[str, Cell]] = field(default_factory=Counter)
    """Kind of claim, ruler and layout: surveys in which it is told and is not so."""

    def add(self, one: Scored) -> None:
        """One more survey."""
        self.n += 1
        self.seconds += one.seconds
        self.true.update(one.true)
        self.false.update(one.false)
        self.any_false += bool(one.false)
        cell = (one.ruler, one.layout)
        self.cells[cell] += 1
        self.false_cells.update((kind, cell) for kind in one.false)
        self.due.update(one.due)
        self.told_due.update(set(one.due) & set(one.true))
        self._straight(one)
        self._faults(one)
        self._slips(one)
        for quantity, held, told, beyond in one.intervals:
            for name, counts in (("all", True), ("told", told), ("beyond", beyond)):
                if counts:
                    kept = self.intervals.setdefault((quantity, name), [0, 0])
                    kept[0] += held
                    kept[1] += 1

    def _straight(self, one: Scored) -> None:
        if not one.straight:
            return
        self.straight += 1
        self.straight_false += bool(one.false)
        self.straight_by.update(one.false)
        if one.bare:
            self.bare += 1
            self.bare_fine += one.action in FINE
            self.bare_actions[f"{one.action} {one.held}".strip()] += 1

    def _faults(self, one: Scored) -> None:
        for kind, size, told in one.faults:
            kept = self.faults.setdefault((kind, abs(size)), [0, 0])
            kept[0] += told
            kept[1] += 1

    def _slips(self, one: Scored) -> None:
        if one.slips:
            self.slip_surveys += 1
            self.sound_accused += one.sound_accused
        else:
            self.sound += 1
            self.false_doubts.update(one.false_doubts)
        for step, kind, what in one.slips:
            self.slips[step, kind][what] += 1


GROUPS: dict[str, Callable[[Scored], bool]] = {
    "all": lambda one: True,
    "reference": lambda one: one.hand == "reference",
    "others": lambda one: one.hand != "reference",
}


def counted(surveys: Iterable[Scored]) -> dict[str, Counts]:
    """By group of hands."""
    groups: dict[str, Counts] = defaultdict(Counts)
    for one in surveys:
        for name, belongs in GROUPS.items():
            if belongs(one):
                groups[name].add(one)
        if one.hand not in GROUPS:
            groups[one.hand].add(one)
    return groups


def share(part: int, whole: int) -> str:
    """Percent, or nothing."""
    return f"{100 * part / whole:6.1f}" if whole else "     -"


# The tables ------------------------------------------------------------------------------------


def text(groups: dict[str, Counts]) -> str:
    """All tables."""
    return "\n".join(
        [
            *_summary(groups),
            *_claims(groups),
            *_cells(groups["all"]),
            *_faults(groups),
            *_intervals(groups),
            *_slips(groups["all"]),
        ]
    )


def _bound(false: int, n: int) -> str:
    return f"{100 * upper_95(false, n):6.2f}"


def _summary(groups: dict[str, Counts]) -> list[str]:
    found = ["hand                 surveys  straight  any false %  (<=)   of straight %  (<=)"
             "   bare and fine %   n   false doubts   sound accused %"]  # fmt: skip
    for name, c in groups.items():
        doubts = f"{c.false_doubts.total() / c.sound:8.2f}" if c.sound else "       -"
        found.append(
            f"{name:20s} {c.n:7d} {c.straight:9d} {share(c.any_false, c.n):>10s}"
            f" {_bound(c.any_false, c.n):>8s} {share(c.straight_false, c.straight):>12s}"
            f" {_bound(c.straight_false, c.straight):>8s} {share(c.bare_fine, c.bare):>14s}"
            f" {c.bare:7d} {doubts:>12s} {share(c.sound_accused, c.slip_surveys):>14s}"
            f" of {c.slip_surveys}"
        )
    whole = groups["all"]
    found.append(f"CPU per survey {whole.seconds / max(whole.n, 1):.2f} s")
    found.append(f"verdicts on straight frames seen bare: {dict(whole.bare_actions)}")
    return found


def _claims(groups: dict[str, Counts]) -> list[str]:
    found = [
        "",
        "claims, percent. true: told where it is clearly so (twice the limit; a kink of 12 mm, a"
        " corner of 8, a blow that shows and is known);",
        "false: surveys in which it is told and is not so, with the upper 95 % bound",
        "               true, all       true, reference  false, all              false, reference"
        "         straight frames: all, reference",
    ]
    whole, ref = groups["all"], groups.get("reference", Counts())
    for kind in JUDGES:
        if not (whole.true[kind] or whole.false[kind] or whole.due[kind]):
            continue
        cells = [f"{kind:14s}"]
        for c in (whole, ref):
            cells.append(f"{share(c.told_due[kind], c.due[kind])} of {c.due[kind]:<5d}")
        for c in (whole, ref):
            bound = _bound(c.false[kind], c.n)
            cells.append(f"{c.false[kind]:4d} {share(c.false[kind], c.n)} (<={bound})")
        for c in (whole, ref):
            cells.append(f"{share(c.straight_by[kind], c.straight)}")
        found.append("  ".join(cells))
    return found


def _cells(c: Counts) -> list[str]:
    """Cells of ruler and layout in which a claim is false too often, by Holm's step-down at 5 %."""
    found = ["", f"ruler and layout in which a claim is surely false in over {MOST_FALSE:.0%}"]
    for kind in JUDGES:
        chances = sorted(
            (1.0 - _tail(c.false_cells[kind, cell] - 1, n, MOST_FALSE), cell)
            for cell, n in c.cells.items()
            if c.false_cells[kind, cell]
        )
        surely = []
        for rank, (chance, cell) in enumerate(chances):
            if chance > 0.05 / (len(c.cells) - rank):
                break
            surely.append(f"{', '.join(cell)} {c.false_cells[kind, cell]} of {c.cells[cell]}")
        if surely:
            most = "; ".join(surely[:4])
            found.append(f"{kind:14s} {len(surely)} of {len(c.cells)} cells: {most}")
    return found if len(found) > 2 else [*found, "none"]


def _faults(groups: dict[str, Counts]) -> list[str]:
    found = ["", "fault and size, mm: told for what it is, percent of n; reference | others"]
    nothing = [0, 0]
    more = {
        "horn, its side": "horn",
        "horn both": "horn",
        "horn-up both": "horn-up",
        "twist on three": "twist",
    }
    rows = {**SIZES, **{name: SIZES[kind] for name, kind in more.items()}}
    for kind, sizes in rows.items():
        cells = []
        for size in sizes:
            parts = []
            for name in ("reference", "others"):
                told, n = groups.get(name, Counts()).faults.get((kind, size), nothing)
                parts.append(f"{share(told, n)} of {n}")
            cells.append(f"{size:g}: {' | '.join(parts)}")
        found.append(f"{kind:14s} {';   '.join(cells)}")
    return found


def _intervals(groups: dict[str, Counts]) -> list[str]:
    found = ["", "95 % intervals that hold the truth, percent of n; hands without slips",
             "quantity         reference                                   others without slips",
             "                 all            told           beyond        all            told"
             "           beyond"]  # fmt: skip
    other = _merged([c for n, c in groups.items() if n.endswith("no slips")])
    ref = groups.get("reference", Counts())
    for quantity in sorted({q for q, _ in groups["all"].intervals}):
        cells = []
        for c in (ref, other):
            for what in ("all", "told", "beyond"):
                held, n = c.intervals.get((quantity, what), [0, 0])
                cells.append(f"{share(held, n)} {n:6d} ")
        found.append(f"{quantity:16s} {' '.join(cells)}")
    return found


def _merged(parts: Sequence[Counts]) -> Counts:
    whole = Counts()
    for part in parts:
        for key, (held, n) in part.intervals.items():
            kept = whole.intervals.setdefault(key, [0, 0])
            kept[0] += held
            kept[1] += n
    return whole


INSTRUMENTS = {
    "sag-loaded": "string",
    "sag-unloaded": "string",
    "level": "level",
    "front-box-bar": "bar",
    "wheelbase": "wheelbase",
}
"""Step: what is read there; everything else is taped."""


def _slips(c: Counts) -> list[str]:
    found = ["", "slips, percent of n: doubted at the prompt and read again, named at the end, in a"
             " set at the end, missed"]  # fmt: skip
    rows: dict[tuple[str, str], Counter[str]] = defaultdict(Counter)
    for (step, kind), what in c.slips.items():
        rows[INSTRUMENTS.get(step, "tape"), kind].update(what)
    for (tool, kind), what in sorted(rows.items()):
        n = what.total()
        cells = [share(what[w], n) for w in ("at-prompt", "named", "in-set", "missed")]
        found.append(f"{tool:10s} {kind:15s} {'  '.join(cells)}  of {n}")
    steps = ", ".join(f"{s} {n / max(c.sound, 1):.2f}" for s, n in c.false_doubts.most_common())
    return [*found, "", f"false doubts at the prompt, per survey without slips: {steps}"]


def as_data(groups: dict[str, Counts]) -> dict[str, Any]:
    """Everything, for a machine."""
    return {
        name: {
            "surveys": c.n,
            "straight": c.straight,
            "false": {k: [v, c.n, upper_95(v, c.n)] for k, v in c.false.items()},
            "true": dict(c.true),
            "any_false": c.any_false,
            "straight_false": c.straight_false,
            "straight_by": dict(c.straight_by),
            "bare": [c.bare_fine, c.bare, dict(c.bare_actions)],
            "faults": {f"{k} {s:g}": v for (k, s), v in sorted(c.faults.items())},
            "intervals": {f"{q} {w}": v for (q, w), v in sorted(c.intervals.items())},
            "false_doubts": [dict(c.false_doubts), c.sound],
            "due": {k: [c.told_due[k], n] for k, n in c.due.items()},
            "sound_accused": [c.sound_accused, c.slip_surveys],
            "slips": {f"{s} {k}": dict(v) for (s, k), v in sorted(c.slips.items())},
            "cpu_seconds": c.seconds,
        }
        for name, c in groups.items()
    }
