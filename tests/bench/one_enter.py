"""What one Enter costs in a whole survey: Python calls, and how often each part of it is computed.

    python -m tests.bench.one_enter [--all]

A length is typed in the first Bramble survey, of which only two long diagonals are open, and the page
that comes next is staged as the screen stages it. Calls are counted by sys.setprofile, so the
load on the machine does not show: of functions, and neither of comprehensions, which newer versions
of Python do not call, nor of a generator that goes on. The line below tells what was left out. Behind
thousands of rows every instruction is counted, in loops as well. Status 0 when every promise is kept.
"""

from __future__ import annotations

import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import timedelta
from inspect import CO_GENERATOR
from pathlib import Path
from types import CodeType, FrameType

from wizard.checks import plan, run
from wizard.library import load_library, marks
from wizard.library.kinds import ACK_WORD
from wizard.screens.desk import Desk
from wizard.screens.stage import stage
from wizard.survey import guide, prompts
from wizard.survey.file import load, save
from wizard.survey.record import Survey
from wizard.survey.rows import TABLES, Ack, Answer, Reading, Remark

SAMPLE = Path(__file__).resolve().parents[2] / "sample_sessions" / "bramble-2026-04-11.toml"
STEP = "diagonals-below"
SIZE = (120, 36)
"""Wide enough for the trail beside the page: nothing that the screen can show is left out."""
MOST_CALLS = 12_000
WITHIN = ("<listcomp>", "<setcomp>", "<dictcomp>", "<genexpr>")
BEGINS = 6
"""Where in its code a generator stands that has just been called; further on it goes on."""
FEW, MANY, MOST_MORE = 300, 3_000, 1.15
"""Rows of a survey, and how many times the instructions an Enter may take behind the many."""
MOST = {"pages": 1, "findings": 1, "plan": 2}
"""How often each may be computed."""


def _code(function: Callable[..., object]) -> CodeType:
    return function.__code__  # type: ignore[attr-defined, no-any-return]


COUNTED = {
    _code(guide.Guide._course): "pages",
    _code(run._found): "findings",
    _code(plan._adjusted): "plan",
    _code(prompts.questions_of): "layout",
}
"""What computes each part."""


@dataclass(frozen=True, slots=True)
class Enter:
    """One Enter, counted."""

    calls: int
    """Calls of functions written in Python."""
    within: int
    """What the profiler counts beside them: comprehensions, and generators that go on."""
    computed: Counter[str]
    """How often each part was computed."""
    by_function: Counter[str]
    """Calls of each function, to look for what costs."""

    @property
    def kept(self) -> bool:
        """Whether it is no more than was promised."""
        return self.calls <= MOST_CALLS and all(
            self.computed[part] <= most for part, most in MOST.items()
        )


def without_last(survey: Survey) -> tuple[Survey, Reading, Reading]:
    """The survey before the last two distances of the step were taped, and those two."""
    own = [r for r in survey.standing(Reading) if r.prompt.startswith(f"{STEP}/")]
    *_, first, last = dict.fromkeys(r.prompt for r in own)
    rows = tuple(r for r in survey.table(Reading) if r.prompt not in (first, last))
    before = replace(survey, rows={**survey.rows, "reading": rows})
    return before, survey.readings_of(first)[0], survey.readings_of(last)[0]


def desk_before(folder: Path, rows: int = 0) -> tuple[Desk, Reading]:
    """A screen before the second of the two, its page drawn, and what is to be typed.

    rows: that the survey has at least. The first is typed already: what only the first line of a sitting costs is not counted.
    """
    survey, first, last = without_last(load(SAMPLE))
    survey = grown(survey, rows) if rows else every_reading(survey)
    path = folder / SAMPLE.name
    save(path, survey)
    now = max(row.at for row in survey.all_rows()) + timedelta(minutes=1)
    desk = Desk(load_library(), folder, lambda: now)
    desk.open(path)
    assert desk.sitting is not None
    desk.sitting.stand_before(first.prompt)
    while desk.sitting.prompt is not None and desk.sitting.prompt.kind.acknowledges:
        desk.line(ACK_WORD)
    stage(desk, *SIZE, "blocks")
    desk.line(first.typed)
    stage(desk, *SIZE, "blocks")
    assert desk.sitting.prompt is not None
    assert desk.sitting.prompt.id == last.prompt, desk.said
    return desk, last


def every_reading(survey: Survey) -> Survey:
    """The same survey of somebody who wants every reading: nothing is left out of it as not needed,
    for then it would end here and the next page be the whole answer.
    """
    asked = marks.CALLED[marks.HOW_MUCH]
    at = max(row.at for row in survey.all_rows())
    row = Answer(id=survey.new_id(Answer), at=at, prompt=asked, answer=marks.EVERY)
    return survey.with_row(row)


def counted(act: Callable[[], object]) -> Enter:
    """An act with every call of a Python function in it counted."""
    calls: Counter[CodeType] = Counter()
    within: list[None] = []

    def profile(frame: FrameType, event: str, _: object) -> None:
        if event != "call":
            return
        code = frame.f_code
        begun = code.co_flags & CO_GENERATOR and frame.f_lasti > BEGINS
        if begun or code.co_name in WITHIN:
            within.append(None)
        else:
            calls[code] += 1

    sys.setprofile(profile)
    try:
        act()
    finally:
        sys.setprofile(None)
    named: Counter[str] = Counter()
    for code, count in calls.items():
        named[f"{Path(code.co_filename).name}:{code.co_firstlineno} {code.co_name}"] += count
    computed = Counter({part: calls[code] for code, part in COUNTED.items()})
    return Enter(calls.total(), len(within), computed, named)


def grown(survey: Survey, rows: int) -> Survey:
    """The same survey after so many rows: what was read is read again and again, half of it is
    struck, and each time something is remarked and a caution read.
    """
    tables = {name: list(table) for name, table in survey.rows.items()}
    read, acks = survey.standing(Reading), survey.standing(Ack)
    at, first = max(row.at for row in survey.all_rows()), survey.last_number() + 1
    for n in range(rows - sum(map(len, tables.values()))):
        row, number = read[n // 4 % len(read)], first + n
        again = replace(row, id=f"r{number}", at=at, struck="misread" if n % 4 else "")
        new = (
            replace(acks[n // 4 % len(acks)], id=f"c{number}", at=at),
            again,
            again,
            Remark(id=f"m{number}", at=at, prompt=row.prompt, text=f"rust, {n}"),
        )[n % 4]
        tables.setdefault(next(k for k, v in TABLES.items() if v is type(new)), []).append(new)
    return replace(survey, rows={name: tuple(table) for name, table in tables.items()})


def instructions(act: Callable[[], object]) -> int:
    """How many instructions of Python an act takes."""
    taken = 0

    def trace(frame: FrameType, event: str, _: object) -> object:
        nonlocal taken
        taken += event == "opcode"
        frame.f_trace_opcodes, frame.f_trace_lines = True, False
        return trace

    before = sys.gettrace()
    sys.settrace(trace)
    try:
        act()
    finally:
        sys.settrace(before)
    return taken


def behind(rows: int) -> int:
    """Instructions of one Enter in a survey of so many rows."""
    with tempfile.TemporaryDirectory() as name:
        desk, last = desk_before(Path(name), rows)
        assert desk.sitting is not None

        def enter() -> None:
            desk.line(last.typed)
            stage(desk, *SIZE, "blocks")

        taken = instructions(enter)
        assert desk.sitting.survey.readings_of(last.prompt), desk.said
        assert sum(1 for _ in desk.sitting.survey.all_rows()) >= rows
        assert desk.sitting.kept is not None
        desk.sitting.kept.release()
    return taken


def one_enter() -> Enter:
    """A length typed, and the next page as it then stands."""
    with tempfile.TemporaryDirectory() as name:
        desk, last = desk_before(Path(name))

        def enter() -> None:
            desk.line(last.typed)
            stage(desk, *SIZE, "blocks")

        found = counted(enter)
        assert desk.sitting is not None
        assert desk.sitting.survey.readings_of(last.prompt), desk.said
        assert desk.sitting.kept is not None
        desk.sitting.kept.release()
    return found


def main() -> int:
    """Run and print."""
    found = one_enter()
    word = "pass" if found.calls <= MOST_CALLS else "MISS"
    print(f"Python calls of one Enter: {found.calls:,}   at most {MOST_CALLS:,}   {word}")
    print(f"comprehensions, and generators that go on: {found.within:,}")
    for part, count in found.computed.items():
        most = f" (at most {MOST[part]})" if part in MOST else ""
        print(f"{part:<10}{count:>4} times{most}")
    for name, count in found.by_function.most_common(40 if "--all" in sys.argv else 0):
        print(f"{count:>8}  {name}")
    behind(FEW)  # what only the first one of a program loads
    few, many = behind(FEW), behind(MANY)
    print(
        f"instructions behind {FEW:,} rows {few:,}, behind {MANY:,} {many:,}: {many / few:.2f} times"
        f" (at most {MOST_MORE})"
    )
    return int(not found.kept or many > MOST_MORE * few)


if __name__ == "__main__":
    sys.exit(main())
