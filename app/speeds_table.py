"""The stations of a plan as a table: planned beside present, and in a trial beside the file."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from app.theme import colours
from core.line import Plan, PlanEntry
from core.model.choices import WANTED_BASES
from core.units import System, show_computed, unit_of


@dataclass(frozen=True, slots=True)
class _Column:
    label: str
    kind: str
    value: Callable[[PlanEntry], float | None]
    of_file: bool = False


_COLUMNS = (
    _Column("Fruit", "count_rate", lambda entry: entry.flow_1_s),
    _Column("Planned", "surface_speed", lambda entry: entry.planned_m_s),
    _Column("Planned", "frequency", lambda entry: entry.planned_hz),
    _Column("Travel", "ratio", lambda entry: entry.planned_share),
    _Column("Now", "surface_speed", lambda entry: entry.present_m_s),
    _Column("Now", "frequency", lambda entry: entry.present_hz),
    _Column("Used", "ratio", lambda entry: entry.used_share),
)
_OF_FILE = (
    _Column("File", "surface_speed", lambda entry: entry.present_m_s, True),
    _Column("File", "frequency", lambda entry: entry.present_hz, True),
    _Column("File used", "ratio", lambda entry: entry.used_share, True),
)
_TEXTS = ("Tag", "Name", "Wanted as")
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class SpeedsTable(QTableWidget):
    """One row for each station, in the order of the flow.

    Signals:
        station_reached: Another row is the current one.
                         arg 0: id of its station
        station_chosen: Enter or a double click on a row.
                        arg 0: id of its station
    """

    station_reached = Signal(int)
    station_chosen = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._ids: list[int] = []
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.verticalHeader().hide()
        self.horizontalHeader().setHighlightSections(False)
        self.setAccessibleName("Planned and present speeds, station by station")
        self.currentCellChanged.connect(lambda row, *_rest: self._reach(row))
        self.cellActivated.connect(lambda row, _column: self.station_chosen.emit(self._ids[row]))

    def show_plan(self, plan: Plan, system: System, of_file: Plan | None = None) -> None:
        """Show a plan; beside it, in a trial, what the file itself gives."""
        columns = (*_COLUMNS, *(_OF_FILE if of_file is not None else ()))
        kept = self.station_id
        self.blockSignals(True)
        self.setColumnCount(len(_TEXTS) + len(columns))
        self.setRowCount(len(plan.entries))
        self._head(columns, system)
        self._ids = list(plan.entries)
        others: Mapping[int, PlanEntry] = of_file.entries if of_file is not None else {}
        for row, (station_id, entry) in enumerate(plan.entries.items()):
            texts = (entry.tag, entry.station.name, WANTED_BASES[entry.basis])
            for place, text in enumerate(texts):
                self.setItem(row, place, QTableWidgetItem(text))
            for place, column in enumerate(columns, start=len(_TEXTS)):
                shown = others.get(station_id) if column.of_file else entry
                value = column.value(shown) if shown is not None else None
                self.setItem(row, place, _item(value, column.kind, system))
        self._size(columns)
        if kept in self._ids:
            self.setCurrentCell(self._ids.index(kept), 0)
        self.blockSignals(False)

    @property
    def station_id(self) -> int | None:
        """Station of the current row."""
        row = self.currentRow()
        return self._ids[row] if 0 <= row < len(self._ids) else None

    def go_to(self, station_id: int) -> None:
        """Make the row of a station the current one."""
        if station_id in self._ids and station_id != self.station_id:
            self.setCurrentCell(self._ids.index(station_id), 0)

    def _head(self, columns: tuple[_Column, ...], system: System) -> None:
        headings = list(_TEXTS)
        for column in columns:
            unit = unit_of(column.kind, system)
            headings.append(f"{column.label}\n{unit}" if unit else column.label)
        for place, text in enumerate(headings):
            self.setHorizontalHeaderItem(place, QTableWidgetItem(text))

    def _size(self, columns: tuple[_Column, ...]) -> None:
        header, metrics = self.horizontalHeader(), self.fontMetrics()
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        wide = metrics.averageCharWidth()
        for place, width in enumerate((7, 30, 20)):
            self.setColumnWidth(place, wide * width)
        for place in range(len(columns)):
            self.setColumnWidth(len(_TEXTS) + place, wide * 12)
        header.setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        for row in range(self.rowCount()):
            self.setRowHeight(row, metrics.height() + 6)

    def _reach(self, row: int) -> None:
        if 0 <= row < len(self._ids):
            self.station_reached.emit(self._ids[row])


def _item(value: float | None, kind: str, system: System) -> QTableWidgetItem:
    item = QTableWidgetItem("–" if value is None else show_computed(value, kind, system).number)
    item.setTextAlignment(_RIGHT)
    item.setBackground(QColor(colours().computed))
    item.setForeground(QColor(colours().computed_text))
    font = item.font()
    font.setItalic(True)
    item.setFont(font)
    return item
