"""The stations of a plan as a table: planned beside present, and in a trial beside the file."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from app.theme import colours
from core.line import Figure, Plan, PlanEntry, Rule, plan_rules, rules
from core.model.choices import WANTED_BASES
from core.units import System, show_computed, unit_of

DIFFERS = "≠"
"""Stands before a value of the file that the trial has otherwise."""
_NONE = "–"


@dataclass(frozen=True, slots=True)
class _Column:
    """One column of figures; ``of_file`` shows what the file gives, beside the trial."""

    label: str
    rule: Rule
    figure: Callable[[Plan, PlanEntry], Figure | None]
    of_file: bool = False


def _wanted(label: str, rule: Rule, *, of_file: bool = False) -> _Column:
    return _Column(label, rule, lambda _plan, entry: entry.wanted.get(rule.key), of_file)


def _present(label: str, rule: Rule, *, of_file: bool = False) -> _Column:
    return _Column(label, rule, lambda _plan, entry: entry.result.figures.get(rule.key), of_file)


def _used(label: str, *, of_file: bool = False) -> _Column:
    key = plan_rules.USE.key
    return _Column(label, plan_rules.USE, lambda _plan, entry: entry.present.get(key), of_file)


_COLUMNS = (
    _Column("Fruit", plan_rules.FLOW, lambda plan, entry: plan.flow_figure(entry.station.id)),
    _wanted("Planned", rules.WANTED_SURFACE),
    _wanted("Planned", rules.WANTED_FREQUENCY),
    _wanted("Travel", rules.WANTED_SHARE),
    _present("Now", rules.NOW_SURFACE),
    _present("Now", rules.NOW_FREQUENCY),
    _used("Used"),
)
_OF_FILE = (
    _wanted("File plan", rules.WANTED_SURFACE, of_file=True),
    _wanted("File plan", rules.WANTED_FREQUENCY, of_file=True),
    _present("File now", rules.NOW_SURFACE, of_file=True),
    _present("File now", rules.NOW_FREQUENCY, of_file=True),
    _used("File used", of_file=True),
)
_TEXTS = ("Tag", "Name", "Wanted as")
_NAME = 1
_TEXT_SIGNS, _NUMBER_SIGNS = (7, 22, 20), 10
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class CellMark(QStyledItemDelegate):
    """Frames the current cell within its chosen row."""

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Draw the cell, and its frame while the table has the focus."""
        super().paint(painter, option, index)
        if option.state & QStyle.StateFlag.State_HasFocus:
            look = colours()
            painter.save()
            painter.setPen(QPen(QColor(look.on_accent), look.border_px + 1))
            painter.drawRect(option.rect.adjusted(2, 2, -3, -3))
            painter.restore()


class SpeedsTable(QTableWidget):
    """One row for each station, in the order of the flow.

    Signals:
        station_reached: Another row is the current one.
                         arg 0: id of its station
        station_chosen: Enter or a double click on tag, name or basis of a station.
                        arg 0: its id
        figure_asked: Enter or a double click on a figure.
                      arg 0: the `Figure`
    """

    station_reached = Signal(int)
    station_chosen = Signal(int)
    figure_asked = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._ids: list[int] = []
        self._figures: dict[tuple[int, int], Figure] = {}
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setItemDelegate(CellMark(self))
        self.verticalHeader().hide()
        self.horizontalHeader().setHighlightSections(False)
        self.setAccessibleName("Planned and present speeds, station by station")
        self.currentCellChanged.connect(lambda row, *_rest: self._reach(row))
        self.cellActivated.connect(self._on_activated)

    def show_plan(self, plan: Plan, system: System, of_file: Plan | None = None) -> None:
        """Show a plan; beside it, in a trial, what the file itself gives."""
        columns = (*_COLUMNS, *(_OF_FILE if of_file is not None else ()))
        kept, column = self.station_id, max(0, self.currentColumn())
        self.blockSignals(True)
        self.setColumnCount(len(_TEXTS) + len(columns))
        self.setRowCount(len(plan.entries))
        if self._head(columns, system):
            self._size()
        self._ids, self._figures = list(plan.entries), {}
        for row, entry in enumerate(plan.entries.values()):
            self._show_row(row, plan, entry, columns, system, of_file)
            self.setRowHeight(row, self.fontMetrics().height() + 6)
        if kept in self._ids:
            self.setCurrentCell(self._ids.index(kept), min(column, self.columnCount() - 1))
        self.blockSignals(False)

    def _show_row(
        self,
        row: int,
        plan: Plan,
        entry: PlanEntry,
        columns: tuple[_Column, ...],
        system: System,
        of_file: Plan | None,
    ) -> None:
        for place, text in enumerate((entry.tag, entry.station.name, WANTED_BASES[entry.basis])):
            item = QTableWidgetItem(text)
            item.setToolTip(text)
            self.setItem(row, place, item)
        other = of_file.entries.get(entry.station.id) if of_file is not None else None
        for place, column in enumerate(columns, start=len(_TEXTS)):
            figure, mark = column.figure(plan, entry), ""
            text = _number(figure, system)
            if column.of_file:
                here = text
                figure = column.figure(of_file, other) if of_file and other else None
                text = _number(figure, system)
                mark = f"{DIFFERS} " if text != here else ""
            self.setItem(row, place, _item(f"{mark}{text}"))
            if figure is not None:
                self._figures[row, place] = figure

    @property
    def station_id(self) -> int | None:
        """Station of the current row."""
        row = self.currentRow()
        return self._ids[row] if 0 <= row < len(self._ids) else None

    @property
    def figure(self) -> Figure | None:
        """The figure in the current cell."""
        return self._figures.get((self.currentRow(), self.currentColumn()))

    def go_to(self, station_id: int) -> None:
        """Make the row of a station the current one."""
        if station_id in self._ids and station_id != self.station_id:
            self.setCurrentCell(self._ids.index(station_id), max(0, self.currentColumn()))

    def _head(self, columns: tuple[_Column, ...], system: System) -> bool:
        """Write the headings; tells whether they are other ones than before."""
        headings = list(_TEXTS)
        for column in columns:
            unit = unit_of(column.rule.kind, system)
            headings.append(f"{column.label}\n{unit}" if unit else column.label)
        if headings == [self._heading(place) for place in range(self.columnCount())]:
            return False
        for place, text in enumerate(headings):
            self.setHorizontalHeaderItem(place, QTableWidgetItem(text))
        return True

    def _heading(self, place: int) -> str:
        item = self.horizontalHeaderItem(place)
        return item.text() if item is not None else ""

    def _size(self) -> None:
        """Give new columns their width; one that somebody sets stays."""
        wide = self.fontMetrics().averageCharWidth()
        for place in range(self.columnCount()):
            signs = _TEXT_SIGNS[place] if place < len(_TEXTS) else _NUMBER_SIGNS
            self.setColumnWidth(place, wide * signs)
        self._fit_name()

    def _fit_name(self) -> None:
        """Let the name take what room is left."""
        others = (self.columnWidth(at) for at in range(self.columnCount()) if at != _NAME)
        least = self.fontMetrics().averageCharWidth() * _TEXT_SIGNS[_NAME]
        self.setColumnWidth(_NAME, max(least, self.viewport().width() - sum(others)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the table as wide as its room."""
        super().resizeEvent(event)
        self._fit_name()
        self.scrollTo(self.currentIndex())

    def _reach(self, row: int) -> None:
        if 0 <= row < len(self._ids):
            self.station_reached.emit(self._ids[row])

    def _on_activated(self, row: int, column: int) -> None:
        figure = self._figures.get((row, column))
        if column < len(_TEXTS):
            self.station_chosen.emit(self._ids[row])
        elif figure is not None:
            self.figure_asked.emit(figure)


def _number(figure: Figure | None, system: System) -> str:
    if figure is None or figure.value is None:
        return _NONE
    return show_computed(figure.value, figure.kind, system).number


def _item(text: str) -> QTableWidgetItem:
    item = QTableWidgetItem(text)
    item.setTextAlignment(_RIGHT)
    item.setBackground(QColor(colours().computed))
    item.setForeground(QColor(colours().computed_text))
    font = item.font()
    font.setItalic(True)
    item.setFont(font)
    return item
