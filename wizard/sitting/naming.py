"""Names of surveys and where they live."""

from __future__ import annotations

import itertools
import os
import re
import unicodedata
from collections.abc import Collection
from datetime import datetime
from pathlib import Path

from wizard.readings.plain import clean_line

SUFFIX = ".toml"


class NotNamed(ValueError):
    """A name that leads to no file or folder; the message is one sentence."""


def survey_folder(asked: str | None = None) -> Path:
    """The folder of surveys: asked for, else CROSSTAPE_FOLDER, else Crosstape in the home folder.
    Not made here.

    Raises NotNamed where none of them is known.
    """
    named = asked or os.environ.get("CROSSTAPE_FOLDER")
    if named:
        return Path(named)
    home = _home()
    if home is None:
        raise NotNamed(
            "The system knows no home folder of yours; say where the surveys are kept with --folder"
            " DIR."
        )
    return home / "Crosstape"


def _home() -> Path | None:
    """The home folder; None for a user of whom the system knows none."""
    try:
        return Path.home()
    except (RuntimeError, KeyError):
        return None


def shown_path(path: Path) -> str:
    """A path as a person says it, from his home folder where it lies there; no control character in
    it.
    """
    path, home = path.absolute(), _home()
    from_home = home is not None and path.is_relative_to(home)
    return clean_line(
        f"~/{path.relative_to(home or path).as_posix()}" if from_home else str(path), 300
    )


def survey_file(asked: str, folder: str | None = None) -> Path:
    """The file that was asked for by name.

    A name without a folder and without a suffix is that of a survey in the folder of surveys, and a
    part of it will do where only one begins so; `bramble.toml` is looked for here first. Raises
    NotNamed.
    """
    path = Path(asked)
    if not _is_name(asked, path) or (path.suffix and os.path.lexists(path)):
        return path
    shelf = survey_folder(folder)
    whole = shelf / f"{path.name.removesuffix(SUFFIX)}{SUFFIX}"
    if os.path.lexists(whole):
        return whole
    if path.suffix:
        return path
    return _begun(shelf, path.name) or (path if os.path.lexists(path) else whole)


def _is_name(asked: str, path: Path) -> bool:
    """Whether it may be a survey's name and no path."""
    if "/" in asked or os.sep in asked:
        return False
    return path.suffix in ("", SUFFIX) and path.name not in ("", "..", ".")


def _begun(shelf: Path, name: str) -> Path | None:
    """The only survey of a folder whose name begins with `name`; None for none. Raises NotNamed for
    several.
    """
    try:
        found = sorted(
            p for p in shelf.iterdir() if p.suffix == SUFFIX and p.stem.startswith(f"{slug(name)}-")
        )
    except OSError:
        return None
    if len(found) > 1:
        first = ", ".join(clean_line(p.stem, 60) for p in found[:3])
        raise NotNamed(
            f"{len(found)} surveys begin with {clean_line(name, 40)} ({first}). Type more of the name."
        )
    return found[0] if found else None


def slug(car: str) -> str:
    """A file name's worth of the car's name: `Old Post, sedan` becomes `old-post`.

    >>> slug("Old Post, sedan"), slug("Été 1934"), slug("../..")
    ('old-post', 'ete-1934', 'car')
    """
    plain = (
        unicodedata.normalize("NFKD", car.split(",")[0]).encode("ascii", "ignore").decode().lower()
    )
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:40].strip("-") or "car"


def free_id(car: str, day: datetime, folder: Path, held: Collection[str] = ()) -> str:
    """`<car>-<date>`, with -2, -3 behind it when the folder has that survey already, or when it is
    one of `held`.
    """
    base = f"{slug(car)}-{day:%Y-%m-%d}"
    names = itertools.chain([base], (f"{base}-{n}" for n in itertools.count(2)))
    return next(n for n in names if n not in held and not os.path.lexists(folder / f"{n}.toml"))
