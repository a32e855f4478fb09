"""What a start of `crosstape tell` does before it says a word: counted, for a clock cannot be trusted."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.quick

ROOT = Path(__file__).parents[1]
SAMPLE = next(iter(sorted((ROOT / "sample_sessions").glob("bramble-*.toml"))))
TEXTS = 40
"""Annotations of named tuples that are still text, each compiled at each start; of 640."""
UNUSED = ("telling.asking", "telling.canvas", "survey.answer", "judgment.next", "judgment.sound")
"""Of what an answer in order needs nothing."""

CODE = f"""
import contextlib, io, sys, typing
from wizard.command import main
with contextlib.redirect_stdout(io.StringIO()):
    main(["tell", {str(SAMPLE)!r}])
ours = [m for name, m in sys.modules.items() if name.startswith("wizard")]
kinds = [v for m in ours for v in vars(m).values() if isinstance(v, type) and v.__module__ == m.__name__]
named = [k for k in kinds if issubclass(k, tuple)]
texts = [t for k in named for t in k.__annotations__.values() if isinstance(t, typing.ForwardRef)]
print(len(named), len(texts))
print(*sys.modules)
"""


@pytest.fixture(scope="module")
def told() -> list[str]:
    done = subprocess.run([sys.executable, "-c", CODE], capture_output=True, text=True, cwd=ROOT)
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


def test_few_annotations_of_named_tuples_are_compiled(told: list[str]) -> None:
    """A file under `from __future__ import annotations` makes texts of them, and a named tuple
    compiles each.
    """
    named, texts = map(int, told[0].split())
    assert named > 100
    assert texts <= TEXTS


@pytest.mark.parametrize("name", UNUSED)
def test_what_few_answers_need_is_not_loaded(told: list[str], name: str) -> None:
    assert f"wizard.{name}" not in told[1].split()
