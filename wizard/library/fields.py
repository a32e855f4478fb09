"""Taking typed fields out of a TOML table, with a fault in one sentence for everything that is not
as it should be.
"""

from __future__ import annotations

import math
from collections.abc import Container, Iterable, Mapping
from typing import Any

from wizard.frozen import Frozen
from wizard.library.places import PartId, PointId, QuantityId
from wizard.readings.plain import clean_line

FORMAT = 1


class Fault(Frozen):
    """One thing wrong in authored content."""

    file: str
    key: str
    wrong: str
    remedy: str

    def __str__(self) -> str:
        # Names and keys of somebody else's folder may hold anything.
        return clean_line(f"{self.file}: {self.key}: {self.wrong}; {self.remedy}", 2000)


class ContentError(ValueError):
    """Content that cannot be used; carries every fault found."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(map(str, self.faults)))


def _is_text(value: object) -> bool:
    return isinstance(value, str) and bool(value.strip())


def nearest(
    word: str | PartId | QuantityId | PointId, known: Iterable[str | PartId | QuantityId | PointId]
) -> str:
    """A remedy that names the closest known word, or the whole list when none is close."""
    import difflib  # only a fault needs it

    words = sorted(map(str, known))
    close = difflib.get_close_matches(str(word), words, 1)
    return f"did you mean '{close[0]}'?" if close else f"use one of: {', '.join(words)}"


class Table:
    """One TOML table being read.

    Faults go to the shared list; a default stands in so that reading goes on.
    """

    def __init__(
        self, data: Mapping[str, Any], file: str, faults: list[Fault], at: str = ""
    ) -> None:
        self.data, self.file, self.faults, self.at = data, file, faults, at
        self.taken: set[str] = set()

    def fault(self, key: str, wrong: str, remedy: str) -> None:
        """Note that something is wrong at a key of this table."""
        self.faults.append(Fault(self.file, f"{self.at}{key}", wrong, remedy))

    def _take(self, key: str, kind: type | tuple[type, ...], default: Any, shape: str) -> Any:
        self.taken.add(key)
        if key not in self.data:
            if default is None:
                self.fault(key, "is missing", f"add {key} = {shape}")
            return default
        value = self.data[key]
        if not isinstance(value, kind) or (isinstance(value, bool) and kind is not bool):
            self.fault(key, f"is {type(value).__name__}", f"write it as {shape}")
            return default
        return value

    def text(self, key: str, default: str | None = None) -> str:
        """A string; with no default it must be there and not empty."""
        value = self._take(key, str, default, '"text"')
        if default is None and value is not None and not value.strip():
            self.fault(key, "is empty", "write a sentence")
        return str(value or "")

    def word(self, key: str, known: Iterable[str], default: str | None = None) -> str:
        """A string out of a list."""
        value = self.text(key, default)
        if value and value not in known:
            self.fault(key, f"'{value}' is not known", nearest(value, known))
        return value

    def number(self, key: str, default: float | None = None) -> float:
        """A whole or decimal number."""
        value = self._take(key, (int, float), default, "a number")
        try:
            number = float(value or 0.0)
        except OverflowError:
            number = math.inf
        if not math.isfinite(number):
            self.fault(key, "is not a number that can be measured", "write it as a number")
            return 0.0
        return number

    def numbers(self, key: str) -> tuple[float, ...]:
        """A list of numbers, empty when absent."""
        value = self._take(key, list, [], "[0, 10]") or []
        good = [v for v in value if isinstance(v, int | float) and not isinstance(v, bool)]
        if len(good) != len(value) or not all(math.isfinite(v) for v in good):
            self.fault(key, "holds something that is not a number", "write it like [0, 10]")
            return ()
        return tuple(float(v) for v in good)

    def whole(self, key: str, default: int | None = None) -> int:
        """A whole number."""
        value = self._take(key, int, default, "a whole number")
        return int(value or 0)

    def format(self) -> None:
        """The file's format, which must be the one that is read here."""
        if self.whole("format") != FORMAT and "format" in self.data:
            self.fault("format", f"is not {FORMAT}", f"write format = {FORMAT}")

    def flag(self, key: str) -> bool:
        """true or false, false when absent."""
        return bool(self._take(key, bool, False, "true or false"))

    def texts(self, key: str, *, needed: bool = False) -> tuple[str, ...]:
        """A list of strings."""
        value = self._take(key, list, None if needed else [], '["text", "text"]') or []
        good = [v for v in value if _is_text(v)]
        if len(good) != len(value):
            self.fault(
                key, "holds something that is not text", "make every entry a non-empty string"
            )
        return tuple(good)

    def sentences(self, key: str) -> tuple[tuple[str, ...], ...]:
        """A list of strings, where one that takes several lines is a list of them itself."""
        value = self._take(key, list, None, '["text", ["text", "text"]]') or []
        found = [tuple(v) if isinstance(v, list) else (v,) for v in value]
        good = [lines for lines in found if lines and all(map(_is_text, lines))]
        if len(good) != len(found):
            self.fault(
                key, "holds something that is not text", "make every entry a non-empty string"
            )
        return tuple(good)

    def words(self, key: str, known: Iterable[str]) -> tuple[str, ...]:
        """A list of strings out of a list."""
        values = self.texts(key)
        for value in values:
            if value not in known:
                self.fault(key, f"'{value}' is not known", nearest(value, known))
        return values

    def tables(self, key: str) -> list[Table]:
        """The sub-tables under [[key]], each to be read in turn."""
        value = self._take(key, list, [], f"[[{key}]] tables") or []
        if not all(isinstance(row, Mapping) for row in value):
            self.fault(key, "holds something that is not a table", f"write each as [[{key}]]")
        return [
            Table(row, self.file, self.faults, f"{self.at}{key}[{row.get('id', n + 1)}].")
            for n, row in enumerate(value)
            if isinstance(row, Mapping)
        ]

    def mapping(self, key: str) -> Mapping[str, Any]:
        """A sub-table taken whole."""
        value: Mapping[str, Any] = self._take(key, dict, {}, f"[{key}]") or {}
        return value

    def once(self, id: str | QuantityId, known: Container[str] | Container[QuantityId]) -> None:
        """An id must not stand in a file twice: the later one would silently take the earlier one's
        place.
        """
        if id and id in known:
            self.fault("id", f"'{id}' is there twice", "give each an id of its own")

    def done(self) -> None:
        """Every key that nobody took is a fault: most often a slip of the pen."""
        for key in self.data:
            if key not in self.taken:
                self.fault(key, "is not a key that is known here", nearest(key, self.taken))
