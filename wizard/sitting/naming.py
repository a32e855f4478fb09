"""Names of surveys and where they live."""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Collection
from datetime import datetime
from pathlib import Path


def survey_folder(asked: str | None = None) -> Path:
    """The folder of surveys: asked for, else CROSSTAPE_FOLDER, else Crosstape in the home folder. Not made here."""
    return Path(asked or os.environ.get("CROSSTAPE_FOLDER") or Path.home() / "Crosstape")


def slug(car: str) -> str:
    """A file name's worth of the car's name: `Old Post, saloon` becomes `old-post`.

    >>> slug("Old Post, saloon"), slug("Été 1934"), slug("../..")
    ('old-post', 'ete-1934', 'car')
    """
    plain = unicodedata.normalize("NFKD", car.split(",")[0]).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:40].strip("-") or "car"


def free_id(car: str, day: datetime, folder: Path, held: Collection[str] = ()) -> str:
    """`<car>-<date>`, with -2, -3 behind it when the folder has that survey already, or when it is one of `held`."""
    base = f"{slug(car)}-{day:%Y-%m-%d}"
    names = [base, *(f"{base}-{n}" for n in range(2, 1000))]
    return next(n for n in names if n not in held and not os.path.lexists(folder / f"{n}.toml"))
