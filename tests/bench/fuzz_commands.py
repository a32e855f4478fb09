"""Every command with every kind of argument, line by line, then the file opened by each command.

    nice python -m tests.bench.fuzz_commands --lines 20000

For each line: no exception, nothing that drives a terminal in what is shown, and what a command
wrote down is taken back whole by `/undo`. For each file, and for each with rows that no prompt
would have written behind it: every command opens it, every size of screen draws it. Every fault is
printed with the lines that show it.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import random
import shutil
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, fields, replace
from datetime import datetime
from pathlib import Path
from typing import Any
from unittest import mock

from tests.bench.fuzz_engine import ROOT, UNSHOWABLE
from wizard.command import main as crosstape
from wizard.library import load_library
from wizard.screens.desk import Desk
from wizard.screens.stage import stage
from wizard.sitting.commands import COMMANDS, handle
from wizard.sitting.foretold import foretell_with
from wizard.sitting.own import TOOL_FIELDS
from wizard.sitting.sitting import Sitting
from wizard.survey.guide import layout_of
from wizard.survey.record import Survey
from wizard.survey.rows import Ack, Doubt, State, Verdict
from wizard.telling.page import PageView
from wizard.telling.page import view as page_view

TODAY = datetime(2026, 5, 1, 9)
ROUND = 40
"""Lines between two openings."""
NUMBERS = (
    *(
        "0",
        "1",
        "2",
        "4",
        "94",
        "1/8",
        "25 7/8",
        "1/3",
        "-5",
        "+5",
        "1e9",
        "nan",
        "inf",
        "9" * 40,
        "0.0001",
        "1,234",
    ),
    *(
        "203,2",
        "",
        " ",
        "!",
        "4!",
        "½",
        "²",
        "٣",
        "1/0",
        "6' 8 1/2\"",
        "5000",
        "100000",
        "--",
        "5 forward",
        "3 rearward",
    ),
)
UNITS = (
    "",
    "",
    " in",
    " mm",
    " cm",
    " m",
    " ft",
    " kg",
    " lb",
    " N",
    " g/m",
    " mm/m",
    " deg",
    " %",
    " °C",
    " furlongs",
)
WORDS = (
    *(
        "x",
        "left",
        "slip",
        "shop manual",
        "[bold]x[/bold]",
        "\x1b[2J",
        "\u202e",
        "{item}",
        "%s",
        "=1+1",
        "é" * 90,
        "a" * 600,
    ),
    *(
        "~draft.html",
        "../../etc/passwd",
        "/dev/null",
        "a/b.html",
        "html",
        "csv",
        "md",
        "txt",
        "x.exe",
        ".",
        "..",
        "~",
    ),
    *(
        "con",
        "C:\\x",
        "\x00",
        "\ud800",
        "level",
        "7",
        "999",
        "step",
        "step rain",
        "stop",
        "off",
        "sag",
        "drop x",
    ),
)
KEPT = ("size", "tool", "limit", "point", "add", "strike", "remark", "photo", "opinion", "guess")
"""Commands of which `/undo` takes back all that they wrote, in one go."""
PASSING = (State, Ack, Verdict, Doubt)
"""Rows that follow from others and are not taken back by themselves."""
IMPOSSIBLE = ("0 mm", "4 mm", "2 in", "94 mm", "-3", "0", "1 mm", "30 m", "2000 mm")
"""Figures that are seldom a frame's."""
HOSTILE = (
    *('[[size]]\nid = "z{n}"\nname = "{size}"\ntyped = "{number}"\n',) * 4,
    '[[tool]]\nid = "t{n}"\nkind = "{tool}"\nname = "x"\n{field} = "{number}"\n',
    '[[limit]]\nid = "l{n}"\nlimit = "{limit}"\nband = "{band}"\nupto = "{number}"\n',
    '[[point]]\nid = "q{n}"\npoint = "front-left"\nmark = "{word}"\n',
    (
        '[[place]]\nid = "w{n}"\nuse = "{use}"\nplace = "own-x{n}"\nname = "x{n}"\nkind ='
        ' "hole"\nbehind = "{number}"\n'
    ),
    '[[reading]]\nid = "r{n}"\nprompt = "{prompt}"\ntyped = "{number}"\n',
)


@dataclass
class Found:
    """What the run came to."""

    lines: int = 0
    opened: int = 0
    undone: int = 0
    replies: Counter[str] = field(default_factory=Counter)
    faults: dict[str, list[str]] = field(default_factory=dict)
    """By kind, the lines that show one of it."""

    def fault(self, kind: str, lines: list[str]) -> None:
        """One kind of fault, kept with its shortest example."""
        if kind not in self.faults or len(lines) < len(self.faults[kind]):
            self.faults[kind] = list(lines)


def where(error: BaseException) -> str:
    """The kind of a fault: its class and place."""
    last = traceback.extract_tb(error.__traceback__)[-1]
    return (
        f"{type(error).__name__} at {Path(last.filename).name}:{last.lineno}: {str(error)[:80]!r}"
    )


def standing(survey: Survey) -> list[str]:
    """All that counts of a survey, whatever its numbers and times."""
    out = [f"{survey.car} {survey.unit} {survey.layout}"]
    for row in survey.all_rows():
        if not row.struck and not isinstance(row, PASSING):
            values = {
                f.name: getattr(row, f.name)
                for f in fields(row)
                if f.name not in ("id", "at", "by", "state")
            }
            out.append(f"{type(row).__name__} {values}")
    return sorted(out)


class Lines:
    """Lines as a person, a cat on the keyboard or an enemy might type them."""

    def __init__(self, sitting: Sitting, rng: random.Random) -> None:
        self.sitting, self.rng = sitting, rng

    def number(self) -> str:
        """A figure, more or less."""
        return self.rng.choice(NUMBERS) + self.rng.choice(UNITS)

    def near(self, usual: float) -> str:
        """A figure that may well be taken: the usual one, times something."""
        return (
            f"{usual * self.rng.choice((0.05, 0.3, 0.45, 0.9, 1.0, 1.1, 1.8, 2.2, 5, 12)):.4g} mm"
        )

    def word(self) -> str:
        """A word, or what stands for one."""
        return self.rng.choice(WORDS)

    def line(self) -> str:
        """One line."""
        kind = self.rng.randrange(10)
        if kind < 6:
            word = self.rng.choice([c.word for c in COMMANDS if c.word not in ("quit", "model")])
            made = getattr(self, f"_{word}", None)
            rest = (
                made()
                if made and self.rng.random() < 0.85
                else self.rng.choice((self.number(), self.word(), ""))
            )
            return f"/{word} {rest}".rstrip() + self.rng.choice(("", "", "", "!"))
        return self.number() if kind == 6 else self.word() if kind == 7 else self._answer()

    def _place(self, letters: list[str]) -> str:
        """An entry for a place, right or nearly so."""
        some = " ".join(self.rng.sample([*letters, "o", "u"], self.rng.randint(0, 3)))
        other = f"; {self.rng.choice(letters)} {self.rng.choice('bpdn')}"
        return f"{self.rng.choice('bpdn')} {some}{self.rng.choice(('', '', other))}".strip()

    def _answer(self) -> str:
        prompt = self.sitting.prompt
        if prompt is None:
            return ""
        if prompt.kind.gathers:
            return self._place([part.letter for part in prompt.parts])
        if prompt.kind.least_choices:
            letters = [c.letter for c in prompt.choices] or ["n"]
            return ("b " if prompt.kind.looks else "") + self.rng.choice(letters)
        sign = f" {self.rng.choice(prompt.signs)}" if prompt.signs else ""
        said = {
            "ack": "understood",
            "note": "a few words",
            "bubble": "1/2 left",
            "gap": f"1/8{sign}!",
        }
        return said.get(prompt.kind.id, f"{self.rng.randrange(1, 120)} 1/8!")

    def _size(self) -> str:
        figures = layout_of(self.sitting.survey, self.sitting.library).figures
        name = self.rng.choice([*figures, "color"])
        near = (
            self.near(figures.get(name, 3.0))
            if not name.endswith("_kg")
            else str(figures.get(name, 3.0))
        )
        return f"{name} {self.rng.choice((near, near, self.number(), self.rng.choice(IMPOSSIBLE)))}"

    def _tool(self) -> str:
        kind = self.rng.choice([*TOOL_FIELDS, "laser"])
        name = self.rng.choice(TOOL_FIELDS.get(kind, ("class",)))
        return (
            f"{kind} {name}"
            f" {self.rng.choice((self.number(), 'I', 'II', 'IV', 'hook', 'mark', '30 N', '0.5 g/m'))}"
        )

    def _limit(self) -> str:
        limit = self.rng.choice(list(self.sitting.library.limits.values()))
        return (
            f"{limit.id} {self.rng.choice(['never', *(b.band for b in limit.above)])}"
            f" {self.number()} {self.word()}"
        )

    def _point(self) -> str:
        return (
            f"{self.rng.choice(('front-left', 'rear-right', 'tip-left', 'nowhere'))} {self.word()},"
            f" photo {self.word()}"
        )

    def _add(self) -> str:
        use = self.rng.choice(("tape", "string", "level", "drop", "rope"))
        kind = self.rng.choice((", hole", ", rivet", "", ", laser"))
        name, far = (
            self.rng.choice(("cowl", "dash", self.word())),
            self.rng.choice(("31 1/2", self.number())),
        )
        return f"{use} {name}{kind}, {far}"

    def _strike(self) -> str:
        ids = [r.id for r in self.sitting.survey.all_rows()] or ["r1"]
        return self.rng.choice(
            ("", "slip", self.rng.choice(ids), f"{self.rng.choice(ids)} slip", "z999")
        )

    def _go(self) -> str:
        return self.rng.choice(
            [*self.sitting.library.steps, str(self.rng.randrange(60)), self.word()]
        )

    def _report(self) -> str:
        return self.rng.choice(("md", "txt", "csv", "~draft.html", self.word()))


def played(sitting: Sitting, count: int, rng: random.Random, found: Found) -> None:
    """So many lines in one sitting."""
    lines, made = [], Lines(sitting, rng)
    for _ in range(count):
        lines.append(made.line())
        found.lines += 1
        before = standing(sitting.survey)
        try:
            reply = handle(sitting, lines[-1])
            if sitting.ask:
                _page(sitting)
        except Exception as error:
            found.fault(where(error), lines[-1:])
            continue
        found.replies[reply.kind] += 1
        if bad := UNSHOWABLE.search(reply.says):
            found.fault(f"would be shown: {bad[0]!r}", lines[-1:])
        word = lines[-1].lstrip("/").split(maxsplit=1)[0] if lines[-1].startswith("/") else ""
        free = word in KEPT and not sitting.aside.second  # a second reader may take nothing back
        if free and reply.kind in ("told", "taken") and standing(sitting.survey) != before:
            _undone(sitting, before, lines[-1], found)


def _undone(sitting: Sitting, before: list[str], line: str, found: Found) -> None:
    """`/undo` takes back what the line wrote, and the line may be said again."""
    found.undone += 1
    try:
        reply = handle(sitting, "/undo")
        after = standing(sitting.survey)
        if after != before:
            lost = sorted(set(before) ^ set(after))
            found.fault(
                f"/{line[1:].split()[0]} is not undone: {reply.says[:60]!r} {str(lost)[:300]}",
                [line, "/undo"],
            )
        handle(sitting, line)
    except Exception as error:
        found.fault(where(error), [line, "/undo", line])


def _page(sitting: Sitting) -> PageView:
    """The page in front, as both faces begin with it."""
    assert sitting.ask is not None
    return page_view(sitting.survey, sitting.library, sitting.pages(), sitting.ask)


@contextlib.contextmanager
def laid_bare() -> Iterator[None]:
    """Faults of the program come through instead of being told."""

    def raised(error: BaseException, *_: Any) -> str:
        raise error

    with (
        mock.patch("wizard.sitting.mishap.mishap", raised),
        mock.patch("wizard.sitting.plain.mishap", raised),
    ):
        yield


def opened(
    path: Path, rng: random.Random, found: Found, lines: list[str], share: float = 1.0
) -> None:
    """The file by every command and on every size of screen. share: of them, at random."""
    ways = [
        ["tell"],
        ["tell", "--json"],
        ["tell", "--mentor"],
        ["report"],
        ["compare"],
        ["sheet"],
        ["model"],
        ["ask"],
    ]
    ways += [["report", "-o", str(path.with_suffix(s))] for s in (".html", ".md", ".csv")]
    ways += [["screen"], ["ask", "--recheck"]]
    for way in ways:
        if rng.random() < share:
            found.opened += 1
            _one_way(path, way, found, lines)


def _one_way(path: Path, way: list[str], found: Found, lines: list[str]) -> None:
    name = " ".join(Path(part).suffix or part for part in way)
    try:
        if way == ["screen"]:
            _drawn(path)
            return
        said = io.StringIO()
        args = [way[0], str(path), *way[1:], *([str(path)] if way == ["compare"] else [])]
        with contextlib.ExitStack() as held:
            for each in (mock.patch("sys.stdin", io.StringIO("")), laid_bare()):
                held.enter_context(each)
            held.enter_context(contextlib.redirect_stdout(said))
            held.enter_context(contextlib.redirect_stderr(said))
            crosstape(["--folder", str(path.parent / "out"), *args])
        if bad := UNSHOWABLE.search(said.getvalue().replace("\f", "")):  # a worksheet's pages
            found.fault(f"{name} would show {bad[0]!r}", lines)
    except Exception as error:
        found.fault(f"{name}: {where(error)}", lines)


def _drawn(path: Path) -> None:
    desk = Desk(load_library(), path.parent, lambda: TODAY)
    desk.open(path)
    for line in ("", "/readings", "/verdict", "/mentor", "/model"):
        desk.line(line)
        for width, height in ((60, 20), (120, 36)):
            stage(desk, width, height, "ascii")
    if desk.sitting and desk.sitting.kept:
        desk.sitting.kept.release()


def worsened(path: Path, rng: random.Random) -> list[str]:
    """Rows behind the file's end that no prompt would have written; they are given back."""
    library = load_library()
    layout = rng.choice(list(library.layouts.values()))
    rows = []
    for n in range(rng.choice((1, 1, 2, 4))):
        limit = rng.choice(list(library.limits.values()))
        number = rng.choice((rng.choice(NUMBERS) + rng.choice(UNITS), rng.choice(IMPOSSIBLE)))
        rows.append(
            rng.choice(HOSTILE).format(
                n=90_000 + n,
                size=rng.choice(list(layout.figures)),
                number="".join(c for c in number if c >= " " and c not in '"\\'),
                tool=rng.choice(list(TOOL_FIELDS)),
                field=rng.choice(
                    [
                        "class",
                        "division",
                        "pull",
                        "mass",
                        "sensitivity",
                        "length",
                        "pointer",
                        "start",
                    ]
                ),
                limit=limit.id,
                band=rng.choice([b.band for b in limit.above]),
                word="x",
                use=rng.choice(("tape", "string", "level")),
                prompt=rng.choice(
                    ("long-diagonals/whole/front-left--rear-right", "level/rear/as-set", "no/such")
                ),
            )
        )
    with path.open("a", encoding="utf-8") as file:
        file.write("\n".join(["", *rows]))
    return rows


BEGINNINGS: tuple[tuple[str, ...], ...] = (
    ("Bramble", "i", "s", "w", "o"),
    ("Bramble", "m", "s", "w", "o"),
    (),
)
TOOLS = (
    *("/go Which tape?", "o", "m"),
    *("/go Which ruler for short gaps?", "s"),
    *("/go Which string? (- for none)", "h"),
    *("/go Which level? (- for none)", "c"),
    *("/go Which bar with pointers? (- for none)", "h"),
)
"""Each is asked where it is first needed."""
LAYOUTS = "slkpdxa"
"""Letters of the kinds of frame, as far as there are such."""


def begun(folder: Path, rng: random.Random) -> Sitting:
    """A sitting on a new survey, or on a copy of a sample."""
    library = load_library()
    samples = sorted((ROOT / "sample_sessions").glob("*.toml"))
    foretell = foretell_with(library) if rng.random() < 0.5 else None
    if rng.random() < 0.6:
        path = folder / "s.toml"
        shutil.copy(rng.choice(samples), path)
        return Sitting(library, path=path, folder=folder, now=lambda: TODAY, foretell=foretell)
    sitting = Sitting(library, folder=folder, now=lambda: TODAY, foretell=foretell)
    for line in rng.choice(BEGINNINGS):
        handle(sitting, rng.choice(LAYOUTS) if line == "s" else line)
    if rng.random() < 0.5:
        for line in TOOLS:
            handle(sitting, line)
    return sitting


def run(lines: int, seed: int, share: float = 1.0) -> Found:
    """So many lines, in rounds, each with its openings."""
    found, rng = Found(), random.Random(seed)
    while found.lines < lines:
        folder = Path(tempfile.mkdtemp())
        try:
            sitting = begun(folder, rng)
            played(sitting, min(ROUND, lines - found.lines), rng, found)
            path = sitting.path
            if sitting.kept:
                sitting.kept.release()
            if path is None or not path.exists():
                continue
            opened(
                path,
                rng,
                found,
                ["a file of the round with seed", str(seed), str(found.lines)],
                share,
            )
            opened(path, rng, found, worsened(path, rng), share)
        finally:
            shutil.rmtree(folder, ignore_errors=True)
    return replace(found)


def main() -> int:
    """Command line; gives the exit status."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--lines", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument(
        "--share",
        type=float,
        default=0.4,
        help="of the ways to open a file, tried after each round",
    )
    args = parser.parse_args()
    start = time.perf_counter()
    found = run(args.lines, args.seed, args.share)
    took = time.perf_counter() - start
    print(
        f"{found.lines} lines, {found.undone} undone, {found.opened} openings, {took:.0f} s;"
        f" {dict(found.replies)}"
    )
    for kind, lines in found.faults.items():
        print(f"  {kind}")
        for line in lines:
            print(f"      {line[:300]!r}")
    print("FAIL" if found.faults else "pass")
    return int(bool(found.faults))


if __name__ == "__main__":
    sys.exit(main())
