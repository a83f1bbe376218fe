"""The rows of the check list: what each shows, and how its state is drawn."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRectF,
    Qt,
)
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from app.checks_marks import draw_check
from app.theme import colours
from core.line.checks import CheckItem
from core.line.checks.listing import STATE_WORDS, answer_text, expected_text
from core.model.choices import STAGES
from core.units import System

Index = QModelIndex | QPersistentModelIndex
Key = tuple[str, int | None]
"""What a check is met by: its own key and the station, or none for the line as a whole."""
ITEM_ROLE = Qt.ItemDataRole.UserRole
HEADINGS = ("State", "Station", "Stage", "Check", "Expected", "Answer")
STATE, STATION, STAGE, CHECK, EXPECTED, ANSWER = range(len(HEADINGS))
_GAP = 4


def key_of(item: CheckItem) -> Key:
    """What a check is met by."""
    return item.rule.key, item.station_id


class ChecksModel(QAbstractTableModel):
    """Checks in an order, each with where it stands."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.items: tuple[CheckItem, ...] = ()
        self._system: System = "metric"

    def show_items(self, items: Sequence[CheckItem], system: System) -> None:
        """Show checks; the rows stay where they are the same ones."""
        same = [key_of(item) for item in items] == [key_of(item) for item in self.items]
        if not same:
            self.beginResetModel()
        self.items, self._system = tuple(items), system
        if not same:
            self.endResetModel()
        elif items:
            self.dataChanged.emit(self.index(0, 0), self.index(len(items) - 1, ANSWER))

    def row_of(self, key: Key) -> int:
        """Row of a check; -1 where it is not shown."""
        return next((row for row, item in enumerate(self.items) if key_of(item) == key), -1)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Number of checks."""
        return 0 if parent.isValid() else len(self.items)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Number of columns."""
        return 0 if parent.isValid() else len(HEADINGS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """What the columns hold."""
        if role == Qt.ItemDataRole.DisplayRole and orientation == Qt.Orientation.Horizontal:
            return HEADINGS[section]
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Texts of one check."""
        if not index.isValid():
            return None
        item = self.items[index.row()]
        if role == ITEM_ROLE:
            return item
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(item, index.column())
        if role == Qt.ItemDataRole.AccessibleTextRole:
            parts = (STATE_WORDS[item.state], item.tag or "Line", item.rule.label)
            return ", ".join(parts) if index.column() == STATE else None
        if role == Qt.ItemDataRole.ToolTipRole:
            return self._text(item, index.column())
        return None

    def _text(self, item: CheckItem, column: int) -> str:
        if column == STATE:
            return STATE_WORDS[item.state]
        if column == STATION:
            return item.tag or "Line"
        if column == STAGE:
            return STAGES[item.rule.stage]
        if column == CHECK:
            return item.rule.label
        if column == EXPECTED:
            return expected_text(item, self._system)
        return "" if item.state == "open" else answer_text(item, self._system)


class CheckDelegate(QStyledItemDelegate):
    """Draws the shape of the state before its word, and a frame about the current cell."""

    def initStyleOption(self, option: QStyleOptionViewItem, index: Index) -> None:
        """Make the word of what is out of limits bold."""
        super().initStyleOption(option, index)
        item: CheckItem = index.data(ITEM_ROLE)
        if item.state == "out":
            option.font.setBold(True)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one cell."""
        if index.column() != STATE:
            super().paint(painter, option, index)
            return
        item: CheckItem = index.data(ITEM_ROLE)
        look = colours()
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        ink = QColor(look.on_accent if chosen else look.text)
        painter.save()
        painter.fillRect(option.rect, QColor(look.accent if chosen else look.base))
        side = option.fontMetrics.height()
        top = option.rect.y() + (option.rect.height() - side) / 2
        mark = QRectF(option.rect.x() + _GAP, top, side, side)
        draw_check(painter, mark, item.state, ink if chosen else None)
        painter.setPen(ink)
        font = option.font
        font.setBold(item.state == "out")
        painter.setFont(font)
        place = option.rect.adjusted(side + 2 * _GAP, 0, -2, 0)
        words = painter.fontMetrics().elidedText(
            STATE_WORDS[item.state], Qt.TextElideMode.ElideRight, place.width()
        )
        painter.drawText(place, Qt.AlignmentFlag.AlignVCenter, words)
        painter.restore()
