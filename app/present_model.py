"""What was found at the drives as rows of a table, one for each setting."""

from collections.abc import Container, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QColor

from app.present_states import MEANINGS, Told, colour_of, told
from core.model import Line
from core.readback import PresentSettings

Index = QModelIndex | QPersistentModelIndex
HEADINGS = ("Station", "Code", "Meaning", "Commissioned", "Found", "State", "Reason")
STATE = HEADINGS.index("State")
COMMISSIONED = HEADINGS.index("Commissioned")
_NUMBERS = (COMMISSIONED, HEADINGS.index("Found"))


@dataclass(frozen=True, slots=True)
class Row:
    """One setting as it is told."""

    key: tuple[int, str]
    texts: tuple[str, ...]
    state: Told
    haystack: str


def rows_of(
    line: Line, commissioned: Line, present: PresentSettings, differs: Container[tuple[int, str]]
) -> tuple[Row, ...]:
    """The rows of a reading, in its order; ``differs`` are those to be told as that."""
    before = {
        (station.id, setting.code): setting.shown
        for station in commissioned.stations
        for setting in station.drive.settings
    }
    tags = {station.id: station.tag for station in line.stations}
    listed = {
        (station.id, entry.code): entry
        for station in line.stations
        if (drive_type := line.drive_type(station.drive.drive_type_id)) is not None
        for entry in drive_type.listed_settings
    }
    rows = []
    for entry in present.entries:
        entry_list = listed.get(entry.key)
        unit = entry_list.unit if entry_list else ""
        state: Told = "differs" if entry.key in differs else entry.state
        texts = (
            tags[entry.station_id],
            entry.code,
            entry_list.meaning if entry_list else "",
            _with_unit(before.get(entry.key, ""), unit),
            _with_unit(entry.shown, unit),
            told(state),
            entry.reason,
        )
        rows.append(Row(entry.key, texts, state, " ".join(texts).casefold()))
    return tuple(rows)


def _with_unit(shown: str, unit: str) -> str:
    bare = shown.strip() and not any(sign.isalpha() or sign in "%°" for sign in shown)
    return f"{shown} {unit}".strip() if bare else shown


class PresentModel(QAbstractTableModel):
    """Rows of a reading, and which of them are in a chosen state and hold a text."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: Sequence[Row] = ()
        self._shown: list[int] = []
        self._state = ""
        self._wanted: tuple[str, ...] = ()

    def show_rows(self, rows: Sequence[Row]) -> None:
        """Replace everything; state and text looked for stay."""
        self.beginResetModel()
        self._rows = rows
        self._choose()
        self.endResetModel()

    def show_only(self, state: str, text: str) -> None:
        """Show only one state (all where empty), and only rows with every word of a text."""
        self.beginResetModel()
        self._state, self._wanted = state, tuple(text.casefold().split())
        self._choose()
        self.endResetModel()

    def row(self, place: int) -> Row:
        """One of the rows in sight."""
        return self._rows[self._shown[place]]

    def place_of(self, key: tuple[int, str]) -> int | None:
        """The row in sight of a setting, by station and code; None where it is not shown."""
        keys = (self._rows[place].key for place in self._shown)
        return next((place for place, held in enumerate(keys) if held == key), None)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Number of rows in sight."""
        return 0 if parent.isValid() else len(self._shown)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Number of columns."""
        return 0 if parent.isValid() else len(HEADINGS)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """What the view asks about one cell."""
        if not index.isValid():
            return None
        row, column = self.row(index.row()), index.column()
        if role == Qt.ItemDataRole.DisplayRole:
            return row.texts[column]
        if role == Qt.ItemDataRole.ToolTipRole:
            return MEANINGS[row.state] if column == STATE else row.texts[column]
        if role == Qt.ItemDataRole.ForegroundRole and column == STATE:
            return QColor(colour_of(row.state))
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if column in _NUMBERS else Qt.AlignmentFlag.AlignLeft
            return side | Qt.AlignmentFlag.AlignVCenter
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Headings above; nothing at the left."""
        if orientation == Qt.Orientation.Horizontal:
            if role == Qt.ItemDataRole.DisplayRole:
                return HEADINGS[section]
            if role == Qt.ItemDataRole.TextAlignmentRole:
                return self._heading_side(section)
        return None

    @staticmethod
    def _heading_side(section: int) -> Qt.AlignmentFlag:
        side = Qt.AlignmentFlag.AlignRight if section in _NUMBERS else Qt.AlignmentFlag.AlignLeft
        return side | Qt.AlignmentFlag.AlignVCenter

    def _choose(self) -> None:
        self._shown = [
            place
            for place, row in enumerate(self._rows)
            if self._state in ("", row.state) and all(word in row.haystack for word in self._wanted)
        ]
