"""A million broken inputs for the three readers: typed lengths, survey files, authored content.

    nice python -m tests.bench.fuzz --inputs 1000000

Best run with Python 3.12 or newer, whose coverage costs nothing. For each input: no exception but
the reader's own one sentence, not over a second, no file opened but the one that was named, nothing
written, nothing that drives a terminal in what would be shown; for the whole run not over 200 MB.
Every fault is printed with an input that shows it.
"""

from __future__ import annotations

import argparse
import random
import re
import shutil
import sys
import tempfile
import time
from collections import Counter
from datetime import datetime
from fractions import Fraction
from pathlib import Path
from typing import Any

from tests.bench.fuzz_engine import (
    LIMIT_MB,
    ROOT,
    UNSHOWABLE,
    Guard,
    Lines,
    Target,
    fuzz,
    memory_mb,
)
from tests.hostile import HOSTILE
from wizard.library import load_library
from wizard.library.exposures import read_cautions, read_exposures
from wizard.library.fields import Table
from wizard.library.figures import read_limits, read_tools, read_words
from wizard.library.layouts import read_layout
from wizard.library.load import _toml, read_content
from wizard.library.model import read_model
from wizard.library.signs import read_signs
from wizard.library.steps import read_step
from wizard.readings.figures import LONGEST_MM, read_length
from wizard.readings.refused import Refused
from wizard.sitting.chain import head_of
from wizard.sitting.commands import handle
from wizard.sitting.sitting import Sitting
from wizard.survey.file import load, read
from wizard.survey.toml import Unreadable

SHARES = {"lengths": 0.6, "surveys": 0.3, "content": 0.1}
"""Of all inputs."""
TOLD_EVERY, WHOLE_EVERY = 100, 400
"""How often a survey that could be read is told to its end, and a content folder read whole."""
COUNTS: Counter[str] = Counter()
TODAY = datetime(2026, 5, 1)


def shown(text: str, lines: bool = False) -> None:
    """Raise where the text could not be put on a terminal; lines: it may be more than one."""
    if bad := UNSHOWABLE.search(text if lines else text.replace("\n", "\x00")):
        raise AssertionError(f"would be shown: {bad[0]!r}")


def lengths(data: bytes) -> None:
    """One typed length, in both units and with signs."""
    text = data.decode("utf-8", "surrogateescape")
    for unit, signs in (("in", ()), ("mm", ("low", "high"))):
        try:
            mm = read_length(text, unit, signs)  # type: ignore[arg-type]
        except Refused as error:
            shown(str(error))
            continue
        assert isinstance(mm, Fraction)
        assert abs(mm) <= LONGEST_MM


class Surveys:
    """One survey file; now and then also told, and answered into."""

    def __init__(self, folder: Path) -> None:
        self.path, self.good = folder / "s.toml", 0
        self.library = load_library()

    def __call__(self, data: bytes) -> None:
        """Read as the program reads it, by every way that it has."""
        self.path.write_bytes(data)
        head = head_of(str(self.path))
        shown(head.name)
        try:
            survey = load(self.path)
        except Unreadable as error:
            shown(str(error))
            return
        assert repr(read(self.path).rows) == repr(survey.rows), (
            "the quick reader reads another survey"
        )
        for row in survey.all_rows():
            shown(
                "".join(
                    v for k in row.__dataclass_fields__ if isinstance(v := getattr(row, k), str)
                ),
                lines=True,
            )
        self.good += 1
        COUNTS["surveys that could be read"] += 1
        if self.good % TOLD_EVERY == 0 and survey.layout in self.library.layouts:
            self.told()

    def warm(self) -> None:
        """Load what the telling loads: its cost is no input's."""
        self.path.write_bytes(sorted((ROOT / "sample_sessions").glob("*.toml"))[0].read_bytes())
        self.told()

    def told(self) -> None:
        """The whole result in words, and one answer."""
        from wizard.telling.tell import tell_text

        survey = load(self.path)
        COUNTS["told to the end"] += 1
        shown(tell_text(survey, self.library, TODAY, mentor=True), lines=True)
        sitting = Sitting(self.library, path=self.path, folder=self.path.parent)
        for line in ("/trail", "/words", "/remark x", "25 7/8"):
            shown(handle(sitting, line).says, lines=True)


class Content:
    """One file of authored content by its reader; now and then the whole folder with it."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.count = folder / "content", 0
        shutil.copytree(ROOT / "content", self.folder)
        points = set(load_library().point_doubt)
        one: dict[str, Any] = {
            "cautions": read_cautions,
            "exposures": read_exposures,
            "limits": read_limits,
            "tools": read_tools,
        }
        self.readers = {
            f"{name}.toml": reader
            for name, reader in {
                **one,
                "glossary": read_words,
                "model": read_model,
                "signs": read_signs,
            }.items()
        }
        self.readers["layouts/straight-ladder.toml"] = lambda t: read_layout(t, points)
        self.readers["steps/state.toml"] = read_step
        self.names = list(self.readers)
        self.files = {name: (self.folder / name).read_bytes() for name in self.names}

    def __call__(self, data: bytes) -> None:
        """The input's first byte says which file it is."""
        self.count += 1
        name = self.names[data[0] % len(self.names)] if data else self.names[0]
        path, faults = self.folder / name, []
        path.write_bytes(data[1:])
        table = _toml(path, faults)
        if table is not None:
            self.readers[name](Table(table, path.name, faults))
        if self.count % WHOLE_EVERY == 0:
            faults = read_content(self.folder)[1]
        for fault in faults:
            shown(str(fault))
        path.write_bytes(self.files[name])

    def seeds(self) -> list[bytes]:
        """Each file's beginning, with its number before it."""
        return [
            bytes([n]) + self.files[name][:cut]
            for n, name in enumerate(self.names)
            for cut in (400, 3000)
        ]


def targets(folder: Path) -> list[Target]:
    """The three readers with their seeds and words."""
    typed = [
        "25 7/8",
        '25-7/8"',
        "6' 8 1/2",
        "657 mm",
        "65.7 cm",
        "1/16 high",
        "1,5",
        "⅞",
        "2 m 3 cm",
        "-4",
        "1e9",
    ]
    figures = [
        "9" * 700,
        "1e999",
        "1_000",
        "0x1f",
        "nan",
        "-inf",
        "½",
        "٣",
        "\u202e",
        "\x1b[2J",
        "\ud800",
    ]
    units = [
        "in",
        "mm",
        "ft",
        "'",
        '"',
        "/",
        ",",
        ".",
        "-",
        " ",
        "low",
        "high",
        "+",
        "m",
        "inches.",
    ]
    toml = [
        "[",
        "]",
        "[[",
        "]]",
        "{",
        "}",
        '"',
        "'''",
        "=",
        "\n",
        "\\u001b",
        "\\u202e",
        "\\ud800",
        "#",
        ".",
        "true",
    ]
    keys = [
        "format = 1\n",
        "[survey]\n",
        "[[reading]]\n",
        "[[look]]\n",
        "[[state]]\n",
        'id = "r1"\n',
        'typed = "91"\n',
    ]
    more = [
        "prompt",
        "tool",
        "at = 2026-04-11 09:12:00\n",
        "9999-12-31T23:59:59Z",
        "0001-01-01",
        '"../../etc/passwd"',
    ]
    sample = sorted((ROOT / "sample_sessions").glob("*.toml"))[0].read_bytes()
    begin = (
        b'format = 1\n[survey]\ncar = "Bramble"\nlayout = "straight-ladder"\nfollows ='
        b' "../../etc/passwd"\n'
    )
    starts = [m.start() for m in re.finditer(rb"^\[\[", sample, re.MULTILINE)]
    surveys = [begin + sample[a:b] for a, b in zip(starts[::9], starts[9::9], strict=False)]
    content, read_survey = Content(folder), Surveys(folder)
    read_survey.warm()

    def b(words: list[str]) -> list[bytes]:
        return [w.encode("utf-8", "surrogatepass") for w in words]

    hostile = HOSTILE.replace("LAYOUT", "straight-ladder").encode()
    return [
        Target("lengths", lengths, b(typed), b(figures + units)),
        Target("surveys", read_survey, [begin, hostile, *surveys], b(figures + toml + keys + more)),
        Target(
            "content",
            content,
            content.seeds(),
            b(figures + toml + ["format = 1\n", "each", "id", "source", "[a]"]),
        ),
    ]


def main() -> int:
    """Run and print."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--inputs", type=int, default=1_000_000)
    parser.add_argument("--only", choices=SHARES, help="one of the readers")
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    shm = Path("/dev/shm")
    folder = Path(tempfile.mkdtemp(prefix="fuzz-", dir=shm if shm.is_dir() else None))
    lines, guard, failed, total = Lines(ROOT / "wizard"), Guard(folder), False, 0
    for target in targets(folder):
        if args.only not in (None, target.name):
            continue
        start, before = time.perf_counter(), lines.count
        report = fuzz(
            target, int(args.inputs * SHARES[target.name]), lines, guard, random.Random(args.seed)
        )
        took, total = time.perf_counter() - start, total + report.inputs
        print(
            f"{target.name:<9}{report.inputs:>9} inputs {took:7.0f} s   slowest"
            f" {1000 * report.slowest_s:6.0f} ms   new lines {lines.count - before:5}   faults"
            f" {len(report.faults)}",
            flush=True,
        )
        for grown, data in report.heavy:
            print(f"    grew by {grown} MB: {data[:120]!r}")
        for fault, data in report.faults.items():
            failed = True
            print(f"    {fault}\n        {data!r}")
    shutil.rmtree(folder)
    most = memory_mb()
    print(", ".join(f"{count} {what}" for what, count in COUNTS.items()))
    failed = failed or most > LIMIT_MB
    print(
        f"{total} inputs, {most:.0f} MB at most (limit {LIMIT_MB:.0f})  "
        f" {'FAIL' if failed else 'pass'}"
    )
    return int(failed)


if __name__ == "__main__":
    sys.exit(main())
