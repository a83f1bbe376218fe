"""The readings of a calibration as rows of a table: what is typed, and what follows from it."""

import dataclasses
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from app import field_text
from app.grid_columns import Cell, Column, FieldEdit
from core.errors import InputError
from core.line.calibrating import PLACES, READ, Calibration
from core.line.calibration_points import PointRead
from core.model import RECORDS, CalibrationPoint, FieldSpec, Line
from core.sheets.calibration_parts import point_words
from core.units import show_computed, unit_of

TABLE = "calibration_point"
READINGS = ("frequency_hz", "speed_m_s")


@dataclass(frozen=True, slots=True)
class PointRow:
    """One line of the table; a point whose id is 0 is not stored yet."""

    id: int
    point: CalibrationPoint
    read: PointRead | None = None


BLANK = PointRow(0, CalibrationPoint())
"""What stands in the empty row at the end."""


def rows_of(calibration: Calibration) -> list[PointRow]:
    """Every stored reading in its place, and empty rows for the places that are still to be read.

    Their ids count the rows, so that a reading that is stored stays where it was typed.
    """
    rows = list(_rows(calibration))
    return [dataclasses.replace(row, id=place) for place, row in enumerate(rows, start=1)]


def _rows(calibration: Calibration) -> Iterator[PointRow]:
    for way in READ:
        here = [entry for entry in calibration.points if entry.point.direction == way]
        taken = {entry.point.share for entry in here}
        rows = [PointRow(0, entry.point, entry) for entry in here]
        rows += [_open(calibration, way, share) for share in PLACES if share not in taken]
        yield from sorted(rows, key=_place, reverse=way == "down")


def _open(calibration: Calibration, way: str, share: float) -> PointRow:
    point = CalibrationPoint(direction=way, share=share)  # type: ignore[call-arg]
    return PointRow(0, point, PointRead(point, calibration.aim_hz(share)))


def _place(row: PointRow) -> float:
    share = row.point.share
    if share is None:
        return 2.0 if row.point.direction == "up" else -1.0
    return float(share)


@dataclass(frozen=True, slots=True)
class TypedColumn:
    """One field of a reading."""

    spec: FieldSpec
    label: str = ""
    unique: bool = False

    @property
    def key(self) -> str:
        """Name that stays the same while the line changes."""
        return f"point.{self.spec.name}"

    @property
    def numeric(self) -> bool:
        """Whether its values are numbers, set to the right."""
        return self.spec.is_number

    @property
    def hint(self) -> str:
        """A word more about it, if there is one."""
        return self.spec.hint

    def heading(self, line: Line) -> tuple[str, str, str]:
        """The label and the unit."""
        return "", self.label or self.spec.label, field_text.unit_shown(self.spec, line)

    def cell(self, line: Line, row: PointRow) -> Cell:
        """The value entered."""
        value = getattr(row.point, self.spec.name)
        return Cell(field_text.shown(self.spec, value, line, full=False))

    def offered(self, line: Line, row: PointRow) -> Mapping[str, str]:
        """Words to choose from, for the direction."""
        return {word: word for word in field_text.offered(self.spec, line)}

    def edit(self, line: Line, row: PointRow, text: str) -> FieldEdit:
        """The change that a text means."""
        return FieldEdit(TABLE, row.id, field_text.values_for(TABLE, self.spec, text, line))

    def exact(self, row: PointRow) -> Any:
        """Nothing beyond the text: a reading is what was read."""

    def edit_exact(self, row: PointRow, exact: Any) -> FieldEdit | None:
        """Nothing beyond the text."""
        return None

    def after(self, row: PointRow, edit: FieldEdit) -> PointRow:
        """The row with the new value."""
        point: Any = row.point
        return dataclasses.replace(row, point=dataclasses.replace(point, **edit.values))


@dataclass(frozen=True, slots=True)
class ComputedColumn:
    """Something that follows from a reading; ``text`` gives its words, else ``value`` a number."""

    key: str
    label: str
    kind: str = ""
    value: Callable[[PointRead], float | None] = lambda _read: None
    text: Callable[[PointRead], str] | None = None
    signed: bool = False
    is_wrong: Callable[[PointRead], bool] = lambda _read: False
    unique: bool = False
    hint: str = "Computed"

    @property
    def numeric(self) -> bool:
        """Whether its values are numbers, set to the right."""
        return self.text is None

    def heading(self, line: Line) -> tuple[str, str, str]:
        """The label and the unit."""
        return "", self.label, unit_of(self.kind, line.unit_system) if self.kind else ""

    def cell(self, line: Line, row: PointRow) -> Cell:
        """What follows, or nothing yet."""
        if row.read is None:
            return Cell("")
        if self.text is not None:
            words = self.text(row.read)
            return Cell(words, tip=words)
        value = self.value(row.read)
        if value is None:
            return Cell("")
        number = show_computed(value, self.kind, line.unit_system).number
        signed = f"+{number}" if self.signed and value > 0.0 else number
        return Cell(f"✗ {signed}" if self.is_wrong(row.read) else signed)

    def offered(self, line: Line, row: PointRow) -> Mapping[str, str]:
        """Nothing."""
        return {}

    def edit(self, line: Line, row: PointRow, text: str) -> FieldEdit:
        """Refuse a text; clearing it changes nothing."""
        if text.strip():
            raise InputError(
                f"{self.label} was not taken.", "It is computed.", "Type what was read."
            )
        return FieldEdit(TABLE, row.id, {})

    def exact(self, row: PointRow) -> None:
        """Nothing beyond the text."""

    def edit_exact(self, row: PointRow, exact: Any) -> None:
        """Nothing beyond the text."""

    def after(self, row: PointRow, edit: Any) -> PointRow:
        """The row itself."""
        return row


def _spec(name: str) -> FieldSpec:
    spec = RECORDS[TABLE].field(name)
    if name != "direction":
        return spec
    # What is wanted and set at the ends has fields of its own above the table.
    choices = {key: word for key, word in spec.choices.items() if key in READ}
    return dataclasses.replace(spec, label="Turned", choices=choices)


COLUMNS: tuple[Column, ...] = (
    TypedColumn(_spec("direction")),
    TypedColumn(_spec("share")),
    ComputedColumn("wanted", "Wanted", "frequency", lambda read: read.wanted_hz),
    TypedColumn(_spec("frequency_hz"), "Read"),
    ComputedColumn(
        "deviation", "Deviation", "frequency", lambda read: read.deviation_hz, signed=True
    ),
    ComputedColumn("result", "Result", text=point_words),
    TypedColumn(_spec("speed_m_s"), "Speed read"),
    ComputedColumn("computed", "By frequency", "surface_speed", lambda read: read.computed_m_s),
    ComputedColumn(
        "off",
        "Off by",
        "ratio",
        lambda read: read.speed_share,
        signed=True,
        is_wrong=lambda read: read.speed_is_within is False,
        hint="Speed read against the speed that follows from the frequency read",
    ),
    TypedColumn(_spec("instrument")),
    TypedColumn(_spec("person")),
    TypedColumn(_spec("done_at")),
)
FREQUENCY = 3
"""Place of the column that is typed first."""
