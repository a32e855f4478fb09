"""What a start of `crosstape tell` does before it says a word: counted, for a clock cannot be trusted."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.quick

ROOT = Path(__file__).parents[1]
SAMPLE = next(iter(sorted((ROOT / "sample_sessions").glob("bramble-*.toml"))))
COMPILED = 20
"""Named tuples of the library, of 140: each has Python compile a text at each start."""
UNUSED = ("telling.asking", "telling.canvas", "survey.answer", "judgment.next", "judgment.sound")
"""Of what an answer in order needs nothing."""

CODE = f"""
import contextlib, io, sys
from wizard.command import main
with contextlib.redirect_stdout(io.StringIO()):
    main(["tell", {str(SAMPLE)!r}])
ours = [m for name, m in sys.modules.items() if name.startswith("wizard")]
kinds = [v for m in ours for v in vars(m).values() if isinstance(v, type) and v.__module__ == m.__name__]
named = [k for k in kinds if issubclass(k, tuple)]
theirs = [k for k in named if k.__bases__ == (tuple,)]
print(len(named), len(theirs))
print(*sys.modules)
"""


@pytest.fixture(scope="module")
def told() -> list[str]:
    done = subprocess.run([sys.executable, "-c", CODE], capture_output=True, text=True, cwd=ROOT)
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


@pytest.mark.skipif(sys.version_info >= (3, 14), reason="there they are all the library's")
def test_few_named_tuples_are_compiled(told: list[str]) -> None:
    """`wizard.frozen` has one that has nothing compiled and looks at no annotation."""
    named, theirs = map(int, told[0].split())
    assert named > 100
    assert theirs <= COMPILED


@pytest.mark.parametrize("name", UNUSED)
def test_what_few_answers_need_is_not_loaded(told: list[str], name: str) -> None:
    assert f"wizard.{name}" not in told[1].split()
