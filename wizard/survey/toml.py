"""Survey to TOML tables and back: format 2; one of format 1 is read through a translator."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields, replace
from datetime import date, datetime
from functools import cache, partial
from itertools import chain
from typing import Any, cast

from wizard import __version__
from wizard.readings.plain import clean
from wizard.survey import format_one
from wizard.survey.record import Survey, Unit, number_of
from wizard.survey.rows import NEVER, TABLES, OwnFrame, Row, Verdict

FORMAT = 2
UNITS = ("in", "mm")
TEXTS = ("id", "car", "layout", "follows")
"""Keys of [survey] that hold text."""


class Unreadable(ValueError):
    """A file that is not a survey this program can read; the message is one sentence for the
    person.
    """


def _text(value: Any, where: str) -> str:
    if isinstance(value, str):
        return clean(value)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise Unreadable(f'{where} should be text in quotes, such as "25 7/8".')
    return str(value)


def _page(value: Any, where: str) -> str:
    """Text that was shown as a page: its lines stay apart."""
    lines = value.split("\n") if isinstance(value, str) else [value]
    return "\n".join(_text(line, where) for line in lines)


def _time(value: Any, where: str) -> datetime:
    if isinstance(value, datetime):
        return value.replace(microsecond=0) if value.microsecond else value
    if isinstance(value, date):
        return datetime(value.year, value.month, value.day)
    raise Unreadable(f"{where} should be a time such as 2026-04-11T09:12:00.")


_ORDER = {k: tuple(f.name for f in fields(k) if f.name != "extra") for k in TABLES.values()}
"""Keys that each kind of row knows, in the order in which they are written."""
PAGES = ((Verdict, "text"), (OwnFrame, "text"))
"""Texts of several lines."""
_READ = dict.fromkeys([(kind, "at") for kind in _ORDER], _time) | dict.fromkeys(PAGES, _page)
"""What reads a value that is no plain text."""
_NAMES = {kind: frozenset(names) for kind, names in _ORDER.items()}


def _row(kind: type[Row], data: Mapping[str, Any], where: str) -> Row:
    known: dict[str, Any] = {"id": ""}
    extra: dict[str, Any] = {}
    names = _NAMES[kind]
    for key, value in data.items():
        if key not in names:
            extra[key] = value
        # Nearly every text is as plain as this, and cleaning would leave it as it is.
        elif type(value) is str and key != "at" and value.isascii() and value.isprintable():
            known[key] = value
        else:
            known[key] = _READ.get((kind, key), _text)(value, f"{where}, {key},")
    return kind(**known, extra=extra)


def _table(kind: type[Row], name: str, table: Sequence[Mapping[str, Any]]) -> list[Row]:
    """The rows of a table. One by one they are looked at only where one of them is not plain."""
    if _is_plain(table, _NAMES[kind]):
        return [kind.filled({"id": "", **row, "extra": {}}) for row in table]
    return [_row(kind, row, f"[[{name}]] row {n}") for n, row in enumerate(table, start=1)]


def _is_plain(table: Sequence[Mapping[str, Any]], names: frozenset[str]) -> bool:
    """Whether all rows hold nothing but keys that are known, texts that cleaning would leave as
    they are, and times to the second, as those of nearly every file do.
    """
    values = list(chain.from_iterable([row.values() for row in table]))
    texts = [value for value in values if type(value) is not datetime]
    if not names.issuperset(chain.from_iterable(table)) or not {str}.issuperset(map(type, texts)):
        return False
    said = "".join(texts)
    if not said.isascii() or not said.isprintable():
        return False
    return _to_the_second(table, len(values) - len(texts))


def _to_the_second(table: Sequence[Mapping[str, Any]], count: int) -> bool:
    """count: of all times in the table. None of them may be another than when a row was written."""
    times = [row["at"] for row in table if "at" in row]
    if len(times) != count:
        return False
    return all(type(at) is datetime and not at.microsecond for at in times)


def _named(rows: Sequence[Row], above: int) -> tuple[Row, ...]:
    """With an id of its own each; above: the number that the first of them comes behind."""
    numbered = enumerate(rows, start=above + 1)
    return tuple([row if row.id else replace(row, id=f"x{n}") for n, row in numbered])


def _rows(data: Mapping[str, Any]) -> dict[str, tuple[Row, ...]]:
    """All tables' rows.

    Rows without an id get one above every number in the file, so none is used twice.
    """
    rows: dict[str, tuple[Row, ...]] = {}
    last, spare = cache(partial(_last_number, data)), 0
    for name, kind in TABLES.items():
        table = data.get(name, [])
        if not isinstance(table, list) or not all(isinstance(r, Mapping) for r in table):
            raise Unreadable(f"The part [[{name}]] is not a list of rows.")
        if table:
            read = _table(kind, name, table)
            rows[name] = (
                tuple(read) if all(row.id for row in read) else _named(read, last() + spare)
            )
            spare += len(table)
    return rows


def _double_ids(rows: Mapping[str, tuple[Row, ...]]) -> str:
    ids = [row.id for table in rows.values() for row in table]
    if len(set(ids)) == len(ids):
        return ""
    return next(id for n, id in enumerate(ids) if id in ids[:n])


def _last_number(data: Mapping[str, Any]) -> int:
    """The greatest number that any row's id in the file has; 0 where there is none."""
    ids = [r.get("id", "") for n in TABLES for r in _tables(data.get(n))]
    return max((number_of(i) for i in ids if isinstance(i, str)), default=0)


def _in_this_format(data: Mapping[str, Any]) -> Mapping[str, Any]:
    """The file's tables as this format has them; Unreadable without a format number or with a newer
    one.
    """
    version = data.get("format")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise Unreadable("This does not look like a Crosstape survey: it has no format number.")
    if version > FORMAT:
        raise Unreadable(
            f"This survey is in format {str(version)[:9]}, and this Crosstape reads format {FORMAT} at"
            " most. Get a newer Crosstape to open it. It was left as it is."
        )
    return format_one.from_format_one(data) if version == format_one.FORMAT else data


def _unit(head: Mapping[str, Any]) -> Unit:
    unit = head.get("unit", "in")
    if unit not in UNITS:
        raise Unreadable('[survey] unit should be "in" or "mm".')
    return cast(Unit, unit)


def from_toml(data: Mapping[str, Any]) -> Survey:
    """A survey out of parsed TOML. Raises Unreadable with one sentence; unknown keys are kept."""
    data = _in_this_format(data)
    head = data.get("survey", {})
    if not isinstance(head, Mapping):
        raise Unreadable("The part [survey] is not a table.")
    texts = {k: _text(head[k], f"[survey] {k}") for k in TEXTS if k in head}
    unit = _unit(head)
    rows = _rows(data)
    if twice := _double_ids(rows):
        raise Unreadable(
            f'Two rows of this survey have the id "{twice[:40]}"; give one of them another.'
        )
    return Survey(
        **texts,
        unit=unit,
        started=_time(head["started"], "[survey] started") if "started" in head else NEVER,
        program=_text(data.get("program", ""), "program"),
        rows=rows,
        extra={k: v for k, v in data.items() if k not in (*TABLES, "format", "program", "survey")},
        extra_survey={k: v for k, v in head.items() if k not in (*TEXTS, "started", "unit")},
    )


def _tables(value: Any) -> list[Mapping[str, Any]]:
    return [r for r in value if isinstance(r, Mapping)] if isinstance(value, list) else []


def plain(row: Row) -> dict[str, Any]:
    """A row as TOML keys; empty fields are left out so that the file stays short."""
    out = {name: getattr(row, name) for name in _ORDER[type(row)]}
    return {k: v for k, v in out.items() if v not in ("", NEVER)} | dict(row.extra)


def to_toml(survey: Survey) -> dict[str, Any]:
    """The survey as a dictionary for the TOML writer, in the file's order."""
    head = {
        "id": survey.id,
        "car": survey.car,
        "started": survey.started,
        "layout": survey.layout,
        "unit": survey.unit,
        "follows": survey.follows,
    }
    out: dict[str, Any] = {"format": FORMAT, "program": f"crosstape {__version__}"}
    out["survey"] = {**head, **survey.extra_survey}
    for name in TABLES:
        if survey.rows.get(name):
            out[name] = [plain(row) for row in survey.rows[name]]
    return {**out, **survey.extra}
