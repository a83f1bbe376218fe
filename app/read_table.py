"""A table to read: headed groups of rows, Enter goes to a row's station, rows can be copied."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction, QColor, QGuiApplication, QKeySequence, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from app.clipboard_table import write_table
from app.theme import colours

_ROOM_PX = 14


@dataclass(frozen=True, slots=True)
class ReadRow:
    """One row: its texts, the station it is about, and whether it stands out.

    A row with a single text heads a group: it goes over the whole width.
    """

    texts: tuple[str, ...]
    tag: str = ""
    is_strong: bool = False


class ReadTable(QTableWidget):
    """Rows that nobody edits; the column ``wide`` takes the room that is left.

    Signals:
        station_chosen: Enter or a double click on a row about a station.
                        arg 0: its tag
    """

    station_chosen = Signal(str)

    def __init__(
        self,
        name: str,
        headings: Sequence[str],
        wide: int,
        number: int | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(0, len(headings), parent)
        self.headings = tuple(headings)
        self._wide, self._number = wide, number
        self._rows: Sequence[ReadRow] = ()
        self.setAccessibleName(name)
        self.setHorizontalHeaderLabels(self.headings)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        # Its heading and a row; what is beside it on a screen at 200 % must not be pushed off.
        self.setMinimumHeight(2 * self.fontMetrics().height() + 16)
        self.setWordWrap(True)
        self.verticalHeader().hide()
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setSectionResizeMode(wide, QHeaderView.ResizeMode.Stretch)
        header.sectionResized.connect(lambda *_widths: self.resizeRowsToContents())
        self.cellActivated.connect(self._on_activated)
        copy = QAction("Copy", self)
        copy.setShortcut(QKeySequence(QKeySequence.StandardKey.Copy))
        copy.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        copy.triggered.connect(self.copy)
        self.addAction(copy)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)

    def show_rows(self, rows: Sequence[ReadRow]) -> None:
        """Show other rows; the place where one was is kept as far as there is one."""
        current = self.currentRow()
        self._rows = rows
        self.clearSpans()
        self.setRowCount(len(rows))
        for place, row in enumerate(rows):
            self._fill(place, row)
        self._set_widths()
        self.resizeRowsToContents()
        if rows:
            self.setCurrentCell(min(max(current, 0), len(rows) - 1), 0)

    @property
    def texts(self) -> list[tuple[str, ...]]:
        """What stands in the rows."""
        return [row.texts for row in self._rows]

    def copy(self) -> None:
        """Put the chosen rows on the clipboard, with the headings of the columns."""
        chosen = sorted({index.row() for index in self.selectedIndexes()})
        if chosen:
            width = len(self.headings)
            rows = [self._rows[place].texts for place in chosen]
            full = [(*texts, *[""] * (width - len(texts))) for texts in rows]
            QGuiApplication.clipboard().setText(write_table([self.headings, *full]))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Let the columns share the new width."""
        super().resizeEvent(event)
        self._set_widths()

    def _fill(self, place: int, row: ReadRow) -> None:
        heads = len(row.texts) == 1 and len(self.headings) > 1
        for column, text in enumerate(row.texts):
            item = QTableWidgetItem(text)
            item.setToolTip(text)
            if heads or row.is_strong:
                font = item.font()
                font.setBold(True)
                item.setFont(font)
            if heads:
                item.setBackground(QColor(colours().window))
                item.setForeground(QColor(colours().text))
            is_number = column == self._number and not heads
            side = Qt.AlignmentFlag.AlignRight if is_number else Qt.AlignmentFlag.AlignLeft
            item.setTextAlignment(side | Qt.AlignmentFlag.AlignVCenter)
            self.setItem(place, column, item)
        if heads:
            self.setSpan(place, 0, 1, len(self.headings))
        else:
            for column in range(len(row.texts), len(self.headings)):
                self.setItem(place, column, QTableWidgetItem(""))

    def _set_widths(self) -> None:
        """As wide as their texts, but none more than its share, so that the wide one has room."""
        metrics = self.fontMetrics()
        most = max(90, self.viewport().width() // (len(self.headings) + 1))
        for column, heading in enumerate(self.headings):
            if column == self._wide:
                continue
            texts = [heading]
            texts += [row.texts[column] for row in self._rows if 1 < len(row.texts) > column]
            longest = max(metrics.horizontalAdvance(text) for text in texts)
            self.setColumnWidth(column, min(longest + _ROOM_PX, most))

    def _on_activated(self, place: int, _column: int) -> None:
        if place < len(self._rows) and self._rows[place].tag:
            self.station_chosen.emit(self._rows[place].tag)
