"""Every drive of the line as a row: whether a bus can tell of it, and where its reading stands."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QColor

from app.theme import colours
from core.readback import Entry, Reach

Index = QModelIndex | QPersistentModelIndex
HEADINGS = ("Station", "Bus", "Address", "Reading")
READING = HEADINGS.index("Reading")
SHAPES = {
    "idle": "–",
    "cannot": "○",
    "waiting": "…",
    "asking": "►",
    "read": "✓",
    "part": "◐",
    "none": "✗",
}


@dataclass(frozen=True, slots=True)
class DriveRow:
    """One drive, its state (a key of `SHAPES`) and the words for it."""

    station_id: int
    tag: str
    bus: str
    address: str
    state: str
    words: str


def row_of(reach: Reach) -> DriveRow:
    """The row of a station before anything is asked."""
    address = reach.station.drive.bus_address
    if reach.obstacle:
        state, words = "cannot", f"cannot be asked. {reach.obstacle}"
    else:
        state = "idle"
        words = f"{reach.with_register} of {reach.settings} settings have a register"
    bus = reach.bus.name if reach.bus else "none"
    shown = "" if address is None else str(address)
    return DriveRow(reach.station.id, reach.station.tag, bus, shown, state, words)


def outcome(entries: Sequence[Entry]) -> tuple[str, str]:
    """State and words for what a drive told: how many settings, and why not the others."""
    counts = Counter(entry.state for entry in entries)
    read, whole = counts["read"], len(entries)
    reasons = Counter(entry.reason for entry in entries if entry.state == "not_read")
    why = f". {counts['not_read']} not read: {reasons.most_common(1)[0][0]}" if reasons else ""
    if counts["refused"]:
        why = f". {counts['refused']} refused{why}"
    if read + counts["refused"] == 0:
        reason = reasons.most_common(1)[0][0] if reasons else "It has no settings."
        return "none", f"not read: {reason}"
    return ("read" if read == whole else "part"), f"read {read} of {whole}{why}"


class BusModel(QAbstractTableModel):
    """The rows of all drives, in the line's order."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.rows: list[DriveRow] = []

    def show_reaches(self, reaches: Sequence[Reach]) -> None:
        """Show every drive as it is before a reading."""
        self.beginResetModel()
        self.rows = [row_of(reach) for reach in reaches]
        self.endResetModel()

    def await_all(self) -> None:
        """A reading begins: every drive that can be asked waits for its turn."""
        for row in self.rows:
            if row.state != "cannot":
                self.tell(row.station_id, "waiting", "waiting")

    def tell(self, station_id: int, state: str, words: str) -> int:
        """Say where the reading of a drive stands; gives its row, -1 where there is none."""
        for place, row in enumerate(self.rows):
            if row.station_id == station_id:
                self.rows[place] = replace(row, state=state, words=words)
                here = self.index(place, READING)
                self.dataChanged.emit(here, here)
                return place
        return -1

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Number of drives."""
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Number of columns."""
        return 0 if parent.isValid() else len(HEADINGS)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """What the view asks about one cell."""
        if not index.isValid():
            return None
        row = self.rows[index.row()]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            told = f"{SHAPES[row.state]} {row.words}"
            return (row.tag, row.bus, row.address, told)[index.column()]
        if role == Qt.ItemDataRole.ForegroundRole and index.column() == READING:
            return QColor(_colour(row.state))
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Headings above; nothing at the left."""
        if orientation == Qt.Orientation.Horizontal:
            if role == Qt.ItemDataRole.DisplayRole:
                return HEADINGS[section]
            if role == Qt.ItemDataRole.TextAlignmentRole:
                return Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        return None


def _colour(state: str) -> str:
    look = colours()
    by_state = {"read": look.complete, "part": look.started, "none": look.wrong}
    return by_state.get(state, look.text)
