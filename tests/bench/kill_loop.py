"""Kills the running wizard at random instants, and looks whether anything that a person had seen
taken is lost.

    python -m tests.bench.kill_loop --kills 1000

The wizard runs on a pseudo-terminal. Remarks with a number go in; each is said back as soon as it
is accepted. At a random moment comes `kill -9`, two times of three a few milliseconds behind an
Enter, so that it falls into a save. Then the file must be whole, must hold every remark whose
"Noted" was on the page, in order and without a gap, and must open again at once although the dead
one held the lock. The next wizard takes up the very file that the last one left, ten times over,
before a new survey is begun.
"""

from __future__ import annotations

import argparse
import os
import random
import re
import signal
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

from tests.screens.pty_wizard import Terminal
from wizard.library import load_library
from wizard.sitting.sitting import Sitting
from wizard.survey.file import load
from wizard.survey.lock import SUFFIX
from wizard.survey.rows import Remark

NOTED = re.compile(r"Noted: n(\d+)e")
DRAWN = "What do you want to do?"


class Lost(AssertionError):
    """What must never happen."""


def begin(folder: Path) -> Terminal:
    """A wizard that stands before its second question, in the folder's survey if there is one."""
    terminal = Terminal("-m", "wizard", "--folder", str(folder))
    terminal.wait_for(DRAWN, 60)
    if list(folder.glob("*.toml")):
        terminal.write("1\r")
        terminal.wait_for("You stopped at", 60)
    else:
        terminal.write("n\rBramble\r")
        terminal.wait_for("millimeters, such as 657", 60)
    return terminal


def drive(terminal: Terminal, first: int, rng: random.Random) -> tuple[int, int]:
    """Remarks until the kill.

    Gives the last number that was seen to be taken and the last that was sent.
    """
    seen, sent, shown = first - 1, first - 1, ""
    end = time.monotonic() + rng.uniform(0.0, 0.6)
    while time.monotonic() < end:
        if sent - seen < 3:  # some are under way while the kill comes
            sent += 1
            terminal.write(f"/remark n{sent}e\r")
        terminal.read(rng.choice((0.0, 0.001, 0.004)))
        shown = (shown + terminal.text)[-4000:]
        terminal.raw = b""
        seen = max([seen, *(int(n) for n in NOTED.findall(shown))])
    if rng.random() < 0.67:
        sent += 1
        terminal.write(f"/remark n{sent}e\r")
        time.sleep(rng.uniform(0.0, 0.03))
    os.kill(terminal.process.pid, signal.SIGKILL)
    terminal.process.wait()
    terminal.read(0.0)
    seen = max([seen, *(int(n) for n in NOTED.findall(shown + terminal.text))])
    terminal.close()
    return seen, sent


def look(folder: Path, last: int, seen: int, counts: Counter[str]) -> int:
    """Gives the last remark in the file. last: that of the life before.

    Raises Lost unless all is well.
    """
    files = list(folder.glob("*.toml"))
    if len(files) != 1:
        raise Lost(f"{len(files)} surveys where one was")
    numbers = [int(r.text[1:-1]) for r in load(files[0]).table(Remark)]
    if numbers != list(range(1, len(numbers) + 1)):
        raise Lost(f"the remarks are not whole: {numbers}")
    if len(numbers) < seen:
        raise Lost(f"{seen} were seen taken and {len(numbers)} are there")
    counts["remarks seen taken"] += seen - last
    counts["remarks in the files"] += len(numbers) - last
    torn = list(folder.glob(".*.ct-tmp"))
    counts["kills within a save"] += bool(torn)
    for path in torn:
        path.unlink()
    counts["locks left by the dead"] += bool(list(folder.glob(f".*{SUFFIX}")))
    sitting = Sitting(load_library(), path=files[0], folder=folder)
    if sitting.busy:
        raise Lost("the dead one holds the living up")
    if sitting.kept:
        sitting.kept.release()
    return len(numbers)


def run(kills: int, seed: int) -> Counter[str]:
    """So many kills."""
    rng, counts = random.Random(seed), Counter[str]()
    folder, last = Path(tempfile.mkdtemp(prefix="kill-")), 0
    while counts["kills"] < kills:
        if counts["kills"] % 10 == 0:
            folder, last = Path(tempfile.mkdtemp(prefix="kill-")), 0
        terminal = begin(folder)
        seen, sent = drive(terminal, last + 1, rng)
        counts["kills"] += 1
        counts["remarks sent"] += sent - last
        last = look(folder, last, seen, counts)
        if counts["kills"] % 50 == 0:
            print(dict(counts), file=sys.stderr, flush=True)
    return counts


def main() -> int:
    """Run and print."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--kills", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    start = time.monotonic()
    try:
        counts = run(args.kills, args.seed)
    except Lost as lost:
        print(f"FAIL: {lost}")
        return 1
    for name, count in counts.items():
        print(f"{name:<32}{count:>8}")
    print(f"pass: nothing lost, every file whole, in {time.monotonic() - start:.0f} s")
    return 0


if __name__ == "__main__":
    sys.exit(main())
