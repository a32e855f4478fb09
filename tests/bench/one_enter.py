"""What one Enter costs in a whole survey: Python calls, and how often each part of it is computed.

    python -m tests.bench.one_enter

A length is typed in the first Bramble survey, of which only two long diagonals are open, and the page
that comes next is staged as the screen stages it. Calls are counted by sys.setprofile, so the
load on the machine does not show: of functions, and neither of comprehensions, which newer versions
of Python do not call, nor of a generator that goes on. The line below tells what was left out.
Status 0 when every promise is kept.
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
from wizard.library import load_library
from wizard.screens.desk import Desk
from wizard.screens.stage import stage
from wizard.survey import guide, prompts
from wizard.survey.file import load, save
from wizard.survey.record import Survey
from wizard.survey.rows import Reading

SAMPLE = Path(__file__).resolve().parents[2] / "sample_sessions" / "bramble-2026-04-11.toml"
STEP = "long-diagonals"
SIZE = (120, 36)
"""Wide enough for the trail beside the page: nothing that the screen can show is left out."""
MOST_CALLS = 12_000
WITHIN = ("<listcomp>", "<setcomp>", "<dictcomp>", "<genexpr>")
BEGINS = 6
"""Where in its code a generator stands that has just been called; further on it goes on."""
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


def desk_before(folder: Path) -> tuple[Desk, Reading]:
    """A screen before the second of the two, its page drawn, and what is to be typed.

    The first is typed already: what only the first line of a sitting costs is not counted.
    """
    survey, first, last = without_last(load(SAMPLE))
    path = folder / SAMPLE.name
    save(path, survey)
    now = max(row.at for row in survey.all_rows()) + timedelta(minutes=1)
    desk = Desk(load_library(), folder, lambda: now)
    desk.open(path)
    assert desk.sitting is not None
    desk.sitting.stand_before(first.prompt)
    stage(desk, *SIZE, "blocks")
    desk.line(first.typed)
    stage(desk, *SIZE, "blocks")
    assert desk.sitting.prompt is not None
    assert desk.sitting.prompt.id == last.prompt, desk.said
    return desk, last


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
    print(f"Python calls of one Enter: {found.calls:,} (at most {MOST_CALLS:,})")
    print(f"comprehensions, and generators that go on: {found.within:,}")
    for part, count in found.computed.items():
        most = f" (at most {MOST[part]})" if part in MOST else ""
        print(f"{part:<10}{count:>4} times{most}")
    for name, count in found.by_function.most_common(40 if "--all" in sys.argv else 0):
        print(f"{count:>8}  {name}")
    return int(not found.kept)


if __name__ == "__main__":
    sys.exit(main())
