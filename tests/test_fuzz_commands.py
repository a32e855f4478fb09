"""A few hundred lines of every command with every kind of argument; `tests/bench/fuzz_commands.py`
has more.
"""

import pytest

from tests.bench.fuzz_commands import run


@pytest.mark.parametrize("seed", [11, 14])
def test_no_line_and_no_file_brings_a_fault(seed: int) -> None:
    found = run(160, seed, share=0.15)
    assert found.faults == {}
    assert found.lines == 160
    assert found.undone > 5
    assert found.opened > 5
    assert {"taken", "told", "refused"} <= found.replies.keys()
