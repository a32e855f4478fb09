"""A small coverage-guided fuzzer: mutates what reached new lines; watches time, memory, files and
what would be shown.

From Python 3.12 on new lines are told by `sys.monitoring`, which costs nothing for lines that were
reached before; on 3.11 one input in sixteen is traced.
"""

from __future__ import annotations

import os
import random
import re
import signal
import sys
import sysconfig
import time
import traceback
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from types import CodeType, FrameType
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
LIMIT_S, LIMIT_MB, LONGEST, MOST = 1.0, 200.0, 6000, 3000
"""Processor seconds for one input, since others share the machine; memory of the whole process;
bytes of an input; inputs that are kept to go on from.
"""
STEP_MB = 8.0
UNSHOWABLE = re.compile(
    "[\x00-\x09\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069\ud800-\udfff]"
)
"""What must not reach a terminal; a line end is no control here."""
CHANGES = (
    "os.remove",
    "os.rename",
    "os.rmdir",
    "os.link",
    "os.symlink",
    "os.truncate",
    "os.mkdir",
    "os.chmod",
)
OUTSIDE = (
    "subprocess.Popen",
    "os.system",
    "os.exec",
    "os.posix_spawn",
    "socket.connect",
    "socket.bind",
    "os.fork",
)
LIBRARIES = tuple({sysconfig.get_path(n) for n in ("stdlib", "platstdlib", "purelib", "platlib")})
OWN = (
    sys.base_prefix,
    str(ROOT / "wizard"),
    str(ROOT / "content"),
    str(ROOT / "sample_sessions"),
    *LIBRARIES,
    "/proc/",
    "/sys/",
)
"""Where a lazy import or the program's own content may be read from."""


class Hang(BaseException):
    """An input that took too long."""


@dataclass
class Target:
    """One thing to throw inputs at."""

    name: str
    run: Callable[[bytes], None]
    """Takes an input; raises for whatever must not be."""
    seeds: list[bytes]
    words: list[bytes]
    """Pieces of its language."""


@dataclass
class Report:
    """What came of it."""

    inputs: int = 0
    slowest_s: float = 0.0
    faults: dict[str, bytes] = field(default_factory=dict)
    """One input for each kind of fault."""
    heavy: list[tuple[int, bytes]] = field(default_factory=list)
    """Inputs that made the process grow, MB."""


class Lines:
    """Whether the last input reached a line that none had reached."""

    def __init__(self, below: Path) -> None:
        self.below, self.new, self.count = str(below), False, 0
        self._seen: set[tuple[CodeType, int]] = set()
        self._free = hasattr(sys, "monitoring")
        self._stop: Any = None
        if self._free:
            watch: Any = sys.monitoring  # type: ignore[attr-defined,unused-ignore]
            self._stop = watch.DISABLE
            watch.use_tool_id(watch.COVERAGE_ID, "fuzz")
            watch.register_callback(watch.COVERAGE_ID, watch.events.LINE, self._line)
            watch.set_events(watch.COVERAGE_ID, watch.events.LINE)

    def _line(self, code: CodeType, line: int) -> Any:
        if code.co_filename.startswith(self.below) or "tomllib" in code.co_filename:
            self.new, self.count = True, self.count + 1
        return self._stop

    def _trace(self, frame: FrameType, event: str, _: Any) -> Any:
        if not frame.f_code.co_filename.startswith(self.below):
            return None
        if event == "line" and (key := (frame.f_code, frame.f_lineno)) not in self._seen:
            self._seen.add(key)
            self.new, self.count = True, self.count + 1
        return self._trace

    def watch(self, n: int) -> None:
        """Before input number `n`."""
        self.new = False
        if not self._free and n % 16 == 0:
            sys.settrace(self._trace)

    def rest(self) -> None:
        """After it."""
        if not self._free:
            sys.settrace(None)


class Guard:
    """Every file that is opened, made or changed while an input is dealt with, but for those that
    are meant.
    """

    def __init__(self, own: Path) -> None:
        self.own, self.armed, self.found = str(own), False, ""
        sys.addaudithook(self._see)

    def _see(self, event: str, args: tuple[Any, ...]) -> None:
        if not self.armed:
            return
        if event == "open":
            self._open(args)
        elif event in OUTSIDE or (
            event in CHANGES and not (isinstance(args[0], int) or self._ours(args[0]))
        ):
            self.found = f"{event} {args[0]!r}"[:200]

    def _ours(self, name: Any) -> bool:
        return os.path.realpath(os.fsdecode(name)).startswith(self.own)

    def _open(self, args: tuple[Any, ...]) -> None:
        name, flags = args[0], args[2] if len(args) > 2 and isinstance(args[2], int) else 0
        if isinstance(name, int) or self._ours(name):
            return
        writes = flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT)
        if writes or not str(name).startswith(OWN):
            self.found = f"opened {name!r}"[:200]


def mutated(data: bytes, target: Target, pool: list[bytes], rng: random.Random) -> bytes:
    """The input a little changed, several times over: as lines, or as bytes."""
    for _ in range(rng.choice((1, 1, 2, 3, 5, 8))):
        change = _in_lines if b"\n" in data and rng.random() < 0.7 else _in_bytes
        data = change(data, target.words, pool, rng)
    return data[:LONGEST]


def _in_lines(data: bytes, words: list[bytes], pool: list[bytes], rng: random.Random) -> bytes:
    """Lines left out, doubled, borrowed; a key or a value put in the place of another: mostly still
    a file to read.
    """
    lines, kind = data.split(b"\n"), rng.randrange(6)
    at = rng.randrange(len(lines))
    key, equals, value = lines[at].partition(b" = ")
    if kind == 0:
        del lines[at : at + rng.choice((1, 1, 3, 9))]
    elif kind == 1:
        lines[at:at] = lines[at : at + rng.choice((1, 5, 9))] * rng.choice((1, 2, 30))
    elif kind == 2:
        other = rng.choice(pool).split(b"\n")
        start = rng.randrange(len(other))
        lines[at:at] = other[start : start + rng.choice((1, 3, 9))]
    elif equals and kind == 3:
        lines[at] = key + b" = " + rng.choice(words) * rng.choice((1, 1, 1, 300))
    elif equals and kind == 4:
        lines[at] = (
            key + b' = "' + rng.choice(words).replace(b'"', b"") * rng.choice((1, 1, 40)) + b'"'
        )
    elif equals:
        lines[at] = b'"' + rng.choice(words).replace(b'"', b"") + b'" = ' + value
    return b"\n".join(lines)


def _in_bytes(data: bytes, words: list[bytes], pool: list[bytes], rng: random.Random) -> bytes:
    out, kind = bytearray(data), rng.randrange(7)
    at = rng.randrange(len(out) + 1)
    if kind == 0:
        out[at : at + 1] = bytes([rng.choice((rng.randrange(256), rng.randrange(32, 127)))])
    elif kind == 1:
        out[at:at] = rng.choice(words)
    elif kind == 2:
        del out[at : at + rng.choice((1, 2, 8, 40))]
    elif kind == 3:
        out[at:at] = out[at : at + rng.choice((1, 4, 30, 200))] * rng.choice((1, 2, 9))
    elif kind == 4:
        other = rng.choice(pool)
        start = rng.randrange(len(other) + 1)
        out[at:at] = other[start : start + rng.choice((3, 20, 200))]
    elif kind == 5:
        out[at:at] = rng.choice(words) * rng.choice((2, 50, 700))
    else:
        out[at : at + rng.choice((1, 3))] = rng.choice(words)
    return bytes(out)


def _alarm(*_: Any) -> None:
    raise Hang


def memory_mb() -> float:
    """The most that this process ever held."""
    import resource  # not on Windows

    size = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return size / 1024 if sys.platform != "darwin" else size / 1024**2


def fuzz(target: Target, count: int, lines: Lines, guard: Guard, rng: random.Random) -> Report:
    """So many inputs."""
    report, pool = Report(), list(target.seeds)
    signal.signal(signal.SIGPROF, _alarm)
    while report.inputs < count:
        n, report.inputs = report.inputs, report.inputs + 1
        data = pool[n] if n < len(target.seeds) else mutated(rng.choice(pool), target, pool, rng)
        fault, start, held = "", time.process_time(), memory_mb()
        lines.watch(n)
        guard.armed, guard.found = True, ""
        signal.setitimer(signal.ITIMER_PROF, LIMIT_S)
        try:
            target.run(data)
        except Hang:
            fault = f"longer than {LIMIT_S} s"
        except Exception as error:
            where = traceback.extract_tb(error.__traceback__)[-1]
            fault = (
                f"{type(error).__name__} at {Path(where.filename).name}:{where.lineno}:"
                f" {str(error)[:120]!r}"
            )
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)
            guard.armed = False
            lines.rest()
        report.slowest_s = max(report.slowest_s, time.process_time() - start)
        fault = fault or guard.found
        if not fault and memory_mb() > max(held, LIMIT_MB) + 1:
            fault = f"{memory_mb() - held:.0f} MB more, {memory_mb():.0f} in all"
        if memory_mb() > held + STEP_MB:
            report.heavy.append((round(memory_mb() - held), data))
        if fault:
            report.faults.setdefault(re.sub(r"\d+", "0", fault), data)
        elif lines.new and len(pool) < MOST:
            pool.append(data)
    return report
