"""The table of points of a speed reference: what follows from 0, 25, 50, 75 and 100 % of it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from app.theme import colours
from core.line import Point
from core.units import System, show, unit_of


@dataclass(frozen=True, slots=True)
class _Column:
    label: str
    kind: str
    value: Callable[[Point], float | None]


_COLUMNS = (
    _Column("Travel", "ratio", lambda point: point.fraction),
    _Column("Signal", "voltage", lambda point: point.signal_v),
    _Column("Signal", "signal_current", lambda point: point.signal_a),
    _Column("Count", "count", lambda point: point.count),
    _Column("Drive", "frequency", lambda point: point.frequency_hz),
    _Column("Motor", "rotation", lambda point: point.motor_rad_s),
    _Column("Shaft", "rotation", lambda point: point.shaft_rad_s),
    _Column("Surface", "surface_speed", lambda point: point.surface_m_s),
)
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class PointsTable(QTableWidget):
    """Computed points, one row each; columns without any value are left out."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalHeader().hide()
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.horizontalHeader().setHighlightSections(False)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.setAccessibleName("Points of the speed reference, computed")

    def focus_order(self) -> list[QWidget]:
        """What Tab goes through, in its order."""
        return [self]

    def show_points(self, points: Sequence[Point], system: System) -> None:
        """Show points in the units of the line; without any the table hides."""
        columns = [
            column
            for column in _COLUMNS
            if any(column.value(point) is not None for point in points)
        ]
        self.setRowCount(len(points))
        self.setColumnCount(len(columns))
        for place, column in enumerate(columns):
            unit = unit_of(column.kind, system)
            heading = QTableWidgetItem(f"{column.label}\n{unit}" if unit else column.label)
            self.setHorizontalHeaderItem(place, heading)
            for row, point in enumerate(points):
                self.setItem(row, place, _item(column, point, system))
        height = self.fontMetrics().height() + 6
        for row in range(len(points)):
            self.setRowHeight(row, height)
        header = self.horizontalHeader().sizeHint().height()
        self.setFixedHeight(header + height * len(points) + 2 * self.frameWidth())
        self.setVisible(bool(points))


def _item(column: _Column, point: Point, system: System) -> QTableWidgetItem:
    value = column.value(point)
    item = QTableWidgetItem("–" if value is None else show(value, column.kind, system).number)
    item.setTextAlignment(_RIGHT)
    item.setBackground(QColor(colours().computed))
    item.setForeground(QColor(colours().computed_text))
    font = item.font()
    font.setItalic(True)
    item.setFont(font)
    return item
