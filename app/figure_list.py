"""Computed figures beside the fields they come from, visibly unlike what was typed.

A figure stands on a tinted ground behind an equals sign, in italics. One that cannot be computed
says what is lacking. Each is a button that opens its working.
"""

from collections.abc import Iterable

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QVBoxLayout, QWidget

from app.theme import colours
from core.line import Figure
from core.units import System, show

EQUALS, ESTIMATE = "=", "≈"
_PAD, _GAP = 6, 8


def value_text(figure: Figure, system: System) -> str:
    """A figure's value with its unit; a dash where it has none."""
    return "–" if figure.value is None else str(show(figure.value, figure.kind, system))


def why_none(figure: Figure) -> str:
    """What is lacking for a figure, or why its inputs give none; empty where it has a value."""
    if figure.value is not None:
        return ""
    return figure.problem or f"Needs {', '.join(figure.lacks)}"


class FigureRow(QAbstractButton):
    """One figure: sign, name, value and unit; below it, what is lacking."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.figure: Figure | None = None
        self._number = self._unit = self._below = ""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_figure(self, figure: Figure, system: System) -> None:
        """Show a figure in the units of the line."""
        self.figure = figure
        shown = None if figure.value is None else show(figure.value, figure.kind, system)
        self._number, self._unit = (shown.number, shown.unit) if shown else ("–", "")
        self._below = why_none(figure) or (figure.assumed and f"With {figure.assumed}")
        self.setText(figure.label)
        self.setAccessibleName(f"{figure.label}: {value_text(figure, system)} {self._below}")
        self.setToolTip(f"{figure.label}\nEnter or a click shows how it comes about")
        self.updateGeometry()
        self.update()

    def hasHeightForWidth(self) -> bool:
        """The name wraps where the row is narrow."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Height of the wrapped texts."""
        name, below = self._places(width)
        return max(name.height(), self.fontMetrics().height()) + below.height() + 6

    def sizeHint(self) -> QSize:
        """A width that fits most names in one line."""
        width = 30 * self.fontMetrics().averageCharWidth()
        return QSize(width, self.heightForWidth(width))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw sign, name, value, unit, and what is lacking."""
        look = colours()
        painter = QPainter(self)
        painter.setPen(QColor(look.computed_text))
        name, below = self._places(self.width())
        line = self.fontMetrics().height()
        sign = ESTIMATE if self.figure is not None and self.figure.is_estimate else EQUALS
        if self._number != "–":
            painter.drawText(QRect(_PAD, 3, 20, line), Qt.AlignmentFlag.AlignLeft, sign)
        painter.drawText(name, Qt.TextFlag.TextWordWrap, self.text())
        end = Qt.AlignmentFlag.AlignRight
        value = QRect(0, 3, self.width() - _PAD - self._unit_room(), line)
        painter.setFont(self._italic())
        painter.drawText(value, end, self._number)
        painter.setFont(self.font())
        painter.setPen(QColor(look.muted))
        painter.drawText(QRect(0, 3, self.width() - _PAD, line), end, self._unit)
        painter.drawText(below, Qt.TextFlag.TextWordWrap, self._below)
        if self.hasFocus():
            painter.setPen(QPen(QColor(look.accent), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def _italic(self) -> QFont:
        font = QFont(self.font())
        font.setItalic(True)
        font.setWeight(QFont.Weight.DemiBold)
        return font

    def _unit_room(self) -> int:
        return self.fontMetrics().horizontalAdvance(self._unit) + 4 if self._unit else 0

    def _places(self, width: int) -> tuple[QRect, QRect]:
        metrics = self.fontMetrics()
        left = _PAD + metrics.horizontalAdvance(ESTIMATE) + _GAP
        number = QFontMetrics(self._italic()).horizontalAdvance(self._number)
        right = width - _PAD - self._unit_room() - number - _GAP
        wrap = Qt.TextFlag.TextWordWrap
        name = metrics.boundingRect(QRect(left, 3, max(right - left, 40), 900), wrap, self.text())
        if not self._below:
            return name, QRect(left, name.bottom(), 0, 0)
        room = QRect(left, max(name.bottom(), 3 + metrics.height()) + 1, width - left - _PAD, 900)
        return name, metrics.boundingRect(room, wrap, self._below)


class FigureList(QWidget):
    """Figures one below the other; its rows stay when the station changes.

    Signals:
        asked: The working of a figure is asked for.
               arg 0: the `Figure`
    """

    asked = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows: list[FigureRow] = []
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(1, 3, 1, 3)
        self._layout.setSpacing(0)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_figures(self, figures: Iterable[Figure], system: System) -> None:
        """Show figures; without any the list hides."""
        figures = list(figures)
        while len(self._rows) < len(figures):
            row = FigureRow(self)
            row.clicked.connect(lambda _checked=False, row=row: self.asked.emit(row.figure))
            self._layout.addWidget(row)
            self._rows.append(row)
        for row, figure in zip(self._rows, figures, strict=False):
            row.show_figure(figure, system)
        for place, row in enumerate(self._rows):
            row.setVisible(place < len(figures))
        self.setVisible(bool(figures))

    @property
    def rows(self) -> list[FigureRow]:
        """The rows that are shown."""
        return [row for row in self._rows if not row.isHidden()]

    def focus_order(self) -> list[FigureRow]:
        """What Tab goes through, in its order."""
        return self.rows

    def row(self, key: str) -> FigureRow:
        """The row of a figure by its key; KeyError where it is not shown."""
        for row in self.rows:
            if row.figure is not None and row.figure.key == key:
                return row
        raise KeyError(key)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the tinted ground."""
        look = colours()
        painter = QPainter(self)
        painter.setPen(QPen(QColor(look.line), look.border_px, Qt.PenStyle.DotLine))
        painter.setBrush(QColor(look.computed))
        painter.drawRoundedRect(self.rect().adjusted(0, 0, -1, -1), 3, 3)
        painter.end()
