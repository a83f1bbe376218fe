"""The settings of one drive in keypad order: what each means, its value, the factory's, and why."""

import dataclasses
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.grid_columns import Cell, Column, Edit, FieldEdit, SettingEdit
from app.grid_model import GridModel, Index
from app.grid_settings import SettingColumn
from app.records_table import PageTable
from app.session import Session
from core.errors import InputError
from core.model import RECORDS, DriveType, Line, ListedSetting, Setting, Station
from core.model.keypad import options_of, standing
from core.store import LineFile, actions

_NO_TYPE = (
    "Choose the drive type above; its list of settings then stands here. "
    "Lists are entered under Drive types, from the manual of the drive in front of you."
)
_NO_LIST = "The list of settings of this drive type is still empty; enter it under Drive types."


@dataclass(frozen=True, slots=True)
class SettingRow:
    """One line of a drive's settings; ``listed`` or ``entered`` may be lacking."""

    id: int
    station: Station
    listed: ListedSetting | None
    entered: Setting | None

    @property
    def code(self) -> str:
        """Code as the keypad shows it."""
        found = self.listed or self.entered
        return found.code if found else ""


def setting_rows(station: Station, drive_type: DriveType | None) -> list[SettingRow]:
    """The listed settings in keypad order, then those entered that the list does not have."""
    listed = drive_type.listed_settings if drive_type else ()
    codes = {entry.code for entry in listed}
    pairs: list[tuple[ListedSetting | None, Setting | None]] = [
        (entry, station.drive.setting(entry.code)) for entry in listed
    ]
    pairs += [(None, entry) for entry in station.drive.settings if entry.code not in codes]
    return [SettingRow(place, station, *pair) for place, pair in enumerate(pairs, start=1)]


@dataclass(frozen=True, slots=True)
class ListColumn:
    """What the drive type's list says of a setting; it is changed there, not here."""

    key: str
    label: str
    of_list: Callable[[ListedSetting], str]
    numeric: bool = False
    unique: bool = False
    hint: str = ""

    def heading(self, line: Line) -> tuple[str, str, str]:
        """The label alone."""
        return "", self.label, ""

    def cell(self, line: Line, row: SettingRow) -> Cell:
        """What the list says."""
        if row.listed is None:
            return Cell("", applies=False, tip="Not in the drive type's list of settings.")
        text = self.of_list(row.listed)
        return Cell(text, tip=text)

    def offered(self, line: Line, row: SettingRow) -> Mapping[str, str]:
        """Nothing."""
        return {}

    def edit(self, line: Line, row: SettingRow, text: str) -> Edit:
        """Refuse another text than the one that stands there."""
        raise InputError(
            f"{self.label} was not taken.",
            "It comes from the list of the drive type.",
            "Change it under Drive types, for every drive of that type.",
        )

    def exact(self, row: SettingRow) -> None:
        """Nothing beyond the text."""

    def edit_exact(self, row: SettingRow, exact: Any) -> None:
        """Nothing beyond the text."""

    def after(self, row: SettingRow, edit: Any) -> SettingRow:
        """The row itself."""
        return row


@dataclass(frozen=True, slots=True)
class ValueColumn:
    """The value as the keypad shows it."""

    key: str = "shown"
    numeric: bool = True
    unique: bool = False
    hint: str = "As the keypad shows it; ≠ and bold: differs from the factory value"

    def heading(self, line: Line) -> tuple[str, str, str]:
        """The field's own label."""
        return "", RECORDS["setting"].field("shown").label, ""

    def cell(self, line: Line, row: SettingRow) -> Cell:
        """The entered value, with what it means as tip."""
        text = row.entered.shown if row.entered else ""
        if row.listed is None:
            return Cell(text)
        differs = standing(row.entered, row.listed) == "differs"
        return Cell(text, differs=differs, tip=options_of(row.listed).get(text, ""))

    def offered(self, line: Line, row: SettingRow) -> Mapping[str, str]:
        """The choices of the list, with their meanings."""
        return self._column(row).offered(line, row.station)

    def edit(self, line: Line, row: SettingRow, text: str) -> Edit:
        """Read it against its line in the list."""
        if row.listed is None:
            return SettingEdit(row.station.id, row.code, text.strip())
        return self._column(row).edit(line, row.station, text)

    def exact(self, row: SettingRow) -> None:
        """Nothing beyond the text."""

    def edit_exact(self, row: SettingRow, exact: Any) -> None:
        """Nothing beyond the text."""

    def after(self, row: SettingRow, edit: SettingEdit) -> SettingRow:
        """The row with a value, so that a reason pasted beside it finds one."""
        entered: Any = row.entered or RECORDS["setting"].cls(code=row.code)
        return dataclasses.replace(row, entered=dataclasses.replace(entered, shown=edit.shown))

    def _column(self, row: SettingRow) -> SettingColumn:
        drive_type_id = row.station.drive.drive_type_id or 0
        return SettingColumn(row.code, {drive_type_id: row.listed} if row.listed else {})


@dataclass(frozen=True, slots=True)
class ReasonColumn:
    """Why a setting has its value."""

    key: str = "reason"
    numeric: bool = False
    unique: bool = False
    hint: str = ""

    def heading(self, line: Line) -> tuple[str, str, str]:
        """The field's own label."""
        return "", RECORDS["setting"].field("reason").label, ""

    def cell(self, line: Line, row: SettingRow) -> Cell:
        """The reason entered."""
        reason = row.entered.reason if row.entered else ""
        return Cell(reason, tip=reason)

    def offered(self, line: Line, row: SettingRow) -> Mapping[str, str]:
        """Nothing: it is typed freely."""
        return {}

    def edit(self, line: Line, row: SettingRow, text: str) -> Edit:
        """A reason needs a value that it is the reason for."""
        if row.entered is None or not row.entered.shown:
            raise InputError(
                "The reason was not taken.",
                f"{row.code} has no value entered.",
                "Enter its value first; the factory value too, if it is kept on purpose.",
            )
        reason = RECORDS["setting"].field("reason").check(text)
        return FieldEdit("setting", row.entered.id, {"reason": reason, "code": row.code})

    def exact(self, row: SettingRow) -> None:
        """Nothing beyond the text."""

    def edit_exact(self, row: SettingRow, exact: Any) -> None:
        """Nothing beyond the text."""

    def after(self, row: SettingRow, edit: Any) -> SettingRow:
        """The row itself."""
        return row


VALUE, REASON = ValueColumn(), ReasonColumn()
COLUMNS: tuple[Column, ...] = (
    ListColumn("meaning", "Meaning", lambda listed: listed.meaning),
    VALUE,
    ListColumn("unit", "Unit", lambda listed: listed.unit),
    ListColumn("factory", "Factory value", lambda listed: listed.factory, numeric=True),
    REASON,
)


def store_settings(book: LineFile, edits: Iterable[Edit], name: str) -> None:
    """Store values and reasons as one step.

    Raises
    ------
    InputError
        A value does not fit its line in the list after all; nothing is changed.
    """
    with book.step(name) as step:
        made: dict[str, int] = {}
        for edit in edits:
            if isinstance(edit, SettingEdit):
                station = book.line.station(edit.station_id)
                drive_type = book.line.drive_type(station.drive.drive_type_id)
                actions.put_setting(step, station, drive_type, edit.code, edit.shown)
                made |= {
                    change.after["code"]: change.record_id
                    for change in step.changes
                    if change.table == "setting" and change.after and "code" in change.after
                }
            else:
                record_id = edit.record_id or made[edit.values["code"]]
                step.set("setting", record_id, reason=edit.values["reason"])


class SettingsModel(GridModel):
    """Settings of one drive; only value and reason can be edited."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent=parent)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """What the list says can be chosen and copied, not edited."""
        flags = super().flags(index)
        if index.isValid() and self.columns[index.column()] not in (VALUE, REASON):
            return flags & ~Qt.ItemFlag.ItemIsEditable
        return flags


class SettingsTable(QWidget):
    """The settings of one station's drive as a table."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.model = SettingsModel(self)
        self.grid = PageTable(self.model, RECORDS["setting"].field("code").label)
        self.lacking = QLabel()
        self.lacking.setObjectName("quiet")
        self.lacking.setWordWrap(True)
        self._drive_type_id: int | None = None
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.lacking)
        layout.addWidget(self.grid)
        self.model.edits_requested.connect(
            lambda edits, name: session.do(store_settings, edits, name)
        )

    def show_station(self, station: Station) -> None:
        """Show the settings of a station's drive, or say why there are none."""
        line = self.session.line
        drive_type = line.drive_type(station.drive.drive_type_id)
        rows = setting_rows(station, drive_type)
        self.grid.show_rows(line, rows, COLUMNS)
        if station.drive.drive_type_id != self._drive_type_id:
            self._drive_type_id = station.drive.drive_type_id
            self.grid.view.fit_columns()
        self.lacking.setText(_NO_LIST if drive_type else _NO_TYPE)
        self.lacking.setVisible(not rows)
        self.grid.setVisible(bool(rows))

    def focus_order(self) -> list[QWidget]:
        """What Tab goes through, in its order."""
        return [self.grid.view]

    def reveal(self, code: str) -> bool:
        """Put the focus on the value of a setting; on the first one where the code is unknown."""
        codes = [row.code for row in self.model.rows]
        if not codes:
            return False
        self.grid.reveal(codes.index(code) if code in codes else 0, COLUMNS.index(VALUE))
        return True
