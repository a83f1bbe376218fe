"""The rows of the list of stations: what each shows, and how it is drawn."""

from typing import Any

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRect,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import QColor, QFont, QPainter
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from app.marks import STATE_WORDS, draw_state
from app.theme import colours
from core.line import LineResults, StationResult
from core.model.choices import STATION_KINDS
from core.units import System, show

RESULT_ROLE = Qt.ItemDataRole.UserRole
_PAD = 5


def now_text(result: StationResult, system: System) -> str:
    """Frequency and speed of a station as they are set; what is not known is left out."""
    parts = []
    for key in ("frequency_now_hz", "surface_speed_now_m_s"):
        figure = result.figures.get(key)
        if figure is not None and figure.value is not None:
            shown = show(figure.value, figure.kind, system)
            parts.append(f"{_short(shown.number)} {shown.unit}")
    return "  ".join(parts)


def _short(number: str) -> str:
    """A shown number cut to what fits the list: three digits."""
    return f"{float(number):.3g}" if abs(float(number)) < 1000 else number


class StationListModel(QAbstractListModel):
    """The stations of a line with their results."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.results: tuple[StationResult, ...] = ()
        self.system: System = "metric"

    def show_results(self, results: LineResults | None) -> None:
        """Show the stations of a line; the rows stay where they are the same stations."""
        entries = results.stations if results else ()
        same = [e.station.id for e in entries] == [e.station.id for e in self.results]
        if not same:
            self.beginResetModel()
        self.results = entries
        self.system = results.line.unit_system if results else "metric"
        if not same:
            self.endResetModel()
        elif entries:
            self.dataChanged.emit(self.index(0), self.index(len(entries) - 1))

    def row_of(self, station_id: int) -> int:
        """Row of a station; -1 where it is not there."""
        ids = [entry.station.id for entry in self.results]
        return ids.index(station_id) if station_id in ids else -1

    def rowCount(self, parent: QModelIndex | QPersistentModelIndex = QModelIndex()) -> int:  # noqa: B008
        """Number of stations."""
        return 0 if parent.isValid() else len(self.results)

    def data(
        self,
        index: QModelIndex | QPersistentModelIndex,
        role: int = Qt.ItemDataRole.DisplayRole,
    ) -> Any:
        """Texts and the result of one station."""
        if not index.isValid():
            return None
        result = self.results[index.row()]
        if role == RESULT_ROLE:
            return result
        station = result.station
        if role == Qt.ItemDataRole.DisplayRole:
            return f"{station.tag} {station.name}"
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            words = (STATION_KINDS[station.kind], STATE_WORDS[result.state])
            return (
                f"{station.tag} {station.name}, {', '.join(words)} {now_text(result, self.system)}"
            )
        return None


class StationDelegate(QStyledItemDelegate):
    """Draws a station in two lines: state, tag and name; kind, frequency and speed."""

    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        """Two lines."""
        return QSize(80, 2 * option.fontMetrics.height() + 2 * _PAD)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Draw one station."""
        result: StationResult = index.data(RESULT_ROLE)
        model = index.model()
        assert isinstance(model, StationListModel)
        look = colours()
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        ink = QColor(look.on_accent if chosen else look.text)
        painter.save()
        painter.fillRect(option.rect, QColor(look.accent if chosen else look.base))
        line = option.fontMetrics.height()
        place = option.rect.adjusted(_PAD, _PAD, -_PAD, -_PAD)
        mark = QRectF(place.x(), place.y(), line, line)
        draw_state(painter, mark, result.state, ink if chosen else None)
        first = QRect(place.x() + line + _PAD, place.y(), place.width() - line - _PAD, line)
        second = first.translated(0, line)
        self._draw_names(painter, option, first, result, ink)
        painter.setPen(ink if chosen else QColor(look.muted))
        now = now_text(result, model.system)
        painter.drawText(second, Qt.AlignmentFlag.AlignRight, now)
        room = second.width() - option.fontMetrics.horizontalAdvance(now) - 6
        kind = STATION_KINDS[result.station.kind]
        words = option.fontMetrics.elidedText(kind, Qt.TextElideMode.ElideRight, room)
        painter.drawText(second, Qt.AlignmentFlag.AlignLeft, words)
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(ink)
            painter.drawRect(option.rect.adjusted(1, 1, -2, -2))
        painter.restore()

    @staticmethod
    def _draw_names(
        painter: QPainter,
        option: QStyleOptionViewItem,
        place: QRect,
        result: StationResult,
        ink: QColor,
    ) -> None:
        bold = QFont(option.font)
        bold.setBold(True)
        painter.setPen(ink)
        painter.setFont(bold)
        painter.drawText(place, Qt.AlignmentFlag.AlignLeft, result.tag)
        after = painter.fontMetrics().horizontalAdvance(f"{result.tag}  ")
        painter.setFont(option.font)
        rest = place.adjusted(after, 0, 0, 0)
        name = option.fontMetrics.elidedText(
            result.station.name, Qt.TextElideMode.ElideRight, rest.width()
        )
        painter.drawText(rest, Qt.AlignmentFlag.AlignLeft, name)
