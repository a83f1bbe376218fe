"""A column of the grid: what a station shows in it, and what an entry means there."""

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Protocol

from app import field_text
from app.field_text import name_of
from core.errors import InputError
from core.model import RECORDS, FieldSpec, Line
from core.model.entry import check_entered

_STATION_KIND = "station.kind"


@dataclass(frozen=True, slots=True)
class Cell:
    """What one cell holds: its text as copied and edited, and how it has to look."""

    text: str
    applies: bool = True
    differs: bool = False
    tip: str = ""


@dataclass(frozen=True, slots=True)
class FieldEdit:
    """New values for fields of one record."""

    table: str
    record_id: int
    values: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class SettingEdit:
    """A new value for one drive setting of one station, as its keypad shows it."""

    station_id: int
    code: str
    shown: str


Edit = FieldEdit | SettingEdit


class Column(Protocol):
    """One column of the grid; the same questions for fields and for drive settings."""

    @property
    def key(self) -> str:
        """Name that stays the same while the line changes."""

    @property
    def numeric(self) -> bool:
        """Whether its values are numbers, set to the right."""

    @property
    def unique(self) -> bool:
        """Whether no two rows may hold the same."""

    @property
    def hint(self) -> str:
        """A word more about it, if there is one."""

    def heading(self, line: Line) -> tuple[str, str, str]:
        """Code (may be empty), meaning and unit (may be empty)."""

    def cell(self, line: Line, row: Any) -> Cell:
        """What a row shows here."""

    def offered(self, line: Line, row: Any) -> Mapping[str, str]:
        """Texts to choose from, each with the words that offer it; none where typed freely."""

    def edit(self, line: Line, row: Any, text: str) -> Edit:
        """The change that a text means here; InputError refuses it."""

    def exact(self, row: Any) -> Any:
        """The stored value behind the text, for a copy without any rounding."""

    def edit_exact(self, row: Any, exact: Any) -> Edit | None:
        """The change that puts a value of `exact` here; None where it does not fit."""

    def after(self, row: Any, edit: Any) -> Any:
        """The row as it would be after one of this column's changes."""


@dataclass(frozen=True, slots=True)
class ExactField:
    """A stored value with its declaration and, where it is kept, the text as typed."""

    spec: FieldSpec
    value: Any
    typed: str


@dataclass(frozen=True, slots=True)
class FieldColumn:
    """One field of a record that each row has: ``holder`` is empty for the row's record itself.

    ``place`` counts where a row holds several such records, as a station may hold motors.
    """

    table: str
    holder: str
    spec: FieldSpec
    place: int | None = None

    @property
    def key(self) -> str:
        """Name that stays the same while the line changes."""
        return f"{self.holder}.{self.place or 0}.{self.spec.name}"

    @property
    def numeric(self) -> bool:
        """Whether its values are numbers, set to the right."""
        return self.spec.is_number

    @property
    def unique(self) -> bool:
        """Whether no two rows may hold the same."""
        return self.spec.unique

    @property
    def hint(self) -> str:
        """A word more about it, if there is one."""
        return self.spec.hint

    def heading(self, line: Line) -> tuple[str, str, str]:
        """Code (may be empty), meaning and unit (may be empty)."""
        code = f"{RECORDS[self.table].label} {self.place + 1}" if self.place else ""
        return code, self.spec.label, field_text.unit_shown(self.spec, line)

    def cell(self, line: Line, row: Any) -> Cell:
        """What a row shows here."""
        record = self._record(row)
        if record is None or not self._applies(row, record):
            return Cell("", applies=False, tip=self._why_not(line, row, record))
        value = getattr(record, self.spec.name)
        typed = field_text.companion(self.table, self.spec.name)
        as_typed = getattr(record, typed) if typed else ""
        tip = f"As typed: {as_typed}" if as_typed else ""
        return Cell(field_text.shown(self.spec, value, line, full=False), tip=tip)

    def offered(self, line: Line, row: Any) -> Mapping[str, str]:
        """Texts to choose from, each with the words that offer it; none where typed freely."""
        return {word: word for word in field_text.offered(self.spec, line)}

    def edit(self, line: Line, row: Any, text: str) -> FieldEdit:
        """The change that a text means here; InputError refuses it."""
        record = self._record(row)
        if record is None or not self._applies(row, record):
            raise InputError(
                f"{self.spec.label} was not taken.",
                self._why_not(line, row, record),
                "Leave the cell empty.",
            )
        over = field_text.shown(self.spec, getattr(record, self.spec.name), line, full=False)
        values = field_text.values_for(self.table, self.spec, text, line, over)
        return FieldEdit(self.table, record.id, values)

    def exact(self, row: Any) -> ExactField | None:
        """The stored value behind the text, for a copy without any rounding."""
        record = self._record(row)
        if record is None:
            return None
        typed = field_text.companion(self.table, self.spec.name)
        as_typed = getattr(record, typed) if typed else ""
        return ExactField(self.spec, getattr(record, self.spec.name), as_typed)

    def edit_exact(self, row: Any, exact: Any) -> FieldEdit | None:
        """The change that puts a value of `exact` here; None where it does not fit."""
        record = self._record(row)
        if not isinstance(exact, ExactField) or record is None:
            return None
        mine, other = self.spec, exact.spec
        alike = (mine.sort, mine.kind, mine.target, mine.choices) == (
            other.sort,
            other.kind,
            other.target,
            other.choices,
        )
        if mine.unique or not alike or not self._applies(row, record):
            return None
        values = {mine.name: check_entered(mine, exact.value)}
        if typed := field_text.companion(self.table, mine.name):
            values[typed] = exact.typed
        return FieldEdit(self.table, record.id, values)

    def after(self, row: Any, edit: FieldEdit) -> Any:
        """The row as it would be after one of this column's changes."""
        record = _with(self._record(row), edit.values)
        if not self.holder:
            return record
        held = record
        if self.place is not None:
            brothers = getattr(row, self.holder)
            held = (*brothers[: self.place], record, *brothers[self.place + 1 :])
        return _with(row, {self.holder: held})

    def _record(self, row: Any) -> Any:
        if not self.holder:
            return row
        held = getattr(row, self.holder)
        if self.place is None:
            return held
        return held[self.place] if self.place < len(held) else None

    def _applies(self, row: Any, record: Any) -> bool:
        beside = {
            name: row.kind if name == _STATION_KIND else getattr(record, name)
            for name in self.spec.only
        }
        return self.spec.applies(beside)

    def _why_not(self, line: Line, row: Any, record: Any) -> str:
        if record is None:
            return f"{name_of(row)} has no such {RECORDS[self.table].label.lower()}."
        told = []
        for name in self.spec.only:
            of_station = name == _STATION_KIND
            spec = RECORDS["station" if of_station else self.table].field(name.split(".")[-1])
            value = row.kind if of_station else getattr(record, name)
            told.append(f"{spec.label} is {field_text.shown(spec, value, line) or 'not chosen'}")
        return f"Does not apply here: {', '.join(told)}."


def _with(record: Any, values: Mapping[str, Any]) -> Any:
    return dataclasses.replace(record, **values)
