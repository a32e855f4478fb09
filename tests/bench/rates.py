"""How often something was told, beside how often it may be: bounds, and which cells are refused.

A cell is one rule by one kind of frame. What is promised holds in every cell, so that each claim has
as many chances to seem broken as there are cells: they are judged together, by Holm's step-down.
Sources: C. J. Clopper and E. S. Pearson, The use of confidence or fiducial limits illustrated in the
case of the binomial, 1934; S. Holm, A simple sequentially rejective multiple test procedure, 1979.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from scipy import stats

CLAIM, AT_LIMIT = 0.01, 0.05
"""What is promised: of what is told and is not so; of an interval, and of a value at its limit."""
REFUSED = 0.05
"""Chance that any cell of a claim is refused where every one keeps what is promised."""
MOST_NAMED = 3
"""Cells named in a line, the worst first."""

HEAD = (
    "percent of surveys, in brackets its upper 95 % bound; from the least cell to the most; by hand"
)
"""What a line of a table says."""


@dataclass(frozen=True)
class Count:
    """In how many surveys something was told, of how many."""

    told: int = 0
    of: int = 0

    def __add__(self, other: Count) -> Count:
        return Count(self.told + other.told, self.of + other.of)

    @property
    def percent(self) -> float:
        """How often it was told."""
        return 100.0 * self.told / self.of if self.of else 0.0

    @property
    def bound(self) -> float:
        """The upper 95 % bound of that, percent."""
        if self.told >= self.of:
            return 100.0
        return 100.0 * float(stats.beta.ppf(0.95, self.told + 1, self.of - self.told))

    def chance(self, promised: float) -> float:
        """Chance of so many where what is promised is kept."""
        return float(stats.binom.sf(self.told - 1, self.of, promised))


def holm(chances: Sequence[float], alpha: float = REFUSED) -> list[bool]:
    """Which are refused when all are judged together, in the order given.

    The smallest of m must be at most alpha/m, the next alpha/(m - 1), and so on until one is not.
    """
    refused = [False] * len(chances)
    for left, n in enumerate(sorted(range(len(chances)), key=lambda n: chances[n])):
        if chances[n] * (len(chances) - left) > alpha:
            break
        refused[n] = True
    return refused


@dataclass
class Table:
    """What was told, by claim, by hand and by cell."""

    counts: dict[tuple[str, str], dict[str, Count]] = field(default_factory=dict)

    def add(self, claim: str, hand: str, cell: str, count: Count) -> None:
        """So many more of one cell."""
        cells = self.counts.setdefault((claim, hand), {})
        cells[cell] = cells.get(cell, Count()) + count

    def lines(self) -> Iterator[str]:
        """One line for each claim and hand, claim by claim."""
        for claim in dict.fromkeys(claim for claim, _ in self.counts):
            for (of, hand), cells in self.counts.items():
                if of == claim:
                    yield _line(claim, hand, cells)


def promised(claim: str) -> float | None:
    """What is promised of a claim, by its name; None of what is told where it is so."""
    if claim.startswith("seen: "):
        return None
    return AT_LIMIT if claim.startswith(("missed: ", "at limit: ")) else CLAIM


def refused(cells: dict[str, Count], limit: float) -> list[str]:
    """The cells that do not keep what is promised, the worst first."""
    stand = holm([count.chance(limit) for count in cells.values()])
    out = [cell for cell, no in zip(cells, stand, strict=True) if no]
    return sorted(out, key=lambda cell: -cells[cell].percent)


def _line(claim: str, hand: str, cells: dict[str, Count]) -> str:
    whole, limit = sum(cells.values(), Count()), promised(claim)
    least, most = (end(cells, key=lambda cell: cells[cell].percent) for end in (min, max))
    rate = f"{claim:38} {hand:>12} {whole.percent:7.3f}"
    ends = f"from {cells[least].percent:.3f} to {cells[most].percent:.3f} ({most})"
    if limit is None:
        return f"{rate}            {ends}, of {whole.of}"
    out = refused(cells, limit)
    said = f"refused {len(out)} of {len(cells)}: {'; '.join(out[:MOST_NAMED])}" if out else ""
    said = f"{said}; ..." if len(out) > MOST_NAMED else said
    return f"{rate} ({whole.bound:.3f}) {ends}, of {whole.of} {said}".rstrip()
