"""A lock that tells a second wizard that a survey is open: a small hidden file beside it, held by
the system.

The survey's own file cannot be locked, because every save puts another file in its place. The
system drops the lock when the program ends, however it ends, so a file that a killed program left
behind holds nobody up.
"""

from __future__ import annotations

import contextlib
import errno
import importlib
import os
import weakref
from pathlib import Path

SUFFIX = ".ct-lock"
_HELD = (errno.EACCES, errno.EAGAIN, errno.EWOULDBLOCK, errno.EDEADLK)
"""What the systems say of a lock that another program has; any other error says that there are no
locks here.
"""
_FLAGS = os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
"""A link is not followed, and a pipe of that name is not waited for."""
_TRIES = 20
"""How often the lock file may be taken away by a wizard that ends just now."""


class Held(OSError):
    """Another wizard has the lock."""


class Lock:
    """Held until `release`, until nobody has this object any more, or until the program ends."""

    def __init__(self, handle: int, name: str) -> None:
        self.release = weakref.finalize(self, _release, handle, name)
        """Let it go; harmless when called again."""


def lock_name(path: Path) -> str:
    """The lock file of a survey; the same for every link to it."""
    folder, name = os.path.split(os.path.realpath(path))
    return os.path.join(folder, f".{name}{SUFFIX}")


def take(path: Path) -> Lock | None:
    """The lock of a survey; None where none can be had (a folder that cannot be written, a network
    without locks).

    Raises Held when another wizard has it.
    """
    name = lock_name(path)
    for _ in range(_TRIES):
        try:
            handle = os.open(name, _FLAGS, 0o666)
        except OSError:
            return None
        try:
            _grab(handle)
        except OSError as error:
            os.close(handle)
            if error.errno in _HELD:
                raise Held(f"{path.name} is open in another window.") from None
            with contextlib.suppress(OSError):
                os.unlink(name)
            return None
        if _still(handle, name):
            return Lock(handle, name)
        os.close(
            handle
        )  # it was taken away between the two calls: what is locked is no longer at that name
    return None


def _grab(handle: int) -> None:
    """Lock at once or raise OSError.

    By handle, not by process: two sittings of one program are two.
    """
    try:
        fcntl = importlib.import_module("fcntl")
    except ImportError:
        msvcrt = importlib.import_module("msvcrt")
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
    else:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


def _still(handle: int, name: str) -> bool:
    try:
        return os.path.samestat(os.fstat(handle), os.stat(name))
    except OSError:
        return False


def _release(handle: int, name: str) -> None:
    """Take the file away while it is still locked; Windows takes away only what is closed."""
    if os.name != "nt" and _still(handle, name):
        with contextlib.suppress(OSError):
            os.unlink(name)
    with contextlib.suppress(OSError):
        os.close(handle)
    if os.name == "nt":  # fails, as it should, when the next wizard has opened it meanwhile
        with contextlib.suppress(OSError):
            os.unlink(name)
