"""What was changed away and back again between two moments: no difference, and yet worth a word."""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Protocol

from core.model import RECORDS, FieldSpec, Line
from core.units import show


class _Row(Protocol):
    @property
    def at(self) -> str: ...
    @property
    def table(self) -> str: ...
    @property
    def record_id(self) -> int: ...
    @property
    def place(self) -> str: ...
    @property
    def field(self) -> str: ...
    @property
    def old(self) -> str | None: ...
    @property
    def new(self) -> str | None: ...


@dataclass(frozen=True, slots=True)
class BackAndForth:
    """One field that stands where it stood, after so many changes; values as in the history."""

    place: str
    table: str
    record_id: int
    field: str
    value: str | None
    between: tuple[str | None, ...]
    count: int


def back_and_forth(
    history: Iterable[_Row], since: str = "", until: str = ""
) -> Iterator[BackAndForth]:
    """Fields that were changed and stand again as they stood.

    Parameters
    ----------
    history : iterable of HistoryRow
        From `core.store`, the newest first; of one moment, the order tells which came later.
    since, until : str
        Only changes after this moment and up to that one, as the history writes moments; all
        without them.

    Examples
    --------
    A knob that was turned up in the night and back in the morning.
    """
    by_field: dict[tuple[str, int, str], list[_Row]] = {}
    for row in reversed(list(history)):
        if row.at > since and row.field and not (until and row.at > until):
            by_field.setdefault((row.table, row.record_id, row.field), []).append(row)
    for (table, record_id, field), rows in by_field.items():
        rows.sort(key=lambda row: row.at)
        first, last = rows[0], rows[-1]
        if len(rows) > 1 and first.old == last.new:
            between = tuple(dict.fromkeys(row.new for row in rows[:-1]))
            yield BackAndForth(last.place, table, record_id, field, last.new, between, len(rows))


@dataclass(frozen=True, slots=True)
class ToldBackAndForth:
    """The same in the words of the fields and the units of a line."""

    place: str
    what: str
    stands: str
    between: str
    count: int

    def sentence(self) -> str:
        """All of it in one line."""
        return f"{self.place} {self.what}: {self.stands}, meanwhile {self.between}"


_FOLLOWS = {("setting", "value"), ("setting", "origin")}
"""What follows from another field, and would tell it twice."""


def told_back_and_forth(found: Iterable[BackAndForth], line: Line) -> tuple[ToldBackAndForth, ...]:
    """What was changed back and forth, for people, without what only goes with another field."""
    codes = {
        setting.id: setting.code for station in line.stations for setting in station.drive.settings
    }
    return tuple(
        ToldBackAndForth(
            each.place,
            _what(each, spec, codes.get(each.record_id, "")),
            _shown(spec, each.value, line),
            ", ".join(dict.fromkeys(_shown(spec, value, line) for value in each.between)),
            each.count,
        )
        for each in found
        if (spec := _spec(each)) is not None
    )


def _spec(each: BackAndForth) -> FieldSpec | None:
    record = RECORDS.get(each.table)
    if record is None or (each.table, each.field) in _FOLLOWS:
        return None
    fields = (spec for spec in record.fields if spec.sort != "typed")
    return next((spec for spec in fields if spec.name == each.field), None)


def _what(each: BackAndForth, spec: FieldSpec, code: str) -> str:
    if each.table == "setting":
        return f"setting {code}".rstrip()
    label = spec.label[:1].lower() + spec.label[1:] if spec.label[1:2].islower() else spec.label
    return f"{RECORDS[each.table].label.lower()}, {label}"


def _shown(spec: FieldSpec, stored: str | None, line: Line) -> str:
    value: Any = None if stored is None else json.loads(stored)
    if value is None or value == "":
        return "(empty)"
    if spec.sort == "quantity":
        return str(show(value, spec.kind, line.unit_system))
    if spec.sort == "ref":
        return _named(line, spec.target, value)
    if spec.sort == "choice":
        return str(spec.choices.get(value, value))
    if spec.sort == "flag":
        return "yes" if value else "no"
    return str(value)


def _named(line: Line, table: str, record_id: int) -> str:
    if table == "station":
        tags = (station.tag for station in line.stations if station.id == record_id)
        return next(tags, f"no. {record_id}")
    held = next(
        (getattr(line, child.name) for child in RECORDS["line"].children if child.table == table),
        (),
    )
    return next((entry.name for entry in held if entry.id == record_id), f"no. {record_id}")
