"""Where authored content lives: beside the package when installed, one level above in a checkout."""

from __future__ import annotations

from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent


def _beside_or_above(name: str) -> Path:
    """Never the working directory: a stray folder of that name there must not become the program's
    content.
    """
    for base in (PACKAGE, PACKAGE.parent):
        if (base / name).is_dir():
            return base / name
    raise FileNotFoundError(
        f"The folder {name} is missing from this installation; install crosstape again."
    )


def content_dir() -> Path:
    """The folder of authored content."""
    return _beside_or_above("content")


def samples_dir() -> Path:
    """The folder of sample surveys."""
    return _beside_or_above("sample_sessions")
