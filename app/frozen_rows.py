"""The list of frozen records: what each is, and whether it still is what was frozen."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction, QColor, QGuiApplication, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from app.clipboard_table import write_table
from app.history_rows import local_time
from app.theme import colours
from core.store import FrozenRecord
from core.store.frozen import KINDS

HEADINGS = ("State", "Record", "Revision", "When", "Who", "Reason", "SHA-256")
SOUND, ALTERED = "✓ Verified", "✗ ALTERED"
_REASON, _SHORT = 5, 12


def when(record: FrozenRecord) -> str:
    """When a record was frozen by the clock of this machine; as it stands if it is no time."""
    try:
        return local_time(record.at)
    except ValueError:
        return record.at


def row_of(record: FrozenRecord) -> tuple[str, ...]:
    """The texts of one record."""
    return (
        SOUND if record.is_sound else ALTERED,
        KINDS.get(record.kind, record.kind),
        str(record.revision),
        when(record),
        record.person,
        record.reason,
        record.sha256[:_SHORT],
    )


class FrozenTable(QTableWidget):
    """Records, the newest first.

    Signals:
        reached: Another record is the present one.
        asked: Enter or a double click on a record.
    """

    reached = Signal()
    asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(0, len(HEADINGS), parent)
        self.records: Sequence[FrozenRecord] = ()
        self.setAccessibleName("Frozen records, newest first")
        self.setHorizontalHeaderLabels(HEADINGS)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.verticalHeader().hide()
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(_REASON, QHeaderView.ResizeMode.Stretch)
        header.setMinimumSectionSize(6 * self.fontMetrics().averageCharWidth())
        self.currentCellChanged.connect(lambda *_cells: self.reached.emit())
        self.cellActivated.connect(lambda *_cell: self.asked.emit())
        copy = QAction("Copy", self)
        copy.setShortcut(QKeySequence(QKeySequence.StandardKey.Copy))
        copy.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        copy.triggered.connect(self.copy)
        self.addAction(copy)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)

    @property
    def chosen(self) -> FrozenRecord | None:
        """The present record."""
        place = self.currentRow()
        return self.records[place] if 0 <= place < len(self.records) else None

    def show_records(self, records: Sequence[FrozenRecord]) -> None:
        """Show the records of a file; the present one stays so."""
        kept = self.chosen
        self.records = tuple(reversed(records))
        self.setRowCount(len(self.records))
        for place, record in enumerate(self.records):
            for column, text in enumerate(row_of(record)):
                self.setItem(place, column, _item(text, record, column))
        ids = [record.id for record in self.records]
        if ids:
            place = ids.index(kept.id) if kept is not None and kept.id in ids else 0
            self.setCurrentCell(place, 0)
        self.reached.emit()

    def choose(self, record_id: int) -> None:
        """Make a record the present one."""
        for place, record in enumerate(self.records):
            if record.id == record_id:
                self.setCurrentCell(place, 0)

    def copy(self) -> None:
        """Put the chosen records on the clipboard, with the headings and the whole hash."""
        chosen = sorted({index.row() for index in self.selectedIndexes()})
        if chosen:
            records = [self.records[place] for place in chosen]
            rows = [(*row_of(record)[:-1], record.sha256) for record in records]
            QGuiApplication.clipboard().setText(write_table([HEADINGS, *rows]))


def _item(text: str, record: FrozenRecord, column: int) -> QTableWidgetItem:
    item = QTableWidgetItem(text)
    item.setToolTip(record.sha256 if column == len(HEADINGS) - 1 else text)
    if text.isdigit():
        item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
    if column == 0 or not record.is_sound:
        look = colours()
        item.setForeground(QColor(look.complete if record.is_sound else look.wrong))
    if not record.is_sound:
        font = item.font()
        font.setBold(True)
        item.setFont(font)
    return item
