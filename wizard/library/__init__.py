"""Authored content: the only room that reads content/."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from wizard.library.kept import load_library

__all__ = ["load_library"]


def __getattr__(name: str) -> Any:
    """The loader with all that it needs, once it is asked for: the first page is up without it."""
    if name != "load_library":
        raise AttributeError(name)
    from wizard.library.kept import load_library

    return load_library
